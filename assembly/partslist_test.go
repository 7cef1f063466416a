package assembly

import (
	"math"
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/parts"
)

func TestPartsListCounts(t *testing.T) {
	want := map[parts.Kind]int{parts.KindCell: 4, parts.KindPlate: 2, parts.KindStiffener: 4, parts.KindRod: 4,
		parts.KindWasher: 8, parts.KindNut: 8}
	got := map[parts.Kind]int{}
	for _, l := range built(t, sample.FourCells()).PartsList() {
		got[l.Part.Kind] += l.Quantity
		if math.Abs(l.MassTotalG-float64(l.Quantity)*l.Part.MassG) > 1e-6 || l.MassEachG() != l.Part.MassG {
			t.Errorf("%s: %d of %g g give %g g", l.Part.ID, l.Quantity, l.MassEachG(), l.MassTotalG)
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
		if l.Part.Kind == parts.KindPlate && math.Abs(l.MassEachG()-plate) > 0.01 {
			t.Errorf("plate %.3f g, by hand %.3f g", l.MassEachG(), plate)
		}
	}
	if a.PackMassG() != lines || lines < 4*5420+2*plate {
		t.Errorf("pack %.1f g, lines %.1f g", a.PackMassG(), lines)
	}
}

// A line of disc springs counts and weighs discs, not stacks: twelve of 16 x 8.2 x
// 0.9 mm on each of four rods.
func TestSpringsAreWeighedByThePiece(t *testing.T) {
	f := sample.FourCells()
	f.Spring = &params.Spring{Disc: &catalog.DiscSpring{Name: "16x8.2x0.9", Outer: 16, Inner: 8.2, T: 0.9, H0: 0.35},
		Parallel: 2, Series: 6, FreeHeight: 12.9, SetHeight: 11.9}
	disc := math.Pi / 4 * (16*16 - 8.2*8.2) * 0.9 * 7.85 / 1000
	for _, l := range built(t, f).PartsList() {
		if l.Part.Kind != parts.KindSpring {
			continue
		}
		if l.Quantity != 4 || l.Pieces != 48 || math.Abs(l.MassEachG()-disc) > 0.01 || math.Abs(l.MassTotalG-48*disc) > 0.5 {
			t.Errorf("%d stacks, %d pieces of %.3f g, %.2f g; want 4, 48 of %.3f g, %.2f g", l.Quantity, l.Pieces, l.MassEachG(), l.MassTotalG, disc, 48*disc)
		}
		return
	}
	t.Error("no springs are listed")
}
