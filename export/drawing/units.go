package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/unit"
)

// Units writes lengths the way the user reads them. All functions take mm and
// must be deterministic.
type Units struct {
	// Name of the unit for the title block: "mm", "inches".
	Name string
	// Dim is a length on a dimension line, without unit.
	Dim func(mm float64) string
	// Coord is a coordinate in a table, without unit.
	Coord func(mm float64) string
	// Words is a length with its unit, as in a sentence.
	Words func(mm float64) string
	// Mass is grams with a unit.
	Mass func(g float64) string
}

// Millimetres writes plain millimetres with at most the given decimals.
func Millimetres(decimals int) Units {
	short := func(mm float64) string { return number.Trim(mm, decimals) }
	return Units{
		Name:  "mm",
		Dim:   short,
		Coord: func(mm float64) string { return number.Fixed(mm, decimals) },
		Words: func(mm float64) string { return short(mm) + " mm" },
		Mass:  params.Style{}.Mass,
	}
}

// Inches writes inches: a fraction with the given denominator where it is
// exact to 0.0005 in, otherwise three decimals; tables always carry decimals.
func Inches(denominator int) Units {
	if denominator < 1 {
		denominator = 16
	}
	short := func(mm float64) string {
		if s, ok := fraction(mm/unit.MMPerInch, denominator); ok {
			return s
		}
		return number.Trim(mm/unit.MMPerInch, 3)
	}
	return Units{
		Name: "inches",
		Dim:  short,
		Coord: func(mm float64) string {
			return strings.Replace(params.Style{Unit: unit.Inch}.Place(mm), " in", "", 1)
		},
		Mass:  params.Style{Unit: unit.Inch}.Mass,
		Words: params.Style{Unit: unit.Inch, Denominator: denominator}.Exact,
	}
}

const fractionTolerance = 0.0005 // in

// fraction writes v as a whole number and a reduced fraction, and says whether
// that is exact.
func fraction(v float64, den int) (string, bool) {
	sign := ""
	if v < 0 {
		sign, v = "-", -v
	}
	n := int(math.Round(v * float64(den)))
	if math.Abs(v-float64(n)/float64(den)) > fractionTolerance {
		return "", false
	}
	whole, num := n/den, n%den
	if num == 0 {
		return sign + strconv.Itoa(whole), true
	}
	g := gcd(num, den)
	frac := fmt.Sprintf("%d/%d", num/g, den/g)
	if whole == 0 {
		return sign + frac, true
	}
	return fmt.Sprintf("%s%d %s", sign, whole, frac), true
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// orDefault fills in what a caller left open.
func (u Units) orDefault() Units {
	d := Millimetres(2)
	if u.Name == "" {
		u.Name = d.Name
	}
	if u.Dim == nil {
		u.Dim = d.Dim
	}
	if u.Coord == nil {
		u.Coord = d.Coord
	}
	if u.Words == nil {
		u.Words = d.Words
	}
	if u.Mass == nil {
		u.Mass = d.Mass
	}
	return u
}
