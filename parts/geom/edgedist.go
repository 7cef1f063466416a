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
		n.try(p, b.nearest(p))
	}
	for _, q := range []Vec2{b.A, b.B} {
		n.try(a.nearest(q), q)
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

// nearest returns the point of the edge closest to p.
func (e Edge) nearest(p Vec2) Vec2 {
	if !e.Arc {
		d := e.B.Sub(e.A)
		t := p.Sub(e.A).Dot(d) / d.Dot(d)
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

// lineArcNormal returns the points on the arc and the line nearest to the foot
// of the arc's centre on the line.
func lineArcNormal(l, arc Edge) (onArc, onLine Vec2) {
	q := l.nearest(arc.C)
	return arc.nearest(q), q
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
	switch {
	case a.Arc && b.Arc:
		return arcArcCross(a, b)
	case a.Arc:
		return lineArcCross(b, a)
	case b.Arc:
		return lineArcCross(a, b)
	}
	return lineLineCross(a, b)
}

func lineLineCross(a, b Edge) []Vec2 {
	u, v, w := a.B.Sub(a.A), b.B.Sub(b.A), b.A.Sub(a.A)
	d := u.Cross(v)
	if math.Abs(d) <= 1e-14*u.Len()*v.Len() {
		return nil
	}
	t, s := w.Cross(v)/d, w.Cross(u)/d
	if t < 0 || t > 1 || s < 0 || s > 1 {
		return nil
	}
	return []Vec2{a.At(t)}
}

func lineArcCross(l, arc Edge) []Vec2 {
	d := l.B.Sub(l.A)
	length := d.Len()
	u := d.Mul(1 / length)
	foot := arc.C.Sub(l.A).Dot(u)
	h := u.Cross(arc.C.Sub(l.A))
	k := arc.R*arc.R - h*h
	if k < 0 {
		return nil
	}
	var ps []Vec2
	for _, s := range []float64{foot - math.Sqrt(k), foot + math.Sqrt(k)} {
		p := l.A.Add(u.Mul(s))
		if s >= 0 && s <= length && arc.holds(p.Sub(arc.C).Angle()) {
			ps = append(ps, p)
		}
	}
	return ps
}

// arcArcCross uses the radical line: at x = (d² + ra² - rb²)/2d from a's centre.
func arcArcCross(a, b Edge) []Vec2 {
	w := b.C.Sub(a.C)
	d := w.Len()
	if d < crossing {
		return nil
	}
	x := (d*d + a.R*a.R - b.R*b.R) / (2 * d)
	k := a.R*a.R - x*x
	if k < 0 {
		return nil
	}
	u := w.Mul(1 / d)
	var ps []Vec2
	for _, y := range []float64{math.Sqrt(k), -math.Sqrt(k)} {
		p := a.C.Add(u.Mul(x)).Add(u.Perp().Mul(y))
		if a.holds(p.Sub(a.C).Angle()) && b.holds(p.Sub(b.C).Angle()) {
			ps = append(ps, p)
		}
	}
	return ps
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
