package page

import (
	"math"
	"strings"

	"clampwright/parts/geom"
)

// Sizes of a wiring picture in its own units: how wide one of few cells and one of many
// is, its margin, and a line of its legend.
const (
	wiringFew, wiringMany = 290.0, 440.0
	wiringMargin          = 8.0
	wiringLine            = 30.0
)

// wiringSVG draws one state of the links from above, the long way across the
// picture. Looking down, z runs down the picture when x runs right; turned a
// quarter, z runs right and x up. Neither is a mirror image. What is held to the main
// terminals is named under the picture, each ringed as its terminal is.
func wiringSVG(s WiringState) string {
	w, class := wiringFew, "wiring"
	if len(s.Cells) > 6 {
		w, class = wiringMany, "wiring many"
	}
	lie := wiringBox(s)
	if lie.Max.Y-lie.Min.Y > lie.Max.X-lie.Min.X {
		s = s.mapped(func(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.Y, Y: v.X} })
	} else {
		s = s.mapped(func(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.X, Y: -v.Y} })
	}
	lie = wiringBox(s)
	room := w - 2*wiringMargin
	high := min(max(room*(lie.Max.Y-lie.Min.Y)/math.Max(lie.Max.X-lie.Min.X, 1e-9), 40), 460)
	legend := 0.0
	if len(s.Takeoffs) > 0 {
		legend = wiringLine
	}
	var b strings.Builder
	openSVG(&b, class, "Links seen from above: "+s.Title, w, high+2*wiringMargin+legend)
	p := fitted(&b, lie, wiringMargin, wiringMargin, room, high)
	for _, c := range s.Cells {
		p.rect(beside("celltop", c.Beside), c.Box)
	}
	for _, l := range s.Links {
		p.link(l)
	}
	for _, t := range s.Terminals {
		p.terminal(t, p.x(t.At.X), p.y(t.At.Y), max(t.Radius*p.sx, 5.5))
	}
	for _, c := range s.Cells {
		x, y := p.x((c.Box.Min.X+c.Box.Max.X)/2), p.y((c.Box.Min.Y+c.Box.Max.Y)/2)
		textAt(&b, beside("on mid", c.Beside), x, y+4, shorten(c.Label, 8))
	}
	for i, o := range s.Takeoffs {
		x, y := wiringMargin+13+float64(i)*room*0.55, high+2*wiringMargin+wiringLine/2-2
		for _, t := range s.Terminals {
			if t.At == o.At {
				r := max(t.Radius*p.sx, 5.5)
				p.ring(t, p.x(t.At.X), p.y(t.At.Y), r)
				p.terminal(t, x, y, 7)
				p.ring(t, x, y, 7)
			}
		}
		textAt(&b, "strong", x+17, y+4.5, shorten(o.Label, 20))
	}
	b.WriteString("</svg>")
	return b.String()
}

// beside adds to a class what is drawn pale.
func beside(class string, pale bool) string {
	if pale {
		return class + " was"
	}
	return class
}

// ring marks a terminal of radius r at a place in the picture.
func (p plot) ring(t TerminalTop, x, y, r float64) {
	class := "target minus"
	if t.Positive {
		class = "target"
	}
	dotAt(p.b, class, x, y, r+4)
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
		c.Box = b
		out.Cells = append(out.Cells, c)
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

// terminal draws the sign in a ring of radius r at a place in the picture, the positive
// filled.
func (p plot) terminal(t TerminalTop, x, y, r float64) {
	class := beside("pole minus", t.Beside)
	if t.Positive {
		class = beside("pole plus", t.Beside)
	}
	dotAt(p.b, class, x, y, r)
	lineAt(p.b, class+" sign", x-r*0.55, y, x+r*0.55, y)
	if t.Positive {
		lineAt(p.b, class+" sign", x, y-r*0.55, x, y+r*0.55)
	}
}
