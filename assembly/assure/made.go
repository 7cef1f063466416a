package assure

import (
	"math"
	"math/rand/v2"
)

// Draws is how many fixtures are drawn, for the share and for what their making comes to.
const Draws = 1200

// Making is what of a fixture's making is known within limits only.
type Making struct {
	Ties, Holes int // rods, and the holes that each passes
	// Pieces are those in the chain along a rod, each off on its own.
	Pieces []Pieces
}

// Pieces are Count of a kind, each off by at most EachMM, mm.
type Pieces struct {
	Count  int
	EachMM float64
}

// source is one stream of the random numbers that a seed gives.
func source(seed, stream uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, stream)) }

// even is a number even over -1 to 1.
func even(r *rand.Rand) float64 { return 2*r.Float64() - 1 }

// Draw makes fixtures. Of each, apart is the radius of the smallest circle round the
// holes of its worst rod for holes off by 1 mm at most, even over a disc; it grows with
// that error. off is by how much its chain is longer than nominal, mm, every piece even
// over its limits: a cautious choice where nothing is known of a shop.
func (m Making) Draw(seed uint64) (apart, off []float64) {
	r := source(seed, 1)
	for range Draws {
		worst, sum := 0.0, 0.0
		for range m.Ties {
			worst = math.Max(worst, circleRound(drilled(r, m.Holes)))
		}
		for _, p := range m.Pieces {
			for range p.Count {
				sum += p.EachMM * even(r)
			}
		}
		apart, off = append(apart, worst), append(off, sum)
	}
	return apart, off
}

// circleTol is how far outside a circle a point on it may be found, mm.
const circleTol = 1e-9

// point is a place in the plane, mm.
type point struct{ x, y float64 }

// drilled is where n holes come to lie, even over a disc of radius 1 each.
func drilled(r *rand.Rand, n int) []point {
	out := make([]point, n)
	for k := range out {
		sin, cos := math.Sincos(2 * math.Pi * r.Float64())
		d := math.Sqrt(r.Float64())
		out[k] = point{d * cos, d * sin}
	}
	return out
}

// circleRound is the radius of the smallest circle that holds all points: it has
// two of them as ends of a diameter, or three on it.
func circleRound(p []point) float64 {
	best := math.Inf(1)
	try := func(c point, r float64) {
		for _, q := range p {
			if math.Hypot(q.x-c.x, q.y-c.y) > r+circleTol {
				return
			}
		}
		best = math.Min(best, r)
	}
	if len(p) == 1 {
		return 0
	}
	for i := range p {
		for j := range i {
			try(point{(p[i].x + p[j].x) / 2, (p[i].y + p[j].y) / 2}, math.Hypot(p[i].x-p[j].x, p[i].y-p[j].y)/2)
			for k := range j {
				if c, ok := circumcentre(p[i], p[j], p[k]); ok {
					try(c, math.Hypot(p[i].x-c.x, p[i].y-c.y))
				}
			}
		}
	}
	return best
}

// circumcentre is the middle of the circle through three points.
func circumcentre(a, b, c point) (point, bool) {
	bx, by, cx, cy := b.x-a.x, b.y-a.y, c.x-a.x, c.y-a.y
	d := 2 * (bx*cy - by*cx)
	if math.Abs(d) < 1e-15 {
		return point{}, false
	}
	b2, c2 := bx*bx+by*by, cx*cx+cy*cy
	return point{a.x + (cy*b2-by*c2)/d, a.y + (bx*c2-cx*b2)/d}, true
}
