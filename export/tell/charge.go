package tell

import (
	"fmt"

	"clampwright/assembly/job"
	"clampwright/export/page"
)

// chargeChart draws the curve with the data sheet's window on the force of all
// rows together.
func chargeChart(j *job.Job) page.Chart {
	c, f := j.Curve, j.Fixture
	rows := float64(f.Pack.Rows)
	percent := make([]float64, len(c.Charge))
	for i, v := range c.Charge {
		percent[i] = 100 * v
	}
	return page.Chart{
		Title: "Clamp force against charge",
		Caption: fmt.Sprintf("Nuts left where tightening put them; all rows together. Tighten to %.0f to %.0f N; the level band is what may press in any later state, %.0f to %.0f N.",
			rows*f.Cell.ForceLow.N(), rows*f.Cell.ForceHigh.N(), rows*f.Cell.ForceFloor.N(), rows*f.Cell.ForceLimit.N()),
		XLabel: "state of charge, %", YLabel: "total force, N",
		Window: page.Window{Given: true, Low: rows * f.Cell.ForceFloor.N(), High: rows * f.Cell.ForceLimit.N(), Label: "allowed in service"},
		Series: []page.Series{
			{Name: "new cells", X: percent, Y: c.ForceN},
			{Name: "aged cells", X: percent, Y: c.AgedN},
		},
		Marks: []page.ChartMark{{X: 100 * f.Clamp.SetCharge, Y: rows * f.Cell.ForceTarget.N(), Label: "tightened here"}},
	}
}
