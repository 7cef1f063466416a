package geom

import (
	"math"
	"math/big"
)

// orientErr bounds the relative rounding of the determinant in orient:
// (3 + 16u)u with u = 2⁻⁵³ (Shewchuk, Adaptive Precision Floating-Point
// Arithmetic, 1997, ccwerrboundA).
const orientErr = (3 + 16*0x1p-53) * 0x1p-53

// orient returns the exact sign of the turn a-b-c: positive when
// counter-clockwise, zero when the points lie on one line.
func orient(a, b, c Vec2) int {
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

// inTriangle reports whether p lies in the closed counter-clockwise triangle.
func inTriangle(a, b, c, p Vec2) bool {
	return orient(a, b, p) >= 0 && orient(b, c, p) >= 0 && orient(c, a, p) >= 0
}

// segmentsMeet reports whether two closed segments have a point in common.
func segmentsMeet(a, b, c, d Vec2) bool {
	o1, o2 := orient(a, b, c), orient(a, b, d)
	o3, o4 := orient(c, d, a), orient(c, d, b)
	if o1*o2 < 0 && o3*o4 < 0 {
		return true
	}
	return o1 == 0 && between(a, b, c) || o2 == 0 && between(a, b, d) ||
		o3 == 0 && between(c, d, a) || o4 == 0 && between(c, d, b)
}

// between reports whether p, on the line through a and b, lies between them.
func between(a, b, p Vec2) bool {
	return min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y)
}

// inCone reports whether the direction from v to p lies strictly inside the
// interior angle at v between its neighbours, the interior being on the left of
// prev-v-next (O'Rourke, Computational Geometry in C, section 1.6.2).
func inCone(prev, v, next, p Vec2) bool {
	if orient(prev, v, next) >= 0 {
		return orient(v, p, prev) > 0 && orient(p, v, next) > 0
	}
	return !(orient(v, p, next) >= 0 && orient(p, v, prev) >= 0)
}

// inCircle is positive when d lies inside the circle through the
// counter-clockwise triangle a, b, c, in units of the fourth power of size
// already divided out, so that one threshold serves all sizes.
func inCircle(a, b, c, d Vec2) float64 {
	a, b, c = a.Sub(d), b.Sub(d), c.Sub(d)
	a2, b2, c2 := a.Dot(a), b.Dot(b), c.Dot(c)
	det := a2*b.Cross(c) - b2*a.Cross(c) + c2*a.Cross(b)
	m := max(a2, b2, c2)
	return det / (m * m)
}
