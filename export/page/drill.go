package page

import (
	"math"
	"strings"

	"clampwright/parts/geom"
)

// drillSVG draws one part with its holes named and its datum marked. A part
// much taller than wide is drawn lying, so that it fills the column.
func drillSVG(d DrillPart) string {
	const w, margin = 420.0, 44.0
	d = lying(d)
	box, ok := boxOf(d.Outlines...)
	if !ok {
		return ""
	}
	k := (w - 2*margin) / math.Max(box.Max.X-box.Min.X, 1e-9)
	high := min(max(k*(box.Max.Y-box.Min.Y), 12), 330)
	var b strings.Builder
	openSVG(&b, "drill", "Holes of "+d.Part, w, high+margin)
	p := fitted(&b, box, margin, margin/2, w-2*margin, high)
	p.path("piece", true, d.Outlines...)
	drillHeel(p, d.Heel)
	for _, h := range d.Holes {
		drillHole(p, h, box)
	}
	drillDatum(p, d.Origin, box)
	b.WriteString("</svg>")
	return b.String()
}

// lying turns a tall part by a quarter turn clockwise, datum and holes with it.
func lying(d DrillPart) DrillPart {
	box, ok := boxOf(d.Outlines...)
	if !ok || box.Max.Y-box.Min.Y <= 1.6*(box.Max.X-box.Min.X) {
		return d
	}
	swap := func(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.Y, Y: -v.X} }
	out := d
	out.Outlines = make([]Polyline, len(d.Outlines))
	for i, c := range d.Outlines {
		for _, v := range c {
			out.Outlines[i] = append(out.Outlines[i], swap(v))
		}
	}
	out.Heel = nil
	for _, v := range d.Heel {
		out.Heel = append(out.Heel, swap(v))
	}
	out.Holes = append([]Hole(nil), d.Holes...)
	for i := range out.Holes {
		out.Holes[i].At = swap(out.Holes[i].At)
	}
	out.Origin = swap(d.Origin)
	return out
}

// drillHole draws a hole with its centre cross, its name inside the part.
func drillHole(p plot, h Hole, box geom.Box2) {
	x, y := p.x(h.At.X), p.y(h.At.Y)
	r := max(h.Diameter/2*p.sx, 1.5)
	if h.SlotEnd == 0 {
		dotAt(p.b, "hole", x, y, r)
	}
	lineAt(p.b, "centre", x-r-4, y, x+r+4, y)
	lineAt(p.b, "centre", x, y-r-4, x, y+r+4)
	if p.y(box.Min.Y)-p.y(box.Max.Y) < 60 { // no room inside: write above the part
		class, dx := "strong mid", 0.0
		switch {
		case h.SlotEnd < 0:
			class, dx = "strong end", -2
		case h.SlotEnd > 0:
			class, dx = "strong", 2
		}
		textAt(p.b, class, x+dx, p.y(box.Max.Y)-8, shorten(h.ID, 8))
		return
	}
	if h.SlotEnd != 0 { // the two names stand apart above the slot
		class, dx := "on strong end", -2.0
		if h.SlotEnd > 0 {
			class, dx = "on strong", 2
		}
		textAt(p.b, class, x+dx, y-r-5, shorten(h.ID, 8))
		return
	}
	class, dx := "on strong", r+5
	if x > (p.x(box.Min.X)+p.x(box.Max.X))/2 {
		class, dx = "on strong end", -r-5
	}
	textAt(p.b, class, x+dx, y-4, shorten(h.ID, 8))
}

// drillHeel draws the edge at which an angle's other leg stands, its name at its
// right end, beside the part.
func drillHeel(p plot, heel Polyline) {
	if len(heel) < 2 {
		return
	}
	p.path("heel", false, heel)
	end := heel[len(heel)-1]
	textAt(p.b, "small strong", p.x(end.X)+4, p.y(end.Y)+4, "heel")
}

// drillDatum marks the corner the coordinates start from.
func drillDatum(p plot, o geom.Vec2, box geom.Box2) {
	x, y := p.x(o.X), p.y(o.Y)
	p.b.WriteString(`<path class="datum" d="M` + px(x-11) + " " + px(y) + "H" + px(x+11) + "M" + px(x) + " " + px(y-11) + "V" + px(y+11) + `"/>`)
	dotAt(p.b, "datumdot", x, y, 4)
	class, dx := "small strong end", -14.0
	if o.X > (box.Min.X+box.Max.X)/2 {
		class, dx = "small strong", 14
	}
	textAt(p.b, class, x+dx, y+4, "0, 0")
}
