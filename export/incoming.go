package export

import (
	"fmt"

	"clampwright/export/number"
	"clampwright/export/page"
	"clampwright/params"
)

// incoming is the inspection of the cells before they go in.
func (j *Job) incoming() page.Incoming {
	f := j.Fixture
	c := &f.Cell
	bulge := bulgeLimit(f)
	in := page.Incoming{
		Text: []string{
			"Lay a straight edge across each large face, both ways and corner to corner. Slide a feeler under it at the middle.",
			"Measure the thickness at the centre and at the middle of each edge with a calliper over two flat plates.",
			"Write down voltage and inner resistance at the same temperature.",
		},
		Limits: []page.Fact{
			{Label: "Thickness", Value: fmt.Sprintf("%s to %s mm", number.Trim((c.Thickness-c.ThicknessTol).MM(), 2), number.Trim((c.Thickness+c.ThicknessTol).MM(), 2)), Note: "data sheet size and tolerance"},
			{Label: "Bulge of one face", Value: number.Trim(bulge, 2) + " mm or less", Note: "common practice, no source: 0.5 % of the thickness, at least 0.2 mm"},
			{Label: "Resistance", Value: number.Trim(1.5*c.ResistanceMOhm, 2) + " mOhm or less", Note: "1.5 times the data sheet, common practice"},
		},
		Reject:  []string{"Reject a cell with a larger bulge, a dent, a scratch through the case, a trace of liquid, or a voltage that falls while it rests."},
		Columns: []string{"serial", "voltage", "resistance", "thickness centre", "edges", "bulge", "in"},
	}
	for i := range f.Pack.Cells {
		in.Cells = append(in.Cells, fmt.Sprintf("%d", i+1))
	}
	j.recorded(&in)
	return in
}

// bulgeLimit is how far a face may stand proud before the cell is rejected, mm.
// Common practice, no source.
func bulgeLimit(f *params.Fixture) float64 { return f.BulgeLimit().MM() }

// recorded fills the inspection with the cells as measured: who goes where, and
// who stays out.
func (j *Job) recorded(in *page.Incoming) {
	w := j.Wiring
	if w == nil {
		return
	}
	for _, r := range w.Remarks {
		word := "Note"
		if r.Reject {
			word = "Rejected"
		}
		in.Reject = append(in.Reject, fmt.Sprintf("%s: cell %s %s.", word, r.Serial, r.Text))
	}
	if w.Short != "" {
		in.Reject = append(in.Reject, "The records do not fill the pack: "+w.Short+".")
	}
	a := w.Arrangement
	if a == nil {
		return
	}
	in.Cells = nil
	for slot, c := range a.Slots {
		in.Cells = append(in.Cells, fmt.Sprintf("%s: %s", w.Layout.CellName(slot), c.Serial))
	}
	in.Text = append(in.Text, fmt.Sprintf("Put each cell into the place named below: the places then differ by %s %% in capacity and %s %% in resistance, and the weakest holds %s Ah.",
		number.Trim(100*a.CapacitySpread, 1), number.Trim(100*a.ResistanceSpread, 1), number.Trim(a.PackAh, 1)))
	for _, r := range a.Remarks {
		in.Text = append(in.Text, sentenceCase(r)+".")
	}
	for _, c := range a.Spare {
		in.Text = append(in.Text, fmt.Sprintf("Cell %s is spare.", c.Serial))
	}
}
