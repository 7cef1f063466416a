package page

import (
	"math"
	"strings"

	"clampwright/parts/geom"
)

// Sizes of a sketch in picture units.
const (
	sketchW, sketchH = 400.0, 270.0
	sketchMargin     = 30.0
)

// sketchSVG draws two bodies and where they foul.
func sketchSVG(s Sketch) string {
	var b strings.Builder
	openSVG(&b, "sketch", firstOf(s.Caption, "What fouls"), sketchW, sketchH)
	p := fitted(&b, sketchBox(s), sketchMargin, sketchMargin, sketchW-2*sketchMargin, sketchH-2*sketchMargin)
	for _, role := range []Role{Beside, First, Second} {
		for _, sh := range s.Shapes {
			if roleOf(sh.Role) == role {
				p.path("solid "+string(role), true, sh.Outlines...)
			}
		}
	}
	for _, g := range s.Gaps {
		sketchGap(p, g)
	}
	for _, m := range s.Points {
		x, y := p.x(m.At.X), p.y(m.At.Y)
		dotAt(&b, "target", x, y, 9)
		dotAt(&b, "bull", x, y, 2)
		class, dx := "on strong", 13.0
		if x > sketchW*0.6 {
			class, dx = "on strong end", -13
		}
		textAt(&b, class, x+dx, y-8, shorten(m.Label, 34))
	}
	sketchLabels(p, s)
	b.WriteString("</svg>")
	return b.String()
}

func roleOf(r Role) Role {
	if r == First || r == Second {
		return r
	}
	return Beside
}

// sketchBox shows all of the two shapes that meet, and of the bystanders only
// what falls into the same window.
func sketchBox(s Sketch) geom.Box2 {
	var all, beside []Polyline
	for _, sh := range s.Shapes {
		if roleOf(sh.Role) == Beside {
			beside = append(beside, sh.Outlines...)
		} else {
			all = append(all, sh.Outlines...)
		}
	}
	if len(all) == 0 {
		all = beside
	}
	for _, m := range s.Points {
		all = append(all, Polyline{m.At})
	}
	for _, g := range s.Gaps {
		all = append(all, Polyline{g.From, g.To})
	}
	b, ok := boxOf(all...)
	if !ok {
		return geom.Box2{Max: geom.Vec2{X: 1, Y: 1}}
	}
	return b
}

// sketchLabels names the shapes: each name at a place inside its shape that
// keeps away from the marks and from the names before it.
func sketchLabels(p plot, s Sketch) {
	var taken Polyline // in picture units
	for _, m := range s.Points {
		taken = append(taken, geom.Vec2{X: p.x(m.At.X), Y: p.y(m.At.Y)}, geom.Vec2{X: p.x(m.At.X) + 60, Y: p.y(m.At.Y) - 8})
	}
	for _, g := range s.Gaps {
		taken = append(taken, geom.Vec2{X: p.x((g.From.X + g.To.X) / 2), Y: p.y((g.From.Y + g.To.Y) / 2)})
	}
	for _, sh := range s.Shapes {
		if at, ok := labelPlace(p, sh, taken); ok && sh.Label != "" {
			textAt(p.b, "on mid", at.X, at.Y+4, shorten(sh.Label, 30))
			taken = append(taken, at)
		}
	}
}

// labelPlace tries a grid of places inside the shape and the picture.
func labelPlace(p plot, sh SketchShape, taken Polyline) (best geom.Vec2, ok bool) {
	b, any := boxOf(sh.Outlines...)
	if !any {
		return best, false
	}
	const n = 25
	half := min(3.6*float64(len([]rune(shorten(sh.Label, 30)))), sketchW/2)
	most := math.Inf(-1)
	for k := range n * n {
		v := geom.Vec2{X: b.Min.X + (float64(k%n)+0.5)/n*(b.Max.X-b.Min.X), Y: b.Min.Y + (float64(k/n)+0.5)/n*(b.Max.Y-b.Min.Y)}
		at := geom.Vec2{X: p.x(v.X), Y: p.y(v.Y)}
		if at.X < half || at.X > sketchW-half || at.Y < 12 || at.Y > sketchH-10 || !inside(sh.Outlines, v) {
			continue
		}
		if room := labelRoom(p, sh, v, at, taken); room > most {
			most, best, ok = room, at, true
		}
	}
	return best, ok
}

// labelRoom is how far a place is from what is already written, counting
// height double since a name is long, and less so from the shape's edge.
func labelRoom(p plot, sh SketchShape, v, at geom.Vec2, taken Polyline) float64 {
	room := 90.0
	for _, t := range taken {
		room = min(room, math.Hypot(at.X-t.X, 2.4*(at.Y-t.Y)))
	}
	edge := 40.0
	for _, c := range sh.Outlines {
		edge = min(edge, geom.PolygonDist(c, v)*p.sx)
	}
	return room + edge
}

// inside reports whether v lies in the closed outlines, by the even-odd rule.
func inside(cs []Polyline, v geom.Vec2) bool {
	in := false
	for _, c := range cs {
		in = in != geom.InPolygon(c, v)
	}
	return in
}

// sketchGap draws a measured distance with its figure beside it.
func sketchGap(p plot, g SketchGap) {
	x0, y0, x1, y1 := p.x(g.From.X), p.y(g.From.Y), p.x(g.To.X), p.y(g.To.Y)
	lineAt(p.b, "measure", x0, y0, x1, y1)
	l := math.Hypot(x1-x0, y1-y0)
	if l > 0 {
		nx, ny := -(y1-y0)/l*5, (x1-x0)/l*5
		lineAt(p.b, "measure", x0-nx, y0-ny, x0+nx, y0+ny)
		lineAt(p.b, "measure", x1-nx, y1-ny, x1+nx, y1+ny)
	}
	textAt(p.b, "on strong", max(x0, x1)+7, (y0+y1)/2+4, shorten(g.Label, 24))
}
