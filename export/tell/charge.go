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
	rows, force := float64(f.Pack.Rows), f.Style.Forces()
	percent := make([]float64, len(c.Charge))
	for i, v := range c.Charge {
		percent[i] = 100 * v
	}
	in := func(newtons []float64) []float64 {
		out := make([]float64, len(newtons))
		for i, v := range newtons {
			out[i] = force.Of(v)
		}
		return out
	}
	return page.Chart{
		Title: "Clamp force against charge",
		Caption: fmt.Sprintf("Nuts left where tightening put them; all rows together. Tighten to %s; the level band is what may press in any later state, %s.",
			force.Span(rows*f.Cell.ForceLow.N(), rows*f.Cell.ForceHigh.N()), force.Span(rows*f.Cell.ForceFloor.N(), rows*f.Cell.ForceLimit.N())),
		XLabel: "state of charge, %", YLabel: "total force, " + force.Unit,
		Window: page.Window{Given: true, Low: force.Of(rows * f.Cell.ForceFloor.N()), High: force.Of(rows * f.Cell.ForceLimit.N()), Label: "allowed in service"},
		Series: []page.Series{
			{Name: "new cells", X: percent, Y: in(c.ForceN)},
			{Name: "aged cells", X: percent, Y: in(c.AgedN)},
		},
		Marks: []page.ChartMark{{X: 100 * f.Clamp.SetCharge, Y: force.Of(rows * f.Cell.ForceTarget.N()), Label: "tightened here"}},
	}
}
