package geom

import (
	"math"
	"math/rand"
	"slices"
	"testing"
)

func TestMergeIntervals(t *testing.T) {
	edge := 1.0 // no constant: rounded as the intervals are
	for _, x := range []struct{ in, want []interval }{
		{nil, nil},
		{[]interval{{3, 4}, {0, 1}}, []interval{{0, 1}, {3, 4}}},
		{[]interval{{0, 2}, {1, 3}}, []interval{{0, 3}}},
		{[]interval{{0, 5}, {1, 3}}, []interval{{0, 5}}},
		{[]interval{{1, 3}, {1, 2}, {0, 1.5}}, []interval{{0, 3}}},
		{[]interval{{0, 1}, {1, 2}}, []interval{{0, 1}, {1, 2}}}, // open: they only touch
		{[]interval{{0, 1}, {1 - 0.9e-9, 2}}, []interval{{0, 1}, {1 - 0.9e-9, 2}}},
		{[]interval{{0, 1}, {1 - 1.1e-9, 2}}, []interval{{0, 2}}},
		{[]interval{{0, edge}, {edge - crossing, 2}}, []interval{{0, edge}, {edge - crossing, 2}}},
	} {
		if got := merge(slices.Clone(x.in)); !slices.Equal(got, x.want) && len(got)+len(x.want) > 0 {
			t.Errorf("%v gives %v", x.in, got)
		}
	}
}

func TestExitAt(t *testing.T) {
	is := []interval{{-3, -1}, {0, 2}, {2, 3}, {5, 6}}
	for at, want := range map[float64]float64{-4: -4, -3: -1, -2: -1, -1: -1, -0.5: -0.5, 0: 3, 1: 3, 2: 3, 3: 3, 4: 4, 5: 6, 5.5: 6, 6: 6, 7: 7, -1e-10: 3, -1e-8: -1e-8, 5 - 1e-10: 6} {
		if got := exitAt(is, at); got != want {
			t.Errorf("from %g to %g, want %g", at, got, want)
		}
	}
}

// An interval that begins just as far off as rounding reaches is not entered.
func TestExitAtRounding(t *testing.T) {
	for _, at := range []float64{0, 0.3, 7} {
		if got := exitAt([]interval{{at + crossing, 9}}, at); got != at {
			t.Errorf("from %g to %g", at, got)
		}
		if got := exitAt([]interval{{at + crossing/2, 9}}, at); got != 9 {
			t.Errorf("from %g to %g", at, got)
		}
	}
}

func TestScaledAndMovesOnto(t *testing.T) {
	is := []interval{{0, 1}, {3, 5}}
	if got := scaled(is, 2); !slices.Equal(got, []interval{{0, 2}, {6, 10}}) {
		t.Error(got)
	}
	if got := scaled(is, -2); !slices.Equal(got, []interval{{-10, -6}, {-2, 0}}) {
		t.Error(got)
	}
	if got := movesOnto([]interval{{0, 1}, {10, 12}}, []interval{{2, 5}}); !slices.Equal(got, []interval{{-5, -1}, {5, 10}}) {
		t.Error(got)
	}
}

// The moves at which two regions overlap against their overlap at each move,
// by sampling: the slow twin.
func TestSweepAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewSource(41))
	shape := func() region {
		p := Profile{Outer: RectAt(Vec2{}, 4+4*r.Float64(), 4+4*r.Float64()).Turned(3 * r.Float64())}
		switch r.Intn(3) {
		case 0:
			p.Outer = Path{{P: Vec2{-4, -4}}, {P: Vec2{4, -4}}, {P: Vec2{4, 4}}, {P: Vec2{2, 4}}, {P: Vec2{2, -2}}, {P: Vec2{-2, -2}}, {P: Vec2{-2, 4}}, {P: Vec2{-4, 4}}}
		case 1:
			p = Profile{Outer: Circle{R: 3}.Path(), Circles: []Circle{{R: 2}}}
		}
		return newRegion(p.loops())
	}
	const step = 0.19
	for range rounds(40) {
		a, b, d := shape(), shape(), Polar(1, 7*r.Float64())
		is := sweep(a, b, d)
		for k := range 9 {
			m := float64(k)*2.2 - 8.8
			inside := slices.ContainsFunc(is, func(i interval) bool { return i.lo < m && m < i.hi })
			near := slices.ContainsFunc(is, func(i interval) bool { return math.Abs(i.lo-m) < 3*step || math.Abs(i.hi-m) < 3*step })
			shared := false
			for x := -9.0; x < 9 && !shared; x += step {
				for y := -9.0; y < 9 && !shared; y += step {
					q := Vec2{x, y}
					shared = a.contains(q) && b.contains(q.Sub(d.Mul(m)))
				}
			}
			if shared != inside && !near || shared && !inside {
				t.Fatalf("move %g along %v: they share %v, moves %v", m, d, shared, is)
			}
		}
	}
}

// A U and a peg: in between its arms, on them, and beyond.
func TestSweepByHand(t *testing.T) {
	u := newRegion(Profile{Outer: Path{{P: Vec2{-4, -4}}, {P: Vec2{4, -4}}, {P: Vec2{4, 4}}, {P: Vec2{2, 4}}, {P: Vec2{2, -2}}, {P: Vec2{-2, -2}}, {P: Vec2{-2, 4}}, {P: Vec2{-4, 4}}}}.loops())
	peg := func(x, y float64) region { return newRegion([][]Edge{RectAt(Vec2{x, y}, 2, 2).Edges()}) }
	for _, x := range []struct {
		b    region
		d    Vec2
		want []interval
	}{
		{peg(0, 0), Vec2{X: 1}, []interval{{-5, -1}, {1, 5}}},
		{peg(0, 0), Vec2{X: -1}, []interval{{-5, -1}, {1, 5}}},
		{peg(0, 0), Vec2{Y: 1}, []interval{{-5, -1}}},
		{peg(0, 0), Vec2{Y: -1}, []interval{{1, 5}}},
		{peg(3, 0), Vec2{Y: 1}, []interval{{-5, 5}}},
		{peg(0, 5), Vec2{X: 1}, nil}, // it only touches
		{peg(0, 4.9), Vec2{X: 1}, []interval{{-5, -1}, {1, 5}}},
		{peg(9, -3), Vec2{X: 1}, []interval{{-14, -4}}},
	} {
		got := sweep(u, x.b, x.d)
		if len(got) != len(x.want) {
			t.Errorf("%v along %v: %v, want %v", x.b.bounds, x.d, got, x.want)
			continue
		}
		for i, g := range got {
			near(t, "from", g.lo, x.want[i].lo, 1e-12)
			near(t, "to", g.hi, x.want[i].hi, 1e-12)
		}
	}
	segs := turnedSegs(u, Vec2{X: 1})
	for _, x := range []struct {
		lo, hi float64
		want   []interval
	}{
		{-3, -2.5, []interval{{-4, 4}}}, {-1, 1, []interval{{-4, -2}, {2, 4}}}, {-3, 1, []interval{{-4, 4}}}, {-2, 1, []interval{{-4, -2}, {2, 4}}},
		{5, 9, nil}, {-9, -4, nil}, {4, 9, nil}, {-9, 9, []interval{{-4, 4}}},
	} {
		if got := project(segs, x.lo, x.hi); !slices.Equal(got, x.want) && len(got)+len(x.want) > 0 {
			t.Errorf("between %g and %g: %v", x.lo, x.hi, got)
		}
	}
}

func TestMovesOverlap(t *testing.T) {
	for _, x := range []struct {
		a0, a1, b0, b1, s float64
		want              interval
		ok                bool
	}{
		{0, 2, 5, 6, 1, interval{-6, -3}, true}, {0, 2, 5, 6, -1, interval{3, 6}, true}, {0, 2, 5, 6, 0.5, interval{-12, -6}, true},
		{0, 2, 1, 6, 0, interval{math.Inf(-1), math.Inf(1)}, true}, {0, 2, 2, 6, 0, interval{}, false}, {0, 2, 2 - 2e-9, 6, 0, interval{}, true}, {0, 2, 2 - 0.5e-9, 6, 0, interval{}, false},
		{5, 6, 0, 5, 0, interval{}, false}, {5, 6, 0, 5.1, 0, interval{}, true}, {0, 2, 5, 6, 2e-9, interval{-3e9, -1.5e9}, true}, {0, 2, 5, 6, 1e-9, interval{}, false},
	} {
		got, ok := movesOverlap(x.a0, x.a1, x.b0, x.b1, x.s)
		if ok != x.ok || x.want != (interval{}) && (math.Abs(got.lo-x.want.lo) > 1e-3 || math.Abs(got.hi-x.want.hi) > 1e-3) {
			t.Errorf("%+v: %v %v", x, got, ok)
		}
	}
}

func TestBoxExit(t *testing.T) {
	a := Box3{Vec3{}, Vec3{10, 10, 10}}
	b := Box3{Vec3{4, 5, 7}, Vec3{6, 8, 9}}
	s := math.Sqrt2 / 2
	for d, want := range map[Vec3]float64{
		{X: 1}: 6, {X: -1}: 6, {Y: 1}: 5, {Y: -1}: 8, {Z: 1}: 3, {Z: -1}: 9, {X: s, Y: s}: 5 / s, {Y: -s, Z: -s}: 8 / s, {X: -s, Z: s}: 3 / s,
		{X: 1, Y: 1e-10}: 6, {X: 1, Y: -1e-10}: 6, {X: 1e-10, Z: 1}: 3,
	} {
		near(t, "exit", boxExit(a, b, d), want, 1e-9)
	}
	if got := boxExit(a, Box3{Vec3{20, 0, 0}, Vec3{21, 1, 1}}, Vec3{X: 1}); got != 0 {
		t.Errorf("apart already, %g", got)
	}
}

// Crossed and parallel prisms part by closed forms: exact where a search would
// stop half a micrometre off. Blocks and rods of all axes, along all axes.
func TestExitsAreExact(t *testing.T) {
	turn := map[string]Frame{"z": World(), "x": lying(Vec3{}), "y": {Vec3{}, Vec3{Z: 1}, Vec3{X: 1}, Vec3{Y: 1}}}
	tube := solid(t)(Tube(6, 4, -10, 10))
	// a corner off it is no box, which would have an axis along every other's
	bar := solid(t)(Prism(Profile{Outer: Path{{P: Vec2{-1, -1}}, {P: Vec2{1, -1}}, {P: Vec2{1, 1}}, {P: Vec2{-0.9, 1}}, {P: Vec2{-1, 0.9}}}}, -20, 20))
	for name, f := range turn {
		for other, g := range turn {
			a := NewBody(tube, f)
			b := NewBody(bar, Frame{Vec3{0.3, 0.3, 0.3}, g.X, g.Y, g.Z})
			for _, d := range axes {
				got, err := newQuery(a, b).exit(f.DirToLocal(d), math.Inf(1))
				if err != nil {
					t.Fatal(err)
				}
				// the bar stands free in the bore, or passes through both walls
				want, s := 0.0, d.X+d.Y+d.Z
				along := map[string]Vec3{"x": {X: 1}, "y": {Y: 1}, "z": {Z: 1}}
				switch {
				case name == other:
				case math.Abs(d.Dot(along[other])) == 1: // its end leaves the far wall
					want = 20 + 6 - 0.3*s
				case math.Abs(d.Dot(along[name])) == 1: // along the tube
					want = 10 + 1 - 0.3*s
				default: // across both
					want = 6 + 1 - 0.3*s
				}
				tol := distanceChord // round walls are chords here
				if name == other || math.Abs(d.Dot(along[name])) == 1 {
					tol = 1e-9
				}
				near(t, "tube along "+name+", bar along "+other, got, want, tol)
			}
		}
	}
}

// kin of two prisms by how their axes lie.
func TestKinship(t *testing.T) {
	rod := solid(t)(Cylinder(1, 0, 9))
	tilted := func(by float64) Frame {
		s, c := math.Sincos(by)
		return Frame{Vec3{}, Vec3{X: 1}, Vec3{0, c, s}, Vec3{0, -s, c}}
	}
	for _, x := range []struct {
		by   float64
		want kinship
	}{
		{0, parallelAxes}, {math.Pi, parallelAxes}, {0.9e-9, parallelAxes}, {1.1e-9, strangers}, {1e-3, strangers}, {math.Pi / 4, strangers},
		{math.Pi / 2, crossedAxes}, {math.Pi/2 - 0.9e-9, crossedAxes}, {math.Pi/2 + 0.9e-9, crossedAxes}, {math.Pi/2 + 1.1e-9, strangers}, {math.Pi / 2 * 3, crossedAxes},
	} {
		q := newQuery(NewBody(rod, World()), NewBody(rod, tilted(x.by)))
		if got := q.pairs[0].relate(); got != x.want {
			t.Errorf("tilted by %g: %v", x.by, got)
		}
		if got := q.pairs[0].relate(); got != x.want {
			t.Errorf("asked again: %v", got)
		}
	}
	for _, x := range []struct {
		p     Profile
		forms int
	}{
		{Profile{Outer: RectAt(Vec2{}, 2, 3)}, 3}, {Profile{Outer: RectAt(Vec2{}, 2, 3).Turned(0.3)}, 3}, {Profile{Outer: RectAt(Vec2{}, 2, 3), Circles: []Circle{{Vec2{}, 0.5}}}, 1},
		{Profile{Outer: Path{{P: Vec2{}}, {P: Vec2{2, 0}}, {P: Vec2{2, 1}}}}, 1}, {Profile{Outer: Path{{P: Vec2{}}, {P: Vec2{2, 0}}, {P: Vec2{3, 1}}, {P: Vec2{1, 1}}}}, 1},
		{Profile{Outer: Path{{Vec2{}, 0.1}, {P: Vec2{2, 0}}, {P: Vec2{2, 1}}, {P: Vec2{0, 1}}}}, 1}, {Profile{Outer: Circle{R: 1}.Path()}, 1},
	} {
		if got := len((prism{World(), x.p, 0, 1}).forms()); got != x.forms {
			t.Errorf("%v: %d axes", x.p, got)
		}
	}
}

// A box has the same distance by each of its three axes.
func TestFormsOfABox(t *testing.T) {
	p := prism{randomFrame(rand.New(rand.NewSource(6))), Profile{Outer: Rect(Vec2{1, 2}, Vec2{4, 7})}, 3, 11}
	want := Box3{Vec3{1, 2, 3}, Vec3{4, 7, 11}}
	for i, f := range p.forms() {
		b := EmptyBox3()
		for _, z := range []float64{f.z0, f.z1} {
			for _, e := range f.reg.loops[0] {
				b = b.Add(p.frame.ToLocal(f.frame.Point(e.A.V3(z))))
			}
		}
		nearVec(t, "min", b.Min, want.Min, 1e-12)
		nearVec(t, "max", b.Max, want.Max, 1e-12)
		if err := f.frame.Check(); err != nil {
			t.Errorf("axis %d: %v", i, err)
		}
	}
}
