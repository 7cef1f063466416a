package wiring

import "math"

// segment is a straight piece in plan view.
type segment struct{ A, B Point }

func cross(a, b Point) float64 { return a.X*b.Z - a.Z*b.X }
func dot(a, b Point) float64   { return a.X*b.X + a.Z*b.Z }

// distanceTo returns the least distance from a point to the segment.
func (s segment) distanceTo(p Point) float64 {
	d := s.B.minus(s.A)
	l2 := dot(d, d)
	if l2 == 0 {
		return p.distance(s.A)
	}
	t := math.Max(0, math.Min(1, dot(p.minus(s.A), d)/l2))
	return p.distance(Point{s.A.X + t*d.X, s.A.Z + t*d.Z})
}

// crosses says whether two segments share a point in both interiors.
func (s segment) crosses(o segment) bool {
	d, e := s.B.minus(s.A), o.B.minus(o.A)
	a, b := cross(d, o.A.minus(s.A)), cross(d, o.B.minus(s.A))
	c, f := cross(e, s.A.minus(o.A)), cross(e, s.B.minus(o.A))
	return a*b < 0 && c*f < 0
}

// gap returns the least distance between two segments, 0 where they cross.
func (s segment) gap(o segment) float64 {
	if s.crosses(o) {
		return 0
	}
	return min(s.distanceTo(o.A), s.distanceTo(o.B), o.distanceTo(s.A), o.distanceTo(s.B))
}

// gapToBox returns the least distance from the segment to an upright rectangle
// of the given full size about its middle, 0 where they overlap.
func (s segment) gapToBox(m Point, lengthX, lengthZ float64) float64 {
	hx, hz := lengthX/2, lengthZ/2
	c := [4]Point{{m.X - hx, m.Z - hz}, {m.X + hx, m.Z - hz}, {m.X + hx, m.Z + hz}, {m.X - hx, m.Z + hz}}
	if math.Abs(s.A.X-m.X) <= hx && math.Abs(s.A.Z-m.Z) <= hz {
		return 0
	}
	least := math.Inf(1)
	for i := range c {
		least = min(least, s.gap(segment{c[i], c[(i+1)%4]}))
	}
	return least
}
