package assembly

import (
	"fmt"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Kinds of instance that are no parts to make.
const (
	kindVent parts.Kind = "vent"
	kindTool parts.Kind = "tool"
)

// ventRise is how far a vent's membrane is taken to stand above the case, mm:
// it is flush, and only marks the place that must stay free.
const ventRise = 0.2

// placeCells places every cell with its terminals and vent.
func placeCells(a *Assembly) error {
	l, f := a.Placement, a.Fixture
	for row, x := range l.RowX {
		for i := range f.Pack.CellsIn(row) {
			if err := placeCell(a, row, i, geom.Vec3{X: x, Z: l.CellZ(i, f.Pack.PerRow) - l.CellThickness/2}); err != nil {
				return err
			}
		}
	}
	return nil
}

func placeCell(a *Assembly, row, i int, at geom.Vec3) error {
	name := id("cell", rowName(row, a.Fixture.Pack.Rows), fmt.Sprint(i+1))
	p, err := a.obtain(cellKey, a.cell)
	if err != nil {
		return err
	}
	w := Instance{ID: name, Role: RoleCell, Part: p, Frame: geom.At(at), Row: row, Index: i, Column: -1, Level: -1}
	a.put(w)
	lid, err := lidOf(a, w, false)
	for _, w := range lid {
		a.put(w)
	}
	return err
}

// Turn says which cells stand turned, by their places row by row: their plus on the left
// as seen from the front. What is on their lids goes round with them.
func (a *Assembly) Turn(turned []bool) error {
	a.turned = turned
	vents := map[string]geom.Frame{}
	for i := range a.Instances {
		w := &a.Instances[i]
		if w.Role == RoleCell {
			lid, err := lidOf(a, *w, isTurned(a, w.Row, w.Index))
			if err != nil {
				return err
			}
			copy(a.Instances[i+1:], lid)
		}
		if w.Role == RoleVent {
			vents[w.ID] = w.Frame
		}
	}
	for i := range a.Tools {
		if t := &a.Tools[i]; t.Kind == ToolVent {
			t.Frame = vents[t.On]
		}
	}
	return nil
}

func isTurned(a *Assembly, row, index int) bool {
	slot := row*a.Fixture.Pack.PerRow + index
	return slot < len(a.turned) && a.turned[slot]
}

// lidOf is what stands on a cell's lid, from the left.
func lidOf(a *Assembly, cell Instance, turned bool) ([]Instance, error) {
	out, err := terminalsOf(a, cell, turned)
	if err != nil {
		return nil, err
	}
	return ventOf(a, cell, turned, out)
}

// onLid is a place on a cell's lid, so far from its middle.
func onLid(a *Assembly, cell *Instance, x, z unit.Length) geom.Frame {
	return geom.At(cell.Frame.Point(geom.Vec3{X: x.MM(), Y: a.Placement.CellHeight, Z: a.Placement.CellThickness/2 + z.MM()}))
}

// cell is the case, standing on y = 0, its thickness along z from 0.
func (a *factory) cell() (*parts.Part, error) {
	l, c := a.Placement, a.Fixture.Cell
	return kept(parts.CellCase(parts.CellSpec{
		Label:   parts.Label{ID: "cell", Name: "cell", Stock: c.Name},
		WidthMM: l.CellWidth, HeightMM: l.CellHeight, ThicknessMM: l.CellThickness,
		MassG: c.Mass.Grams(), CaseLive: c.CaseLive,
	}))
}

// flushPad is how far a pad that is level with the case is taken to stand above
// it, so that it is there as a solid, mm.
const flushPad = 0.1

// terminal makes the pad, and the stud where there is one.
func (a *factory) terminal(t params.Terminal) ([]*parts.Part, error) {
	c := a.Fixture.Cell
	spec := parts.TerminalSpec{Label: parts.Label{ID: "terminal", Name: "terminal"}, PadMM: t.Dia.MM(), PadHeightMM: padHigh(t)}
	if c.StudHeight > 0 {
		spec.StudMM, spec.StudHeightMM = a.studDia(), c.StudHeight.MM()
	}
	ps, err := parts.Terminal(spec)
	if err != nil {
		return nil, err
	}
	var all []*parts.Part
	for i := range ps {
		all = append(all, &ps[i])
	}
	return all, nil
}

// studDia is the diameter of the terminals' thread; the pad's own when the
// thread is in no table.
func (a *factory) studDia() float64 {
	c := a.Fixture.Cell
	pad := min(c.Minus.Dia, c.Plus.Dia)
	if t, ok := a.Fixture.Tables.Thread(c.TerminalThread); ok && t.Major < pad {
		return t.Major.MM()
	}
	return pad.MM()
}

// padHigh is how far a pad stands above the case, mm.
func padHigh(t params.Terminal) float64 { return max(t.Height.MM(), flushPad) }

// terminalsOf are both terminals of a cell: each a pad for every screw, with its stud where
// there is one.
func terminalsOf(a *Assembly, cell Instance, turned bool) (out []Instance, err error) {
	for side, t := range a.Fixture.Cell.Terminals(turned) {
		if t.Dia <= 0 {
			return nil, nil
		}
		ps, err := a.obtainAll(fmt.Sprint("terminal ", t.Dia, t.Height), func() ([]*parts.Part, error) { return a.terminal(t) })
		if err != nil {
			return nil, err
		}
		for i, at := range a.Fixture.Cell.ScrewsAt() {
			for k, p := range ps {
				w := cell
				w.ID, w.Role, w.Part = id(cell.ID, "terminal", params.ColumnName(side, terminalSides)), RoleTerminal, p
				if i > 0 {
					w.ID = id(w.ID, fmt.Sprint(i+1))
				}
				if k > 0 {
					w.ID = id(w.ID, "stud")
				}
				w.Frame = onLid(a, &cell, t.X+at[0], t.Z+at[1])
				out = append(out, w)
			}
		}
	}
	return out, nil
}

// ventOf is a cell's vent, after what is on its lid already.
func ventOf(a *Assembly, cell Instance, turned bool, out []Instance) ([]Instance, error) {
	c := a.Fixture.Cell
	if c.VentLength <= 0 || c.VentWidth <= 0 {
		return out, nil
	}
	p, err := a.obtain("vent", func() (*parts.Part, error) {
		x, z := c.VentLength.MM()/2, c.VentWidth.MM()/2
		s, err := geom.Box(geom.Vec3{X: -x, Z: -z}, geom.Vec3{X: x, Y: ventRise, Z: z})
		return notMade("vent", kindVent, s), err
	})
	w := cell
	w.ID, w.Role, w.Part = id(cell.ID, "vent"), RoleVent, p
	x, z := c.Vent(turned)
	w.Frame = onLid(a, &cell, x, z)
	return append(out, w), err
}

// notMade is something that is in the way without being a part of the fixture.
func notMade(name string, k parts.Kind, s geom.Solid) *parts.Part {
	size := s.Bounds().Size()
	return &parts.Part{ID: name, Kind: k, Name: name, Make: parts.MakeOwn, Solid: s,
		SizeMM: [3]float64{size.X, size.Y, size.Z}}
}

// outward is a frame at o whose z axis points out of an end. At the back it is
// the front's frame turned half a turn about the upright axis.
func outward(e End, o geom.Vec3) geom.Frame {
	f := geom.At(o)
	if e == Back {
		f.X, f.Z = geom.Vec3{X: -1}, geom.Vec3{Z: -1}
	}
	return f
}
