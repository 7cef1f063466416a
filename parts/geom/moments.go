package geom

import "math"

// moments are the integrals of 1, x, y, x², xy, y² over a planar region.
type moments struct{ s, x, y, xx, xy, yy float64 }

func (m moments) add(o moments, k float64) moments {
	return moments{m.s + k*o.s, m.x + k*o.x, m.y + k*o.y, m.xx + k*o.xx, m.xy + k*o.xy, m.yy + k*o.yy}
}

// gauss8 are the abscissae and weights of Gauss-Legendre quadrature with eight
// points on [-1, 1] (Abramowitz & Stegun, table 25.4).
var gauss8 = [8][2]float64{
	{-0.9602898564975363, 0.1012285362903763}, {-0.7966664774136267, 0.2223810344533745},
	{-0.5255324099163290, 0.3137066458778873}, {-0.1834346424956498, 0.3626837833783620},
	{0.1834346424956498, 0.3626837833783620}, {0.5255324099163290, 0.3137066458778873},
	{0.7966664774136267, 0.2223810344533745}, {0.9602898564975363, 0.1012285362903763},
}

// moments by Green's theorem, ∮ F dy: the integrand is a polynomial of degree
// four at most on straight edges and a trigonometric polynomial on arcs, which
// are cut to an eighth of a turn: eight points are exact to rounding on both.
func (p Path) moments() moments {
	var m moments
	if len(p) == 0 {
		return m
	}
	o := p[0].P // moments about a near point lose fewer digits
	for _, e := range p.Edges() {
		m = m.add(edgeMoments(e, o), 1)
	}
	return m.shifted(o)
}

func edgeMoments(e Edge, o Vec2) moments {
	var m moments
	n := 1
	if e.Arc {
		n = int(math.Ceil(math.Abs(e.Sweep) / MaxStep))
	}
	for k := 0; k < n; k++ {
		for _, g := range gauss8 {
			t := (float64(k) + (g[0]+1)/2) / float64(n)
			p, w := e.At(t).Sub(o), e.velocity(t).Y*g[1]/2/float64(n)
			x, y := p.X, p.Y
			m = m.add(moments{x, x * x / 2, x * y, x * x * x / 3, x * x * y / 2, x * y * y}, w)
		}
	}
	return m
}

// velocity is the derivative of At.
func (e Edge) velocity(t float64) Vec2 {
	if !e.Arc {
		return e.B.Sub(e.A)
	}
	return Polar(e.R*e.Sweep, e.Start+t*e.Sweep).Perp()
}

// shifted takes moments about the point o to moments about the origin.
func (m moments) shifted(o Vec2) moments {
	return moments{
		s: m.s, x: m.x + o.X*m.s, y: m.y + o.Y*m.s,
		xx: m.xx + 2*o.X*m.x + o.X*o.X*m.s,
		xy: m.xy + o.X*m.y + o.Y*m.x + o.X*o.Y*m.s,
		yy: m.yy + 2*o.Y*m.y + o.Y*o.Y*m.s,
	}
}

func (c Circle) moments() moments {
	a := c.Area()
	q := a * c.R * c.R / 4
	return moments{s: a, xx: q, yy: q}.shifted(c.C)
}

func (p Profile) moments() moments {
	m := p.Outer.moments()
	for _, s := range p.Slots {
		m = m.add(s.moments(), -math.Copysign(1, s.Area()))
	}
	for _, c := range p.Circles {
		m = m.add(c.moments(), -1)
	}
	return m
}
