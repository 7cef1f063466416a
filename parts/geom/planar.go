package geom

import "math"

// region is a planar profile as loops of edges with their boxes.
type region struct {
	loops  [][]Edge
	boxes  []Box2
	bounds Box2
}

func newRegion(loops [][]Edge) region {
	r := region{loops: loops, bounds: EmptyBox2()}
	for _, l := range loops {
		b := loopBounds(l)
		r.boxes = append(r.boxes, b)
		r.bounds = r.bounds.Union(b)
	}
	return r
}

// frame2 is a placement in a plane, possibly mirrored: x·X + y·Y + O.
type frame2 struct{ O, X, Y Vec2 }

func (f frame2) point(p Vec2) Vec2 { return f.O.Add(f.X.Mul(p.X)).Add(f.Y.Mul(p.Y)) }

// mapped returns the region seen through f.
func (r region) mapped(f frame2) region {
	flip := 1.0
	if f.X.Cross(f.Y) < 0 {
		flip = -1
	}
	loops := make([][]Edge, len(r.loops))
	for i, l := range r.loops {
		loops[i] = make([]Edge, len(l))
		for j, e := range l {
			m := Edge{A: f.point(e.A), B: f.point(e.B)}
			if e.Arc {
				m.Arc, m.C, m.R, m.Sweep = true, f.point(e.C), e.R, flip*e.Sweep
				m.Start = m.A.Sub(m.C).Angle()
			}
			loops[i][j] = m
		}
	}
	return newRegion(loops)
}

// contains reports whether q lies in the region.
func (r region) contains(q Vec2) bool {
	in := false
	for i, l := range r.loops {
		if r.boxes[i].Contains(q) && loopHolds(l, q) {
			in = !in
		}
	}
	return in
}

// near returns the closest points of two regions; d is zero, at a point of
// both, when they overlap.
func (r region) near(s region) near2 {
	n := far2()
	for i, a := range r.loops {
		for j, b := range s.loops {
			if r.boxes[i].Dist(s.boxes[j]) < n.d {
				if m := loopNear(a, b); m.d < n.d {
					n = m
				}
			}
		}
	}
	if n.d <= crossing {
		return n
	}
	if p := r.loops[0][0].A; s.contains(p) {
		return near2{p: p, q: p, inside: true}
	}
	if p := s.loops[0][0].A; r.contains(p) {
		return near2{p: p, q: p, inside: true}
	}
	return n
}

// crosses reports whether boundaries of the two cross at an angle, inside both
// edges: then one of the four sectors there belongs to both regions.
func (r region) crosses(s region) bool {
	for i, a := range r.loops {
		for j, b := range s.loops {
			if r.boxes[i].Dist(s.boxes[j]) == 0 && loopsCross(a, b) {
				return true
			}
		}
	}
	return false
}

func loopsCross(a, b []Edge) bool {
	const angle = 1e-3 // sine under which a crossing is left to the sweep
	for _, e := range a {
		eb := e.Bounds()
		for _, f := range b {
			if eb.Dist(f.Bounds()) > 0 {
				continue
			}
			for _, p := range crossings(e, f) {
				t, _ := e.Param(p)
				s, _ := f.Param(p)
				inner := t > angle && t < 1-angle && s > angle && s < 1-angle
				if inner && math.Abs(e.Tangent(t).Cross(f.Tangent(s))) > angle {
					return true
				}
			}
		}
	}
	return false
}

// flat returns the region's boundaries as segments within chordErr.
func (r region) flat(chordErr float64) [][2]Vec2 {
	n, most := 0, 0
	for _, l := range r.loops {
		k := 0
		for _, e := range l {
			k += e.chords(chordErr)
		}
		n, most = n+k, max(most, k)
	}
	segs, pts := make([][2]Vec2, 0, n), make([]Vec2, 0, most)
	for _, l := range r.loops {
		pts = pts[:0]
		for _, e := range l {
			pts = e.appendChords(pts, chordErr)
		}
		for i, p := range pts {
			segs = append(segs, [2]Vec2{p, pts[(i+1)%len(pts)]})
		}
	}
	return segs
}

// parallel is two prisms along one axis, B's region and heights in A's frame.
type parallel struct {
	frame          Frame // A's
	a, b           region
	a0, a1, b0, b1 float64
	moves          [2][]interval // along x and y of the plane, once swept
	swept          [2]bool
	closest        *near2
}

// asParallel finds forms of the two pieces with parallel axes; f takes b's
// coordinates to a's.
func asParallel(a, b *finePiece, f Frame) (*parallel, bool) {
	for i := range a.forms {
		for j := range b.forms {
			x, y := &a.forms[i], &b.forms[j]
			g := x.frame.Inverse().Mul(f.Mul(y.frame))
			if math.Hypot(g.Z.X, g.Z.Y) > parallelErr {
				continue
			}
			p := &parallel{frame: x.frame, a: x.reg, a0: x.z0, a1: x.z1}
			p.b = y.reg.mapped(frame2{g.O.XY(), g.X.XY(), g.Y.XY()})
			s := math.Copysign(1, g.Z.Z)
			p.b0, p.b1 = g.O.Z+s*y.z0, g.O.Z+s*y.z1
			if s < 0 {
				p.b0, p.b1 = p.b1, p.b0
			}
			return p, true
		}
	}
	return nil, false
}

// near returns the closest points of the prisms in a's coordinates: the planar
// distance and the gap along the axis are the legs of a right triangle.
func (p *parallel) near() near3 {
	m := p.planarNear()
	lo, hi := max(p.a0, p.b0), min(p.a1, p.b1)
	za, zb := (lo+hi)/2, (lo+hi)/2
	gap := lo - hi
	switch {
	case gap <= 0:
		gap = 0
	case p.a1 < p.b0:
		za, zb = p.a1, p.b0
	default:
		za, zb = p.a0, p.b1
	}
	return near3{math.Hypot(m.d, gap), p.frame.Point(m.p.V3(za)), p.frame.Point(m.q.V3(zb))}
}

// overlaps returns the moves t of b along dir, in a's coordinates, at which the
// interiors overlap, as intervals in ascending order.
func (p *parallel) overlaps(dir Vec3) []interval {
	d := p.frame.DirToLocal(dir)
	axial, ok := movesOverlap(p.a0, p.a1, p.b0, p.b1, d.Z)
	if !ok {
		return nil
	}
	l := d.XY().Len()
	if l <= parallelErr {
		if !p.planarOverlap() {
			return nil
		}
		return []interval{axial}
	}
	var is []interval
	for _, i := range p.planarMoves(d.XY().Mul(1 / l)) {
		i = interval{max(i.lo/l, axial.lo), min(i.hi/l, axial.hi)}
		if i.lo < i.hi {
			is = append(is, i)
		}
	}
	return is
}

// planarOverlap reports whether the regions share an inner part. Only when they
// merely seem to touch do they have to be swept.
func (p *parallel) planarOverlap() bool {
	m := p.planarNear()
	return m.inside || m.d <= crossing && (p.a.crosses(p.b) || p.planarDepth() > crossing)
}

// planarNear is the closest points of the regions, kept from earlier calls.
func (p *parallel) planarNear() near2 {
	if p.closest == nil {
		m := p.a.near(p.b)
		p.closest = &m
	}
	return *p.closest
}

// planarDepth returns how far b must move along x or y of the plane to clear a:
// zero when they only touch.
func (p *parallel) planarDepth() float64 {
	depth := math.Inf(1)
	for _, d := range []Vec2{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
		depth = min(depth, exitAt(p.planarMoves(d), 0))
	}
	return depth
}

// planarMoves is sweep with the two axes of the plane, each either way, kept
// from earlier calls.
func (p *parallel) planarMoves(d Vec2) []interval {
	for k, axis := range []Vec2{{X: 1}, {Y: 1}} {
		s := axis.Dot(d)
		if math.Abs(s) != 1 {
			continue
		}
		if !p.swept[k] {
			p.swept[k], p.moves[k] = true, sweep(p.a, p.b, axis)
		}
		return scaled(p.moves[k], s)
	}
	return sweep(p.a, p.b, d)
}

// movesOverlap returns the moves of b's extent along the axis, s per unit of
// move, at which it overlaps a's.
func movesOverlap(a0, a1, b0, b1, s float64) (interval, bool) {
	if math.Abs(s) <= parallelErr {
		i := math.Inf(1)
		return interval{-i, i}, min(a1, b1)-max(a0, b0) > crossing
	}
	lo, hi := (a0-b1)/s, (a1-b0)/s
	return interval{min(lo, hi), max(lo, hi)}, true
}
