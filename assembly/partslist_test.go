package assembly

import (
	"math"
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/unit"
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

func TestCutList(t *testing.T) {
	f := sample.FourCells()
	f.Stock.Rods = append(f.Stock.Rods, params.LengthStock{ID: "rod-1ft", Item: "5/16-18", Length: 12 * inch},
		params.LengthStock{ID: "wrong thread", Item: "M8", Length: 300})
	want := map[parts.Kind]CutLine{
		parts.KindPlate:     {Quantity: 2, From: "hdpe-offcut", IsSheet: true, IsOffcut: true},
		parts.KindStiffener: {Quantity: 4, From: "angle-4ft", ToBuy: true},
		parts.KindRod:       {Quantity: 4, From: "rod-1ft", ToBuy: true},
	}
	got := built(t, f).CutList()
	if len(got) != len(want) {
		t.Errorf("%d cut lines, want %d", len(got), len(want))
	}
	for _, l := range got {
		w := want[l.Part.Kind]
		if l.Quantity != w.Quantity || l.From != w.From || l.IsSheet != w.IsSheet || l.ToBuy != w.ToBuy || l.IsOffcut != w.IsOffcut {
			t.Errorf("%s: %+v, want %+v", l.Part.ID, l, w)
		}
	}
}

// Grain forbids the turn that the part would need.
func TestSheetRoomGrain(t *testing.T) {
	f := sample.FourCells()
	s := params.SheetStock{Width: 210, Height: 310, GrainAlongX: true}
	p := &parts.Part{SizeMM: [3]float64{250, 150, 12}, Flat: &parts.Flat{}}
	if w, h := SheetRoom(f, s, p); w != 300 || h != 200 {
		t.Errorf("free to turn: %g x %g, want 300 x 200", w, h)
	}
	p.Flat.Grain, p.Flat.GrainAlongX = true, true
	if w, h := SheetRoom(f, s, p); w != 200 || h != 300 {
		t.Errorf("grain along x: %g x %g, want 200 x 300", w, h)
	}
	p.Flat.GrainAlongX = false
	if w, h := SheetRoom(f, s, p); w != 300 || h != 200 {
		t.Errorf("grain across: %g x %g, want 300 x 200", w, h)
	}
}

func TestSheetThicknessMatch(t *testing.T) {
	part := func(mm float64) *parts.Part {
		return &parts.Part{Material: "fr4", Flat: &parts.Flat{ThicknessMM: mm}}
	}
	for _, c := range []struct {
		part, sheet float64
		want        bool
	}{{18, 17.7, true}, {18, 17, false}, {1, 0.5, false}, {0.5, 0.5, true}, {25, 26, false}} {
		s := params.SheetStock{Material: "fr4", Thickness: unit.Length(c.sheet)}
		if got := IsStockFor(s, part(c.part)); got != c.want {
			t.Errorf("part of %g mm from sheet of %g mm: %v", c.part, c.sheet, got)
		}
	}
}
