package params

import (
	"math"

	"clampwright/params/unit"
)

// A sheet measures less than it is sold as (birch sold as 18 mm is 17.7 mm), and
// either figure may stand in the file: two thicknesses are of one sheet when they
// differ by no more than sheetShare of it and sheetMost mm. Common practice, no
// source; trade sizes, inches beside millimetres too, are 4 % apart or more, or
// else the same.
const (
	sheetShare = 0.035
	sheetMost  = 0.6
)

// Takes says whether a part of the given material and thickness is cut from the
// sheet.
func (s SheetStock) Takes(material string, thickness unit.Length) bool {
	const rounding = 1e-9 // mm
	off := math.Abs((s.Thickness - thickness).MM())
	return s.Material == material && off <= min(sheetMost, sheetShare*s.Thickness.MM())+rounding
}
