package params

import (
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// LayerKind is what a layer of the chain is, from the middle of the stack outward.
type LayerKind int

// The kinds: up to LayerLeg they lie under the washers, beyond it on the tie.
const (
	LayerCell   LayerKind = iota
	LayerFiller           // in place of a cell
	LayerSeparator
	LayerLiner
	LayerPlate
	LayerLeg // of the angle, on the plate
	LayerWasher
	LayerSpring
	LayerSpringWasher // gives a spring a flat face under the nut
	LayerNut
	LayerJamNut
)

// String names the kind.
func (k LayerKind) String() string {
	return [...]string{"cell", "filler", "separator", "liner", "plate", "angle leg", "washer", "spring", "spring washer", "nut", "jam nut"}[k]
}

// Layer is one piece along the stack. One with a curve or else a modulus E gives way
// through its thickness, the others are taken as rigid there.
type Layer struct {
	Kind      LayerKind
	Thickness unit.Length    // as clamped
	Free      unit.Length    // with nothing pressed: more for a spring or a pad
	Tol       unit.Length    // of the thickness, either way
	Param     string         // what sets Tol
	CTE       float64        // through the thickness, 1/K
	Curve     []SqueezePoint // pressure against squeeze of one piece
	E         unit.Pressure
	Creep     []catalog.CreepPoint // part of the pressure left
	Growth    []GrowthPoint        // free growth with charge
	Aged      unit.Length          // free growth at end of life
}

// Layers lie one behind the other.
type Layers []Layer

// sum adds up the kinds first to last.
func (ls Layers) sum(first, last LayerKind, of func(Layer) float64) (sum float64) {
	for _, l := range ls {
		if l.Kind >= first && l.Kind <= last {
			sum += of(l)
		}
	}
	return sum
}

// Thick is the length of the kinds first to last as clamped.
func (ls Layers) Thick(first, last LayerKind) unit.Length {
	return unit.Length(ls.sum(first, last, func(l Layer) float64 { return l.Thickness.MM() }))
}

// Free is their length with nothing pressed.
func (ls Layers) Free(first, last LayerKind) unit.Length {
	return unit.Length(ls.sum(first, last, func(l Layer) float64 { return l.Free.MM() }))
}

// Excess is by how much they are longer when each is as thick as it may come.
func (ls Layers) Excess(first, last LayerKind) unit.Length {
	return unit.Length(ls.sum(first, last, func(l Layer) float64 { return l.Tol.MM() }))
}

// Expansion is by how much they lengthen, mm/K.
func (ls Layers) Expansion(first, last LayerKind) float64 {
	return ls.sum(first, last, func(l Layer) float64 { return l.Thickness.MM() * l.CTE })
}

// Run is the pieces of one kind, all alike.
type Run struct {
	Layer
	Pieces int
}

// Runs counts the pieces, in the order in which the kinds come up.
func (ls Layers) Runs() (out []Run) {
	at := map[LayerKind]int{}
	for _, l := range ls {
		if at[l.Kind] == 0 {
			out = append(out, Run{Layer: l})
			at[l.Kind] = len(out)
		}
		out[at[l.Kind]-1].Pieces++
	}
	return out
}

// Chain is what a tie reaches through: the cells of one row with the sheets between
// them, and at either end, the front first, what lies outward from there.
type Chain struct {
	Stack Layers
	Ends  [2]Layers
}

// All is the stack, then what lies at its ends.
func (c Chain) All() Layers {
	return append(append(append(Layers(nil), c.Stack...), c.Ends[0]...), c.Ends[1]...)
}

// Chain is the fixture's, along a row full of cells.
func (f *Fixture) Chain() Chain { return f.ChainOf(0) }

// ChainOf is the chain along a row. The pieces of a stack that was measured have no
// tolerance of their own: the reading holds for them together.
func (f *Fixture) ChainOf(row int) (c Chain) {
	cell := layer(LayerCell, f.Pack.CellThickness, f.Clamp.CellCTE)
	cell.Tol, cell.Param = f.Cell.ThicknessTol, "cell.thickness_tolerance"
	cell.Curve, cell.Growth, cell.Aged = f.Clamp.Squeeze, f.Clamp.Growth, f.Clamp.Aged
	between := f.sheet(LayerSeparator, f.Separator)
	for i := range f.Pack.PerRow {
		if i > 0 {
			c.Stack = append(c.Stack, between...)
		}
		if f.Filler != nil && f.Pack.Filled(row, i) {
			for range f.Filler.Pieces {
				c.Stack = append(c.Stack, f.sheet(LayerFiller, f.Filler)...)
			}
		} else {
			c.Stack = append(c.Stack, cell)
		}
	}
	for i := range c.Stack {
		if f.Pack.Measured {
			c.Stack[i].Tol = 0
		}
	}
	c.Ends = [2]Layers{f.end(0), f.end(1)}
	return c
}

// end is what lies outward from the row at one end; springs at one end only are at
// the front.
func (f *Fixture) end(e int) Layers {
	steel := f.Rods.Grade.CTE
	plate := layer(LayerPlate, f.Plate.Thickness, f.Plate.Material.CTE)
	plate.Tol, plate.Param = f.Tolerances.Sheet(plate.Thickness), "plates.thickness"
	out := append(f.sheet(LayerLiner, f.Liner), plate)
	if s := f.Stiffener; s != nil {
		out = append(out, layer(LayerLeg, s.Section.Thickness, s.Material.CTE))
	}
	out = append(out, layer(LayerWasher, f.Washer.Thickness, steel))
	if f.Spring.Stacks() > e {
		spring := layer(LayerSpring, f.Spring.SetHeight, steel)
		spring.Free = f.Spring.FreeHeight
		out = append(out, spring, layer(LayerSpringWasher, f.Washer.Thickness, steel))
	}
	out = append(out, layer(LayerNut, f.Nut.Height, steel))
	if f.JamNut != nil {
		out = append(out, layer(LayerJamNut, f.JamNut.Height, steel))
	}
	return out
}

func layer(k LayerKind, thick unit.Length, cte float64) Layer {
	return Layer{Kind: k, Thickness: thick, Free: thick, CTE: cte}
}

// sheet is an insert as a layer; none where it is not fitted.
func (f *Fixture) sheet(k LayerKind, s *Insert) Layers {
	if s == nil {
		return nil
	}
	l := layer(k, s.Thickness, s.Material.CTE)
	l.Thickness = f.Pressed(s)
	l.Tol, l.Param = f.Tolerances.Sheet(s.Thickness), k.String()+"s.thickness"
	if s.Soft() { // a thicker one is pressed by more
		thicker := *s
		thicker.Thickness += l.Tol
		l.Tol = f.Pressed(&thicker) - l.Thickness
	}
	l.Curve, l.E, l.Creep = s.squeezing(), s.Material.E, s.Material.Creep
	return Layers{l}
}

// Outgrows is by how much the layers from first to the nuts lengthen beyond a tie, mm/K.
func (c Chain) Outgrows(t Tie, first LayerKind) float64 {
	return c.All().Expansion(first, LayerSpringWasher) - t.Length.MM()*t.CTE
}

// Stacks is the number of spring stacks on one tie.
func (s *Spring) Stacks() int {
	switch {
	case s == nil:
		return 0
	case s.BothEnds:
		return 2
	}
	return 1
}

// TieKind is what pulls the plates together.
type TieKind string

// TieRod is a threaded rod with nuts at both ends.
const TieRod TieKind = "rod"

// Tie pulls the plates together at one place.
type Tie struct {
	Kind   TieKind
	Column int         // of the rods
	X, Y   unit.Length // where it is
	Share  float64     // of the force, relative to the others
	Length unit.Length // that stretches, from nut to nut
	Area   unit.Area
	E      unit.Pressure
	CTE    float64 // 1/K
	Spring *Spring // on it; nil for none
}

// Ties are all of them, level by level.
func (f *Fixture) Ties() (out []Tie) {
	length := f.Chain().All().Thick(LayerCell, LayerSpringWasher)
	for _, y := range f.Rods.Levels {
		for c, x := range f.Rods.Columns {
			out = append(out, Tie{Kind: TieRod, Column: c, X: x, Y: y, Share: f.RodShare(c), Length: length,
				Area: f.Rods.Thread.StressArea, E: f.Rods.Grade.Modulus, CTE: f.Rods.Grade.CTE, Spring: f.Spring})
		}
	}
	return out
}
