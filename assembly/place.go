package assembly

import (
	"fmt"
	"slices"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// placeSeparators places one separator between each two neighbouring cells;
// separator i lies between cells i and i+1.
func placeSeparators(a *Assembly) error {
	f := a.Fixture
	if f.Separator == nil || f.Pack.PerRow < 2 {
		return nil
	}
	ps, err := a.obtainAll("separator", a.separatorParts)
	if err != nil {
		return err
	}
	half := f.Pressed(f.Separator).MM() / 2
	for row, x := range a.Placement.RowX {
		for i := range f.Pack.PerRow - 1 {
			z := (a.Placement.CellZ(i, f.Pack.PerRow) + a.Placement.CellZ(i+1, f.Pack.PerRow)) / 2
			for k, p := range ps {
				w := bare(id("separator", rowName(row, f.Pack.Rows), fmt.Sprint(i+1), pieceName(k, len(ps))), RoleSeparator, p,
					geom.At(geom.Vec3{X: x, Y: sheetMiddle(f.Separator), Z: z - half}))
				w.Row, w.Index = row, i
				a.put(w)
			}
		}
	}
	return nil
}

// placeFillers stands the sheets in the last row's places that have no cell.
func placeFillers(a *Assembly) error {
	f := a.Fixture
	if f.Filler == nil {
		return nil
	}
	row, n := f.Pack.Rows-1, f.Filler.Pieces
	thick, sheet := a.Placement.CellThickness/float64(n), *f.Filler
	if a.Placement.Variant != Nominal {
		sheet.Thickness = unit.Length(thick)
	}
	p, err := a.obtain(fillerKey, func() (*parts.Part, error) { return a.sheetPart("filler", "F1", &sheet, parts.Filler) })
	if err != nil {
		return err
	}
	for i := f.Pack.CellsIn(row); i < f.Pack.PerRow; i++ {
		for k := range n {
			at := geom.Vec3{X: a.Placement.RowX[row], Y: sheetMiddle(f.Filler), Z: a.Placement.CellZ(i, f.Pack.PerRow) - a.Placement.CellThickness/2 + float64(k)*thick}
			w := bare(id("filler", rowName(row, f.Pack.Rows), fmt.Sprint(i+1), fmt.Sprint(k+1)), RoleFiller, p, geom.At(at))
			w.Row, w.Index, w.Level = row, i, k
			a.put(w)
		}
	}
	return nil
}

// placeLiners places a liner at both ends of every row.
func placeLiners(a *Assembly) error {
	f := a.Fixture
	if f.Liner == nil {
		return nil
	}
	ps, err := a.obtainAll("liner", a.linerParts)
	if err != nil {
		return err
	}
	for row, x := range a.Placement.RowX {
		for _, e := range []End{Front, Back} {
			at := geom.Vec3{X: x, Y: sheetMiddle(f.Liner), Z: e.Sign() * a.Placement.Ends[e].Liner.Inner}
			for k, p := range ps {
				w := bare(id("liner", e.String(), rowName(row, f.Pack.Rows), pieceName(k, len(ps))), RoleLiner, p, outward(e, at))
				w.End, w.Row = e, row
				a.put(w)
			}
		}
	}
	return nil
}

// placePlates places the two end plates. Where the rod columns are not the same
// both ways the back plate is the mirrored one.
func placePlates(a *Assembly) error {
	for _, e := range []End{Front, Back} {
		columns := a.columnsFrom(e, false)
		p, err := a.obtain(fmt.Sprint("end-plate ", columns), func() (*parts.Part, error) { return a.platePart(columns, hand(e, a.symmetric())) })
		if err != nil {
			return err
		}
		at := geom.Vec3{Y: a.plateMiddle(), Z: e.Sign() * a.Placement.Ends[e].Plate.Inner}
		w := bare(id("end-plate", e.String()), RolePlate, p, outward(e, at))
		w.End = e
		a.put(w)
	}
	return nil
}

// columnsFrom returns the rod columns as seen from outside an end, x to the
// right when upright; flipped for a part that is turned upside down.
func (a *factory) columnsFrom(e End, flipped bool) []float64 {
	columns := slices.Clone(a.Placement.Columns)
	if (e == Back) != flipped {
		for i := range columns {
			columns[i] = 0 - columns[i] // not -x: no negative zero, which would print apart
		}
		slices.Reverse(columns)
	}
	return columns
}

// symmetric says whether the rod columns are the same seen from both ends.
func (a *factory) symmetric() bool {
	c := a.Placement.Columns
	for i := range c {
		if diff := c[i] + c[len(c)-1-i]; diff > sameHole || diff < -sameHole {
			return false
		}
	}
	return true
}

// sameHole is how far two hole positions may differ and still be one part, mm:
// rounding only.
const sameHole = 1e-6

// hand is the suffix of parts that come in two hands.
func hand(e End, symmetric bool) string {
	if symmetric {
		return ""
	}
	return e.String()
}

// placeStiffeners places one angle at each rod level on both plates: its drilled
// leg on the plate, its standing leg outward, above or below the holes.
func placeStiffeners(a *Assembly) error {
	s := a.Fixture.Stiffener
	if s == nil {
		return nil
	}
	n := len(a.Placement.Levels)
	for _, e := range []End{Front, Back} {
		for level, y := range a.Placement.Levels {
			down := !s.StandingUp[level]
			columns := a.columnsFrom(e, down)
			handed := hand(e, a.symmetric())
			if down && handed != "" {
				handed = hand(1-e, false)
			}
			p, err := a.obtain(fmt.Sprint("stiffener ", columns), func() (*parts.Part, error) { return a.stiffenerPart(columns, handed) })
			if err != nil {
				return err
			}
			at := geom.Vec3{Y: y, Z: e.Sign() * a.Placement.Ends[e].Leg.Inner}
			w := bare(id("stiffener", e.String(), params.LevelName(level, n)), RoleStiffener, p, standing(e, at, down))
			w.End, w.Level = e, level
			a.put(w)
		}
	}
	return nil
}

// standing is the frame of an angle at an end: turned half a turn about the
// outward axis when its standing leg is below the holes.
func standing(e End, at geom.Vec3, down bool) geom.Frame {
	f := outward(e, at)
	if down {
		f.X, f.Y = f.X.Mul(-1), f.Y.Mul(-1)
	}
	return f
}

// eachRod calls fn for every rod position, column by column, upwards.
func eachRod(a *Assembly, fn func(column, level int, at geom.Vec3, name string) error) error {
	for c, x := range a.Placement.Columns {
		for l, y := range a.Placement.Levels {
			name := id(params.ColumnName(c, len(a.Placement.Columns)), params.LevelName(l, len(a.Placement.Levels)))
			if err := fn(c, l, geom.Vec3{X: x, Y: y}, name); err != nil {
				return err
			}
		}
	}
	return nil
}

// placeRods places the rods, their middles at the layout's shift.
func placeRods(a *Assembly) error {
	p, err := a.obtain("rod", a.rodPart)
	if err != nil {
		return err
	}
	return eachRod(a, func(c, l int, at geom.Vec3, name string) error {
		at.Z = a.Placement.RodShift - p.SizeMM[0]/2
		a.put(onRod(id("rod", name), RoleRod, p, geom.At(at), c, l))
		return nil
	})
}

// onRod is an instance on a rod.
func onRod(name string, g Role, p *parts.Part, f geom.Frame, column, level int) Instance {
	return Instance{ID: name, Role: g, Part: p, Frame: f, Row: -1, Index: -1, Column: column, Level: level}
}

// placeSleeves places a sleeve on every rod, midway between the plates.
func placeSleeves(a *Assembly) error {
	if a.Fixture.Sleeve == nil {
		return nil
	}
	ps, err := a.obtainAll("sleeve", a.sleeveParts)
	if err != nil {
		return err
	}
	return eachRod(a, func(c, l int, at geom.Vec3, name string) error {
		at.Z = -a.SleeveLength() / 2
		for k, p := range ps {
			a.put(onRod(id("sleeve", name, pieceName(k, len(ps))), RoleSleeve, p, geom.At(at), c, l))
		}
		return nil
	})
}

// placeHardware places washers, springs and nuts on both ends of every rod.
func placeHardware(a *Assembly) error {
	for _, e := range []End{Front, Back} {
		for _, l := range hardwareLayers(a, e) {
			p, err := a.obtain(string(l.group), l.build)
			if err != nil {
				return fmt.Errorf("%s: %w", l.group, err)
			}
			err = eachRod(a, func(c, level int, at geom.Vec3, name string) error {
				at.Z = e.Sign() * l.span.Inner
				w := onRod(id(l.name, e.String(), name), l.group, p, outward(e, at), c, level)
				w.End, w.Layer = e, l.layer
				a.put(w)
				return nil
			})
			if err != nil {
				return err
			}
		}
	}
	return nil
}

// hardwareLayer is one kind of thing on a rod's end.
type hardwareLayer struct {
	name  string
	group Role
	layer Layer
	span  Span
	build func() (*parts.Part, error)
}

// hardwareLayers lists what sits on the rods at one end, outward.
func hardwareLayers(a *Assembly, e End) []hardwareLayer {
	s := a.Placement.Ends[e]
	layers := []hardwareLayer{{"washer", RoleWasher, LayerSeat, s.Washer, a.washerPart}}
	if HasSpring(a.Fixture, e) {
		layers = append(layers,
			hardwareLayer{"spring", RoleSpring, LayerSeat, s.Spring, a.springPart},
			hardwareLayer{"spring-washer", RoleWasher, LayerSpring, s.SpringWasher, a.washerPart})
	}
	layers = append(layers, hardwareLayer{"nut", RoleNut, LayerSeat, s.Nut, a.nutPart})
	if a.Fixture.JamNut != nil {
		layers = append(layers, hardwareLayer{"jam-nut", RoleJamNut, LayerSeat, s.JamNut, a.jamNutPart})
	}
	return layers
}
