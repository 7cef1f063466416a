package dxf

import (
	"math"

	"clampwright/parts/geom"
)

// extents is the box round everything drawn, arcs included; lettering counts
// with its height and an estimated width. An empty drawing has an empty box at
// the origin.
func extents(d Drawing) geom.Box2 {
	b := newBounds()
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

func newBounds() *bounds {
	inf := math.Inf(1)
	return &bounds{geom.Box2{Min: geom.Vec2{X: inf, Y: inf}, Max: geom.Vec2{X: -inf, Y: -inf}}}
}

func (b *bounds) point(x, y float64) {
	b.box.Min = geom.Vec2{X: min(b.box.Min.X, x), Y: min(b.box.Min.Y, y)}
	b.box.Max = geom.Vec2{X: max(b.box.Max.X, x), Y: max(b.box.Max.Y, y)}
}

func (b *bounds) circles(cs []geom.Circle) {
	for _, c := range cs {
		b.point(c.C.X-c.R, c.C.Y-c.R)
		b.point(c.C.X+c.R, c.C.Y+c.R)
	}
}

func (b *bounds) paths(ps []geom.Path) {
	for _, p := range ps {
		for i, v := range p {
			b.point(v.P.X, v.P.Y)
			if v.Bulge != 0 {
				b.arc(v.P, p[(i+1)%len(p)].P, v.Bulge)
			}
		}
	}
}

// arc adds the axis-extreme points that lie on the arc from p to q. With
// bulge t = tan(sweep/4) the centre stands off the middle of the chord by
// (1 - t²)/(4t) chords to the left of p→q.
func (b *bounds) arc(p, q geom.Vec2, t float64) {
	dx, dy := q.X-p.X, q.Y-p.Y
	k := (1 - t*t) / (4 * t)
	cx, cy := (p.X+q.X)/2-k*dy, (p.Y+q.Y)/2+k*dx
	r := math.Hypot(p.X-cx, p.Y-cy)
	start, sweep := math.Atan2(p.Y-cy, p.X-cx), 4*math.Atan(t)
	if sweep < 0 {
		start, sweep = start+sweep, -sweep
	}
	for i := range 4 {
		a := float64(i) * math.Pi / 2
		turn := math.Mod(a-start+4*math.Pi, 2*math.Pi)
		if turn <= sweep {
			b.point(cx+r*math.Cos(a), cy+r*math.Sin(a))
		}
	}
}

func (b *bounds) scribe(s Scribe) {
	b.paths(s.Paths)
	b.circles(s.Circles)
	for _, l := range s.Lines {
		b.point(l.A.X, l.A.Y)
		b.point(l.B.X, l.B.Y)
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
			b.point(t.At.X+x*c-y*s, t.At.Y+x*s+y*c)
		}
	}
}
