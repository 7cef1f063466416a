package page

import (
	"image"
	"math"
	"slices"
	"strings"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

// view is the direction a picture is seen from: yaw about the y axis from +z
// toward +x, pitch above the horizon, rad.
type view struct{ yaw, pitch float64 }

// stillView is the corner the still picture is seen from and the turnable one
// starts at.
var stillView = view{yaw: 0.92, pitch: 0.42}

// axes gives the picture's right, up and toward the eye in world coordinates.
func (v view) axes() (right, up, eye geom.Vec3) {
	sy, cy := math.Sincos(v.yaw)
	sp, cp := math.Sincos(v.pitch)
	eye = geom.Vec3{X: sy * cp, Y: sp, Z: cy * cp}
	right = geom.Vec3{X: cy, Z: -sy}
	return right, eye.Cross(right), eye
}

// stillWidth is the width of the still picture in its own pixels: about 180
// dots an inch over the width of a printed page.
const stillWidth = 1320

// shades is how many steps of light each colour has.
const shades = 16

// still is a picture of the stage in the making: an orthographic view with a
// depth for every pixel.
type still struct {
	w, h    int
	scale   float64 // pixels per mm
	origin  geom.Vec2
	right   geom.Vec3
	up      geom.Vec3
	eye     geom.Vec3
	depth   []float32
	inks    []uint16    // 0: paper
	strokes [][2][2]int // visible lines, in half pixels
}

// newStill fits the stage into the picture.
func newStill(st *stage, v view) *still {
	p := &still{w: stillWidth}
	p.look(v)
	box := p.flatBounds(st)
	const margin = 14
	wide, high := box.Max.X-box.Min.X, box.Max.Y-box.Min.Y
	p.scale = math.Min((stillWidth-2*margin)/math.Max(wide, 1e-6), stillWidth*0.72/math.Max(high, 1e-6))
	p.paper(box, int(math.Max(high*p.scale+2*margin, stillWidth*0.4)))
	return p
}

// look sets the view.
func (p *still) look(v view) { p.right, p.up, p.eye = v.axes() }

// paper lays out h rows of empty pixels with the box, mm as seen, in the middle.
func (p *still) paper(box geom.Box2, h int) {
	p.h = h
	p.origin = geom.Vec2{
		X: float64(p.w)/2 - p.scale*(box.Min.X+box.Max.X)/2,
		Y: float64(p.h)/2 + p.scale*(box.Min.Y+box.Max.Y)/2,
	}
	p.depth, p.inks = make([]float32, p.w*p.h), make([]uint16, p.w*p.h)
	for i := range p.depth {
		p.depth[i] = float32(math.Inf(-1))
	}
}

// pixels is the painted picture.
func (p *still) pixels() *image.Paletted {
	m := image.NewPaletted(image.Rect(0, 0, p.w, p.h), stillPalette())
	for i, ink := range p.inks {
		m.Pix[i] = uint8(ink)
	}
	return m
}

// flatBounds is the box round everything as seen in the picture, mm.
func (p *still) flatBounds(st *stage) geom.Box2 {
	inf := math.Inf(1)
	b := geom.Box2{Min: geom.Vec2{X: inf, Y: inf}, Max: geom.Vec2{X: -inf, Y: -inf}}
	for _, a := range st.actors {
		for _, v := range st.shapes[a.shape].vertices {
			w := a.frame.Point(v)
			x, y := w.Dot(p.right), w.Dot(p.up)
			b.Min = geom.Vec2{X: min(b.Min.X, x), Y: min(b.Min.Y, y)}
			b.Max = geom.Vec2{X: max(b.Max.X, x), Y: max(b.Max.Y, y)}
		}
	}
	return b
}

// see takes a world point to pixels; Z is the depth in pixels, greater nearer.
func (p *still) see(w geom.Vec3) geom.Vec3 {
	return geom.Vec3{
		X: p.origin.X + p.scale*w.Dot(p.right),
		Y: p.origin.Y - p.scale*w.Dot(p.up),
		Z: p.scale * w.Dot(p.eye),
	}
}

// draw paints the surfaces, then the lines the surfaces leave visible.
func (p *still) draw(st *stage) {
	seen := make([][]geom.Vec3, len(st.actors))
	for i, a := range st.actors {
		s := st.shapes[a.shape]
		seen[i] = p.seeAll(s, a.frame)
		base := 1 + classIndex(a.class)*shades
		p.paintActor(s, a.frame, seen[i], func(n geom.Vec3) uint16 { return uint16(base + p.shade(n)) })
	}
	for i, a := range st.actors {
		p.lineActor(st.shapes[a.shape], a.frame, seen[i])
	}
}

// seeAll takes the corners of a shape at its place to pixels.
func (p *still) seeAll(s *shape, f geom.Frame) []geom.Vec3 {
	out := make([]geom.Vec3, len(s.vertices))
	for i, v := range s.vertices {
		out[i] = p.see(f.Point(v))
	}
	return out
}

// paintActor paints the surfaces that face the eye, each in the ink of its normal.
func (p *still) paintActor(s *shape, f geom.Frame, seen []geom.Vec3, ink func(geom.Vec3) uint16) {
	for i, t := range s.triangles {
		if n := f.Dir(s.normals[i]); n.Dot(p.eye) > 0 {
			p.fill(seen[t[0]], seen[t[1]], seen[t[2]], ink(n))
		}
	}
}

// shade is the step of light on a surface with the world normal n: a lamp over
// the reader's left shoulder.
func (p *still) shade(n geom.Vec3) int {
	x, y, z := n.Dot(p.right), n.Dot(p.up), n.Dot(p.eye)
	l := (-0.35*x + 0.80*y + 0.49*z) // unit to 0.2 %
	return min(max(int(math.Round((0.25+0.75*l)*(shades-1))), 0), shades-1)
}

// fill paints one triangle where it is nearer than what is there.
func (p *still) fill(a, b, c geom.Vec3, ink uint16) {
	area := (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
	if math.Abs(area) < 1e-9 {
		return
	}
	dzdx := ((b.Z-a.Z)*(c.Y-a.Y) - (c.Z-a.Z)*(b.Y-a.Y)) / area
	dzdy := ((c.Z-a.Z)*(b.X-a.X) - (b.Z-a.Z)*(c.X-a.X)) / area
	y0 := max(int(math.Ceil(min(a.Y, b.Y, c.Y)-0.5)), 0)
	y1 := min(int(math.Ceil(max(a.Y, b.Y, c.Y)-0.5)), p.h)
	for y := y0; y < y1; y++ {
		cy := float64(y) + 0.5
		lo, hi := rowSpan(a, b, c, cy)
		x0 := max(int(math.Ceil(lo-0.5)), 0)
		x1 := min(int(math.Ceil(hi-0.5)), p.w)
		z := a.Z + dzdx*(float64(x0)+0.5-a.X) + dzdy*(cy-a.Y)
		row := y * p.w
		for x := x0; x < x1; x++ {
			if float32(z) > p.depth[row+x] {
				p.depth[row+x] = float32(z)
				p.inks[row+x] = ink
			}
			z += dzdx
		}
	}
}

// rowSpan is where the horizontal line at y enters and leaves the triangle.
func rowSpan(a, b, c geom.Vec3, y float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, s := range [3][2]geom.Vec3{{a, b}, {b, c}, {c, a}} {
		if (s[0].Y > y) == (s[1].Y > y) {
			continue
		}
		x := s[0].X + (s[1].X-s[0].X)*(y-s[0].Y)/(s[1].Y-s[0].Y)
		lo, hi = min(lo, x), max(hi, x)
	}
	return lo, hi
}

// lineActor draws the creases and the outline of one instance where nothing
// stands before them.
func (p *still) lineActor(s *shape, f geom.Frame, seen []geom.Vec3) {
	front := make([]bool, len(s.triangles))
	for i, n := range s.normals {
		front[i] = f.Dir(n).Dot(p.eye) > 1e-9
	}
	for _, e := range s.edges {
		l, r := front[e.left], e.right >= 0 && front[e.right]
		if l != r || e.crease && l {
			p.line(seen[e.a], seen[e.b])
		}
	}
}

// line writes the visible runs of one edge, tested about once a pixel.
func (p *still) line(a, b geom.Vec3) {
	n := max(int(math.Ceil(math.Hypot(b.X-a.X, b.Y-a.Y))), 1)
	at := func(i int) geom.Vec3 {
		t := float64(i) / float64(n)
		return geom.Vec3{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y), Z: a.Z + t*(b.Z-a.Z)}
	}
	start := -1
	for i := 0; i <= n; i++ {
		switch open := p.visible(at(i)); {
		case open && start < 0:
			start = i
		case !open && start >= 0:
			p.stroke(at(start), at(i-1))
			start = -1
		}
	}
	if start >= 0 {
		p.stroke(at(start), b)
	}
}

// visible reports whether nothing nearer covers the whole neighbourhood of a
// point. The slack of 1.5 pixels of depth lets a line lie on its own surface.
func (p *still) visible(v geom.Vec3) bool {
	const slack = 1.5
	x, y := int(v.X), int(v.Y)
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			i, j := x+dx, y+dy
			if i < 0 || j < 0 || i >= p.w || j >= p.h || float64(p.depth[j*p.w+i]) <= v.Z+slack {
				return true
			}
		}
	}
	return false
}

// stroke keeps one visible line, to half a pixel.
func (p *still) stroke(a, b geom.Vec3) {
	half := func(v geom.Vec3) [2]int { return [2]int{int(math.Round(2 * v.X)), int(math.Round(2 * v.Y))} }
	if from, to := half(a), half(b); from != to {
		p.strokes = append(p.strokes, [2][2]int{from, to})
	}
}

// inked is what was stroked since the last call, as SVG path data: chained where ends
// meet, without the points that a line does not need.
func (p *still) inked(slack float64) string {
	next := map[[2]int][][2]int{}
	var starts [][2]int
	for _, s := range p.strokes {
		for _, end := range s {
			if next[end] == nil {
				starts = append(starts, end)
			}
		}
		next[s[0]] = append(next[s[0]], s[1])
		next[s[1]] = append(next[s[1]], s[0])
	}
	p.strokes = p.strokes[:0]
	var b strings.Builder
	for _, s := range starts {
		for len(next[s]) > 0 {
			chain := Polyline{}
			for at := s; ; {
				chain = append(chain, geom.Vec2{X: float64(at[0]) / 2, Y: float64(at[1]) / 2})
				if len(next[at]) == 0 {
					break
				}
				to := next[at][0]
				next[at] = next[at][1:]
				k := slices.Index(next[to], at)
				next[to] = slices.Delete(next[to], k, k+1)
				at = to
			}
			writeChain(&b, thin(chain, Polyline{chain[0]}, slack))
		}
	}
	return b.String()
}

// writeChain writes points as SVG path data, each but the first from the one before.
func writeChain(b *strings.Builder, pts Polyline) {
	half := func(v float64) string { return number.Trim(v, 1) }
	for i, v := range pts {
		if i == 0 {
			b.WriteString("M" + half(v.X) + " " + half(v.Y))
			continue
		}
		d := v.Sub(pts[i-1])
		b.WriteString("l" + half(d.X))
		if d.Y >= 0 {
			b.WriteByte(' ')
		}
		b.WriteString(half(d.Y))
	}
}
