package dxf

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"sync"
	"testing"

	"clampwright/parts/geom"
)

// quarter is the bulge of a quarter circle, tan(90°/4).
var quarter = math.Tan(math.Pi / 8)

func rect(x, y, w, h float64) geom.Path {
	return geom.Path{
		{P: geom.Vec2{X: x, Y: y}}, {P: geom.Vec2{X: x + w, Y: y}},
		{P: geom.Vec2{X: x + w, Y: y + h}}, {P: geom.Vec2{X: x, Y: y + h}},
	}
}

// rounded is a counter-clockwise rectangle with corner radius r.
func rounded(x, y, w, h, r float64) geom.Path {
	v := func(px, py, b float64) geom.Vertex { return geom.Vertex{P: geom.Vec2{X: px, Y: py}, Bulge: b} }
	return geom.Path{
		v(x+r, y, 0), v(x+w-r, y, quarter), v(x+w, y+r, 0), v(x+w, y+h-r, quarter),
		v(x+w-r, y+h, 0), v(x+r, y+h, quarter), v(x, y+h-r, 0), v(x, y+r, quarter),
	}
}

// slot is a clockwise slot of length l between centres and radius r.
func slot(cx, cy, l, r float64) geom.Path {
	v := func(px, py, b float64) geom.Vertex { return geom.Vertex{P: geom.Vec2{X: px, Y: py}, Bulge: b} }
	return geom.Path{v(cx-l/2, cy+r, 0), v(cx+l/2, cy+r, -1), v(cx+l/2, cy-r, 0), v(cx-l/2, cy-r, -1)}
}

// plate is a drawing with one of everything.
func plate() Drawing {
	return Drawing{
		Outlines: []geom.Path{rounded(0, 0, 223.8375, 200.025, 6.35)},
		Slots:    []geom.Path{slot(110, 100, 20, 4)},
		Holes: []geom.Circle{
			{C: geom.Vec2{X: 14, Y: 52}, R: 5.55625}, {C: geom.Vec2{X: 209.8375, Y: 52}, R: 5.55625},
		},
		Marks: Scribe{
			Texts:   []Text{{Value: "P1", At: geom.Vec2{X: 111, Y: 180}, HeightMM: 6, Centred: true}},
			Lines:   Cross(geom.Vec2{X: 30, Y: 30}, 3),
			Strokes: Lettering("A-1", geom.Vec2{X: 60, Y: 180}, 6),
		},
		Notes: Scribe{Texts: []Text{
			{Value: `Ø 7/16 in ±0.2, ½ at 90°, 5 %, 100 %% \ ^ Größe`, At: geom.Vec2{X: 10, Y: 10}, HeightMM: 3.5},
		}},
	}
}

func encode(t *testing.T, d Drawing) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Encode(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestEncodeIsASCIIWithoutNegativeZeroOrExponent(t *testing.T) {
	d := plate()
	d.Notes.Lines = []Line{{geom.Vec2{X: -1e-9, Y: 1e-12}, geom.Vec2{X: 50, Y: -1e-13}}}
	for i, line := range bytes.Split(encode(t, d), []byte("\n")) {
		if string(line) == "-0.0" || bytes.Contains(line, []byte("e-")) {
			t.Errorf("line %d: %s", i+1, line)
		}
		for _, c := range line {
			if c < ' ' || c > '~' {
				t.Errorf("line %d holds byte %#x", i+1, c)
			}
		}
	}
}

func TestEncodeTwiceAndAtOnceGivesTheSameBytes(t *testing.T) {
	want := encode(t, plate())
	var wg sync.WaitGroup
	got := make([]bytes.Buffer, 8)
	for i := range got {
		wg.Go(func() {
			if err := Encode(&got[i], plate()); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	for i := range got {
		if !bytes.Equal(got[i].Bytes(), want) {
			t.Errorf("run %d differs", i)
		}
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

var errFull = errors.New("no room")

func TestEncodeReportsAFailedWrite(t *testing.T) {
	if err := Encode(fullDisk{}, plate()); !errors.Is(err, errFull) {
		t.Errorf("got %v", err)
	}
}

func TestEscape(t *testing.T) {
	for in, want := range map[string]string{
		"P1":            "P1",
		"⌀11 ±0.2 45°":  "%%c11 %%p0.2 45%%d",
		"½ in":          `\U+00BD in`,
		"5 % and 5 %%d": `5 % and 5 \U+0025\U+0025d`,
		`a\P^J`:         `a\U+005CP\U+005EJ`,

		strings.Repeat("Ж", 120):  strings.Repeat(`\U+0416`, 120), // as long as a name may be
		"a🔩b":                     "a?b",
		strings.Repeat("x", 2049): strings.Repeat("x", 2049),
	} {
		got, err := escape(in)
		if err != nil || got != want {
			t.Errorf("escape(%q) = %q, %v, want %q", in, got, err, want)
		}
	}
	for _, in := range []string{"two\nlines", "\x00", "a\u0085b", "\xff", strings.Repeat("x", 2050)} {
		if got, err := escape(in); err == nil {
			t.Errorf("escape(%q) = %q, want an error", in, got)
		}
	}
}
