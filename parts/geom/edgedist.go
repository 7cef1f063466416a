package geom

import "math"

// near2 is a pair of closest points in a plane; inside says that one region
// holds the other with their boundaries clear of each other.
type near2 struct {
	d      float64
	p, q   Vec2
	inside bool
}

func (n *near2) try(p, q Vec2) {
	if d := p.Dist(q); d < n.d {
		*n = near2{d: d, p: p, q: q}
	}
}

func far2() near2 { return near2{d: math.Inf(1)} }

// edgeDist returns the closest points of two edges in closed form: where they
// cross; else from an end of one to the other; else on a common normal, which
// passes through the centre of every arc.
func edgeDist(a, b Edge) near2 {
	if x := crossings(a, b); len(x) > 0 {
		return near2{p: x[0], q: x[0]}
	}
	n := far2()
	for _, p := range []Vec2{a.A, a.B} {
		n.try(p, b.Nearest(p))
	}
	for _, q := range []Vec2{b.A, b.B} {
		n.try(a.Nearest(q), q)
	}
	switch {
	case a.Arc && b.Arc:
		arcArcNormal(&n, a, b)
	case a.Arc:
		n.try(lineArcNormal(b, a))
	case b.Arc:
		q, p := lineArcNormal(a, b)
		n.try(p, q)
	}
	return n
}

// Nearest returns the point of the edge closest to p.
func (e Edge) Nearest(p Vec2) Vec2 {
	if !e.Arc {
		t, _ := e.Param(p)
		return e.At(t)
	}
	v := p.Sub(e.C)
	if v == (Vec2{}) || !e.holds(v.Angle()) {
		if p.Dist(e.A) <= p.Dist(e.B) {
			return e.A
		}
		return e.B
	}
	return e.C.Add(v.Unit().Mul(e.R))
}

// Dist returns the distance of p from the edge, mm.
func (e Edge) Dist(p Vec2) float64 { return e.Nearest(p).Dist(p) }

// lineArcNormal returns the points on the arc and the line nearest to the foot
// of the arc's centre on the line.
func lineArcNormal(l, arc Edge) (onArc, onLine Vec2) {
	q := l.Nearest(arc.C)
	return arc.Nearest(q), q
}

// arcArcNormal tries the four pairs of points on the line through both centres,
// and for arcs about one centre a direction they share.
func arcArcNormal(n *near2, a, b Edge) {
	u := b.C.Sub(a.C)
	if u.Len() < crossing {
		for _, t := range []float64{a.Start, a.Start + a.Sweep, b.Start, b.Start + b.Sweep} {
			if a.holds(t) && b.holds(t) {
				n.try(a.C.Add(Polar(a.R, t)), b.C.Add(Polar(b.R, t)))
			}
		}
		return
	}
	t := u.Angle()
	for _, s := range []float64{t, t + math.Pi} {
		for _, r := range []float64{t, t + math.Pi} {
			if a.holds(s) && b.holds(r) {
				n.try(a.C.Add(Polar(a.R, s)), b.C.Add(Polar(b.R, r)))
			}
		}
	}
}

// crossings returns the points two edges have in common; edges lying on one
// line or circle give at most their ends.
func crossings(a, b Edge) []Vec2 {
	var on []Vec2
	for _, p := range Meetings(a, b) {
		_, onA := a.Param(p)
		if _, onB := b.Param(p); onA && onB {
			on = append(on, p)
		}
	}
	return on
}

// Meetings returns the points in which the whole lines or circles of two edges
// meet: none for parallel lines and circles about one centre.
func Meetings(a, b Edge) []Vec2 {
	switch {
	case a.Arc && b.Arc: // the radical line: at x = (d² + ra² - rb²)/2d from a's centre
		w := b.C.Sub(a.C)
		d := w.Len()
		if d < crossing {
			return nil
		}
		u := w.Mul(1 / d)
		return aboutFoot(a, a.C.Add(u.Mul((d*d+a.R*a.R-b.R*b.R)/(2*d))), u.Perp())
	case a.Arc:
		return Meetings(b, a)
	case b.Arc:
		u := a.A.Sub(a.B).Unit()
		return aboutFoot(b, a.A.Add(u.Mul(b.C.Sub(a.A).Dot(u))), u)
	}
	u, v := a.B.Sub(a.A), b.B.Sub(b.A)
	d := u.Cross(v)
	if math.Abs(d) <= 1e-14*u.Len()*v.Len() {
		return nil
	}
	return []Vec2{a.A.Add(u.Mul(b.A.Sub(a.A).Cross(v) / d))}
}

// aboutFoot returns the points of the arc's circle on the line along u whose
// nearest point to the centre is foot; a line that misses by rounding touches.
func aboutFoot(arc Edge, foot, u Vec2) []Vec2 {
	h := arc.C.Dist(foot)
	if h > arc.R+crossing {
		return nil
	}
	s := math.Sqrt(max(0, (arc.R-h)*(arc.R+h)))
	return []Vec2{foot.Add(u.Mul(s)), foot.Sub(u.Mul(s))}
}

// loopDist returns the least distance between two boundaries.
func loopDist(a, b []Edge) float64 { return loopNear(a, b).d }

func loopNear(a, b []Edge) near2 {
	n := far2()
	for _, e := range a {
		eb := e.Bounds()
		for _, f := range b {
			if eb.Dist(f.Bounds()) < n.d {
				if m := edgeDist(e, f); m.d < n.d {
					n = m
				}
			}
		}
	}
	return n
}
