package geom

import (
	"errors"
	"math"
	"math/rand"
	"testing"
)

// checkMesh verifies a solid's mesh: closed, oriented, of nearly the exact
// volume, inside the exact box, deterministic.
func checkMesh(t *testing.T, s Solid, chordErr float64) Mesh {
	t.Helper()
	m, err := s.Mesh(chordErr)
	if err != nil {
		t.Fatal(err)
	}
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	near(t, "mesh volume", m.Volume(), s.Volume(), VolumeErr*s.Volume()+1e-9)
	b, eb := m.Bounds(), s.Bounds().Grown(1e-9)
	if !eb.Contains(b.Min) || !eb.Contains(b.Max) {
		t.Errorf("mesh %v sticks out of %v", b, eb)
	}
	return m
}

func TestBoxAndCylinder(t *testing.T) {
	b := solid(t)(Box(Vec3{1, 2, 3}, Vec3{4, 6, 8}))
	near(t, "volume", b.Volume(), 60, 1e-10)
	nearVec(t, "centroid", b.Centroid(), Vec3{2.5, 4, 5.5}, 1e-12)
	if m := checkMesh(t, b, 0.01); len(m.Triangles) != 12 || len(m.Vertices) != 8 {
		t.Errorf("box has %d triangles, %d vertices", len(m.Triangles), len(m.Vertices))
	}
	c := solid(t)(Cylinder(4, -10, 90))
	near(t, "volume", c.Volume(), math.Pi*16*100, 1e-9)
	nearVec(t, "centroid", c.Centroid(), Vec3{0, 0, 40}, 1e-11)
	checkMesh(t, c, 0.01)
}

// Every mesh vertex lies on the true surface and every triangle's middle within
// the chord error of it.
func TestMeshChordError(t *testing.T) {
	for _, e := range []float64{1, 0.1, 0.01, 0.001} {
		s := solid(t)(Tube(6, 4.2, 0, 10))
		m := checkMesh(t, s, e)
		for i := range m.Triangles {
			a, b, c := m.corners(i)
			for _, p := range []Vec3{a, b, c} {
				if r := p.XY().Len(); math.Abs(r-6) > 1e-9 && math.Abs(r-4.2) > 1e-9 {
					t.Fatalf("vertex at radius %g", r)
				}
			}
			if a.Z != b.Z || b.Z != c.Z {
				mid := max(a.Lerp(b, 0.5).XY().Len(), b.Lerp(c, 0.5).XY().Len(), c.Lerp(a, 0.5).XY().Len())
				low := min(a.Lerp(b, 0.5).XY().Len(), b.Lerp(c, 0.5).XY().Len(), c.Lerp(a, 0.5).XY().Len())
				if low < 6-e && low > 4.2 || mid > 6+1e-9 || low < 4.2-e {
					t.Fatalf("chord at radius %g strays more than %g", low, e)
				}
			}
		}
	}
}

// meshArea is the surface of a fine mesh.
func meshArea(t *testing.T, s Solid) (a float64) {
	m, err := s.Mesh(0.2)
	if err != nil {
		t.Fatal(err)
	}
	for i := range m.Triangles {
		p, q, r := m.corners(i)
		a += q.Sub(p).Cross(r.Sub(p)).Len() / 2
	}
	return a
}

func TestPrismRandom(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for range rounds(60) {
		p := randomFace(r)
		z0, h := r.Float64()*20-10, 0.5+r.Float64()*20
		s := solid(t)(Prism(p, z0, z0+h))
		near(t, "volume", s.Volume(), area(p)*h, 1e-9*s.Volume())
		near(t, "area", meshArea(t, s), 2*area(p)+perimeter(p)*h, 0.01*(area(p)+perimeter(p)*h))
		nearVec(t, "centroid", s.Centroid(), centroid(p.moments()).V3(z0+h/2), 1e-8)
		f := randomFrame(r)
		q := s.Transform(f)
		near(t, "moved volume", q.Volume(), s.Volume(), 1e-9*s.Volume())
		nearVec(t, "moved centroid", q.Centroid(), f.Point(s.Centroid()), 1e-8)
		checkMesh(t, q, 0.02)
	}
}

// randomFrame returns a turned and moved frame.
func randomFrame(r *rand.Rand) Frame {
	v := func() Vec3 { return Vec3{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()} }
	x := v().Unit()
	y := x.Cross(v()).Unit()
	f := Frame{O: v().Mul(30), X: x.Unit(), Y: y.Unit()}
	f.Z = f.X.Cross(f.Y)
	err := f.Check()
	if err != nil {
		panic(err)
	}
	return f
}

// Bounds against a fine mesh, from outside and within the chord error.
func TestBoundsExact(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	for range rounds(50) {
		s := solid(t)(Prism(randomFace(r), 0, 7)).Transform(randomFrame(r))
		m, b := checkMesh(t, s, 0.001).Bounds(), s.Bounds()
		nearVec(t, "min", m.Min, b.Min, 0.003)
		nearVec(t, "max", m.Max, b.Max, 0.003)
	}
}

func TestMeshDeterministic(t *testing.T) {
	s := solid(t)(Prism(randomFace(rand.New(rand.NewSource(5))), 0, 3))
	a, b := checkMesh(t, s, 0.01), checkMesh(t, s, 0.01)
	if len(a.Triangles) != len(b.Triangles) || len(a.Vertices) != len(b.Vertices) {
		t.Fatal("counts differ")
	}
	for i := range a.Triangles {
		if a.Triangles[i] != b.Triangles[i] {
			t.Fatal("triangles differ")
		}
	}
}

func TestSolidRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	sq := Profile{Outer: RectAt(Vec2{}, 2, 2)}
	for name, f := range map[string]func() (Solid, error){
		"nan height":    func() (Solid, error) { return Prism(sq, 0, nan) },
		"inf height":    func() (Solid, error) { return Prism(sq, 0, inf) },
		"upside down":   func() (Solid, error) { return Prism(sq, 1, 0) },
		"nan radius":    func() (Solid, error) { return Cylinder(nan, 0, 1) },
		"zero radius":   func() (Solid, error) { return Cylinder(0, 0, 1) },
		"no wall":       func() (Solid, error) { return Tube(4, 4, 0, 1) },
		"bore too wide": func() (Solid, error) { return HexPrism(10, 6, 0, 1) },
		"bore negative": func() (Solid, error) { return HexPrism(10, -1, 0, 1) },
		"nan corner":    func() (Solid, error) { return Box(Vec3{nan, 0, 0}, Vec3{1, 1, 1}) },
		"empty profile": func() (Solid, error) { return Prism(Profile{}, 0, 1) },
	} {
		if s, err := f(); err == nil || !s.Empty() {
			t.Errorf("%s: err %v", name, err)
		}
	}
	b := solid(t)(Box(Vec3{}, Vec3{1, 1, 1}))
	for _, e := range []float64{0, -1, nan, inf} {
		if _, err := b.Mesh(e); !errors.Is(err, ErrChord) {
			t.Errorf("chord error %g: %v", e, err)
		}
	}
}

func TestMeshCheckFindsFaults(t *testing.T) {
	m := checkMesh(t, solid(t)(Box(Vec3{}, Vec3{1, 1, 1})), 0.1)
	open := Mesh{m.Vertices, m.Triangles[1:]}
	if !errors.Is(open.Check(), ErrMesh) {
		t.Error("open mesh passed")
	}
	flipped := Mesh{m.Vertices, append([]Triangle(nil), m.Triangles...)}
	flipped.Triangles[3][0], flipped.Triangles[3][1] = flipped.Triangles[3][1], flipped.Triangles[3][0]
	if !errors.Is(flipped.Check(), ErrMesh) {
		t.Error("flipped triangle passed")
	}
	if _, err := FromMesh(open); err == nil {
		t.Error("solid from open mesh")
	}
}

func TestPlateTriangles(t *testing.T) {
	p := Profile{Outer: RectAt(Vec2{}, 224, 200)}
	for _, c := range []Vec2{{-100, -50}, {100, -50}, {-100, 50}, {100, 50}} {
		p.Circles = append(p.Circles, Circle{c, 4.5})
	}
	m := checkMesh(t, solid(t)(Prism(p, 0, 12.7)), 0.01)
	if n := len(m.Triangles); n >= 1500 {
		t.Errorf("%d triangles", n)
	} else {
		t.Logf("%d triangles", n)
	}
}
