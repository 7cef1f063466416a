package params

import (
	"math"
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

// What screws carry, worked by hand: two sheets of 9 mm, 200 x 200, of E 6000 and 0.65 g/cm3, nine
// screws of 3.5 mm: k = 650^1.5 x 3.5/23 x 9/40000 = 0.5674; 1/(1 + 9.8696 x 6000 x 4.5/(0.5674 x 40000))
// = 0.0785. No more may be given of screws, glue may have all.
func TestScrewShear(t *testing.T) {
	p := &Plate{Width: 200, Height: 200, Laminate: &Laminate{Sheet: 9, Screw: 3.5}}
	p.Material.E, p.Material.EAcross, p.Material.DensityGCM3 = 11000, 6000, 0.65
	if got := screwShear(p); math.Abs(got-0.0785) > 1e-4 {
		t.Errorf("%.4f, want 0.0785", got)
	}
	screwed := strings.Replace(laminated, "grain: crossed", "joint: screwed", 1)
	most := settled(t, screwed).Plate.Laminate.Efficiency
	if most <= 0 || most > jointShear[false] {
		t.Errorf("derived %g", most)
	}
	for given, ok := range map[string]bool{"joint: screwed, efficiency: 0.05": true, "joint: screwed, efficiency: 1": false, "joint: screwed, efficiency: 0.3": false, "joint: glued, efficiency: 1": true} {
		_, diags := Load("p.yaml", []byte(strings.Replace(laminated, "grain: crossed", given, 1)))
		if refused := strings.Contains(diags.Error(), "screws alone"); refused == ok {
			t.Errorf("%s: %s", given, diags.Error())
		}
	}
}
