package assembly

import (
	"math"
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/parts"
)

func TestPartsListCounts(t *testing.T) {
	want := map[parts.Kind]int{parts.KindCell: 4, parts.KindPlate: 2, parts.KindStiffener: 4, parts.KindRod: 4,
		parts.KindWasher: 8, parts.KindNut: 8}
	got := map[parts.Kind]int{}
	for _, l := range built(t, sample.FourCells()).PartsList() {
		got[l.Part.Kind] += l.Quantity
		if math.Abs(l.MassTotalG-float64(l.Quantity)*l.MassEachG) > 1e-6 {
			t.Errorf("%s: %d of %g g give %g g", l.Part.ID, l.Quantity, l.MassEachG, l.MassTotalG)
		}
	}
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%d of %s, want %d", got[k], k, n)
		}
	}
	if len(got) != len(want) {
		t.Errorf("kinds listed: %v", got)
	}
}

// Pack mass by hand: four cells of 5420 g, two HDPE plates 247.65 x 195 x 12.7
// mm of 0.95 g/cm3 (4 holes of 8.73 mm, corners of 6 mm).
func TestPackMass(t *testing.T) {
	a := built(t, sample.FourCells())
	area := 9.75*inch*195 - (4-math.Pi)*36 - 4*math.Pi/4*math.Pow(11*inch/32, 2)
	plate := area * 12.7 * 0.95 / 1000
	var lines float64
	for _, l := range a.PartsList() {
		lines += l.MassTotalG
		if l.Part.Kind == parts.KindPlate && math.Abs(l.MassEachG-plate) > 0.01 {
			t.Errorf("plate %.3f g, by hand %.3f g", l.MassEachG, plate)
		}
	}
	if a.PackMassG() != lines || lines < 4*5420+2*plate {
		t.Errorf("pack %.1f g, lines %.1f g", a.PackMassG(), lines)
	}
}
