package clamp

import (
	"math"
	"sort"
)

// sameLineMM is below what two grid lines count as one; far under any tolerance
// of the workshop, far over rounding.
const sameLineMM = 1e-6

// axis returns rising grid positions from lo to hi: every value of must is a
// line, every value of like is one unless it lies within a third of h of
// another, and no interval is longer than h.
func axis(lo, hi float64, must, like []float64, h float64) []float64 {
	lines := []float64{lo, hi}
	lines = addLines(lines, must, sameLineMM, lo, hi)
	lines = addLines(lines, like, h/3, lo, hi)
	out := []float64{lines[0]}
	for i := 1; i < len(lines); i++ {
		a, b := lines[i-1], lines[i]
		n := math.Ceil((b - a) / h * (1 - 1e-9))
		for k := 1.0; k < n; k++ {
			out = append(out, a+(b-a)*k/n)
		}
		out = append(out, b)
	}
	return out
}

// addLines adds those candidates strictly inside lo..hi that keep the distance
// from all lines before them, and returns the sorted lines.
func addLines(lines, candidates []float64, apart, lo, hi float64) []float64 {
	for _, c := range candidates {
		ok := c > lo && c < hi
		for _, l := range lines {
			ok = ok && math.Abs(l-c) > apart
		}
		if ok {
			lines = append(lines, c)
		}
	}
	sort.Float64s(lines)
	return lines
}

// nearest returns the index of the grid line nearest to v.
func nearest(lines []float64, v float64) int {
	i := sort.SearchFloat64s(lines, v)
	if i == len(lines) || (i > 0 && v-lines[i-1] <= lines[i]-v) {
		i--
	}
	return i
}

// cellOf returns the interval i, i+1 that holds v (clamped to the ends) and the
// local coordinate -1..1 in it.
func cellOf(lines []float64, v float64) (i int, xi float64) {
	i = sort.SearchFloat64s(lines, v) - 1
	i = min(max(i, 0), len(lines)-2)
	return i, 2*(v-lines[i])/(lines[i+1]-lines[i]) - 1
}

// defaultGrid returns the default greatest element edge for an input: a fixed part of
// the least face dimension, but no more nodes than usualNodes on a plate that is much
// larger than its faces.
func defaultGrid(in Input) float64 {
	d := math.Inf(1)
	for _, r := range in.Rows {
		d = math.Min(d, math.Min(r.Face.X1-r.Face.X0, r.Face.Y1-r.Face.Y0))
	}
	return math.Max(d/gridPerFace, math.Sqrt(in.Plate.WidthMM*in.Plate.HeightMM/usualNodes))
}

// gridLines returns the lines of the whole plate; with half set those of its
// left half, the right one being their mirror image.
func gridLines(in Input, h float64, half bool) (xs, ys []float64) {
	var mustX, mustY, likeX, likeY []float64
	for _, r := range in.Rows {
		for _, q := range append([]Rect{r.Face}, r.Pressing...) {
			mustX, mustY = append(mustX, q.X0, q.X1), append(mustY, q.Y0, q.Y1)
		}
	}
	for _, s := range in.Stiffeners {
		if s.hasLeg() {
			lo, hi := s.bandY()
			mustY = append(mustY, lo, hi)
			likeY = append(likeY, s.YMM)
		} else {
			mustY = append(mustY, s.YMM)
		}
		likeX = append(likeX, s.X0MM, s.X1MM)
	}
	for _, r := range in.Rods {
		likeX, likeY = append(likeX, r.XMM), append(likeY, r.YMM)
	}
	for _, r := range in.Rows {
		c := r.Face.centre()
		likeX, likeY = append(likeX, c[0]), append(likeY, c[1])
	}
	right := in.Plate.WidthMM
	if half {
		right /= 2
	}
	return axis(0, right, mustX, likeX, h), axis(0, in.Plate.HeightMM, mustY, likeY, h)
}

// mirrorLines continues the lines of the left half to the whole plate.
func mirrorLines(xs []float64, width float64) []float64 {
	out := append([]float64(nil), xs...)
	for i := len(xs) - 2; i >= 0; i-- {
		out = append(out, width-xs[i])
	}
	return out
}

func (r Rect) centre() [2]float64 { return [2]float64{(r.X0 + r.X1) / 2, (r.Y0 + r.Y1) / 2} }
func (r Rect) area() float64      { return (r.X1 - r.X0) * (r.Y1 - r.Y0) }

// overlap returns the common area of two rectangles.
func (r Rect) overlap(q Rect) float64 {
	w := math.Min(r.X1, q.X1) - math.Max(r.X0, q.X0)
	h := math.Min(r.Y1, q.Y1) - math.Max(r.Y0, q.Y0)
	return math.Max(w, 0) * math.Max(h, 0)
}

// middle returns the middle part of the rectangle, share of width and height.
func (r Rect) middle(share float64) Rect {
	c := r.centre()
	w, h := (r.X1-r.X0)*share/2, (r.Y1-r.Y0)*share/2
	return Rect{c[0] - w, c[1] - h, c[0] + w, c[1] + h}
}
