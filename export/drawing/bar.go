package drawing

import (
	"math"
	"sort"

	"clampwright/parts/geom"
)

// Long bars and rods are shown interrupted where nothing happens (ISO 128-3,
// from memory).
const (
	shortBarMM = 60.0 // bars are not interrupted to less than this
	longBarMM  = 240.0
	breakGapMM = 3.0
	breakEndMM = 6.0 // kept on each side of an interruption
)

// barAxis maps positions along a bar to the sheet, leaving out stretches.
type barAxis struct {
	k    float64
	cuts [][2]float64 // left out, ascending, true mm
}

// newBarAxis finds where a bar of the given length can be interrupted so that
// it is drawn no longer than most: in the stretches free of features, each by a
// share of its free length. Features are intervals along the bar. Without
// enough free length the bar stays whole.
func newBarAxis(length, k, most float64, features [][2]float64) barAxis {
	whole := barAxis{k: k}
	most = math.Min(math.Max(most, shortBarMM), longBarMM)
	if length*k <= most {
		return whole
	}
	var free [][2]float64
	total := 0.0
	for _, g := range gaps(length, features) {
		g[0], g[1] = g[0]+breakEndMM/k, g[1]-breakEndMM/k
		if (g[1]-g[0])*k > 2*breakGapMM {
			free = append(free, g)
			total += g[1] - g[0]
		}
	}
	share := (length - (most-breakGapMM*float64(len(free)))/k) / total
	if len(free) == 0 || share > 1 {
		return whole
	}
	a := barAxis{k: k}
	for _, g := range free {
		m, half := (g[0]+g[1])/2, (g[1]-g[0])*share/2
		a.cuts = append(a.cuts, [2]float64{m - half, m + half})
	}
	return a
}

// gaps are the stretches between features, ascending.
func gaps(length float64, features [][2]float64) [][2]float64 {
	f := append([][2]float64{}, features...)
	sort.Slice(f, func(i, j int) bool { return f[i][0] < f[j][0] })
	var out [][2]float64
	end := 0.0
	for _, v := range append(f, [2]float64{length, length}) {
		if v[0] > end {
			out = append(out, [2]float64{end, v[0]})
		}
		end = math.Max(end, v[1])
	}
	return out
}

// x is where a position is drawn.
func (a barAxis) x(m float64) float64 {
	x := m * a.k
	for _, c := range a.cuts {
		if m >= c[1] {
			x -= (c[1]-c[0])*a.k - breakGapMM
		}
	}
	return x
}

// along draws a line along the bar between two positions, interrupted.
func (a barAxis) along(m0, m1, y float64, pen Pen) []Item {
	var out []Item
	for _, c := range a.cuts {
		if c[0] <= m0 || c[1] >= m1 {
			continue
		}
		out = append(out, Line{pt(a.x(m0), y), pt(a.x(c[0]), y), pen})
		m0 = c[1]
	}
	return append(out, Line{pt(a.x(m0), y), pt(a.x(m1), y), pen})
}

// ends draws the break lines across the bar: thin, with a zigzag.
func (a barAxis) ends(y0, y1 float64) []Item {
	var out []Item
	for _, c := range a.cuts {
		for _, x := range []float64{a.x(c[0]), a.x(c[1])} {
			m := (y0 + y1) / 2
			out = append(out, Chain{Pen: Thin, Path: geom.Path{{P: pt(x, y0-1.5)}, {P: pt(x, m-1)}, {P: pt(x+0.8, m-0.3)},
				{P: pt(x-0.8, m+0.3)}, {P: pt(x, m+1)}, {P: pt(x, y1+1.5)}}})
		}
	}
	return out
}
