package dxf

import (
	"math"

	"clampwright/parts/geom"
)

// extents is the box round everything drawn, arcs included; lettering counts
// with its height and an estimated width. An empty drawing has an empty box at
// the origin.
func extents(d Drawing) geom.Box2 {
	b := &bounds{geom.EmptyBox2()}
	b.paths(d.Outlines)
	b.paths(d.Slots)
	b.circles(d.Holes)
	b.scribe(d.Marks)
	b.scribe(d.Notes)
	if b.box.Min.X > b.box.Max.X {
		return geom.Box2{}
	}
	return b.box
}

type bounds struct{ box geom.Box2 }

func (b *bounds) circles(cs []geom.Circle) {
	for _, c := range cs {
		r := geom.Vec2{X: c.R, Y: c.R}
		b.box = b.box.Add(c.C.Sub(r)).Add(c.C.Add(r))
	}
}

func (b *bounds) paths(ps []geom.Path) {
	for _, p := range ps {
		b.box = b.box.Union(p.Bounds())
	}
}

func (b *bounds) scribe(s Scribe) {
	b.paths(s.Paths)
	b.paths(s.Strokes)
	for _, l := range s.Lines {
		b.box = b.box.Add(l.A).Add(l.B)
	}
	for _, t := range s.Texts {
		b.text(t)
	}
}

// letterWidth is the mean advance of a letter over its height, common for
// stroke lettering.
const letterWidth = 0.8

func (b *bounds) text(t Text) {
	w := letterWidth * t.HeightMM * float64(len([]rune(t.Value)))
	x0, y0 := 0.0, 0.0
	if t.Centred {
		x0, y0 = -w/2, -t.HeightMM/2
	}
	s, c := math.Sincos(t.Turn)
	for _, x := range []float64{x0, x0 + w} {
		for _, y := range []float64{y0, y0 + t.HeightMM} {
			b.box = b.box.Add(t.At.Add(geom.Vec2{X: x*c - y*s, Y: x*s + y*c}))
		}
	}
}
