package drawing

import (
	"math"
	"sort"

	"clampwright/parts/geom"
)

// Hatch fills a region with parallel section lines at the given angle, radians,
// and pitch, mm, by the even-odd rule over all rings. Curved edges are taken as
// chords within 0.02 mm. A pitch that is not positive gives nothing.
func Hatch(rings []geom.Path, pitch, angle float64) []Item {
	if !(pitch > 0) {
		return nil
	}
	s, c := math.Sincos(-angle)
	var polys [][]geom.Vec2
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range rings {
		poly := r.Flatten(0.02)
		for i, p := range poly {
			poly[i] = pt(p.X*c-p.Y*s, p.X*s+p.Y*c)
			lo, hi = math.Min(lo, poly[i].Y), math.Max(hi, poly[i].Y)
		}
		polys = append(polys, poly)
	}
	if math.IsInf(lo, 0) || (hi-lo)/pitch > maxHatchLines {
		return nil
	}
	var out []Item
	for k := math.Ceil(lo/pitch + 1e-9); k*pitch < hi; k++ {
		xs := crossings(polys, k*pitch)
		for i := 0; i+1 < len(xs); i += 2 {
			if xs[i+1]-xs[i] < 0.05 {
				continue
			}
			turn := func(x float64) geom.Vec2 { return pt(x*c+k*pitch*s, -x*s+k*pitch*c) }
			out = append(out, Line{turn(xs[i]), turn(xs[i+1]), Hatching})
		}
	}
	return out
}

const maxHatchLines = 5000 // a hatch denser than this is a mistake of the caller

func crossings(polys [][]geom.Vec2, y float64) []float64 {
	var xs []float64
	for _, p := range polys {
		for i := range p {
			a, b := p[i], p[(i+1)%len(p)]
			if (a.Y <= y) != (b.Y <= y) {
				xs = append(xs, a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			}
		}
	}
	sort.Float64s(xs)
	return xs
}

// arcPoints are the chord corners of an arc, its end left out.
func arcPoints(a Arc, tol float64) []geom.Vec2 {
	n := 1
	if a.R > tol {
		n = int(math.Ceil(math.Abs(a.Sweep) / (2 * math.Acos(1-tol/a.R))))
	}
	n = min(max(n, 1), 2000)
	out := make([]geom.Vec2, n)
	for i := range out {
		out[i] = polar(a.C, a.R, a.Start+a.Sweep*float64(i)/float64(n))
	}
	return out
}
