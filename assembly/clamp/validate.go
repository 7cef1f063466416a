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
			return &InputError{Field: fmt.Sprintf("rows[%d].face", i), Value: 100 * covered, Lo: 50, Hi: 100, Reason: "the plate covers too little of the face"}
		}
	}
	return centred(in)
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
		return &InputError{Field: "rods[0].x_mm", Value: max(out.X0-x, x-out.X1), Lo: math.Inf(-1), Reason: "the middle of the rods is beside the cells: the plate tips"}
	case !(y > out.Y0 && y < out.Y1):
		return &InputError{Field: "rods[0].y_mm", Value: max(out.Y0-y, y-out.Y1), Lo: math.Inf(-1), Reason: "the middle of the rods is above or below the cells: the plate tips"}
	}
	return nil
}
