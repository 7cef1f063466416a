package sheets

import (
	"math"
	"slices"

	"clampwright/parts/geom"
)

// splitAll cuts the edges at every point where two of them meet.
func splitAll(es []geom.Edge) []geom.Edge {
	cuts := make([][]float64, len(es))
	for i := range es {
		for j := i + 1; j < len(es); j++ {
			for _, q := range meetings(es[i], es[j]) {
				cuts[i] = addCut(cuts[i], es[i], q)
				cuts[j] = addCut(cuts[j], es[j], q)
			}
		}
	}
	var out []geom.Edge
	for i, e := range es {
		out = append(out, split(e, cuts[i])...)
	}
	return out
}

// addCut adds the fraction of the way along e at which q lies, if it does.
func addCut(cuts []float64, e geom.Edge, q geom.Vec2) []float64 {
	if q.Dist(e.A) <= joinMM || q.Dist(e.B) <= joinMM {
		return cuts
	}
	t, on := edgeParam(e, q)
	if !on || e.At(t).Dist(q) > joinMM {
		return cuts
	}
	return append(cuts, t)
}

// split cuts an edge at the given fractions.
func split(e geom.Edge, cuts []float64) []geom.Edge {
	slices.Sort(cuts)
	var out []geom.Edge
	from, at := e.A, 0.0
	for _, t := range append(cuts, 1) {
		to := e.At(t)
		if to.Dist(from) <= joinMM && t < 1 {
			continue
		}
		out = append(out, piece(e, from, to, t-at))
		from, at = to, t
	}
	return out
}

// piece is the part of e between two of its points that covers the given
// fraction of it.
func piece(e geom.Edge, a, b geom.Vec2, share float64) geom.Edge {
	return geom.NewEdge(a, b, math.Tan(e.Sweep*share/4))
}

// edgeParam is the fraction of the way along e of a point on its line or circle.
func edgeParam(e geom.Edge, q geom.Vec2) (float64, bool) {
	if e.Arc {
		return arcParam(e, q)
	}
	d := e.B.Sub(e.A)
	t := q.Sub(e.A).Dot(d) / d.Dot(d)
	return t, t >= 0 && t <= 1
}

// arcParam is the fraction along an arc at which the direction of q lies.
func arcParam(e geom.Edge, q geom.Vec2) (float64, bool) {
	turn := q.Sub(e.C).Angle() - e.Start
	if e.Sweep < 0 {
		turn = -turn
	}
	turn = math.Mod(turn, 2*math.Pi)
	if turn < 0 {
		turn += 2 * math.Pi
	}
	t := turn / math.Abs(e.Sweep)
	return t, t <= 1
}

// meetings are the points of the lines or circles of two edges that may lie on
// both, and the ends of each that may lie on the other.
func meetings(a, b geom.Edge) []geom.Vec2 {
	if apart(a, b) {
		return nil
	}
	var qs []geom.Vec2
	switch {
	case !a.Arc && !b.Arc:
		qs = lineLine(a, b)
	case !a.Arc:
		qs = lineCircle(a, b)
	case !b.Arc:
		qs = lineCircle(b, a)
	default:
		qs = circleCircle(a, b)
	}
	var on []geom.Vec2
	for _, q := range qs {
		if touches(a, q) && touches(b, q) {
			on = append(on, q)
		}
	}
	return append(on, a.A, a.B, b.A, b.B)
}

func apart(a, b geom.Edge) bool {
	x, y := a.Bounds(), b.Bounds()
	return x.Min.X > y.Max.X+joinMM || y.Min.X > x.Max.X+joinMM || x.Min.Y > y.Max.Y+joinMM || y.Min.Y > x.Max.Y+joinMM
}

func touches(e geom.Edge, q geom.Vec2) bool { return pointEdge(q, e) <= joinMM }

func lineLine(a, b geom.Edge) []geom.Vec2 {
	u, v := a.B.Sub(a.A), b.B.Sub(b.A)
	den := u.Cross(v)
	if math.Abs(den) <= 1e-12*u.Len()*v.Len() {
		return nil
	}
	return []geom.Vec2{a.A.Add(u.Mul(b.A.Sub(a.A).Cross(v) / den))}
}

func lineCircle(l, c geom.Edge) []geom.Vec2 {
	u := l.B.Sub(l.A).Unit()
	foot := l.A.Add(u.Mul(c.C.Sub(l.A).Dot(u)))
	return aboutFoot(foot, u, c.R, c.C.Dist(foot))
}

func circleCircle(a, b geom.Edge) []geom.Vec2 {
	w := b.C.Sub(a.C)
	d := w.Len()
	if d < joinMM {
		return nil
	}
	x := (d*d + a.R*a.R - b.R*b.R) / (2 * d)
	u := w.Mul(1 / d)
	return aboutFoot(a.C.Add(u.Mul(x)), u.Perp(), a.R, math.Abs(x))
}

// aboutFoot gives the points of a circle of radius r on a line whose foot from
// the centre is at distance h; a line that misses by rounding touches.
func aboutFoot(foot, u geom.Vec2, r, h float64) []geom.Vec2 {
	if h > r+joinMM/10 {
		return nil
	}
	s := math.Sqrt(max(0, (r-h)*(r+h)))
	return []geom.Vec2{foot.Add(u.Mul(s)), foot.Sub(u.Mul(s))}
}
