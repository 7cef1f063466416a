package assembly

import (
	"math"
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/parts"
)

// The sheets of four cells' plates: screws one for every 15,000 mm2 and never further apart
// than 150 mm, each clear of rods, washers and angles by its head, alike on both sides; no
// rod hole in a sheet; all sheets together weigh what a plate without holes does.
func TestSheetsOfPlates(t *testing.T) {
	f := sample.FourCells()
	l := &params.Laminate{Sheets: 3, Sheet: f.Plate.Thickness / 3, Glued: true, Efficiency: 0.8, Screw: 3.5, ScrewLong: 16}
	f.Plate.Laminate = l
	a, err := Build(f)
	if err != nil {
		t.Fatal(err)
	}
	at := a.SheetScrews()
	if float64(len(at))*ScrewArea < f.Plate.Width.MM()*f.Plate.Height.MM() {
		t.Errorf("%d screws", len(at))
	}
	for i, v := range at {
		near := math.Inf(1)
		for j, w := range at {
			if i != j {
				near = min(near, v.Dist(w))
			}
		}
		if near > screwApart {
			t.Errorf("screw %d is %.1f mm from the next", i, near)
		}
		for _, hole := range a.rodHoles(a.Placement.Columns) {
			if d := v.Dist(hole.C); d < 3.5+max(f.Washer.Outer, f.Rods.Hole).MM()/2 {
				t.Errorf("screw %d is %.1f mm from a rod", i, d)
			}
		}
		if e := min(f.Plate.Width.MM()/2-math.Abs(v.X), f.Plate.Height.MM()/2-math.Abs(v.Y)); e < 4*3.5-1e-9 {
			t.Errorf("screw %d is %.1f mm from the edge", i, e)
		}
	}
	sheets, mass, plates := 0, 0.0, 0
	for _, line := range a.PartsList() {
		switch p := line.Part; {
		case p.Kind == parts.KindPlySheet:
			sheets, mass = sheets+line.Quantity, mass+float64(line.Quantity)*line.MassEachG()
			if line.MassTotalG != 0 {
				t.Errorf("%s weighs %.3f g beside its plates", p.ID, line.MassTotalG)
			}
			for _, h := range p.Holes {
				if h.For != ForSheets {
					t.Errorf("%s has a hole for %s", p.ID, h.For)
				}
			}
		case p.Kind == parts.KindPlate:
			plates += line.Quantity
			if !p.Joined || len(p.Holes) == 0 {
				t.Errorf("%s is not joined and drilled", p.ID)
			}
		}
	}
	whole := 2 * f.Plate.Width.MM() * f.Plate.Height.MM() * f.Plate.Thickness.MM() / 1000 * f.Plate.Material.DensityGCM3
	if sheets != 6 || plates != 2 || math.Abs(mass/whole-1) > 0.01 {
		t.Errorf("%d sheets for %d plates, %.0f g of %.0f", sheets, plates, mass, whole)
	}
	one := sample.FourCells()
	b, err := Build(one)
	if err != nil {
		t.Fatal(err)
	}
	if d := a.PackMassG() - b.PackMassG(); math.Abs(d) > 1e-6 {
		t.Errorf("the pack is %.3f g heavier for its sheets", d)
	}
	f.Plate.Width, f.Plate.Height = 190, 60
	if a, err := Build(f); err == nil {
		t.Errorf("%d screws in a plate that has no room", len(a.SheetScrews()))
	}
}
