// Package number writes every number that goes into a file, so that a length
// reads the same in the parts list, the drawing and the report: a fixed count
// of decimals, a point as the decimal sign, no exponent, no thousands sign,
// never a negative zero. Rounding is half away from zero on the shortest
// decimal that names the value, which is what a reader with the longer number
// in hand would do: 2.675 becomes 2.68.
package number

import (
	"fmt"
	"math"
	"strconv"
)

// MaxDecimals is the largest count of decimals written: a float64 of a few
// hundred millimetres carries no more than twelve.
const MaxDecimals = 12

// Quantity is what a number measures; it sets the decimals and whether trailing
// zeros are kept.
type Quantity int

// The kinds of number, with the unit they are written in.
const (
	Coordinate  Quantity = iota // mm in DXF, PDF and SVG: 1 nm, zeros trimmed
	Bulge                       // tangent of a quarter sweep: 1e-12, zeros trimmed
	Exact                       // mm and direction cosines of exact solids: 1e-10, zeros trimmed
	Length                      // mm in lists and reports: 0.001, zeros trimmed
	LengthFixed                 // mm in aligned columns: 0.01, zeros kept
	Force                       // N: 0.1, zeros trimmed
	Pressure                    // kPa: 0.1, zeros trimmed
	Stress                      // MPa: 0.01, zeros trimmed
	Torque                      // N·m: 0.001, zeros trimmed
	Mass                        // g: 0.1, zeros trimmed
	Angle                       // degrees: 0.01, zeros trimmed
	Ratio                       // a fraction of one: 0.0001, zeros trimmed
	Percent                     // 0.1, zeros kept
	Electric                    // V, A, milliohm: 0.0001, zeros trimmed
	Money                       // 0.01, zeros kept
	kinds
)

// rule is how one kind is written.
type rule struct {
	decimals int
	trim     bool
}

// rules has one row per Kind, in the order of the constants.
var rules = [kinds]rule{
	Coordinate:  {6, true},
	Bulge:       {12, true},
	Exact:       {10, true},
	Length:      {3, true},
	LengthFixed: {2, false},
	Force:       {1, true},
	Pressure:    {1, true},
	Stress:      {2, true},
	Torque:      {3, true},
	Mass:        {1, true},
	Angle:       {2, true},
	Ratio:       {4, true},
	Percent:     {1, false},
	Electric:    {4, true},
	Money:       {2, false},
}

// Text writes v as its kind asks. A value that is not finite gives "NaN" or
// "Inf", which no reader of the formats takes for a number: encoders refuse
// such values first, with Check.
func (k Quantity) Text(v float64) string { return string(k.Append(nil, v)) }

// Append writes v to the end of b as its kind asks and returns the longer
// slice. An unknown kind is written as a Coordinate.
func (k Quantity) Append(b []byte, v float64) []byte {
	if k < 0 || k >= kinds {
		k = Coordinate
	}
	return appendDecimal(b, v, rules[k].decimals, rules[k].trim)
}

// Round returns the float64 nearest to the number Text writes.
func (k Quantity) Round(v float64) float64 {
	r, err := strconv.ParseFloat(k.Text(v), 64)
	if err != nil {
		return v
	}
	return r
}

// Of pairs a value with its kind, for encoders that marshal structures.
func (k Quantity) Of(v float64) Value { return Value{v, k} }

// Value is a number that knows how it is written. As JSON it is a plain
// number; a value that is not finite is an error, not a null.
type Value struct {
	V    float64
	Kind Quantity
}

// MarshalJSON implements json.Marshaler.
func (v Value) MarshalJSON() ([]byte, error) {
	if err := Check(v.V); err != nil {
		return nil, err
	}
	return v.Kind.Append(nil, v.V), nil
}

// String implements fmt.Stringer.
func (v Value) String() string { return v.Kind.Text(v.V) }

// Fixed writes v with exactly the given count of decimals (0 to MaxDecimals;
// outside that range the nearer end is taken).
func Fixed(v float64, decimals int) string {
	return string(appendDecimal(nil, v, decimals, false))
}

// Trim writes v with at most the given count of decimals and without trailing
// zeros: Trim(12.50, 3) is "12.5", Trim(3.0, 3) is "3".
func Trim(v float64, decimals int) string {
	return string(appendDecimal(nil, v, decimals, true))
}

// Years is a number of years with its word.
func Years(v float64, decimals int) string {
	if s := Trim(v, decimals); s != "1" {
		return s + " years"
	}
	return "1 year"
}

// Figures writes v to so many figures, whole where it has more before the point, and with
// at most nine decimals.
func Figures(v float64, figures int) string {
	if v == 0 {
		return "0"
	}
	return Trim(v, min(max(figures-1-int(math.Floor(math.Log10(math.Abs(v)))), 0), 9))
}

// Check returns an error that names the first value that is not finite.
func Check(vs ...float64) error {
	for i, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("number %d of %d is not finite (%v)", i+1, len(vs), v)
		}
	}
	return nil
}
