package assembly

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed"
)

// isPrint says whether a group is of small printed parts outside the chain.
func isPrint(g Role) bool {
	return g == RoleGuard || g == RoleEndCap || g == RoleRodCap || g == RoleFoot
}

// printMeets: rods pass caps, feet are screwed to plates, all else stays clear.
func printMeets(u, v *Instance) Meeting {
	if !isPrint(u.Role) {
		u, v = v, u
	}
	switch {
	case u.Role == RoleFoot && v.Role == RolePlate && u.End == v.End:
		return Bears
	case u.Role == RoleEndCap && v.Role == RoleRod && u.Column == v.Column:
		return Through
	case u.Role == RoleRodCap && v.Role == RoleRod && sameRod(u, v):
		return Through
	}
	return Clear
}

// shaped returns the pieces of a printed part, made at the first call for what it is
// made to: shaping costs more than all else of placing a fixture.
func shaped[S any](a *factory, s S, shape func(S) ([]parts.Part, error)) ([]*parts.Part, error) {
	made, _ := a.shapes.LoadOrStore(fmt.Sprintf("%T %+v", s, s), sync.OnceValues(func() ([]*parts.Part, error) {
		ps, err := shape(s)
		var out []*parts.Part
		for i := range ps {
			out = append(out, &ps[i])
		}
		return out, err
	}))
	return made.(func() ([]*parts.Part, error))()
}

// shapedOne is shaped for a part that comes in one piece.
func shapedOne[S any](a *factory, s S, shape func(S) (parts.Part, error)) (*parts.Part, error) {
	ps, err := shaped(a, s, func(s S) ([]parts.Part, error) {
		p, err := shape(s)
		return []parts.Part{p}, err
	})
	if err != nil {
		return nil, err
	}
	return ps[0], nil
}

// pieceName tells pieces apart; empty for a part in one piece.
func pieceName(k, n int) string {
	if n < 2 {
		return ""
	}
	return fmt.Sprintf("piece-%d", k+1)
}

// printer is the fixture's printer with a material of the part's own.
func (a *factory) printer(m catalog.Material) printed.Printer {
	p := a.Fixture.Printer
	return printed.Printer{
		BedMM: [3]float64{p.BedX.MM(), p.BedY.MM(), p.BedZ.MM()}, FitMM: p.Fit.MM(), MinWallMM: p.MinWall.MM(), Material: stuff(m),
	}
}

// largest is the cell's size at the upper limit of its tolerance, mm.
func (a *factory) largest() (width, height float64) {
	c := a.Fixture.Cell
	return (c.Width + c.WidthTol).MM(), (c.Height + c.HeightTol).MM()
}

// lipShare is how much of a cell's thickness a separator's lip may reach over,
// and lipMost the most, mm: common practice, no source.
const (
	lipShare = 0.25
	lipMost  = 6.0
)

// topGap is what the cut-outs of a printed sheet leave round terminals, links and
// vent, mm: common practice, no source.
const topGap = 3.0

// printedSheet makes a separator with lips on both sides, or a liner with lips
// towards its cell.
func (a *factory) printedSheet(name, mark string, i *params.Insert, k parts.Kind) ([]*parts.Part, error) {
	f, mid := a.Fixture, sheetMiddle(i)
	width, height := a.largest()
	pads := printed.Pads(i.Pattern, i.Width.MM(), i.Height.MM(), i.Bottom.MM()-mid, i.Border.MM(), i.RibPitch.MM())
	s := printed.SheetSpec{
		Label: parts.Label{ID: name, Name: name, Mark: mark}, Printer: a.printer(i.Material), Pads: pads, ThicknessMM: i.Thickness.MM(),
		CellWidthMM: width, CellBottomMM: -mid, CellTopMM: height - mid, CellNominalWidthMM: f.Cell.Width.MM(), CellNominalTopMM: f.Cell.Height.MM() - mid,
		LipMM: min(lipMost, lipShare*f.Pack.CellThickness.MM()), ReachMM: besideCell(a), Open: i.Pattern == "frame", TopCuts: a.topCuts(),
	}
	// a frame prints flat, so its lips are on one side; see the package printed
	s.FrontLips, s.BackLips = k == parts.KindSeparator, k == parts.KindLiner || !s.Open
	return shaped(a, s, func(s printed.SheetSpec) ([]parts.Part, error) { return printed.Sheet(s, k) })
}

// topCuts are the cut-outs over terminals, the links between them, and the vent.
func (a *factory) topCuts() []parts.Notch {
	c, e := a.Fixture.Cell, a.Fixture.Electrical
	var out []parts.Notch
	cut := func(x, wide unit.Length) {
		if n := (parts.Notch{X: x.MM(), WidthMM: wide.MM() + 2*topGap}); wide > 0 && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	for _, turned := range []bool{false, true} { // the cells beside it may stand either way
		for _, t := range c.Terminals(turned) {
			if t.Dia > 0 {
				cut(t.X, max(t.Dia+unit.Length(max(1, c.Screws)-1)*c.StepX, e.LinkWidth))
			}
		}
		x, _ := c.Vent(turned)
		cut(x, c.VentLength)
	}
	return out
}

// besideCell is the free room between the side of a nominal cell and what stands
// beside it: rods or their sleeves, or half the gap to the other row, mm.
func besideCell(a *factory) float64 {
	f := a.Fixture
	room := math.Inf(1)
	half := f.Cell.Width.MM() / 2
	for _, x := range a.Placement.Columns {
		for _, row := range a.Placement.RowX {
			room = min(room, math.Abs(x-row)-half-a.aroundRod()/2)
		}
	}
	if f.Pack.Rows > 1 {
		room = min(room, f.Pack.RowGap.MM()/2)
	}
	return room - f.Printer.Fit.MM()
}

// aroundRod is the diameter of what passes beside the cells: rod or sleeve.
func (a *factory) aroundRod() float64 {
	if s := a.Fixture.Sleeve; s != nil {
		return s.Outer.MM()
	}
	return a.Fixture.Rods.Thread.Major.MM()
}

func (a *factory) printedSleeve() ([]*parts.Part, error) {
	s := a.Fixture.Sleeve
	return shaped(a, printed.SleeveSpec{
		Label: parts.Label{ID: "sleeve", Name: "rod sleeve", Mark: "T1"}, Printer: a.printer(s.Material),
		OuterMM: s.Outer.MM(), InnerMM: s.Inner.MM(), LengthMM: a.SleeveLength(),
	}, printed.Sleeve)
}

// placePrints places the small printed parts that are asked for, then the aids.
func placePrints(a *Assembly) error {
	p := a.Fixture.Prints
	var errs []error
	for _, s := range []struct {
		wanted bool
		what   string
		place  func(a *Assembly) error
	}{
		{p.CornerGuards, "corner guards", placeGuards}, {p.EndCaps, "end caps", placeEndCaps}, {p.RodCaps, "rod caps", placeRodCaps},
		{p.Feet && a.Fixture.Plate.Feet != nil, "feet", placeFeet}, {p.DrillGuides, "drill guides", placeGuides}, {p.Gauges, "gauges", placeGauges},
	} {
		if !s.wanted {
			continue
		}
		if err := s.place(a); err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", s.what, err))
		}
	}
	return errors.Join(errs...)
}

// guardSide is where a guard's inner face stands: beside the largest cell, and
// beside the lips of a printed liner; from the middle of the row, mm.
func (a *factory) guardSide() float64 {
	f := a.Fixture
	w, _ := a.largest()
	at := w/2 + f.Printer.Fit.MM()
	if f.Liner != nil && f.Liner.Printed {
		at += f.Printer.MinWall.MM() + f.Printer.Fit.MM()
	}
	return at
}

// Guards and caps: sizes of common practice, no source, mm.
const (
	guardSideMost, guardPlateMost = 25.0, 12.0
	capThick, capPast             = 6.0, 12.0
)

// guardPlate is the width of the guards' legs along the plate: as wide as the
// rods and, where they are asked for, the end caps round them leave.
func (a *factory) guardPlate(room float64) float64 {
	f := a.Fixture
	fit := f.Printer.Fit.MM()
	if a.Fixture.Prints.EndCaps {
		room -= 2*f.Printer.MinWall.MM() + fit
	}
	g := printed.GuardSpec{Printer: a.printer(f.Printer.Material), PlateMM: min(guardPlateMost, room-fit)}
	return g.PlateWidth()
}

// placeGuards places a guard on each upright edge at both ends of the row or the
// pair of rows: one leg beside the end cell, one along the plate outward, so
// that none is in the clamped chain.
func placeGuards(a *Assembly) error {
	f, l := a.Fixture, a.Placement
	s := printed.GuardSpec{Label: parts.Label{ID: "corner-guard", Name: "corner guard", Mark: "G1"}, Printer: a.printer(f.Printer.Material),
		HeightMM: (f.Cell.Height - f.Cell.HeightTol).MM()}
	free := f.Pack.CellThickness.MM() - f.Cell.ThicknessTol.MM() - lipMost - 1
	if f.Pack.PerRow == 1 {
		free = free / 2
	}
	s.SideMM = min(guardSideMost, free)
	s.PlateMM = a.guardPlate(a.rodRoom())
	ps, err := a.obtainAll("corner guard", func() ([]*parts.Part, error) { return shaped(a.factory, s, printed.Guard) })
	if err != nil {
		return err
	}
	x0, x1 := l.RowX[0]-a.guardSide(), l.RowX[len(l.RowX)-1]+a.guardSide()
	for _, e := range []End{Front, Back} {
		for side, x := range []float64{x0, x1} {
			z := e.Sign() * (l.Ends[e].Liner.Inner - f.Printer.Fit.MM())
			for k, p := range ps {
				w := bare(id("corner-guard", e.String(), params.ColumnName(side, 2), pieceName(k, len(ps))), RoleGuard, p, guardFrame(e, side, geom.Vec3{X: x, Z: z}, s.HeightMM))
				w.End = e
				a.put(w)
			}
		}
	}
	return nil
}

// rodRoom is the distance from a guard's inner face to the bore of an end cap or
// to the rod or sleeve beside it, at the nearer of the outer columns, mm.
func (a *factory) rodRoom() float64 {
	l := a.Placement
	left := l.RowX[0] - a.guardSide() - l.Columns[0]
	right := l.Columns[len(l.Columns)-1] - l.RowX[len(l.RowX)-1] - a.guardSide()
	room := min(left, right) - a.aroundRod()/2
	if a.Fixture.Prints.EndCaps {
		room -= a.Fixture.Printer.Fit.MM()
	}
	return room
}

// guardFrame turns the guard's x outward from the row and its y inward along the
// stack; where that makes its z point down, it stands on its head.
func guardFrame(e End, side int, at geom.Vec3, height float64) geom.Frame {
	out := geom.Vec3{X: float64(2*side - 1)}
	in := geom.Vec3{Z: -e.Sign()}
	f := geom.Frame{O: at, X: out, Y: in, Z: out.Cross(in)}
	if f.Z.Y < 0 {
		f.O.Y = height
	}
	return f
}

// placeEndCaps places a strip on the inside of each plate beside the row, left
// and right, with the outer rods through it.
func placeEndCaps(a *Assembly) error {
	f, l := a.Fixture, a.Placement
	fit := f.Printer.Fit.MM()
	inner := a.guardSide()
	if f.Prints.CornerGuards {
		inner += a.guardPlate(a.rodRoom()) + fit
	}
	x := []float64{l.RowX[0] - inner, l.RowX[len(l.RowX)-1] + inner}
	column := []int{0, len(l.Columns) - 1}
	for _, e := range []End{Front, Back} {
		for side := range x {
			out := float64(2*side - 1)
			rod := (l.Columns[column[side]] - x[side]) * out
			p, err := a.obtain(fmt.Sprintf("end cap %.6f", rod), func() (*parts.Part, error) { return a.endCap(rod, side) })
			if err != nil {
				return err
			}
			z := e.Sign() * (l.Ends[e].Liner.Inner - fit) // the face towards the plate
			if e.Sign()*out > 0 {
				z -= capThick * out
			}
			frame := geom.Frame{O: geom.Vec3{X: x[side], Z: z}, X: geom.Vec3{X: out}, Y: geom.Vec3{Y: 1}, Z: geom.Vec3{Z: out}}
			w := bare(id("end-cap", e.String(), params.ColumnName(side, 2)), RoleEndCap, p, frame)
			w.End, w.Column = e, column[side]
			a.put(w)
		}
	}
	return nil
}

// endCap makes the strip for rods at a distance from its inner edge. The second
// hand is named only where the columns differ.
func (a *factory) endCap(rod float64, side int) (*parts.Part, error) {
	f, l := a.Fixture, a.Placement
	handed, mark := "", "E1"
	if !a.symmetric() {
		handed, mark = params.ColumnName(side, 2), fmt.Sprintf("E%d", side+1)
	}
	s := printed.EndCapSpec{Label: parts.Label{ID: id("end-cap", handed), Name: "end cap", Mark: mark},
		Printer: a.printer(f.Printer.Material), ThicknessMM: capThick}
	bore := a.aroundRod() + 2*f.Printer.Fit.MM()
	s.WidthMM = rod + bore/2 + 2*f.Printer.MinWall.MM()
	s.BottomMM = max(0, l.Levels[0]-bore/2-capPast)
	s.TopMM = l.Levels[len(l.Levels)-1] + bore/2 + capPast
	for i, y := range l.Levels {
		s.Holes = append(s.Holes, parts.Hole{ID: fmt.Sprintf("H%d", i+1), C: geom.Vec2{X: rod, Y: y}, DiaMM: bore, For: "rod"})
	}
	return shapedOne(a, s, printed.EndCap)
}

// Rod caps: the thread below which a cap reaches over the nut too, the most it
// covers, and what stays free to the nut and at the rod's end, mm.
const (
	rodCapShort, rodCapMost = 8.0, 40.0
	rodCapFree, rodCapEnd   = 0.5, 0.3
)

// placeRodCaps places a cap on every rod end, as deep as the thread that stands
// out with the largest cells. Where that is little the cap has a skirt over the
// nut.
func placeRodCaps(a *Assembly) error {
	wide, err := NewPlacement(a.Fixture, Largest)
	if err != nil {
		return err
	}
	for _, e := range []End{Front, Back} {
		s := a.rodCap(wide, e)
		p, err := a.obtain(fmt.Sprintf("rod cap %.6f %.6f", s.DepthMM, s.SkirtMM), func() (*parts.Part, error) { return shapedOne(a.factory, s, printed.RodCap) })
		if err != nil {
			return err
		}
		err = eachRod(a, func(c, level int, at geom.Vec3, name string) error {
			at.Z = e.Sign() * (a.Placement.Ends[e].RodEnd + rodCapEnd - s.DepthMM - s.SkirtMM)
			w := onRod(id("rod-cap", e.String(), name), RoleRodCap, p, outward(e, at), c, level)
			w.End = e
			a.put(w)
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// rodCap describes the cap of one end, given the layout with the largest cells.
func (a *factory) rodCap(wide *Placement, e End) printed.RodCapSpec {
	f := a.Fixture
	name := "rod-cap"
	if e == Back {
		name = "rod-cap-back"
	}
	s := printed.RodCapSpec{Label: parts.Label{ID: name, Name: "rod cap", Mark: fmt.Sprintf("C%d", int(e)+1)},
		Printer: a.printer(f.Printer.Material), RodMM: f.Rods.Thread.Major.MM()}
	s.DepthMM = min(rodCapMost, wide.Ends[e].Protrusion()-rodCapFree+rodCapEnd)
	if s.DepthMM < rodCapShort {
		nut := f.Nut
		if f.JamNut != nil {
			nut = *f.JamNut
		}
		s.CornersMM, s.SkirtMM = nut.Flats.MM()*2/math.Sqrt(3), nut.Height.MM()
	}
	return s
}

// Feet: base length, widest, and wall above the screw, mm; common practice, no
// source.
const (
	footBase, footWidest, footAbove = 30.0, 30.0, 6.0
)

// placeFeet screws a foot to the outside of each plate at its two mounting
// holes. The feet stand on the floor of the cells, or at the plates' lower edge
// where that is lower.
func placeFeet(a *Assembly) error {
	f := a.Fixture
	floor := footFloor(f)
	x := (f.Plate.Width/2 - f.Plate.Feet.Inset).MM()
	p, err := a.obtain("foot", a.foot)
	if err != nil {
		return err
	}
	for _, e := range []End{Front, Back} {
		for side, at := range []float64{-x, x} {
			w := bare(id("foot", e.String(), params.ColumnName(side, 2)), RoleFoot, p, outward(e, geom.Vec3{X: at, Y: floor, Z: e.Sign() * a.Placement.Ends[e].Plate.Outer}))
			w.End = e
			a.put(w)
		}
	}
	return nil
}

func (a *factory) foot() (*parts.Part, error) {
	f := a.Fixture
	dia := f.Plate.Feet.HoleDia.MM()
	hole, top, _ := footHeights(f)
	return shapedOne(a, printed.FootSpec{Label: parts.Label{ID: "foot", Name: "foot", Mark: "F1"}, Printer: a.printer(f.Printer.Material),
		WidthMM: footWidth(f), HeightMM: top, BaseMM: footBase, PlateHoleMM: dia, PlateHoleY: hole, MountHoleMM: dia}, printed.Foot)
}

// footFloor is what the feet stand on.
func footFloor(f *params.Fixture) float64 { return min(0, f.Plate.Bottom.MM()) }

func footWidth(f *params.Fixture) float64 { return min(footWidest, 2*f.Plate.Feet.Inset.MM()-1) }

// footHeights are the heights over the floor of a foot's screw and of its top,
// below the lowest angle where there is room, and of that angle's lower edge;
// infinite without angles.
func footHeights(f *params.Fixture) (hole, top, angle float64) {
	in, dia, floor := f.Plate.Feet.Inset.MM(), f.Plate.Feet.HoleDia.MM(), footFloor(f)
	hole = f.Plate.Bottom.MM() + in - floor
	top, angle = hole+dia/2+footAbove, math.Inf(1)
	if s := f.Stiffener; s != nil {
		angle = f.Rods.Levels[0].MM() - s.Gauge.MM() - floor
		if s.StandingUp[0] {
			angle = (f.Rods.Levels[0] + s.Gauge - s.DrilledLeg).MM() - floor
		}
		top = min(top, max(angle-0.5, hole+dia/2+max(1.1, f.Printer.MinWall.MM())))
	}
	return hole, top, angle
}

// FootClash is by how much the printed feet reach up into the lowest angle, mm; 0
// when they do not, or there are none.
func FootClash(f *params.Fixture) float64 {
	if !f.Prints.Feet || f.Plate.Feet == nil || f.Stiffener == nil {
		return 0
	}
	if inner := (f.Plate.Width/2 - f.Plate.Feet.Inset).MM() - footWidth(f)/2; inner >= f.Stiffener.Length.MM()/2 {
		return 0 // beside the angle
	}
	_, top, angle := footHeights(f)
	return max(0, top-angle)
}
