package clamp

import (
	"fmt"
	"math"
)

// Validate returns an *InputError naming the first thing that a settled fixture can
// still have wrong, or nil: what the parameter file's own limits hold is not asked again.
// All entry points call it.
func Validate(in Input) error {
	plate := Rect{0, 0, in.Plate.WidthMM, in.Plate.HeightMM}
	for i, r := range in.Rows {
		if covered := r.Face.overlap(plate) / r.Face.area(); covered < 0.5 { // an offcut may be a little smaller than the cells
			return &InputError{Field: fmt.Sprintf("rows[%d].face", i), Value: covered, Reason: "less than half of the face is covered by the plate"}
		}
	}
	if err := centred(in); err != nil || in.Bench == nil {
		return err
	}
	return in.Bench.valid(in.Rods[0])
}

// centred asks that the rods' resultant lies within the faces' outline; outside
// it no pressure can balance it.
func centred(in Input) error {
	var x, y, sum float64
	for _, r := range in.Rods {
		share := orElse(r.Share, 1)
		x, y, sum = x+r.XMM*share, y+r.YMM*share, sum+share
	}
	out := Rect{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, r := range in.Rows {
		for _, q := range r.pressing() {
			out = Rect{math.Min(out.X0, q.X0), math.Min(out.Y0, q.Y0), math.Max(out.X1, q.X1), math.Max(out.Y1, q.Y1)}
		}
	}
	switch x, y = x/sum, y/sum; {
	case !(x > out.X0 && x < out.X1):
		return &InputError{Field: "rods[0].x_mm", Value: x, Reason: "the rods pull beside the cells: the plate tips"}
	case !(y > out.Y0 && y < out.Y1):
		return &InputError{Field: "rods[0].y_mm", Value: y, Reason: "the rods pull above or below the cells: the plate tips"}
	}
	return nil
}

// valid asks that the readings can be of rods like r.
func (b *Bench) valid(r Rod) error {
	c := newRodCurve(r)
	free := c.spring.FreeHeight()
	switch {
	case b.TightMM >= b.SnugMM:
		return &InputError{Field: "bench.tight_mm", Value: b.TightMM, Reason: "must be less than the length at snug"}
	case b.Turns <= 0 && b.SpringMM <= 0:
		return &InputError{Field: "bench.turns", Value: b.Turns, Reason: "give the turns past snug or the spring height"}
	case b.SpringMM > 0 && c.spring.Kind == SpringNone:
		return &InputError{Field: "bench.spring_mm", Value: b.SpringMM, Reason: "no spring is fitted"}
	case b.SpringMM > free, b.SpringMM > 0 && b.SpringMM < free-float64(c.spring.Series)*c.spring.travel():
		return &InputError{Field: "bench.spring_mm", Value: b.SpringMM, Reason: fmt.Sprintf("must be from %.2f to %.2f", free-float64(c.spring.Series)*c.spring.travel(), free)}
	}
	return nil
}
