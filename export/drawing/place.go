package drawing

import (
	"math"

	"clampwright/parts/geom"
)

// placer finds free spots for labels among what is already drawn.
type placer struct {
	texts   []placedText
	strokes []stroke
	within  geom.Box2 // labels stay inside
}

// newPlacer starts from the items drawn so far.
func newPlacer(items []Item, within geom.Box2) *placer {
	p := &placer{within: within}
	p.texts, p.strokes = collect(items, 0, nil, nil)
	return p
}

// free says whether a text would touch nothing.
func (p *placer) free(t Text, clearMM float64) bool {
	b := t.bounds()
	if b.Min.X < p.within.Min.X || b.Max.X > p.within.Max.X || b.Min.Y < p.within.Min.Y || b.Max.Y > p.within.Max.Y {
		return false
	}
	return p.empty(b.Grown(clearMM))
}

// empty says whether a box is free of text and lines.
func (p *placer) empty(b geom.Box2) bool {
	c := [4]geom.Vec2{b.Min, pt(b.Max.X, b.Min.Y), b.Max, pt(b.Min.X, b.Max.Y)}
	for _, o := range p.texts {
		if boxesMeet(c, o.c) {
			return false
		}
	}
	for _, k := range p.strokes {
		if segmentMeets(k.a, k.b, c) {
			return false
		}
	}
	return true
}

// near puts a block of lines close to a round feature, trying growing
// distances in sixteen directions, and remembers it. Where nothing is free the
// block goes to the first spot with a mask. Directions are sixteenths of a turn
// from +x; those in prefer are tried before the usual ones.
func (p *placer) near(c geom.Vec2, r float64, lines []string, face Face, h float64, prefer ...int) []Text {
	order := append(append([]int{}, prefer...), usualDirections...)
	var first []Text
	for d := 1.0; d < 60; d += 1.5 {
		for _, k := range order {
			block := labelBlock(polar(c, r+d, float64(k)*math.Pi/8), k, lines, face, h)
			if first == nil {
				first = block
			}
			if p.allFree(block) {
				p.take(block)
				return block
			}
		}
	}
	for i := range first {
		first[i].Mask = true
	}
	p.take(first)
	return first
}

// usualDirections prefers the diagonals, where hole crosses leave room.
var usualDirections = []int{2, 6, 14, 10, 1, 7, 15, 9, 3, 5, 13, 11, 0, 8, 4, 12}

func (p *placer) allFree(block []Text) bool {
	for _, t := range block {
		if !p.free(t, 0.8) {
			return false
		}
	}
	return true
}

func (p *placer) take(block []Text) {
	for _, t := range block {
		p.texts = append(p.texts, placedText{t, math.MaxInt32, t.Corners()})
	}
}

// labelBlock sets lines so that the block lies on the far side of at, seen in
// direction k/16 of a turn.
func labelBlock(at geom.Vec2, k int, lines []string, face Face, h float64) []Text {
	anchor := MidLow
	switch {
	case k < 4 || k > 12:
		anchor = LeftLow
	case k > 4 && k < 12:
		anchor = RightLow
	}
	pitch := h * 1.5
	total := pitch*float64(len(lines)-1) + h
	y := at.Y + total - h // k in the upper half: block above
	switch {
	case k == 0 || k == 8:
		y = at.Y + total/2 - h
	case k > 8:
		y = at.Y - h
	}
	out := make([]Text, len(lines))
	for i, s := range lines {
		out[i] = Text{At: pt(at.X, y-float64(i)*pitch), S: s, Height: h, Face: face, Anchor: anchor}
	}
	return out
}
