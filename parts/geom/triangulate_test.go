package geom

import (
	"math"
	"math/rand"
	"testing"
)

// checkCover verifies the defining properties of a triangulation: counter-
// clockwise triangles that use every point, are V + 2H - 2 in number, add up to
// the polygon's area, and whose inner edges pair up while the boundary edges
// are the loops'.
func checkCover(t *testing.T, p Profile, chordErr float64) {
	t.Helper()
	pts, tris, err := p.Triangulate(chordErr)
	if err != nil {
		t.Fatalf("triangulate: %v\n%+v", err, p)
	}
	holes := len(p.Slots) + len(p.Circles)
	if len(tris) != len(pts)+2*holes-2 {
		t.Fatalf("%d triangles for %d points and %d holes", len(tris), len(pts), holes)
	}
	var area float64
	half := map[[2]int32]int{}
	for _, tr := range tris {
		a, b, c := pts[tr[0]], pts[tr[1]], pts[tr[2]]
		if Orient(a, b, c) <= 0 {
			t.Fatalf("triangle %v is not counter-clockwise", tr)
		}
		area += b.Sub(a).Cross(c.Sub(a)) / 2
		for k := range tr {
			half[[2]int32{tr[k], tr[(k+1)%3]}]++
		}
	}
	near(t, "area", area, flatArea(p, chordErr), 1e-9*p.Outer.Area())
	checkHalfEdges(t, half, len(pts))
}

func flatArea(p Profile, chordErr float64) float64 {
	poly := func(pts []Vec2) float64 {
		var a float64
		for i, q := range pts {
			a += q.Cross(pts[(i+1)%len(pts)]) / 2
		}
		return math.Abs(a)
	}
	a := poly(p.Outer.Flatten(chordErr))
	for _, s := range p.Slots {
		a -= poly(s.Flatten(chordErr))
	}
	for _, c := range p.Circles {
		a -= poly(c.Flatten(chordErr))
	}
	return a
}

func checkHalfEdges(t *testing.T, half map[[2]int32]int, points int) {
	t.Helper()
	open := 0
	for e, n := range half {
		if n != 1 {
			t.Fatalf("edge %v used %d times", e, n)
		}
		if half[[2]int32{e[1], e[0]}] == 0 {
			open++
		}
	}
	if open != points { // closed loops: as many boundary edges as points
		t.Fatalf("%d open edges, want %d", open, points)
	}
}

func TestTriangulateRandomFaces(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for i := range rounds(2000) {
		p := randomFace(r)
		chord := min([]float64{0.5, 0.05, 0.01}[i%3], p.gap()/3)
		checkCover(t, p, chord)
	}
}

// Whole-number coordinates bring points on one line, equal abscissae and
// touching extents, where inexact predicates fail.
func TestTriangulateLattice(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for range rounds(600) {
		n := 2 + r.Intn(9)
		p := Profile{Outer: Rect(Vec2{}, Vec2{float64(3*n + 1), 13})}
		for x := 0; x < n; x++ {
			for y := 0; y < 4; y++ {
				o := Vec2{float64(3*x + 1), float64(3*y + 1)}
				switch r.Intn(4) {
				case 0:
					p.Slots = append(p.Slots, Rect(o, o.Add(Vec2{2, 2})).Reversed())
				case 1:
					p.Slots = append(p.Slots, Path{{P: o}, {P: o.Add(Vec2{0, 1})}, {P: o.Add(Vec2{0, 2})}, {P: o.Add(Vec2{2, 1})}})
				case 2:
					p.Circles = append(p.Circles, Circle{o.Add(Vec2{1, 1}), 1})
				}
			}
		}
		if err := p.Validate(); err != nil {
			t.Fatal(err)
		}
		checkCover(t, p, 0.05)
	}
}

func TestTriangulateComb(t *testing.T) {
	var p Path // deep notches with many points on the same lines
	for i := 0; i < 40; i++ {
		x := float64(i)
		p = append(p, Vertex{P: Vec2{x, 0}}, Vertex{P: Vec2{x + 0.5, 0}}, Vertex{P: Vec2{x + 0.5, 9}}, Vertex{P: Vec2{x + 1, 9}})
	}
	p = append(p, Vertex{P: Vec2{40, 0}}, Vertex{P: Vec2{41, 0}}, Vertex{P: Vec2{41, 10}}, Vertex{P: Vec2{0, 10}})
	f := Profile{Outer: p}
	if err := f.Validate(); err != nil {
		t.Fatal(err)
	}
	checkCover(t, f, 0.1)
}

// The flips must leave the plate's faces without the needles ear clipping makes.
func TestTriangulateQuality(t *testing.T) {
	p := Profile{Outer: RectAt(Vec2{}, 224, 200)}
	for _, c := range []Vec2{{-100, -50}, {100, -50}, {-100, 50}, {100, 50}} {
		p.Circles = append(p.Circles, Circle{c, 4.5})
	}
	pts, tris, err := p.Triangulate(0.01)
	if err != nil {
		t.Fatal(err)
	}
	bad := 0
	for _, tr := range tris {
		for k := range tr {
			a, b, c, d := pts[tr[k]], pts[tr[(k+1)%3]], pts[tr[(k+2)%3]], Vec2{}
			for _, o := range tris {
				for m := range o {
					if o[m] == tr[(k+1)%3] && o[(m+1)%3] == tr[k] {
						d = pts[o[(m+2)%3]]
						if inCircle(a, b, c, d) > 1e-9 && Orient(a, d, c) > 0 && Orient(d, b, c) > 0 {
							bad++
						}
					}
				}
			}
		}
	}
	if bad > 0 {
		t.Errorf("%d inner edges are not Delaunay", bad)
	}
}

func TestTriangulateRefusesNonsense(t *testing.T) {
	for name, p := range map[string]Profile{
		"bow tie":      {Outer: Path{{P: Vec2{0, 0}}, {P: Vec2{10, 10}}, {P: Vec2{10, 0}}, {P: Vec2{0, 10}}}},
		"hole outside": {Outer: RectAt(Vec2{}, 2, 2), Circles: []Circle{{Vec2{9, 0}, 1}}},
		"line":         {Outer: Path{{P: Vec2{0, 0}}, {P: Vec2{1, 0}}, {P: Vec2{2, 0}}}},
	} {
		if _, _, err := p.Triangulate(0.1); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func BenchmarkTriangulatePlate(b *testing.B) {
	p := Profile{Outer: RectAt(Vec2{}, 224, 200)}
	for _, c := range []Vec2{{-100, -50}, {100, -50}, {-100, 50}, {100, 50}} {
		p.Circles = append(p.Circles, Circle{c, 4.5})
	}
	for b.Loop() {
		if _, _, err := p.Triangulate(0.01); err != nil {
			b.Fatal(err)
		}
	}
}
