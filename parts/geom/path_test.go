package geom

import (
	"errors"
	"math"
	"math/rand"
	"testing"
)

func path(t testing.TB) func(Path, error) Path { return must[Path](t) }

func TestShapes(t *testing.T) {
	pi := math.Pi
	rr := path(t)(RoundedRect(Vec2{3, 4}, 20, 10, 2))
	slot := path(t)(Obround(Vec2{-5, 1}, Vec2{7, 6}, 4))
	hex := path(t)(Hexagon(13))
	l := path(t)(LProfile(30, 25, 3, 3, 1.5))
	tests := []struct {
		name         string
		p            Path
		area, length float64
		c            Vec2
	}{
		{"rectangle", Rect(Vec2{1, 2}, Vec2{4, 6}), 12, 14, Vec2{2.5, 4}},
		{"rounded rectangle", rr, 200 - (4-pi)*4, 2*16 + 2*6 + 4*pi, Vec2{3, 4}},
		{"slot", slot, 13*4 + 4*pi, 26 + 4*pi, Vec2{1, 3.5}},
		{"hexagon", hex, math.Sqrt(3) / 2 * 169, 6 * 13 / math.Sqrt(3), Vec2{}},
		{"circle", Circle{Vec2{-2, 9}, 5}.Path(), 25 * pi, 10 * pi, Vec2{-2, 9}},
		{"half circle", Path{{Vec2{4, 0}, 1}, {Vec2{-4, 0}, 0}}, 8 * pi, 4*pi + 8, Vec2{0, 16 / (3 * pi)}},
		{"angle", l, 3*(30+25-3) + (1-pi/4)*(9-4.5), 0, Vec2{}},
	}
	for _, tt := range tests {
		if err := tt.p.Validate(); err != nil {
			t.Errorf("%s: %v", tt.name, err)
		}
		near(t, tt.name+" area", tt.p.Area(), tt.area, 1e-10)
		near(t, tt.name+" reversed", tt.p.Reversed().Area(), -tt.area, 1e-10)
		if tt.name == "angle" {
			continue // its other figures are checked by a handbook formula below
		}
		near(t, tt.name+" length", perimeter(Profile{Outer: tt.p}), tt.length, 1e-10)
		near(t, tt.name+" centroid x", centroid(tt.p.moments()).X, tt.c.X, 1e-12)
		near(t, tt.name+" centroid y", centroid(tt.p.moments()).Y, tt.c.Y, 1e-12)
	}
}

// Centroid and second moment of a sharp equal angle by the handbook formulas:
// y = (b² + bt - t²)/(2(2b - t)), I = (b⁴ - (b-t)⁴)/3 - A(b-y)² with y from the
// outer face; here about the centroid, measured from the heel.
func TestSharpAngleHandbook(t *testing.T) {
	b, th := 31.75, 3.175
	p := path(t)(LProfile(b, b, th, 0, 0))
	y := (b*b + b*th - th*th) / (2 * (2*b - th))
	near(t, "centroid", centroid(p.moments()).Y, y, 1e-12)
	// by parts about the heel's edge: leg along x, and the rest of the other leg
	i0 := b*th*th*th/3 + th*(b*b*b-th*th*th)/3
	ix, _, _ := secondMoments(Profile{Outer: p})
	near(t, "Ix", ix, i0-p.Area()*y*y, 1e-8)
}

// Transforms keep area, orientation and vertices where they belong.
func TestPathTransforms(t *testing.T) {
	r := rand.New(rand.NewSource(8))
	for range rounds(200) {
		p := randomFace(r).Outer
		a := p.Area()
		near(t, "turned", p.Turned(r.Float64()*7).Area(), a, 1e-8)
		near(t, "mirrored", p.MirroredY().Area(), a, 1e-8)
		q := p.Reversed().Reversed()
		for k := range p {
			if p[k] != q[k] && p[k].P != q[k].P {
				t.Fatalf("reversed twice: %v, was %v", q, p)
			}
		}
		if p.Oriented(false).CCW() || !p.Oriented(true).CCW() {
			t.Fatal("orientation")
		}
	}
}

// Flattened polygons have their vertices on the path and stay within the chord
// error, and their box tends to the exact box.
func TestFlattenAndBounds(t *testing.T) {
	r := rand.New(rand.NewSource(9))
	for range rounds(100) {
		p := randomFace(r).Outer
		for _, e := range []float64{0.3, 0.01} {
			pts := p.Flatten(e)
			es := p.Edges()
			for k, a := range pts {
				b := pts[(k+1)%len(pts)]
				if d := distToEdges(es, a.Lerp(b, 0.5)); d > e+1e-9 {
					t.Fatalf("chord strays %g, allowed %g", d, e)
				}
				if d := distToEdges(es, a); d > 1e-9 {
					t.Fatalf("vertex %g off the path", d)
				}
			}
			box, exact := EmptyBox2(), p.Bounds()
			for _, q := range pts {
				box = box.Add(q)
			}
			if exact.Min.Sub(box.Min).Len() > 2*e || exact.Max.Sub(box.Max).Len() > 2*e || box.Min.X < exact.Min.X-1e-9 {
				t.Fatalf("box %v, exact %v", box, exact)
			}
		}
	}
}

func distToEdges(es []Edge, q Vec2) float64 {
	d := math.Inf(1)
	for _, e := range es {
		d = min(d, e.Dist(q))
	}
	return d
}

// Containment against the area by sampling, and against the flattened polygon.
func TestContains(t *testing.T) {
	r := rand.New(rand.NewSource(10))
	for range rounds(30) {
		p := randomFace(r)
		fine := p.Outer.Flatten(1e-3)
		poly := make(Path, len(fine))
		for k, q := range fine {
			poly[k].P = q
		}
		for k := 0; k < 200; k++ {
			q := Vec2{r.Float64()*200 - 100, r.Float64()*200 - 100}
			if math.Abs(p.Outer.DistTo(q)) > 0.01 && p.Outer.Contains(q) != poly.Contains(q) {
				t.Fatalf("%v: arcs say %v", q, p.Outer.Contains(q))
			}
		}
	}
	c := Circle{Vec2{}, 5}.Path() // points on the chord common to both halves
	for _, x := range []float64{-4, 0, 4.2} {
		if !c.Contains(Vec2{x, 0}) || c.Contains(Vec2{x + 10, 0}) {
			t.Errorf("point on the diameter at %g", x)
		}
	}
}

func TestPathRefusals(t *testing.T) {
	nan := math.NaN()
	sq := RectAt(Vec2{}, 10, 10)
	v := func(x, y float64) Vertex { return Vertex{P: Vec2{x, y}} }
	for name, tt := range map[string]struct {
		p    Path
		want error
	}{
		"empty":        {Path{}, ErrTooFew},
		"one":          {sq[:1], ErrTooFew},
		"nan":          {Path{v(nan, 0), v(1, 0), v(1, 1)}, ErrNotFinite},
		"far away":     {Path{v(1e9, 0), v(1, 0), v(1, 1)}, ErrNotFinite},
		"huge arc":     {Path{{Vec2{0, 0}, 1e-4}, v(9e4, 0), v(9e4, 1)}, nil},
		"full turn":    {Path{{Vec2{0, 0}, 1e9}, v(1, 0)}, ErrBulge},
		"double point": {Path{v(0, 0), v(0, 0), v(1, 0), v(1, 1)}, ErrShortEdge},
		"bow tie":      {Path{v(0, 0), v(2, 2), v(2, 0), v(0, 2)}, ErrCrossing},
		"spike":        {Path{v(0, 0), v(4, 0), v(2, 0), v(2, 3)}, ErrCrossing},
		"there, back":  {Path{v(0, 0), v(4, 0)}, ErrCrossing},
		"arc and back": {Path{{Vec2{0, 0}, 0.5}, {Vec2{4, 0}, -0.5}}, ErrCrossing},
		"touching":     {Path{v(0, 0), v(4, 0), v(4, 4), v(2, 0), v(0, 4)}, ErrCrossing},
		"arc crosses":  {Path{v(0, 0), v(10, 0), v(10, 2), {Vec2{8, 2}, -0.9}, v(2, 2), v(0, 2)}, ErrCrossing},
		"lens":         {Path{{Vec2{0, 0}, 0.5}, {Vec2{4, 0}, 0.5}}, nil},
		"square":       {sq, nil},
		"tangent arcs": {Path{{Vec2{0, 0}, 1}, {Vec2{4, 0}, -1}, {Vec2{8, 0}, 0}, v(8, 9), v(0, 9)}, nil},
	} {
		err := tt.p.Validate()
		if !errors.Is(err, tt.want) || (err == nil) != (tt.want == nil) {
			t.Errorf("%s: %v, want %v", name, err, tt.want)
		}
	}
}

func TestProfileRefusals(t *testing.T) {
	sq := RectAt(Vec2{}, 10, 10)
	slot := path(t)(Obround(Vec2{-1, 0}, Vec2{1, 0}, 1))
	for name, tt := range map[string]struct {
		p    Profile
		want error
	}{
		"clockwise":       {Profile{Outer: sq.Reversed()}, ErrOrientation},
		"slot turns left": {Profile{Outer: sq, Slots: []Path{slot}}, ErrOrientation},
		"hole outside":    {Profile{Outer: sq, Circles: []Circle{{Vec2{20, 0}, 1}}}, ErrHoleOutside},
		"hole over edge":  {Profile{Outer: sq, Circles: []Circle{{Vec2{4.5, 0}, 1}}}, ErrHoleOutside},
		"hole touches":    {Profile{Outer: sq, Circles: []Circle{{Vec2{4, 0}, 1}}}, ErrHoleOutside},
		"hole round all":  {Profile{Outer: sq, Circles: []Circle{{Vec2{}, 20}}}, ErrHoleOutside},
		"holes overlap":   {Profile{Outer: sq, Circles: []Circle{{Vec2{}, 1}, {Vec2{1, 0}, 1}}}, ErrHolesTouch},
		"hole in hole":    {Profile{Outer: sq, Circles: []Circle{{Vec2{}, 2}, {Vec2{0.5, 0}, 1}}}, ErrHolesTouch},
		"hole in slot":    {Profile{Outer: sq, Slots: []Path{slot.Reversed()}, Circles: []Circle{{Vec2{}, 0.2}}}, ErrHolesTouch},
		"holes touch":     {Profile{Outer: sq, Circles: []Circle{{Vec2{}, 1}, {Vec2{2, 0}, 1}}}, ErrHolesTouch},
		"no radius":       {Profile{Outer: sq, Circles: []Circle{{Vec2{}, 0}}}, ErrSize},
		"nan radius":      {Profile{Outer: sq, Circles: []Circle{{Vec2{}, math.NaN()}}}, ErrSize},
		"sound":           {Profile{Outer: sq, Slots: []Path{slot.Reversed()}, Circles: []Circle{{Vec2{3, 3}, 1}}}, nil},
	} {
		err := tt.p.Validate()
		if !errors.Is(err, tt.want) || (err == nil) != (tt.want == nil) {
			t.Errorf("%s: %v, want %v", name, err, tt.want)
		}
	}
}

// Closest points of edges against dense sampling.
func TestEdgeDistance(t *testing.T) {
	r := rand.New(rand.NewSource(12))
	edge := func() Edge {
		p := func() Vec2 { return Vec2{r.Float64() * 10, r.Float64() * 10} }
		return NewEdge(p(), p(), []float64{0, 0, 1, -0.4, 2.5, r.Float64()*4 - 2}[r.Intn(6)])
	}
	for i := range rounds(400) {
		a, b := edge(), edge()
		m := edgeDist(a, b)
		best := math.Inf(1)
		const n = 300
		for k := 0; k <= n; k++ {
			p := a.At(float64(k) / n)
			best = min(best, b.Dist(p))
			q := b.At(float64(k) / n)
			best = min(best, a.Dist(q))
		}
		step := max(edgeLen(a), edgeLen(b)) / n
		if m.d > best+1e-9 || m.d < best-step {
			t.Fatalf("case %d: %g, sampled %g\n%+v\n%+v", i, m.d, best, a, b)
		}
		near(t, "points", m.p.Dist(m.q), m.d, 1e-9)
	}
}

func TestFrames(t *testing.T) {
	r := rand.New(rand.NewSource(13))
	for i := 0; i < 100; i++ {
		f, g := randomFrame(r), randomFrame(r)
		p := Vec3{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
		nearVec(t, "there and back", f.ToLocal(f.Point(p)), p, 1e-12)
		nearVec(t, "inverse", f.Inverse().Point(f.Point(p)), p, 1e-12)
		nearVec(t, "composed", f.Mul(g).Point(p), f.Point(g.Point(p)), 1e-12)
	}
	if err := World().Turned(math.Pi).Check(); err != nil || World().Turned(math.Pi).X != (Vec3{X: -1}) {
		t.Errorf("half turn %v: %v", World().Turned(math.Pi), err)
	}
	for name, f := range map[string]Frame{
		"zero": {}, "nan": At(Vec3{X: math.NaN()}), "left-handed": {X: Vec3{X: 1}, Y: Vec3{Y: 1}, Z: Vec3{Z: -1}},
		"stretched": {X: Vec3{X: 2}, Y: Vec3{Y: 1}, Z: Vec3{Z: 1}},
	} {
		if f.Check() == nil {
			t.Errorf("%s passed", name)
		}
		b := block(t, 1, 1, 1)
		if _, err := DistanceWithin(NewBody(b, World()), NewBody(b, f), 1); err == nil {
			t.Errorf("%s: distance without error", name)
		}
	}
}
