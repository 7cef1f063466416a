package step

import (
	"bytes"
	"errors"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"clampwright/parts/geom"
)

// block is a box with its mark in a colour.
func block(t *testing.T, name string) Shape {
	t.Helper()
	s, err := geom.Box(geom.Vec3{}, geom.Vec3{X: 3, Y: 4, Z: 5})
	if err != nil {
		t.Fatal(err)
	}
	return Shape{Name: name, Solid: s, Colour: [3]float64{0.5, 0.25, 1}}
}

// bent is an angle with everything that has an edge of its own: root and toe
// fillets, mitred ends that cut one of them, a hole.
func bent(t *testing.T) Shape {
	t.Helper()
	s, err := geom.Angle{LegA: 40, LegB: 40, T: 4, Root: 6, Toe: 3, Length: 120, ChamferB: 15, Holes: []geom.AngleHole{{ID: "H1", X: 20, Y: 22, R: 4}}}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	return Shape{Name: "angle", Solid: s}
}

func encoded(t *testing.T, m Model) string {
	t.Helper()
	var b bytes.Buffer
	if err := Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var (
	line      = regexp.MustCompile(`^#([0-9]+)=(\(?[A-Z_0-9]+\(.*\));$`)
	word      = regexp.MustCompile(`[A-Z][A-Z_0-9]*`)
	reference = regexp.MustCompile(`#([0-9]+)`)
	quote     = regexp.MustCompile(`'(?:[^']|'')*'`)
	real      = regexp.MustCompile(`^-?[0-9]+\.[0-9]*(E[-+][0-9]+)?$`)
)

// counted reads the data section by the grammar of the exchange structure: numbers
// in order, only what stands before referred to, parentheses closed, reals with a
// point. It returns how often each kind of entity stands.
func counted(t *testing.T, file string) map[string]int {
	t.Helper()
	head, data, found := strings.Cut(file, "DATA;\n")
	data, foot, ended := strings.Cut(data, "ENDSEC;\n")
	if !found || !ended || foot != "END-ISO-10303-21;\n" || !strings.HasPrefix(head, "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((") || !strings.HasSuffix(head, "'));\nENDSEC;\n") {
		t.Fatalf("no such file: %.200s", file)
	}
	kinds := map[string]int{}
	for i, l := range strings.Split(strings.TrimSuffix(data, "\n"), "\n") {
		m := line.FindStringSubmatch(l)
		if m == nil || m[1] != strconv.Itoa(i+1) {
			t.Fatalf("entity %d is %q", i+1, l)
		}
		plain := quote.ReplaceAllString(m[2], "''")
		for _, r := range reference.FindAllStringSubmatch(plain, -1) {
			if n, _ := strconv.Atoi(r[1]); n < 1 || n > i {
				t.Errorf("%s refers to what stands behind it", l)
			}
		}
		if strings.Count(plain, "(") != strings.Count(plain, ")") {
			t.Errorf("%s: parentheses", l)
		}
		kind := word.FindString(plain)
		kinds[kind]++
		if kind == "CARTESIAN_POINT" || kind == "DIRECTION" {
			for _, v := range strings.Split(strings.Trim(strings.SplitN(plain, ",", 2)[1], "()"), ",") {
				if !real.MatchString(v) {
					t.Errorf("%s: %q is no real", l, v)
				}
			}
		}
	}
	return kinds
}

func TestStructure(t *testing.T) {
	at := geom.At(geom.Vec3{X: 10})
	two := []Place{{Name: "a", Frame: geom.World()}, {Name: "b", Frame: at}, {Name: "c", Shape: 1, Frame: at.Turned(1)}}
	for _, c := range []struct {
		name  string
		model Model
		want  map[string]int
	}{
		{"one box", Model{Name: "box", About: []string{"x"}, Shapes: []Shape{block(t, "box")}}, map[string]int{
			"PRODUCT": 1, "MANIFOLD_SOLID_BREP": 1, "CLOSED_SHELL": 1, "ADVANCED_FACE": 6, "FACE_OUTER_BOUND": 6, "FACE_BOUND": 0, "EDGE_CURVE": 12, "ORIENTED_EDGE": 24, "VERTEX_POINT": 8,
			"PLANE": 6, "LINE": 12, "STYLED_ITEM": 1, "COLOUR_RGB": 1, "NEXT_ASSEMBLY_USAGE_OCCURRENCE": 0, "ADVANCED_BREP_SHAPE_REPRESENTATION": 1,
		}},
		{"an angle", Model{Name: "angle", Shapes: []Shape{bent(t)}}, map[string]int{
			"CYLINDRICAL_SURFACE": 4, "ELLIPSE": 2, "CIRCLE": 6, "FACE_BOUND": 2, "MANIFOLD_SOLID_BREP": 1,
		}},
		{"two boxes of one shape, one angle", Model{Name: "all", Shapes: []Shape{block(t, "box"), bent(t)}, Places: two}, map[string]int{
			"PRODUCT": 3, "MANIFOLD_SOLID_BREP": 2, "NEXT_ASSEMBLY_USAGE_OCCURRENCE": 3, "ITEM_DEFINED_TRANSFORMATION": 3, "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION": 3,
			"SHAPE_REPRESENTATION": 1, "ADVANCED_BREP_SHAPE_REPRESENTATION": 2, "STYLED_ITEM": 2, "COLOUR_RGB": 2,
		}},
	} {
		file := encoded(t, c.model)
		got := counted(t, file)
		for kind, n := range c.want {
			if got[kind] != n {
				t.Errorf("%s: %d of %s, want %d", c.name, got[kind], kind, n)
			}
		}
		if encoded(t, c.model) != file {
			t.Errorf("%s: two runs differ", c.name)
		}
	}
}

// Texts as ISO 10303-21 quotes them; numbers always with a point.
func TestWritten(t *testing.T) {
	for in, want := range map[string]string{
		"P1": "'P1'", "": "''", "5' plate": "'5'' plate'", `a\b`: `'a\\b'`, "Plätte": `'Pl\X2\00E4\X0\tte'`, "電池": `'\X2\96FB\X0\\X2\6C60\X0\'`, "🔩": `'\X2\D83DDD29\X0\'`, "a\nb": `'a\X2\000A\X0\b'`,
	} {
		if got := quoted(in); got != want {
			t.Errorf("%q is written %s, want %s", in, got, want)
		}
	}
	for v, want := range map[float64]string{1: "1.", -0.5: "-0.5", 0: "0.", -1e-14: "0.", 1e7: "10000000.", 1.0 / 3: "0.3333333333"} {
		f := &file{}
		if f.real(v); string(f.buf) != want {
			t.Errorf("%v is written %s, want %s", v, f.buf, want)
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

var errFull = errors.New("no room")

func TestEncodeFails(t *testing.T) {
	if err := Encode(full{}, Model{Shapes: []Shape{block(t, "box")}}); !errors.Is(err, errFull) {
		t.Errorf("a full disk: %v", err)
	}
	lost := geom.World()
	lost.O.X /= lost.O.X // not a number
	m := Model{Name: "all", Shapes: []Shape{block(t, "box")}, Places: []Place{{Name: "one", Frame: lost}}}
	if err := Encode(&bytes.Buffer{}, m); err == nil || !strings.Contains(err.Error(), "one") {
		t.Errorf("a place that is nowhere: %v", err)
	}
}
