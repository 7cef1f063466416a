package params

import (
	"clampwright/params/number"
	"clampwright/params/unit"
)

// Length writes a length of mm millimetres for a person.
func (s Style) Length(mm float64) string { return unit.Length(mm).Short(s.Lengths()) }

// Exact writes a length for a person with the exact decimal beside a fraction.
func (s Style) Exact(mm float64) string {
	if s.Unit == unit.Inch && !unit.Length(mm).FractionHolds(s.Denominator) {
		return unit.Length(mm).DecimalInch(4) + " in"
	}
	return unit.Length(mm).Format(s.Lengths())
}

// Small writes a length that may be a fraction of a millimetre, such as a
// tolerance, for a person: to a thousandth of an inch, as no usual fraction is fine
// enough, or to a hundredth of a millimetre.
func (s Style) Small(mm float64) string {
	text := number.Trim(mm, 2) + " mm"
	if s.Unit != unit.Inch {
		return text
	}
	return unit.Length(mm).DecimalInch(3) + " in"
}

// Spring writes the height of a spring, read with a calliper.
func (s Style) Spring(mm float64) string {
	if s.Unit == unit.Inch {
		return number.Fixed(mm/unit.MMPerInch, 3) + " in"
	}
	return number.Fixed(mm, 2) + " mm"
}

// Size writes the edges of a part's box, of which those that are zero are left out.
func (s Style) Size(mm [3]float64) string {
	var edges []unit.Length
	for _, v := range mm {
		if v > 0 {
			edges = append(edges, unit.Length(v))
		}
	}
	return s.Lengths().Join(" x ", edges...)
}

// Measure is how a quantity is written: its unit, how many of them one inside is, and the
// decimals that are worth writing.
type Measure struct {
	Unit     string
	factor   float64
	decimals int
}

// Number writes a value without its unit.
func (m Measure) Number(v float64) string { return number.Trim(v*m.factor, m.decimals) }

// Text writes a value with its unit.
func (m Measure) Text(v float64) string { return m.Number(v) + " " + m.Unit }

// Span writes a least and a greatest value, one figure where they read alike.
func (m Measure) Span(lo, hi float64) string {
	if m.Number(lo) == m.Number(hi) {
		return m.Text(lo)
	}
	return m.Number(lo) + " to " + m.Text(hi)
}

// newtonsPerPound is the force of a pound, NIST SP 811.
const newtonsPerPound = 4.4482216152605

// Forces are newtons, or pounds-force.
func (s Style) Forces() Measure {
	if s.Unit == unit.Inch {
		return Measure{"lbf", 1 / newtonsPerPound, 0}
	}
	return Measure{"N", 1, 0}
}

// Pressures are kilopascals, or pounds-force a square inch.
func (s Style) Pressures() Measure {
	if s.Unit == unit.Inch {
		return Measure{"psi", unit.MMPerInch * unit.MMPerInch / newtonsPerPound / 1000, 1}
	}
	return Measure{"kPa", 1, 1}
}

// Torques are newton millimetres written in newton metres, or pound-force inches.
func (s Style) Torques() Measure {
	if s.Unit == unit.Inch {
		return Measure{"lbf\u00b7in", 1 / newtonsPerPound / unit.MMPerInch, 1}
	}
	return Measure{"N\u00b7m", 1. / 1000, 2}
}

// gramsPerPound is the mass of a pound, NIST SP 811.
const gramsPerPound = 453.59237

// Mass writes grams, kilograms from one on, or pounds.
func (s Style) Mass(g float64) string {
	switch {
	case s.Unit == unit.Inch:
		return number.Trim(g/gramsPerPound, 2) + " lb"
	case g >= 1000:
		return number.Trim(g/1000, 2) + " kg"
	}
	return number.Trim(g, 0) + " g"
}
