package geom

import (
	"cmp"
	"slices"
)

// interval is an open range of moves.
type interval struct{ lo, hi float64 }

// merge sorts intervals and joins those that overlap by more than rounding.
func merge(is []interval) []interval {
	slices.SortFunc(is, func(a, b interval) int {
		return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.hi, b.hi))
	})
	var out []interval
	for _, i := range is {
		if n := len(out); n > 0 && i.lo < out[n-1].hi-crossing {
			out[n-1].hi = max(out[n-1].hi, i.hi)
		} else {
			out = append(out, i)
		}
	}
	return out
}

// exitAt returns the least t' >= t that lies in no interval.
func exitAt(is []interval, t float64) float64 {
	for _, i := range is {
		if i.lo < t+crossing && t < i.hi {
			t = i.hi
		}
	}
	return t
}

// negated returns the intervals for moves the other way.
func negated(is []interval) []interval {
	out := make([]interval, len(is))
	for i, v := range is {
		out[len(is)-1-i] = interval{-v.hi, -v.lo}
	}
	return out
}

// sweep returns the moves of region b along the unit direction d at which it
// overlaps region a. Between the lines along d through every vertex, both are
// stacks of trapezoids; a pair of those overlaps for one interval of moves,
// whose ends are taken at the sides of the slab. Arcs are cut to distanceChord.
func sweep(a, b region, d Vec2) []interval {
	sa, sb := turnedSegs(a, d), turnedSegs(b, d)
	var ys []float64
	for _, s := range append(slices.Clone(sa), sb...) {
		ys = append(ys, s[0].Y)
	}
	slices.Sort(ys)
	var is []interval
	for i := 1; i < len(ys); i++ {
		y0, y1 := ys[i-1], ys[i]
		if y1-y0 <= crossing {
			continue
		}
		ta, tb := slab(sa, y0, y1), slab(sb, y0, y1)
		for _, p := range ta {
			for _, q := range tb {
				is = append(is, p.overlaps(q))
			}
		}
		if len(is) > 4096 {
			is = merge(is)
		}
	}
	return merge(is)
}

// turnedSegs returns the region's segments in axes whose x is d.
func turnedSegs(r region, d Vec2) [][2]Vec2 {
	segs := r.flat(distanceChord)
	for i, s := range segs {
		segs[i] = [2]Vec2{{d.Dot(s[0]), d.Cross(s[0])}, {d.Dot(s[1]), d.Cross(s[1])}}
	}
	return segs
}

// trapezoid is bounded by two segments between two levels: left and right
// abscissae at the lower and upper level.
type trapezoid struct{ l0, l1, r0, r1 float64 }

// overlaps returns the moves of q along x at which it overlaps p.
func (p trapezoid) overlaps(q trapezoid) interval {
	return interval{min(p.l0-q.r0, p.l1-q.r1), max(p.r0-q.l0, p.r1-q.l1)}
}

// slab returns the trapezoids of a region between two levels with no vertex in
// between.
func slab(segs [][2]Vec2, y0, y1 float64) []trapezoid {
	type cut struct{ x0, x1 float64 }
	var cs []cut
	for _, s := range segs {
		a, b := s[0], s[1]
		if a.Y > b.Y {
			a, b = b, a
		}
		if a.Y <= y0 && b.Y >= y1 {
			at := func(y float64) float64 { return a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y) }
			cs = append(cs, cut{at(y0), at(y1)})
		}
	}
	slices.SortFunc(cs, func(a, b cut) int { return cmp.Compare(a.x0+a.x1, b.x0+b.x1) })
	var ts []trapezoid
	for i := 0; i+1 < len(cs); i += 2 {
		ts = append(ts, trapezoid{cs[i].x0, cs[i].x1, cs[i+1].x0, cs[i+1].x1})
	}
	return ts
}
