package nest

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"clampwright/parts/geom"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1, math.Abs(a), math.Abs(b)) }

func one(t *testing.T, p geom.Path, d float64) geom.Path {
	t.Helper()
	loops, err := Offset(p, d)
	if err != nil || len(loops) != 1 {
		t.Fatalf("offset by %g: %d curves, %v", d, len(loops), err)
	}
	return loops[0]
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// TestKerfExample: 2.0 x 4.0 drawn and cut on the line with a kerf of 0.2 gives
// a part of 1.8 x 3.8, and a hole drawn 2.0 x 4.0 comes out 2.2 x 4.2
// (a laser service's published guide: the kerf splits half to each side).
// Compensated, both come out as drawn.
func TestKerfExample(t *testing.T) {
	part := geom.Profile{Outer: geom.RectAt(geom.Vec2{}, 2, 4)}
	got := must(asCut(part, 0.2)).Outer.Bounds().Size()
	if !near(got.X, 1.8) || !near(got.Y, 3.8) {
		t.Errorf("part %v, want 1.8 x 3.8", got)
	}
	frame := geom.Profile{
		Outer: geom.RectAt(geom.Vec2{}, 20, 20),
		Slots: []geom.Path{geom.RectAt(geom.Vec2{}, 2, 4).Reversed()},
	}
	got = must(asCut(frame, 0.2)).Slots[0].Bounds().Size()
	if !near(got.X, 2.2) || !near(got.Y, 4.2) {
		t.Errorf("hole %v, want 2.2 x 4.2", got)
	}
	back := must(asCut(middle(must(Operations(frame, 0.2))), 0.2))
	if b := back.Outer.Bounds().Size(); !near(b.X, 20) || !near(b.Y, 20) || !near(back.Outer.Area(), 400) {
		t.Errorf("outline comes out %v", b)
	}
	if b := back.Slots[0].Bounds().Size(); !near(b.X, 2) || !near(b.Y, 4) {
		t.Errorf("hole comes out %v", b)
	}
}

// length is that of a path, mm.
func length(p geom.Path) (l float64) {
	for _, e := range p.Edges() {
		l += long(e)
	}
	return l
}

func long(e geom.Edge) float64 {
	if e.Arc {
		return e.R * math.Abs(e.Sweep)
	}
	return e.A.Dist(e.B)
}

func TestOffsetOfCommonShapesIsExact(t *testing.T) {
	c := geom.Vec2{X: 30, Y: -12}
	rounded := func(w, h, r float64) geom.Path { return must(geom.RoundedRect(c, w, h, r)) }
	obround := func(w float64) geom.Path {
		return must(geom.Obround(c, c.Add(geom.Vec2{X: 12, Y: 5}), w))
	}
	for name, x := range map[string]struct {
		p, want geom.Path
		d       float64
	}{
		"rectangle out":   {geom.RectAt(c, 40, 30), geom.RectAt(c, 46, 36), 3},
		"rectangle in":    {geom.RectAt(c, 40, 30), geom.RectAt(c, 34, 24), -3},
		"rounded out":     {rounded(40, 30, 5), rounded(46, 36, 8), 3},
		"rounded in":      {rounded(40, 30, 5), rounded(34, 24, 2), -3},
		"rounded to zero": {rounded(40, 30, 5), geom.RectAt(c, 30, 20), -5},
		"beyond the arcs": {rounded(40, 30, 5), geom.RectAt(c, 24, 14), -8},
		"obround out":     {obround(8), obround(12), 2},
		"obround in":      {obround(8), obround(4), -2},
		"circle out":      {geom.Circle{C: c, R: 9}.Path(), geom.Circle{C: c, R: 11}.Path(), 2},
		"circle in":       {geom.Circle{C: c, R: 9}.Path(), geom.Circle{C: c, R: 7}.Path(), -2},
		"hole shrinks":    {geom.RectAt(c, 40, 30).Reversed(), geom.RectAt(c, 34, 24).Reversed(), 3},
		"slot shrinks":    {obround(8).Reversed(), obround(4).Reversed(), 2},
		"nothing":         {rounded(40, 30, 5), rounded(40, 30, 5), 0},
	} {
		got := one(t, x.p, x.d)
		if !near(got.Area(), x.want.Area()) || !near(length(got), length(x.want)) || len(got) != len(x.want) {
			t.Errorf("%s: area %v, length %v, %d edges; want %v, %v, %d", name,
				got.Area(), length(got), len(got), x.want.Area(), length(x.want), len(x.want))
		}
		b, w := got.Bounds(), x.want.Bounds()
		if b.Min.Dist(w.Min) > 1e-9 || b.Max.Dist(w.Max) > 1e-9 {
			t.Errorf("%s: box %v, want %v", name, b, w)
		}
	}
}

func TestOffsetVanishes(t *testing.T) {
	for _, p := range []geom.Path{
		geom.RectAt(geom.Vec2{}, 5, 50).Reversed(),
		geom.Circle{R: 2.5}.Path().Reversed(),
		must(geom.Obround(geom.Vec2{}, geom.Vec2{X: 30}, 5)).Reversed(),
	} {
		if got, err := Offset(p, 3); !errors.Is(err, ErrVanishes) {
			t.Errorf("got %v, %v", got, err)
		}
	}
	for _, d := range []float64{math.NaN(), math.Inf(1), 1e6} {
		if _, err := Offset(geom.RectAt(geom.Vec2{}, 5, 5), d); err == nil {
			t.Errorf("offset by %v: no error", d)
		}
	}
}

// TestNarrowWaistSplits: a dumb-bell opening whose waist is narrower than the
// tool falls into two.
func TestNarrowWaistSplits(t *testing.T) {
	p := polygon(0, 0, 20, 0, 20, 8, 40, 8, 40, 0, 60, 0, 60, 20, 40, 20, 40, 12, 20, 12, 20, 20, 0, 20).Reversed()
	loops, err := Offset(p, 3)
	if err != nil || len(loops) != 2 {
		t.Fatalf("%d curves, %v", len(loops), err)
	}
	for _, l := range loops {
		if s := l.Bounds().Size(); !near(s.X, 14) || !near(s.Y, 14) {
			t.Errorf("a curve of %v, want 14 x 14", s)
		}
	}
	ops := must(Operations(geom.Profile{Outer: geom.Rect(geom.Vec2{X: -50, Y: -50}, geom.Vec2{X: 100, Y: 100}), Slots: []geom.Path{p}}, 6))
	if len(ops) != 3 || ops[0].Drawn == nil || ops[1].Drawn != nil || ops[1].Path == nil {
		t.Errorf("the opening is not one edge and two runs: %+v", ops)
	}
}

func polygon(xy ...float64) geom.Path {
	var p geom.Path
	for i := 0; i < len(xy); i += 2 {
		p = append(p, geom.Vertex{P: geom.Vec2{X: xy[i], Y: xy[i+1]}})
	}
	return p
}

func TestHolesTheCutterCanNotEnter(t *testing.T) {
	p := geom.Profile{
		Outer: geom.RectAt(geom.Vec2{X: 50, Y: 50}, 100, 100),
		Circles: []geom.Circle{
			{C: geom.Vec2{X: 20, Y: 20}, R: 5}, {C: geom.Vec2{X: 40, Y: 20}, R: 3}, {C: geom.Vec2{X: 60, Y: 20}, R: 2},
		},
		Slots: []geom.Path{must(geom.Obround(geom.Vec2{X: 20, Y: 70}, geom.Vec2{X: 40, Y: 70}, 4)).Reversed()},
	}
	count := func(ops []Op) (n map[OpKind]int) {
		n = map[OpKind]int{}
		for _, op := range ops {
			n[op.Kind]++
		}
		return n
	}
	for width, want := range map[float64]map[OpKind]int{
		6: {Hole: 1, Drill: 2, ByHand: 1, Outside: 1}, 0.2: {Hole: 3, Slot: 1, Outside: 1}, 0: {Drill: 3, Slot: 1, Outside: 1},
		9.8: {Hole: 1, Drill: 2, ByHand: 1, Outside: 1}, 9.81: {Drill: 3, ByHand: 1, Outside: 1},
	} {
		ops := must(Operations(p, width))
		if got := count(ops); !maps.Equal(got, want) || ops[len(ops)-1].Kind != Outside {
			t.Errorf("tool %g: %v, want %v", width, got, want)
		}
		if m := middle(ops); len(m.Circles) > 0 && !near(m.Circles[0].R, 5-width/2) {
			t.Errorf("tool %g runs on a radius of %g", width, m.Circles[0].R)
		}
	}
	for _, w := range []float64{-1, math.NaN(), math.Inf(1)} {
		if _, err := Operations(p, w); err == nil {
			t.Errorf("width %v: no error", w)
		}
	}
}

// middle is the profile that the tool's middle runs along.
func middle(ops []Op) (p geom.Profile) {
	for _, op := range ops {
		switch op.Kind {
		case Hole:
			p.Circles = append(p.Circles, op.Tool)
		case Slot, Inside:
			p.Slots = append(p.Slots, op.Path)
		case Outside:
			p.Outer = op.Path
		}
	}
	return p
}

// TestOffsetKeepsItsDistance is the defining property on random paths of lines
// and arcs, concave and convex: every point of the offset is at the distance
// from the path, within rounding, except on prolonged corners, where it is
// farther by at most the corner; and nothing that a disc of that radius can
// reach is left out, by comparison with a slow twin on a grid.
func TestOffsetKeepsItsDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 13))
	for trial := range 300 {
		p := randomPath(r)
		if p.Validate() != nil {
			continue
		}
		if r.IntN(2) == 0 {
			p = p.Reversed()
		}
		d := (r.Float64() - 0.5) * 20
		loops, err := Offset(p, d)
		if err != nil && !errors.Is(err, ErrVanishes) {
			t.Fatalf("trial %d: %v", trial, err)
		}
		source := p.Edges()
		for _, l := range loops {
			for _, e := range l.Edges() {
				for _, f := range []float64{0, 0.13, 0.5, 0.77} {
					got := distance(e.At(f), source)
					if got < math.Abs(d)-2*clearMM || got > math.Abs(d)*math.Sqrt2+clearMM {
						t.Fatalf("trial %d: offset %g, a point at %g", trial, d, got)
					}
				}
			}
		}
		compareWithGrid(t, trial, p, d, loops)
	}
}

// compareWithGrid checks sample points: one that is farther than |d| from the
// path on the side of the offset must lie beyond the curves, others must not.
func compareWithGrid(t *testing.T, trial int, p geom.Path, d float64, loops []geom.Path) {
	t.Helper()
	source := p.Edges()
	inside := p.CCW() == (d < 0) // the offset lies inside the path
	b := p.Bounds()
	for i := range 24 {
		for j := range 24 {
			q := geom.Vec2{
				X: b.Min.X - 20 + (b.Size().X+40)*(float64(i)+0.37)/24,
				Y: b.Min.Y - 20 + (b.Size().Y+40)*(float64(j)+0.41)/24,
			}
			far := distance(q, source)
			if p.Contains(q) != inside {
				far = -far
			}
			if math.Abs(far-math.Abs(d)) < 0.5*math.Abs(d) && far > math.Abs(d) || math.Abs(far-math.Abs(d)) < 1e-3 {
				continue // perhaps in a prolonged corner, or on the curve
			}
			want := far > math.Abs(d)
			beyond := false
			for _, l := range loops {
				if l.Contains(q) {
					beyond = !beyond
				}
			}
			if !inside {
				beyond = !beyond
			}
			if beyond != want {
				t.Fatalf("trial %d: offset %g: point %v at %g from the path is taken as beyond: %v (%d curves)", trial, d, q, far, beyond, len(loops))
			}
		}
	}
}

// randomPath is a star-shaped path whose edges are straight or bulge in or out.
func randomPath(r *rand.Rand) geom.Path {
	n := 3 + r.IntN(8)
	angles := make([]float64, n)
	for i := range angles {
		angles[i] = (float64(i) + 0.8*r.Float64()) * 2 * math.Pi / float64(n)
	}
	slices.Sort(angles)
	var p geom.Path
	for _, a := range angles {
		v := geom.Vertex{P: geom.Polar(20+40*r.Float64(), a)}
		if r.IntN(2) == 0 {
			v.Bulge = (r.Float64() - 0.5) * 1.2
		}
		p = append(p, v)
	}
	return p
}

// asCut returns the part that is left when the profile is cut with the middle of
// the tool on the drawn line: each edge loses half the width.
func asCut(p geom.Profile, widthMM float64) (geom.Profile, error) {
	if err := p.Validate(); err != nil {
		return geom.Profile{}, err
	}
	var out geom.Profile
	loops, err := Offset(p.Outer, -widthMM/2)
	if err != nil {
		return geom.Profile{}, fmt.Errorf("outline: %w", err)
	}
	if len(loops) != 1 {
		return geom.Profile{}, fmt.Errorf("outline: %w", ErrSplit)
	}
	out.Outer = loops[0]
	for _, s := range p.Slots {
		grown, err := Offset(s, -widthMM/2)
		if err != nil {
			return geom.Profile{}, fmt.Errorf("slot: %w", err)
		}
		out.Slots = append(out.Slots, grown...)
	}
	for _, h := range p.Circles {
		out.Circles = append(out.Circles, geom.Circle{C: h.C, R: h.R + widthMM/2})
	}
	return out, nil
}
