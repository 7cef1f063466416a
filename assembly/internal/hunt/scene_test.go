package hunt

import (
	"fmt"
	"math"
	"slices"

	"clampwright/params"
	"clampwright/params/catalog"
)

// body is a solid of the scene, built of plain sizes by an outside library.
type body struct {
	Kind string     `json:"kind"` // box, round, section, mesh
	Lo   [3]float64 `json:"lo"`   // its box, of every kind
	Hi   [3]float64 `json:"hi"`

	At    [3]float64 `json:"at"` // round: where its axis is
	Axis  string     `json:"axis,omitempty"`
	R     float64    `json:"r,omitempty"`
	Bore  float64    `json:"bore,omitempty"`
	Flats float64    `json:"flats,omitempty"`
	Z0    float64    `json:"z0"`
	Z1    float64    `json:"z1"`

	Outline [][2]float64 `json:"outline,omitempty"` // section: y, z, from -Half to Half along x
	Half    float64      `json:"half,omitempty"`
	Holes   [][3]float64 `json:"holes,omitempty"` // x, y, radius, through along z
	Cuts    []cut        `json:"cuts,omitempty"`

	Vertices  []float64 `json:"vertices,omitempty"`
	Triangles []int32   `json:"triangles,omitempty"`

	of           group
	metal        bool
	end          float64 // +1 front, -1 back, 0 neither
	column, rung int     // the rod it sits on, or the angle's level; -1 none
	row, place   int     // the cell it is of
	outer        bool    // of two washers on one end of a rod the one at the nut
	live         int     // the net it is at, from 1; 0 none
}

// cut is a plane: what lies on the side of its normal from offset on is kept.
type cut struct {
	Normal [3]float64 `json:"normal"`
	Offset float64    `json:"offset"`
}

type group string

// The groups, as the program names them in its findings.
const (
	aCell      group = "cell"
	aTerminal  group = "terminal"
	aVent      group = "vent"
	aSeparator group = "separator"
	aLiner     group = "liner"
	aPlate     group = "plate"
	anAngle    group = "stiffener"
	aRod       group = "rod"
	aSleeve    group = "sleeve"
	aWasher    group = "washer"
	aSpring    group = "spring"
	aNut       group = "nut"
	aJamNut    group = "jam-nut"
)

func (b *body) String() string {
	return fmt.Sprintf("%s end %+g rod %d,%d cell %d,%d", b.of, b.end, b.column, b.rung, b.row, b.place)
}

// box is a body from one corner to the other, in whatever order they come.
func box(of group, a, b [3]float64) *body {
	w := &body{Kind: "box", of: of, column: -1, rung: -1, row: -1, place: -1}
	for i := range 3 {
		w.Lo[i], w.Hi[i] = min(a[i], b[i]), max(a[i], b[i])
	}
	return w
}

// round is a body of turning along z, or along y.
func round(of group, axis string, at [3]float64, r, bore, from, to float64) *body {
	w := &body{Kind: "round", of: of, Axis: axis, At: at, R: r, Bore: bore, Z0: min(from, to), Z1: max(from, to), column: -1, rung: -1, row: -1, place: -1}
	k := map[string]int{"z": 2, "y": 1}[axis]
	for i := range 3 {
		w.Lo[i], w.Hi[i] = at[i]-r, at[i]+r
	}
	w.Lo[k], w.Hi[k] = at[k]+w.Z0, at[k]+w.Z1
	return w
}

// scene is a fixture as solids, by this judge's own sums from the settled sizes.
type scene struct {
	f     *params.Fixture
	all   []*body
	wide  bool                  // cells at their largest
	left  func(row, i int) bool // whether a cell's plus stands on the left
	cell  [3]float64
	pitch float64
	stack float64
	ends  map[float64]stations
}

// stations are distances from the middle of the stack, outward: where each layer ends.
type stations struct{ stack, liner, plate, leg, washer, spring, nut, jam float64 }

func newScene(f *params.Fixture, wide bool, left func(row, i int) bool) *scene {
	s := &scene{f: f, wide: wide, left: left, ends: map[float64]stations{}}
	s.cell = [3]float64{f.Cell.Width.MM(), f.Cell.Height.MM(), f.Pack.CellThickness.MM()}
	s.pitch, s.stack = f.Pack.Pitch.MM(), f.Pack.StackLength.MM()
	if in := f.Separator; in != nil {
		s.stack -= float64(f.Pack.PerRow-1) * (in.Thickness.MM() - thick(f, in))
	}
	if wide {
		s.cell[0] += f.Cell.WidthTol.MM()
		s.cell[1] += f.Cell.HeightTol.MM()
		if grown := f.Cell.ThicknessTol.MM(); !f.Pack.Measured {
			s.cell[2] += grown
			s.pitch += grown
			s.stack += grown * float64(f.Pack.PerRow)
		}
	}
	for _, end := range []float64{1, -1} {
		s.ends[end] = s.stations(end)
	}
	s.cells()
	s.sheets()
	s.plates()
	s.rods()
	return s
}

// thick is a sheet in the set clamp: a pad as far pressed as its curve has it, straight
// between the points.
func thick(f *params.Fixture, in *params.Insert) float64 {
	curve := slices.Clone(in.Material.Squeeze)
	if len(in.Curve) > 0 {
		curve = nil
	}
	for _, q := range in.Curve {
		curve = append(curve, catalog.StrainPoint{Strain: q.Squeeze.MM() / in.Thickness.MM(), Pressure: q.Pressure})
	}
	if len(curve) == 0 {
		return in.Thickness.MM()
	}
	mpa := f.Cell.ForceTarget.N() / math.Min(in.Width.MM(), f.Cell.Width.MM()) / math.Min(in.Height.MM(), f.Cell.Height.MM())
	var p, e float64
	for _, q := range curve {
		if mpa <= q.Pressure.MPa() {
			return in.Thickness.MM() * (1 - e - (q.Strain-e)*(mpa-p)/(q.Pressure.MPa()-p))
		}
		p, e = q.Pressure.MPa(), q.Strain
	}
	return 0
}

func (s *scene) stations(end float64) (t stations) {
	f := s.f
	t.stack = s.stack / 2
	t.liner = t.stack
	if f.Liner != nil {
		t.liner += thick(f, f.Liner)
	}
	t.plate = t.liner + f.Plate.Thickness.MM()
	t.leg = t.plate
	if f.Stiffener != nil {
		t.leg += f.Stiffener.Section.Thickness.MM()
	}
	t.washer = t.leg + f.Washer.Thickness.MM()
	t.spring = t.washer
	if s.sprung(end) {
		t.spring += f.Spring.SetHeight.MM() + f.Washer.Thickness.MM()
	}
	t.nut = t.spring + f.Nut.Height.MM()
	t.jam = t.nut
	if f.JamNut != nil {
		t.jam += f.JamNut.Height.MM()
	}
	return t
}

func (s *scene) sprung(end float64) bool {
	return s.f.Spring != nil && (end > 0 || s.f.Spring.BothEnds)
}

func (s *scene) add(w *body) *body {
	s.all = append(s.all, w)
	return w
}

func (s *scene) of(groups ...group) (out []*body) {
	for _, w := range s.all {
		if slices.Contains(groups, w.of) {
			out = append(out, w)
		}
	}
	return out
}

// cells stand on y = 0, terminals and vents on them; the back one is place 0.
func (s *scene) cells() {
	c := &s.f.Cell
	for row, rx := range s.f.Pack.RowX {
		for i := range s.f.Pack.PerRow {
			x, z := rx.MM(), (float64(i)-float64(s.f.Pack.PerRow-1)/2)*s.pitch
			put := func(w *body) *body {
				w.row, w.place = row, i
				return s.add(w)
			}
			put(box(aCell, [3]float64{x - s.cell[0]/2, 0, z - s.cell[2]/2}, [3]float64{x + s.cell[0]/2, s.cell[1], z + s.cell[2]/2}))
			way := 1.0
			if s.left(row, i) {
				way = -1
			}
			for side, t := range []params.Terminal{c.Minus, c.Plus} {
				for k := range c.Screws {
					off := float64(k) - float64(c.Screws-1)/2
					pad := put(round(aTerminal, "y", [3]float64{x + way*t.X.MM() + off*c.StepX.MM(), s.cell[1], z + way*t.Z.MM() + off*c.StepZ.MM()}, t.Dia.MM()/2, 0, 0, max(t.Height.MM(), 0.1)))
					pad.column = side
				}
			}
			if c.VentLength > 0 && c.VentWidth > 0 {
				l, w, vx, vz := c.VentLength.MM()/2, c.VentWidth.MM()/2, x+way*c.VentX.MM(), z+way*c.VentZ.MM()
				put(box(aVent, [3]float64{vx - l, s.cell[1], vz - w}, [3]float64{vx + l, s.cell[1] + 0.2, vz + w}))
			}
		}
	}
}

// sheets are separators and liners; patterns are taken as full.
func (s *scene) sheets() {
	for row, rx := range s.f.Pack.RowX {
		put := func(of group, in *params.Insert, from, to float64) *body {
			x, w := rx.MM(), in.Width.MM()/2
			b := s.add(box(of, [3]float64{x - w, in.Bottom.MM(), from}, [3]float64{x + w, (in.Bottom + in.Height).MM(), to}))
			b.row, b.metal = row, in.Material.Conducts
			return b
		}
		if in := s.f.Separator; in != nil {
			for i := range s.f.Pack.PerRow - 1 {
				z, half := (float64(i)-float64(s.f.Pack.PerRow-2)/2)*s.pitch, thick(s.f, in)/2
				put(aSeparator, in, z-half, z+half).place = i
			}
		}
		if in := s.f.Liner; in != nil {
			for end, t := range s.ends {
				put(aLiner, in, end*t.stack, end*t.liner).end = end
			}
		}
	}
}

// plates carry the angles, one at each level.
func (s *scene) plates() {
	f := s.f
	p := &f.Plate
	for _, end := range []float64{1, -1} {
		t := s.ends[end]
		w := box(aPlate, [3]float64{-p.Width.MM() / 2, p.Bottom.MM(), end * t.liner}, [3]float64{p.Width.MM() / 2, (p.Bottom + p.Height).MM(), end * t.plate})
		w.end, w.metal = end, p.Material.Conducts
		for _, x := range f.Rods.Columns {
			for _, y := range f.Rods.Levels {
				w.Holes = append(w.Holes, [3]float64{x.MM(), y.MM(), f.Rods.Hole.MM() / 2})
			}
		}
		s.add(w)
		if f.Stiffener == nil {
			continue
		}
		for k := range f.Rods.Levels {
			s.add(s.angle(end, k))
		}
	}
}

// angle is the section of one level, its root rounded and its toes too.
func (s *scene) angle(end float64, k int) *body {
	f, a := s.f, s.f.Stiffener
	legA, legB, t, root, toe := a.DrilledLeg.MM(), a.StandingLeg.MM(), a.Section.Thickness.MM(), a.Section.Root.MM(), a.Section.Toe.MM()
	up := -1.0
	if a.StandingUp[k] {
		up = 1
	}
	heel, inner := f.Rods.Levels[k].MM()+up*a.Gauge.MM(), s.ends[end].plate
	w := &body{Kind: "section", of: anAngle, metal: a.Material.Conducts, end: end, column: -1, rung: k, row: -1, place: -1, Half: a.Length.MM() / 2}
	point := func(u, v float64) { w.Outline = append(w.Outline, [2]float64{heel - up*u, end * (inner + v)}) }
	arc := func(u, v, r, from, to float64) {
		for i := range 13 {
			sin, cos := math.Sincos(from + (to-from)*float64(i)/12)
			point(u+r*cos, v+r*sin)
		}
	}
	point(0, 0)
	point(legA, 0)
	arc(legA-toe, t-toe, toe, 0, math.Pi/2)
	arc(t+root, t+root, root, -math.Pi/2, -math.Pi)
	arc(t-toe, legB-toe, toe, 0, math.Pi/2)
	point(0, legB)
	if area(w.Outline) < 0 {
		slices.Reverse(w.Outline)
	}
	w.Lo = [3]float64{-w.Half, min(heel, heel-up*legA), min(end*inner, end*(inner+legB))}
	w.Hi = [3]float64{w.Half, max(heel, heel-up*legA), max(end*inner, end*(inner+legB))}
	for _, x := range f.Rods.Columns {
		w.Holes = append(w.Holes, [3]float64{x.MM(), f.Rods.Levels[k].MM(), f.Rods.Hole.MM() / 2})
	}
	if c := a.Chamfer.MM(); c > 0 {
		for _, side := range []float64{1, -1} {
			reach := w.Half + inner + legB - c // x and z outward together are no more
			w.Cuts = append(w.Cuts, cut{[3]float64{-side / math.Sqrt2, 0, -end / math.Sqrt2}, -reach / math.Sqrt2})
		}
	}
	return w
}

func area(p [][2]float64) (a float64) {
	for i, q := range p {
		r := p[(i+1)%len(p)]
		a += q[0]*r[1] - q[1]*r[0]
	}
	return a / 2
}

// rods with all that sits on them.
func (s *scene) rods() {
	f := s.f
	for c, x := range f.Rods.Columns {
		for l, y := range f.Rods.Levels {
			at := [3]float64{x.MM(), y.MM(), 0}
			put := func(end float64, metal bool, w *body) *body {
				w.column, w.rung, w.end, w.metal = c, l, end, metal
				return s.add(w)
			}
			shift := (f.Rods.EndAllowance - f.Rods.EndAllowanceFar).MM() / 2
			put(0, true, round(aRod, "z", at, f.Rods.Thread.Major.MM()/2, 0, shift-f.Rods.Length.MM()/2, shift+f.Rods.Length.MM()/2))
			if v := f.Sleeve; v != nil {
				nominal := newEnds(f)
				half := nominal.liner - v.EndGap.MM()
				put(0, v.Material.Conducts, round(aSleeve, "z", at, v.Outer.MM()/2, v.Inner.MM()/2, -half, half))
			}
			for _, end := range []float64{1, -1} {
				t := s.ends[end]
				put(end, true, round(aWasher, "z", at, f.Washer.Outer.MM()/2, f.Washer.Inner.MM()/2, end*t.leg, end*t.washer))
				if s.sprung(end) {
					outer, bore := springRadii(f.Spring)
					put(end, true, round(aSpring, "z", at, outer, bore, end*t.washer, end*(t.spring-f.Washer.Thickness.MM())))
					put(end, true, round(aWasher, "z", at, f.Washer.Outer.MM()/2, f.Washer.Inner.MM()/2, end*(t.spring-f.Washer.Thickness.MM()), end*t.spring)).outer = true
				}
				nut := put(end, true, round(aNut, "z", at, f.Nut.Flats.MM()/math.Sqrt(3), 0, end*t.spring, end*t.nut))
				nut.Flats = f.Nut.Flats.MM()
				if f.JamNut != nil {
					jam := put(end, true, round(aJamNut, "z", at, f.JamNut.Flats.MM()/math.Sqrt(3), 0, end*t.nut, end*t.jam))
					jam.Flats = f.JamNut.Flats.MM()
				}
			}
		}
	}
}

// newEnds are the stations of the front at nominal size.
func newEnds(f *params.Fixture) stations {
	return (&scene{f: f, stack: f.Pack.StackLength.MM()}).stations(1)
}

func springRadii(s *params.Spring) (outer, bore float64) {
	if s.Disc != nil {
		return s.Disc.Outer.MM() / 2, s.Disc.Inner.MM() / 2
	}
	return (s.Coil.Mean + s.Coil.Wire).MM() / 2, (s.Coil.Mean - s.Coil.Wire).MM() / 2
}
