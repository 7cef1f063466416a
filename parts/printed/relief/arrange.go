package relief

import (
	"cmp"
	"math"
	"slices"

	"clampwright/parts/geom"
)

// comparePoints orders points by x, then by y.
func comparePoints(p, q geom.Vec2) int {
	return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y))
}

// segment is an edge between points of the grid, in Units, its lesser end first.
type segment struct{ a, b geom.Vec2 }

func newSegment(a, b geom.Vec2) segment {
	if comparePoints(b, a) < 0 {
		a, b = b, a
	}
	return segment{a, b}
}

// maxRounds is how often crossings are looked for again after their points
// were put on the grid; moving a segment by half a unit rarely makes new ones.
const maxRounds = 12

// arrange splits segments at each other until they meet at ends only. Points on
// crossings are rounded to the grid, which moves a segment by a unit at most.
func arrange(segs []segment) ([]segment, error) {
	for range maxRounds {
		splits := crossings(segs)
		if splits == nil {
			return segs, nil
		}
		segs = split(segs, splits)
	}
	return nil, ErrSnap
}

// crossings returns for each segment the points inside it where another meets
// it, nil when there are none.
func crossings(segs []segment) map[int][]geom.Vec2 {
	slices.SortFunc(segs, func(s, t segment) int { return cmp.Or(comparePoints(s.a, t.a), comparePoints(s.b, t.b)) })
	splits := map[int][]geom.Vec2{}
	note := func(i int, p geom.Vec2) {
		if p != segs[i].a && p != segs[i].b {
			splits[i] = append(splits[i], p)
		}
	}
	for i, s := range segs {
		for j := i + 1; j < len(segs) && segs[j].a.X <= s.b.X+1; j++ {
			t := segs[j]
			if max(t.a.Y, t.b.Y) < min(s.a.Y, s.b.Y)-1 || min(t.a.Y, t.b.Y) > max(s.a.Y, s.b.Y)+1 {
				continue
			}
			meet(i, j, s, t, note)
		}
	}
	if len(splits) == 0 {
		return nil
	}
	return splits
}

// meet notes where two segments split each other: at ends that lie on the other
// and at a crossing.
func meet(i, j int, s, t segment, note func(int, geom.Vec2)) {
	on := false
	for _, p := range [2]geom.Vec2{t.a, t.b} {
		if s.passes(p) {
			note(i, p)
			on = true
		}
	}
	for _, p := range [2]geom.Vec2{s.a, s.b} {
		if t.passes(p) {
			note(j, p)
			on = true
		}
	}
	if on || !geom.SegmentsCross(s.a, s.b, t.a, t.b) {
		return
	}
	d, e := s.b.Sub(s.a), t.b.Sub(t.a)
	d1, d2 := d.Cross(t.a.Sub(s.a)), d.Cross(t.b.Sub(s.a))
	k := d1 / (d1 - d2)
	p := geom.Vec2{X: t.a.X + math.Round(k*e.X), Y: t.a.Y + math.Round(k*e.Y)}
	note(i, p)
	note(j, p)
}

// passes reports whether the segment runs through a point, to within a unit;
// its ends do not count.
func (s segment) passes(p geom.Vec2) bool {
	d, v := s.b.Sub(s.a), p.Sub(s.a)
	l2 := d.Dot(d)
	if t := v.Dot(d) / l2; t <= 0 || t >= 1 {
		return false
	}
	return math.Abs(d.Cross(v)) <= math.Sqrt(l2)
}

// split cuts segments at the points noted and drops doubles.
func split(segs []segment, splits map[int][]geom.Vec2) []segment {
	seen := make(map[segment]bool, len(segs))
	var out []segment
	keep := func(a, b geom.Vec2) {
		if s := newSegment(a, b); a != b && !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	for i, s := range segs {
		ps := splits[i]
		slices.SortFunc(ps, func(p, q geom.Vec2) int {
			return cmp.Or(cmp.Compare(s.a.Dist(p), s.a.Dist(q)), comparePoints(p, q))
		})
		from := s.a
		for _, p := range ps {
			keep(from, p)
			from = p
		}
		keep(from, s.b)
	}
	return out
}

// shortest is the length of the shortest segment, mm.
func shortest(segs []segment) float64 {
	l := math.Inf(1)
	for _, s := range segs {
		l = min(l, s.a.Dist(s.b))
	}
	return l * Unit
}
