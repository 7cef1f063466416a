package catalog

import "math"

// SectionProps are the properties of an angle's cross-section, exact for
// straight legs with a circular root fillet and circular toes. Leg A lies along
// a, leg B along b, both from the heel (the outside corner) at 0, 0.
type SectionProps struct {
	Area float64 // mm²
	// CentroidA and CentroidB are the distances of the centroid from the outer
	// faces of leg B and leg A: its coordinates from the heel, mm.
	CentroidA, CentroidB float64
	// IA is the second moment for bending that moves the section along leg A
	// (about the centroidal axis parallel to leg B), IB along leg B, mm⁴. A
	// stiffener whose leg A stands off the plate bends with IA.
	IA, IB float64
	// IAB is the product of inertia about the centroid, mm⁴; negative, because
	// the metal lies away from the far corner.
	IAB float64
	// ZA and ZB are the elastic section moduli to the fibre farthest from the
	// centroid along leg A and leg B, mm³.
	ZA, ZB float64
	// IMin and IMax are the principal second moments, mm⁴.
	IMin, IMax float64
}

// Section returns the properties of an angle. The legs are rectangles that
// share the heel; the fillet is added and the toes are taken away as spandrels
// (see spandrel). A section that can't exist (a leg not longer than the
// thickness with its radii, a size that is not finite) has all properties zero.
func Section(s AngleSection) SectionProps {
	a, b, t := s.LegA.MM(), s.LegB.MM(), s.Thickness.MM()
	root, toe := s.Root.MM(), s.Toe.MM()
	if !exists(a, b, t, root, toe) {
		return SectionProps{}
	}
	var m moments
	m.rectangle(0, 0, a, t)
	m.rectangle(0, t, t, b)
	m.spandrel(t, t, 1, 1, root, 1)
	m.spandrel(a, t, -1, -1, toe, -1)
	m.spandrel(t, b, -1, -1, toe, -1)
	return m.about(a, b)
}

// exists reports whether the sizes make a section: positive and finite, the
// fillet and the toe side by side on the inner face of each leg, the toe within
// the thickness.
func exists(a, b, t, root, toe float64) bool {
	least := math.Min(a, b)
	return t > 0 && root >= 0 && toe >= 0 && toe <= t && least-t >= root+toe && least > t && !math.IsInf(a+b, 0)
}

// moments are area and moments about the heel: integrals of 1, x, y, x², y², xy.
type moments struct{ area, x, y, xx, yy, xy float64 }

// rectangle adds the rectangle from (x0, y0) to (x1, y1).
func (m *moments) rectangle(x0, y0, x1, y1 float64) {
	w, h := x1-x0, y1-y0
	cx, cy := (x0+x1)/2, (y0+y1)/2
	m.area += w * h
	m.x += w * h * cx
	m.y += w * h * cy
	m.xx += h * (x1*x1*x1 - x0*x0*x0) / 3
	m.yy += w * (y1*y1*y1 - y0*y0*y0) / 3
	m.xy += w * h * cx * cy
}

// Moments of a spandrel of radius 1 with its corner at the origin: the part of
// the unit square outside the quarter circle about (1, 1). Square less quarter
// disc, worked out by hand:
//
//	area          1 - pi/4
//	first moment  1/2 - (pi/4 - 1/3)             = 5/6 - pi/4
//	second        1/3 - (5 pi/16 - 2/3)          = 1 - 5 pi/16
//	product       1/4 - (pi/4 - 2/3 + 1/8)       = 19/24 - pi/4
const (
	spandrelArea    = 1 - math.Pi/4
	spandrelFirst   = 5.0/6 - math.Pi/4
	spandrelSecond  = 1 - 5*math.Pi/16
	spandrelProduct = 19.0/24 - math.Pi/4
)

// spandrel adds (sign 1) or takes away (sign -1) the spandrel of radius r whose
// corner is at (x0, y0) and which opens to sx, sy.
func (m *moments) spandrel(x0, y0, sx, sy, r, sign float64) {
	area, first := sign*spandrelArea*r*r, sign*spandrelFirst*r*r*r
	second, product := sign*spandrelSecond*r*r*r*r, sign*spandrelProduct*r*r*r*r
	m.area += area
	m.x += area*x0 + sx*first
	m.y += area*y0 + sy*first
	m.xx += area*x0*x0 + 2*x0*sx*first + second
	m.yy += area*y0*y0 + 2*y0*sy*first + second
	m.xy += area*x0*y0 + x0*sy*first + y0*sx*first + sx*sy*product
}

// about moves the moments to the centroid; a and b are the legs.
func (m moments) about(a, b float64) SectionProps {
	x, y := m.x/m.area, m.y/m.area
	p := SectionProps{
		Area: m.area, CentroidA: x, CentroidB: y,
		IA: m.xx - m.area*x*x, IB: m.yy - m.area*y*y, IAB: m.xy - m.area*x*y,
	}
	p.ZA, p.ZB = p.IA/math.Max(x, a-x), p.IB/math.Max(y, b-y)
	mean, half := (p.IA+p.IB)/2, math.Hypot((p.IA-p.IB)/2, p.IAB)
	p.IMin, p.IMax = mean-half, mean+half
	return p
}
