package page

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"clampwright/parts/geom"
)

// rowsOf is a pack of n cells a row, wide and pitch mm apart, plus up in every
// second one, linked in series or, when crossed, every like pole to the next.
func rowsOf(n, rows int, wide, pitch, bar float64, crossed bool) WiringState {
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
			if i+1 == n {
				continue
			}
			if crossed {
				s.Links = append(s.Links, LinkTop{Line: Polyline{at(row, i, true), at(row, i+1, false)}, Width: 4, Kind: Jumper},
					LinkTop{Line: Polyline{at(row, i, false), at(row, i+1, true)}, Width: 4, Kind: Jumper})
			} else {
				right := i%2 == 0
				s.Links = append(s.Links, LinkTop{Line: Polyline{at(row, i, right), at(row, i+1, right)}, Width: bar, Kind: LinkBar})
			}
		}
	}
	s.Takeoffs = []TakeoffTop{{At: at(0, 0, false), Label: "pack minus"}, {At: at(rows-1, n-1, n%2 == 1), Label: "charger plus"}}
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

// As drawn: the names of the main terminals cover no terminal and no middle line
// of a link, and each is nearer to its own terminal than to any other.
func TestTakeoffNamesKeepOffTheRest(t *testing.T) {
	for _, c := range []struct {
		n, rows          int
		wide, pitch, bar float64
		crossed          bool
	}{
		{2, 1, 148, 40, 20, true}, {2, 1, 148, 40, 20, false}, {3, 1, 148, 42, 20, true}, {3, 1, 148, 42, 20, false},
		{4, 1, 174, 73, 20, true}, {4, 1, 174, 73, 20, false}, {8, 1, 174, 55, 20, true}, {8, 1, 174, 55, 20, false},
		{8, 2, 174, 73, 20, false}, {16, 1, 174, 73, 25, false},
	} {
		svg := wiringSVG(rowsOf(c.n, c.rows, c.wide, c.pitch, c.bar, c.crossed))
		rings := drawnAt(t, svg, `<circle class="target" cx="([^"]+)" cy="([^"]+)" r="([^"]+)"`)
		poles := drawnAt(t, svg, `<circle class="pole (?:plus|minus)" cx="([^"]+)" cy="([^"]+)" r="([^"]+)"`)
		links := drawnAt(t, svg, `<path class="link edge"[^>]* d="M([^ ]+) ([^L]+)L([^ ]+) ([^"]+)"`)
		texts := regexp.MustCompile(`<text class="on strong([^"]*)" x="([^"]+)" y="([^"]+)">([^<]+)<`).FindAllStringSubmatch(svg, -1)
		if len(rings) != 2 || len(texts) != 2 || len(poles) != 2*c.n*c.rows || len(links) == 0 {
			t.Fatalf("%+v: %d rings, %d names, %d terminals, %d links drawn", c, len(rings), len(texts), len(poles), len(links))
		}
		for i, m := range texts {
			x, _ := strconv.ParseFloat(m[2], 64)
			y, _ := strconv.ParseFloat(m[3], 64)
			long := 7 * float64(len(m[4]))
			switch strings.TrimSpace(m[1]) {
			case "end":
				x -= long
			case "mid":
				x -= long / 2
			}
			off := func(px, py float64) float64 {
				return math.Hypot(max(0, x-px, px-x-long), max(0, y-9-py, py-y-2))
			}
			own := off(rings[i][0], rings[i][1])
			for _, p := range poles {
				if math.Hypot(p[0]-rings[i][0], p[1]-rings[i][1]) < 0.1 {
					if rings[i][2] <= p[2] {
						t.Errorf("%+v: the ring of %q lies within its terminal", c, m[4])
					}
					continue
				}
				if d := off(p[0], p[1]); d < p[2]+2 || d < own {
					t.Errorf("%+v: %q is %.0f from a terminal of radius %.0f, %.0f from its own", c, m[4], d, p[2], own)
				}
			}
			for _, l := range links {
				for f := 0.0; f <= 1; f += 0.02 {
					if off(l[0]+f*(l[2]-l[0]), l[1]+f*(l[3]-l[1])) == 0 {
						t.Errorf("%+v: %q lies on a link", c, m[4])
						break
					}
				}
			}
		}
	}
}
