package page

import (
	"math"
	"strings"

	"clampwright/parts/geom"
)

// wiringSVG draws one state of the links from above, the long way across the
// picture. Looking down, z runs down the picture when x runs right; turned a
// quarter, z runs right and x up. Neither is a mirror image.
func wiringSVG(s WiringState) string {
	const w, margin = 440.0, 20.0 // a name fits outside the cells
	lie := wiringBox(s)
	if lie.Max.Y-lie.Min.Y > lie.Max.X-lie.Min.X {
		s = s.mapped(func(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.Y, Y: v.X} })
	} else {
		s = s.mapped(func(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.X, Y: -v.Y} })
	}
	lie = wiringBox(s)
	high := min(max((w-2*margin)*(lie.Max.Y-lie.Min.Y)/math.Max(lie.Max.X-lie.Min.X, 1e-9), 40), 460)
	var b strings.Builder
	openSVG(&b, "wiring", "Links seen from above: "+s.Title, w, high+2*margin)
	p := fitted(&b, lie, margin, margin, w-2*margin, high)
	for _, c := range s.Cells {
		p.rect("celltop", c.Box)
	}
	for _, l := range s.Links {
		p.link(l)
	}
	for _, t := range s.Terminals {
		p.terminal(t)
	}
	for _, c := range s.Cells {
		x, y := p.x((c.Box.Min.X+c.Box.Max.X)/2), p.y((c.Box.Min.Y+c.Box.Max.Y)/2)
		textAt(&b, "on mid", x, y+4, shorten(c.Label, 8))
	}
	for _, t := range s.Takeoffs {
		dotAt(&b, "target", p.x(t.At.X), p.y(t.At.Y), p.ring(s, t))
	}
	for _, t := range p.tags(s, w, high+2*margin) {
		textAt(&b, t.class, t.x, t.y, t.text)
	}
	b.WriteString("</svg>")
	return b.String()
}

// wiringBox is the box round all that is drawn.
func wiringBox(s WiringState) geom.Box2 {
	var all []Polyline
	for _, c := range s.Cells {
		all = append(all, corners(c.Box))
	}
	for _, l := range s.Links {
		all = append(all, l.Line)
	}
	for _, t := range s.Terminals {
		all = append(all, Polyline{t.At})
	}
	for _, t := range s.Takeoffs {
		all = append(all, Polyline{t.At})
	}
	b, ok := boxOf(all...)
	if !ok {
		return geom.Box2{Max: geom.Vec2{X: 1, Y: 1}}
	}
	return b
}

// mapped takes every point through to.
func (s WiringState) mapped(to func(geom.Vec2) geom.Vec2) WiringState {
	out := WiringState{Title: s.Title}
	for _, c := range s.Cells {
		b, _ := boxOf(Polyline{to(c.Box.Min), to(c.Box.Max)})
		out.Cells = append(out.Cells, CellTop{b, c.Label})
	}
	for _, t := range s.Terminals {
		t.At = to(t.At)
		out.Terminals = append(out.Terminals, t)
	}
	for _, l := range s.Links {
		line := make(Polyline, len(l.Line))
		for i, v := range l.Line {
			line[i] = to(v)
		}
		l.Line = line
		out.Links = append(out.Links, l)
	}
	for _, t := range s.Takeoffs {
		t.At = to(t.At)
		out.Takeoffs = append(out.Takeoffs, t)
	}
	return out
}

// link draws a bar as a broad line with an edge, a jumper dashed.
func (p plot) link(l LinkTop) {
	kind := l.Kind
	if l.Was {
		p.b.WriteString(`<g class="was">`)
		defer p.b.WriteString(`</g>`)
	}
	if kind != Flexible && kind != Jumper {
		kind = LinkBar
	}
	wide := max(l.Width*p.sx, 3)
	var d strings.Builder
	q := p
	q.b = &d
	q.trace(l.Line, false)
	p.b.WriteString(`<path class="link edge" stroke-width="` + px(wide+1.6) + `" d="` + d.String() + `"/>`)
	p.b.WriteString(`<path class="link ` + string(kind) + `" stroke-width="` + px(wide) + `" d="` + d.String() + `"/>`)
	if kind == Jumper {
		p.b.WriteString(`<path class="link stripe" d="` + d.String() + `"/>`)
	}
}

// terminal draws the sign in a ring, the positive filled.
func (p plot) terminal(t TerminalTop) {
	x, y, r := p.x(t.At.X), p.y(t.At.Y), p.disc(t)
	class := "pole minus"
	if t.Positive {
		class = "pole plus"
	}
	dotAt(p.b, class, x, y, r)
	lineAt(p.b, class+" sign", x-r*0.55, y, x+r*0.55, y)
	if t.Positive {
		lineAt(p.b, class+" sign", x, y-r*0.55, x, y+r*0.55)
	}
}
