package geom

import (
	"math"
	"testing"
)

// demo is a clamp of 16 cells in two rows between two plates with four angles,
// twelve rods, their nuts and washers and tool envelopes: what a fixture asks
// for at once.
func demo(t testing.TB) []Body {
	var bs []Body
	add := func(s Solid, f Frame) { bs = append(bs, NewBody(s, f)) }
	cell := block(t, 174, 201, 72)
	for i := 0; i < 8; i++ {
		for _, x := range []float64{-95, 95} {
			add(cell, At(Vec3{x, 100.5, -252 + 72*float64(i)}))
		}
	}
	xs, ys := []float64{-200, 0, 200}, []float64{30, 170}
	p := Profile{Outer: RectAt(Vec2{}, 430, 200)}
	a := Angle{LegA: 30, LegB: 30, T: 3, Root: 4, Toe: 1.5, Length: 430}
	for i, x := range xs {
		a.Holes = append(a.Holes, AngleHole{string(rune('A' + i)), x, 18, 5.5})
		for _, y := range ys {
			p.Circles = append(p.Circles, Circle{Vec2{x, y - 100}, 5.5})
		}
	}
	plate, ang := solid(t)(Prism(p, 0, 10)), solid(t)(a.Solid())
	washer, nut := solid(t)(Tube(10, 5.25, 0, 2)), solid(t)(HexPrism(17, 4.25, 0, 10))
	stud, socket := rod(t, 5, 640), solid(t)(Tube(12, 8.6, 0, 60))
	end := World().Moved(Vec3{Y: 100, Z: 288})
	for _, f := range []Frame{World(), {X: Vec3{X: -1}, Y: Vec3{Y: 1}, Z: Vec3{Z: -1}}} {
		add(plate, f.Mul(end))
		for _, y := range ys {
			add(ang, f.Mul(At(Vec3{0, y - 18, 298})))
			for _, x := range xs {
				add(washer, f.Mul(At(Vec3{x, y, 301})))
				add(nut, f.Mul(At(Vec3{x, y, 303})))
				add(socket, f.Mul(At(Vec3{x, y, 303})))
			}
		}
	}
	for _, x := range xs {
		for _, y := range ys {
			add(stud, At(Vec3{x, y, -320}))
			add(block(t, 14, 14, 30), At(Vec3{x, y + 20, 0}))
		}
	}
	return bs
}

func TestAllPairsAgreesWithDistance(t *testing.T) {
	bs := demo(t)
	ps, err := allPairs(bs, 30)
	if err != nil {
		t.Fatal(err)
	}
	if want := len(bs) * (len(bs) - 1) / 2; len(ps) != want {
		t.Fatalf("%d pairs, want %d", len(ps), want)
	}
	count := map[Relation]int{}
	for k, p := range ps {
		count[p.Relation]++
		if p.Bound && p.MM < 30 {
			t.Errorf("pair %d-%d: bound %g", p.I, p.J, p.MM)
		}
		if p.Bound || k%7 != 0 {
			continue
		}
		g := dist(t, bs[p.I], bs[p.J])
		near(t, "gap", p.MM, g.MM, 1e-9)
		if p.Relation != g.Relation || p.Push != g.Push {
			t.Errorf("pair %d-%d: %v, alone %v", p.I, p.J, p, g)
		}
		if p.Relation == Apart {
			near(t, "points", p.OnA.Dist(p.OnB), p.MM, 1e-9)
		}
	}
	t.Logf("%d bodies: %v", len(bs), count)
	if count[Touching] < 20 || count[Apart] < 1000 {
		t.Errorf("relations %v", count)
	}
}

func TestAllPairsDeterministic(t *testing.T) {
	a, err := allPairs(demo(t), 20)
	if err != nil {
		t.Fatal(err)
	}
	b, err := allPairs(demo(t), 20)
	if err != nil {
		t.Fatal(err)
	}
	for i := range a {
		if a[i] != b[i] {
			t.Fatalf("%v, then %v", a[i], b[i])
		}
	}
}

func TestEmptyBodies(t *testing.T) {
	ps, err := allPairs([]Body{{}, NewBody(block(t, 1, 1, 1), World()), {}}, 10)
	if err != nil || len(ps) != 3 || !ps[0].Bound || !math.IsInf(dist(t, Body{}, Body{}).MM, 1) {
		t.Errorf("%v %v", ps, err)
	}
}

// All distances of the fixture from cold: solids built beforehand, no mesh or
// tree yet.
func BenchmarkAllPairs(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		bs := demo(b)
		b.StartTimer()
		if _, err := allPairs(bs, 30); err != nil {
			b.Fatal(err)
		}
	}
}

// allPairs is AllPairs as a list.
func allPairs(bodies []Body, within float64) (out []PairGap, err error) {
	err = AllPairs(bodies, within, func(g PairGap) { out = append(out, g) })
	return out, err
}
