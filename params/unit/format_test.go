package unit

import (
	"math"
	"math/rand"
	"testing"
)

func TestFormat(t *testing.T) {
	inch := func(den int) Style { return Style{Unit: Inch, Denominator: den} }
	tests := []struct {
		mm    float64
		style Style
		want  string
	}{
		{12.7, Style{Unit: Millimetre, Decimals: 2}, "12.7 mm"},
		{12.7, Style{Unit: Millimetre}, "13 mm"},
		{12.7, Style{}, "13 mm"},
		{2.675, Style{Decimals: 2}, "2.68 mm"},
		{-2.675, Style{Decimals: 2}, "-2.68 mm"},
		{9.995, Style{Decimals: 2}, "10 mm"},
		{-0.001, Style{Decimals: 2}, "0 mm"},
		{1e-9, Style{Decimals: 99}, "0 mm"},
		{200, Style{Decimals: -4}, "200 mm"},
		{math.Copysign(0, -1), Style{Decimals: 1}, "0 mm"},
		{223.8375, inch(16), "8 13/16 in (8.8125)"},
		{223.8375, inch(8), "8 7/8 in (8.8125)"},
		{-223.8375, inch(16), "-8 13/16 in (-8.8125)"},
		{12.7, inch(64), "1/2 in (0.5)"},
		{25.4, inch(16), "1 in"},
		{25.4 * 31.0 / 32, inch(16), "1 in (0.9688)"}, // 31/32 is halfway: carry
		{25.4 * 15.6 / 16, inch(16), "1 in (0.975)"},  // 15.6/16: carry
		{0.79375, inch(16), "1/16 in (0.0313)"},       // 1/32 in, halfway: away from zero
		{-0.79375, inch(16), "-1/16 in (-0.0313)"},
		{0.7, inch(16), "0 in (0.0276)"},
		{-0.7, inch(16), "0 in (-0.0276)"},
		{0, inch(16), "0 in"},
		{200, inch(0), "7 7/8 in (7.874)"},
		{200, inch(1), "8 in (7.874)"},
		{200, inch(1 << 30), "7 895/1024 in (7.874)"},
		{25.4 / 3, inch(3), "1/3 in (0.3333)"},
		{math.NaN(), inch(16), "NaN mm"},
		{math.Inf(-1), inch(16), "Inf mm"},
	}
	for _, tt := range tests {
		if got := Length(tt.mm).Format(tt.style); got != tt.want {
			t.Errorf("Length(%v).Format(%+v) = %q, want %q", tt.mm, tt.style, got, tt.want)
		}
	}
	if got := Length(223.8375).Short(inch(16)); got != "8 13/16 in" {
		t.Errorf("short %q", got)
	}
	if got := Length(200).RoundFraction(16); got != 200.025 {
		t.Errorf("rounded %v, want 7 7/8 in = 200.025 mm", float64(got))
	}
}

// A length written as a fraction and read again is the nearest multiple of the
// fraction; a multiple of it comes back unchanged to the last digit.
func TestFractionRoundTrip(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 3000 {
		den := 1 << r.Intn(8)
		l := Length((r.Float64() - 0.3) * 2000)
		back, err := ParseLength(l.Fraction(den), Inch)
		if err != nil || math.Abs(float64(back-l)) > 25.4/float64(den)/2*(1+1e-12) {
			t.Fatalf("%v in 1/%d: %q reads as %v, %v", l, den, l.Fraction(den), back, err)
		}
		again, err := ParseLength(back.Format(Style{Unit: Inch, Denominator: den})[:len(back.Fraction(den))], Inch)
		if err != nil || again != back {
			t.Fatalf("%v comes back as %v, %v", back, again, err)
		}
	}
}

func TestDecimalRoundTrip(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for range 3000 {
		dec := r.Intn(7)
		l := Length((r.Float64() - 0.3) * 2000)
		back, err := ParseLength(l.Format(Style{Decimals: dec}), Inch)
		if err != nil || math.Abs(float64(back-l)) > 0.5*math.Pow(10, -float64(dec))+1e-9 {
			t.Fatalf("%v with %d decimals reads as %v, %v", l, dec, back, err)
		}
		if back.Decimal(dec) != l.Decimal(dec) {
			t.Fatalf("%v: %s then %s", l, l.Decimal(dec), back.Decimal(dec))
		}
	}
}

func TestAccessors(t *testing.T) {
	if got := Length(12.7).Inches(); got != 0.5 {
		t.Errorf("inches %v", got)
	}
	if got := Pressure(0.08).KPa(); got != 80 {
		t.Errorf("kPa %v", got)
	}
}

// A fraction stands only where it is as good as the length: 2 mm is 0.0787 in, and
// no 3/32 (2.38 mm); small lengths keep a hundredth of themselves.
func TestShortKeepsTheLength(t *testing.T) {
	s := Style{Unit: Inch, Decimals: 2, Denominator: 32}
	for mm, want := range map[Length]string{
		3.175: "1/8 in", 12.7: "1/2 in", 223.8375: "8 13/16 in", 2: "0.079 in", 3: "0.118 in", 0.15: "0.0059 in", 50.05: "1 31/32 in", 0: "0 in",
	} {
		if got := mm.Short(s); got != want {
			t.Errorf("%g mm: %q, want %q", float64(mm), got, want)
		}
	}
	for l, holds := range map[Length]bool{0: true, 3.175: true, 3.2: true, 3.21: false, 50.89: true, 50.91: false, -3.2: true, -3.21: false} {
		if l.FractionHolds(8) != holds {
			t.Errorf("%g mm in eighths: %v", float64(l), !holds)
		}
	}
	if got := Length(2).Short(Style{Decimals: 2}); got != "2 mm" {
		t.Error(got)
	}
}

func TestJoin(t *testing.T) {
	for want, got := range map[string]string{
		"50, 150 mm":   Style{Decimals: 2}.Join(", ", 50, 150),
		"2 x 5 7/8 in": Style{Unit: Inch, Denominator: 32}.Join(" x ", 50.8, 149.225),
		"":             Style{}.Join(", "),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
