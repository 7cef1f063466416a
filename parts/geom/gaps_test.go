package geom

import (
	"math"
	"math/rand"
	"testing"
)

// Relations on both sides of the touching tolerance, gap and overlap, for
// prisms side by side, crossed, and oblique.
func TestTouching(t *testing.T) {
	a := NewBody(block(t, 10, 10, 10), World())
	bar := block(t, 2, 2, 8)
	s := math.Sqrt2 / 2
	oblique := Frame{Vec3{}, Vec3{X: 1}, Vec3{0, s, s}, Vec3{0, -s, s}}
	for _, x := range []struct {
		name string
		b    func(gap float64) Body
	}{
		{"parallel", func(g float64) Body { return NewBody(bar, At(Vec3{Z: 9 + g})) }},
		{"to the other side", func(g float64) Body { return NewBody(bar, At(Vec3{Z: -9 - g})) }},
		{"beside", func(g float64) Body { return NewBody(bar, At(Vec3{X: 6 + g})) }},
		{"crossed", func(g float64) Body { return NewBody(bar, lying(Vec3{X: 9 + g})) }},
		{"oblique", func(g float64) Body { f := oblique; f.O = Vec3{X: 6 + g}; return NewBody(bar, f) }},
	} {
		for gap, want := range map[float64]Relation{
			TouchTol + 1e-6: Apart, TouchTol - 1e-6: Touching, 1e-8: Touching, -1e-6: Touching, -TouchTol + 6e-4: Touching, -TouchTol - 6e-4: Interfering, 1: Apart, -0.5: Interfering,
		} {
			g := dist(t, a, x.b(gap))
			if g.Relation != want {
				t.Errorf("%s by %g: %+v", x.name, gap, g)
			}
			switch {
			case want == Interfering:
				near(t, x.name+" depth", g.MM, gap, depthStep)
				nearVec(t, x.name+" push", g.Push, x.b(1).Bounds().Center().Unit(), 1e-12)
			case gap > 0:
				near(t, x.name+" gap", g.MM, gap, 1e-9)
			default:
				near(t, x.name+" contact", g.MM, 0, 1e-12)
			}
			if want != Interfering && g.Push != (Vec3{}) {
				t.Errorf("%s by %g: pushed %v", x.name, gap, g.Push)
			}
		}
	}
}

// A gap just as far as asked for is exact, further ones are bounds.
func TestWithin(t *testing.T) {
	a, b := NewBody(block(t, 2, 2, 2), World()), NewBody(block(t, 2, 2, 2), At(Vec3{X: 7}))
	round := NewBody(rod(t, 1, 2), At(Vec3{X: 7, Y: 7}))
	for _, x := range []struct {
		b      Body
		within float64
		mm     float64
		bound  bool
	}{
		{b, 5, 5, false}, {b, 4.999, 5, true}, {b, 6, 5, false}, {b, 0, 5, true}, {round, math.Hypot(6, 6) - 1 + 1e-9, math.Hypot(6, 6) - 1, false},
		{round, math.Hypot(6, 6) - 1.001, math.Hypot(6, 6) - 1.001, true}, {round, 7.072, 7.072, true}, {round, 7, math.Hypot(5, 5), true},
	} {
		g, err := DistanceWithin(a, x.b, x.within)
		if err != nil || g.Bound != x.bound {
			t.Errorf("within %g: %+v %v", x.within, g, err)
		}
		near(t, "gap or bound", g.MM, x.mm, 1e-9)
		ps, err := allPairs([]Body{a, x.b}, x.within)
		if err != nil || len(ps) != 1 || ps[0].I != 0 || ps[0].J != 1 || ps[0].Bound != x.bound {
			t.Errorf("pair within %g: %+v %v", x.within, ps, err)
		}
		near(t, "pair's gap or bound", ps[0].MM, x.mm, 1e-9)
	}
	if _, err := allPairs([]Body{a, {a.Solid, Frame{}}}, 5); err == nil {
		t.Error("no frame, no error")
	}
	if ps, err := allPairs([]Body{{Frame: Frame{}}, a}, 5); err != nil || !ps[0].Bound {
		t.Errorf("an empty body: %v %v", ps, err)
	}
	if g, err := DistanceWithin(a, Body{}, 5); err != nil || !g.Bound || !math.IsInf(g.MM, 1) {
		t.Errorf("to nothing: %v %v", g, err)
	}
	if g, err := DistanceWithin(Body{}, a, 5); err != nil || !g.Bound || !math.IsInf(g.MM, 1) {
		t.Errorf("from nothing: %v %v", g, err)
	}
}

// Results are taken over only from pairs in the same position to a nanometre, in
// every coordinate.
func TestPairsThatAreAlike(t *testing.T) {
	f := Frame{Vec3{1e-6, 2e-6, -3e-6}, Vec3{4e-6, 5e-6, 6e-6}, Vec3{-7e-6, 8e-6, 9e-6}, Vec3{10e-6, 11e-6, 12.4e-6}}
	if got := rounded(f); got != [12]int64{1, 2, -3, 4, 5, 6, -7, 8, 9, 10, 11, 12} {
		t.Error(got)
	}
	s := block(t, 2, 2, 2)
	key := func(v Vec3) pairKey {
		return newPairKey(NewBody(s, At(Vec3{X: 50})), NewBody(s, At(Vec3{X: 50}.Add(v))))
	}
	for _, v := range []Vec3{{X: 1e-6}, {Y: 1e-6}, {Z: 1e-6}, {X: -1e-6}} {
		if key(Vec3{5, 5, 5}) == key(Vec3{5, 5, 5}.Add(v)) {
			t.Errorf("%v off is taken for the same", v)
		}
		if key(Vec3{5, 5, 5}) != key(Vec3{5, 5, 5}.Add(v.Mul(0.2))) {
			t.Errorf("%v off is taken for another", v.Mul(0.2))
		}
	}
	// the same position to each other, seen along other axes of the world
	a, b := NewBody(s, World()), NewBody(s, At(Vec3{1.5, 0.2, 0}))
	q := World().Turned(math.Pi / 2)
	ps, err := allPairs([]Body{a, b, NewBody(s, q.Moved(Vec3{Z: 40})), NewBody(s, q.Moved(Vec3{Z: 40}).Mul(At(Vec3{1.5, 0.2, 0})))}, 1)
	if err != nil {
		t.Fatal(err)
	}
	if ps[0].Push != (Vec3{X: 1}) || ps[5].Push != (Vec3{Y: 1}) {
		t.Errorf("%v, turned %v", ps[0].Push, ps[5].Push)
	}
}

// Regions: contact, one in the other, in its hole, and across.
func TestRegionsNear(t *testing.T) {
	reg := func(p Profile) region { return newRegion(p.loops()) }
	sq := func(x, y, w float64) region { return reg(Profile{Outer: RectAt(Vec2{x, y}, w, w)}) }
	frame := reg(Profile{Outer: RectAt(Vec2{}, 10, 10), Slots: []Path{RectAt(Vec2{}, 6, 6).Reversed()}})
	for _, x := range []struct {
		name   string
		a, b   region
		d      float64
		inside bool
		cross  bool
	}{
		{"apart", sq(0, 0, 2), sq(5, 6, 2), 5, false, false},
		{"side by side", sq(0, 0, 2), sq(5, 0, 2), 3, false, false},
		{"touching", sq(0, 0, 2), sq(2, 0, 2), 0, false, false},
		{"across", sq(0, 0, 2), sq(1, 1, 2), 0, false, true},
		{"inside", sq(0, 0, 9), sq(1, 1, 2), 0, true, false},
		{"in the hole", frame, sq(1, 1, 2), 1, false, false},
		{"in the frame", frame, sq(4, 4, 1), 0, true, false},
		{"over the hole's edge", frame, sq(3, 0, 2), 0, false, true},
		{"round it all", frame, sq(0, 0, 20), 0, true, false},
	} {
		for _, r := range [][2]region{{x.a, x.b}, {x.b, x.a}} {
			n := r[0].near(r[1])
			near(t, x.name, n.d, x.d, 1e-12)
			if n.inside != x.inside || r[0].crosses(r[1]) != x.cross {
				t.Errorf("%s: %+v, crosses %v", x.name, n, r[0].crosses(r[1]))
			}
			if !n.inside {
				near(t, x.name+" points", n.p.Dist(n.q), x.d, 1e-12)
			}
		}
	}
	// seen in a mirror the region is the same region
	l := reg(Profile{Outer: path(t)(LProfile(9, 6, 2, 1, 0.5)), Circles: []Circle{{Vec2{6, 1}, 0.4}}})
	for _, f := range []frame2{{Vec2{1, 2}, Vec2{1, 0}, Vec2{0, -1}}, {Vec2{1, 2}, Vec2{0, 1}, Vec2{-1, 0}}, {Vec2{}, Vec2{0, 1}, Vec2{1, 0}}} {
		m := l.mapped(f)
		r := rand.New(rand.NewSource(71))
		for range 300 {
			q := Vec2{10 * r.Float64(), 7 * r.Float64()}
			if p := f.point(q); l.contains(q) != m.contains(p) {
				t.Fatalf("%v is in one of the two", q)
			}
			for i, e := range l.loops {
				for j := range e {
					near(t, "distance", m.loops[i][j].Dist(f.point(q)), e[j].Dist(q), 1e-12)
				}
			}
		}
	}
}

// Prisms one over the other, beside, and both: the closest points lie on both.
func TestParallelNear(t *testing.T) {
	a := NewBody(solid(t)(Cylinder(2, 0, 10)), World())
	for _, x := range []struct {
		o    Vec3
		flip bool
		want float64
	}{
		{Vec3{7, 0, 3}, false, 3}, {Vec3{7, 0, 14}, false, 5}, {Vec3{0, 0, 12}, false, 2}, {Vec3{0, 0, -12}, false, 2}, {Vec3{7, 0, -14}, false, 5},
		{Vec3{7, 0, 24}, true, 5}, {Vec3{0, 0, 22}, true, 2}, {Vec3{0, 0, -1}, true, 1}, {Vec3{0, 7, 10}, false, 3}, {Vec3{0, 7, -10}, false, 3},
	} {
		f := At(x.o)
		if x.flip {
			f.Y, f.Z = f.Y.Mul(-1), f.Z.Mul(-1)
		}
		b := NewBody(solid(t)(Cylinder(2, 0, 10)), f)
		g := dist(t, a, b)
		near(t, "gap", g.MM, x.want, 1e-9)
		near(t, "points", g.OnA.Dist(g.OnB), x.want, 1e-9)
		p, q := g.OnA, f.ToLocal(g.OnB)
		for _, c := range []Vec3{p, q} {
			if c.XY().Len() > 2+1e-9 || c.Z < -1e-9 || c.Z > 10+1e-9 {
				t.Errorf("%+v: closest point %v is on neither", x, c)
			}
		}
	}
}

// Trees against all pairs of triangles: nearest, overlapping, one in the other.
func TestTreesAgainstAllPairs(t *testing.T) {
	r := rand.New(rand.NewSource(72))
	mesh := func(s Solid) Mesh {
		m, err := s.Mesh(0.6)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	a, b := mesh(solid(t)(Tube(6, 4, 0, 8))), mesh(solid(t)(HexPrism(5, 1, 0, 3)))
	ta, tb := newTree(a), newTree(b)
	meet, free := 0, 0
	for range rounds(120) {
		f := randomFrame(r)
		f.O = f.O.Mul(0.25)
		n := far3()
		hit := false
		for _, x := range ta.tris {
			for _, y := range tb.tris {
				y = f.tri(y)
				gap := x.box().Dist(y.box())
				if gap < n.d {
					n.triNear(x, y, false)
				}
				if gap == 0 {
					_, ok := pierced(x, y, pierceTol)
					hit = hit || ok
				}
			}
		}
		got := ta.near(tb, f, math.Inf(1))
		near(t, "distance", got.d, n.d, sameDist)
		if half := ta.near(tb, f, n.d/2); n.d > 0 && !math.IsInf(half.d, 1) {
			t.Errorf("nearer than %g: %g", n.d/2, half.d)
		}
		if _, ok := ta.overlaps(tb, f, pierceTol); ok != hit {
			if _, nested := ta.nested(tb, f); !nested {
				t.Errorf("overlap %v, by pairs %v", ok, hit)
			}
		}
		if hit {
			meet++
		} else {
			free++
		}
	}
	if meet < 2 || free < 2 {
		t.Errorf("%d meet, %d do not", meet, free)
	}
	small := newTree(mesh(block(t, 1, 1, 1)))
	for _, x := range []struct {
		o    Vec3
		want bool
	}{{Vec3{5, 0, 4}, true}, {Vec3{0, 0, 4}, false}, {Vec3{20, 0, 4}, false}, {Vec3{-5, 0, 2}, true}} {
		if _, ok := ta.overlaps(small, At(x.o), pierceTol); ok != x.want {
			t.Errorf("a block at %v: %v", x.o, ok)
		}
		if p, ok := small.nested(ta, At(x.o).Inverse()); ok != x.want || ok && !small.contains(p) {
			t.Errorf("a block about it at %v: %v %v", x.o, ok, p)
		}
		if ta.contains(x.o) != x.want {
			t.Errorf("%v in the tube: %v", x.o, !x.want)
		}
	}
}

// A body pushed out of a comb stops only when it meets no other tooth.
func TestExitGoesRound(t *testing.T) {
	p := Path{}
	for i := range 4 { // teeth two wide, gaps of one
		x := 3 * float64(i)
		p = append(p, Vertex{P: Vec2{x, 0}}, Vertex{P: Vec2{x, 5}}, Vertex{P: Vec2{x + 2, 5}}, Vertex{P: Vec2{x + 2, 0}})
	}
	p = append(p, Vertex{P: Vec2{11, -2}}, Vertex{P: Vec2{0, -2}})
	comb := NewBody(solid(t)(Prism(Profile{Outer: p.Oriented(true)}, 0, 4)), World())
	peg := func(x, w float64) Body { return NewBody(block(t, w, 2, 2), At(Vec3{x, 3, 2})) }
	for _, x := range []struct {
		at, w, right, left, up float64
	}{{1, 1.5, 10.75, 1.75, 3}, {1, 0.5, 1.25, 1.25, 3}, {4, 0.9, 1.45, 1.45, 3}, {4, 1.1, 7.55, 4.55, 3}} {
		q := newQuery(comb, peg(x.at, x.w))
		for d, want := range map[Vec3]float64{{X: 1}: x.right, {X: -1}: x.left, {Y: 1}: x.up, {Z: 1}: 3, {Z: -1}: 3} {
			got, err := q.exit(d, math.Inf(1))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "exit", got, want, 1e-9)
			if got, _ := q.exit(d, want-0.01); !math.IsInf(got, 1) {
				t.Errorf("%g found under the limit", got)
			}
			if got, _ := q.exit(d, want+0.01); math.Abs(got-want) > 1e-9 {
				t.Errorf("%g not found at the limit", got)
			}
		}
	}
}

// Boxes part along slanting directions as their sides say, and are met again by
// none.
func TestSlantingExits(t *testing.T) {
	a, b := block(t, 10, 8, 6), block(t, 2, 3, 4)
	at := Vec3{1, 0.5, -0.75}
	for _, d := range []Vec3{{3, 4, 0}, {-3, 4, 0}, {3, -4, 0}, {4, 0, 3}, {0, 3, -4}, {1, 2, 2}, {-2, 1, 2}, {2, -2, -1}, {5, 12, 0.01}} {
		d = d.Unit()
		got, err := newQuery(NewBody(a, World()), NewBody(b, At(at))).exit(d, math.Inf(1))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "exit", got, boxExit(a.Bounds(), Box3{b.Bounds().Min.Add(at), b.Bounds().Max.Add(at)}, d), 1e-8)
	}
}

// Solids known by their mesh only: inside one another, in the bore, and meeting.
func TestSoups(t *testing.T) {
	soup := func(s Solid) Solid {
		m, err := s.Mesh(0.05)
		if err != nil {
			t.Fatal(err)
		}
		return solid(t)(FromMesh(m))
	}
	tube, peg := soup(solid(t)(Tube(10, 4, 0, 30))), soup(block(t, 2, 2, 2))
	for _, x := range []struct {
		o    Vec3
		rel  Relation
		mm   float64
		push Vec3
	}{
		{Vec3{0, 0, 15}, Apart, 4 - math.Sqrt2, Vec3{}}, {Vec3{7, 0, 15}, Interfering, -4, Vec3{X: 1}}, {Vec3{7, 0, 28}, Interfering, -3, Vec3{Z: 1}}, {Vec3{14, 0, 15}, Apart, 3, Vec3{}},
		{Vec3{0, 7.5, 15}, Interfering, -3.5, Vec3{Y: 1}},
	} {
		for _, pair := range [][2]Solid{{tube, peg}, {peg, tube}} {
			o, push := x.o, x.push
			if pair[0].Volume() < pair[1].Volume() {
				o, push = o.Mul(-1), push.Mul(-1)
			}
			g := dist(t, NewBody(pair[0], World()), NewBody(pair[1], At(o)))
			near(t, "gap or depth", g.MM, x.mm, 0.06)
			if g.Relation != x.rel || g.Push.Dist(push) > 0 {
				t.Errorf("at %v: %+v", o, g)
			}
		}
	}
}

// Boundaries that cross near the end of an edge are left to the sweep.
func TestCrossingsNearEnds(t *testing.T) {
	base := []Edge{NewEdge(Vec2{0, 0}, Vec2{10, 0}, 0)}
	for x, want := range map[float64]bool{0.005: false, 0.02: true, 5: true, 9.98: true, 9.995: false} {
		post := []Edge{NewEdge(Vec2{x, -5}, Vec2{x, 5}, 0)}
		if loopsCross(base, post) != want || loopsCross(post, base) != want {
			t.Errorf("at %g: %v", x, !want)
		}
	}
	for slope, want := range map[float64]bool{0.9e-3: false, 1.1e-3: true} { // and those at a small angle
		if loopsCross(base, []Edge{NewEdge(Vec2{0, -5 * slope}, Vec2{10, 5 * slope}, 0)}) != want {
			t.Errorf("at a slope of %g: %v", slope, !want)
		}
	}
	for skew, want := range map[float64]bool{0: true, 0.5e-9: true, -0.5e-9: true, 2e-9: false, -2e-9: false} {
		p := Path{{P: Vec2{0, 0}}, {P: Vec2{100, 0}}, {P: Vec2{100 + 50*skew, 50}}, {P: Vec2{50 * skew, 50}}}
		if _, _, ok := rectangle(Profile{Outer: p}); ok != want {
			t.Errorf("skewed by %g: a rectangle %v", skew, ok)
		}
	}
}

// What is turned with a profile turns alike.
func TestTurnedAlike(t *testing.T) {
	for _, angle := range []float64{0.5, 2.2, -1.3} {
		p := Profile{Outer: Rect(Vec2{3, 1}, Vec2{7, 4}), Circles: []Circle{{Vec2{3, 1}, 1}, {Vec2{7, 4}, 1}}}.Turned(angle)
		for i, k := range []int{0, 2} {
			near(t, "turned", p.Circles[i].C.Dist(p.Outer[k].P), 0, 1e-12)
			near(t, "angle", math.Remainder(p.Outer[k].P.Angle()-([]Vec2{{3, 1}, {7, 4}})[i].Angle()-angle, 2*math.Pi), 0, 1e-12)
			near(t, "length", p.Outer[k].P.Len(), ([]Vec2{{3, 1}, {7, 4}})[i].Len(), 1e-12)
		}
	}
}
