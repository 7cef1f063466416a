package unit

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"
)

// The expected millimetres are the definition of the inch, 25.4 mm exactly
// (international yard and pound agreement, 1959).
func TestParseLength(t *testing.T) {
	tests := []struct {
		text string
		def  LengthUnit
		want float64
	}{
		{"12.7 mm", Millimetre, 12.7},
		{"12.7mm", Inch, 12.7},
		{"7/16 in", Millimetre, 11.1125},
		{"8 13/16 in", Millimetre, 223.8375},
		{"8-13/16 in", Millimetre, 223.8375},
		{"8-13/16in", Millimetre, 223.8375},
		{"8 13/16", Inch, 223.8375},
		{`8 13/16"`, Millimetre, 223.8375},
		{"8 13⁄16 in", Millimetre, 223.8375},
		{"-8 13/16 in", Millimetre, -223.8375},
		{"−8 13/16 in", Millimetre, -223.8375},
		{"0.5 in", Millimetre, 12.7},
		{".5 in", Millimetre, 12.7},
		{`1/2"`, Millimetre, 12.7},
		{"½ in", Millimetre, 12.7},
		{"8½ in", Millimetre, 215.9},
		{"8 ½ in", Millimetre, 215.9},
		{"3/4 Inch", Millimetre, 19.05},
		{"3/4 inches", Millimetre, 19.05},
		{"2 in.", Millimetre, 50.8},
		{"200", Millimetre, 200},
		{"200", Inch, 5080},
		{"200", "cm", 2000},
		{"  200  ", Millimetre, 200},
		{"+5 mm", Millimetre, 5},
		{"0", Millimetre, 0},
		{"0", "", 0},
		{"-0 mm", Millimetre, 0},
		{"2.5 cm", Millimetre, 25},
		{"1.2 m", Millimetre, 1200},
		{"1220 millimetres", Inch, 1220},
		{"300 µm", Millimetre, 0.3},
		{"5 thou", Millimetre, 0.127},
		{"1 ft", Millimetre, 304.8},
		{"1 ft 2 in", Millimetre, 355.6},
		{`1' 2 1/2"`, Millimetre, 368.3},
		{`1'2"`, Millimetre, 355.6},
		{"-1 ft 2 in", Millimetre, -355.6},
		{"1e3 mm", Millimetre, 1000},
		{"2.5E-1 in", Millimetre, 6.35},
		{"0.1 mm", Millimetre, 0.1},
		{"1/3 mm", Millimetre, 1.0 / 3},
		{"5 CM", Millimetre, 50},
		{"0 ft 2 in", Millimetre, 50.8},
		{"1 ft 11 63/64 in", Millimetre, 609.203125},
		{"1e30 mm", Millimetre, 1e30},
		{"8 15/16 in", Millimetre, 227.0125},
		{strings.Repeat(" ", 399) + "5", Millimetre, 5}, // 400 bytes are read
		{"1." + strings.Repeat("0", 98), Millimetre, 1}, // and 100 characters
		{"1/" + strings.Repeat("8", 95) + " mm", Millimetre, 1.125e-95},
	}
	for _, tt := range tests {
		got, err := ParseLength(tt.text, tt.def)
		if err != nil || float64(got) != tt.want || math.Signbit(float64(got)) != (tt.want < 0) {
			t.Errorf("ParseLength(%q, %q) = %v, %v; want %v", tt.text, tt.def, float64(got), err, tt.want)
		}
	}
}

// Factors: SI Brochure (9th edition) and NIST Special Publication 811, appendix
// B, whose rounded figures are beside the exact values here.
func TestParseOtherQuantities(t *testing.T) {
	const g0, lb = 9.80665, 0.45359237
	f := func(v Force, err error) (float64, error) { return float64(v), err }
	p := func(v Pressure, err error) (float64, error) { return float64(v), err }
	tests := []struct {
		text      string
		got       func(string) (float64, error)
		want, rel float64
	}{
		{"2940 N", func(s string) (float64, error) { return f(ParseForce(s)) }, 2940, 0},
		{"1.5 kN", func(s string) (float64, error) { return f(ParseForce(s)) }, 1500, 0},
		{"300 kgf", func(s string) (float64, error) { return f(ParseForce(s)) }, 2941.995, 0},
		{"300 KGF", func(s string) (float64, error) { return f(ParseForce(s)) }, 2941.995, 0},
		{"1 lbf", func(s string) (float64, error) { return f(ParseForce(s)) }, 4.4482216152605, 0},
		{"0", func(s string) (float64, error) { return f(ParseForce(s)) }, 0, 0},
		{"1 kPa", func(s string) (float64, error) { return p(ParsePressure(s)) }, 0.001, 0},
		{"5 Pa", func(s string) (float64, error) { return p(ParsePressure(s)) }, 5e-6, 0},
		{"5 MPa", func(s string) (float64, error) { return p(ParsePressure(s)) }, 5, 0},
		{"0.9 GPa", func(s string) (float64, error) { return p(ParsePressure(s)) }, 900, 0},
		{"12 psi", func(s string) (float64, error) { return p(ParsePressure(s)) }, 12 * 6.894757293168361e-3, 1e-15},
		{"33 ksi", func(s string) (float64, error) { return p(ParsePressure(s)) }, 33 * 6.894757293168361, 1e-15},
		{"2 bar", func(s string) (float64, error) { return p(ParsePressure(s)) }, 0.2, 0},
		{"1 kgf/cm2", func(s string) (float64, error) { return p(ParsePressure(s)) }, 0.0980665, 0},
		{"1 kgf / cm²", func(s string) (float64, error) { return p(ParsePressure(s)) }, 0.0980665, 0},
		{"5.42 kg", func(s string) (float64, error) { v, e := ParseMass(s); return float64(v), e }, 5420, 0},
		{"1 lb", func(s string) (float64, error) { v, e := ParseMass(s); return float64(v), e }, 1000 * lb, 0},
		{"1 oz", func(s string) (float64, error) { v, e := ParseMass(s); return float64(v), e }, 28.349523125, 0},
		{"20 C", func(s string) (float64, error) { v, e := ParseTemperature(s); return float64(v), e }, 20, 0},
		{"-20 °C", func(s string) (float64, error) { v, e := ParseTemperature(s); return float64(v), e }, -20, 0},
		{"68 F", func(s string) (float64, error) { v, e := ParseTemperature(s); return float64(v), e }, 20, 0},
		{"-40 F", func(s string) (float64, error) { v, e := ParseTemperature(s); return float64(v), e }, -40, 0},
		{"293.15 K", func(s string) (float64, error) { v, e := ParseTemperature(s); return float64(v), e }, 20, 0},
		{"0 K", func(s string) (float64, error) { v, e := ParseTemperature(s); return float64(v), e }, -273.15, 0},
		{"6 N·m", func(s string) (float64, error) { v, e := ParseTorque(s); return float64(v), e }, 6000, 0},
		{"6 Nm", func(s string) (float64, error) { v, e := ParseTorque(s); return float64(v), e }, 6000, 0},
		{"6 N.m", func(s string) (float64, error) { v, e := ParseTorque(s); return float64(v), e }, 6000, 0},
		{"6 N m", func(s string) (float64, error) { v, e := ParseTorque(s); return float64(v), e }, 6000, 0},
		{"6 N-m", func(s string) (float64, error) { v, e := ParseTorque(s); return float64(v), e }, 6000, 0},
		{"80 in-lb", func(s string) (float64, error) { v, e := ParseTorque(s); return float64(v), e }, 80 * lb * g0 * 25.4, 1e-15},
		{"80 in·lbf", func(s string) (float64, error) { v, e := ParseTorque(s); return float64(v), e }, 80 * lb * g0 * 25.4, 1e-15},
		{"1 ft-lb", func(s string) (float64, error) { v, e := ParseTorque(s); return float64(v), e }, lb * g0 * 304.8, 1e-15},
		{"0.25", ParseNumber, 0.25, 0},
		{"1/3", ParseNumber, 1.0 / 3, 0},
		{"1 1/2", ParseNumber, 1.5, 0},
		{"-1.2e-5", ParseNumber, -1.2e-5, 0},
	}
	for _, tt := range tests {
		got, err := tt.got(tt.text)
		if err != nil || math.Abs(got-tt.want) > tt.rel*math.Abs(tt.want) {
			t.Errorf("%q = %v, %v; want %v", tt.text, got, err, tt.want)
		}
	}
}

func TestParseLengthErrors(t *testing.T) {
	const exp = "; expected a length, such as 12.7 mm, 7/16 in or 8 13/16 in"
	const units = "; expected one of the units mm, in, cm, m, ft, um, thou"
	const mixed = "; write a mixed number as 8 13/16 or 8-13/16"
	tests := []struct {
		text, want string
		offset     int
	}{
		{"", "nothing" + exp, 0},
		{"   ", "nothing" + exp, 3},
		{"mm", `"mm" where a number should stand` + exp, 0},
		{"abc", `"abc" where a number should stand` + exp, 0},
		{"NaN", `"NaN", which is not a finite number` + exp, 0},
		{".nan", `".nan", which is not a finite number` + exp, 0},
		{"inf mm", `"inf mm", which is not a finite number` + exp, 0},
		{"-.Inf", `".Inf", which is not a finite number` + exp, 1},
		{"1e31 mm", "an exponent beyond thirty" + exp, 1},
		{"1e-31 mm", "an exponent beyond thirty" + exp, 1},
		{"1e999 mm", "an exponent beyond thirty" + exp, 1},
		{"1e-999 mm", "an exponent beyond thirty" + exp, 1},
		{"1/0 in", "a fraction with denominator zero" + exp, 0},
		{"8 1/0 in", "a fraction with denominator zero" + exp, 2},
		{"--5 mm", "two signs" + exp + "; write one sign or none", 1},
		{"+-5 mm", "two signs" + exp + "; write one sign or none", 1},
		{"12,7 mm", `a comma in a number` + exp + `; write "12.7 mm" with a decimal point`, 2},
		{"1,000 mm", `a comma in a number` + exp + `; write "1000 mm", or "1.000 mm" with a decimal point`, 1},
		{"1,000,000 mm", `commas in a number` + exp + `; write "1000000 mm"`, 1},
		{"1.5,0 mm", `"," behind a decimal number` + exp, 3},
		{"1_000 mm", "a mark between digits" + exp + "; write the digits without marks", 1},
		{"1'000 mm", "a mark between digits" + exp + "; write the digits without marks", 1},
		{"010 mm", "a leading zero in 010" + exp + "; write 10", 0},
		{"00.5 mm", "a leading zero in 00" + exp + "; write 0", 0},
		{"1/08 in", "a leading zero in 08" + exp + "; write 8", 2},
		{"0x10", `the unknown unit "x10"` + units, 1},
		{"12.7 nm", `the unknown unit "nm"` + units + `; did you mean "mm"?`, 5},
		{"5 inchs", `the unknown unit "inchs"` + units + `; did you mean "in"?`, 2},
		{"5 MM", `the unknown unit "MM"` + units + `; did you mean "mm"?`, 2},
		{"5 M", `the unknown unit "M"` + units + `; did you mean "m"?`, 2},
		{"5 z", `the unknown unit "z"` + units, 2}, // as far from m as from anything
		{"5 txu", `the unknown unit "txu"` + units, 2},
		{"5 fxxt", `the unknown unit "fxxt"` + units + `; did you mean "ft"?`, 2}, // two letters off are forgiven from four on
		{"5 fxxx", `the unknown unit "fxxx"` + units, 2},
		{"5 parsec", `the unknown unit "parsec"` + units, 2},
		{" 5 -mm", `a sign between two numbers` + exp + mixed, 3},
		{"5-mm", `the unknown unit "-mm"` + units + `; did you mean "mm"?`, 1},
		{"5. mm", "a point without digits behind it" + exp, 1},
		{". mm", `". mm" where a number should stand` + exp, 0},
		{"1.2.3 mm", `"." behind a decimal number` + exp, 3},
		{"1/2/3 in", `"/" behind a fraction` + exp + "; write a fraction of two whole numbers", 3},
		{"1/2.5 in", `"." behind a fraction` + exp + "; write a fraction of two whole numbers", 3},
		{"1.5/2 in", `"/" behind a decimal number` + exp, 3},
		{"1/ in", "a fraction without a denominator" + exp, 2},
		{"/2 in", `"/2 in" where a number should stand` + exp, 0},
		{"8 13 in", "a second number" + exp + mixed, 2},
		{"8-13 in", "a second number" + exp + mixed, 2},
		{"8 - 13/16 in", "a sign between two numbers" + exp + mixed, 2},
		{"8 16/16 in", "a fraction of one or more behind a whole number" + exp, 2},
		{"8 17/16 in", "a fraction of one or more behind a whole number" + exp, 2},
		{"8.5 1/2 in", `a second number` + exp, 4},
		{"5 mm 3 mm", "a second number" + exp, 5},
		{"1 ft 12 in", "something other than inches, fewer than twelve, behind feet" + exp, 5},
		{"1 ft 13 in", "something other than inches, fewer than twelve, behind feet" + exp, 5},
		{"1 ft 2 mm", "something other than inches, fewer than twelve, behind feet" + exp, 5},
		{"1 ft -2 in", "a sign between feet and inches" + exp, 5},
		{strings.Repeat("9", 101), "a text that is too long" + exp, 100},
		{strings.Repeat("9", 10000), "a text that is too long" + exp, 0},
		{strings.Repeat("9", 400), "a text that is too long" + exp, 100},
		{strings.Repeat("9", 401), "a text that is too long" + exp, 0},
		{strings.Repeat("x", 24), `"xxxxxxxxxxxxxxxxxxxxxxxx" where a number should stand` + exp, 0},
		{strings.Repeat("x", 25), `"xxxxxxxxxxxxxxxxxxxxxxxx..." where a number should stand` + exp, 0},
		{"-", "no number" + exp, 1},
		{"٣ mm", `"٣ mm" where a number should stand` + exp, 0},
	}
	for _, tt := range tests {
		_, err := ParseLength(tt.text, Millimetre)
		checkError(t, tt.text, err, tt.want, tt.offset)
	}
}

func checkError(t *testing.T, text string, err error, want string, offset int) {
	t.Helper()
	var pe *ParseError
	switch {
	case !errors.As(err, &pe):
		t.Errorf("%.30q: got %v, want a *ParseError", text, err)
	case pe.Error() != want || pe.Offset != offset:
		t.Errorf("%.30q: got %q at %d\nwant %q at %d", text, pe, pe.Offset, want, offset)
	}
}

func TestParseOtherErrors(t *testing.T) {
	_, err := ParseForce("300 kg")
	checkError(t, "300 kg", err, `"kg", a mass where a force should stand; expected one of the units N, kN, kgf, lbf; did you mean "kgf"?`, 4)
	_, err = ParseForce("300")
	checkError(t, "300", err, "a number without a unit; expected a force, such as 2940 N, 300 kgf or 660 lbf; add one of the units N, kN, kgf, lbf", 3)
	_, err = ParseForce("8.5 1/2 N")
	checkError(t, "8.5 1/2 N", err, "a second number; expected a force, such as 2940 N, 300 kgf or 660 lbf", 4)
	_, err = ParsePressure("10 mpa")
	checkError(t, "10 mpa", err, `the unknown unit "mpa"; expected one of the units kPa, MPa, GPa, Pa, psi, ksi, bar, mbar, kgf/cm2; did you mean "MPa"?`, 3)
	_, err = ParseTemperature("0")
	checkError(t, "0", err, "a number without a unit; expected a temperature, such as 20 C, 68 F or 293.15 K; add one of the units C, F, K", 1)
	_, err = ParseTemperature("-300 C")
	checkError(t, "-300 C", err, "a value below absolute zero; expected a temperature, such as 20 C, 68 F or 293.15 K", 0)
	_, err = ParseTorque("6 N")
	checkError(t, "6 N", err, `"N", a force where a torque should stand; expected one of the units N.m, N.mm, N.cm, in-lbf, ft-lbf, kgf.cm, kgf.m; did you mean "N.m"?`, 2)
	_, err = ParseNumber("5 mm")
	checkError(t, "5 mm", err, `"mm" behind a number; expected a number, such as 0.25 or 1/2`, 2)
	_, err = ParseLength("5", "")
	checkError(t, "5", err, "a number without a unit; expected a length, such as 12.7 mm, 7/16 in or 8 13/16 in; add one of the units mm, in, cm, m, ft, um, thou", 1)
}

// Every unit of every table is found by each of its names, and no name stands
// for two units.
func TestUnitTables(t *testing.T) {
	for _, k := range []*kind{lengths, forces, pressures, masses, temperatures, torques, stiffnesses} {
		seen := map[string]string{}
		for _, m := range k.measures {
			if m.factor.Sign() <= 0 {
				t.Errorf("%s %s: factor %v", k.what, m.names[0], m.factor)
			}
			for _, n := range m.names {
				if other, dup := seen[canonical(n)]; dup && other != m.names[0] {
					t.Errorf("%s: %q is both %s and %s", k.what, n, other, m.names[0])
				}
				seen[canonical(n)] = m.names[0]
				if found, ok := k.find(n); !ok || found.names[0] != m.names[0] {
					t.Errorf("%s: %q finds %v", k.what, n, found.names)
				}
			}
		}
	}
}

// The value of a fraction is the float64 nearest to the exact one.
func TestFractionsAreExact(t *testing.T) {
	for whole := int64(0); whole < 30; whole++ {
		for num := int64(1); num < 64; num++ {
			text := new(big.Rat).SetFrac64(num, 64).RatString() + " in"
			if whole > 0 {
				text = big.NewInt(whole).String() + "-" + text
			}
			got, err := ParseLength(text, Millimetre)
			exact := new(big.Rat).SetFrac64((whole*64+num)*254, 640)
			want, _ := exact.Float64()
			if err != nil || float64(got) != want {
				t.Fatalf("%s = %v, %v; want %v", text, got, err, want)
			}
		}
	}
}
