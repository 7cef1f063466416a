package unit

import (
	"fmt"
	"math"
	"math/big"
)

// LengthUnit is the unit of lengths that are written without one, and the unit
// lengths are written in.
type LengthUnit string

// The units a fixture may be kept in.
const (
	Millimetre LengthUnit = "mm"
	Inch       LengthUnit = "in"
)

// ParseLength reads a length such as "12.7 mm", "7/16 in", "8 13/16 in",
// "8-13/16 in", `1/2"`, "1 ft 2 in" or "200", which is taken in def. The value
// is worked out exactly and rounded once, to the nearest float64: 8 13/16 in is
// 223.8375. With an empty or unknown def every length but 0 needs a unit.
// The error is a *ParseError.
func ParseLength(text string, def LengthUnit) (Length, error) {
	v, err := lengths.parse(text, string(def))
	return Length(v), err
}

// ParseForce reads a force such as "2940 N", "300 kgf" or "660 lbf". Every
// force but 0 needs a unit. The error is a *ParseError.
func ParseForce(text string) (Force, error) {
	v, err := forces.parse(text, "")
	return Force(v), err
}

// ParsePressure reads a pressure, stress or modulus such as "80 kPa", "12 psi",
// "0.9 GPa" or "0.8 kgf/cm2". Every pressure but 0 needs a unit. The error is a
// *ParseError.
func ParsePressure(text string) (Pressure, error) {
	v, err := pressures.parse(text, "")
	return Pressure(v), err
}

// ParseMass reads a mass such as "5.42 kg", "850 g" or "12 lb". Every mass but
// 0 needs a unit. The error is a *ParseError.
func ParseMass(text string) (Mass, error) {
	v, err := masses.parse(text, "")
	return Mass(v), err
}

// ParseTemperature reads a temperature such as "20 C", "68 F" or "293.15 K", not
// below absolute zero. Every temperature needs a unit, 0 too. The error is a
// *ParseError.
func ParseTemperature(text string) (Temperature, error) {
	v, err := temperatures.parse(text, "")
	return Temperature(v), err
}

// ParseTorque reads a torque such as "6 N.m", "6 Nm", "53 in-lbf" or
// "4.4 ft-lb". Every torque but 0 needs a unit. The error is a *ParseError.
func ParseTorque(text string) (Torque, error) {
	v, err := torques.parse(text, "")
	return Torque(v), err
}

// ParseNumber reads a plain number without a unit: "0.25", "1/3", "1 1/2" or
// "1.2e-5". The error is a *ParseError.
func ParseNumber(text string) (float64, error) {
	s, err := newScanner(text, "a number, such as 0.25 or 1/2")
	if err != nil {
		return 0, err
	}
	v, err := s.number()
	if err != nil {
		return 0, err
	}
	if word, at := s.word(); !s.done() || len(word) > 0 {
		return 0, s.fail(at, quote(s.text[at:])+" behind a number", "")
	}
	return s.finite(v)
}

// parse reads one quantity into inner units. def names the unit of a bare
// number.
func (k *kind) parse(text, def string) (float64, error) {
	s, err := newScanner(text, k.expected())
	if err != nil {
		return 0, err
	}
	v, m, err := k.term(s, def)
	if err != nil {
		return 0, err
	}
	if !s.done() {
		if err := k.second(s, v, m); err != nil {
			return 0, err
		}
	}
	if k.least != nil && v.Cmp(k.least) < 0 {
		return 0, s.fail(0, "a value below absolute zero", "")
	}
	return s.finite(v)
}

// term reads a number and its unit.
func (k *kind) term(s *scanner, def string) (*big.Rat, measure, error) {
	v, err := s.number()
	if err != nil {
		return nil, measure{}, err
	}
	word, at := s.word()
	name := string(word)
	if name == "" {
		name = def
	}
	m, ok := k.find(name)
	switch {
	case ok:
	case len(word) == 0 && v.Sign() == 0 && k.least == nil:
		m = k.measures[0]
	case len(word) == 0:
		return nil, m, s.fail(at, "a number without a unit", "add one of the units "+k.list())
	case isDigit(word[0]):
		return nil, m, s.fail(at, "a second number", "")
	default:
		return nil, m, s.unknownUnit(k, word, at)
	}
	if m.offset != nil {
		v.Add(v, m.offset)
	}
	return v.Mul(v, m.factor), m, nil
}

func (s *scanner) unknownUnit(k *kind, word []rune, at int) error {
	if other := k.other(string(word)); other != nil {
		return &ParseError{Found: fmt.Sprintf("%s, %s where %s should stand", quote(word), other.what, k.what), Expected: "one of the units " + k.list(), Suggestion: k.hint(string(word)), Offset: s.lead + at}
	}
	return &ParseError{Found: "the unknown unit " + quote(word), Expected: "one of the units " + k.list(), Suggestion: k.suggest(string(word)), Offset: s.lead + at}
}

// second reads the inches of 1 ft 2 in and adds them to v.
func (k *kind) second(s *scanner, v *big.Rat, first measure) error {
	at := s.pos
	if k != lengths || first.names[0] != "ft" {
		return s.fail(at, "a second number", "")
	}
	if isMinus(s.peek()) || s.peek() == '+' {
		return s.fail(at, "a sign between feet and inches", "")
	}
	w, m, err := k.term(s, "")
	if err != nil {
		return err
	}
	if m.names[0] != "in" || !s.done() || w.Cmp(first.factor) >= 0 {
		return s.fail(at, "something other than inches, fewer than twelve, behind feet", "")
	}
	if v.Sign() < 0 {
		w.Neg(w)
	}
	v.Add(v, w)
	return nil
}

// finite rounds once, to the nearest float64.
func (s *scanner) finite(v *big.Rat) (float64, error) {
	f, _ := v.Float64()
	if math.IsInf(f, 0) || math.IsNaN(f) {
		return 0, s.fail(0, "a number too large to hold", "")
	}
	return f, nil
}
