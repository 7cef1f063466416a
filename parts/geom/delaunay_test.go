package geom

import (
	"errors"
	"math"
	"math/rand"
	"testing"
)

// checkTriangulation verifies what every triangulation is: counter-clockwise
// triangles whose neighbours know each other, that cover the rectangle.
func checkTriangulation(t *testing.T, tr *Triangulation) {
	t.Helper()
	var area float64
	for i, v := range tr.Tri {
		if Orient(tr.Pts[v[0]], tr.Pts[v[1]], tr.Pts[v[2]]) <= 0 {
			t.Fatalf("triangle %d turns over", i)
		}
		area += tr.Area2(int32(i)) / 2
		for k, u := range tr.Next[i] {
			if u < 0 {
				continue
			}
			j := tr.side(u, int32(i))
			if tr.Tri[u][j] != v[(k+1)%3] || tr.Tri[u][(j+1)%3] != v[k] || tr.Fixed[u][j] != tr.Fixed[i][k] {
				t.Fatalf("triangles %d and %d do not know each other", i, u)
			}
		}
	}
	s := tr.Pts[2].Sub(tr.Pts[0])
	near(t, "area", area, s.X*s.Y, 1e-9*s.X*s.Y)
	if len(tr.Tri) != 2*len(tr.Pts)-6 { // Euler, four of the points on the hull
		t.Fatalf("%d triangles of %d points", len(tr.Tri), len(tr.Pts))
	}
}

// edges of a triangulation that are neither fixed nor Delaunay, by the circle of
// every triangle and the corner beyond each edge.
func notDelaunay(tr *Triangulation) (n int) {
	for i, v := range tr.Tri {
		for k, u := range tr.Next[i] {
			if u < 0 || tr.Fixed[i][k] {
				continue
			}
			d := tr.Pts[tr.Tri[u][(tr.side(u, int32(i))+2)%3]]
			if inCircle(tr.Pts[v[0]], tr.Pts[v[1]], tr.Pts[v[2]], d) > 2*flipGain && Orient(tr.Pts[v[k]], d, tr.Pts[v[(k+2)%3]]) > 0 && Orient(d, tr.Pts[v[(k+1)%3]], tr.Pts[v[(k+2)%3]]) > 0 {
				n++
			}
		}
	}
	return n
}

// Random and lattice points with chains of edges that do not cross.
func TestConstrained(t *testing.T) {
	r := rand.New(rand.NewSource(61))
	for round := range rounds(200) {
		var pts []Vec2
		seen := map[Vec2]bool{}
		for range 5 + r.Intn(60) {
			p := Vec2{100 * r.Float64(), 100 * r.Float64()}
			if round%2 == 0 {
				p = Vec2{math.Floor(p.X / 9), math.Floor(p.Y / 9)}
			}
			if !seen[p] {
				seen[p] = true
				pts = append(pts, p)
			}
		}
		var edges [][2]int32
	next:
		for range 30 {
			a, b := r.Intn(len(pts)), r.Intn(len(pts))
			for i, p := range pts { // no point on it, but its ends
				if a == b || i != a && i != b && NewEdge(pts[a], pts[b], 0).Dist(p) < 1e-9 {
					continue next
				}
			}
			for _, e := range edges {
				if SegmentsCross(pts[a], pts[b], pts[e[0]], pts[e[1]]) {
					continue next
				}
			}
			edges = append(edges, [2]int32{int32(a), int32(b)})
		}
		tr, err := Constrained(pts, edges)
		if err != nil {
			t.Fatalf("round %d: %v\n%v\n%v", round, err, pts, edges)
		}
		checkTriangulation(t, tr)
		if n := notDelaunay(tr); n > 0 {
			t.Errorf("round %d: %d edges are not Delaunay", round, n)
		}
		fixed := 0
		for _, f := range tr.Fixed {
			for k := range f {
				if f[k] {
					fixed++
				}
			}
		}
		unique := map[[2]int32]bool{}
		for _, e := range edges {
			unique[[2]int32{min(e[0], e[1]), max(e[0], e[1])}] = true
			i, k := tr.find(e[0]+4, e[1]+4)
			if i < 0 || !tr.Fixed[i][k] {
				t.Fatalf("round %d: %v is no edge", round, e)
			}
		}
		if fixed != 2*len(unique) {
			t.Errorf("round %d: %d sides are fixed, of %d edges", round, fixed, len(unique))
		}
		for i, p := range pts {
			if tr.Pts[4+i] != p {
				t.Fatalf("point %d moved", i)
			}
		}
	}
}

func TestConstrainedRefuses(t *testing.T) {
	sq := []Vec2{{0, 0}, {4, 0}, {4, 4}, {0, 4}, {2, 2}}
	for name, x := range map[string]struct {
		pts   []Vec2
		edges [][2]int32
	}{
		"twice":               {append([]Vec2{{4, 4}}, sq...), nil},
		"through a point":     {sq, [][2]int32{{0, 2}}},
		"through a later one": {[]Vec2{{0, 0}, {9, 9}, {1, 5}, {5, 1}, {5, 5}}, [][2]int32{{0, 1}}},
		"crossing":            {sq[:4], [][2]int32{{0, 2}, {1, 3}}},
		"a point alone":       {sq, [][2]int32{{1, 1}}},
		"not a number":        {[]Vec2{{0, 0}, {math.NaN(), 1}}, nil},
		"infinite":            {[]Vec2{{0, 0}, {math.Inf(1), 1}}, nil},
	} {
		if _, err := Constrained(x.pts, x.edges); !errors.Is(err, ErrCrossing) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if tr, err := Constrained(sq, [][2]int32{{0, 4}, {4, 2}, {0, 4}}); err != nil || notDelaunay(tr) > 0 {
		t.Error(err)
	}
	for name, loops := range map[string][][]Vec2{
		"hole outside":   {sq[:4], {{10, 0}, {10, 1}, {11, 0}}},
		"hole in a hole": {sq[:4], {{1, 1}, {1, 3}, {3, 3}, {3, 1}}, {{1.5, 1.5}, {1.5, 2.5}, {2.5, 2.5}}},
	} {
		if _, _, err := triangulate(loops); !errors.Is(err, ErrHoleOutside) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Splitting keeps the cover, the fixed edge and the masks, and is refused where a
// triangle would turn over.
func TestSplit(t *testing.T) {
	square := func() *Triangulation {
		tr, err := Constrained([]Vec2{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, [][2]int32{{0, 1}, {1, 2}, {2, 3}, {3, 0}, {0, 2}})
		if err != nil {
			t.Fatal(err)
		}
		tr.Fill(func(q Vec2) uint64 {
			switch in := InPolygon([]Vec2{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, q); {
			case !in:
				return 0
			case q.Y > q.X:
				return 5
			}
			return 3
		})
		return tr
	}
	masked := func(tr *Triangulation) (sum [6]float64) {
		for i, m := range tr.Mask {
			sum[m] += tr.Area2(int32(i)) / 2
		}
		return sum
	}
	for _, x := range []struct {
		a, b int32
		p    Vec2
		ok   bool
	}{
		{4, 6, Vec2{5, 5}, true}, {4, 6, Vec2{4, 5}, true}, {4, 6, Vec2{0, 0}, false}, {4, 6, Vec2{10, 10}, false}, {4, 6, Vec2{-1, 5}, false}, {4, 6, Vec2{5, -1}, false}, {4, 6, Vec2{0, 5}, false}, {4, 6, Vec2{5, 0}, false},
		{4, 5, Vec2{5, 0}, true}, {4, 5, Vec2{5, 1}, true}, {4, 5, Vec2{5, 5}, false}, {4, 5, Vec2{11, 0}, false}, {4, 5, Vec2{3, 0}, true},
	} {
		tr := square()
		was, n := masked(tr), len(tr.Tri)
		i, k := tr.find(x.a, x.b)
		if got := tr.Split(i, k, x.p); got != x.ok {
			t.Fatalf("split of %d-%d at %v: %v", x.a, x.b, x.p, got)
		}
		if len(tr.Mask) != len(tr.Tri) {
			t.Fatal("masks")
		}
		if !x.ok {
			if len(tr.Tri) != n {
				t.Error("split all the same")
			}
			continue
		}
		checkTriangulation(t, tr)
		id := int32(len(tr.Pts) - 1)
		for _, end := range []int32{x.a, x.b} {
			if i, k := tr.find(end, id); i < 0 || !tr.Fixed[i][k] {
				t.Errorf("half of %d-%d is not fixed", x.a, x.b)
			}
		}
		if x.p.X == x.p.Y || x.p.Y == 0 {
			now := masked(tr)
			near(t, "area of a mask", now[3], was[3], 1e-9)
			near(t, "area of the other", now[5], was[5], 1e-9)
			near(t, "outside", now[0], was[0], 1e-6)
		}
	}
	tr := square() // an edge of the frame has no other side
	i, k := tr.find(0, 1)
	mid := tr.Pts[0].Lerp(tr.Pts[1], 0.5)
	if !tr.Split(i, k, mid) {
		t.Fatal("frame")
	}
	if n := len(tr.Tri); n != 2*len(tr.Pts)-7 { // five points on the hull
		t.Errorf("%d triangles of %d points", n, len(tr.Pts))
	}
}

// Points on edges that are there: on the frame's diagonal, on the line of two
// others, and where four meet.
func TestInsertOnEdges(t *testing.T) {
	pts := []Vec2{{0, 0}, {8, 8}, {4, 4}, {2, 2}, {6, 6}, {8, 0}, {0, 8}, {4, 0}, {0, 4}, {8, 4}, {4, 8}, {6, 2}, {2, 6}}
	tr, err := Constrained(pts, [][2]int32{{0, 3}, {3, 2}, {2, 4}, {4, 1}})
	if err != nil {
		t.Fatal(err)
	}
	checkTriangulation(t, tr)
	for i := range pts {
		if got := tr.insert(pts[i]); got != int32(4+i) {
			t.Errorf("point %d is found as %d", i, got)
		}
		if at := tr.around(int32(4 + i)); len(at) < 3 {
			t.Errorf("%d triangles round point %d", len(at), i)
		}
	}
	sum := 0
	for a := range tr.Pts {
		sum += len(tr.around(int32(a)))
	}
	if sum != 3*len(tr.Tri) { // each triangle has three corners
		t.Errorf("%d corners of %d triangles", sum, len(tr.Tri))
	}
}
