package drawing

import (
	"math"

	"clampwright/parts/geom"
)

const touchMM = 0.25 // ink closer than this counts as touching

type placedText struct {
	t     Text
	order int
	c     [4]geom.Vec2 // corners of the ink
}

type stroke struct {
	a, b  geom.Vec2
	pen   Pen
	order int
}

// collect lists the texts with ink and the drawn segments, in drawing order.
func collect(items []Item, order int, texts []placedText, strokes []stroke) ([]placedText, []stroke) {
	for i, it := range items {
		n := order + i
		switch it := it.(type) {
		case Text:
			if c := it.Corners(); c[0] != c[2] {
				texts = append(texts, placedText{it, n, c})
			}
		case Clip:
			var inner []stroke
			texts, inner = collect(it.Items, n, texts, nil)
			for _, k := range inner {
				if a, b, ok := clipSegment(k.a, k.b, it.Box); ok {
					strokes = append(strokes, stroke{a, b, k.pen, k.order})
				}
			}
		default:
			strokes = append(strokes, segments(it, n)...)
		}
	}
	return texts, strokes
}

// segments are the drawn lines of an item, arcs as chords.
func segments(it Item, order int) []stroke {
	const tol = 0.05
	var out []stroke
	run := func(p []geom.Vec2, closed bool, pen Pen) {
		for i := 0; i+1 < len(p); i++ {
			out = append(out, stroke{p[i], p[i+1], pen, order})
		}
		if closed && len(p) > 2 {
			out = append(out, stroke{p[len(p)-1], p[0], pen, order})
		}
	}
	switch it := it.(type) {
	case Line:
		run([]geom.Vec2{it.A, it.B}, false, it.Pen)
	case Arc:
		run(append(arcPoints(it, tol), polar(it.C, it.R, it.Start+it.Sweep)), false, it.Pen)
	case Circle:
		run(arcPoints(Arc{C: it.C, R: it.R, Sweep: 2 * math.Pi}, tol), true, it.Pen)
	case Chain:
		if it.Bare && it.Fill != Black {
			return nil
		}
		for _, e := range it.Edges() {
			out = append(out, segments(e, order)...)
		}
	}
	return out
}

// boxesMeet says whether two (turned) rectangles come closer than touchMM, by
// separating axes.
func boxesMeet(a, b [4]geom.Vec2) bool {
	return !separated(a, b) && !separated(b, a)
}

func separated(a, b [4]geom.Vec2) bool {
	for i := 0; i < 2; i++ {
		e := a[i+1].Sub(a[i])
		l := math.Hypot(e.X, e.Y)
		if l == 0 {
			continue
		}
		n := e.Mul(1 / l)
		aLo, aHi := project(a[:], n)
		bLo, bHi := project(b[:], n)
		if aHi+touchMM <= bLo || bHi+touchMM <= aLo {
			return true
		}
	}
	return false
}

func project(p []geom.Vec2, n geom.Vec2) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, q := range p {
		d := q.X*n.X + q.Y*n.Y
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	return lo, hi
}

// segmentMeets says whether a segment comes within touchMM of a rectangle.
func segmentMeets(a, b geom.Vec2, r [4]geom.Vec2) bool {
	u, v := r[1].Sub(r[0]), r[3].Sub(r[0])
	lu, lv := math.Hypot(u.X, u.Y), math.Hypot(v.X, v.Y)
	if lu == 0 || lv == 0 {
		return false
	}
	local := func(p geom.Vec2) geom.Vec2 {
		d := p.Sub(r[0])
		return pt((d.X*u.X+d.Y*u.Y)/lu, (d.X*v.X+d.Y*v.Y)/lv)
	}
	_, _, ok := clipSegment(local(a), local(b), geom.Box2{Max: pt(lu, lv)}.Grown(touchMM))
	return ok
}

// clipSegment cuts a segment to a box; ok is false when nothing is left.
func clipSegment(a, b geom.Vec2, box geom.Box2) (geom.Vec2, geom.Vec2, bool) {
	t0, t1 := 0.0, 1.0
	d := b.Sub(a)
	for _, k := range [4][2]float64{{-d.X, a.X - box.Min.X}, {d.X, box.Max.X - a.X}, {-d.Y, a.Y - box.Min.Y}, {d.Y, box.Max.Y - a.Y}} {
		switch {
		case k[0] == 0 && k[1] < 0:
			return a, b, false
		case k[0] < 0:
			t0 = math.Max(t0, k[1]/k[0])
		case k[0] > 0:
			t1 = math.Min(t1, k[1]/k[0])
		}
	}
	if t0 > t1 {
		return a, b, false
	}
	return a.Add(d.Mul(t0)), a.Add(d.Mul(t1)), true
}
