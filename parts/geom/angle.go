package geom

import (
	"fmt"
	"math"
)

// Angle describes a length of angle section drilled through one leg. Along x it
// runs from -Length/2 to Length/2. The heel is the x axis: leg A, the drilled
// one, lies on z = 0 and reaches along +y to LegA; leg B stands along +z to
// LegB. Both are T thick. All in mm.
type Angle struct {
	LegA, LegB, T float64
	Root, Toe     float64 // fillet radii, zero for sharp extrusions
	Length        float64
	Holes         []AngleHole
	// ChamferB cuts both ends of leg B at 45° over this length, zero for square
	// ends. It must exceed Toe and leave the root fillet whole.
	ChamferB float64
}

// AngleHole is a round hole through leg A: X along the length from the middle,
// Y from the heel.
type AngleHole struct {
	ID      string
	X, Y, R float64
}

// HoleError is a hole that does not fit where it was put. It is an
// ErrHoleOutside.
type HoleError struct {
	Hole         string  // "H1"
	Where        string  // what it must stay clear of: "root fillet"
	NeedMM       float64 // distance the centre needs, mm
	HaveMM       float64 // distance the centre has, mm
	MeasuredFrom string  // "heel"
}

func (e *HoleError) Error() string {
	return fmt.Sprintf("hole %s does not clear the %s: its centre needs %.4g mm from the %s and has %.4g mm",
		e.Hole, e.Where, e.NeedMM, e.MeasuredFrom, e.HaveMM)
}

// Is makes every HoleError an ErrHoleOutside.
func (e *HoleError) Is(target error) bool { return target == ErrHoleOutside }

// sectionFrame takes the section's x, y to y, z and its extrusion to x.
var sectionFrame = Frame{X: Vec3{Y: 1}, Y: Vec3{Z: 1}, Z: Vec3{X: 1}}

// Section returns the L section, heel at the origin, leg A along +x.
func (a Angle) Section() (Path, error) { return LProfile(a.LegA, a.LegB, a.T, a.Root, a.Toe) }

// Solid builds the angle. Holes must be clear of both fillets (a HoleError says
// by how much not), of the ends and of each other.
func (a Angle) Solid() (Solid, error) {
	sec, err := a.Section()
	if err != nil {
		return Solid{}, err
	}
	if err := a.check(); err != nil {
		return Solid{}, err
	}
	return newSolid(a.faces(sec), a.pieces(sec))
}

func (a Angle) check() error {
	if err := checkSize("length", a.Length, MinSize, MaxSize, ""); err != nil {
		return err
	}
	if a.ChamferB != 0 {
		err := firstError(
			checkSize("end chamfer", a.ChamferB, a.Toe+MinSize, a.LegB-a.T-a.Root-MinSize, "more than the toe radius, and clear of the root fillet"),
			checkSize("end chamfer", a.ChamferB, MinSize, a.Length/2-MinSize, "the two ends must not meet"))
		if err != nil {
			return err
		}
	}
	for i, h := range a.Holes {
		if err := a.checkHole(h); err != nil {
			return err
		}
		for _, g := range a.Holes[:i] {
			if d := math.Hypot(g.X-h.X, g.Y-h.Y); !(d >= g.R+h.R+MinLigament) {
				return &HoleError{h.ID, "hole " + g.ID, g.R + h.R + MinLigament, d, "other centre"}
			}
		}
	}
	return nil
}

func (a Angle) checkHole(h AngleHole) error {
	if err := (Circle{Vec2{h.X, h.Y}, h.R}).Validate(); err != nil {
		return fmt.Errorf("hole %s: %w", h.ID, err)
	}
	need := h.R + MinLigament
	lo, hi, tip := a.T+a.Root, a.LegA-a.Toe, "edge of the leg"
	if a.Toe > 0 {
		tip = "toe fillet"
	}
	switch end := a.Length/2 - math.Abs(h.X); {
	case h.Y < lo+need:
		return &HoleError{h.ID, "root fillet", lo + need, h.Y, "heel"}
	case h.Y > hi-need:
		return &HoleError{h.ID, tip, a.LegA - hi + need, a.LegA - h.Y, "edge of the leg"}
	case end < need:
		return &HoleError{h.ID, "end of the angle", need, end, "end"}
	}
	return nil
}

// seam is the height on leg B where the chamfer begins.
func (a Angle) seam() float64 { return a.LegB - a.ChamferB }

// split cuts the section at the seam into the part below and the tip above.
func (a Angle) split(sec Path) (below, tip Path) {
	left, right := Vertex{P: Vec2{0, a.seam()}}, Vertex{P: Vec2{a.T, a.seam()}}
	tip = Path{left}
	for _, v := range sec {
		if v.P.Y > a.seam() {
			if len(tip) == 1 {
				below, tip = append(below, right, left), append(tip, right)
			}
			tip = append(tip, v)
		} else {
			below = append(below, v)
		}
	}
	return below, tip
}

func (a Angle) faces(sec Path) []Face {
	var fs []Face
	h := a.Length / 2
	if a.ChamferB == 0 {
		fs = prismFaces(Profile{Outer: sec}, -h, h)
	} else {
		below, tip := a.split(sec)
		fs = prismFaces(Profile{Outer: below}, -h, h)
		fs = append(fs[:len(fs)-2], fs[len(fs)-1]) // the seam: the last edge but one of below
		lo, hi := a.mitre()
		top := mitredFaces(Profile{Outer: tip}, lo, hi)
		fs = append(fs, append(top[:2:2], top[3:]...)...) // and the first of the tip
	}
	a.drill(fs)
	for i := range fs {
		fs[i] = fs[i].Placed(sectionFrame)
	}
	for _, g := range a.Holes {
		fs = append(fs, Face{Frame: At(Vec3{g.X, g.Y, 0}), R: g.R, Sweep: 2 * math.Pi, Z1: a.T, Inward: true})
	}
	return fs
}

// mitre returns the planes that cut the tip of leg B, in section coordinates.
func (a Angle) mitre() (lo, hi cut) {
	z := a.Length/2 + a.seam()
	return cut{-z, Vec2{0, 1}}, cut{z, Vec2{0, -1}}
}

// drill puts the holes into the two flat faces of leg A, found by their plane.
func (a Angle) drill(fs []Face) {
	for i := range fs {
		f := &fs[i]
		if !f.Planar() || f.Frame.Z.X != 0 || f.Frame.Z.Z != 0 {
			continue
		}
		if y := f.Frame.O.Y; f.Frame.Z.Y == -1 && y != 0 || f.Frame.Z.Y == 1 && y != a.T {
			continue
		}
		for _, g := range a.Holes {
			q := f.Frame.ToLocal(Vec3{g.Y, f.Frame.O.Y, g.X})
			f.Profile.Circles = append(f.Profile.Circles, Circle{q.XY(), g.R})
		}
	}
}

// pieces splits the angle into the flat of leg A with its holes, and what has a
// constant section along x.
func (a Angle) pieces(sec Path) []piece {
	h := a.Length / 2
	along := func(p Path) piece { return piece{prism: prism{sectionFrame, Profile{Outer: p}, -h, h}} }
	var ps []piece
	if a.ChamferB > 0 {
		below, tip := a.split(sec)
		lo, hi := a.mitre()
		fs := mitredFaces(Profile{Outer: tip}, lo, hi)
		for i := range fs {
			fs[i] = fs[i].Placed(sectionFrame)
		}
		ps, sec = append(ps, piece{faces: fs}), below
	}
	if len(a.Holes) == 0 {
		return append(ps, along(sec))
	}
	flat := Profile{Outer: Rect(Vec2{-h, a.T + a.Root}, Vec2{h, a.LegA - a.Toe})}
	for _, g := range a.Holes {
		flat.Circles = append(flat.Circles, Circle{Vec2{g.X, g.Y}, g.R})
	}
	ps = append(ps, piece{prism: prism{World(), flat, 0, a.T}}, along(a.heelPart(sec)))
	if a.Toe > 0 {
		ps = append(ps, along(a.toePart()))
	}
	return ps
}

// heelPart is the section up to the end of the root fillet.
func (a Angle) heelPart(sec Path) Path {
	p := Path{{P: Vec2{0, 0}}, {P: Vec2{a.T + a.Root, 0}}}
	for _, v := range sec[1:] {
		if v.P.X <= a.T+a.Root {
			p = append(p, v)
		}
	}
	return p.WithoutShort()
}

// toePart is the section of leg A from the start of its toe fillet.
func (a Angle) toePart() Path {
	x := a.LegA - a.Toe
	p := Path{{P: Vec2{x, 0}}, {P: Vec2{a.LegA, 0}}, {Vec2{a.LegA, a.T - a.Toe}, quarter}, {P: Vec2{x, a.T}}}
	return p.WithoutShort()
}
