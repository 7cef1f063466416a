package geom

import "math"

// near3 is a pair of closest points in space.
type near3 struct {
	d    float64
	p, q Vec3
}

func far3() near3 { return near3{d: math.Inf(1)} }

func (n *near3) try(p, q Vec3) {
	if d := p.Dist(q); d < n.d {
		*n = near3{d, p, q}
	}
}

// tri is a triangle in space.
type tri [3]Vec3

func (t tri) box() Box3 { return EmptyBox3().Add(t[0]).Add(t[1]).Add(t[2]) }

func (t tri) normal() Vec3 { return t[1].Sub(t[0]).Cross(t[2].Sub(t[0])) }

// triNear tries the closest points of two triangles: those lie on two edges, or
// on a corner and a face, unless an edge pierces the other triangle: not where
// the boxes are known to be apart.
func (n *near3) triNear(a, b tri, apart bool) {
	for i := range a {
		for j := range b {
			p, q := segNear(a[i], a[(i+1)%3], b[j], b[(j+1)%3])
			n.try(p, q)
		}
	}
	for i := range a {
		n.try(a[i], b.nearest(a[i]))
		n.try(a.nearest(b[i]), b[i])
	}
	if n.d > 0 && !apart {
		if x, ok := pierced(a, b, 0); ok {
			*n = near3{0, x, x}
		}
	}
}

// segNear returns the closest points of two segments (Ericson, Real-Time
// Collision Detection, section 5.1.9).
func segNear(p1, q1, p2, q2 Vec3) (Vec3, Vec3) {
	d1, d2, r := q1.Sub(p1), q2.Sub(p2), p1.Sub(p2)
	a, e, f := d1.Dot(d1), d2.Dot(d2), d2.Dot(r)
	c, b := d1.Dot(r), d1.Dot(d2)
	s := 0.0
	if den := a*e - b*b; den > 1e-14*a*e {
		s = clamp01((b*f - c*e) / den)
	}
	t := (b*s + f) / e
	if t < 0 {
		t, s = 0, clamp01(-c/a)
	} else if t > 1 {
		t, s = 1, clamp01((b-c)/a)
	}
	return p1.Add(d1.Mul(s)), p2.Add(d2.Mul(t))
}

func clamp01(x float64) float64 { return max(0, min(1, x)) }

// nearest returns the point of the triangle closest to p (Ericson, section
// 5.1.5).
func (t tri) nearest(p Vec3) Vec3 {
	a, b, c := t[0], t[1], t[2]
	ab, ac, ap := b.Sub(a), c.Sub(a), p.Sub(a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return a
	}
	bp := p.Sub(b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return b
	}
	if vc := d1*d4 - d3*d2; vc <= 0 && d1 >= 0 && d3 <= 0 {
		return a.Add(ab.Mul(d1 / (d1 - d3)))
	}
	cp := p.Sub(c)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return c
	}
	if vb := d5*d2 - d1*d6; vb <= 0 && d2 >= 0 && d6 <= 0 {
		return a.Add(ac.Mul(d2 / (d2 - d6)))
	}
	if va := d3*d6 - d5*d4; va <= 0 && d4 >= d3 && d5 >= d6 {
		return b.Add(c.Sub(b).Mul((d4 - d3) / ((d4 - d3) + (d5 - d6))))
	}
	va, vb, vc := d3*d6-d5*d4, d5*d2-d1*d6, d1*d4-d3*d2
	k := 1 / (va + vb + vc)
	return a.Add(ab.Mul(vb * k)).Add(ac.Mul(vc * k))
}

// pierced returns a point where an edge of one triangle passes through the
// other, its ends more than tol to either side.
func pierced(a, b tri, tol float64) (Vec3, bool) {
	if x, ok := piercedBy(a, b, tol); ok {
		return x, true
	}
	return piercedBy(b, a, tol)
}

func piercedBy(t, by tri, tol float64) (Vec3, bool) {
	n := t.normal().Unit()
	var h [3]float64
	for i, p := range by {
		h[i] = n.Dot(p.Sub(t[0]))
	}
	if min(h[0], h[1], h[2]) > -tol || max(h[0], h[1], h[2]) < tol {
		return Vec3{}, false
	}
	for i := range by {
		j := (i + 1) % 3
		if h[i] < -tol && h[j] > tol || h[i] > tol && h[j] < -tol {
			x := by[i].Lerp(by[j], h[i]/(h[i]-h[j]))
			if t.nearest(x).Dist(x) <= crossing {
				return x, true
			}
		}
	}
	return Vec3{}, false
}
