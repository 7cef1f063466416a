package geom

import (
	"math"
	"math/rand"
	"testing"
)

// The points, tangents and boxes of arcs worked out by hand: quarter, half and
// three-quarter turns either way.
func TestArcs(t *testing.T) {
	q := math.Sqrt2 - 1
	for _, x := range []struct {
		name         string
		a, b         Vec2
		bulge        float64
		c            Vec2
		r            float64
		start, sweep float64
		box          Box2
	}{
		{"quarter left", Vec2{5, 2}, Vec2{3, 4}, q, Vec2{3, 2}, 2, 0, math.Pi / 2, Box2{Vec2{3, 2}, Vec2{5, 4}}},
		{"quarter right", Vec2{3, 4}, Vec2{5, 2}, -q, Vec2{3, 2}, 2, math.Pi / 2, -math.Pi / 2, Box2{Vec2{3, 2}, Vec2{5, 4}}},
		{"half", Vec2{5, 2}, Vec2{1, 2}, 1, Vec2{3, 2}, 2, 0, math.Pi, Box2{Vec2{1, 2}, Vec2{5, 4}}},
		{"half right", Vec2{5, 2}, Vec2{1, 2}, -1, Vec2{3, 2}, 2, 0, -math.Pi, Box2{Vec2{1, 0}, Vec2{5, 2}}},
		{"three quarters", Vec2{5, 2}, Vec2{3, 0}, 1 + math.Sqrt2, Vec2{3, 2}, 2, 0, 1.5 * math.Pi, Box2{Vec2{1, 0}, Vec2{5, 4}}},
	} {
		e := NewEdge(x.a, x.b, x.bulge)
		if !e.Arc || e.C.Dist(x.c) > 1e-12 {
			t.Fatalf("%s: %+v", x.name, e)
		}
		near(t, x.name+" radius", e.R, x.r, 1e-12)
		near(t, x.name+" start", e.Start, x.start, 1e-12)
		near(t, x.name+" sweep", e.Sweep, x.sweep, 1e-12)
		near(t, x.name+" bulge", e.Bulge(), x.bulge, 1e-12)
		b := e.Bounds()
		near(t, x.name+" box", b.Min.Dist(x.box.Min)+b.Max.Dist(x.box.Max), 0, 1e-12)
		if e.At(0) != x.a || e.At(1) != x.b || e.At(-1) != x.a || e.At(2) != x.b {
			t.Errorf("%s: ends %v %v", x.name, e.At(0), e.At(1))
		}
		for k := range 11 {
			s := float64(k) / 10
			p := e.At(s)
			near(t, x.name+" point", p.Dist(x.c), x.r, 1e-12)
			near(t, x.name+" tangent", e.Tangent(s).Dist(e.At(s+1e-6).Sub(e.At(s-1e-6)).Unit())*min(s, 1-s), 0, 1e-5)
			u, on := e.Param(p)
			if !(s > 0 && s < 1) {
				continue
			}
			near(t, x.name+" parameter", u, s, 1e-12)
			if !on {
				t.Errorf("%s: %v is not on it", x.name, p)
			}
			w := e.reversed()
			near(t, x.name+" reversed", w.At(1-s).Dist(p), 0, 1e-12)
			near(t, x.name+" velocity", e.velocity(s).Dist(e.Tangent(s).Mul(x.r*math.Abs(x.sweep))), 0, 1e-12)
		}
	}
}

// A bulge under the limit is a straight edge, one at it an arc; straight edges
// have their own At, Tangent and Param.
func TestStraightEdges(t *testing.T) {
	a, b := Vec2{1, 1}, Vec2{4, 5}
	for bulge, arc := range map[float64]bool{0: false, 0.99e-9: false, -0.99e-9: false, 1e-9: true, -1.01e-9: true, 1.01e-9: true} {
		if e := NewEdge(a, b, bulge); e.Arc != arc {
			t.Errorf("bulge %g: arc %v", bulge, e.Arc)
		}
	}
	e := NewEdge(a, b, 0)
	if e.Bulge() != 0 || e.Tangent(0.3) != (Vec2{0.6, 0.8}) || e.velocity(0.3) != (Vec2{3, 4}) {
		t.Errorf("%+v", e)
	}
	for _, x := range []struct {
		p       Vec2
		at      float64
		on      bool
		nearest Vec2
		dist    float64
	}{
		{Vec2{1, 1}, 0, true, a, 0}, {Vec2{4, 5}, 1, true, b, 0}, {Vec2{-2, -3}, -1, false, a, 5}, {Vec2{7, 9}, 2, false, b, 5},
		{Vec2{2.5 - 4, 3 + 3}, 0.5, true, Vec2{2.5, 3}, 5}, {Vec2{2.5 + 4, 0}, 0.5, true, Vec2{2.5, 3}, 5},
	} {
		u, on := e.Param(x.p)
		near(t, "parameter", u, x.at, 1e-15)
		near(t, "distance", e.Dist(x.p), x.dist, 1e-15)
		near(t, "foot", e.Nearest(x.p).Dist(x.nearest), 0, 1e-15)
		if on != x.on {
			t.Errorf("%v on the edge: %v", x.p, on)
		}
	}
	if d := NewEdge(a, a, 0).Dist(Vec2{4, 5}); d != 5 {
		t.Errorf("an edge without length is %g away", d)
	}
}

// The ends of an edge are its vertices to the last place, and on it.
func TestEndsAreExact(t *testing.T) {
	r := rand.New(rand.NewSource(22))
	for range 200 {
		a, b := Vec2{r.NormFloat64(), r.NormFloat64()}, Vec2{r.NormFloat64(), r.NormFloat64()}
		e := NewEdge(a, b, 2*r.NormFloat64())
		if e.At(0) != a || e.At(1) != b || e.At(-1e-300) != a || e.At(math.Nextafter(1, 2)) != b {
			t.Fatalf("%v to %v: %v to %v", a, b, e.At(0), e.At(1))
		}
		if u, on := e.param(e.Start); u != 0 || !on {
			t.Fatalf("the start of %+v lies at %g", e, u)
		}
	}
	half := ArcEdge(Vec2{}, 1, 0, math.Pi)
	if u, on := half.param(math.Pi); u != 1 || !on {
		t.Errorf("the end of a half circle lies at %g", u)
	}
	if u, on := half.param(math.Pi + 1e-9); u <= 1 || on {
		t.Errorf("beyond the end of a half circle lies at %g", u)
	}
}

// Nearest points of an arc: on it, beyond either end, and from its centre.
func TestNearestOnArc(t *testing.T) {
	e := ArcEdge(Vec2{1, 2}, 5, 0, math.Pi/2)
	for _, x := range []struct{ p, want Vec2 }{
		{Vec2{1 + 3, 2 + 4}, Vec2{4, 6}}, {Vec2{1 + 6, 2 + 8}, Vec2{4, 6}}, {Vec2{1 + 6, 2 - 1}, Vec2{6, 2}}, {Vec2{0, 2 + 6}, Vec2{1, 7}},
		{Vec2{1 - 3, 0}, Vec2{1, 7}}, {Vec2{1 - 2, 2 - 3}, Vec2{6, 2}}, {Vec2{1, 2}, Vec2{6, 2}},
	} {
		near(t, "nearest", e.Nearest(x.p).Dist(x.want), 0, 1e-12)
		near(t, "distance", e.Dist(x.p), x.p.Dist(x.want), 1e-12)
		near(t, "nearest of the reversed", e.reversed().Nearest(x.p).Dist(e.Nearest(x.p)), map[bool]float64{true: 5 * math.Sqrt2}[x.p == e.C], 1e-12)
	}
}

// The largest extent of an edge in a direction against its points.
func TestSupport(t *testing.T) {
	r := rand.New(rand.NewSource(21))
	for range 300 {
		e := NewEdge(Vec2{r.NormFloat64(), r.NormFloat64()}, Vec2{r.NormFloat64(), r.NormFloat64()}, []float64{0, 2 * r.NormFloat64()}[r.Intn(2)])
		d := Vec2{r.NormFloat64(), r.NormFloat64()}
		most := math.Inf(-1)
		for k := range 2001 {
			most = max(most, d.Dot(e.At(float64(k)/2000)))
		}
		size := 1.0
		if e.Arc {
			size = e.R * math.Abs(e.Sweep)
		}
		if s := e.support(d); s < most-1e-9 || s > most+1e-6*max(1, size)*d.Len() {
			t.Fatalf("support %g, sampled %g of %+v along %v", s, most, e, d)
		}
	}
}

// Chords by the sagitta r(1 - cos(step/2)), at least eight round a circle and a
// multiple of four.
func TestChords(t *testing.T) {
	for _, x := range []struct {
		r, sweep, err float64
		want          int
	}{
		{1, 2 * math.Pi, 10, 8}, {1, 2 * math.Pi, 1, 8}, {1, -2 * math.Pi, 1, 8}, {1, math.Pi, 1, 4}, {1, -math.Pi, 1, 4}, {1, math.Pi / 4, 1, 1}, {1, math.Pi/4 + 1e-6, 1, 2},
		{1, math.Pi / 4 * (1 + 1e-10), 1, 1}, {1, 0.01, 1, 1}, {1, 0, 1, 1},
		{10, 2 * math.Pi, 0.1, 24}, // 2π / 2acos(0.99) = 22.2
		{10, math.Pi, 0.1, 12}, {10, 1, 0.1, 4}, {10, 2*math.Pi - 1e-6, 0.1, 23},
	} {
		if n := chords(x.r, x.sweep, x.err); n != x.want {
			t.Errorf("%+v: %d chords", x, n)
		}
	}
	for turn, full := range map[float64]bool{2 * math.Pi: true, -2 * math.Pi: true, 2*math.Pi - 1e-12: true, 2*math.Pi - 1e-8: false, math.Pi: false, 0: false} {
		if isFullTurn(turn) != full {
			t.Errorf("%.12g: full turn %v", turn, !full)
		}
	}
	if pts := (Circle{Vec2{1, 2}, 3}).Flatten(0.1); len(pts) != 16 || pts[0] != (Vec2{4, 2}) || pts[4].Dist(Vec2{1, 5}) > 1e-12 {
		t.Errorf("%d points from %v, a quarter on %v", len(pts), pts[0], pts[4])
	}
	if pts := RectAt(Vec2{}, 2, 2).Flatten(0.1); len(pts) != 4 || pts[0] != (Vec2{-1, -1}) {
		t.Error(pts)
	}
}

// Where whole lines and circles meet, and which of those points both edges have.
func TestMeetings(t *testing.T) {
	line := func(x0, y0, x1, y1 float64) Edge { return NewEdge(Vec2{x0, y0}, Vec2{x1, y1}, 0) }
	arc := func(x, y, r, from, to float64) Edge { return ArcEdge(Vec2{x, y}, r, from, to-from) }
	full := 2 * math.Pi
	for _, x := range []struct {
		name          string
		a, b          Edge
		meet, crosses int
	}{
		{"lines", line(0, 0, 4, 4), line(0, 4, 4, 0), 1, 1},
		{"line that ends before", line(0, 0, 1.9, 1.9), line(0, 4, 4, 0), 1, 0},
		{"line that begins behind", line(2.1, 2.1, 4, 4), line(0, 4, 4, 0), 1, 0},
		{"other ends before", line(0, 0, 4, 4), line(0, 4, 1.9, 2.1), 1, 0},
		{"line that ends on it", line(0, 0, 2, 2), line(0, 4, 4, 0), 1, 1},
		{"parallel", line(0, 0, 4, 4), line(0, 1, 4, 5), 0, 0},
		{"one line", line(0, 0, 4, 0), line(1, 0, 9, 0), 0, 0},
		{"nearly parallel", line(0, 0, 4, 0), line(0, 1, 4, 1+1e-14), 0, 0},
		{"at a small angle", line(0, 0, 4, 0), line(-1, -1e-6, 5, 1e-6), 1, 1},
		{"line through a circle", line(-9, 3, 9, 3), arc(0, 0, 5, 0, full), 2, 2},
		{"into a circle", line(0, 3, 9, 3), arc(0, 0, 5, 0, full), 2, 1},
		{"through a half circle", line(-9, 3, 9, 3), arc(0, 0, 5, -math.Pi/2, math.Pi/2), 2, 1},
		{"within a circle", line(-1, 3, 1, 3), arc(0, 0, 5, 0, full), 2, 0},
		{"touching a circle", line(-9, 5, 9, 5), arc(0, 0, 5, 0, full), 2, 2},
		{"past a circle", line(-9, 5.001, 9, 5.001), arc(0, 0, 5, 0, full), 0, 0},
		{"past a circle below", line(-9, -5.001, 9, -5.001), arc(0, 0, 5, 0, full), 0, 0},
		{"circles", arc(0, 0, 5, 0, full), arc(6, 0, 5, 0, full), 2, 2},
		{"circle and half", arc(0, 0, 5, 0, full), arc(6, 0, 5, 0, math.Pi), 2, 1},
		{"circles that touch", arc(0, 0, 5, 0, full), arc(8, 0, 3, 0, full), 2, 2},
		{"circles apart", arc(0, 0, 5, 0, full), arc(8.001, 0, 3, 0, full), 0, 0},
		{"circle in a circle", arc(0, 0, 5, 0, full), arc(1, 0, 3, 0, full), 0, 0},
		{"about one centre", arc(0, 0, 5, 0, full), arc(0, 0, 5, 0, full), 0, 0},
	} {
		for _, e := range [][2]Edge{{x.a, x.b}, {x.b, x.a}} {
			ps := Meetings(e[0], e[1])
			if len(ps) != x.meet || len(crossings(e[0], e[1])) != x.crosses {
				t.Errorf("%s: meet in %v, cross in %v", x.name, ps, crossings(e[0], e[1]))
			}
			for _, p := range ps {
				for _, w := range e {
					off := math.Abs(w.B.Sub(w.A).Unit().Cross(p.Sub(w.A)))
					if w.Arc {
						off = math.Abs(p.Dist(w.C) - w.R)
					}
					near(t, x.name+" off its line or circle", off, 0, 1e-9)
				}
			}
		}
	}
}

// Distances of edges whose closest points lie on a common normal.
func TestEdgeDistanceByHand(t *testing.T) {
	line := func(x0, y0, x1, y1 float64) Edge { return NewEdge(Vec2{x0, y0}, Vec2{x1, y1}, 0) }
	top, bottom := ArcEdge(Vec2{}, 5, 0, math.Pi), ArcEdge(Vec2{}, 5, 0, -math.Pi)
	for _, x := range []struct {
		name string
		a, b Edge
		want float64
	}{
		{"line over an arc", line(-9, 8, 9, 8), top, 3},
		{"line under the open side", line(-4, -1, 4, -1), top, math.Sqrt2},
		{"line inside", line(-1, 2, 1, 2), top, 5 - math.Sqrt(5)},
		{"line inside a half below", line(-1, -2, 1, -2), bottom, 5 - math.Sqrt(5)},
		{"arcs side by side", top, ArcEdge(Vec2{13, 0}, 5, math.Pi/2, math.Pi), 3},
		{"arc in an arc", top, ArcEdge(Vec2{0, 1}, 2, 0, math.Pi), 2},
		{"arc in an arc, nearest at its ends", ArcEdge(Vec2{}, 5, 0, 2*math.Pi), ArcEdge(Vec2{0, 1}, 2, math.Pi, math.Pi), 2.7639320225},
		{"about one centre, overlapping", top, ArcEdge(Vec2{}, 7, math.Pi/2, math.Pi), 2},
		{"about one centre, the other way", top, ArcEdge(Vec2{}, 7, math.Pi/2, -math.Pi), 2},
		{"about one centre, none shared", top, ArcEdge(Vec2{}, 7, -0.75*math.Pi, math.Pi/2), math.Sqrt(25 + 49 - 70*math.Cos(math.Pi/4))},
		{"on one circle, apart", ArcEdge(Vec2{}, 5, 0, math.Pi/2), ArcEdge(Vec2{}, 5, math.Pi, math.Pi/2), 5 * math.Sqrt2},
		{"ends of lines", line(0, 0, 3, 0), line(6, 4, 9, 9), 5},
		{"crossing", line(-9, 3, 9, 3), top, 0},
	} {
		near(t, x.name, edgeDist(x.a, x.b).d, x.want, 1e-9)
		near(t, x.name+", swapped", edgeDist(x.b, x.a).d, x.want, 1e-9)
		near(t, x.name+", reversed", edgeDist(x.a.reversed(), x.b.reversed()).d, x.want, 1e-9)
	}
}
