package geom

import (
	"math"
	"sync"
)

// crossed is two prisms with their axes at right angles, in coordinates u along
// the common normal of the axes, v along b's axis, w along a's. At one u, prism
// a is a set of v times its whole extent in w, and b a set of w times its whole
// extent in v: whether they overlap is a question of u alone.
type crossed struct {
	n, zb Vec3        // u and v as directions in a's coordinates, w being a's axis
	za    Vec3        // w
	a     [2]segments // a's region with v up, and with u up
	b     [2]segments // b's region with w up, and with u up
	ia    interval    // a's extent in w
	ib    interval    // b's extent in v
}

type segments [][2]Vec2

// asCrossed finds forms of the two pieces with axes at right angles. What it
// returns builds their comparison, which only bodies that meet need.
func asCrossed(a, b *finePiece, f Frame) (func() *crossed, bool) {
	for i := range a.forms {
		for j := range b.forms {
			x, y := &a.forms[i], &b.forms[j]
			g := x.frame.Inverse().Mul(f.Mul(y.frame))
			if math.Abs(g.Z.Z) > parallelErr {
				continue
			}
			return sync.OnceValue(func() *crossed { return newCrossed(x, y, g) }), true
		}
	}
	return nil, false
}

func newCrossed(x, y *form, g Frame) *crossed {
	z := Vec3{Z: 1}
	n := z.Cross(g.Z)
	ra := x.reg.mapped(frame2{X: Vec2{n.X, g.Z.X}, Y: Vec2{n.Y, g.Z.Y}})
	uw := func(p Vec3) Vec2 { return Vec2{p.Dot(n), p.Z} }
	rb := y.reg.mapped(frame2{uw(g.O), uw(g.X), uw(g.Y)})
	off := g.O.Dot(g.Z)
	return &crossed{
		n: x.frame.Dir(n), zb: x.frame.Dir(g.Z), za: x.frame.Z,
		a:  [2]segments{turnedSegs(ra, Vec2{X: 1}), turnedSegs(ra, Vec2{Y: 1})},
		b:  [2]segments{turnedSegs(rb, Vec2{X: 1}), turnedSegs(rb, Vec2{Y: 1})},
		ia: interval{x.z0, x.z1}, ib: interval{y.z0 + off, y.z1 + off},
	}
}

// shadowA is where in u prism a reaches b's extent in v; shadowB likewise.
func (c *crossed) shadowA() []interval { return project(c.a[0], c.ib.lo, c.ib.hi) }
func (c *crossed) shadowB() []interval { return project(c.b[0], c.ia.lo, c.ia.hi) }

// overlaps returns the moves t of b along dir, in a's coordinates, at which the
// interiors overlap; only for a dir along u, v or w.
func (c *crossed) overlaps(dir Vec3) ([]interval, bool) {
	du, dv, dw := dir.Dot(c.n), dir.Dot(c.zb), dir.Dot(c.za)
	along := func(d float64) bool { return 1-math.Abs(d) < parallelErr }
	switch {
	case along(du):
		return scaled(movesOnto(c.shadowA(), c.shadowB()), du), true
	case along(dv):
		return scaled(movesOnto(within(c.a[1], c.shadowB()), []interval{c.ib}), dv), true
	case along(dw):
		return scaled(movesOnto([]interval{c.ia}, within(c.b[1], c.shadowA())), dw), true
	}
	return nil, false
}

// within returns the extents of a region, given with u up, over the given
// ranges of u. Turned by Vec2{Y: 1} the segments have x along the second
// coordinate and y along minus u.
func within(segs segments, us []interval) []interval {
	var is []interval
	for _, u := range us {
		is = append(is, project(segs, -u.hi, -u.lo)...)
	}
	return merge(is)
}
