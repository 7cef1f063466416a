package drawing

import (
	"fmt"
	"math"

	"clampwright/parts/geom"
)

// Proportions of template pages, mm. Office printers leave 4 to 6.4 mm of the
// sheet unprinted (common practice, no source); 10 mm is planned.
const (
	unprintableMM = 10.0
	overlapMM     = 15.0 // two neighbouring pages share this much
	stripMM       = 40.0 // information along the lower edge of every page
	figurePadMM   = 6.0  // kept clear round the part
)

// tiling places pages over a figure. Column 0 is leftmost, row 0 lowest.
type tiling struct {
	pageW, pageH float64
	winW, winH   float64 // what one page shows
	cols, rows   int
	x0, y0       float64 // lower left of the first page's window on the figure
}

// newTiling covers the box with pages of the paper, upright or lying, whichever
// takes fewer pages, upright when equal. Cut lines are kept as far from the
// given points as the slack allows.
func newTiling(paper Paper, b geom.Box2, points []geom.Vec2) (tiling, error) {
	up, errUp := tileOne(paper.W, paper.H, b, points)
	lie, errLie := tileOne(paper.H, paper.W, b, points)
	switch {
	case errUp != nil && errLie != nil:
		return up, errUp
	case errUp != nil || (errLie == nil && lie.cols*lie.rows < up.cols*up.rows):
		return lie, nil
	}
	return up, nil
}

const maxTiles = 400 // beyond this nobody glues paper

func tileOne(w, h float64, b geom.Box2, points []geom.Vec2) (tiling, error) {
	t := tiling{pageW: w, pageH: h, winW: w - 2*unprintableMM, winH: h - 2*unprintableMM - stripMM}
	if t.winW <= 2*overlapMM || t.winH <= 2*overlapMM {
		return t, fmt.Errorf("drawing: a page of %.0f x %.0f mm is too small for templates", w, h)
	}
	b = b.Grown(figurePadMM)
	nc, nr := tilesFor(width(b), t.winW), tilesFor(height(b), t.winH)
	if !(nc*nr <= maxTiles) {
		return t, fmt.Errorf("drawing: a part of %.0f x %.0f mm is too large for paper templates", width(b), height(b))
	}
	t.cols, t.rows = int(nc), int(nr)
	t.x0 = startAway(b.Min.X, width(b), t.winW, t.cols, points, func(p geom.Vec2) float64 { return p.X })
	t.y0 = startAway(b.Min.Y, height(b), t.winH, t.rows, points, func(p geom.Vec2) float64 { return p.Y })
	return t, nil
}

func tilesFor(size, win float64) float64 {
	return math.Max(1, math.Ceil((size-overlapMM)/(win-overlapMM)-1e-9))
}

// startAway finds where the first window begins so that everything is covered
// and the cut lines keep the greatest distance from the points; centred when
// nothing else decides.
func startAway(lo, size, win float64, n int, points []geom.Vec2, axis func(geom.Vec2) float64) float64 {
	step := win - overlapMM
	slack := float64(n)*step + overlapMM - size
	centred := lo - slack/2
	if n == 1 || slack < 1e-9 {
		return centred
	}
	best, bestD := centred, -1.0
	for _, f := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9, 0, 1} {
		start, d := lo-slack*f, math.Inf(1)
		for _, p := range points {
			for k := 1; k < n; k++ {
				d = math.Min(d, math.Abs(axis(p)-(start+step*float64(k))))
			}
		}
		if math.Min(d, overlapMM) > bestD+1e-9 {
			best, bestD = start, math.Min(d, overlapMM)
		}
	}
	return best
}

// window is what page (c, r) shows of the figure.
func (t *tiling) window(c, r int) geom.Box2 {
	lo := pt(t.x0+float64(c)*(t.winW-overlapMM), t.y0+float64(r)*(t.winH-overlapMM))
	return geom.Box2{Min: lo, Max: lo.Add(pt(t.winW, t.winH))}
}

// core is the part of page (c, r) that stays visible when all pages are glued:
// the window less what the next page covers. Cores divide the figure without
// overlap.
func (t *tiling) core(c, r int) geom.Box2 {
	b := t.window(c, r)
	if c+1 < t.cols {
		b.Max.X -= overlapMM
	}
	if r+1 < t.rows {
		b.Max.Y -= overlapMM
	}
	return b
}

// owns says whether a point belongs to the core of page (c, r): its lower and
// left borders do, the others do not.
func (t *tiling) owns(c, r int, p geom.Vec2) bool {
	b := t.core(c, r)
	return p.X >= b.Min.X && p.X < b.Max.X && p.Y >= b.Min.Y && p.Y < b.Max.Y
}

// toPage is the move from figure to sheet coordinates on page (c, r).
func (t *tiling) toPage(c, r int) geom.Vec2 {
	return pt(unprintableMM, unprintableMM+stripMM).Sub(t.window(c, r).Min)
}

// name of a page: row from below, column from the left.
func (t *tiling) name(c, r int) string { return fmt.Sprintf("%d-%d", r+1, c+1) }
