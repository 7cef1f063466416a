package tell

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
)

// Incoming is the inspection of the cells before they go in, with room to write
// down what is measured.
func Incoming(j *job.Job) page.Incoming {
	c := &j.Fixture.Cell
	bulge := bulgeLimit(j.Fixture)
	in := page.Incoming{
		Text: words.NonEmpty(
			"Lay a straight edge across each large face through its middle, once along the width and once along the height. A domed face makes it rock: hold it so that the gaps at both ends are alike and measure them with feeler gauges; their mean is the bulge of that face. Where it does not rock, a gap in the middle is a hollow.",
			feelerText(j),
			"Measure the thickness: at the centre with a calliper over two stiff flat strips laid across both faces through the middle, less the strips; at the middle of each edge directly, a finger's width in. The centre less the mean of the edges is the bulge of both faces together.",
			"Write down voltage and inner resistance, all cells at the same temperature.",
		),
		Limits: []page.Fact{
			{Label: "Thickness", Value: j.Fixture.Style.Small((c.Thickness - c.ThicknessTol).MM()) + " to " + j.Fixture.Style.Small((c.Thickness + c.ThicknessTol).MM()), Note: "data sheet size and tolerance"},
			{Label: "Bulge of one face", Value: j.Fixture.Style.Small(bulge) + " or less", Note: "gap at the straight edge; common practice, no source: 0.5 % of the thickness, at least 0.2 mm"},
			{Label: "Bulge of both faces together", Value: j.Fixture.Style.Small(2*bulge) + " or less", Note: "thickness at the centre less that at the edges"},
			{Label: "Resistance", Value: number.Trim(params.ResistanceMost*c.ResistanceMOhm, 2) + " mOhm or less", Note: "1.5 times the data sheet, common practice"},
		},
		Reject: []string{
			"Its thickness or its resistance is outside these limits, or it bulges more.",
			"It has a dent, a scratch through the case or a trace of liquid.",
			"Its voltage is outside what the data sheet allows, stands apart from the other cells', or falls while it rests.",
		},
		Columns: []string{SerialColumn, "voltage, V", "resistance, mOhm", "thickness centre", "left edge", "right edge", "top edge", "bottom edge", "gap front face", "gap back face", "accepted"},
	}
	for i := range j.Fixture.Pack.Cells {
		in.Cells = append(in.Cells, j.Fixture.Pack.CellName(i))
	}
	recorded(j, &in)
	return in
}

// SerialColumn is where serials are written down that are not on record.
const SerialColumn = "serial number"

// feelerText is how the printed feeler judges a face.
func feelerText(j *job.Job) string {
	var names []string
	for _, l := range j.Assembly.PartsList() {
		if strings.HasPrefix(l.Part.ID, "bulge-feeler") {
			names = append(names, steps.PartName(l.Part))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("The printed %s does it without measuring: laid across the width, its feet on the edges, it must not rock on its pad in the middle; where it rocks, the face bulges by more than the limit.", words.Join(names))
}

// bulgeLimit is how far a face may stand proud before the cell is rejected, mm.
// Common practice, no source.
func bulgeLimit(f *params.Fixture) float64 { return f.BulgeLimit().MM() }

// recorded fills the inspection with the cells as measured: who goes where, and
// who stays out.
func recorded(j *job.Job, in *page.Incoming) {
	w := wired{j.Wiring}
	if w.Wiring == nil {
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
	in.Cells, in.Columns = nil, slices.DeleteFunc(in.Columns, func(c string) bool { return c == SerialColumn }) // told with the place
	for slot, c := range a.Slots {
		in.Cells = append(in.Cells, fmt.Sprintf("%s: %s", j.Fixture.Pack.CellName(slot), c.Serial))
	}
	in.Text = append(in.Text, fmt.Sprintf("Put each cell into the place named below: the places then differ by %s %% in capacity and %s %% in resistance, and the weakest holds %s Ah.",
		number.Trim(100*a.CapacitySpread, 1), number.Trim(100*a.ResistanceSpread, 1), number.Trim(a.PackAh, 1)))
	for _, r := range a.Remarks {
		in.Text = append(in.Text, words.Upper(r)+".")
	}
	for _, c := range a.Spare {
		in.Text = append(in.Text, fmt.Sprintf("Cell %s is spare.", c.Serial))
	}
}
