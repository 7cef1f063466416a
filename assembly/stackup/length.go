package stackup

import (
	"fmt"
	"math"
	"math/rand/v2"

	"clampwright/params"
	"clampwright/params/unit"
)

// length asks whether the rod, pushed so that both ends stand out alike, still
// shows the thread wanted outside the last nut. What stands out at one end is
//
//	(rod - chain) / 2, chain = cells + plates + liners + all that is fixed
//
// A measured stack does not vary any more.
func length(f *params.Fixture, r *rand.Rand) Outcome {
	n := f.Pack.PerRow
	cell := f.Cell.ThicknessTol.MM()
	if f.Pack.Measured {
		cell = 0
	}
	plate := thicknessShare * f.Plate.Thickness.MM()
	liner := 0.0
	if f.Liner != nil {
		liner = thicknessShare * f.Liner.Thickness.MM()
	}
	saw := f.Tolerances.CutLength.MM()
	nominal := protrusion(f)
	worst := (float64(n)*cell + 2*plate + 2*liner + saw) / 2
	o := Outcome{
		ID: idLength, Asked: "does the rod stand out of both last nuts as wanted", Unit: "mm", Nominal: nominal,
		Worst: Span{nominal - worst, nominal + worst}, Need: f.Rods.Protrusion.MM(),
		Parts: []Part{
			{Name: "cell thickness", Param: "cell.thickness_tolerance", Plus: float64(n) * cell / 2},
			{Name: "plate thickness", Param: "plates.thickness", Plus: plate},
			{Name: "liner thickness", Param: "liners.thickness", Plus: liner},
			{Name: "sawing error", Param: "tolerances.cut_error", Plus: saw / 2},
		},
	}
	out := make([]float64, Samples)
	good := 0
	for k := range out {
		sum := saw * even(r)
		for range n {
			sum -= cell * even(r)
		}
		for range 2 {
			sum -= plate*even(r) + liner*even(r)
		}
		out[k] = nominal + sum/2
		if out[k] >= o.Need-rounding {
			good++
		}
	}
	o.Likely = likely(out)
	o.Holds, o.Good = o.Worst.Least >= o.Need-rounding, float64(good)/Samples
	o.finish([]float64{float64(n) * cell * cell, 2 * plate * plate, 2 * liner * liner, saw * saw})
	o.Answer = lengthAnswer(o)
	return o
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

func lengthAnswer(o Outcome) string {
	switch {
	case o.Holds:
		return fmt.Sprintf("yes: %.1f mm stand out at worst, %.1f mm are wanted", o.Worst.Least, o.Need)
	case o.Worst.Least >= 0:
		return fmt.Sprintf("nearly: %.1f mm stand out at worst where %.1f mm are wanted; the nuts are still full (%.1f %% of fixtures hold)", o.Worst.Least, o.Need, 100*o.Good)
	}
	return fmt.Sprintf("no: at worst the rod ends %.1f mm inside the nut (%.1f %% of fixtures hold)", math.Abs(o.Worst.Least), 100*o.Good)
}
