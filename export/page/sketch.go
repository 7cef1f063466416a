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
	for _, sh := range s.Shapes {
		sketchLabel(p, sh)
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

// sketchLabel writes the name of a shape at the top of its outline.
func sketchLabel(p plot, sh SketchShape) {
	b, ok := boxOf(sh.Outlines...)
	if !ok {
		return
	}
	x := min(max((p.x(b.Min.X)+p.x(b.Max.X))/2, 50), sketchW-50)
	y := min(max(p.y(b.Max.Y)+14, 12), sketchH-24)
	if roleOf(sh.Role) == Second {
		y = min(max(p.y(b.Min.Y)-5, 24), sketchH-6)
	}
	textAt(p.b, "on mid", x, y, shorten(sh.Label, 30))
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
