package params

import (
	"testing"

	"clampwright/params/unit"
)

// Derived discs are guided by the rod, nested where one is too weak: 8 cells of
// the file's kind press with up to 12 kN on four M8 rods, 3000 N each; the 16 mm
// disc carries about 1000 N at three quarters of its cone (EN 16983: 1010 N for
// 16x8.2x0.9), so three must nest.
func TestDerivedDiscs(t *testing.T) {
	for _, c := range []struct {
		limit, disc string
		parallel    int
	}{{"4 kN", "16x8.2x0.9", 1}, {"8 kN", "16x8.2x0.9", 2}, {"11.9 kN", "16x8.2x0.9", 3}} {
		text := "fixture: f\ncell: {model: 72x174x201, force: 2500 N, force_tolerance: 400 N, force_limit: " + c.limit + "}\npack: {cells: 4}\n" +
			"rods: {thread: M8, levels: [50 mm, 150 mm]}\nsprings: {ends: one}\n"
		f, diags := Load("s.yaml", []byte(text))
		if f == nil {
			t.Fatal(diags)
		}
		s := f.Spring
		if s.Disc.Name != c.disc || s.Parallel != c.parallel || !s.Disc.GuidedBy(f.Rods.Thread.Major) {
			t.Errorf("%s: %s, %d nested", c.limit, s.Disc.Name, s.Parallel)
		}
		share := f.Cell.ForceLimit / 4 / unit.Force(s.Parallel)
		if s.Disc.ForceAt(springWork*s.Disc.H0) < share {
			t.Errorf("%s: flat under %.0f N", c.limit, float64(share))
		}
	}
}
