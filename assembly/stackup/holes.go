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
	play, holes := holePlay(f), rodHoles(f)
	o := Outcome{ID: idHoles, Asked: fmt.Sprintf("does every rod pass its %d holes", holes), Unit: "mm", Nominal: play, Worst: Span{play - e, play}}
	left := playLeft(f, e, r)
	o.Likely = likely(left)
	o.Holds, o.Good = play-e >= -rounding, shareAbove(left)
	if e > 0 {
		o.Parts = []Part{{Name: "drilling error", Param: "tolerances.hole_error", Pieces: holes, EachMM: e, Plus: e}}
	}
	o.finish([]float64{e * e})
	return o
}

// Way is one way of drilling and how the holes' question comes out by it.
type Way struct {
	Name    string  `json:"way"`
	ErrorMM float64 `json:"error_mm"` // plus or minus, each hole
	LeftMM  float64 `json:"play_left_mm"`
	Holds   bool    `json:"holds_in_the_worst_case"`
	Good    float64 `json:"share_of_samples_that_hold"`
}

// ways asks the question of the holes for each way of drilling.
func ways(f *params.Fixture, r *rand.Rand) []Way {
	var out []Way
	for _, name := range []string{"hand", "router"} {
		w := Way{Name: name, ErrorMM: params.WayError(name).MM()}
		w.LeftMM = holePlay(f) - w.ErrorMM
		w.Holds, w.Good = w.LeftMM >= -rounding, shareAbove(playLeft(f, w.ErrorMM, r))
		out = append(out, w)
	}
	return out
}

// holePlay is how far a rod's axis may lie from the middle of its hole, mm.
func holePlay(f *params.Fixture) float64 { return (f.Rods.Hole - f.Rods.Thread.Major).MM() / 2 }

// rodHoles is how many holes each rod passes.
func rodHoles(f *params.Fixture) int {
	if f.Stiffener != nil {
		return 4
	}
	return 2
}

// playLeft samples the play left at the worst rod of a fixture, mm, with holes
// off by up to e; below zero that rod does not pass.
func playLeft(f *params.Fixture, e float64, r *rand.Rand) []float64 {
	left, ties := make([]float64, Samples), len(f.Ties())
	for k := range left {
		worst := 0.0
		for range ties {
			worst = math.Max(worst, circleRound(drilled(r, rodHoles(f), e)))
		}
		left[k] = holePlay(f) - worst
	}
	return left
}

// shareAbove is the share of samples that are not below zero.
func shareAbove(samples []float64) float64 {
	n := 0
	for _, v := range samples {
		if v >= -rounding {
			n++
		}
	}
	return float64(n) / float64(len(samples))
}

func holesAnswer(o Outcome, mm Words) string {
	e := o.Nominal - o.Worst.Least
	switch {
	case !o.Holds:
		return fmt.Sprintf("not always: the play of %s is less than the drilling error of %s; %.1f %% of fixtures go together", mm(o.Nominal), mm(e), 100*o.Good)
	case o.Worst.Least < 0.005:
		return fmt.Sprintf("yes, just: with two holes of a rod off by %s in opposite ways no play is left", mm(e))
	}
	return fmt.Sprintf("yes: %s of play are left when two holes of a rod are off by %s in opposite ways", mm(o.Worst.Least), mm(e))
}

const (
	idHoles  = "rod-through-its-holes"
	idLength = "rod-length"
	idForce  = "force-set-by-turns"
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
