// Package svg writes one drawing sheet as SVG 1.1, its view box in millimetres,
// arcs as true arcs. The same sheet always gives the same bytes.
package svg

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"

	"clampwright/export/drawing"
	"clampwright/parts/geom"
)

// Options of a picture.
type Options struct {
	// Prefix begins every id, so that several pictures can share one page.
	Prefix string
	// Fluid leaves out the absolute size: the picture fills its container.
	Fluid bool
	// About is what the metadata say; empty for none.
	About string
}

// Encode writes the sheet. It errors on a size that is not positive and
// finite, on coordinates that are not finite, and when w fails.
func Encode(w io.Writer, s *drawing.Sheet, o Options) error {
	if !(s.W > 0) || !(s.H > 0) || math.IsInf(s.W, 0) || math.IsInf(s.H, 0) {
		return fmt.Errorf("svg: %q: sheet of %v x %v mm", s.Title, s.W, s.H)
	}
	e := &encoder{h: s.H, prefix: o.Prefix}
	e.open(s, o)
	e.items(s.Items)
	e.buf.WriteString("</g></svg>\n")
	if e.bad {
		return fmt.Errorf("svg: %q: a coordinate is not a finite number", s.Title)
	}
	_, err := w.Write(e.buf.Bytes())
	return err
}

type encoder struct {
	buf    bytes.Buffer
	h      float64
	prefix string
	clips  int
	bad    bool
}

func (e *encoder) open(s *drawing.Sheet, o Options) {
	e.buf.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" role="img"`)
	if !o.Fluid {
		e.f(` width="%smm" height="%smm"`, e.n(s.W), e.n(s.H))
	}
	e.f(` viewBox="0 0 %s %s"><title>`, e.n(s.W), e.n(s.H))
	e.escape(s.Title)
	e.buf.WriteString("</title>")
	if o.About != "" {
		e.buf.WriteString("<metadata>")
		e.escape(o.About)
		e.buf.WriteString("</metadata>")
	}
	e.buf.WriteString(`<g fill="none" stroke="#000" stroke-linecap="round" stroke-linejoin="round">` + "\n")
}

func (e *encoder) items(items []drawing.Item) {
	for _, it := range items {
		switch it := it.(type) {
		case drawing.Line:
			e.line(it)
		case drawing.Arc:
			e.arc(it)
		case drawing.Circle:
			e.f(`<circle cx="%s" cy="%s" r="%s"`, e.x(it.C), e.y(it.C), e.n(it.R))
			e.paint(it.Pen, it.Pen.Dash(), it.Fill, it.Bare)
		case drawing.Chain:
			e.chain(it)
		case drawing.Text:
			e.text(it)
		case drawing.Clip:
			e.clip(it)
		}
	}
}

func (e *encoder) line(l drawing.Line) {
	e.f(`<path d="M%s %sL%s %s"`, e.x(l.A), e.y(l.A), e.x(l.B), e.y(l.B))
	e.paint(l.Pen, drawing.DashFor(l.Pen, math.Hypot(l.B.X-l.A.X, l.B.Y-l.A.Y)), drawing.NoFill, false)
}

func (e *encoder) arc(a drawing.Arc) {
	p := at(a, 0)
	e.f(`<path d="M%s %s`, e.x(p), e.y(p))
	e.arcTo(a)
	e.buf.WriteByte('"')
	e.paint(a.Pen, a.Pen.Dash(), drawing.NoFill, false)
}

// arcTo appends the arc in halves: SVG cannot tell a full turn from none.
func (e *encoder) arcTo(a drawing.Arc) {
	sweep := 1 // screen y runs down: counter-clockwise on the sheet is sweep 0
	if a.Sweep > 0 {
		sweep = 0
	}
	for _, t := range []float64{0.5, 1} {
		p := at(a, t)
		e.f("A%s %s 0 0 %d %s %s", e.n(a.R), e.n(a.R), sweep, e.x(p), e.y(p))
	}
}

func at(a drawing.Arc, t float64) geom.Vec2 {
	s, c := math.Sincos(a.Start + t*a.Sweep)
	return geom.Vec2{X: a.C.X + a.R*c, Y: a.C.Y + a.R*s}
}

func (e *encoder) chain(c drawing.Chain) {
	edges := c.Edges()
	if len(edges) == 0 {
		return
	}
	e.f(`<path d="M%s %s`, e.x(c.Path[0].P), e.y(c.Path[0].P))
	for _, edge := range edges {
		switch edge := edge.(type) {
		case drawing.Line:
			e.f("L%s %s", e.x(edge.B), e.y(edge.B))
		case drawing.Arc:
			e.arcTo(edge)
		}
	}
	if c.Closed {
		e.buf.WriteByte('Z')
	}
	e.buf.WriteByte('"')
	e.paint(c.Pen, c.Pen.Dash(), c.Fill, c.Bare)
}

// paint ends an element with its stroke and fill.
func (e *encoder) paint(pen drawing.Pen, dash []float64, fill drawing.Tone, bare bool) {
	if bare {
		e.buf.WriteString(` stroke="none"`)
	} else {
		e.f(` stroke-width="%s"`, e.n(pen.WidthMM()))
	}
	if dash != nil && !bare {
		e.buf.WriteString(` stroke-linecap="butt" stroke-dasharray="`)
		for i, d := range dash {
			if i > 0 {
				e.buf.WriteByte(' ')
			}
			e.buf.WriteString(e.n(d))
		}
		e.buf.WriteByte('"')
	}
	if fill != drawing.NoFill {
		e.f(` fill="%s"`, grey(fill))
	}
	e.buf.WriteString("/>\n")
}

func grey(t drawing.Tone) string {
	v := int(math.Round(t.Level() * 255))
	return fmt.Sprintf("#%02x%02x%02x", v, v, v)
}

// text writes a line of lettering. textLength holds any substitute face to the
// width that the layout measured.
func (e *encoder) text(t drawing.Text) {
	t.S = drawing.Clean(t.Face, t.S)
	if t.S == "" {
		return
	}
	if t.Mask {
		c := t.Corners()
		e.chain(drawing.Chain{Closed: true, Fill: drawing.White, Bare: true,
			Path: geom.Path{{P: c[0]}, {P: c[1]}, {P: c[2]}, {P: c[3]}}})
	}
	o := t.Origin()
	e.f(`<text x="%s" y="%s" font-size="%s" %s textLength="%s" lengthAdjust="spacingAndGlyphs"`,
		e.x(o), e.y(o), e.n(t.Face.EmMM(t.Height)), style(t.Face), e.n(t.WidthMM()))
	if t.Angle != 0 {
		e.f(` transform="rotate(%s %s %s)"`, e.n(-t.Angle*180/math.Pi), e.x(o), e.y(o))
	}
	e.buf.WriteString(` fill="#000" stroke="none" xml:space="preserve">`)
	e.escape(t.S)
	e.buf.WriteString("</text>\n")
}

func style(f drawing.Face) string {
	switch f {
	case drawing.Bold:
		return `font-family="Go, Arial, Helvetica, sans-serif" font-weight="bold"`
	case drawing.Mono:
		return `font-family="'Go Mono', monospace"`
	}
	return `font-family="Go, Arial, Helvetica, sans-serif"`
}

func (e *encoder) clip(c drawing.Clip) {
	e.clips++
	id := fmt.Sprintf("%sclip%d", e.prefix, e.clips)
	e.f(`<clipPath id="%s"><rect x="%s" y="%s" width="%s" height="%s"/></clipPath><g clip-path="url(#%s)">`+"\n",
		id, e.x(c.Box.Min), e.y(c.Box.Max), e.n(c.Box.Max.X-c.Box.Min.X), e.n(c.Box.Max.Y-c.Box.Min.Y), id)
	e.items(c.Items)
	e.buf.WriteString("</g>\n")
}

func (e *encoder) f(format string, args ...any) { fmt.Fprintf(&e.buf, format, args...) }

func (e *encoder) escape(s string) {
	if err := xml.EscapeText(&e.buf, []byte(s)); err != nil {
		e.bad = true // a bytes.Buffer does not fail
	}
}

func (e *encoder) x(p geom.Vec2) string { return e.n(p.X) }
func (e *encoder) y(p geom.Vec2) string { return e.n(e.h - p.Y) }

// n writes a number rounded to 0.0001 mm.
func (e *encoder) n(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		e.bad = true
		return "0"
	}
	return strconv.FormatFloat(math.Round(v*1e4)/1e4+0, 'f', -1, 64)
}
