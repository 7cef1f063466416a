package assembly

import (
	"math"
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

const inch = 25.4

// disc16 is a small disc spring (EN 16983 series A).
var disc16 = &catalog.DiscSpring{Name: "16x8.2x0.9", Outer: 16, Inner: 8.2, T: 0.9, H0: 0.35}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: %.6f, want %.6f", what, got, want)
	}
}

func layoutOf(t *testing.T, f *params.Fixture, v Variant) *Placement {
	t.Helper()
	l, err := NewPlacement(f, v)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Common practice, no source: four cells taken as 8 1/2 in, two 1/2 in plates,
// two 1/8 in legs and 3/4 in at each end give an 11 1/4 in rod.
func TestFourCellsRodLength(t *testing.T) {
	l := layoutOf(t, sample.FourCells(), Nominal)
	for _, e := range []End{Front, Back} {
		s := l.Ends[e]
		near(t, "plate inner face", s.Plate.Inner, 4.25*inch)
		near(t, "plate outer face", s.Plate.Outer, 4.75*inch)
		near(t, "leg outer face", s.Leg.Outer, 4.875*inch)
		near(t, "seat of the nut", s.Seat(), (4.875+0.065)*inch)
		near(t, "outer face of the nut", s.NutOuter(), (4.875+0.065+0.359)*inch)
		near(t, "rod end", s.RodEnd, 11.25*inch/2)
		near(t, "rod beyond the leg", s.RodEnd-s.Leg.Outer, 0.75*inch)
		near(t, "protrusion", s.Protrusion(), (0.75-0.065-0.359)*inch)
	}
}

func TestCellPlaces(t *testing.T) {
	l := layoutOf(t, sample.FourCells(), Nominal)
	near(t, "cell thickness", l.CellThickness, 8.5*inch/4)
	for i, want := range []float64{-1.5, -0.5, 0.5, 1.5} {
		near(t, "cell middle", l.CellZ(i, 4), want*8.5*inch/4)
	}
}

// A measured stack keeps its length; one taken from the sheet grows with every
// cell: 8 cells of 0.5 mm tolerance are 4 mm.
func TestVariants(t *testing.T) {
	near(t, "measured stack", layoutOf(t, sample.FourCells(), Largest).Stack, 8.5*inch)
	f := sample.TwoRows()
	nominal := 8*72 + 7*0.5
	near(t, "nominal stack", layoutOf(t, f, Nominal).Stack, nominal)
	near(t, "stack of the largest", layoutOf(t, f, Largest).Stack, nominal+4)
	near(t, "stack of the smallest", layoutOf(t, f, Smallest).Stack, nominal-4)
	near(t, "width of the largest", layoutOf(t, f, Largest).CellWidth, 174.5)
	near(t, "protrusion lost", layoutOf(t, f, Nominal).Ends[Front].Protrusion()-layoutOf(t, f, Largest).Ends[Front].Protrusion(), 2)
}

// Springs at one end sit at the front with a second washer; the rods shift by
// half the difference of the end allowances.
func TestSpringsAtOneEnd(t *testing.T) {
	f := sample.FourCells()
	f.Spring = &params.Spring{Disc: &catalog.DiscSpring{Outer: 20, Inner: 10.2}, Parallel: 1, Series: 6, FreeHeight: 9.3, SetHeight: 8}
	f.Rods.EndAllowance, f.Rods.EndAllowanceFar = 30, 20
	f.Rods.Length = unit.Length(9.75*inch + 50)
	l := layoutOf(t, f, Nominal)
	front, back := l.Ends[Front], l.Ends[Back]
	near(t, "spring height", front.Spring.Thickness(), 8)
	near(t, "no spring at the back", back.Spring.Thickness(), 0)
	near(t, "front nut", front.Nut.Inner, (4.875+2*0.065)*inch+8)
	near(t, "back nut", back.Nut.Inner, (4.875+0.065)*inch)
	near(t, "rod at the front", front.RodEnd-front.Leg.Outer, 30)
	near(t, "rod at the back", back.RodEnd-back.Leg.Outer, 20)
	near(t, "shift", l.RodShift, 5)
}

func TestNewLayoutRefuses(t *testing.T) {
	bad := map[string]func(*params.Fixture){
		"no cells":         func(f *params.Fixture) { f.Pack.PerRow = 0 },
		"row without x":    func(f *params.Fixture) { f.Pack.RowX = nil },
		"no columns":       func(f *params.Fixture) { f.Rods.Columns = nil },
		"standing missing": func(f *params.Fixture) { f.Stiffener.StandingUp = nil },
		"NaN stack":        func(f *params.Fixture) { f.Pack.StackLength = unit.Length(math.NaN()) },
		"infinite width":   func(f *params.Fixture) { f.Cell.Width = unit.Length(math.Inf(1)) },
		"negative rod":     func(f *params.Fixture) { f.Rods.Length = -1 },
		"tolerance eats":   func(f *params.Fixture) { f.Cell.ThicknessTol = 100 },
	}
	for name, spoil := range bad {
		f := sample.FourCells()
		spoil(f)
		if _, err := NewPlacement(f, Nominal); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := NewPlacement(nil, Nominal); err == nil {
		t.Error("nil fixture: no error")
	}
}
