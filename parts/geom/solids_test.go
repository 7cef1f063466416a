package geom

import (
	"errors"
	"math"
	"math/rand"
	"testing"
)

// Volume, centroid and box of a solid moved about, against its mesh: the slow
// twin. Mitred tips, holes, slots and fillets are all among them.
func TestSumsAgainstMeshes(t *testing.T) {
	r := rand.New(rand.NewSource(51))
	a := testAngle()
	a.ChamferB = 12
	solids := []Solid{solid(t)(a.Solid()), holedPlate(t), solid(t)(HexPrism(13, 2, -1, 4)), solid(t)(Tube(5, 3, 1, 9))}
	slot := path(t)(Obround(Vec2{-3, 0}, Vec2{4, 1}, 2))
	solids = append(solids, solid(t)(Prism(Profile{Outer: path(t)(RoundedRect(Vec2{1, 2}, 20, 12, 3)), Slots: []Path{slot}}, -2, 5)))
	for i, s := range solids {
		f := randomFrame(r)
		for _, q := range []Solid{s, s.Transform(f)} {
			m, err := q.Mesh(0.0005)
			if err != nil {
				t.Fatal(err)
			}
			sum := m.sums(Vec3{1, 2, 3})
			near(t, "volume", sum.v/q.Volume(), 1, 3e-4)
			nearVec(t, "centroid", q.Centroid(), sum.m.Mul(1/sum.v).Add(Vec3{1, 2, 3}), 0.02)
			nearVec(t, "min", q.Bounds().Min, m.Bounds().Min, 0.001)
			nearVec(t, "max", q.Bounds().Max, m.Bounds().Max, 0.001)
		}
		nearVec(t, "moved centroid", s.Transform(f).Centroid(), f.Point(s.Centroid()), 1e-9)
		near(t, "moved volume", s.Transform(f).Volume(), s.Volume(), 1e-9*s.Volume())
		m, _ := s.Mesh(0.01)
		soup := solid(t)(FromMesh(m))
		near(t, "volume from the mesh", soup.Volume()/s.Volume(), 1, 5e-4)
		nearVec(t, "moved soup", soup.Transform(f).Centroid(), f.Point(soup.Centroid()), 1e-9)
		near(t, "moved soup's volume", soup.Transform(f).Volume(), soup.Volume(), 1e-9*s.Volume())
		if got, err := soup.Transform(f).Mesh(1); err != nil || len(got.Triangles) != len(m.Triangles) || got.Vertices[3].Dist(f.Point(m.Vertices[3])) > 1e-9 {
			t.Errorf("solid %d: the mesh is not kept: %v", i, err)
		}
	}
}

// A half cylinder, a cone of slopes and their supports by hand.
func TestFaceByHand(t *testing.T) {
	f := Face{Frame: World(), R: 2, Sweep: math.Pi, Z0: -1, Z1: 3, Slope1: Vec2{0.5, 0}}
	for d, want := range map[Vec3]float64{{X: 1}: 2, {X: -1}: 2, {Y: 1}: 2, {Y: -1}: 0, {Z: 1}: 4, {Z: -1}: 1} {
		near(t, "support", f.Support(d), want, 1e-12)
	}
	var area, up float64
	f.integrate(func(p, n Vec3, w float64) {
		area += w
		up += n.Y * w
		near(t, "radius", p.XY().Len(), 2, 1e-12)
		near(t, "normal", n.Dot(p.XY().Unit().V3(0)), 1, 1e-12)
	})
	near(t, "area", area, math.Pi*2*4, 1e-12) // the slope's share cancels
	near(t, "shadow", up, 2*2*4, 1e-12)
	f.Inward = true
	f.integrate(func(p, n Vec3, w float64) { near(t, "inward normal", n.Dot(p.XY().Unit().V3(0)), -1, 1e-12) })
	b := f.Bounds()
	nearVec(t, "min", b.Min, Vec3{-2, 0, -1}, 1e-12)
	nearVec(t, "max", b.Max, Vec3{2, 2, 4}, 1e-12)
	flat := Face{Frame: At(Vec3{1, 1, 1}), Profile: Profile{Outer: Rect(Vec2{}, Vec2{2, 3})}}
	for d, want := range map[Vec3]float64{{X: 1}: 3, {X: -1}: -1, {Y: 1}: 4, {Y: -1}: -1, {Z: 1}: 1, {Z: -1}: -1, {1, 1, 1}: 8} {
		near(t, "support", flat.Support(d), want, 1e-12)
	}
}

// Moments of a triangle off the origin by hand, and a region less its hole.
func TestMomentsByHand(t *testing.T) {
	p := Path{{P: Vec2{1, 2}}, {P: Vec2{4, 2}}, {P: Vec2{1, 8}}} // legs 3 and 6
	m := p.moments()
	near(t, "area", m.s, 9, 1e-12)
	near(t, "x", m.x, 9*2, 1e-12)
	near(t, "y", m.y, 9*4, 1e-12)
	near(t, "xx", m.xx, 6*27/12.+2*1*9+9, 1e-12) // ∫(1+u)² over the legs
	near(t, "yy", m.yy, 3*216/12.+2*2*18+4*9, 1e-12)
	near(t, "xy", m.xy, 9*36/24.+1*18+2*9+2*9, 1e-12)
	c := Circle{Vec2{3, -2}, 2}.moments()
	a := math.Pi * 4
	for _, x := range [][2]float64{{c.s, a}, {c.x, 3 * a}, {c.y, -2 * a}, {c.xx, a + 9*a}, {c.yy, a + 4*a}, {c.xy, -6 * a}} {
		near(t, "circle", x[0], x[1], 1e-12)
	}
	q := Circle{Vec2{3, -2}, 2}.Path().moments()
	for _, x := range [][2]float64{{c.s, q.s}, {c.x, q.x}, {c.y, q.y}, {c.xx, q.xx}, {c.yy, q.yy}, {c.xy, q.xy}} {
		near(t, "circle as a path", x[0], x[1], 1e-11)
	}
	for _, slot := range []Path{RectAt(Vec2{1, 1}, 2, 2), RectAt(Vec2{1, 1}, 2, 2).Reversed()} {
		r := Profile{Outer: RectAt(Vec2{}, 10, 10), Slots: []Path{slot}, Circles: []Circle{{Vec2{-3, 0}, 1}}}.moments()
		near(t, "less its holes", r.s, 100-4-math.Pi, 1e-12)
		near(t, "x less its holes", r.x, -4+3*math.Pi, 1e-12)
	}
	if (Path{}).moments() != (moments{}) {
		t.Error("moments of nothing")
	}
}

// Axes that are off by more than the tolerance are no frame.
func TestFrameLimits(t *testing.T) {
	for _, x := range []struct {
		name string
		f    func(e float64) Frame
	}{
		{"long x", func(e float64) Frame { f := World(); f.X.X += e / 2; return f }},
		{"long y", func(e float64) Frame { f := World(); f.Y.Y += e / 2; return f }},
		{"long z", func(e float64) Frame { f := World(); f.Z.Z -= e / 2; return f }},
		{"x on y", func(e float64) Frame { f := World(); f.X.Y += e; return f }},
		{"y on z", func(e float64) Frame { f := World(); f.Y.Z -= e; return f }},
		{"z on x", func(e float64) Frame { f := World(); f.Z.X += e; return f }},
	} {
		if err := x.f(0.6e-9).Check(); err != nil {
			t.Errorf("%s by a little: %v", x.name, err)
		}
		if err := x.f(2.1e-9).Check(); !errors.Is(err, ErrFrame) {
			t.Errorf("%s: %v", x.name, err)
		}
	}
	checkLimits(t, []limit{
		{"x", func(v float64) error { return At(Vec3{X: v}).Check() }, MaxSize, true, ErrNotFinite},
		{"y", func(v float64) error { return At(Vec3{Y: v}).Check() }, -MaxSize, false, ErrNotFinite},
		{"z", func(v float64) error { return At(Vec3{Z: v}).Check() }, MaxSize, true, ErrNotFinite},
	})
	for k := -9; k < 10; k++ {
		s, c := sincosExact(float64(k) * math.Pi / 2)
		want := [4][2]float64{{0, 1}, {1, 0}, {0, -1}, {-1, 0}}[((k%4)+4)%4]
		if s != want[0] || c != want[1] {
			t.Errorf("%d quarter turns: %g %g", k, s, c)
		}
	}
	for _, k := range []float64{3, -7, 999_999, 1e6} { // a whole count of quarters to a last place or so
		for _, off := range []float64{-0.4e-15, 0.4e-15} {
			if s, c := sincosExact(k * (1 + off) * math.Pi / 2); s*c != 0 || math.Abs(s)+math.Abs(c) != 1 {
				t.Errorf("%g quarters and a last place: %g %g", k, s, c)
			}
		}
	}
	for _, a := range []float64{1e-14, 0.3, math.Pi / 4, math.Pi/2 + 1e-14, 1e7 * math.Pi / 2} {
		if s, c := sincosExact(a); s != math.Sin(a) || c != math.Cos(a) {
			t.Errorf("%g: %g %g", a, s, c)
		}
	}
	f := At(Vec3{1, 2, 3}).Turned(math.Pi / 2).Moved(Vec3{10, 0, 0})
	nearVec(t, "point", f.Point(Vec3{1, 0, 5}), Vec3{11, 3, 8}, 0)
	nearVec(t, "back", f.ToLocal(Vec3{11, 3, 8}), Vec3{1, 0, 5}, 0)
	nearVec(t, "inverse", f.Inverse().O, Vec3{-2, 11, -3}, 0)
	nearVec(t, "direction", f.Dir(Vec3{1, 2, 3}), Vec3{-2, 1, 3}, 0)
}

// Vertices within the weld become one, across cell walls too; further ones not.
func TestWeld(t *testing.T) {
	r := rand.New(rand.NewSource(52))
	for range 2000 {
		p := Vec3{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
		if r.Intn(2) == 0 { // on a wall of the cells
			p.X = math.Round(p.X/(4*Weld)) * 4 * Weld
		}
		off := Vec3{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}.Unit()
		w := newWelder()
		a := w.add(p)
		if b := w.add(p.Add(off.Mul(0.99 * Weld))); b != a {
			t.Fatalf("%v and %v are two", p, off)
		}
		if b := w.add(p.Add(off.Mul(1.01 * Weld))); b == a {
			t.Fatalf("%v and %v are one", p, off)
		}
	}
	w := newWelder()
	for _, c := range [][3]int32{{0, 0, 1}, {0, 1, 1}, {0, 1, 0}, {2, 2, 2}} {
		w.triangle(c[0], c[1], c[2])
	}
	if w.triangle(0, 1, 2); len(w.m.Triangles) != 1 {
		t.Error(w.m.Triangles)
	}
}

// What a mesh must not have: each fault alone.
func TestMeshFaults(t *testing.T) {
	v := []Vec3{{}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	good := []Triangle{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}}
	if err := (Mesh{v, good}).Check(); err != nil {
		t.Fatal(err)
	}
	near(t, "volume", Mesh{v, good}.Volume(), 1./6, 1e-15)
	for name, ts := range map[string][]Triangle{
		"open": good[1:], "turned over": {{0, 1, 2}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}}, "twice": append(append([]Triangle{}, good...), good[0]),
		"no such vertex": {{0, 2, 1}, {0, 1, 4}, {1, 2, 3}, {2, 0, 3}}, "negative": {{0, 2, -1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}}, "a line": append(append([]Triangle{}, good...), Triangle{0, 0, 1}),
	} {
		if err := (Mesh{v, ts}).Check(); !errors.Is(err, ErrMesh) {
			t.Errorf("%s: %v", name, err)
		}
	}
	far := append([]Vec3{}, v...)
	far[2].Y = 2 * MaxSize
	if err := (Mesh{far, good}).Check(); !errors.Is(err, ErrNotFinite) {
		t.Error(err)
	}
	inside := []Triangle{{0, 1, 2}, {0, 3, 1}, {1, 3, 2}, {2, 3, 0}}
	if _, err := FromMesh(Mesh{v, inside}); !errors.Is(err, ErrMesh) {
		t.Error(err)
	}
	if _, err := FromMesh(Mesh{v, good}); err != nil {
		t.Error(err)
	}
	if (Mesh{}).Volume() != 0 {
		t.Error("volume of nothing")
	}
}

// Meshes keep to the volume, and boundaries that lie close keep apart however
// coarse the chords.
func TestMeshKeepsVolumeAndWalls(t *testing.T) {
	rod := solid(t)(Cylinder(2, 0, 100))
	for _, e := range []float64{1, 0.1, 0.01} {
		m := checkMesh(t, rod, e)
		if lost := 1 - m.Volume()/rod.Volume(); lost <= 0 || lost > VolumeErr {
			t.Errorf("chord error %g loses %g of the volume", e, lost)
		}
	}
	for _, e := range []float64{MinChordErr, MaxSize} { // the limits themselves are taken
		checkMesh(t, mustBox(t), e)
	}
	thin := Profile{Outer: Circle{R: 10}.Path(), Circles: []Circle{{R: 9.99}}}
	checkMesh(t, solid(t)(Prism(thin, 0, 1)), 1)
	near(t, "gap of a ring", thin.gap(), 0.01, 1e-9)
	near(t, "gap of a neck", Profile{Outer: Path{{P: Vec2{0, 0}}, {P: Vec2{9, 0}}, {P: Vec2{9, 5}}, {P: Vec2{5, 2}}, {P: Vec2{1, 5}}}}.gap(), 2, 1e-9)
	near(t, "gap of a square", Profile{Outer: RectAt(Vec2{}, 3, 4)}.gap(), 3, 1e-9)
	near(t, "gap of holes", Profile{Outer: RectAt(Vec2{}, 30, 30), Circles: []Circle{{Vec2{-3, 0}, 2}, {Vec2{3, 0}, 2}}}.gap(), 2, 1e-9)
	if got := (&brep{faces: holedPlate(t).b.faces}).safeChord(); math.Abs(got-7.5/3) > 1e-9 { // the holes stand 12 - 4.5 from the sides
		t.Errorf("safe chord %g", got)
	}
	if got := (&brep{faces: mustBox(t).b.faces}).safeChord(); !math.IsInf(got, 1) {
		t.Errorf("safe chord of a box %g", got)
	}
}

// Whole paths: turned, mirrored, moved and reversed keep what they must.
func TestPathsMoved(t *testing.T) {
	p := Path{{Vec2{0, 0}, 0.3}, {Vec2{4, 0}, 0}, {Vec2{4, 2}, -0.2}, {Vec2{0, 2}, 0}}
	if q := p.Reversed(); q[0] != (Vertex{Vec2{0, 2}, 0.2}) || q[1] != (Vertex{Vec2{4, 2}, 0}) || q[2] != (Vertex{Vec2{4, 0}, -0.3}) || q[3] != (Vertex{Vec2{0, 0}, 0}) {
		t.Errorf("reversed %v", q)
	}
	if q := p.Moved(Vec2{1, 2}); q[2] != (Vertex{Vec2{5, 4}, -0.2}) || p[2].P != (Vec2{4, 2}) {
		t.Errorf("moved %v", q)
	}
	if q := p.Turned(math.Pi / 2); q[2] != (Vertex{Vec2{-2, 4}, -0.2}) {
		t.Errorf("turned %v", q)
	}
	m := p.MirroredY()
	near(t, "mirrored area", m.Area(), p.Area(), 1e-12)
	near(t, "mirrored box", m.Bounds().Min.Y+p.Bounds().Max.Y, 0, 1e-12)
	near(t, "mirrored box", m.Bounds().Max.Y+p.Bounds().Min.Y, 0, 1e-12)
	pr := Profile{Outer: p, Slots: []Path{RectAt(Vec2{1, 1}, 0.5, 0.5)}, Circles: []Circle{{Vec2{3, 1}, 0.2}}}
	if q := pr.Moved(Vec2{1, 2}); q.Circles[0].C != (Vec2{4, 3}) || q.Slots[0][0].P != (Vec2{1.75, 2.75}) {
		t.Errorf("moved %v", q)
	}
	if q := pr.Turned(math.Pi / 2); q.Circles[0].C != (Vec2{-1, 3}) || q.Slots[0][0].P != (Vec2{-0.75, 0.75}) {
		t.Errorf("turned %v", q)
	}
	if q := pr.MirroredY(); q.Circles[0].C != (Vec2{3, -1}) {
		t.Errorf("mirrored %v", q)
	}
	if q := pr.Normalized(); !q.Outer.CCW() || q.Slots[0].CCW() {
		t.Error("normalized")
	}
	short := Path{{P: Vec2{0, 0}}, {P: Vec2{0.9e-4, 0}}, {P: Vec2{4, 0}}, {P: Vec2{4, 1.1e-4}}, {P: Vec2{0, 3}}}
	if q := short.WithoutShort(); len(q) != 4 || q[0].P.X != 0.9e-4 {
		t.Errorf("without short %v", q)
	}
	for q, want := range map[Vec2]float64{{2, 1.9}: 0.1, {0.5, 1}: 0.5, {-3, 2}: -3, {-3, -4}: -5} {
		near(t, "how far inside", Path{{P: Vec2{0, 0}}, {P: Vec2{4, 0}}, {P: Vec2{4, 2}}, {P: Vec2{0, 2}}}.DistTo(q), want, 1e-12)
	}
}

// Neighbours of a path may meet in their shared vertex alone, and not fold back.
func TestNeighboursMeetOnce(t *testing.T) {
	v := func(x, y float64) Vertex { return Vertex{P: Vec2{x, y}} }
	for name, x := range map[string]struct {
		p  Path
		ok bool
	}{
		"arc cut by the line after":  {Path{{Vec2{0, 0}, 1}, v(4, 0), v(1, -3)}, false},
		"arc cut by the line before": {Path{v(1, -3), {Vec2{0, 0}, 1}, v(4, 0)}, false},
		"fold of two lines":          {Path{v(0, 0), v(4, 0), v(2, 0), v(2, 3)}, false},
		"fold at the start":          {Path{v(4, 0), v(2, 0), v(2, 3), v(0, 0)}, false},
		"straight on":                {Path{v(0, 0), v(2, 0), v(4, 0), v(4, 3)}, true},
		"tangent arc going on":       {Path{v(0, 0), {Vec2{4, 0}, 0.4}, v(6, 3), v(0, 3)}, true},
		"cusp of an arc and a line":  {Path{v(0, 0), {Vec2{4, 0}, -1}, v(4, 2), v(0, 4)}, true},
		"arc there and back":         {Path{{Vec2{0, 0}, 0.5}, {Vec2{4, 0}, -0.5}}, false},
		"two arcs about a lens":      {Path{{Vec2{0, 0}, 0.5}, {Vec2{4, 0}, 0.5}}, true},
		"two arcs of two radii":      {Path{{Vec2{0, 0}, 0.5}, {Vec2{4, 0}, -0.3}}, true},
		"nothing enclosed":           {Path{v(0, 0), v(4, 0), v(4, 1e-9)}, false},
	} {
		if err := x.p.Validate(); (err == nil) != x.ok {
			t.Errorf("%s: %v", name, err)
		}
	}
}
