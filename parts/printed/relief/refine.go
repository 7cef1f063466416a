package relief

import (
	"math"

	"clampwright/parts/geom"
)

// sliver is the aspect, longest edge over the altitude on it, above which a
// triangle is split: under the hundred from which it is called a sliver.
const sliver = 60.0

// maxSplits bounds the refinement.
const maxSplits = 20000

// refine splits the longest edge of triangles that are thin, and outline edges
// too long for the walls of the thinnest layer, thinnest mm high.
func refine(t *geom.Triangulation, thinnest float64) {
	longest := 0.8 * sliver * thinnest / Unit
	for range maxSplits {
		split := false
		for i := 0; i < len(t.Tri); i++ {
			if len(t.Tri) > maxSplits {
				return
			}
			if t.Mask[i] == 0 {
				continue
			}
			if k, bad := thin(t, int32(i), longest); bad && halve(t, int32(i), k) {
				split = true
			}
		}
		if !split {
			return
		}
	}
}

// thin returns the edge at which a triangle is to be split: its longest, or one
// on an outline that is not much shorter. Splitting the diagonals of a narrow
// strip would only make it narrower.
func thin(t *geom.Triangulation, i int32, longest float64) (int, bool) {
	var l [3]float64
	best, outline := 0, -1
	for k := range 3 {
		l[k] = t.Pts[t.Tri[i][k]].Dist(t.Pts[t.Tri[i][(k+1)%3]])
		if u := t.Next[i][k]; l[k] > longest && u >= 0 && t.Mask[u] != t.Mask[i] {
			return k, true
		}
		if l[k] > l[best] {
			best = k
		}
		if t.Fixed[i][k] && (outline < 0 || l[k] > l[outline]) {
			outline = k
		}
	}
	bad := l[best]*l[best] > sliver*t.Area2(i) && l[best] > 40
	if outline >= 0 && l[outline] > 0.45*l[best] {
		best = outline
	}
	return best, bad
}

// halve splits edge k of triangle i at its middle, put on the grid; not when
// that would turn a triangle over.
func halve(t *geom.Triangulation, i int32, k int) bool {
	a, b := t.Pts[t.Tri[i][k]], t.Pts[t.Tri[i][(k+1)%3]]
	return t.Split(i, k, geom.Vec2{X: math.Trunc((a.X + b.X) / 2), Y: math.Trunc((a.Y + b.Y) / 2)})
}
