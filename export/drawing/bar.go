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
	breakEndMM = 6.0 // kept on each side of the interruption
)

// barAxis maps positions along a bar to the sheet, leaving out a stretch
// between from and to when broken.
type barAxis struct {
	k        float64
	from, to float64
	broken   bool
}

// newBarAxis finds where a bar of the given length can be interrupted so that
// it is drawn no longer than most: in the widest stretch free of features.
// Features are intervals along the bar.
func newBarAxis(length, k, most float64, features [][2]float64) barAxis {
	a := barAxis{k: k}
	most = math.Min(math.Max(most, shortBarMM), longBarMM)
	cut := length - (most-breakGapMM)/k
	if cut <= 0 || length*k <= most {
		return a
	}
	lo, hi := widestGap(length, features)
	keep := breakEndMM / k
	if hi-lo-2*keep < cut {
		return a
	}
	mid := (lo + hi) / 2
	a.from, a.to, a.broken = mid-cut/2, mid+cut/2, true
	return a
}

func widestGap(length float64, features [][2]float64) (lo, hi float64) {
	f := append([][2]float64{}, features...)
	sort.Slice(f, func(i, j int) bool { return f[i][0] < f[j][0] })
	end := 0.0
	for _, v := range append(f, [2]float64{length, length}) {
		if v[0]-end > hi-lo {
			lo, hi = end, v[0]
		}
		end = math.Max(end, v[1])
	}
	return lo, hi
}

// x is where a position is drawn.
func (a barAxis) x(m float64) float64 {
	if a.broken && m >= a.to {
		return (m-(a.to-a.from))*a.k + breakGapMM
	}
	return m * a.k
}

// along draws a line along the bar between two positions, interrupted.
func (a barAxis) along(m0, m1, y float64, pen Pen) []Item {
	if !a.broken || m1 <= a.from || m0 >= a.to {
		return []Item{Line{pt(a.x(m0), y), pt(a.x(m1), y), pen}}
	}
	g := a.from * a.k
	return []Item{Line{pt(a.x(m0), y), pt(g, y), pen}, Line{pt(g+breakGapMM, y), pt(a.x(m1), y), pen}}
}

// ends draws the two break lines across the bar: thin, with a zigzag.
func (a barAxis) ends(y0, y1 float64) []Item {
	if !a.broken {
		return nil
	}
	var out []Item
	for _, x := range []float64{a.from * a.k, a.from*a.k + breakGapMM} {
		m := (y0 + y1) / 2
		out = append(out, Chain{Pen: Thin, Path: geom.Path{{P: pt(x, y0-1.5)}, {P: pt(x, m-1)}, {P: pt(x+0.8, m-0.3)},
			{P: pt(x-0.8, m+0.3)}, {P: pt(x, m+1)}, {P: pt(x, y1+1.5)}}})
	}
	return out
}
