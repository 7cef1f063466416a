package geom

import "math"

// Bracket describes a foot: an upright on z = 0 and a base on y = 0, both T thick and
// Width wide about x = 0, with a fillet and, on either side, a gusset between them. All
// in mm.
type Bracket struct {
	Width, Height, Depth, T float64 // across, up, and out
	Root                    float64 // radius of the fillet
	Gusset, Leg             float64 // the gussets' thickness, and how far they reach along upright and base
	Screw                   Circle  // hole of the upright, in x and y
	Mount                   Path    // opening of the base, in x and z
}

// baseFrame takes the base's x and z to its x and y; the base lies below its z = 0.
var baseFrame = Frame{X: Vec3{X: 1}, Y: Vec3{Z: 1}, Z: Vec3{Y: -1}}

// Solid builds the bracket. Holes lie between the gussets and clear of the fillet; the
// gussets end short of the edges.
func (b Bracket) Solid() (Solid, error) {
	upright, base := b.leg(b.Height), b.leg(b.Depth)
	upright.Circles, base.Slots = []Circle{b.Screw}, []Path{b.Mount.Oriented(false)}
	err := firstError(
		checkSize("thickness", b.T, MinSize, MaxSize, ""), checkSize("gusset", b.Gusset, MinSize, b.Width/2-MinSize, ""),
		checkSize("fillet", b.Root, MinSize, b.Leg-MinSize, "shorter than the gussets"),
		checkSize("gussets' legs", b.Leg, MinSize, min(b.Height, b.Depth)-b.T-MinSize, "short of the edges"),
		upright.Validate(), base.Validate())
	if err != nil {
		return Solid{}, err
	}
	return newSolid(b.faces(upright, base))
}

// leg is the inner face of upright or base up to the edge: between the gussets from the
// fillet on, beyond them all over.
func (b Bracket) leg(edge float64) Profile {
	x, in, low, mid := b.Width/2, b.Width/2-b.Gusset, b.T+b.Root, b.T+b.Leg
	return Profile{Outer: polyline(-in, low, in, low, in, mid, x, mid, x, edge, -x, edge, -x, mid, -in, mid)}
}

func polyline(xy ...float64) (p Path) {
	for i := 0; i < len(xy); i += 2 {
		p = append(p, Vertex{P: Vec2{xy[i], xy[i+1]}})
	}
	return p
}

func (b Bracket) faces(upright, base Profile) ([]Face, []piece) {
	x, in, t, mid, low := b.Width/2, b.Width/2-b.Gusset, b.T, b.T+b.Leg, b.T+b.Root
	back := Profile{Outer: Rect(Vec2{-x, 0}, Vec2{x, b.Height}), Circles: upright.Circles}
	sole := Profile{Outer: Rect(Vec2{-x, 0}, Vec2{x, b.Depth}), Slots: base.Slots}
	side := Profile{Outer: polyline(0, 0, b.Height, 0, b.Height, t, mid, t, t, mid, t, b.Depth, 0, b.Depth)}
	web := Profile{Outer: polyline(low, t, mid, t, t, mid, t, low)}
	web.Outer[3].Bulge = quarter
	fillet := Path{{P: Vec2{t, t}}, {Vec2{low, t}, -quarter}, {P: Vec2{t, low}}}
	strip := func(from, to Vec2, bulge, x0, x1 float64) Face {
		return mitredSide(NewEdge(from, to, bulge), cut{z: x0}, cut{z: x1})
	}
	fs := []Face{mitredEnd(back, cut{}, false), mitredEnd(upright, cut{z: t}, true),
		{Frame: At(b.Screw.C.V3(0)), R: b.Screw.R, Sweep: 2 * math.Pi, Z1: t, Inward: true}}
	level := []Face{mitredEnd(sole, cut{}, true), mitredEnd(base, cut{z: -t}, false)}
	for _, e := range base.Slots[0].Edges() {
		level = append(level, mitredSide(e, cut{z: -t}, cut{}))
	}
	across := []Face{mitredEnd(side, cut{z: -x}, false), mitredEnd(side, cut{z: x}, true), mitredEnd(web, cut{z: -in}, true), mitredEnd(web, cut{z: in}, false),
		strip(Vec2{b.Height, 0}, Vec2{b.Height, t}, 0, -x, x), strip(Vec2{t, b.Depth}, Vec2{0, b.Depth}, 0, -x, x),
		strip(Vec2{mid, t}, Vec2{t, mid}, 0, -x, -in), strip(Vec2{mid, t}, Vec2{t, mid}, 0, in, x), strip(Vec2{low, t}, Vec2{t, low}, -quarter, -in, in)}
	for _, f := range level {
		fs = append(fs, f.Placed(baseFrame))
	}
	for _, f := range across {
		fs = append(fs, f.Placed(sectionFrame))
	}
	gusset := Profile{Outer: polyline(t, t, mid, t, t, mid)}
	return fs, []piece{{prism: prism{World(), back, 0, t}}, {prism: prism{baseFrame, sole, -t, 0}}, {prism: prism{sectionFrame, gusset, -x, -in}},
		{prism: prism{sectionFrame, gusset, in, x}}, {prism: prism{sectionFrame, Profile{Outer: fillet}, -in, in}}}
}
