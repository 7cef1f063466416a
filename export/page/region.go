package page

import (
	"slices"
	"strings"

	"clampwright/parts/geom"
)

// regionPaths traces what each key covers of a painted picture, w pixels wide, as
// SVG path data, holes by the even-odd rule; key 0 is not traced. The outlines
// stray at most regionSlack from the pixels' edges.
func regionPaths(keys []uint8, w int) map[uint8]string {
	h := len(keys) / w
	at := func(x, y int) uint8 {
		if x < 0 || y < 0 || x >= w || y >= h {
			return 0
		}
		return keys[y*w+x]
	}
	next := map[uint8]map[[2]int][][2]int{}
	for y := range h {
		for x := range w {
			c := keys[y*w+x]
			if c == 0 {
				continue
			}
			if next[c] == nil {
				next[c] = map[[2]int][][2]int{}
			}
			go1 := func(a, b [2]int) { next[c][a] = append(next[c][a], b) }
			if at(x, y-1) != c {
				go1([2]int{x, y}, [2]int{x + 1, y})
			}
			if at(x+1, y) != c {
				go1([2]int{x + 1, y}, [2]int{x + 1, y + 1})
			}
			if at(x, y+1) != c {
				go1([2]int{x + 1, y + 1}, [2]int{x, y + 1})
			}
			if at(x-1, y) != c {
				go1([2]int{x, y + 1}, [2]int{x, y})
			}
		}
	}
	out := map[uint8]string{}
	for c, edges := range next {
		var b strings.Builder
		for _, loop := range loops(edges) {
			writeLoop(&b, simpler(loop))
		}
		out[c] = b.String()
	}
	return out
}

// loops chains edges into closed loops, the first from the topmost point.
func loops(next map[[2]int][][2]int) []Polyline {
	starts := make([][2]int, 0, len(next))
	for p := range next {
		starts = append(starts, p)
	}
	slices.SortFunc(starts, func(a, b [2]int) int { return slices.Compare([]int{a[1], a[0]}, []int{b[1], b[0]}) })
	var out []Polyline
	for _, s := range starts {
		for len(next[s]) > 0 {
			var loop Polyline
			for p := s; len(next[p]) > 0; {
				loop = append(loop, geom.Vec2{X: float64(p[0]), Y: float64(p[1])})
				q := next[p][0]
				next[p] = next[p][1:]
				p = q
			}
			out = append(out, loop)
		}
	}
	return out
}

// regionSlack is how far an outline may stray from the pixels' edges, pixels.
const regionSlack = 1.2

// leastRegion is the area below which a loop is left out, pixels.
const leastRegion = 3.0

// simpler takes the points from a closed loop that it does not need (Douglas and
// Peucker 1973), between its first point and the one farthest from it. Nil for a
// loop too small to be seen.
func simpler(loop Polyline) Polyline {
	area, far := 0.0, 0
	for i, p := range loop {
		area += p.Cross(loop[(i+1)%len(loop)]) / 2
		if p.Dist(loop[0]) > loop[far].Dist(loop[0]) {
			far = i
		}
	}
	if area > -leastRegion && area < leastRegion {
		return nil
	}
	closed := append(slices.Clone(loop), loop[0])
	out := thin(closed[:far+1], Polyline{loop[0]}, regionSlack)
	out = thin(closed[far:], out, regionSlack)
	return out[:len(out)-1]
}

// thin appends to out the points of an open chain, but its first, that it needs to
// stray no further than the slack.
func thin(chain, out Polyline, slack float64) Polyline {
	a, b := chain[0], chain[len(chain)-1]
	worst, at := slack, 0
	for i := 1; i+1 < len(chain); i++ {
		if d := (geom.Edge{A: a, B: b}).Dist(chain[i]); d > worst {
			worst, at = d, i
		}
	}
	if at == 0 {
		return append(out, b)
	}
	return thin(chain[at:], thin(chain[:at+1], out, slack), slack)
}

func writeLoop(b *strings.Builder, loop Polyline) {
	if len(loop) > 2 {
		writeChain(b, loop)
		b.WriteByte('Z')
	}
}
