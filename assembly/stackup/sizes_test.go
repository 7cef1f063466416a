package stackup

import (
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/params"
	"clampwright/parts"
)

// The sizes of the first example's parts, their limits by hand from its tolerances, and
// those of a part's own drawing.
func TestSizes(t *testing.T) {
	f := fixture(t, "four-cell-offcut.yaml")
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	tol, seen := f.Tolerances, map[parts.Kind]int{}
	for _, l := range a.PartsList() {
		sizes := Sizes(f, l.Part)
		if (len(sizes) > 0) != (l.Part.Make == parts.MakeSheet || l.Part.Make == parts.MakeBar || l.Part.Make == parts.MakeRod) {
			t.Errorf("%s: %d sizes", l.Part.ID, len(sizes))
		}
		seen[l.Part.Kind] += len(sizes)
		for _, s := range sizes {
			less, more := map[string]float64{
				"width": tol.PlateSize.MM(), "height": tol.PlateSize.MM(), "thickness": tol.SheetShare * s.Nominal, "length": tol.CutLength.MM(),
				"hole_x": tol.HolePosition.MM(), "hole_y": tol.HolePosition.MM(), "hole_dia": 0}[s.What], 0.0
			if more = less; s.What == "hole_dia" {
				more = params.DrillSlack
			}
			if math.Abs(s.Nominal-s.Low-less) > 1e-9 || math.Abs(s.High-s.Nominal-more) > 1e-9 {
				t.Errorf("%s %+v, want -%g +%g", l.Part.ID, s, less, more)
			}
			if s.What == "hole_y" && l.Part.Kind == parts.KindStiffener && math.Abs(s.Nominal-f.Stiffener.Gauge.MM()) > 1e-9 {
				t.Errorf("%s: hole %g from the heel, the gauge is %g", l.Part.ID, s.Nominal, f.Stiffener.Gauge.MM())
			}
			if s.Nominal <= 0 {
				t.Errorf("%s: %+v", l.Part.ID, s)
			}
		}
	}
	for _, k := range []parts.Kind{parts.KindPlate, parts.KindStiffener, parts.KindRod} {
		if seen[k] == 0 {
			t.Errorf("no sizes of %s", k)
		}
	}
}

// Worked by hand: a rod of 8 in a hole of 9, holes within 0.3: a middle 0.7 off leaves
// 0.7 + 0.3 = 1 for the two plays of 0.5; 0.8 needs 1.1, so one hole 9.2.
func TestReam(t *testing.T) {
	f := &params.Fixture{}
	f.Rods.Thread.Major, f.Rods.Hole, f.Tolerances.HolePosition = 8, 9, 0.3
	for _, c := range []struct{ off, want float64 }{{0, 9}, {0.69, 9}, {0.7, 9}, {0.71, 9.1}, {0.8, 9.2}, {2, 11.6}} {
		if got := Ream(f, c.off); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g off: %g, want %g", c.off, got, c.want)
		}
	}
}
