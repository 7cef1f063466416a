package stackup

import (
	"fmt"

	"clampwright/params"
)

// passing asks whether every rod passes all its holes: both plates and, where
// fitted, both angles. The rod stays straight along the stack, so it passes when
// its axis lies within the play (D-d)/2 of every hole's middle: when the smallest
// circle round the middles has a radius within it. At worst two holes of a rod
// are off by their error in opposite ways; that circle's radius is the error. apart is
// that radius in samples, for an error of 1 mm.
func passing(f *params.Fixture, apart []float64) Outcome {
	e := f.Tolerances.HolePosition.MM()
	play, holes := holePlay(f), rodHoles(f)
	o := Outcome{ID: idHoles, Asked: fmt.Sprintf("does every rod pass its %d holes", holes), Unit: "mm", Nominal: play, Worst: Span{play - e, play}}
	left := playLeft(play, e, apart)
	o.Holds, o.Good, o.Likely = play-e >= -rounding, share(left, 0), likely(left)
	if e > 0 {
		o.Parts = []Part{{Name: "drilling error", Param: "tolerances.hole_error", Pieces: holes, EachMM: e, Plus: e}}
	}
	for _, name := range []params.Machine{params.HandTools, params.Router} {
		w := Way{Name: string(name), ErrorMM: params.WayError(name).MM()}
		w.LeftMM = play - w.ErrorMM
		w.Holds, w.Good = w.LeftMM >= -rounding, share(playLeft(play, w.ErrorMM, apart), 0)
		o.Ways = append(o.Ways, w)
	}
	o.finish([]float64{e * e})
	return o
}

// playLeft is the play left at the worst rod in samples, mm, with holes off by up to e;
// below zero that rod does not pass.
func playLeft(play, e float64, apart []float64) []float64 {
	out := make([]float64, len(apart))
	for k, a := range apart {
		out[k] = play - e*a
	}
	return out
}

// Way is one way of drilling and how the holes' question comes out by it.
type Way struct {
	Name    string  `json:"way"`
	ErrorMM float64 `json:"error_mm"` // plus or minus, each hole
	LeftMM  float64 `json:"play_left_mm"`
	Holds   bool    `json:"holds_in_the_worst_case"`
	Good    float64 `json:"share_of_samples_that_hold"`
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
	rounding = 1e-9
)
