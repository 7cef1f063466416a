package assembly

import (
	"fmt"

	"clampwright/params"
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
	if err := placeTerminals(a, w); err != nil {
		return err
	}
	return placeVent(a, w)
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
func (a *factory) terminal() ([]*parts.Part, error) {
	c := a.Fixture.Cell
	spec := parts.TerminalSpec{Label: parts.Label{ID: "terminal", Name: "terminal"}, PadMM: c.TerminalDia.MM(),
		PadHeightMM: max(c.TerminalHeight.MM(), flushPad)}
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
	if t, ok := a.Fixture.Tables.Thread(c.TerminalThread); ok && t.Major < c.TerminalDia {
		return t.Major.MM()
	}
	return c.TerminalDia.MM()
}

// placeTerminals stands both terminals on a cell.
func placeTerminals(a *Assembly, cell Instance) error {
	c := a.Fixture.Cell
	if c.TerminalDia <= 0 {
		return nil
	}
	if a.terminals == nil {
		ps, err := a.terminal()
		if err != nil {
			return err
		}
		a.terminals = ps
	}
	for i, x := range []float64{-c.TerminalPitch.MM() / 2, c.TerminalPitch.MM() / 2} {
		for k, p := range a.terminals {
			w := cell
			w.ID, w.Role, w.Part = id(cell.ID, "terminal", params.ColumnName(i, 2)), RoleTerminal, p
			if k > 0 {
				w.ID = id(w.ID, "stud")
			}
			w.Frame = geom.At(cell.Frame.Point(geom.Vec3{X: x, Y: a.Placement.CellHeight, Z: a.Placement.CellThickness / 2}))
			a.put(w)
		}
	}
	return nil
}

func placeVent(a *Assembly, cell Instance) error {
	c := a.Fixture.Cell
	if c.VentLength <= 0 || c.VentWidth <= 0 {
		return nil
	}
	p, err := a.obtain("vent", func() (*parts.Part, error) {
		x, z := c.VentLength.MM()/2, c.VentWidth.MM()/2
		s, err := geom.Box(geom.Vec3{X: -x, Z: -z}, geom.Vec3{X: x, Y: ventRise, Z: z})
		return notMade("vent", kindVent, s), err
	})
	if err != nil {
		return err
	}
	w := cell
	w.ID, w.Role, w.Part = id(cell.ID, "vent"), RoleVent, p
	w.Frame = geom.At(cell.Frame.Point(geom.Vec3{Y: a.Placement.CellHeight, Z: a.Placement.CellThickness / 2}))
	a.put(w)
	return nil
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
