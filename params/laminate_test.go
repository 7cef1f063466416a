package params

import (
	"strings"
	"testing"
)

const laminated = `fixture: laminated
cell: {model: 54x174x200, force: 300 kgf, force_tolerance: 60 kgf}
pack: {cells: 4}
plates: {material: birch plywood, laminate: {sheets: 3, sheet: 6 mm, grain: crossed}}
`

// The sheets make the plate's thickness; the longest usual screw that stays 2 mm short of
// the inner face; sheets and not the plate are looked for in the stock.
func TestLaminate(t *testing.T) {
	f := settled(t, laminated)
	l := f.Plate.Laminate
	if f.Plate.Thickness != 18 || f.Plate.Sheet() != 6 || l.ScrewLong != 16 || l.Efficiency != 0.8 || !l.Glued || l.Across(1) || !l.Across(2) {
		t.Errorf("%v: %+v", f.Plate.Thickness, l)
	}
	found := false
	for _, s := range f.Stock.Sheets {
		found = found || s.Takes("birch plywood", 6)
		if s.Takes("birch plywood", 18) {
			t.Error("a sheet as thick as the plate is bought")
		}
	}
	if !found {
		t.Error("no sheet is bought")
	}
	for _, c := range []struct{ old, new, want string }{
		{"sheets: 3", "sheets: 2", "grain is not the same from both faces"},
		{"sheets: 3, sheet: 6", "sheets: 3, sheet: 9", ""}, {"sheets: 3", "sheets: 5", "no usual screw"},
		{"birch plywood", "hdpe", "no usual glue holds on hdpe"},
		{"birch plywood, laminate: {sheets: 3, sheet: 6 mm, grain: crossed", "hdpe, laminate: {sheets: 2, sheet: 12 mm, joint: screwed", ""},
		{"birch plywood", "mdf", "no grain to cross"},
		{"laminate:", "thickness: 20 mm, laminate:", "the sheets don't make the plate"},
		{"laminate:", "thickness: 18 mm, laminate:", ""},
		{"sheets: 3, sheet: 6 mm", "sheets: 3, sheet: 1.5 mm", "no usual screw"},
	} {
		_, diags := Load("p.yaml", []byte(strings.Replace(laminated, c.old, c.new, 1)))
		if said := diags.Error(); c.want == "" && diags.HasErrors() || c.want != "" && !strings.Contains(said, c.want) {
			t.Errorf("%s: %q, want %q", c.new, said, c.want)
		}
	}
}
