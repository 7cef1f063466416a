package drawing

import (
	"math"

	"clampwright/parts/geom"
)

// arrow puts an UP arrow in a free spot of the area, near its middle; nothing
// when there is none.
func (p *placer) arrow(area geom.Box2) []Item {
	size := math.Min(20, math.Min(width(area), height(area))*0.3)
	if size < 6 {
		return nil
	}
	for _, f := range []geom.Vec2{{X: 0.5, Y: 0.5}, {X: 0.5, Y: 0.35}, {X: 0.5, Y: 0.65}, {X: 0.35, Y: 0.5}, {X: 0.65, Y: 0.5}, {X: 0.3, Y: 0.3}, {X: 0.7, Y: 0.7}} {
		foot := pt(area.Min.X+f.X*width(area), area.Min.Y+f.Y*height(area)-size/2)
		up := Text{At: pt(foot.X, foot.Y-2), S: "UP", Height: 5, Face: Bold, Anchor: MidHigh}
		items := append(upArrow(foot, size), up)
		if p.empty(Bounds(items).Grown(2)) {
			p.take([]Text{up})
			return items
		}
	}
	return nil
}

// common is where two boxes overlap.
func common(a, b geom.Box2) geom.Box2 {
	return geom.Box2{
		Min: pt(math.Max(a.Min.X, b.Min.X), math.Max(a.Min.Y, b.Min.Y)),
		Max: pt(math.Min(a.Max.X, b.Max.X), math.Min(a.Max.Y, b.Max.Y)),
	}
}

// upArrow is an outlined arrow with its foot at p.
func upArrow(p geom.Vec2, size float64) []Item {
	w := size * 0.16
	path := geom.Path{{P: pt(p.X-w, p.Y)}, {P: pt(p.X+w, p.Y)}, {P: pt(p.X+w, p.Y+size*0.55)},
		{P: pt(p.X+2.4*w, p.Y+size*0.55)}, {P: pt(p.X, p.Y+size)}, {P: pt(p.X-2.4*w, p.Y+size*0.55)}, {P: pt(p.X-w, p.Y+size*0.55)}}
	return []Item{Chain{Path: path, Closed: true, Pen: Thin}}
}
