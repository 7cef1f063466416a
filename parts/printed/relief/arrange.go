package relief

import (
	"cmp"
	"math"
	"slices"
)

// point is a point on the grid, in Units.
type point struct{ x, y int64 }

func (p point) less(q point) bool { return p.x < q.x || p.x == q.x && p.y < q.y }

func comparePoints(p, q point) int {
	return cmp.Or(cmp.Compare(p.x, q.x), cmp.Compare(p.y, q.y))
}

// orient is twice the signed area of a triangle: exact.
func orient(a, b, c point) int64 {
	return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x)
}

func dist(a, b point) float64 { return math.Hypot(float64(a.x-b.x), float64(a.y-b.y)) }

// segment is an edge, its lesser end first.
type segment struct{ a, b point }

func newSegment(a, b point) segment {
	if b.less(a) {
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
func crossings(segs []segment) map[int][]point {
	slices.SortFunc(segs, func(s, t segment) int { return cmp.Or(comparePoints(s.a, t.a), comparePoints(s.b, t.b)) })
	splits := map[int][]point{}
	note := func(i int, p point) {
		if p != segs[i].a && p != segs[i].b {
			splits[i] = append(splits[i], p)
		}
	}
	for i, s := range segs {
		for j := i + 1; j < len(segs) && segs[j].a.x <= s.b.x+1; j++ {
			t := segs[j]
			if max(t.a.y, t.b.y) < min(s.a.y, s.b.y)-1 || min(t.a.y, t.b.y) > max(s.a.y, s.b.y)+1 {
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
func meet(i, j int, s, t segment, note func(int, point)) {
	on := false
	for _, p := range [2]point{t.a, t.b} {
		if s.passes(p) {
			note(i, p)
			on = true
		}
	}
	for _, p := range [2]point{s.a, s.b} {
		if t.passes(p) {
			note(j, p)
			on = true
		}
	}
	if on {
		return
	}
	d1, d2 := orient(s.a, s.b, t.a), orient(s.a, s.b, t.b)
	d3, d4 := orient(t.a, t.b, s.a), orient(t.a, t.b, s.b)
	if (d1 > 0) == (d2 > 0) || (d3 > 0) == (d4 > 0) || d1 == 0 || d2 == 0 || d3 == 0 || d4 == 0 {
		return
	}
	k := float64(d1) / (float64(d1) - float64(d2))
	p := point{t.a.x + int64(math.Round(k*float64(t.b.x-t.a.x))), t.a.y + int64(math.Round(k*float64(t.b.y-t.a.y)))}
	note(i, p)
	note(j, p)
}

// passes reports whether the segment runs through a point, to within a unit;
// its ends do not count.
func (s segment) passes(p point) bool {
	if p == s.a || p == s.b {
		return false
	}
	dx, dy := float64(s.b.x-s.a.x), float64(s.b.y-s.a.y)
	px, py := float64(p.x-s.a.x), float64(p.y-s.a.y)
	l2 := dx*dx + dy*dy
	t := (px*dx + py*dy) / l2
	if t <= 0 || t >= 1 {
		return false
	}
	return math.Abs(float64(orient(s.a, s.b, p))) <= math.Sqrt(l2)
}

// split cuts segments at the points noted and drops doubles.
func split(segs []segment, splits map[int][]point) []segment {
	seen := make(map[segment]bool, len(segs))
	var out []segment
	keep := func(a, b point) {
		if s := newSegment(a, b); a != b && !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	for i, s := range segs {
		ps := splits[i]
		slices.SortFunc(ps, func(p, q point) int {
			return cmp.Or(cmp.Compare(dist(s.a, p), dist(s.a, q)), comparePoints(p, q))
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
		l = min(l, dist(s.a, s.b))
	}
	return l * Unit
}
