package page

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"clampwright/parts/geom"
)

// rowsOf is a pack of n cells a row, wide and pitch mm apart, plus up in every
// second one.
func rowsOf(n, rows int, wide, pitch float64) WiringState {
	s := WiringState{Title: "pack"}
	at := func(row, i int, right bool) geom.Vec2 {
		x := float64(row)*(wide+20) + wide*0.15
		if right {
			x = float64(row)*(wide+20) + wide*0.85
		}
		return geom.Vec2{X: x, Y: (float64(i) + 0.5) * pitch}
	}
	for row := range rows {
		for i := range n {
			x := float64(row) * (wide + 20)
			s.Cells = append(s.Cells, CellTop{Box: geom.Box2{Min: geom.Vec2{X: x, Y: float64(i) * pitch}, Max: geom.Vec2{X: x + wide, Y: float64(i+1) * pitch}}, Label: strconv.Itoa(i + 1)})
			for _, right := range []bool{false, true} {
				s.Terminals = append(s.Terminals, TerminalTop{At: at(row, i, right), Radius: 10, Positive: right == (i%2 == 0)})
			}
		}
	}
	s.Takeoffs = []TakeoffTop{{At: at(0, 0, false), Label: "black probe"}, {At: at(rows-1, n-1, n%2 == 1), Label: "red probe"}}
	return s
}

// drawnAt reads numbers of drawn elements.
func drawnAt(t *testing.T, svg, pattern string) [][]float64 {
	t.Helper()
	var out [][]float64
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(svg, -1) {
		var row []float64
		for _, v := range m[1:] {
			f, err := strconv.ParseFloat(v, 64)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, f)
		}
		out = append(out, row)
	}
	return out
}

// Main terminals are ringed where they are, each in the manner of its pole, and named
// under the picture with the same ring; no name lies on a cell, on the other, or beyond
// the picture.
func TestMainTerminalsAreNamedUnderThePicture(t *testing.T) {
	for _, c := range []struct {
		n, rows     int
		wide, pitch float64
	}{{1, 1, 148, 40}, {2, 1, 148, 40}, {3, 1, 148, 42}, {4, 1, 174, 73}, {8, 1, 174, 55}, {8, 2, 174, 73}, {5, 3, 174, 54}, {16, 1, 174, 73}} {
		s := rowsOf(c.n, c.rows, c.wide, c.pitch)
		if c.n == 1 {
			s.Takeoffs[1].At = s.Terminals[1].At
		}
		svg := wiringSVG(s)
		size := drawnAt(t, svg, `viewBox="0 0 ([^ ]+) ([^"]+)"`)[0]
		rings := [2][][]float64{drawnAt(t, svg, `<circle class="target minus" cx="([^"]+)" cy="([^"]+)" r="([^"]+)"`), drawnAt(t, svg, `<circle class="target" cx="([^"]+)" cy="([^"]+)" r="([^"]+)"`)}
		poles := [2][][]float64{drawnAt(t, svg, `<circle class="pole minus" cx="([^"]+)" cy="([^"]+)" r="([^"]+)"`), drawnAt(t, svg, `<circle class="pole plus" cx="([^"]+)" cy="([^"]+)" r="([^"]+)"`)}
		names := regexp.MustCompile(`<text class="strong" x="([^"]+)" y="([^"]+)">([^<]+)<`).FindAllStringSubmatch(svg, -1)
		if len(names) != 2 || names[0][3] != "black probe" || names[1][3] != "red probe" {
			t.Fatalf("%+v: named %v", c, names)
		}
		low := 0.0
		for _, r := range drawnAt(t, svg, `<rect class="celltop" x="[^"]+" y="([^"]+)" width="[^"]+" height="([^"]+)"`) {
			low = max(low, r[0]+r[1])
		}
		end := 0.0
		for i, m := range names {
			x, _ := strconv.ParseFloat(m[1], 64)
			y, _ := strconv.ParseFloat(m[2], 64)
			if x < end || y-11 < low || y+3 > size[1] || x+8.2*float64(len(m[3])) > size[0] {
				t.Errorf("%+v: %q at %g, %g of %v, the cells end at %g", c, m[3], x, y, size, low)
			}
			end = x + 8.2*float64(len(m[3]))
			if len(rings[i]) != 2 {
				t.Fatalf("%+v: %d rings for %q", c, len(rings[i]), m[3])
			}
			for _, ring := range rings[i] {
				if !slices.ContainsFunc(poles[i], func(p []float64) bool {
					return math.Hypot(p[0]-ring[0], p[1]-ring[1]) < 0.1 && ring[2] > p[2]
				}) {
					t.Errorf("%+v: a ring of %q round no such terminal", c, m[3])
				}
			}
			if last := rings[i][1]; math.Abs(last[1]-y) > 8 || last[0] > x {
				t.Errorf("%+v: %q has no ring before it", c, m[3])
			}
		}
	}
}
