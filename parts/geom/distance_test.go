package geom

import (
	"math"
	"math/rand"
	"testing"
)

func dist(t testing.TB, a, b Body) Gap {
	t.Helper()
	g, err := DistanceWithin(a, b, math.Inf(1))
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func block(t testing.TB, w, h, d float64) Solid {
	return solid(t)(Box(Vec3{-w / 2, -h / 2, -d / 2}, Vec3{w / 2, h / 2, d / 2}))
}

func rod(t testing.TB, r, l float64) Solid { return solid(t)(Cylinder(r, 0, l)) }

// lying turns z to x: x, y, z of the solid go to y, z, x of the world.
func lying(o Vec3) Frame { return Frame{o, Vec3{Y: 1}, Vec3{Z: 1}, Vec3{X: 1}} }

func TestDistanceClosedForms(t *testing.T) {
	b := NewBody(block(t, 2, 4, 6), World())
	tests := []struct {
		name string
		b    Body
		want float64
		tol  float64
	}{
		{"box corner to corner", NewBody(block(t, 2, 2, 2), At(Vec3{5, 6, 8})), math.Sqrt(9 + 9 + 16), 1e-9},
		{"box face to face", NewBody(block(t, 2, 2, 2), At(Vec3{0, 0, 7})), 3, 1e-9},
		{"cylinder beside a box", NewBody(rod(t, 1.5, 10), At(Vec3{4, 0, -5})), 1.5, 1e-9},
		{"cylinder off a box's edge", NewBody(rod(t, 1, 10), At(Vec3{4, 6, -5})), 4, 1e-9},
		{"cylinder over a box's corner", NewBody(rod(t, 1, 10), At(Vec3{4, 6, 6})), 5, 1e-9},
		{"cylinder lying past a box", NewBody(rod(t, 1, 10), lying(Vec3{-5, 0, 7})), 3, 1e-9},
	}
	for _, tt := range tests {
		g := dist(t, b, tt.b)
		near(t, tt.name, g.MM, tt.want, tt.tol)
		near(t, tt.name+" points", g.OnA.Dist(g.OnB), tt.want, tt.tol)
		back := dist(t, tt.b, b)
		near(t, tt.name+" swapped", back.MM, tt.want, tt.tol)
		f := randomFrame(rand.New(rand.NewSource(7)))
		turned := dist(t, Body{b.Solid, f.Mul(b.Frame)}, Body{tt.b.Solid, f.Mul(tt.b.Frame)})
		near(t, tt.name+" turned", turned.MM, tt.want, 1e-8)
	}
}

func TestDistanceCylinders(t *testing.T) {
	a := NewBody(rod(t, 4, 100), World())
	near(t, "parallel", dist(t, a, NewBody(rod(t, 3, 50), At(Vec3{30, 40, 20}))).MM, 43, 1e-9)
	near(t, "parallel beyond the end", dist(t, a, NewBody(rod(t, 3, 50), At(Vec3{7 + 3, 0, 104}))).MM, 5, 1e-9)
	near(t, "skew at right angles", dist(t, a, NewBody(rod(t, 3, 100), lying(Vec3{-50, 20, 50}))).MM, 13, 0.005)
	s, c := math.Sincos(0.6)
	skew := Frame{O: Vec3{20, 0, 50}, X: Vec3{X: 1}, Y: Vec3{0, c, s}, Z: Vec3{0, -s, c}}
	near(t, "skew", dist(t, a, NewBody(solid(t)(Cylinder(3, -40, 40)), skew)).MM, 13, 0.005)
	near(t, "end over end face", dist(t, a, NewBody(rod(t, 9, 5), At(Vec3{1, 2, 101.25}))).MM, 1.25, 1e-9)
}

func holedPlate(t testing.TB) Solid {
	p := Profile{Outer: RectAt(Vec2{}, 224, 200)}
	for _, c := range []Vec2{{-100, -50}, {100, -50}, {-100, 50}, {100, 50}} {
		p.Circles = append(p.Circles, Circle{c, 4.5})
	}
	return solid(t)(Prism(p, 0, 12.7))
}

func TestDistanceNested(t *testing.T) {
	plate := NewBody(holedPlate(t), World())
	r := rod(t, 4, 60)
	near(t, "rod centred in its hole", dist(t, plate, NewBody(r, At(Vec3{100, 50, -20}))).MM, 0.5, 1e-9)
	near(t, "rod off centre", dist(t, plate, NewBody(r, At(Vec3{100.3, 50, -20}))).MM, 0.2, 1e-9)
	g := dist(t, plate, NewBody(r, At(Vec3{100.7, 50, -20})))
	if g.Relation != Interfering || math.Abs(g.MM+0.2) > 0.003 || g.Push != (Vec3{X: -1}) {
		t.Errorf("rod into the hole's wall: %+v", g)
	}
	tube := NewBody(solid(t)(Tube(10, 8, 0, 40)), World())
	ball := NewBody(block(t, 2, 2, 2), At(Vec3{0, 0, 20}))
	near(t, "box in a tube", dist(t, tube, ball).MM, 8-math.Sqrt2, 1e-9)
}

func TestInterference(t *testing.T) {
	a := NewBody(block(t, 10, 10, 10), World())
	tests := []struct {
		name string
		b    Body
		rel  Relation
		mm   float64
		push Vec3
	}{
		{"corner", NewBody(block(t, 4, 4, 4), At(Vec3{6, 6.5, -6.25})), Interfering, -0.5, Vec3{Y: 1}},
		{"inside", NewBody(block(t, 2, 2, 2), At(Vec3{0, 0, -3})), Interfering, -3, Vec3{Z: -1}},
		{"cylinder inside", NewBody(rod(t, 1, 2), At(Vec3{3, 0, 0})), Interfering, -3, Vec3{X: 1}},
		{"through", NewBody(rod(t, 1, 40), At(Vec3{3, 0, -20})), Interfering, -3, Vec3{X: 1}},
		{"the same", a, Interfering, -10, Vec3{X: 1}},
		{"face to face", NewBody(block(t, 4, 4, 4), At(Vec3{1, 2, 7})), Touching, 0, Vec3{}},
		{"edge to edge", NewBody(block(t, 4, 4, 4), At(Vec3{7, 7, 0})), Touching, 0, Vec3{}},
		{"nearly", NewBody(block(t, 4, 4, 4), At(Vec3{0, 0, 7.003})), Touching, 0.003, Vec3{}},
		{"hardly", NewBody(block(t, 4, 4, 4), At(Vec3{0, 0, 6.997})), Touching, 0, Vec3{}},
		{"apart", NewBody(block(t, 4, 4, 4), At(Vec3{0, 0, 7.01})), Apart, 0.01, Vec3{}},
	}
	for _, tt := range tests {
		g := dist(t, a, tt.b)
		if g.Relation != tt.rel || g.Push != tt.push {
			t.Errorf("%s: %v %v, want %v %v", tt.name, g.Relation, g.Push, tt.rel, tt.push)
		}
		near(t, tt.name, g.MM, tt.mm, 1e-9)
		if tt.rel == Interfering {
			after := dist(t, a, moved(tt.b, g.Push.Mul(-g.MM)))
			if after.Relation == Interfering {
				t.Errorf("%s: still interfering after the move", tt.name)
			}
		}
	}
}

// A washer seat against the root fillet: by hand, a disc of radius R lying on
// the leg with its centre at g from the heel clears a fillet of radius r by
// being on the flat when g - R >= t + r; lifted by h and nearer, the gap is to
// the arc about (t+r, t+r).
func TestWasherAgainstFillet(t *testing.T) {
	a := testAngle()
	ang := NewBody(solid(t)(a.Solid()), World())
	washer := solid(t)(Tube(8, 4.25, 0, 1.6))
	on := func(y, lift float64) Gap { return dist(t, ang, NewBody(washer, At(Vec3{90, y, a.T + lift}))) }
	if g := on(17, 0); g.Relation != Touching {
		t.Errorf("flat washer: %+v", g)
	}
	if g := on(15.2, 0); g.Relation != Touching {
		t.Errorf("washer just off the fillet: %+v", g)
	}
	g := on(14, 0) // its edge at 6, the fillet begins at 7.175
	if g.Relation != Interfering {
		t.Fatalf("washer on the fillet: %+v", g)
	}
	// lifting by the fillet's height at y = 6, or moving out by 1.175
	height := 4 - math.Sqrt(16-1.175*1.175)
	near(t, "lift", -g.MM, height, 0.002)
	if g.Push != (Vec3{Z: 1}) {
		t.Errorf("push %v", g.Push)
	}
	m, err := newQuery(ang, NewBody(washer, At(Vec3{90, 14, a.T}))).exit(Vec3{Y: 1}, math.Inf(1))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "move out", m, 1.175, 0.08) // the fillet leaves the leg at a tangent: meshes see it late
	// lifted clear: lower rim at (6, t+0.6) against the arc about (7.175, 7.175)
	g = on(14, 0.6)
	near(t, "rim to fillet", g.MM, 4-math.Hypot(7.175-6, 4-0.6), 0.005)
}

// sampled is the least distance between points strewn over both surfaces: an
// upper bound of the true distance, and close to it.
func sampled(t testing.TB, a, b Body) float64 {
	ma, err := a.Solid.Mesh(0.2)
	if err != nil {
		t.Fatal(err)
	}
	mb, err := b.Solid.Mesh(0.2)
	if err != nil {
		t.Fatal(err)
	}
	best := near3{d: math.Inf(1)}
	ma, mb = ma.Transform(a.Frame), mb.Transform(b.Frame)
	for _, p := range ma.Vertices { // a first bound, so that few triangles are left to compare
		for _, q := range mb.Vertices {
			best.try(p, q)
		}
	}
	ta, tb := newTree(ma), newTree(mb) // for the triangles and their boxes only
	for i, x := range ta.tris {
		for j, y := range tb.tris {
			if ta.boxes[i].Dist(tb.boxes[j]) < best.d {
				best.triNear(x, y, false)
			}
		}
	}
	return best.d
}

func randomSolid(t testing.TB, r *rand.Rand) Solid {
	switch r.Intn(5) {
	case 0:
		return block(t, 1+9*r.Float64(), 1+9*r.Float64(), 1+9*r.Float64())
	case 1:
		return rod(t, 1+4*r.Float64(), 1+20*r.Float64())
	case 2:
		return solid(t)(HexPrism(8, 2, 0, 5))
	case 3:
		return solid(t)(Tube(6, 2+3*r.Float64(), 0, 3))
	}
	return solid(t)(testAngle().Solid())
}

// The exact way (prisms in closed form, pieces, trees, containment) against the
// plain way: every triangle of one fine mesh against every one of the other.
func TestDistanceAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewSource(11))
	aligned := []Frame{World(), lying(Vec3{}), {X: Vec3{X: 1}, Y: Vec3{Y: -1}, Z: Vec3{Z: -1}}, World().Turned(math.Pi / 2)}
	apart, meet, n := 0, 0, rounds(50)
	for i := range n {
		fa, fb := randomFrame(r), randomFrame(r)
		fa.O, fb.O = Vec3{}, fb.O.Mul(0.2)
		if i%2 == 0 {
			o := fb.O
			fa, fb = aligned[r.Intn(4)], aligned[r.Intn(4)]
			fb.O = o
		}
		a, b := NewBody(randomSolid(t, r), fa), NewBody(randomSolid(t, r), fb)
		g := dist(t, a, b)
		if g.Relation == Interfering {
			meet++
			after := dist(t, a, moved(b, g.Push.Mul(-g.MM+0.003)))
			if after.Relation == Interfering {
				t.Errorf("case %d: still interfering by %g after a move of %g", i, after.MM, g.MM)
			}
			back := dist(t, b, a)
			near(t, "swapped depth", back.MM, g.MM, 0.003)
			continue
		}
		apart++
		want := sampled(t, a, b)
		if g.MM > want+0.003 || g.MM < want-0.41 {
			t.Errorf("case %d: %g, brute force %g", i, g.MM, want)
		}
	}
	if apart < n/5 || meet < n/5 {
		t.Errorf("%d apart, %d meeting: not much of a test", apart, meet)
	}
}
