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

func (l Line) shift(d geom.Vec2) Item { l.A, l.B = l.A.Add(d), l.B.Add(d); return l }
func (a Arc) shift(d geom.Vec2) Item  { a.C = a.C.Add(d); return a }
func (c Circle) shift(d geom.Vec2) Item {
	c.C = c.C.Add(d)
	return c
}

func (c Chain) shift(d geom.Vec2) Item {
	p := make(geom.Path, len(c.Path))
	for i, v := range c.Path {
		p[i] = geom.Vertex{P: v.P.Add(d), Bulge: v.Bulge}
	}
	c.Path = p
	return c
}

func (c Clip) shift(d geom.Vec2) Item {
	return Clip{geom.Box2{Min: c.Box.Min.Add(d), Max: c.Box.Max.Add(d)}, Shift(c.Items, d)}
}

// Shift returns the items moved by d.
func Shift(items []Item, d geom.Vec2) []Item {
	out := make([]Item, len(items))
	for i, it := range items {
		out[i] = it.shift(d)
	}
	return out
}

func (l Line) bounds() geom.Box2 { return geom.EmptyBox2().Add(l.A).Add(l.B) }

func (c Circle) bounds() geom.Box2 {
	r := geom.Vec2{X: c.R, Y: c.R}
	return geom.Box2{Min: c.C.Sub(r), Max: c.C.Add(r)}
}

func (a Arc) bounds() geom.Box2 { return geom.ArcEdge(a.C, a.R, a.Start, a.Sweep).Bounds() }

func (c Chain) bounds() geom.Box2 {
	b := geom.EmptyBox2()
	n := len(c.Path)
	for i, v := range c.Path {
		b = b.Add(v.P)
		if v.Bulge != 0 && (i+1 < n || c.Closed) {
			b = b.Union(geom.NewEdge(v.P, c.Path[(i+1)%n].P, v.Bulge).Bounds())
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
	b := geom.EmptyBox2()
	for _, it := range items {
		b = b.Union(it.bounds())
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
		e := geom.NewEdge(c.Path[i].P, c.Path[(i+1)%n].P, c.Path[i].Bulge)
		if e.Arc {
			out = append(out, Arc{e.C, e.R, e.Start, e.Sweep, c.Pen})
		} else {
			out = append(out, Line{e.A, e.B, c.Pen})
		}
	}
	return out
}

func pt(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }

func polar(c geom.Vec2, r, t float64) geom.Vec2 { return c.Add(geom.Polar(r, t)) }

func width(b geom.Box2) float64  { return b.Max.X - b.Min.X }
func height(b geom.Box2) float64 { return b.Max.Y - b.Min.Y }

// meet says whether the insides of two boxes overlap by more than tol.
func meet(a, b geom.Box2, tol float64) bool {
	return a.Min.X < b.Max.X-tol && b.Min.X < a.Max.X-tol && a.Min.Y < b.Max.Y-tol && b.Min.Y < a.Max.Y-tol
}
