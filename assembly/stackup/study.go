package stackup

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"clampwright/assembly/assure"
	"clampwright/params"
	"clampwright/params/unit"
)

// Span is a least and a greatest value.
type Span struct {
	Least    float64 `json:"least"`
	Greatest float64 `json:"greatest"`
}

// Words writes a length for a person: a number of mm in, its text with the unit
// out.
type Words func(mm float64) string

// Part is what one tolerance contributes to an outcome.
type Part struct {
	Name   string  `json:"name"`
	Param  string  `json:"parameter"`
	Pieces int     `json:"pieces,omitempty"`  // that are off, each on its own
	EachMM float64 `json:"each_mm,omitempty"` // either way, one piece; lengths only
	Plus   float64 `json:"worst"`             // all at the limit, in the outcome's unit
	Share  float64 `json:"share"`             // of the variance; the shares add up to 1
}

// Outcome is one question with its answer. Lengths are mm.
type Outcome struct {
	ID      string  `json:"id"`
	Asked   string  `json:"asked"`
	Unit    string  `json:"unit"`
	Nominal float64 `json:"nominal"`
	Worst   Span    `json:"worst_case"`
	Likely  Span    `json:"likely"` // 95 of 100 samples lie between
	Need    float64 `json:"needed"` // least value wanted
	Holds   bool    `json:"holds_in_the_worst_case"`
	Good    float64 `json:"share_of_samples_that_hold"`
	// Measured says that the stack was measured.
	Measured bool   `json:"stack_measured,omitempty"`
	Parts    []Part `json:"contributions"`
	Ways     []Way  `json:"ways,omitempty"`
	Matters  string `json:"matters_most"` // most of the variance
	Answer   string `json:"answer"`
}

// Said is the answer with lengths as a person wants them.
func (o Outcome) Said(mm Words) string {
	if o.ID == idHoles {
		return holesAnswer(o, mm)
	}
	return lengthAnswer(o, mm)
}

// Result is the whole stack-up.
type Result struct {
	Seed     int64     `json:"seed"`
	Samples  int       `json:"samples"`
	Outcomes []Outcome `json:"outcomes"`
	Matters  string    `json:"matters_most"`
}

// Study works the stack-up of a settled fixture out.
func Study(f *params.Fixture) Result {
	m := assure.Making{Ties: len(f.Ties()), Holes: rodHoles(f)}
	for _, t := range lengthTerms(f) {
		m.Pieces = append(m.Pieces, assure.Pieces{Count: t.pieces, EachMM: t.limit})
	}
	apart, off := m.Draw(uint64(f.Tolerances.Seed))
	r := Result{Seed: f.Tolerances.Seed, Samples: len(off), Outcomes: []Outcome{passing(f, apart), length(f, off)}}
	for k, o := range r.Outcomes {
		r.Outcomes[k].Answer = o.Said(millimetres)
	}
	r.Matters = r.verdict()
	return r
}

// millimetres writes a length to a hundredth of a millimetre.
func millimetres(mm float64) string { return unit.Length(mm).Decimal(2) + " mm" }

// share is the part of the samples that are not below least.
func share(samples []float64, least float64) float64 {
	n := 0
	for _, v := range samples {
		if v >= least-rounding {
			n++
		}
	}
	return float64(n) / float64(len(samples))
}

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

// verdict says which tolerance matters most over all: the one that spreads the
// outcome with least to spare.
func (r *Result) verdict() string {
	worst, at := math.Inf(1), -1
	for k, o := range r.Outcomes {
		if left := spare(o); left < worst {
			worst, at = left, k
		}
	}
	if at < 0 {
		return "no tolerance matters: all are zero"
	}
	o := r.Outcomes[at]
	most, limit := o.greatest(func(p Part) float64 { return p.Share }), o.greatest(func(p Part) float64 { return p.Plus })
	said := fmt.Sprintf("%s matters most: it makes %.0f %% of the spread of the question with least to spare, %s", most.Name, 100*most.Share, o.ID)
	if limit.Name != most.Name {
		said += "; at worst " + limit.Name + " adds more"
	}
	return said
}

// greatest is the contribution for which of is greatest, the first of equals.
func (o Outcome) greatest(of func(Part) float64) Part {
	return slices.MaxFunc(o.Parts, func(a, b Part) int { return cmp.Compare(of(a), of(b)) })
}

// spare is how much of an outcome's need is left in the worst case, relative to
// what the tolerances take.
func spare(o Outcome) float64 {
	taken := o.Nominal - o.Worst.Least
	if taken <= 0 {
		return math.Inf(1)
	}
	return (o.Nominal - o.Need - taken) / taken
}
