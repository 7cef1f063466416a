// Package pdf writes drawing sheets as vector PDF, one page per sheet, each at
// its true size. The same sheets always give the same bytes: dates are fixed,
// objects sorted, numbers rounded to 0.0001 point.
package pdf

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"clampwright/export/drawing"
	"clampwright/params/unit"
	"clampwright/parts/geom"
)

// pointsPerMM converts sheet millimetres to PDF points: 72 to the inch.
const pointsPerMM = 72 / unit.MMPerInch

// fixedDate stands in every file: files must not depend on the clock.
var fixedDate = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// Encode writes the sheets as one PDF with a title and, in plain ASCII, what it is
// about. It errors on no sheets, on sizes that
// are not positive and finite, on coordinates that are not finite, and when w
// fails.
func Encode(w io.Writer, title, about string, sheets []drawing.Sheet) error {
	if len(sheets) == 0 {
		return fmt.Errorf("pdf: %q has no sheets", title)
	}
	p := &page{doc: fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt"})}
	p.doc.SetCreationDate(fixedDate)
	p.doc.SetModificationDate(fixedDate)
	p.doc.SetCatalogSort(true)
	p.doc.SetAutoPageBreak(false, 0)
	p.doc.SetMargins(0, 0, 0)
	p.doc.SetTitle(title, true)
	p.doc.SetSubject(about, false)
	p.doc.SetProducer("clampwright", true)
	addFonts(p.doc, sheets)
	for i := range sheets {
		if err := p.sheet(&sheets[i]); err != nil {
			return fmt.Errorf("pdf: sheet %d of %q: %w", i+1, title, err)
		}
	}
	if err := p.doc.Output(w); err != nil {
		return fmt.Errorf("pdf: %q: %w", title, err)
	}
	return nil
}

// page writes the content stream of the current page.
type page struct {
	doc *fpdf.Fpdf
	h   float64 // points
	buf []byte
	bad bool // a coordinate was not finite
	pen int  // pen in force, -1 for none
	ink float64
}

func (p *page) sheet(s *drawing.Sheet) error {
	if !(s.W > 0) || !(s.H > 0) || math.IsInf(s.W, 0) || math.IsInf(s.H, 0) {
		return fmt.Errorf("page of %v x %v mm", s.W, s.H)
	}
	w := s.W * pointsPerMM
	p.h = s.H * pointsPerMM
	p.doc.AddPageFormat("P", fpdf.SizeType{Wd: w, Ht: p.h})
	p.pen, p.ink, p.bad = -1, -1, false
	p.op("1 J 1 j")
	p.items(s.Items)
	if p.bad {
		return fmt.Errorf("a coordinate is not a finite number")
	}
	return p.doc.Error()
}

func (p *page) items(items []drawing.Item) {
	for _, it := range items {
		switch it := it.(type) {
		case drawing.Line:
			p.line(it)
		case drawing.Arc:
			p.setPen(it.Pen, it.Pen.Dash())
			p.arc(it.C, it.R, it.Start, it.Sweep, true)
			p.op("S")
		case drawing.Circle:
			p.circle(it)
		case drawing.Chain:
			p.chain(it)
		case drawing.Text:
			p.text(it)
		case drawing.Clip:
			p.clip(it)
		}
	}
}

func (p *page) line(l drawing.Line) {
	p.setPen(l.Pen, drawing.DashFor(l.Pen, math.Hypot(l.B.X-l.A.X, l.B.Y-l.A.Y)))
	p.xy(l.A)
	p.op("m")
	p.xy(l.B)
	p.op("l")
	p.op("S")
}

func (p *page) circle(c drawing.Circle) {
	p.setPen(c.Pen, c.Pen.Dash())
	p.setFill(c.Fill)
	p.arc(c.C, c.R, 0, 2*math.Pi, true)
	p.op("h")
	p.op(paint(c.Fill, c.Bare))
}

func (p *page) chain(c drawing.Chain) {
	edges := c.Edges()
	if len(edges) == 0 {
		return
	}
	p.setPen(c.Pen, c.Pen.Dash())
	p.setFill(c.Fill)
	p.xy(c.Path[0].P)
	p.op("m")
	for _, e := range edges {
		switch e := e.(type) {
		case drawing.Line:
			p.xy(e.B)
			p.op("l")
		case drawing.Arc:
			p.arc(e.C, e.R, e.Start, e.Sweep, false)
		}
	}
	if c.Closed {
		p.op("h")
	}
	p.op(paint(c.Fill, c.Bare))
}

// paint is the operator that strokes and fills as asked.
func paint(fill drawing.Tone, bare bool) string {
	switch {
	case fill == drawing.NoFill && bare:
		return "n"
	case fill == drawing.NoFill:
		return "S"
	case bare:
		return "f"
	}
	return "B"
}

// maxSegment is the greatest sweep given to one Bézier curve. With control
// points at 4/3 tan(sweep/4) the curve leaves the circle by at most
// R·(2/27)·sin⁶(sweep/4)/cos²(sweep/4): 2.7e-4 R at 90°, 6.6e-8 R at 22.5°, so
// 22.5° keeps 0.001 mm up to R = 15 m.
const maxSegment = math.Pi / 8

// arc appends Bézier curves for an arc; move starts a new subpath.
func (p *page) arc(c geom.Vec2, r, start, sweep float64, move bool) {
	n := int(math.Ceil(math.Abs(sweep)/maxSegment - 1e-9))
	if n < 1 || n > 64 || math.IsNaN(sweep) {
		p.bad = p.bad || math.IsNaN(sweep) || n > 64
		n = 1
	}
	step := sweep / float64(n)
	k := 4.0 / 3 * math.Tan(step/4) * r
	s0, c0 := math.Sincos(start)
	if move {
		p.xy(geom.Vec2{X: c.X + r*c0, Y: c.Y + r*s0})
		p.op("m")
	}
	for i := 1; i <= n; i++ {
		s1, c1 := math.Sincos(start + step*float64(i))
		p.xy(geom.Vec2{X: c.X + r*c0 - k*s0, Y: c.Y + r*s0 + k*c0})
		p.xy(geom.Vec2{X: c.X + r*c1 + k*s1, Y: c.Y + r*s1 - k*c1})
		p.xy(geom.Vec2{X: c.X + r*c1, Y: c.Y + r*s1})
		p.op("c")
		s0, c0 = s1, c1
	}
}

func (p *page) clip(c drawing.Clip) {
	p.op("q")
	p.xy(c.Box.Min)
	p.num((c.Box.Max.X - c.Box.Min.X) * pointsPerMM)
	p.num((c.Box.Max.Y - c.Box.Min.Y) * pointsPerMM)
	p.op("re W n")
	pen, ink := p.pen, p.ink
	p.items(c.Items)
	p.op("Q")
	p.pen, p.ink = pen, ink
}

// setPen sets width and dashes; straight broken lines have dashes of their own.
func (p *page) setPen(pen drawing.Pen, dash []float64) {
	if p.pen == int(pen) && dash == nil && pen.Dash() == nil {
		return
	}
	p.pen = int(pen)
	p.num(pen.WidthMM() * pointsPerMM)
	p.buf = append(p.buf, "w ["...)
	for _, d := range dash {
		p.num(d * pointsPerMM)
	}
	p.buf = append(p.buf, "] 0 d"...)
	if dash != nil {
		p.op(" 0 J")
		p.pen = -1
		return
	}
	p.op(" 1 J")
}

func (p *page) setFill(t drawing.Tone) {
	if t == drawing.NoFill || p.ink == t.Level() {
		return
	}
	p.ink = t.Level()
	p.num(p.ink)
	p.op("g")
}

func (p *page) text(t drawing.Text) {
	t.S = drawing.Clean(t.Face, t.S)
	if t.S == "" {
		return
	}
	if t.Mask {
		c := t.Corners()
		p.chain(drawing.Chain{Closed: true, Fill: drawing.White, Bare: true,
			Path: geom.Path{{P: c[0]}, {P: c[1]}, {P: c[2]}, {P: c[3]}}})
	}
	o := t.Origin()
	if !finite(o.X) || !finite(o.Y) || !finite(t.Angle) {
		p.bad = true
		return
	}
	p.setFill(drawing.Black)
	p.doc.SetFont(family(t.Face), "", t.Face.EmMM(t.Height)*pointsPerMM)
	if t.Angle == 0 {
		p.doc.Text(o.X*pointsPerMM, p.h-o.Y*pointsPerMM, t.S)
		return
	}
	s, c := math.Sincos(t.Angle)
	p.op("q")
	for _, v := range []float64{c, s, -s, c, o.X * pointsPerMM, o.Y * pointsPerMM} {
		p.num(v)
	}
	p.op("cm")
	p.doc.Text(0, p.h, t.S)
	p.op("Q")
}

func (p *page) xy(v geom.Vec2) {
	p.num(v.X * pointsPerMM)
	p.num(v.Y * pointsPerMM)
}

// num appends a number rounded to four decimals, and a space.
func (p *page) num(v float64) {
	if !finite(v) {
		p.bad = true
		v = 0
	}
	p.buf = strconv.AppendFloat(p.buf, math.Round(v*1e4)/1e4+0, 'f', -1, 64)
	p.buf = append(p.buf, ' ')
}

// op ends the operands with an operator and sends the line.
func (p *page) op(s string) {
	p.buf = append(p.buf, s...)
	p.doc.RawWriteStr(string(p.buf))
	p.buf = p.buf[:0]
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
