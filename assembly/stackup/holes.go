package stackup

import (
	"fmt"
	"math"
	"math/rand/v2"

	"clampwright/params"
)

// passing asks whether every rod passes all its holes: both plates and, where
// fitted, both angles. The rod stays straight along the stack, so it passes when
// its axis lies within the play (D-d)/2 of every hole's middle: when the smallest
// circle round the middles has a radius within it. At worst two holes of a rod
// are off by their error in opposite ways; that circle's radius is the error.
func passing(f *params.Fixture, r *rand.Rand) Outcome {
	e := f.Tolerances.HolePosition.MM()
	play := (f.Rods.Hole - f.Rods.Thread.Major).MM() / 2
	holes := 2
	if f.Stiffener != nil {
		holes = 4
	}
	rods := len(f.Rods.Columns) * len(f.Rods.Levels)
	o := Outcome{ID: idHoles, Asked: fmt.Sprintf("does every rod pass its %d holes", holes), Unit: "mm", Nominal: play, Worst: Span{play - e, play}}
	left := make([]float64, Samples)
	good := 0
	for k := range left {
		worst := 0.0
		for range rods {
			worst = math.Max(worst, circleRound(drilled(r, holes, e)))
		}
		left[k] = play - worst
		if left[k] >= -rounding {
			good++
		}
	}
	o.Likely = likely(left)
	o.Holds, o.Good = o.Worst.Least >= -rounding, float64(good)/Samples
	o.Parts = []Part{{Name: "drilling error", Param: "tolerances.hole_error", Plus: e}}
	o.finish([]float64{e * e})
	o.Answer = fmt.Sprintf("yes: %.2f mm of play are left when two holes of a rod are off by %.2f mm in opposite ways", o.Worst.Least, e)
	switch {
	case o.Holds && o.Worst.Least < 0.005:
		o.Answer = fmt.Sprintf("yes, just: with two holes of a rod off by %.2f mm in opposite ways no play is left", e)
	case !o.Holds:
		o.Answer = fmt.Sprintf("not always: the play of %.2f mm is less than the drilling error of %.2f mm; %.1f %% of fixtures go together", play, e, 100*o.Good)
	}
	return o
}

const (
	idHoles  = "rod through its holes"
	idLength = "rod length"
	idForce  = "force set by turns"
	rounding = 1e-9
)

// point is a place in the plane, mm.
type point struct{ x, y float64 }

// drilled is where n holes come to lie, even over a disc of radius e each.
func drilled(r *rand.Rand, n int, e float64) []point {
	out := make([]point, n)
	for k := range out {
		sin, cos := math.Sincos(2 * math.Pi * r.Float64())
		d := e * math.Sqrt(r.Float64())
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
			if math.Hypot(q.x-c.x, q.y-c.y) > r+rounding {
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
