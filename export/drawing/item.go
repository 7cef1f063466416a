package drawing

import (
	"math"

	"clampwright/parts/geom"
)

// Item is one thing on a sheet: Line, Arc, Circle, Chain, Text or Clip.
type Item interface {
	// shift returns the item moved by d.
	shift(d geom.Vec2) Item
	// bounds is the box the item's geometry fills, line width left out.
	bounds() geom.Box2
}

// Line is a straight line, sheet mm.
type Line struct {
	A, B geom.Vec2
	Pen  Pen
}

// Arc is part of a circle: from Start, counter-clockwise by Sweep (negative:
// clockwise), radians.
type Arc struct {
	C            geom.Vec2
	R            float64
	Start, Sweep float64
	Pen          Pen
}

// Circle is a full circle, filled when Fill is set; no line when Bare.
type Circle struct {
	C    geom.Vec2
	R    float64
	Pen  Pen
	Fill Tone
	Bare bool
}

// Chain is a polyline with bulges (see geom.Vertex), filled when Fill is set;
// no line when Bare. A Chain that is not closed ignores its last bulge.
type Chain struct {
	Path   geom.Path
	Closed bool
	Pen    Pen
	Fill   Tone
	Bare   bool
}

// Clip shows its items inside a box only.
type Clip struct {
	Box   geom.Box2
	Items []Item
}

// Sheet is one page. Size in mm.
type Sheet struct {
	Title string
	W, H  float64
	Items []Item
}

// Add appends items in drawing order.
func (s *Sheet) Add(items ...Item) { s.Items = append(s.Items, items...) }

func (l Line) shift(d geom.Vec2) Item { l.A, l.B = add(l.A, d), add(l.B, d); return l }
func (a Arc) shift(d geom.Vec2) Item  { a.C = add(a.C, d); return a }
func (c Circle) shift(d geom.Vec2) Item {
	c.C = add(c.C, d)
	return c
}

func (c Chain) shift(d geom.Vec2) Item {
	p := make(geom.Path, len(c.Path))
	for i, v := range c.Path {
		p[i] = geom.Vertex{P: add(v.P, d), Bulge: v.Bulge}
	}
	c.Path = p
	return c
}

func (c Clip) shift(d geom.Vec2) Item {
	return Clip{geom.Box2{Min: add(c.Box.Min, d), Max: add(c.Box.Max, d)}, Shift(c.Items, d)}
}

// Shift returns the items moved by d.
func Shift(items []Item, d geom.Vec2) []Item {
	out := make([]Item, len(items))
	for i, it := range items {
		out[i] = it.shift(d)
	}
	return out
}

func (l Line) bounds() geom.Box2 { return grow(grow(noBox(), l.A), l.B) }

func (c Circle) bounds() geom.Box2 {
	r := geom.Vec2{X: c.R, Y: c.R}
	return geom.Box2{Min: sub(c.C, r), Max: add(c.C, r)}
}

func (a Arc) bounds() geom.Box2 {
	b := grow(grow(noBox(), polar(a.C, a.R, a.Start)), polar(a.C, a.R, a.Start+a.Sweep))
	for q := -8; q <= 8; q++ {
		t := float64(q) * math.Pi / 2
		if within(t, a.Start, a.Sweep) {
			b = grow(b, polar(a.C, a.R, t))
		}
	}
	return b
}

func (c Chain) bounds() geom.Box2 {
	b := noBox()
	n := len(c.Path)
	for i, v := range c.Path {
		b = grow(b, v.P)
		if v.Bulge != 0 && (i+1 < n || c.Closed) {
			b = union(b, bulgeArc(v.P, c.Path[(i+1)%n].P, v.Bulge).bounds())
		}
	}
	return b
}

func (c Clip) bounds() geom.Box2 {
	b := Bounds(c.Items)
	return geom.Box2{
		Min: geom.Vec2{X: math.Max(b.Min.X, c.Box.Min.X), Y: math.Max(b.Min.Y, c.Box.Min.Y)},
		Max: geom.Vec2{X: math.Min(b.Max.X, c.Box.Max.X), Y: math.Min(b.Max.Y, c.Box.Max.Y)},
	}
}

// Bounds is the box round all items; Min above Max when there are none.
func Bounds(items []Item) geom.Box2 {
	b := noBox()
	for _, it := range items {
		b = union(b, it.bounds())
	}
	return b
}

// Edges returns the chain's edges as Lines and Arcs, in order.
func (c Chain) Edges() []Item {
	n := len(c.Path)
	if n < 2 {
		return nil
	}
	last := n - 1
	if c.Closed {
		last = n
	}
	out := make([]Item, 0, last)
	for i := 0; i < last; i++ {
		a, b := c.Path[i], c.Path[(i+1)%n]
		if a.Bulge == 0 {
			out = append(out, Line{a.P, b.P, c.Pen})
			continue
		}
		arc := bulgeArc(a.P, b.P, a.Bulge)
		arc.Pen = c.Pen
		out = append(out, arc)
	}
	return out
}

// bulgeArc returns the arc from a to b with the given bulge = tan(sweep/4).
// The centre lies on the chord's perpendicular bisector at chord(1-k²)/(4k) to
// the left of a→b.
func bulgeArc(a, b geom.Vec2, k float64) Arc {
	d := sub(b, a)
	chord := math.Hypot(d.X, d.Y)
	h := (1 - k*k) / (4 * k)
	c := geom.Vec2{X: (a.X+b.X)/2 - d.Y*h, Y: (a.Y+b.Y)/2 + d.X*h}
	r := chord * (1 + k*k) / (4 * math.Abs(k))
	return Arc{C: c, R: r, Start: math.Atan2(a.Y-c.Y, a.X-c.X), Sweep: 4 * math.Atan(k)}
}

// within says whether angle t, give or take full turns, lies on the sweep.
func within(t, start, sweep float64) bool {
	if sweep < 0 {
		start, sweep = start+sweep, -sweep
	}
	d := math.Mod(t-start, 2*math.Pi)
	if d < 0 {
		d += 2 * math.Pi
	}
	return d <= sweep
}

func add(a, b geom.Vec2) geom.Vec2 { return geom.Vec2{X: a.X + b.X, Y: a.Y + b.Y} }
func sub(a, b geom.Vec2) geom.Vec2 { return geom.Vec2{X: a.X - b.X, Y: a.Y - b.Y} }
func mul(a geom.Vec2, k float64) geom.Vec2 {
	return geom.Vec2{X: a.X * k, Y: a.Y * k}
}
func pt(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }

func polar(c geom.Vec2, r, t float64) geom.Vec2 {
	return geom.Vec2{X: c.X + r*math.Cos(t), Y: c.Y + r*math.Sin(t)}
}

func noBox() geom.Box2 {
	inf := math.Inf(1)
	return geom.Box2{Min: pt(inf, inf), Max: pt(-inf, -inf)}
}

func grow(b geom.Box2, p geom.Vec2) geom.Box2 {
	return union(b, geom.Box2{Min: p, Max: p})
}

func union(a, b geom.Box2) geom.Box2 {
	return geom.Box2{
		Min: pt(math.Min(a.Min.X, b.Min.X), math.Min(a.Min.Y, b.Min.Y)),
		Max: pt(math.Max(a.Max.X, b.Max.X), math.Max(a.Max.Y, b.Max.Y)),
	}
}

// inflate widens a box by m on every side.
func inflate(b geom.Box2, m float64) geom.Box2 {
	return geom.Box2{Min: sub(b.Min, pt(m, m)), Max: add(b.Max, pt(m, m))}
}

func width(b geom.Box2) float64  { return b.Max.X - b.Min.X }
func height(b geom.Box2) float64 { return b.Max.Y - b.Min.Y }

// meet says whether the insides of two boxes overlap by more than tol.
func meet(a, b geom.Box2, tol float64) bool {
	return a.Min.X < b.Max.X-tol && b.Min.X < a.Max.X-tol && a.Min.Y < b.Max.Y-tol && b.Min.Y < a.Max.Y-tol
}
