package params

import (
	"math"
	"strings"
	"testing"

	"clampwright/params/unit"
)

// sprung is a fixture of so many cells of 72 x 174 x 201 mm under 2942 N on four rods.
func sprung(t *testing.T, cells, more, springs string) *Fixture {
	t.Helper()
	text := "fixture: f\ncell: {model: 72x174x201, force: 2942 N, force_tolerance: 588 N" + more + "}\npack: {cells: " + cells + "}\n" +
		"rods: {thread: M8, levels: [50 mm, 150 mm]}\nsprings: " + springs + "\n"
	f, diags := Load("s.yaml", []byte(text))
	if f == nil {
		t.Fatal(diags)
	}
	return f
}

// The fewest springs do what is asked: reckoned again with plain arithmetic, a rod's
// springs give way by the cells' growth between the forces that it must stay within,
// and one end less does not.
func TestFewestSprings(t *testing.T) {
	for _, c := range []struct {
		cells, more, springs string
		pieces               int
	}{
		{"4", "", "{}", 1}, {"8", "", "{}", 2}, {"4", ", force_limit: 9807 N", "{}", 1}, {"8", ", force_limit: 9807 N", "{}", 1}, {"4", "", "{ends: both}", 2},
	} {
		f := sprung(t, c.cells, c.more, c.springs)
		s := f.Spring
		if s.Coil == nil || s.Stacks()*s.Pieces() != c.pieces || s.Coil.Free > 3*s.OuterDia() || s.Coil.Mean-s.Coil.Wire <= 8 {
			t.Fatalf("%+v: %+v", c, s)
		}
		n, target := float64(f.Pack.PerRow), f.Cell.ForceTarget.N()
		rate := float64(s.Coil.Rate()) / float64(s.Stacks())
		up := math.Min(f.Cell.ForceLimit.N()-0.055*target, 4*float64(s.Coil.Rate())*s.Coil.Work().MM()) - target
		down := target - f.Cell.ForceFloor.N() - 0.055*target
		stiff := 22.2 * 174 * 201 / 72
		if have, want := up/4/rate, n*(0.026*72-up/stiff); have < want-1e-9 {
			t.Errorf("%+v: gives way by %.2f mm of %.2f", c, have, want)
		}
		if have, want := down/4/rate, n*(0.0051*72-down/stiff); have < want-1e-9 {
			t.Errorf("%+v: follows by %.2f mm of %.2f", c, have, want)
		}
		if (s.BushOuter > 0) != (s.Bore()-8 > 2.5) {
			t.Errorf("%+v: bore %g, bush %g", c, s.Bore().MM(), s.BushOuter.MM())
		}
	}
}

// Where no coil carries the force discs are taken: at most eight a rod and three outer
// diameters high. Where nothing does what is asked what does most is taken, and said.
func TestDiscsWhereNoCoilDoes(t *testing.T) {
	for _, c := range []struct {
		force      string
		disc, does bool
	}{
		{"force: 6000 N, force_tolerance: 588 N, force_limit: 8000 N", false, true},
		{"force: 6000 N, force_tolerance: 588 N, force_limit: 7000 N", false, false},
		{"force: 10 kN, force_tolerance: 1 kN, force_limit: 11.9 kN", true, false},
	} {
		f, diags := Load("s.yaml", []byte("fixture: f\ncell: {model: 72x174x201, "+c.force+"}\npack: {cells: 4}\nrods: {thread: M8, levels: [50 mm, 150 mm]}\nsprings: {}\n"))
		if f == nil {
			t.Fatal(diags)
		}
		s := f.Spring
		note := f.Origin("springs.coil").Note + f.Origin("springs.disc").Note
		if (s.Disc != nil) != c.disc || s.Stacks()*s.Pieces() > 8 || s.FreeHeight > 3*s.OuterDia() || strings.Contains(note, "none of the tables") == c.does {
			t.Errorf("%s: %+v, %q", c.force, s, note)
		}
	}
}

// A spring's heights fall by its deflection, no further than solid, whatever stands in
// a row or side by side.
func TestSpringHeights(t *testing.T) {
	f := sprung(t, "4", "", "{coil: die light 32x51, series: 2, parallel: 2}")
	s := f.Spring // 68 N/mm, 25.5 mm of travel
	for force, want := range map[unit.Force]float64{0: 102, 136: 100, 1360: 82, 1e5: 51} {
		if got := s.HeightAt(force).MM(); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g mm under %g N, want %g", got, force.N(), want)
		}
	}
	// A disc is aimed at the middle of +25 and -7.5 %: 8.75 % over the list.
	s = sprung(t, "4", "", "{disc: 16x8.2x0.9, series: 4}").Spring
	listed := s.Disc.ForceAt(0.2)
	if got := s.HeightAt(listed * 1.0875).MM(); math.Abs(got-(s.FreeHeight.MM()-0.8)) > 1e-6 {
		t.Errorf("%g mm high under %g N", got, listed.N())
	}
}

// A spring rests on its washer with all play taken up; a bush leaves little.
func TestSpringRest(t *testing.T) {
	for name, want := range map[string]float64{
		"{disc: 16x8.2x0.9}":       8.2/2 + (0.2+0.4)/2,
		"{coil: die heavy 20x51}":  15.0/2 + (2+0.4)/2,
		"{coil: die light 32x51}":  24.0/2 + (0.2+0.1+0.4)/2,
		"{coil: die light 25x102}": 18.75/2 + (0.2+0.1+0.4)/2,
	} {
		f := sprung(t, "4", "", name)
		have, need := f.SpringRest()
		if math.Abs(need.MM()-want) > 1e-9 || have != f.Washer.Outer/2 {
			t.Errorf("%s: rests at %g of %g, want %g", name, need.MM(), have.MM(), want)
		}
		if large := f.Washer.Outer == 24; large != (want > 8) {
			t.Errorf("%s: washer %g", name, f.Washer.Outer.MM())
		}
	}
}

// A row without a rate, and without what gives one, is refused.
func TestCoilWithoutRate(t *testing.T) {
	for row, ok := range map[string]bool{"rate: 60": true, "active_coils: 5, shear_modulus: 81500 MPa": true, "active_coils: 5": false, "": false} {
		text := "fixture: f\ncell: {model: 72x174x201}\npack: {cells: 4}\nsprings: {coil: mine}\ntables: {coils: [{name: mine, wire: 5 mm, mean_diameter: 20 mm, free_length: 50 mm, solid_length: 30 mm, " + row + "}]}\n"
		if f, diags := Load("s.yaml", []byte(text)); (f != nil) != ok {
			t.Errorf("%q: %v", row, diags)
		}
	}
}

// Where no spring of the tables keeps the force, the fixture says so: thirty cells under
// a ceiling just over the force as set; with the usual ceiling four cells have one that does.
func TestNoSpringFits(t *testing.T) {
	for text, want := range map[string]bool{
		"pack: {cells: 30}\ncell: {model: 72x174x201, force: 300 kgf, force_tolerance: 30 kgf, force_always: true}\n": true,
		"pack: {cells: 4}\ncell: {model: 72x174x201, force: 300 kgf}\n":                                               false,
	} {
		f, diags := Load("a.yaml", []byte("fixture: a\nplates: {material: hdpe, thickness: 19}\nrods: {thread: M8}\nsprings: {}\n"+text))
		if f == nil {
			t.Fatal(diags)
		}
		if f.NoSpringFits() != want {
			t.Errorf("%s: no spring fits: %v", text, !want)
		}
	}
}
