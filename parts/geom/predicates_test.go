package geom

import (
	"math"
	"math/big"
	"math/rand"
	"testing"
)

// orientSlow is the sign of the determinant in whole numbers, for coordinates
// that are multiples of 2⁻⁶⁰.
func orientSlow(a, b, c Vec2) int {
	n := func(x, y float64) *big.Float {
		return new(big.Float).SetPrec(400).Sub(new(big.Float).SetPrec(400).SetFloat64(x), new(big.Float).SetPrec(400).SetFloat64(y))
	}
	l := new(big.Float).SetPrec(900).Mul(n(a.X, c.X), n(b.Y, c.Y))
	r := new(big.Float).SetPrec(900).Mul(n(a.Y, c.Y), n(b.X, c.X))
	return l.Cmp(r)
}

// Orient against exact arithmetic: far points, points on one line, and points a
// last place off it.
func TestOrient(t *testing.T) {
	r := rand.New(rand.NewSource(31))
	for i := range 4000 {
		a, b := Vec2{r.NormFloat64(), r.NormFloat64()}, Vec2{r.NormFloat64(), r.NormFloat64()}
		c := a.Lerp(b, 3*r.Float64()-1)
		switch i % 4 {
		case 0:
			c = Vec2{r.NormFloat64(), r.NormFloat64()}
		case 1:
			c.X = math.Nextafter(c.X, 9)
		case 2: // whole numbers on one line
			a, b = Vec2{math.Round(9 * a.X), math.Round(9 * a.Y)}, Vec2{math.Round(9 * b.X), math.Round(9 * b.Y)}
			c = a.Add(b.Sub(a).Mul(float64(r.Intn(7) - 3)))
		}
		if got, want := Orient(a, b, c), orientSlow(a, b, c); got != want || Orient(b, a, c) != -want || Orient(c, a, b) != want {
			t.Fatalf("%v %v %v: %d, exactly %d", a, b, c, got, want)
		}
	}
	nan := Vec2{math.NaN(), 1}
	if Orient(nan, Vec2{1, 2}, Vec2{2, 2}) != 0 || Orient(Vec2{1, 2}, Vec2{2, 2}, nan) != 0 {
		t.Error("a turn of what is not a number")
	}
	for _, v := range []Vec2{{math.Inf(1), 0}, {0, math.Inf(-1)}} {
		if orientExact(v, Vec2{}, Vec2{1, 1}) != 0 || orientExact(Vec2{}, v, Vec2{1, 1}) != 0 || orientExact(Vec2{}, Vec2{1, 1}, v) != 0 {
			t.Error("a turn of the infinite")
		}
	}
}

func TestSegmentsCross(t *testing.T) {
	a, b := Vec2{0, 0}, Vec2{4, 4}
	for _, x := range []struct {
		c, d Vec2
		want bool
	}{
		{Vec2{0, 4}, Vec2{4, 0}, true}, {Vec2{4, 0}, Vec2{0, 4}, true}, {Vec2{0, 4}, Vec2{2, 2}, false}, {Vec2{0, 4}, Vec2{2, 1.9}, true},
		{Vec2{0, 4}, Vec2{1.9, 2}, false}, {Vec2{4, 4}, Vec2{9, 0}, false}, {Vec2{6, 4}, Vec2{4, 6}, false}, {Vec2{1, 1}, Vec2{3, 3}, false}, {Vec2{0, 1}, Vec2{4, 5}, false},
	} {
		if SegmentsCross(a, b, x.c, x.d) != x.want || SegmentsCross(x.c, x.d, b, a) != x.want {
			t.Errorf("%v-%v: %v", x.c, x.d, !x.want)
		}
	}
}

// Points of a polygon with notches, either way round, against the turns that a
// walk round it makes about the point: the slow twin.
func TestInPolygon(t *testing.T) {
	star := []Vec2{{0, 0}, {8, 0}, {8, 6}, {6, 2}, {4, 6}, {2, 2}, {0, 6}}
	back := make([]Vec2, len(star))
	for i, p := range star {
		back[len(star)-1-i] = p
	}
	in := 0
	for x := -1.05; x < 9; x += 0.1 {
		for y := -1.05; y < 7; y += 0.1 {
			q, turn := Vec2{x, y}, 0.0
			for i, a := range star {
				u, v := a.Sub(q), star[(i+1)%len(star)].Sub(q)
				turn += math.Atan2(u.Cross(v), u.Dot(v))
			}
			want := turn > math.Pi
			if InPolygon(star, q) != want || InPolygon(back, q) != want {
				t.Fatalf("%v: %v", q, !want)
			}
			if want {
				in++
			}
		}
	}
	if in < 1000 {
		t.Error(in)
	}
	// a point at the height of corners, and on a side: in one of two neighbours
	for q, want := range map[Vec2]bool{{1, 2}: true, {3, 2}: true, {7, 2}: true, {9, 2}: false, {-1, 6}: false, {-1, 0}: false, {4, 3}: true, {6, 1}: true} {
		if InPolygon(star, q) != want {
			t.Errorf("%v: %v", q, !want)
		}
	}
	for _, q := range []Vec2{{4, 1}, {4, 3}, {4, 0.5}, {2, 2}, {4, 2}} {
		left, right := []Vec2{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, []Vec2{{4, 0}, {8, 0}, {8, 4}, {4, 4}}
		if q.X == 4 && InPolygon(left, q) == InPolygon(right, q) {
			t.Errorf("%v is in both neighbours, or in neither", q)
		}
		if q.X == 2 && !InPolygon(left, q) {
			t.Error(q)
		}
	}
}

func TestPolygonDist(t *testing.T) {
	sq := []Vec2{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {0, 4}}
	for q, want := range map[Vec2]float64{{2, 1}: 1, {3.5, 2}: 0.5, {2, 3}: 1, {1, 2}: 1, {7, 8}: 5, {-3, -4}: 5, {2, -2}: 2, {4, 2}: 0} {
		near(t, "distance", PolygonDist(sq, q), want, 1e-15)
	}
}

// A point left of a line, and on it: which way both count.
func TestLeftOf(t *testing.T) {
	for _, x := range []struct {
		a, b, q Vec2
		want    bool
	}{
		{Vec2{0, 0}, Vec2{4, 0}, Vec2{1, 1}, true}, {Vec2{0, 0}, Vec2{4, 0}, Vec2{1, -1}, false},
		{Vec2{0, 0}, Vec2{4, 0}, Vec2{1, 0}, true}, {Vec2{4, 0}, Vec2{0, 0}, Vec2{1, 0}, false}, // on it: as if a little up
		{Vec2{0, 0}, Vec2{0, 4}, Vec2{0, 1}, false}, {Vec2{0, 4}, Vec2{0, 0}, Vec2{0, 1}, true}, // and to the right
	} {
		if leftOf(x.a, x.b, x.q) != x.want {
			t.Errorf("%v left of %v-%v: %v", x.q, x.a, x.b, !x.want)
		}
	}
}

// The circle through three points by its centre and radius: the slow twin.
func TestInCircle(t *testing.T) {
	r := rand.New(rand.NewSource(32))
	for range 2000 {
		c, rad := Vec2{9 * r.NormFloat64(), 9 * r.NormFloat64()}, 0.1+9*r.Float64()
		s := 7 * r.Float64()
		a, b, d := c.Add(Polar(rad, s)), c.Add(Polar(rad, s+1+r.Float64())), c.Add(Polar(rad, s+3+r.Float64()))
		k := 2 * r.Float64()
		q := c.Add(Polar(k*rad, 7*r.Float64()))
		got := inCircle(a, b, d, q)
		if math.Abs(k-1) > 1e-6 && (got > 0) != (k < 1) {
			t.Fatalf("at %g radii: %g", k, got)
		}
		near(t, "scaled", inCircle(a.Mul(64), b.Mul(64), d.Mul(64), q.Mul(64)), got, 1e-9)
	}
	near(t, "centre of a circle", inCircle(Vec2{1, 0}, Vec2{0, 1}, Vec2{-1, 0}, Vec2{}), 2, 1e-15)
	near(t, "on the circle", inCircle(Vec2{1, 0}, Vec2{0, 1}, Vec2{-1, 0}, Vec2{0, -1}), 0, 1e-15)
}

// The nearest points of a triangle in each of its seven zones.
func TestNearestOnTriangle(t *testing.T) {
	x := tri{{0, 0, 0}, {4, 0, 0}, {0, 3, 0}}
	for _, p := range []struct{ p, want Vec3 }{
		{Vec3{1, 1, 5}, Vec3{1, 1, 0}}, {Vec3{1, 1, -5}, Vec3{1, 1, 0}},
		{Vec3{-1, -1, 2}, Vec3{}}, {Vec3{6, -1, 2}, Vec3{4, 0, 0}}, {Vec3{6, 1, 2}, Vec3{4, 0, 0}}, {Vec3{-1, 5, 2}, Vec3{0, 3, 0}}, {Vec3{1, 6, 2}, Vec3{0, 3, 0}},
		{Vec3{1, -2, 2}, Vec3{1, 0, 0}}, {Vec3{3, -2, 2}, Vec3{3, 0, 0}}, {Vec3{-2, 1, 2}, Vec3{0, 1, 0}}, {Vec3{-2, 2, 2}, Vec3{0, 2, 0}},
		{Vec3{2 + 3, 1.5 + 4, 2}, Vec3{2, 1.5, 0}}, {Vec3{3 + 1.5, 0.75 + 2, 2}, Vec3{3, 0.75, 0}},
	} {
		nearVec(t, "nearest", x.nearest(p.p), p.want, 1e-12)
		y := tri{x[1], x[2], x[0]}
		nearVec(t, "nearest, turned on", y.nearest(p.p), p.want, 1e-12)
		z := tri{x[0], x[2], x[1]}
		nearVec(t, "nearest, from behind", z.nearest(p.p), p.want, 1e-12)
	}
}

// Closest points of two segments, inside both, at ends, parallel.
func TestSegNear(t *testing.T) {
	for _, x := range []struct {
		p1, q1, p2, q2 Vec3
		want           float64
	}{
		{Vec3{-1, 0, 0}, Vec3{1, 0, 0}, Vec3{0, -1, 3}, Vec3{0, 1, 3}, 3},
		{Vec3{-1, 0, 0}, Vec3{1, 0, 0}, Vec3{0, 4, 3}, Vec3{0, 9, 3}, 5}, {Vec3{-1, 0, 0}, Vec3{1, 0, 0}, Vec3{0, -9, 3}, Vec3{0, -4, 3}, 5},
		{Vec3{4, 0, 0}, Vec3{9, 0, 0}, Vec3{0, -1, 3}, Vec3{0, 1, 3}, 5}, {Vec3{-9, 0, 0}, Vec3{-4, 0, 0}, Vec3{0, -1, 3}, Vec3{0, 1, 3}, 5},
		{Vec3{3, 0, 0}, Vec3{9, 0, 0}, Vec3{0, 4, 0}, Vec3{0, 9, 0}, 5}, {Vec3{-9, 0, 0}, Vec3{-3, 0, 0}, Vec3{0, -9, 0}, Vec3{0, -4, 0}, 5},
		{Vec3{0, 0, 0}, Vec3{9, 0, 0}, Vec3{4, 3, 0}, Vec3{13, 3, 0}, 3}, {Vec3{0, 0, 0}, Vec3{9, 0, 0}, Vec3{12, 4, 0}, Vec3{20, 4, 0}, 5},
		{Vec3{0, 0, 0}, Vec3{9, 0, 0}, Vec3{20, 4, 0}, Vec3{12, 4, 0}, 5}, {Vec3{0, 0, 0}, Vec3{9, 0, 0}, Vec3{-20, 4, 0}, Vec3{-3, 4, 0}, 5},
		{Vec3{0, 0, 0}, Vec3{9, 9, 0}, Vec3{9, 0, 0}, Vec3{0, 9, 0}, 0},
	} {
		for k := range 8 {
			p1, q1, p2, q2 := x.p1, x.q1, x.p2, x.q2
			if k&1 > 0 {
				p1, q1 = q1, p1
			}
			if k&2 > 0 {
				p2, q2 = q2, p2
			}
			if k&4 > 0 {
				p1, q1, p2, q2 = p2, q2, p1, q1
			}
			p, q := segNear(p1, q1, p2, q2)
			near(t, "segments", p.Dist(q), x.want, 1e-12)
			near(t, "on the first", p.Dist(p1)+p.Dist(q1), p1.Dist(q1), 1e-12)
			near(t, "on the second", q.Dist(p2)+q.Dist(q2), p2.Dist(q2), 1e-12)
		}
	}
}

// An edge counts as passing through a triangle when both its ends are further
// off than the tolerance, on either side.
func TestPierced(t *testing.T) {
	x := tri{{0, 0, 0}, {4, 0, 0}, {0, 4, 0}}
	at := func(lo, hi, u, v float64) tri { return tri{{u, v, lo}, {u, v, hi}, {u + 0.1, v + 9, hi + 9}} }
	for _, c := range []struct {
		y    tri
		tol  float64
		want bool
	}{
		{at(-1, 1, 1, 1), 0, true}, {at(-1, 1, 1, 1), 0.999, true}, {at(-1, 1, 1, 1), 1.001, false}, {at(-0.5, 2, 1, 1), 0.6, false}, {at(-0.5, 2, 1, 1), 0.4, true},
		{at(-2, 0.5, 1, 1), 0.4, true}, {at(0.5, 2, 1, 1), 0, false}, {at(-1, 1, 3, 3), 0, false}, {at(-1, 1, -1, 1), 0, false}, {at(-1, 1, 1.99, 1.99), 0, true},
	} {
		p, ok := pierced(x, c.y, c.tol)
		_, back := pierced(c.y, x, c.tol)
		flipped := tri{c.y[1], c.y[0], c.y[2]}
		_, flip := pierced(tri{x[0], x[2], x[1]}, flipped, c.tol)
		if ok != c.want || back != c.want || flip != c.want {
			t.Errorf("%v by more than %g: %v %v %v", c.y, c.tol, ok, back, flip)
		}
		if ok && math.Abs(p.Z) > 1e-12 {
			t.Errorf("pierced at %v", p)
		}
	}
}
