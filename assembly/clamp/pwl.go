package clamp

import "sort"

// pwl is a rising piecewise-linear curve p(s) through (0,0), zero for s <= 0 and
// going on at its last slope: a through-thickness curve that cannot pull.
type pwl struct {
	s, p []float64 // s[0] = p[0] = 0, both strictly rising
}

// linear returns the curve p = k s.
func linear(k float64) pwl { return pwl{s: []float64{0, 1}, p: []float64{0, k}} }

// newPWL makes a curve of table points, which may leave out the origin. The
// points have been validated.
func newPWL(points []SqueezePoint) pwl {
	c := pwl{s: []float64{0}, p: []float64{0}}
	for _, q := range points {
		if q.SqueezeMM > 0 {
			c.s, c.p = append(c.s, q.SqueezeMM), append(c.p, q.PressureMPa)
		}
	}
	return c
}

// at returns pressure and slope at shortening s.
func (c pwl) at(s float64) (p, slope float64) {
	if s <= 0 {
		return 0, 0
	}
	i := 1
	if n := len(c.s); n > 2 {
		i = min(max(sort.SearchFloat64s(c.s, s), 1), n-1)
	}
	slope = (c.p[i] - c.p[i-1]) / (c.s[i] - c.s[i-1])
	return c.p[i-1] + slope*(s-c.s[i-1]), slope
}

// squeeze is the inverse: the shortening at pressure p >= 0.
func (c pwl) squeeze(p float64) float64 {
	n := len(c.p)
	i := min(max(sort.SearchFloat64s(c.p, p), 1), n-1)
	return c.s[i-1] + (p-c.p[i-1])*(c.s[i]-c.s[i-1])/(c.p[i]-c.p[i-1])
}

// scalePressure returns the curve with all pressures times f > 0.
func (c pwl) scalePressure(f float64) pwl {
	q := make([]float64, len(c.p))
	for i, v := range c.p {
		q[i] = v * f
	}
	return pwl{s: c.s, p: q}
}

// series returns the curve of count[i] pieces of curve[i] one behind the other:
// equal pressure, shortenings add. It is exact, with a point at every point of
// every member.
func series(curves []pwl, counts []float64) pwl {
	var ps []float64
	for _, c := range curves {
		ps = append(ps, c.p...)
	}
	sort.Float64s(ps)
	out := pwl{s: []float64{0}, p: []float64{0}}
	for _, p := range ps {
		last := len(out.p) - 1
		if p <= out.p[last]*(1+1e-12) {
			continue
		}
		s := 0.0
		for i, c := range curves {
			s += counts[i] * c.squeeze(p)
		}
		out.s, out.p = append(out.s, s), append(out.p, p)
	}
	return out
}

// table interpolates linearly in rising xs, holding the end values outside.
func table(xs, ys []float64, x float64) float64 {
	n := len(xs)
	switch {
	case n == 0:
		return 0
	case x <= xs[0]:
		return ys[0]
	case x >= xs[n-1]:
		return ys[n-1]
	}
	i := sort.SearchFloat64s(xs, x)
	t := (x - xs[i-1]) / (xs[i] - xs[i-1])
	return ys[i-1] + t*(ys[i]-ys[i-1])
}
