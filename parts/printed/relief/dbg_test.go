package relief

import (
	"math"
	"testing"
)

func TestDbg(t *testing.T) {
	a := Layer{0, 3, Region{}.Plus(rect(0, 0, 100, 60)).Less(circle(50, 30, 10))}
	b := Layer{3, 8, Region{}.Plus(rect(0, 0, 100, 4), rect(0, 0, 4, 60))}
	f := func(n string, w float64, ls ...Layer) {
		m, err := Mesh(ls, 0.01)
		if err != nil {
			t.Log(n, err)
			return
		}
		t.Log(n, m.Volume(), w, len(m.Triangles))
		segs := 0
		_ = segs
		var lo [2]float64
		_ = lo
		up := 0.0
		for _, tr := range m.Triangles {
			p, q, r := m.Vertices[tr[0]], m.Vertices[tr[1]], m.Vertices[tr[2]]
			nz := q.Sub(p).Cross(r.Sub(p)).Z / 2
			if nz > 0 {
				up += nz
			}
		}
		t.Log("up", up)
	}
	f("a", 3*(6000-math.Pi*100), a)
	f("rect", 18000, Layer{0, 3, Region{}.Plus(rect(0, 0, 100, 60))})
	f("circle", math.Pi*300, Layer{0, 3, Region{}.Plus(circle(50, 30, 10))})
	f("b", 5*624, b)
	f("ab", 0, a, b)
}
func TestDbg2(t *testing.T) {
	ls := []Layer{{0, 3, Region{}.Plus(rect(0, 0, 100, 60))}, {3, 4, Region{}.Plus(rect(0, 0, 100, 4)).Less(rect(20, 1, 30, 3))}}
	rs, segs, _ := outlines(ls, 0.01)
	segs, _ = arrange(segs)
	for _, s := range segs {
		t.Log(s)
	}
	tr := newTriangulation(segs)
	tr.fill(rs)
	sum := func() (s [4]float64) {
		for i := range tr.v {
			s[tr.mask[i]] += float64(tr.area(int32(i))) / 2 * Unit * Unit
		}
		return
	}
	nf := 0
	for i := range tr.fixed {
		for k := range 3 {
			if tr.fixed[i][k] {
				nf++
			}
		}
	}
	t.Log(sum(), nf, len(segs)*2)
	tr.refine(0.4)
	t.Log(sum())
	for i := range tr.v {
		for k := range 3 {
			u := tr.n[i][k]
			if u >= 0 {
				j := tr.side(u, int32(i))
				if tr.v[u][j] != tr.v[i][(k+1)%3] || tr.v[u][(j+1)%3] != tr.v[i][k] {
					t.Fatal("link", i, k, u)
				}
			}
		}
	}
}
func TestDbg3(t *testing.T) {
	ls := []Layer{
		Layer{0, 3, Region{}.Plus(rect(0, 0, 100, 60)).Less(circle(50, 30, 10))},
		Layer{3, 8, Region{}.Plus(rect(0, 0, 100, 4), rect(0, 0, 4, 60))},
		Layer{8, 8.4, Region{}.Plus(rect(0, 0, 100, 4), rect(0, 0, 4, 60)).Less(rect(20, 1, 30, 3))}}
	rs, segs, _ := outlines(ls, 0.01)
	segs, _ = arrange(segs)
	tr := newTriangulation(segs)
	tr.fill(rs)
	sum := func() (s [8]float64) {
		for i := range tr.v {
			s[tr.mask[i]] += float64(tr.area(int32(i))) / 2 * Unit * Unit
		}
		return
	}
	t.Log(sum())
	tr.refine(0.4)
	t.Log(sum())
	lv := newLevels(ls, shortest(segs))
	t.Log(lv)
	m := lv.raise(tr)
	t.Log(m.Volume(), m.Check())
}
