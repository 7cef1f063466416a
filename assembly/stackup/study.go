package stackup

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"clampwright/params"
)

// Samples is how many fixtures are drawn.
const Samples = 4000

// thicknessShare is the tolerance of a sheet's thickness as a share of it:
// plywood, plastic and rolled sheet lie within about this (common practice, no
// source).
const thicknessShare = 0.03

// Turns is how the force is set by turning the nuts, from the clamp mechanics.
type Turns struct {
	TargetN float64 // all rods together
	SnugN   float64 // all rods together, finger tight
	Turns   float64 // of one nut per rod, snug to target
	// BandN is the force that the same turns give on the softest and the stiffest
	// cells thought possible; both zero when not known.
	BandN [2]float64
}

// Span is a least and a greatest value.
type Span struct {
	Least    float64 `json:"least"`
	Greatest float64 `json:"greatest"`
}

// Part is what one tolerance contributes to an outcome.
type Part struct {
	Name  string  `json:"name"`
	Param string  `json:"parameter"`
	Plus  float64 `json:"worst"` // at its limit alone, in the outcome's unit
	Share float64 `json:"share"` // of the variance; the shares add up to 1
}

// Outcome is one question with its answer.
type Outcome struct {
	ID      string  `json:"id"`
	Asked   string  `json:"asked"`
	Unit    string  `json:"unit"`
	Nominal float64 `json:"nominal"`
	Worst   Span    `json:"worst_case"`
	Likely  Span    `json:"likely"` // 95 of 100 samples lie between
	Need    float64 `json:"needed"` // least value wanted; greatest for the force's spread
	Holds   bool    `json:"holds_in_the_worst_case"`
	Good    float64 `json:"share_of_samples_that_hold"`
	Parts   []Part  `json:"contributions"`
	Matters string  `json:"matters_most"`
	Answer  string  `json:"answer"`
}

// Result is the whole stack-up.
type Result struct {
	Seed     int64     `json:"seed"`
	Samples  int       `json:"samples"`
	Outcomes []Outcome `json:"outcomes"`
	Matters  string    `json:"matters_most"`
}

// Study works the stack-up of a settled fixture out. t may be the zero value when
// the force is not set by turns; the force is then left out.
func Study(f *params.Fixture, t Turns) Result {
	r := Result{Seed: f.Tolerances.Seed, Samples: Samples}
	r.Outcomes = append(r.Outcomes, passing(f, source(f, 1)), length(f, source(f, 2)))
	if t.Turns > 0 && t.TargetN > 0 {
		r.Outcomes = append(r.Outcomes, force(f, t, source(f, 3)))
	}
	r.Matters = r.verdict()
	return r
}

// source is the stream of random numbers of one outcome.
func source(f *params.Fixture, stream uint64) *rand.Rand {
	return rand.New(rand.NewPCG(uint64(f.Tolerances.Seed), stream))
}

// even is a number even over -1 to 1.
func even(r *rand.Rand) float64 { return 2*r.Float64() - 1 }

// likely sorts the samples and cuts 2.5 of 100 off at both ends.
func likely(samples []float64) Span {
	slices.Sort(samples)
	n := len(samples)
	return Span{samples[n/40], samples[n-1-n/40]}
}

// finish fills shares and the greatest contribution. variance is per part.
func (o *Outcome) finish(variance []float64) {
	sum := 0.0
	for _, v := range variance {
		sum += v
	}
	best := -1
	for k := range o.Parts {
		if sum > 0 {
			o.Parts[k].Share = variance[k] / sum
		}
		if variance[k] > 0 && (best < 0 || variance[k] > variance[best]) {
			best = k
		}
	}
	o.Matters = "none"
	if best >= 0 {
		o.Matters = o.Parts[best].Name
	}
}

// verdict says which tolerance matters most over all: the one that decides the
// outcome with least to spare.
func (r *Result) verdict() string {
	worst, at := math.Inf(1), -1
	for k, o := range r.Outcomes {
		left := spare(o)
		if left < worst {
			worst, at = left, k
		}
	}
	if at < 0 {
		return ""
	}
	o := r.Outcomes[at]
	return fmt.Sprintf("%s matters most: it decides %s, the question with least to spare", o.Matters, o.ID)
}

// spare is how much of an outcome's need is left in the worst case, relative to
// what the tolerances take.
func spare(o Outcome) float64 {
	left, taken := o.Worst.Least-o.Need, o.Nominal-o.Worst.Least
	if o.ID == idForce {
		left, taken = o.Need-o.Worst.Greatest, o.Worst.Greatest
	}
	if taken <= 0 {
		return math.Inf(1)
	}
	return left / taken
}
