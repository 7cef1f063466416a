package stackup

import (
	"fmt"
	"math"
	"math/rand/v2"

	"clampwright/params"
	"clampwright/params/unit"
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
// sees the row of cells beside it, so that a second row adds nothing.
func length(f *params.Fixture, r *rand.Rand) Outcome {
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
	out := make([]float64, Samples)
	good := 0
	for k := range out {
		sum := 0.0
		for _, t := range terms {
			for range t.pieces {
				sum += t.limit * even(r)
			}
		}
		out[k] = o.Nominal + sum/2
		if out[k] >= o.Need-rounding {
			good++
		}
	}
	o.Likely = likely(out)
	o.Holds, o.Good = o.Worst.Least >= o.Need-rounding, float64(good)/Samples
	o.finish(variance)
	return o
}

// lengthTerms are the terms of the chain that this fixture has and that vary.
func lengthTerms(f *params.Fixture) []term {
	plates := term{"plate thickness", "plates.thickness", 2, f.Tolerances.Sheet(f.Plate.Thickness).MM()}
	saw := term{"sawing error", "tolerances.cut_error", 1, f.Tolerances.CutLength.MM()}
	all := append(stackTerms(f), plates)
	if f.Liner != nil {
		all = append(all, term{"liner thickness", "liners.thickness", 2, f.Tolerances.Sheet(f.Liner.Thickness).MM()})
	}
	var out []term
	for _, t := range append(all, saw) {
		if t.pieces > 0 && t.limit > 0 {
			out = append(out, t)
		}
	}
	return out
}

// stackTerms are the cells and the separators between them, or the reading of a
// stack that was measured with both in it.
func stackTerms(f *params.Fixture) []term {
	if f.Pack.Measured {
		return []term{{"stack as measured", "pack.stack", 1, measureMM}}
	}
	out := []term{{"cell thickness", "cell.thickness_tolerance", f.Pack.PerRow, f.Cell.ThicknessTol.MM()}}
	if f.Separator != nil {
		out = append(out, term{"separator thickness", "separators.thickness", f.Pack.PerRow - 1, f.Tolerances.Sheet(f.Separator.Thickness).MM()})
	}
	return out
}

// protrusion is the thread outside the last nuts with everything nominal, the
// same at both ends.
func protrusion(f *params.Fixture) float64 {
	ends := 2 * (f.Washer.Thickness + f.Nut.Height)
	if f.JamNut != nil {
		ends += 2 * f.JamNut.Height
	}
	if s := f.Spring; s != nil {
		stacks := unit.Length(1)
		if s.BothEnds {
			stacks = 2
		}
		ends += stacks * (s.SetHeight + f.Washer.Thickness)
	}
	return (f.Rods.Length - f.ClampedLength() - ends).MM() / 2
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
