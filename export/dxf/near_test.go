package dxf

import (
	"bytes"
	"flag"
	"math"
	"os"
	"strings"
	"testing"

	"clampwright/parts/geom"
)

var update = flag.Bool("update", false, "write testdata/plate.dxf anew")

// The text of a file with one of everything, as ezdxf and dxf-parser read it, group code
// for group code.
func TestEncodeGave(t *testing.T) {
	d := plate()
	d.About = "what it is of"
	d.Notes.Texts = append(d.Notes.Texts, Text{Value: "across ~", At: geom.Vec2{X: 100, Y: 90}, HeightMM: 10, Turn: math.Pi / 6, Centred: true})
	got := encode(t, d)
	if *update {
		if err := os.WriteFile("testdata/plate.dxf", got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/plate.dxf")
	if err != nil {
		t.Fatal(err)
	}
	g, w := strings.Split(string(got), "\n"), strings.Split(string(want), "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			t.Fatalf("line %d: %q, want %q", i+1, g[i], w[i])
		}
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%d lines, want %d", len(g), len(w))
	}
}

// Boxes by hand; a text of n letters is 0.8 n of its height wide.
func TestExtents(t *testing.T) {
	text := func(turn float64, centred bool) Drawing {
		return Drawing{Notes: Scribe{Texts: []Text{{Value: "Größe", At: geom.Vec2{X: 100, Y: 50}, HeightMM: 10, Turn: turn, Centred: centred}}}}
	}
	for name, c := range map[string]struct {
		d              Drawing
		x0, y0, x1, y1 float64
	}{
		"nothing":       {Drawing{}, 0, 0, 0, 0},
		"a point":       {Drawing{Marks: Scribe{Lines: []Line{{geom.Vec2{X: 7, Y: 8}, geom.Vec2{X: 7, Y: 8}}}}}, 7, 8, 7, 8},
		"upright line":  {Drawing{Marks: Scribe{Lines: []Line{{geom.Vec2{X: 7, Y: 8}, geom.Vec2{X: 7, Y: 9}}}}}, 7, 8, 7, 9},
		"circle":        {Drawing{Holes: []geom.Circle{{C: geom.Vec2{X: 3, Y: -2}, R: 5}}}, -2, -7, 8, 3},
		"slot":          {Drawing{Slots: []geom.Path{slot(10, 20, 6, 2)}}, 5, 18, 15, 22},
		"stroke":        {Drawing{Marks: Scribe{Strokes: []geom.Path{{{P: geom.Vec2{X: -1, Y: 2}}, {P: geom.Vec2{X: 4, Y: 6}}}}}}, -1, 2, 4, 6},
		"text":          {text(0, false), 100, 50, 140, 60},
		"text centred":  {text(0, true), 80, 45, 120, 55},
		"text upright":  {text(math.Pi/2, false), 90, 50, 100, 90},
		"text back":     {text(math.Pi, false), 60, 40, 100, 50},
		"text at 30":    {text(math.Pi/6, false), 95, 50, 100 + 40*math.Cos(math.Pi/6), 50 + 20 + 10*math.Cos(math.Pi/6)},
		"text, turned":  {text(math.Pi/2, true), 95, 30, 105, 70},
		"plate and all": {Drawing{Outlines: []geom.Path{rect(2, 3, 10, 20)}, Holes: []geom.Circle{{C: geom.Vec2{X: 30, Y: 5}, R: 1}}}, 2, 3, 31, 23},
	} {
		b := extents(c.d)
		for _, v := range [][2]float64{{b.Min.X, c.x0}, {b.Min.Y, c.y0}, {b.Max.X, c.x1}, {b.Max.Y, c.y1}} {
			if math.Abs(v[0]-v[1]) > 1e-9 {
				t.Errorf("%s: %v, by hand %v", name, b, [4]float64{c.x0, c.y0, c.x1, c.y1})
				break
			}
		}
	}
}

// What is refused and what is taken, on both sides of each limit.
func TestValidateNear(t *testing.T) {
	const under, over = 0.99, 1.01
	side := func(mm float64) Drawing { return Drawing{Outlines: []geom.Path{rect(0, 0, mm, 50)}} }
	line := func(mm float64) Drawing {
		return Drawing{Marks: Scribe{Lines: []Line{{geom.Vec2{}, geom.Vec2{X: mm}}}}}
	}
	stroke := func(ps ...geom.Vec2) Drawing {
		var p geom.Path
		for _, v := range ps {
			p = append(p, geom.Vertex{P: v})
		}
		return Drawing{Marks: Scribe{Strokes: []geom.Path{p}}}
	}
	holes := func(cs ...geom.Circle) Drawing { return Drawing{Holes: cs} }
	at := func(x float64) geom.Vec2 { return geom.Vec2{X: x} }
	for name, c := range map[string]struct {
		d    Drawing
		want string
	}{
		"100 m":                  {holes(geom.Circle{C: at(limitMM), R: 1}), ""},
		"beyond 100 m":           {holes(geom.Circle{C: at(limitMM + 1), R: 1}), "hole 1: not a circle within"},
		"short side":             {side(under * sameMM), "outline 1: edge 1 has no length"},
		"side":                   {side(sameMM), ""},
		"line":                   {line(sameMM), ""},
		"short line":             {line(under * sameMM), "mark line 1: has no length"},
		"radius":                 {holes(geom.Circle{R: sameMM}), ""},
		"no radius":              {holes(geom.Circle{R: under * sameMM}), "hole 1: a circle without radius"},
		"stroke":                 {stroke(at(0), at(sameMM)), ""},
		"short stroke":           {stroke(at(0), at(5), at(5+under*sameMM)), "mark stroke 1: edge 2 has no length"},
		"stroke there and back":  {stroke(at(0), at(5), at(0)), "mark stroke 1: edge 2 is drawn twice"},
		"first vertex far":       {stroke(at(2*limitMM), at(5)), "mark stroke 1: vertex 1"},
		"height":                 {Drawing{Notes: Scribe{Texts: []Text{{Value: "a", HeightMM: sameMM}}}}, ""},
		"no height":              {Drawing{Notes: Scribe{Texts: []Text{{Value: "a", HeightMM: under * sameMM}}}}, "note text 1: has no height"},
		"sharp bulge":            {Drawing{Outlines: []geom.Path{{{P: at(0), Bulge: maxBulge}, {P: at(50)}}}}, ""},
		"too sharp":              {Drawing{Outlines: []geom.Path{{{P: at(0), Bulge: over * maxBulge}, {P: at(50)}}}}, "the bulge of edge 1"},
		"arc and its chord":      {Drawing{Outlines: []geom.Path{{{P: at(0), Bulge: 1}, {P: at(50)}}}}, ""},
		"arc back":               {Drawing{Outlines: []geom.Path{{{P: at(0), Bulge: 1}, {P: at(50), Bulge: 0.5}}, {{P: at(50), Bulge: -1}, {P: at(0), Bulge: 0.25}}}}, "outline 2: edge 1 is drawn twice"},
		"arc to the other side":  {Drawing{Outlines: []geom.Path{{{P: at(0), Bulge: 1}, {P: at(50), Bulge: 0.5}}, {{P: at(0), Bulge: -1}, {P: at(50), Bulge: 0.25}}}}, ""},
		"upright edge back":      {Drawing{Outlines: []geom.Path{rect(0, 0, 9, 9), rect(-9, 0, 9, 9)}}, "outline 2: edge 2 is drawn twice"},
		"level edge back":        {Drawing{Outlines: []geom.Path{rect(0, 0, 9, 9), rect(0, -9, 9, 9)}}, "outline 2: edge 3 is drawn twice"},
		"four edges, none twice": {Drawing{Outlines: []geom.Path{rect(0, 0, 9, 9), rect(20, 0, 9, 9)}}, ""},
	} {
		err := Validate(c.d)
		if (err != nil) != (c.want != "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// Two holes about one middle are one, to a tenth of a micron.
func TestHasHoleNear(t *testing.T) {
	cs := []geom.Circle{{R: 3}}
	for _, c := range []struct {
		off  float64
		want bool
	}{{0, true}, {0.99 * sameMM, true}, {sameMM, false}} {
		if got := hasHole(cs, geom.Circle{C: geom.Vec2{Y: c.off}, R: 5}); got != c.want {
			t.Errorf("%g off: %v", c.off, got)
		}
	}
}
