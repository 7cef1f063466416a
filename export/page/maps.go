package page

import (
	"html"
	"image"
	"image/color"
	"math"
	"strings"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

// Sizes of a pressure map in picture units.
const (
	mapWidth    = 300.0
	mapMargin   = 9.0
	mapDotsWide = 260 // dots across one face, twice what a phone shows
)

// pressureScale covers every field of every state.
func pressureScale(c Clamp) scale {
	top := 0.0
	for _, s := range c.States {
		for _, f := range s.Fields {
			_, hi := f.extremes()
			top = max(top, hi.v)
		}
	}
	if c.Window.Given {
		top = max(top, c.Window.Low*1.05)
	}
	return newScale(top)
}

// mapSVG draws the pressure of one state on the end plate.
func mapSVG(c Clamp, s State, sc scale) (string, error) {
	box := mapBox(c.Faces, s)
	h := (box.Max.Y-box.Min.Y)/math.Max(box.Max.X-box.Min.X, 1e-9)*(mapWidth-2*mapMargin) + 2*mapMargin
	h = min(max(h, 60), 520)
	var b strings.Builder
	openSVG(&b, "map", "Pressure on the cell faces, "+s.Name, mapWidth, h)
	p := fitted(&b, box, mapMargin, mapMargin, mapWidth-2*mapMargin, h-2*mapMargin)
	if c.Faces.Plate != (geom.Box2{}) {
		p.rect("paper", c.Faces.Plate)
	}
	for _, f := range s.Fields {
		if err := mapFace(p, f, c.Window, sc); err != nil {
			return "", err
		}
	}
	for _, a := range c.Faces.Angles {
		p.rect("strip", a.Box)
	}
	for _, r := range c.Faces.Rods {
		p.circle("rodend", r.C, r.R)
	}
	for _, f := range s.Fields {
		mapFigures(p, f)
	}
	b.WriteString("</svg>")
	return b.String(), nil
}

// mapBox is the box round the plate, the faces, the angles and the rods.
func mapBox(fs Faces, s State) geom.Box2 {
	var all []Polyline
	if fs.Plate != (geom.Box2{}) {
		all = append(all, corners(fs.Plate))
	}
	for _, f := range s.Fields {
		all = append(all, corners(f.box()))
	}
	for _, a := range fs.Angles {
		all = append(all, corners(a.Box))
	}
	for _, r := range fs.Rods {
		d := geom.Vec2{X: r.R, Y: r.R}
		all = append(all, Polyline{{X: r.C.X - d.X, Y: r.C.Y - d.Y}, {X: r.C.X + d.X, Y: r.C.Y + d.Y}})
	}
	b, _ := boxOf(all...)
	return b
}

// mapFace paints one face, hatches what lies outside the window and outlines it.
func mapFace(p plot, f Field, w Window, sc scale) error {
	data, err := pngData(faceImage(f, sc))
	if err != nil {
		return err
	}
	r := f.box()
	p.b.WriteString(`<image preserveAspectRatio="none" x="` + px(p.x(r.Min.X)) + `" y="` + px(p.y(r.Max.Y)) +
		`" width="` + px(p.sx*(r.Max.X-r.Min.X)) + `" height="` + px(-p.sy*(r.Max.Y-r.Min.Y)) + `" href="` + data + `"/>`)
	if w.Given {
		p.path("hatch-low", true, f.region(w.Low, 1)...)
		p.path("hatch-high", true, f.region(w.High, -1)...)
		p.path("limit", false, append(f.contour(w.Low), f.contour(w.High)...)...)
	}
	p.rect("face", r)
	return nil
}

// faceImage is the field as a picture in the colours of the scale, top row first.
func faceImage(f Field, sc scale) image.Image {
	r := f.box()
	w := mapDotsWide
	h := min(max(int(float64(w)*(r.Max.Y-r.Min.Y)/(r.Max.X-r.Min.X)), 2), 2*w)
	pal := make(color.Palette, len(sc.tints))
	for i, c := range sc.tints {
		pal[i] = c
	}
	m := image.NewPaletted(image.Rect(0, 0, w, h), pal)
	for j := range h {
		y := r.Max.Y - (float64(j)+0.5)/float64(h)*(r.Max.Y-r.Min.Y)
		for i := range w {
			x := r.Min.X + (float64(i)+0.5)/float64(w)*(r.Max.X-r.Min.X)
			m.Pix[j*m.Stride+i] = uint8(sc.level(f.at(geom.Vec2{X: x, Y: y})))
		}
	}
	return m
}

// mapFigures marks the centre of the face, its least and its greatest pressure.
func mapFigures(p plot, f Field) {
	r := f.box()
	mid := geom.Vec2{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}
	lo, hi := f.extremes()
	cx, cy := p.x(mid.X), p.y(mid.Y)
	lineAt(p.b, "cross", cx-5, cy, cx+5, cy)
	lineAt(p.b, "cross", cx, cy-5, cx, cy+5)
	textAt(p.b, "on mid", cx, cy-9, roundFigure(f.at(mid)))
	far := func(c corner) bool { return math.Hypot(p.x(c.p.X)-cx, p.y(c.p.Y)-cy) > 24 }
	for _, c := range []corner{lo, hi} {
		if far(c) && hi.v > lo.v {
			p.spot(c, r)
		}
	}
}

// spot marks one node with its figure, kept inside the face.
func (p plot) spot(c corner, r geom.Box2) {
	x, y := p.x(c.p.X), p.y(c.p.Y)
	dotAt(p.b, "spot", x, y, 2.2)
	class, dx := "on mid", 0.0
	if x < p.x(r.Min.X)+24 {
		class, dx = "on", 5
	} else if x > p.x(r.Max.X)-24 {
		class, dx = "on end", -5
	}
	dy := -6.0
	if y < p.y(r.Max.Y)+20 {
		dy = 14
	}
	textAt(p.b, class, x+dx, y+dy, roundFigure(c.v))
}

// roundFigure writes a pressure with three figures at most.
func roundFigure(v float64) string {
	switch {
	case math.Abs(v) >= 99.95:
		return number.Trim(v, 0)
	case math.Abs(v) >= 9.995:
		return number.Trim(v, 1)
	}
	return number.Trim(v, 2)
}

// legendSVG is the colour scale with its figures, the window bracketed.
func legendSVG(c Clamp, sc scale) string {
	const w, x0, x1, y0, y1 = 420.0, 14.0, 406.0, 22.0, 38.0
	var b strings.Builder
	openSVG(&b, "legend", "Colour scale of the pressure maps, "+c.PressureUnit, w, 62)
	at := func(v float64) float64 { return x0 + (x1-x0)*min(v, sc.top())/sc.top() }
	for i, t := range sc.tints {
		b.WriteString(`<rect x="` + px(at(float64(i)*sc.step)) + `" y="` + px(y0) + `" width="` + px((x1-x0)/float64(len(sc.tints))) +
			`" height="` + px(y1-y0) + `" fill="` + hex(t) + `"/>`)
	}
	if c.Window.Given {
		legendWindow(&b, c.Window, at, y0, y1, sc.top())
	}
	b.WriteString(`<rect class="face" x="14" y="22" width="392" height="16"/>`)
	every := 1 + len(sc.tints)/9
	for i := 0; i <= len(sc.tints); i += every {
		v := float64(i) * sc.step
		lineAt(&b, "axis", at(v), y1, at(v), y1+4)
		textAt(&b, "mid", at(v), y1+17, tick(v, sc.step))
	}
	b.WriteString("</svg>")
	return b.String()
}

func legendWindow(b *strings.Builder, w Window, at func(float64) float64, y0, y1, top float64) {
	area := func(class string, from, to float64) {
		if to > from {
			b.WriteString(`<path class="` + class + `" d="M` + px(from) + " " + px(y0) + "H" + px(to) + "V" + px(y1) + "H" + px(from) + `Z"/>`)
		}
	}
	area("hatch-low", at(0), at(w.Low))
	area("hatch-high", at(min(w.High, top)), at(top))
	lo, hi := at(w.Low), at(w.High)
	b.WriteString(`<path class="axis" d="M` + px(lo) + " " + px(y1) + "V" + px(y0-5) + "H" + px(hi) + "V" + px(y1) + `"/>`)
	class := "mid"
	x := (lo + hi) / 2
	if x < 110 {
		class, x = "start", 14
	} else if x > 310 {
		class, x = "end", 406
	}
	b.WriteString(`<text class="` + class + `" x="` + px(x) + `" y="12">` + html.EscapeString(firstOf(w.Label, "window")) + `</text>`)
}
