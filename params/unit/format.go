package unit

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Style is how a length is written for a person.
type Style struct {
	// Unit is Millimetre or Inch; anything else is taken as Millimetre.
	Unit LengthUnit
	// Decimals is the most decimals of millimetres, 0 to 6; zeros at the end
	// are dropped.
	Decimals int
	// Denominator is the finest inch fraction, 1 to 1024; 0 means 16.
	Denominator int
}

// inchDecimals is the count of decimals of the decimal inch beside a fraction:
// 0.0001 in is 2.5 µm, finer than any part here is made, and every 1/16 is
// exact in it.
const inchDecimals = 4

// Format writes the length with its unit: "12.7 mm", or as a fraction of an inch
// rounded to the style's denominator and reduced, with the decimal beside it
// unless the length is a whole count of inches: "8 13/16 in (8.8125)".
// Halves round away from zero, judged on the shortest decimal that names the
// length in millimetres. Lengths that are not finite give "NaN mm" or "Inf mm".
func (l Length) Format(s Style) string {
	if s.Unit != Inch || !l.finite() {
		return l.Decimal(s.Decimals) + " mm"
	}
	frac, dec := l.Fraction(s.Denominator), l.DecimalInch(inchDecimals)
	if frac == dec {
		return frac + " in"
	}
	return frac + " in (" + dec + ")"
}

// Short is Format without the decimal beside an inch fraction; where no fraction
// is as good as the length it is decimals alone.
func (l Length) Short(s Style) string {
	switch {
	case s.Unit != Inch || !l.finite():
		return l.Decimal(s.Decimals) + " mm"
	case l.FractionHolds(s.Denominator):
		return l.Fraction(s.Denominator) + " in"
	}
	decimals := 3 // small lengths as much finer as keeps them within fractionShare
	for decimals < 6 && math.Abs(math.Round(l.MM()/MMPerInch*math.Pow10(decimals))/math.Pow10(decimals)*MMPerInch-l.MM()) > fractionShare*math.Abs(l.MM()) {
		decimals++
	}
	return l.DecimalInch(decimals) + " in"
}

// Join writes lengths with a separator between and the unit once, at the end.
func (s Style) Join(separator string, list ...Length) string {
	words := make([]string, len(list))
	for i, l := range list {
		words[i] = l.Short(s)
		if i+1 < len(list) {
			words[i] = strings.TrimSuffix(strings.TrimSuffix(words[i], " mm"), " in")
		}
	}
	return strings.Join(words, separator)
}

// A fraction of an inch may be written for a length that differs by at most
// fractionMM and fractionShare of it: a bar of 2 mm is no 3/32 in.
const fractionMM, fractionShare = 0.1, 0.01

// MMPerInch is an inch, mm.
const MMPerInch = 25.4

// FractionHolds says whether the nearest fraction is as good as the length.
func (l Length) FractionHolds(denominator int) bool {
	return math.Abs((l.RoundFraction(denominator) - l).MM()) <= min(fractionMM, fractionShare*math.Abs(l.MM()))
}

// Decimal writes the length in millimetres with at most the given decimals (0
// to 6) and without unit: Length(12.7).Decimal(2) is "12.7".
func (l Length) Decimal(decimals int) string {
	if !l.finite() {
		return nonFinite(l)
	}
	return trimmed(l.exact(), min(max(decimals, 0), 6))
}

// DecimalInch writes the length in inches with at most the given decimals (0 to
// 6) and without unit.
func (l Length) DecimalInch(decimals int) string {
	if !l.finite() {
		return nonFinite(l)
	}
	return trimmed(over(l.exact(), inch), min(max(decimals, 0), 6))
}

// Fraction writes the length in inches as a mixed number rounded to the nearest
// 1/denominator (1 to 1024; 0 means 16) and reduced, without unit: "8 13/16",
// "3/4", "-1 1/2", "0".
func (l Length) Fraction(denominator int) string {
	if !l.finite() {
		return nonFinite(l)
	}
	if denominator <= 0 {
		denominator = 16
	}
	d := big.NewInt(int64(min(denominator, 1024)))
	v := over(l.exact(), inch)
	count := roundHalfAway(v.Mul(v, new(big.Rat).SetInt(d)))
	sign := ""
	if count.Sign() < 0 {
		sign = "-"
		count.Neg(count)
	}
	whole, rest := new(big.Int).QuoRem(count, d, new(big.Int))
	part := new(big.Rat).SetFrac(rest, d) // reduced by big.Rat
	switch {
	case part.Sign() == 0:
		return sign + whole.String()
	case whole.Sign() == 0:
		return sign + part.String()
	}
	return fmt.Sprintf("%s%s %s", sign, whole, part)
}

// RoundFraction returns the length rounded as Fraction writes it, so that a
// number computed from it agrees with what the user reads.
func (l Length) RoundFraction(denominator int) Length {
	r, err := ParseLength(l.Fraction(denominator), Inch)
	if err != nil {
		return l
	}
	return r
}

// Inches returns the length in inches.
func (l Length) Inches() float64 { return float64(l) / MMPerInch }

func (l Length) finite() bool { return !math.IsNaN(float64(l)) && !math.IsInf(float64(l), 0) }

func nonFinite(l Length) string {
	if math.IsNaN(float64(l)) {
		return "NaN"
	}
	return "Inf"
}

// exact is the shortest decimal that names the length, as a fraction, in
// millimetres. So 0.79375 is exactly 1/32 in although the float64 is not.
func (l Length) exact() *big.Rat {
	return rat(strconv.FormatFloat(float64(l), 'g', -1, 64))
}

// trimmed writes v with at most the given decimals, halves away from zero.
func trimmed(v *big.Rat, decimals int) string {
	s := v.FloatString(decimals)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// roundHalfAway returns the whole number nearest to v.
func roundHalfAway(v *big.Rat) *big.Int {
	twice := new(big.Int).Lsh(v.Num(), 1)
	if v.Sign() < 0 {
		twice.Sub(twice, v.Denom())
	} else {
		twice.Add(twice, v.Denom())
	}
	return twice.Quo(twice, new(big.Int).Lsh(v.Denom(), 1))
}
