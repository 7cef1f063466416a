package assembly

import (
	"fmt"
	"math"

	"clampwright/params"
)

// Variant chooses the cells' sizes within their tolerance. A stack that was
// measured keeps its length in every variant; width and height still vary.
type Variant int

// The variants of cell size.
const (
	Nominal  Variant = iota
	Largest          // thickness, width and height at their upper limits
	Smallest         // and at their lower limits
)

// String returns the variant in words.
func (v Variant) String() string {
	return [...]string{"nominal", "largest cells", "smallest cells"}[v]
}

// sign is the factor on the tolerance.
func (v Variant) sign() float64 {
	return [...]float64{0, 1, -1}[v]
}

// Span is a layer of the clamped chain at one end: distances from the middle of
// the stack along the outward axis, mm, Inner <= Outer.
type Span struct{ Inner, Outer float64 }

// Thickness returns the layer's thickness, mm.
func (s Span) Thickness() float64 { return s.Outer - s.Inner }

// Stations says where the layers at one end of the stack lie. Layers that are
// not fitted have no thickness.
type Stations struct {
	Liner, Plate, Leg, Washer Span
	// Spring is at its height under the target force; SpringWasher lies between
	// spring and nut.
	Spring, SpringWasher Span
	Nut, JamNut          Span
	RodEnd               float64
}

// Seat is where the driven nut bears: the start of the nut.
func (s Stations) Seat() float64 { return s.Nut.Inner }

// NutOuter is the outer face of the outermost nut.
func (s Stations) NutOuter() float64 { return s.JamNut.Outer }

// Protrusion is the thread that stands out of the outermost nut, mm; negative
// when the rod does not reach through it.
func (s Stations) Protrusion() float64 { return s.RodEnd - s.NutOuter() }

// Placement is the placement in numbers: where every layer, row and rod lies.
type Placement struct {
	Variant Variant
	// CellThickness, CellWidth and CellHeight are the sizes of one cell in this
	// variant; Pitch the distance of cell middles along z.
	CellThickness, CellWidth, CellHeight, Pitch float64
	// Stack is the length of one row between the liners or plates.
	Stack float64
	// Ends holds the stations at the front and at the back.
	Ends [2]Stations
	// RodShift is the z of the rods' middles: nonzero when the rods stand out
	// further at one end, as with springs at one end only.
	RodShift float64
	// Columns and Levels are the rods' positions, RowX the rows' middles.
	Columns, Levels, RowX []float64
}

// NewPlacement computes the placement of a fixture. The chain at each end is
//
//	half stack, liner, plate, angle leg, washer, [spring, washer,] nut[, jam nut]
//
// It fails when a count or a size that the placement divides by or repeats is
// not usable.
func NewPlacement(f *params.Fixture, v Variant) (*Placement, error) {
	if err := placeable(f); err != nil {
		return nil, err
	}
	l := &Placement{Variant: v}
	chain := f.Chain()
	l.placeCells(f, chain)
	for _, e := range []End{Front, Back} {
		l.Ends[e] = stations(chain, l.Stack/2, e)
	}
	l.placeRods(f)
	return l, nil
}

// placeable refuses fixtures that cannot be placed at all.
func placeable(f *params.Fixture) error {
	switch {
	case f == nil:
		return fmt.Errorf("no fixture given")
	case f.Pack.PerRow < 1 || f.Pack.Rows < 1:
		return fmt.Errorf("pack has %d rows of %d cells; at least one of each is needed", f.Pack.Rows, f.Pack.PerRow)
	case len(f.Pack.RowX) != f.Pack.Rows:
		return fmt.Errorf("pack has %d rows but %d row positions", f.Pack.Rows, len(f.Pack.RowX))
	case len(f.Rods.Columns) == 0 || len(f.Rods.Levels) == 0:
		return fmt.Errorf("rods have no columns or no levels")
	case f.Stiffener != nil && len(f.Stiffener.StandingUp) != len(f.Rods.Levels):
		return fmt.Errorf("%d standing directions given for %d rod levels", len(f.Stiffener.StandingUp), len(f.Rods.Levels))
	}
	for _, size := range []struct {
		name string
		mm   float64
	}{
		{"stack length", f.Pack.StackLength.MM()},
		{"cell thickness", (f.Pack.CellThickness - f.Cell.ThicknessTol).MM()},
		{"cell width", (f.Cell.Width - f.Cell.WidthTol).MM()},
		{"cell height", (f.Cell.Height - f.Cell.HeightTol).MM()}, {"plate thickness", f.Plate.Thickness.MM()},
		{"rod length", f.Rods.Length.MM()}, {"rod diameter", f.Rods.Thread.Major.MM()},
	} {
		if !(size.mm > 0) || math.IsInf(size.mm, 0) {
			return fmt.Errorf("%s is %g mm; it must be positive", size.name, size.mm)
		}
	}
	return nil
}

// placeCells sets the cells' sizes and pitch; each cell of a stack that was not
// measured grows by its tolerance, and the stack with it.
func (l *Placement) placeCells(f *params.Fixture, c params.Chain) {
	s, cell := l.Variant.sign(), c.Stack[0]
	grow := s * cell.Tol.MM()
	l.CellThickness, l.Pitch = cell.Thickness.MM()+grow, f.Pack.Pitch.MM()+grow
	l.Stack = c.Stack.Thick(params.LayerCell, params.LayerSeparator).MM() + s*c.Stack.Excess(params.LayerCell, params.LayerCell).MM()
	l.CellWidth = f.Cell.Width.MM() + s*f.Cell.WidthTol.MM()
	l.CellHeight = f.Cell.Height.MM() + s*f.Cell.HeightTol.MM()
	for _, x := range f.Pack.RowX {
		l.RowX = append(l.RowX, x.MM())
	}
}

// stations stacks the layers of one end outward from the end of the row.
func stations(c params.Chain, half float64, e End) (s Stations) {
	at := half
	for i, span := range []*Span{&s.Liner, &s.Plate, &s.Leg, &s.Washer, &s.Spring, &s.SpringWasher, &s.Nut, &s.JamNut} {
		kind := params.LayerLiner + params.LayerKind(i)
		*span = Span{at, at + c.Ends[e].Thick(kind, kind).MM()}
		at = span.Outer
	}
	return s
}

// HasSpring says whether springs are fitted at this end.
func HasSpring(f *params.Fixture, e End) bool {
	return f.Spring.Stacks() > int(e)
}

// placeRods sets the rods' places and ends: what is left of their length beyond
// the chain is shared as the fixture's end allowances are.
func (l *Placement) placeRods(f *params.Fixture) {
	for _, x := range f.Rods.Columns {
		l.Columns = append(l.Columns, x.MM())
	}
	for _, y := range f.Rods.Levels {
		l.Levels = append(l.Levels, y.MM())
	}
	front, back := &l.Ends[Front], &l.Ends[Back]
	l.RodShift = (f.Rods.EndAllowance.MM() - f.Rods.EndAllowanceFar.MM()) / 2
	half := f.Rods.Length.MM() / 2
	front.RodEnd = half + l.RodShift
	back.RodEnd = half - l.RodShift
}

// CellZ returns the z of the middle of cell i of a row, mm.
func (l *Placement) CellZ(i, perRow int) float64 {
	return (float64(i) - float64(perRow-1)/2) * l.Pitch
}
