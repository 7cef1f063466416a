package assembly

import (
	"slices"
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/params/unit"
	"clampwright/parts"
)

// An angle of unequal ends has a guide for each; turned down the ends change places.
func TestEndsOfGuides(t *testing.T) {
	f := sample.FourCells()
	f.Rods.Columns, f.Prints.DrillGuides, f.Printer.Material = []unit.Length{-108, 103}, true, sample.PETG
	a, err := Build(f)
	if err != nil {
		t.Fatal(err)
	}
	up, down := a.StiffenerAt(Front, 0).Part, a.StiffenerAt(Front, 1).Part
	n := 0
	for _, w := range a.Aids {
		on := CornersOf(a, w.Part, up)
		if len(on) == 0 {
			continue
		}
		n++
		if other := CornersOf(a, w.Part, down); len(on) != 1 || len(other) != 1 || other[0] == on[0] {
			t.Errorf("%s: at %v, turned down at %v", w.ID, on, other)
		}
	}
	if n != 2 {
		t.Errorf("%d guides, want one for each end", n)
	}
}

// Every corner of both plates has one guide; on plates that are mirror images the
// guides of the left corners go to the right ones. Routed plates need none.
func TestCornersOfGuides(t *testing.T) {
	for _, c := range []struct {
		columns []unit.Length
		guides  int
	}{{[]unit.Length{-108, 108}, 2}, {[]unit.Length{-108, 103}, 4}} {
		f := sample.FourCells()
		f.Rods.Columns, f.Prints.DrillGuides, f.Printer.Material, f.Tools.Cutter = c.columns, true, sample.PETG, 0
		f.Rods.Levels = []unit.Length{40, 150}
		a, err := Build(f)
		if err != nil {
			t.Fatal(err)
		}
		var guides []*parts.Part
		for _, w := range a.Aids {
			if slices.Contains(w.On, "end-plate-front") {
				guides = append(guides, w.Part)
			}
		}
		if len(guides) != c.guides {
			t.Fatalf("columns %v: %d guides, want %d", c.columns, len(guides), c.guides)
		}
		front, back := a.PlateAt(Front).Part, a.PlateAt(Back).Part
		var all []string
		for _, g := range guides {
			at, behind := CornersOf(a, g, front), CornersOf(a, g, back)
			all = append(all, at...)
			other := map[string]string{"lower left": "lower right", "lower right": "lower left", "upper left": "upper right", "upper right": "upper left"}
			for _, corner := range at {
				if front != back && (!slices.Contains(behind, other[corner]) || len(behind) != 1) {
					t.Errorf("guide %s: %v on the front plate, %v on the back one", g.Mark, at, behind)
				}
			}
		}
		slices.Sort(all)
		if want := []string{"lower left", "lower right", "upper left", "upper right"}; !slices.Equal(all, want) {
			t.Errorf("columns %v: corners %v", c.columns, all)
		}
		f.Tools.Cutter = 6
		if a, err = Build(f); err != nil || slices.ContainsFunc(a.Aids, func(w Aid) bool { return slices.Contains(w.On, "end-plate-front") }) {
			t.Errorf("a routed plate has drill guides; %v", err)
		}
	}
}
