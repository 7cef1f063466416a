package relief

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"clampwright/parts/geom"
)

func rect(x0, y0, x1, y1 float64) geom.Path {
	return geom.Rect(geom.Vec2{X: x0, Y: y0}, geom.Vec2{X: x1, Y: y1})
}

func circle(x, y, r float64) geom.Path { return geom.Circle{C: geom.Vec2{X: x, Y: y}, R: r}.Path() }

func mesh(t *testing.T, layers ...Layer) geom.Mesh {
	t.Helper()
	s, err := Solid(layers, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	return solidMesh(t, s)
}

// solidMesh is what a solid made from a mesh was made from.
func solidMesh(t *testing.T, s geom.Solid) geom.Mesh {
	t.Helper()
	m, err := s.Mesh(0.01)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g (± %g)", what, got, want, tol)
	}
}

// slivers is the share of triangles with an aspect over 100.
func slivers(m geom.Mesh) float64 {
	bad := 0
	for _, tr := range m.Triangles {
		a, b, c := m.Vertices[tr[0]], m.Vertices[tr[1]], m.Vertices[tr[2]]
		l := max(a.Dist(b), b.Dist(c), c.Dist(a))
		if h := b.Sub(a).Cross(c.Sub(a)).Len() / l; l > 100*h {
			bad++
		}
	}
	return float64(bad) / float64(len(m.Triangles))
}

func TestBlockOnSlab(t *testing.T) {
	m := mesh(t,
		Layer{0, 3, Region{}.Plus(rect(0, 0, 100, 60)).Less(circle(50, 30, 10))},
		Layer{3, 8, Region{}.Plus(rect(0, 0, 100, 4), rect(0, 0, 4, 60))},
		Layer{8, 8.4, Region{}.Plus(rect(0, 0, 100, 4), rect(0, 0, 4, 60)).Less(rect(20, 1, 30, 3))})
	fence := 100.0*4 + 56*4
	want := 3*(6000-math.Pi*100) + 5*fence + 0.4*(fence-20)
	near(t, "volume", m.Volume(), want, 1.5) // chords of the hole
	if s := slivers(m); s > 0.01 {
		t.Errorf("%.1f %% slivers", 100*s)
	}
	t.Logf("%d triangles", len(m.Triangles))
}

// TestSharedAndCrossingEdges has outlines that run along each other, cross, and
// end on each other's edges.
func TestSharedAndCrossingEdges(t *testing.T) {
	m := mesh(t,
		Layer{0, 1, Region{}.Plus(rect(0, 0, 10, 10), rect(5, 5, 15, 15), rect(10, 0, 20, 5))},
		Layer{1, 2, Region{}.Plus(rect(0, 0, 10, 10)).Within(rect(5, -5, 30, 30))})
	near(t, "volume", m.Volume(), (100+100-25+50)+50, 1e-6)
}

func TestRandomAgainstSampling(t *testing.T) {
	for seed := range uint64(25) {
		r := rand.New(rand.NewPCG(seed, 3))
		var layers []Layer
		z := 0.0
		for range 1 + r.IntN(3) {
			reg := Region{}.Plus(rect(0, 0, 40, 30))
			for range r.IntN(5) {
				x, y, s := 40*r.Float64(), 30*r.Float64(), 1+8*r.Float64()
				p := circle(x, y, s)
				if r.IntN(2) == 0 {
					p = rect(x-s, y-s, x+s, y+s/2).Turned(0) // off the grid of the others
				}
				reg = append(reg, Op{What(r.IntN(2)), p})
			}
			h := 0.5 + 4*r.Float64()
			layers = append(layers, Layer{z, z + h, reg})
			z += h
		}
		s, err := Solid(layers, 0.01)
		if errors.Is(err, geom.ErrMesh) {
			continue // hangs together by an edge: refused
		}
		if err != nil {
			t.Fatal(seed, err)
		}
		near(t, "volume", s.Volume(), sampled(layers), 0.02*z*1200)
	}
}

// sampled is the volume by points on a grid: the slow twin.
func sampled(layers []Layer) float64 {
	v := 0.0
	rs, _, _ := outlines(layers, 0.01)
	const step = 0.5
	for i, l := range layers {
		for x := -20 + step/2; x < 60; x += step {
			for y := -20 + step/2; y < 60; y += step {
				if holds(rs[i], geom.Vec2{X: x / Unit, Y: y / Unit}) {
					v += step * step * (l.Z1 - l.Z0)
				}
			}
		}
	}
	return v
}

func TestRefusals(t *testing.T) {
	ok := Region{}.Plus(rect(0, 0, 1, 1))
	for name, ls := range map[string][]Layer{
		"none": nil, "gap": {{0, 1, ok}, {2, 3, ok}}, "flat": {{0, 0, ok}}, "NaN": {{0, math.NaN(), ok}},
		"far": {{0, 1, Region{}.Plus(rect(0, 0, 1e6, 1))}}, "empty": {{0, 1, nil}},
		"edge only": {{0, 1, Region{}.Plus(rect(0, 0, 1, 1), rect(1, 1, 2, 2))}},
	} {
		if _, err := Solid(ls, 0.01); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := Solid([]Layer{{0, 1, ok}}, math.NaN()); err == nil {
		t.Error("chord error NaN: no error")
	}
}

func TestTallTubeHasNoSlivers(t *testing.T) {
	m := mesh(t, Layer{0, 200, Region{}.Plus(circle(0, 0, 5.5)).Less(circle(0, 0, 4.3))})
	near(t, "volume", m.Volume(), math.Pi*(5.5*5.5-4.3*4.3)*200, 20)
	if s := slivers(m); s > 0.01 {
		t.Errorf("%.1f %% slivers of %d", 100*s, len(m.Triangles))
	}
}
