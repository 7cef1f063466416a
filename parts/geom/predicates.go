package geom

import (
	"math"
	"math/big"
)

// orientErr bounds the relative rounding of the determinant in Orient:
// (3 + 16u)u with u = 2⁻⁵³ (Shewchuk, Adaptive Precision Floating-Point
// Arithmetic, 1997, ccwerrboundA).
const orientErr = (3 + 16*0x1p-53) * 0x1p-53

// Orient returns the exact sign of the turn a-b-c: positive when
// counter-clockwise, zero when the points lie on one line.
func Orient(a, b, c Vec2) int {
	l := (a.X - c.X) * (b.Y - c.Y)
	r := (a.Y - c.Y) * (b.X - c.X)
	det := l - r
	if l > 0 && r <= 0 || l < 0 && r >= 0 || l == 0 {
		return sign(det)
	}
	if bound := orientErr * (math.Abs(l) + math.Abs(r)); math.Abs(det) > bound {
		return sign(det)
	}
	return orientExact(a, b, c)
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// orientExact computes the determinant in rational numbers; zero when a
// coordinate is not a finite number.
func orientExact(a, b, c Vec2) int {
	for _, v := range [6]float64{a.X, a.Y, b.X, b.Y, c.X, c.Y} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return 0
		}
	}
	sub := func(x, y float64) *big.Rat {
		r := new(big.Rat).SetFloat64(x)
		return r.Sub(r, new(big.Rat).SetFloat64(y))
	}
	l, r := sub(a.X, c.X), sub(a.Y, c.Y)
	l.Mul(l, sub(b.Y, c.Y))
	r.Mul(r, sub(b.X, c.X))
	return l.Cmp(r)
}

// turn is twice the signed area of the triangle a, b, c, rounded.
func turn(a, b, c Vec2) float64 { return b.Sub(a).Cross(c.Sub(a)) }

// SegmentsCross reports whether two segments cross inside both: exact.
func SegmentsCross(a, b, c, d Vec2) bool {
	return Orient(a, b, c)*Orient(a, b, d) < 0 && Orient(c, d, a)*Orient(c, d, b) < 0
}

// InPolygon reports whether q lies inside the closed polygon, whichever way it
// runs. Points on its boundary may go either way, the same for both neighbours
// of an edge.
func InPolygon(pts []Vec2, q Vec2) bool {
	in := false
	for i, a := range pts {
		if b := pts[(i+1)%len(pts)]; upright(a, b, q) {
			in = !in
		}
	}
	return in
}

// PolygonDist returns the distance of q from the nearest side of the closed
// polygon, mm.
func PolygonDist(pts []Vec2, q Vec2) float64 {
	least, d := Vec2{}, math.Inf(1)
	for i, a := range pts {
		v, side, t := q.Sub(a), pts[(i+1)%len(pts)].Sub(a), 0.0
		if l := side.Dot(side); l > 0 {
			t = clamp01(v.Dot(side) / l)
		}
		if v = v.Sub(side.Mul(t)); v.Dot(v) < d {
			least, d = v, v.Dot(v)
		}
	}
	return least.Len()
}

// upright reports whether the ray from q along x passes through the edge a, b:
// crossing it counts once, at the lower end and not at the upper.
func upright(a, b, q Vec2) bool {
	return (a.Y > q.Y) != (b.Y > q.Y) && leftOf(a, b, q) == (b.Y > a.Y)
}

// leftOf reports whether q lies left of the line from a to b. A point exactly
// on it counts as moved a little up, and less to the right: the same choice for
// the chord polygon and for the segments beyond its chords.
func leftOf(a, b, q Vec2) bool {
	if o := Orient(a, b, q); o != 0 {
		return o > 0
	}
	if a.Y == b.Y {
		return b.X > a.X
	}
	return b.Y < a.Y
}

// inCircle is positive when d lies inside the circle through the
// counter-clockwise triangle a, b, c, in units of the fourth power of size
// already divided out, so that one threshold serves all sizes.
func inCircle(a, b, c, d Vec2) float64 {
	a, b, c = a.Sub(d), b.Sub(d), c.Sub(d)
	a2, b2, c2 := a.Dot(a), b.Dot(b), c.Dot(c)
	det := a.X*(b.Y*c2-c.Y*b2) - a.Y*(b.X*c2-c.X*b2) + a2*b.Cross(c)
	m := max(a2, b2, c2)
	return det / (m * m)
}
