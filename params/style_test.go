package params

import "testing"

var inches = Style{Unit: "in", Denominator: 32}

// Factors by NIST SP 811, appendix B: 1 in = 25.4 mm, 1 lbf = 4.448222 N, 1 psi =
// 6.894757 kPa, 1 lbf·in = 0.1129848 N·m, 1 lb = 0.45359237 kg.
func TestSayPutsFiguresIntoTheShopsUnits(t *testing.T) {
	for _, c := range []struct{ si, want string }{
		{"at least 12.7 mm of it", "at least 1/2 in of it"},
		{"43.18 mm high (51.00 mm free); that is 735 N", "1.7 in high (2.008 in free); that is 165 lbf"},
		{"about 20 \u00b0C, at -10 \u00b0C", "about 68 \u00b0F, at 14 \u00b0F"},
		{"80 kPa, 241 MPa, 9.04 N·m, 5.42 kg", "11.6 psi, 34954 psi, 80 lbf·in, 11.95 lb"},
		{"2354 to 3530 N", "529 to 794 lbf"},
		{"strip 20 x 2 mm", "strip 0.787 x 0.079 in"},
		{"5012 mm² of the bed", "7.77 sq in of the bed"},
		{"a nut of 0.01 mm", "a nut of 0.0004 in"},
		{"50 N/mm", "286 lbf/in"},
		{"-0.5 mm", "-0.0197 in"},
		{"12.7\u00a0mm", "1/2 in"},
		// names of stock and what has no such unit stay
		{"30x30x3 mm aluminium", "30x30x3 mm aluminium"}, {"M6 x 16", "M6 x 16"}, {"7.3 V, 13 kA, 4 Ah, 20 °C", "7.3 V, 13 kA, 4 Ah, 68 °F"},
		{"3 grams, 2 meters", "3 grams, 2 meters"}, {"E7.3 mm", "E7.3 mm"},
		// what is in inches needs no millimetres
		{"5/32 in (3.97 mm), 3/8 in (9.53 mm)", "5/32 in, 3/8 in"},
	} {
		if got := inches.Say(c.si); got != c.want {
			t.Errorf("%q: %q, want %q", c.si, got, c.want)
		}
		if got := (Style{Unit: "mm"}).Say(c.si); got != c.si {
			t.Errorf("in millimetres %q became %q", c.si, got)
		}
		if once := inches.Say(c.si); inches.Say(once) != once {
			t.Errorf("%q said twice: %q", c.si, inches.Say(once))
		}
	}
	if got := inches.SayBoth("brim 5 mm"); got != "brim 0.197 in (5 mm)" {
		t.Errorf("for a machine: %q", got)
	}
}

// Sections of American wire by ASTM B258 (from memory): AWG 24 0.205, 10 5.26, 8 8.37,
// 6 13.3, 4 21.2, 2 33.6, 1 42.4, 1/0 53.5, 4/0 107.2 mm2; 250 kcmil 126.7 mm2.
func TestGaugeIsNoThinner(t *testing.T) {
	for _, c := range []struct {
		mm2  float64
		want string
	}{{0.2, "AWG 24"}, {5.2, "AWG 10"}, {5.26, "AWG 10"}, {6, "AWG 8"}, {8.6, "AWG 8"}, {8.7, "AWG 6"}, {16, "AWG 4"}, {21.9, "AWG 2"},
		{34.6, "AWG 2"}, {35, "AWG 1"}, {43.8, "AWG 1/0"}, {107, "AWG 4/0"}, {120, "250 kcmil"}} {
		if got := inches.Quantity(c.mm2, "mm2"); got != c.want {
			t.Errorf("%v mm2: %s, want %s", c.mm2, got, c.want)
		}
	}
}

// A hole is marked by a rule and drilled by a machine.
func TestPlaceIsA64th(t *testing.T) {
	for mm, want := range map[float64]string{48.725: "1 59/64 in (1.9183)", 14.2875: "9/16 in (0.5625)", 25.4: "1 in"} {
		if got := inches.Place(mm); got != want {
			t.Errorf("%v mm: %s, want %s", mm, got, want)
		}
	}
	if got := (Style{Unit: "mm", Decimals: 1}).Place(48.725); got != "48.7 mm" {
		t.Errorf("in millimetres %s", got)
	}
}
