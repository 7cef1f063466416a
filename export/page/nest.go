package page

import (
	"slices"
	"strings"

	"clampwright/parts/geom"
)

// nestW is the width of a nested sheet or a bar in picture units.
const nestW = 420.0

// nestSVG draws one sheet with the parts laid on it, the long side across.
func nestSVG(s NestSheet) string {
	turn := s.Height > s.Width
	w, h := s.Width, s.Height
	if turn {
		w, h = h, w
	}
	high := (nestW - 8) * h / w
	var b strings.Builder
	openSVG(&b, "nest", "Layout of "+s.Name, nestW, high+8)
	p := fitted(&b, geom.Box2{Max: geom.Vec2{X: w, Y: h}}, 4, 4, nestW-8, high)
	p.rect("stock", geom.Box2{Max: geom.Vec2{X: w, Y: h}})
	if s.Grain != "" {
		grainLines(p, w, h, (s.Grain == "x") != turn)
	}
	for _, pl := range s.Placed {
		outlines := pl.Outlines
		if turn {
			outlines = quarterTurn(outlines, s.Width)
		}
		p.path("piece", true, outlines...)
		nestLabel(p, pl.Label, outlines)
	}
	b.WriteString("</svg>")
	return b.String()
}

// quarterTurn lays a sheet of the given width on its side, clockwise.
func quarterTurn(cs []Polyline, width float64) []Polyline {
	out := make([]Polyline, len(cs))
	for i, c := range cs {
		out[i] = make(Polyline, len(c))
		for j, v := range c {
			out[i][j] = geom.Vec2{X: v.Y, Y: width - v.X}
		}
	}
	return out
}

// grainLines marks the direction of the grain.
func grainLines(p plot, w, h float64, along bool) {
	const n = 14
	var lines []Polyline
	for i := 1; i < n; i++ {
		t := float64(i) / n
		if along {
			lines = append(lines, Polyline{{X: 0, Y: t * h}, {X: w, Y: t * h}})
		} else {
			lines = append(lines, Polyline{{X: t * w, Y: 0}, {X: t * w, Y: h}})
		}
	}
	p.path("grain", false, lines...)
}

// nestLabel writes the mark into the part where it has room.
func nestLabel(p plot, label string, outlines []Polyline) {
	if len(outlines) == 0 {
		return
	}
	r, ok := boxOf(outlines[0])
	if !ok {
		return
	}
	wide := p.x(r.Max.X) - p.x(r.Min.X)
	if high := p.y(r.Min.Y) - p.y(r.Max.Y); high < 12 || wide < 14 {
		return
	}
	textAt(p.b, "on mid", (p.x(r.Min.X)+p.x(r.Max.X))/2, (p.y(r.Min.Y)+p.y(r.Max.Y))/2+4, shorten(label, int(wide/7)))
}

// barsAPicture is how many bars one picture shows: a page prints that many in
// letters that can be read.
const barsAPicture = 8

// barsSVG draws the bars one under the other on one scale, in as many pictures as
// it takes.
func barsSVG(bars []Bar) string {
	longest := 1e-9
	for _, b := range bars {
		longest = max(longest, b.Length)
	}
	var b strings.Builder
	for part := range slices.Chunk(bars, barsAPicture) {
		barRows(&b, part, (nestW-8)/longest)
	}
	return b.String()
}

// barRows is one picture of bars, k picture units a mm.
func barRows(b *strings.Builder, bars []Bar, k float64) {
	const row, high = 60.0, 18.0
	openSVG(b, "bars", "Pieces on the bars", nestW, row*float64(len(bars)))
	for i, bar := range bars {
		top := row * float64(i)
		textAt(b, "start", 4, top+13, shorten(bar.Name, 50))
		barRow(b, bar, k, top+17, high)
		textAt(b, "start", 4, top+49, shorten(inOrder(bar.Pieces), 28))
		textAt(b, "end", nestW-4, top+49, shorten(bar.Caption, 32))
	}
	b.WriteString("</svg>")
}

// inOrder lists pieces as they are sawn, equal neighbours counted: also those too
// short to be named in the picture.
func inOrder(ps []BarPiece) string {
	var out []string
	for i := 0; i < len(ps); {
		k := i
		for k < len(ps) && ps[k].Label == ps[i].Label {
			k++
		}
		out = append(out, itoa(k-i)+" x "+ps[i].Label)
		i = k
	}
	return strings.Join(out, ", ")
}

func barRow(b *strings.Builder, bar Bar, k, y, high float64) {
	p := plot{b, k, -1, 4, y + high}
	p.rect("stock", geom.Box2{Max: geom.Vec2{X: bar.Length, Y: high}})
	x := 0.0
	for _, pc := range bar.Pieces {
		p.rect("piece", geom.Box2{Min: geom.Vec2{X: x}, Max: geom.Vec2{X: x + pc.Length, Y: high}})
		if wide := k * pc.Length; wide > 16 {
			textAt(b, "on mid", p.x(x+pc.Length/2), y+high-5, shorten(pc.Label, int(wide/7)))
		}
		x += pc.Length + bar.Kerf
	}
}
