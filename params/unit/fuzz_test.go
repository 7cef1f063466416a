package unit

import (
	"errors"
	"math"
	"testing"
	"unicode/utf8"
)

// checkParse is what holds for every text: a finite value, or a *ParseError
// that points into the text and has something to say.
func checkParse(t *testing.T, text string, v float64, err error) {
	t.Helper()
	if err == nil {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%q accepted as %v", text, v)
		}
		return
	}
	var pe *ParseError
	if !errors.As(err, &pe) {
		t.Fatalf("%q: %T", text, err)
	}
	if pe.Offset < 0 || pe.Offset > utf8.RuneCountInString(text) || pe.Found == "" || pe.Expected == "" {
		t.Fatalf("%q: %#v", text, pe)
	}
	if v != 0 {
		t.Fatalf("%q: %v beside an error", text, v)
	}
}

func FuzzParseLength(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ParseLength(text, Millimetre)
		checkParse(t, text, float64(l), err)
		if err != nil {
			return
		}
		// Written with all decimals kept, it reads as the same length.
		const tiny = 0.5e-6
		back, err := ParseLength(l.Format(Style{Decimals: 6}), Inch)
		if math.Abs(float64(l)) < 1e9 && (err != nil || math.Abs(float64(back-l)) > tiny+1e-15*math.Abs(float64(l))) {
			t.Fatalf("%q is %v, written %q, read %v, %v", text, l, l.Format(Style{Decimals: 6}), back, err)
		}
		// The default unit is that of a number with the unit written out.
		if in, err := ParseLength(text, Inch); err != nil || in != l && math.Abs(float64(in-l*25.4)) > 1e-12*math.Abs(float64(in)) {
			t.Fatalf("%q is %v mm and %v in inches, %v", text, l, in, err)
		}
	})
}

func FuzzParseQuantity(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string) {
		force, err := ParseForce(text)
		checkParse(t, text, float64(force), err)
		pressure, err := ParsePressure(text)
		checkParse(t, text, float64(pressure), err)
		mass, err := ParseMass(text)
		checkParse(t, text, float64(mass), err)
		temperature, err := ParseTemperature(text)
		checkParse(t, text, float64(temperature), err)
		torque, err := ParseTorque(text)
		checkParse(t, text, float64(torque), err)
		n, err := ParseNumber(text)
		checkParse(t, text, n, err)
	})
}

func FuzzFormat(f *testing.F) {
	f.Fuzz(func(t *testing.T, mm float64, denominator, decimals int) {
		l := Length(mm)
		l.Format(Style{Unit: Millimetre, Decimals: decimals})
		text := l.Fraction(denominator)
		if !l.finite() || math.Abs(mm) > 1e9 {
			return
		}
		if _, err := ParseLength(text, Inch); err != nil {
			t.Fatalf("%v is written %q: %v", mm, text, err)
		}
	})
}
