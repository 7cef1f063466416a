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
// tolerance, for a person: to a thousandth of an inch with the millimetres beside,
// as no usual fraction is fine enough, or to a hundredth of a millimetre.
func (s Style) Small(mm float64) string {
	text := number.Trim(mm, 2) + " mm"
	if s.Unit != unit.Inch {
		return text
	}
	return unit.Length(mm).DecimalInch(3) + " in (" + text + ")"
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
