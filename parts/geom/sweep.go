package geom

import (
	"cmp"
	"slices"
)

// sweep returns the moves of region b along the unit direction d at which it
// overlaps region a. Between the lines along d through every vertex, both are
// stacks of trapezoids; a pair of those overlaps for one interval of moves,
// whose ends are taken at the sides of the slab. Arcs are cut to distanceChord.
func sweep(a, b region, d Vec2) []interval {
	sa, sb := turnedSegs(a, d), turnedSegs(b, d)
	ys := levels(sa, sb)
	ca, cb := scan{segs: sa}, scan{segs: sb}
	var is []interval
	for i := 1; i < len(ys); i++ {
		if ys[i]-ys[i-1] <= crossing {
			continue
		}
		for _, p := range ca.slab(ys[i-1], ys[i]) {
			for _, q := range cb.slab(ys[i-1], ys[i]) {
				is = append(is, p.overlaps(q))
			}
		}
	}
	return merge(is)
}

// project returns the x extents of the part of a region between the levels lo
// and hi of y.
func project(segs [][2]Vec2, lo, hi float64) []interval {
	ys := levels(segs, [][2]Vec2{{{0, lo}, {0, hi}}})
	c := scan{segs: segs}
	var is []interval
	for i := 1; i < len(ys); i++ {
		if ys[i]-ys[i-1] <= crossing || ys[i-1] < lo || ys[i] > hi {
			continue
		}
		for _, p := range c.slab(ys[i-1], ys[i]) {
			is = append(is, interval{min(p.l0, p.l1), max(p.r0, p.r1)})
		}
	}
	return merge(is)
}

// turnedSegs returns the region's boundary as segments in axes whose x is d,
// each pointing up, in the order of their lower ends; level ones are left out.
func turnedSegs(r region, d Vec2) [][2]Vec2 {
	segs := r.flat(distanceChord)
	out := segs[:0]
	for _, s := range segs {
		p, q := Vec2{d.Dot(s[0]), d.Cross(s[0])}, Vec2{d.Dot(s[1]), d.Cross(s[1])}
		switch {
		case p.Y < q.Y:
			out = append(out, [2]Vec2{p, q})
		case q.Y < p.Y:
			out = append(out, [2]Vec2{q, p})
		}
	}
	slices.SortFunc(out, func(s, t [2]Vec2) int {
		return cmp.Or(cmp.Compare(s[0].Y, t[0].Y), cmp.Compare(s[0].X, t[0].X), cmp.Compare(s[1].X, t[1].X))
	})
	return out
}

// levels returns the y of all ends, ascending, each once.
func levels(a, b [][2]Vec2) []float64 {
	ys := make([]float64, 0, 2*(len(a)+len(b)))
	for _, segs := range [2][][2]Vec2{a, b} {
		for _, s := range segs {
			ys = append(ys, s[0].Y, s[1].Y)
		}
	}
	slices.Sort(ys)
	return slices.Compact(ys)
}

// scan walks the slabs of a region upward, holding the segments it is among.
type scan struct {
	segs   [][2]Vec2
	next   int
	active [][2]Vec2
	cuts   [][2]float64
	out    []trapezoid
}

// slab returns the region's trapezoids between two levels with no vertex in
// between; they are good until the next call. Levels must not descend.
func (c *scan) slab(y0, y1 float64) []trapezoid {
	for c.next < len(c.segs) && c.segs[c.next][0].Y <= y0 {
		c.active = append(c.active, c.segs[c.next])
		c.next++
	}
	keep := c.active[:0]
	c.cuts, c.out = c.cuts[:0], c.out[:0]
	for _, s := range c.active {
		if s[1].Y < y1 {
			continue
		}
		keep = append(keep, s)
		slope := (s[1].X - s[0].X) / (s[1].Y - s[0].Y)
		c.cuts = append(c.cuts, [2]float64{s[0].X + slope*(y0-s[0].Y), s[0].X + slope*(y1-s[0].Y)})
	}
	c.active = keep
	slices.SortFunc(c.cuts, func(a, b [2]float64) int { return cmp.Compare(a[0]+a[1], b[0]+b[1]) })
	for i := 0; i+1 < len(c.cuts); i += 2 {
		l, r := c.cuts[i], c.cuts[i+1]
		c.out = append(c.out, trapezoid{l[0], l[1], r[0], r[1]})
	}
	return c.out
}

// trapezoid is bounded by two segments between two levels: left and right
// abscissae at the lower and upper level.
type trapezoid struct{ l0, l1, r0, r1 float64 }

// overlaps returns the moves of q along x at which it overlaps p.
func (p trapezoid) overlaps(q trapezoid) interval {
	return interval{min(p.l0-q.r0, p.l1-q.r1), max(p.r0-q.l0, p.r1-q.l1)}
}
