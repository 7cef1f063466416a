package stackup

import (
	"fmt"
	"math"

	"clampwright/params"
)

// measureMM is how far a stack measured with a steel rule may be off, mm: common
// practice, no source.
const measureMM = 0.5

// term is one kind of piece in the chain along the rod, each off by at most limit,
// mm, on its own.
type term struct {
	name, param string
	pieces      int
	limit       float64
}

// length asks whether the rod, pushed so that both ends stand out alike, still
// shows the thread wanted outside the last nut. What stands out at one end is
//
//	(rod - chain) / 2, chain = stack + plates + liners + all that is fixed
//
// The stack is cells and separators, or one reading where it was measured. A rod
// sees the row of cells beside it, so that a second row adds nothing. off is by how
// much the chain is longer than nominal in samples.
func length(f *params.Fixture, off []float64) Outcome {
	terms := lengthTerms(f)
	o := Outcome{
		ID: idLength, Asked: "does the rod stand out of both last nuts as wanted", Unit: "mm", Nominal: protrusion(f),
		Need: f.Rods.Protrusion.MM(), Measured: f.Pack.Measured,
	}
	worst := 0.0
	var variance []float64
	for _, t := range terms {
		all := float64(t.pieces) * t.limit
		worst += all / 2
		o.Parts = append(o.Parts, Part{Name: t.name, Param: t.param, Pieces: t.pieces, EachMM: t.limit, Plus: all / 2})
		variance = append(variance, all*t.limit)
	}
	o.Worst = Span{o.Nominal - worst, o.Nominal + worst}
	out := make([]float64, len(off))
	for k, v := range off {
		out[k] = o.Nominal - v/2
	}
	o.Holds, o.Good, o.Likely = o.Worst.Least >= o.Need-rounding, share(out, o.Need), likely(out)
	o.finish(variance)
	return o
}

// lengthTerms are the terms of the chain that this fixture has and that vary: the
// pieces, the reading of a stack that was measured with them in it, and the saw.
func lengthTerms(f *params.Fixture) (out []term) {
	if f.Pack.Measured {
		out = append(out, term{"stack as measured", "pack.stack", 1, measureMM})
	}
	for _, l := range f.Chain().All().Runs() {
		if l.Tol > 0 {
			out = append(out, term{l.Kind.String() + " thickness", l.Param, l.Pieces, l.Tol.MM()})
		}
	}
	if saw := f.Tolerances.CutLength; saw > 0 {
		out = append(out, term{"sawing error", "tolerances.cut_error", 1, saw.MM()})
	}
	return out
}

// protrusion is the thread outside the last nuts with everything nominal, the
// same at both ends.
func protrusion(f *params.Fixture) float64 {
	return (f.Rods.Length - f.Chain().All().Thick(params.LayerCell, params.LayerJamNut)).MM() / 2
}

func lengthAnswer(o Outcome, mm Words) string {
	var said string
	switch {
	case o.Holds:
		said = fmt.Sprintf("yes: %s stand out at worst, %s are wanted", mm(o.Worst.Least), mm(o.Need))
	case o.Worst.Least >= 0:
		said = fmt.Sprintf("nearly: %s stand out at worst where %s are wanted; the nuts are still full (%.1f %% of fixtures hold)", mm(o.Worst.Least), mm(o.Need), 100*o.Good)
	default:
		said = fmt.Sprintf("no: at worst the rod ends %s inside the nut (%.1f %% of fixtures hold)", mm(math.Abs(o.Worst.Least)), 100*o.Good)
	}
	if o.Measured {
		said += fmt.Sprintf("; the stack is measured, so its reading counts, %s either way, and not the cells' own tolerances", mm(measureMM))
	}
	return said
}
