package page

import (
	"html"
	"math"
	"slices"
	"strconv"
	"strings"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

func itoa(i int) string { return strconv.Itoa(i) }

// px writes a picture coordinate: a hundredth of a unit.
func px(v float64) string { return number.Trim(v, 2) }

// openSVG starts a picture that fills its container, w by h units, with a title
// for those who do not see it.
func openSVG(b *strings.Builder, class, title string, w, h float64) {
	openSVGAt(b, class, title, 0, w, h)
}

// openSVGAt is openSVG of a picture whose left edge is at x.
func openSVGAt(b *strings.Builder, class, title string, x, w, h float64) {
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" role="img" class="` + class + `" viewBox="` + px(x) + " 0 " + px(w) + " " + px(h) + `" preserveAspectRatio="xMinYMid"`)
	b.WriteString(`><title>` + html.EscapeString(title) + `</title>`)
}

// plot draws in a box of mm (or any other units) fitted into a picture.
type plot struct {
	b      *strings.Builder
	sx, sy float64 // picture units per data unit
	ox, oy float64 // picture place of the data origin
}

// fitted scales box into the rectangle at (x, y) of size w by h, alike in both
// directions, y up, centred.
func fitted(b *strings.Builder, box geom.Box2, x, y, w, h float64) plot {
	bw, bh := math.Max(box.Max.X-box.Min.X, 1e-9), math.Max(box.Max.Y-box.Min.Y, 1e-9)
	s := math.Min(w/bw, h/bh)
	return plot{b, s, -s,
		x + w/2 - s*(box.Min.X+box.Max.X)/2,
		y + h/2 + s*(box.Min.Y+box.Max.Y)/2}
}

func (p plot) x(v float64) float64 { return p.ox + p.sx*v }
func (p plot) y(v float64) float64 { return p.oy + p.sy*v }

// trace appends the points as SVG path data.
func (p plot) trace(pts []geom.Vec2, closed bool) {
	for i, v := range pts {
		cmd := "L"
		if i == 0 {
			cmd = "M"
		}
		p.b.WriteString(cmd + px(p.x(v.X)) + " " + px(p.y(v.Y)))
	}
	if closed && len(pts) > 0 {
		p.b.WriteByte('Z')
	}
}

// path draws chains as one path; holes stay open by the even-odd rule.
func (p plot) path(class string, closed bool, chains ...Polyline) {
	p.b.WriteString(`<path class="` + class + `" d="`)
	for _, c := range chains {
		p.trace(c, closed)
	}
	p.b.WriteString(`"/>`)
}

func (p plot) rect(class string, r geom.Box2) {
	x0, x1 := p.x(r.Min.X), p.x(r.Max.X)
	y0, y1 := p.y(r.Max.Y), p.y(r.Min.Y)
	p.b.WriteString(`<rect class="` + class + `" x="` + px(min(x0, x1)) + `" y="` + px(min(y0, y1)) +
		`" width="` + px(math.Abs(x1-x0)) + `" height="` + px(math.Abs(y1-y0)) + `"/>`)
}

// circle draws a circle of r data units.
func (p plot) circle(class string, c geom.Vec2, r float64) {
	dotAt(p.b, class, p.x(c.X), p.y(c.Y), r*math.Abs(p.sx))
}

// dotAt draws a circle in picture units.
func dotAt(b *strings.Builder, class string, x, y, r float64) {
	b.WriteString(`<circle class="` + class + `" cx="` + px(x) + `" cy="` + px(y) + `" r="` + px(r) + `"/>`)
}

// lineAt draws a line in picture units.
func lineAt(b *strings.Builder, class string, x0, y0, x1, y1 float64) {
	b.WriteString(`<path class="` + class + `" d="M` + px(x0) + " " + px(y0) + "L" + px(x1) + " " + px(y1) + `"/>`)
}

// textAt writes a text in picture units; class also sets its anchor.
func textAt(b *strings.Builder, class string, x, y float64, s string) {
	if s == "" {
		return
	}
	b.WriteString(`<text class="` + class + `" x="` + px(x) + `" y="` + px(y) + `">` + html.EscapeString(s) + `</text>`)
}

// boxOf is the box round all points of the chains; ok is false without points.
func boxOf(chains ...Polyline) (b geom.Box2, ok bool) {
	b = geom.BoxOf(slices.Concat(chains...)...)
	return b, b.Min.X <= b.Max.X
}

// corners is the outline of a box.
func corners(b geom.Box2) Polyline { return geom.Rect(b.Min, b.Max).Flatten(1) }

// shorten cuts a label that would run out of its figure.
func shorten(s string, runes int) string {
	r := []rune(s)
	if len(r) <= runes {
		return s
	}
	return string(r[:max(runes-1, 0)]) + "…"
}
