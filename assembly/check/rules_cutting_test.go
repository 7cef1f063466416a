package check

import (
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/unit"
)

// The plates of four cells are 247.65 x 195 mm of 12.7 mm, the rim of a sheet is 5 mm
// and the gap between parts 6 mm; the rods are 285.75 mm and the angles 247.65 mm
// long, the saw takes 3.2 mm.
func TestStockIsEnough(t *testing.T) {
	const plateW, plateH, rim, gap, rod, kerf = 247.65, 195, 5, 6, 285.75, 3.2
	sheet := func(w, h unit.Length, n int) func(*params.Fixture) {
		return func(f *params.Fixture) {
			s := &f.Stock.Sheets[0]
			s.Width, s.Height, s.Quantity = w, h, n
		}
	}
	thick := func(t unit.Length) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Stock.Sheets[0].Thickness = t }
	}
	rods := func(length unit.Length, n int) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Stock.Rods[0].Length, f.Stock.Rods[0].Quantity = length, n }
	}
	for name, c := range map[string]struct {
		change     func(*params.Fixture)
		rule, kind string
		have, need float64
		hint       string // begins with
	}{
		"side by side":          {sheet(2*plateW+gap+2*rim, plateH+2*rim, 1), "fits-sheet", "end-plate", 2, 2, ""},
		"a little narrow":       {sheet(2*plateW+gap+2*rim-0.01, plateH+2*rim, 1), "fits-sheet", "end-plate", 1, 2, "hdpe of 1/2 in is missing for 1 more"},
		"a little low":          {sheet(2*plateW+gap+2*rim, plateH+2*rim-0.01, 1), "fits-sheet", "end-plate", 0, 2, "hdpe of 1/2 in is missing for 2 more"},
		"one above the other":   {sheet(plateW+2*rim, 2*plateH+gap+2*rim, 1), "fits-sheet", "end-plate", 2, 2, ""},
		"not quite above":       {sheet(plateW+2*rim, 2*plateH+gap+2*rim-0.01, 1), "fits-sheet", "end-plate", 1, 2, "hdpe of 1/2 in is missing for 1 more"},
		"one offcut":            {sheet(plateW+2*rim, plateH+2*rim, 1), "fits-sheet", "end-plate", 1, 2, "hdpe of 1/2 in is missing for 1 more of end-plate, each "},
		"two offcuts":           {sheet(plateW+2*rim, plateH+2*rim, 2), "fits-sheet", "end-plate", 2, 2, ""},
		"as many as needed":     {sheet(plateW+2*rim, plateH+2*rim, 0), "fits-sheet", "end-plate", 2, 2, ""},
		"of the plate's size":   {sheet(plateW, plateH, 2), "fits-sheet", "end-plate", 2, 2, ""},
		"as high, to be routed": {sheet(2*plateW+gap+2*rim, plateH, 1), "fits-sheet", "end-plate", 0, 2, "hdpe of 1/2 in is missing for 2 more of end-plate, each "},
		"as wide, to be routed": {sheet(plateW, plateH+2*rim, 1), "fits-sheet", "end-plate", 0, 2, "hdpe of 1/2 in is missing for 2 more of end-plate, each "},
		"as high, to be sawn":   {all(sheet(2*plateW+gap+2*rim, plateH, 1), cutter(0)), "fits-sheet", "end-plate", 2, 2, ""},
		"far too small":         {sheet(90, 90, 9), "fits-sheet", "end-plate", 0, 2, "hdpe of 1/2 in is missing for 2 more of end-plate, each "},
		"measured thickness":    {thick(12.3), "fits-sheet", "end-plate", 2, 2, ""},
		"another thickness":     {thick(12), "fits-sheet", "end-plate", 0, 2, "hdpe of 1/2 in is missing"},
		"another material":      {func(f *params.Fixture) { f.Stock.Sheets[0].Material = "pp" }, "fits-sheet", "end-plate", 0, 2, "hdpe of 1/2 in is missing"},
		"four rods of one":      {rods(4*rod+3*kerf, 1), "fits-length", "rod", 4, 4, ""},
		"a little short":        {rods(4*rod+3*kerf-0.01, 1), "fits-length", "rod", 3, 4, "5/16-18 is missing for 1 more of rod, each 11 1/4 in"},
		"two short lengths":     {rods(2*rod+kerf, 2), "fits-length", "rod", 4, 4, ""},
		"one short length":      {rods(2*rod+kerf, 1), "fits-length", "rod", 2, 4, "5/16-18 is missing for 2 more"},
		"lengths to buy":        {rods(rod, 0), "fits-length", "rod", 4, 4, ""},
		"all lengths too short": {rods(rod-0.01, 0), "fits-length", "rod", 0, 4, "5/16-18 is missing for 4 more"},
		"none listed":           {func(f *params.Fixture) { f.Stock.Rods = nil }, "fits-length", "rod", 4, 4, ""},
		"another angle listed":  {func(f *params.Fixture) { f.Stock.Angles[0].Item = "25x25x3 mm aluminium" }, "fits-length", "stiffener", 4, 4, ""},
	} {
		f := sample.FourCells()
		c.change(f)
		got, ok := get(run(t, f), c.rule, c.kind)
		want := finding.Pass
		if c.have < c.need {
			want = finding.Fail
		}
		if !ok || got.Have != c.have || got.Need != c.need || got.Unit != "pieces" || got.Verdict != want {
			t.Errorf("%s: %s, %g of %g %s, want %s, %g of %g", name, got.Verdict, got.Have, got.Need, got.Unit, want, c.have, c.need)
		}
		if (got.Hint == "") != (c.hint == "") || !strings.HasPrefix(got.Hint, c.hint) {
			t.Errorf("%s: hint %q, want %q", name, got.Hint, c.hint)
		}
	}
}
