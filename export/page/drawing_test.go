package page

import (
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"clampwright/parts/geom"
)

func TestEdgesOfKnownShapes(t *testing.T) {
	for _, c := range []struct {
		name          string
		m             geom.Mesh
		creases, open int
	}{
		{"box", prism(rectangle(0, 0, 3, 2), 1), 12, 0},
		{"cylinder of 96 facets: two rims", prism(ngon(4, 96), 10), 2 * 96, 0},
		{"hexagon nut blank", prism(ngon(4, 6), 10), 18, 0},
	} {
		s := newShape(c.m)
		creases, open := 0, 0
		for _, e := range s.edges {
			if e.crease {
				creases++
			}
			if e.right < 0 {
				open++
			}
		}
		if creases != c.creases || open != c.open {
			t.Errorf("%s: %d creases, %d open, want %d and %d", c.name, creases, open, c.creases, c.open)
		}
		// Euler: a closed surface without holes has V - E + F = 2.
		if x := len(s.vertices) - len(s.edges) + len(s.triangles); x != 2 {
			t.Errorf("%s: V - E + F = %d", c.name, x)
		}
	}
}

func TestWeldJoinsEqualCorners(t *testing.T) {
	m := prism(rectangle(0, 0, 1, 1), 1)
	var soup geom.Mesh
	for _, tri := range m.Triangles {
		for _, v := range tri {
			soup.Vertices = append(soup.Vertices, m.Vertices[v])
		}
		n := int32(len(soup.Vertices))
		soup.Triangles = append(soup.Triangles, geom.Triangle{n - 3, n - 2, n - 1})
	}
	if s := newShape(soup); len(s.vertices) != 8 || len(s.edges) != 18 {
		t.Fatalf("%d vertices, %d edges", len(s.vertices), len(s.edges))
	}
}

func TestLayersGrowOutward(t *testing.T) {
	got := layers([]span{{-10, 10}, {-40, 40}, {10, 30}, {30, 31}, {31, 61}, {33, 41}, {-30, -10}, {-31, -30}})
	want := []int{0, 0, 1, 2, 3, 4, -1, -2}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Fatalf("%v, want %v", got, want)
	}
}

// The packed vertices must stand within half a step of the true ones.
func TestPackKeepsThePlace(t *testing.T) {
	st := newStage(sampleScene())
	raw, err := st.pack(1.5)
	if err != nil {
		t.Fatal(err)
	}
	var p packed
	if err := json.Unmarshal(raw, &p); err != nil {
		t.Fatal(err)
	}
	for i, s := range st.shapes {
		v, err := base64.StdEncoding.DecodeString(p.Shapes[i].V)
		if err != nil || len(v) != 6*len(s.vertices) {
			t.Fatalf("shape %d: %d bytes, %v", i, len(v), err)
		}
		for j, want := range s.vertices {
			for k, w := range []float64{want.X, want.Y, want.Z} {
				lo, _ := p.Shapes[i].Box[k].Float64()
				hi, _ := p.Shapes[i].Box[k+3].Float64()
				got := lo + float64(binary.LittleEndian.Uint16(v[6*j+2*k:]))/65535*(hi-lo)
				if math.Abs(got-w) > 0.5*(hi-lo)/65535+2e-6 {
					t.Fatalf("shape %d vertex %d: %g, want %g", i, j, got, w)
				}
			}
		}
	}
	if len(p.Shapes) != 7 || len(p.Actors) != 16+32+2+4+6+12+12 {
		t.Fatalf("%d shapes, %d instances: meshes are not shared", len(p.Shapes), len(p.Actors))
	}
}

// strokes reads the lines of a still back from its path.

func cubeScene(sizes ...float64) Scene {
	var sc Scene
	for i, s := range sizes {
		sc.Bodies = append(sc.Bodies, Body{Name: fmt.Sprint("cube ", i), Class: []Class{Cell, Plate}[i%2],
			Mesh: prism(rectangle(-s/2, -s/2, s/2, s/2), s), Places: []Place{{"", at(0, 0, -s/2)}}})
	}
	return sc
}

// A cube seen from a corner shows nine of its twelve edges, and their total
// length is the sum of the projected lengths, whatever the direction.
func TestStillShowsNineEdgesOfACube(t *testing.T) {
	st := newStage(cubeScene(100))
	p := newStill(st, stillView)
	p.draw(st)
	var got float64
	for _, s := range p.strokes {
		got += math.Hypot(float64(s[1][0]-s[0][0]), float64(s[1][1]-s[0][1])) / 2
	}
	var want float64
	for _, axis := range []geom.Vec3{{X: 100}, {Y: 100}, {Z: 100}} {
		want += 3 * p.scale * math.Hypot(axis.Dot(p.right), axis.Dot(p.up))
	}
	if math.Abs(got-want) > 0.01*want {
		t.Fatalf("lines of %.1f pixels, want %.1f", got, want)
	}
}

// A cube inside a larger one adds no line and no colour.
func TestStillHidesWhatStandsBehind(t *testing.T) {
	draw := func(sc Scene) *still {
		st := newStage(sc)
		p := newStill(st, stillView)
		p.draw(st)
		return p
	}
	alone, both := draw(cubeScene(100)), draw(cubeScene(100, 60))
	if alone.inked(0) != both.inked(0) {
		t.Error("a hidden line was drawn")
	}
	if !slices.Equal(alone.inks, both.inks) {
		t.Error("a hidden surface was painted")
	}
}

// The painted area of a cube is the sum of its three visible faces, projected.
func TestStillPaintsTheRightArea(t *testing.T) {
	st := newStage(cubeScene(100))
	p := newStill(st, stillView)
	p.draw(st)
	n := 0
	for _, c := range p.inks {
		if c != 0 {
			n++
		}
	}
	want := 100 * 100 * p.scale * p.scale * (math.Abs(p.eye.X) + math.Abs(p.eye.Y) + math.Abs(p.eye.Z))
	if math.Abs(float64(n)-want) > 0.005*want {
		t.Fatalf("%d pixels, want %.0f", n, want)
	}
}

func TestViewAxesAreOrthonormal(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		r, u, e := view{rng.Float64() * 7, rng.Float64()*3 - 1.5}.axes()
		for _, v := range []float64{r.Dot(r) - 1, u.Dot(u) - 1, e.Dot(e) - 1, r.Dot(u), u.Dot(e), e.Dot(r), r.Cross(u).Dot(e) - 1} {
			if math.Abs(v) > 1e-12 {
				t.Fatalf("off by %g", v)
			}
		}
	}
}

// luminance is the relative luminance of WCAG 2.1 (from IEC 61966-2-1).
func luminance(r, g, b uint8) float64 {
	lin := func(c uint8) float64 {
		v := float64(c) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(r) + 0.7152*lin(g) + 0.0722*lin(b)
}

// The scale must read in grey: each step darker than the last, by enough to be
// told from its neighbour.
func TestScaleFallsInGrey(t *testing.T) {
	for _, top := range []float64{0.3, 1, 7, 83, 110, 125, 442, 999} {
		sc := newScale(top)
		if n := len(sc.tints); n < 8 || n > 20 {
			t.Errorf("top %g: %d steps", top, n)
		}
		if sc.top() < top || sc.top() > top+sc.step {
			t.Errorf("top %g: scale ends at %g", top, sc.top())
		}
		for i := 1; i < len(sc.tints); i++ {
			a, b := sc.tints[i-1], sc.tints[i]
			if r := (luminance(a.R, a.G, a.B) + 0.05) / (luminance(b.R, b.G, b.B) + 0.05); r < 1.06 {
				t.Errorf("top %g: steps %d and %d differ by %.3f only", top, i-1, i, r)
			}
		}
	}
}

// OKLCH of white and of the sRGB primaries, from memory of the colour space's
// published examples (loose).
func TestOKLCHKnownColours(t *testing.T) {
	for _, c := range []struct {
		l, ch, h float64
		want     [3]uint8
	}{{1, 0, 0, [3]uint8{255, 255, 255}}, {0, 0, 0, [3]uint8{0, 0, 0}}, {0.628, 0.2577, 29.23, [3]uint8{255, 0, 0}}, {0.8664, 0.2948, 142.5, [3]uint8{0, 255, 0}}, {0.452, 0.3132, 264.05, [3]uint8{0, 0, 255}}} {
		got, _ := oklch(c.l, c.ch, c.h*math.Pi/180)
		for i, v := range []uint8{got.R, got.G, got.B} {
			if math.Abs(float64(v)-float64(c.want[i])) > 4 {
				t.Errorf("%+v gives %v", c, got)
			}
		}
	}
}

func area(cs []Polyline) float64 {
	sum := 0.0
	for _, c := range cs {
		a := 0.0
		for i, p := range c {
			q := c[(i+1)%len(c)]
			a += p.X*q.Y - q.X*p.Y
		}
		sum += math.Abs(a) / 2
	}
	return sum
}

// What lies below a limit and what lies above it fill the face, on random
// graded grids; on a plane field the part below is known exactly.
func TestRegionsFillTheFace(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		f := Field{X: graded(rng), Y: graded(rng)}
		for range len(f.X) * len(f.Y) {
			f.P = append(f.P, rng.Float64()*100)
		}
		limit := rng.Float64() * 100
		r := f.box()
		whole := (r.Max.X - r.Min.X) * (r.Max.Y - r.Min.Y)
		if got := area(f.region(limit, 1)) + area(f.region(limit, -1)); math.Abs(got-whole) > 1e-9*whole {
			t.Fatalf("areas sum to %g of %g", got, whole)
		}
		for k := range f.P {
			f.P[k] = f.X[k%len(f.X)]
		}
		at := r.Min.X + rng.Float64()*(r.Max.X-r.Min.X)
		if got, want := area(f.region(at, 1)), (at-r.Min.X)*(r.Max.Y-r.Min.Y); math.Abs(got-want) > 1e-9*whole {
			t.Fatalf("below %g: %g, want %g", at, got, want)
		}
	}
}

func graded(rng *rand.Rand) []float64 {
	xs := []float64{rng.Float64()*20 - 10}
	for range 2 + rng.IntN(12) {
		xs = append(xs, xs[len(xs)-1]+0.1+rng.Float64()*9)
	}
	return xs
}

// A field that is linear in x and y is met exactly between its nodes.
func TestFieldBetweenNodes(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		f := Field{X: graded(rng), Y: graded(rng)}
		for _, y := range f.Y {
			for _, x := range f.X {
				f.P = append(f.P, 3*x-2*y+7)
			}
		}
		r := f.box()
		v := geom.Vec2{X: r.Min.X + rng.Float64()*(r.Max.X-r.Min.X), Y: r.Min.Y + rng.Float64()*(r.Max.Y-r.Min.Y)}
		if got, want := f.at(v), 3*v.X-2*v.Y+7; math.Abs(got-want) > 1e-9 {
			t.Fatalf("%g, want %g", got, want)
		}
	}
}

func TestNiceStep(t *testing.T) {
	for _, c := range [][2]float64{{1, 1}, {1.9, 1}, {2, 2}, {4.9, 2}, {5, 5}, {9.99, 5}, {10, 10}, {0.03, 0.02}, {1234, 1000}} {
		if got := niceStep(c[0]); math.Abs(got-c[1]) > 1e-12*c[1] {
			t.Errorf("%g gives %g, want %g", c[0], got, c[1])
		}
	}
}

// Turning a picture must not mirror it: the sign of every area stays.
func TestTurnedPicturesAreNotMirrored(t *testing.T) {
	sign := func(c Polyline) bool { // true when counter-clockwise
		a := 0.0
		for i, p := range c {
			q := c[(i+1)%len(c)]
			a += p.X*q.Y - q.X*p.Y
		}
		return a > 0
	}
	l := Polyline{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 50}, {X: 0, Y: 60}}
	if !sign(quarterTurn([]Polyline{l}, 100)[0]) {
		t.Error("a nested sheet is mirrored")
	}
	if !sign(lying(DrillPart{Outlines: []Polyline{l}}).Outlines[0]) {
		t.Error("a drilled part is mirrored")
	}
	// Seen from above with x to the right, z runs down the picture.
	s := WiringState{Links: []LinkTop{{Line: l}}}
	for _, to := range []func(geom.Vec2) geom.Vec2{
		func(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.Y, Y: v.X} },
		func(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.X, Y: -v.Y} },
	} {
		if sign(s.mapped(to).Links[0].Line) {
			t.Error("a view from above must turn x, z over")
		}
	}
}

func TestLabelsStandInsideTheirShape(t *testing.T) {
	sk := sampleChecks()[2].Sketch
	var b strings.Builder
	p := fitted(&b, sketchBox(*sk), sketchMargin, sketchMargin, sketchW-2*sketchMargin, sketchH-2*sketchMargin)
	for _, sh := range sk.Shapes {
		at, ok := labelPlace(p, sh, nil)
		v := geom.Vec2{X: (at.X - p.ox) / p.sx, Y: (at.Y - p.oy) / p.sy}
		if ok && !inside(sh.Outlines, v) {
			t.Errorf("%s: name at %v", sh.Label, v)
		}
	}
}

func TestSoftBreaksOnlyLongRuns(t *testing.T) {
	for in, want := range map[string]string{
		"12.5 mm":                         "12.5\u00a0mm",
		"birch plywood, 18 mm":            "birch plywood, 18\u00a0mm",
		"9 1/2 x 7 63/64 in (1234567.8)":  "9\u00a01/2\u00a0x 7\u00a063/64\u00a0in (1234567.8)",
		"keep-clear.rod-cell":             "keep-clear.<wbr>rod-cell",
		"<b>&":                            "&lt;b&gt;&amp;",
		strings.Repeat("x", 30):           strings.Repeat("x", 14) + "<wbr>" + strings.Repeat("x", 14) + "<wbr>xx",
		"a" + strings.Repeat("\u00a0", 2): "a\u00a0\u00a0",
	} {
		if got := string(soft(in)); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}

// Pieces too short to be named in the picture are named below it.
func TestBarsListShortPieces(t *testing.T) {
	svg := barsSVG([]Bar{{Name: "1: bar", Length: 2000, Pieces: []BarPiece{{"K1", 20}, {"K1", 20}, {"K2", 900}}}})
	if want := ">2 x K1, 1 x K2<"; !strings.Contains(svg, want) {
		t.Errorf("the bars do not say %q:\n%s", want, svg)
	}
	many := make([]Bar, 20)
	for i := range many {
		many[i] = Bar{Name: "bar", Length: 1000, Pieces: []BarPiece{{"R1", 300}}}
	}
	svg = barsSVG(many)
	if n, m := strings.Count(svg, "<svg"), strings.Count(svg, ">1 x R1<"); n != 3 || m != 20 {
		t.Errorf("20 bars give %d pictures with %d bars", n, m)
	}
}

// An angle is drawn with its heel, also when it is drawn lying.
func TestDrillShowsHeel(t *testing.T) {
	for _, edge := range []Polyline{rectangle(0, 0, 300, 30), rectangle(0, 0, 30, 300)} {
		d := DrillPart{Outlines: []Polyline{edge}, Heel: edge[:2]}
		if svg := drillSVG(d); !strings.Contains(svg, `class="heel"`) || !strings.Contains(svg, ">heel<") {
			t.Errorf("no heel:\n%s", svg)
		}
		if d.Heel = nil; strings.Contains(drillSVG(d), "heel") {
			t.Error("a plate has no heel")
		}
	}
}
