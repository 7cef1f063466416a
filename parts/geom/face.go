package geom

import "math"

// Face is one boundary face of a Solid: planar, or part of a circular cylinder.
//
// A planar face (R = 0) carries a Profile in the x and y of Frame; Frame.Z is
// the outward normal. On a mitred face, cut obliquely across a section, Frame.X
// and Frame.Y are neither unit nor square to each other, so that the section's
// profile with its true arcs describes the cut with its true ellipses.
//
// A cylindrical face (R > 0) has its axis on Frame.Z through Frame.O. It spans
// the angles Start to Start+Sweep, rad, Sweep in (0, 2π], and for a point at
// (x, y) of the frame runs from Z0 + Slope0·(x, y) to Z1 + Slope1·(x, y); the
// slopes are zero but where a mitre cuts it.
type Face struct {
	Frame   Frame
	Profile Profile

	R              float64
	Start, Sweep   float64
	Z0, Z1         float64
	Slope0, Slope1 Vec2
	Inward         bool // the outward normal points to the axis: a hole or a fillet
}

// Planar reports whether the face is planar.
func (f Face) Planar() bool { return f.R == 0 }

// Placed returns the face moved through fr.
func (f Face) Placed(fr Frame) Face {
	f.Frame = fr.Mul(f.Frame)
	return f
}

// scale is the area on the face of a unit square of profile coordinates.
func (f Face) scale() float64 { return f.Frame.X.Cross(f.Frame.Y).Len() }

// sums are a face's shares of volume and volume moment by the divergence
// theorem: V = ∫ (p·n)/3 dA and ∫ x dV = ∫ x²/2·nx dA.
type sums struct {
	v float64
	m Vec3
}

func (f Face) sums(o Vec3) sums {
	if f.Planar() {
		return f.planarSums(o)
	}
	var s sums
	f.integrate(func(p, n Vec3, w float64) {
		p = p.Sub(o)
		s.v += p.Dot(n) / 3 * w
		s.m = s.m.Add(Vec3{p.X * p.X * n.X, p.Y * p.Y * n.Y, p.Z * p.Z * n.Z}.Mul(w / 2))
	})
	return s
}

// planarSums uses that every coordinate is linear in the profile's x and y.
func (f Face) planarSums(o Vec3) sums {
	m, k := f.Profile.moments(), f.scale()
	n, b := f.Frame.Z, f.Frame.O.Sub(o)
	sq := func(b, x, y float64) float64 { // ∫ (b + x·u + y·v)² dA
		return b*b*m.s + 2*b*x*m.x + 2*b*y*m.y + x*x*m.xx + 2*x*y*m.xy + y*y*m.yy
	}
	x, y := f.Frame.X, f.Frame.Y
	return sums{
		v: b.Dot(n) / 3 * m.s * k,
		m: Vec3{sq(b.X, x.X, y.X) * n.X, sq(b.Y, x.Y, y.Y) * n.Y, sq(b.Z, x.Z, y.Z) * n.Z}.Mul(k / 2),
	}
}

// integrate calls fn with points, outward normals and area weights of a
// quadrature over a cylindrical face, exact to rounding: polynomials of degree
// two along the axis and trigonometric polynomials round it.
func (f Face) integrate(fn func(p, n Vec3, w float64)) {
	pieces := int(math.Ceil(f.Sweep / MaxStep))
	for k := 0; k < pieces; k++ {
		for _, g := range gauss8 {
			t := f.Start + f.Sweep*(float64(k)+(g[0]+1)/2)/float64(pieces)
			r := Polar(f.R, t)
			z0, z1 := f.Z0+f.Slope0.Dot(r), f.Z1+f.Slope1.Dot(r)
			n := f.normal(t)
			w := g[1] / 2 * f.Sweep / float64(pieces) * f.R * (z1 - z0) / 2
			for _, h := range [2]float64{-1, 1} { // two-point Gauss: exact to degree three
				z := (z0+z1)/2 + h*(z1-z0)/2/math.Sqrt(3)
				fn(f.Frame.Point(r.V3(z)), n, w)
			}
		}
	}
}

// normal is the outward normal of a cylindrical face at the angle t.
func (f Face) normal(t float64) Vec3 {
	n := f.Frame.Dir(Polar(1, t).V3(0))
	if f.Inward {
		return n.Mul(-1)
	}
	return n
}

// rim returns the cylinder's boundary arc as an edge in the frame's xy.
func (f Face) rim() Edge { return ArcEdge(Vec2{}, f.R, f.Start, f.Sweep) }

// Support returns the largest d·p over the points p of the face: exact, arcs
// included.
func (f Face) Support(d Vec3) float64 {
	x, y := d.Dot(f.Frame.X), d.Dot(f.Frame.Y)
	o := d.Dot(f.Frame.O)
	if f.Planar() {
		m := math.Inf(-1)
		for _, e := range f.Profile.Outer.Edges() {
			m = max(m, e.support(Vec2{x, y}))
		}
		return o + m
	}
	z := d.Dot(f.Frame.Z)
	e := f.rim()
	return o + max(
		z*f.Z0+e.support(Vec2{x, y}.Add(f.Slope0.Mul(z))),
		z*f.Z1+e.support(Vec2{x, y}.Add(f.Slope1.Mul(z))))
}

// Bounds returns the exact box of the face.
func (f Face) Bounds() Box3 {
	s := func(x, y, z float64) float64 { return f.Support(Vec3{x, y, z}) }
	return Box3{
		Vec3{-s(-1, 0, 0), -s(0, -1, 0), -s(0, 0, -1)},
		Vec3{s(1, 0, 0), s(0, 1, 0), s(0, 0, 1)},
	}
}
