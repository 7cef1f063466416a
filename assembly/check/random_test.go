package check

import (
	"math/rand/v2"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/unit"
)

// Randomly changed fixtures: whatever fails, its remedy clears it.
func TestRandomRemedies(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	tried := 0
	for range 24 {
		f := disturbed(rng)
		a, err := assembly.Build(f)
		if err != nil {
			continue // a hole off its part: refused before it is checked
		}
		found, err := Run(a)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range found {
			if x.Verdict != finding.Pass && len(x.Remedy.Set) > 0 {
				tried++
				if !passes(t, f, x, x.Remedy.Set) {
					t.Errorf("%s %s: %q does not clear it", x.ID, x.Of, x.Remedy.Text)
				}
			}
		}
	}
	if tried < 20 {
		t.Errorf("only %d remedies were tried", tried)
	}
}

// disturbed is a sample with several sizes changed at random.
func disturbed(rng *rand.Rand) *params.Fixture {
	f := sample.FourCells()
	if rng.IntN(2) == 0 {
		f = sample.TwoRows()
	}
	by := func(l *unit.Length, most float64) { *l += unit.Length((2*rng.Float64() - 1) * most) }
	in := unit.Length(rng.Float64() * 16)
	n := len(f.Rods.Columns)
	f.Rods.Columns[0] += in
	f.Rods.Columns[n-1] -= in
	for i := range f.Rods.Levels {
		by(&f.Rods.Levels[i], 40)
	}
	by(&f.Plate.Width, 8)
	by(&f.Rods.Length, 20)
	by(&f.Rods.Hole, 0.6)
	by(&f.Washer.Outer, 6)
	if f.Stiffener != nil {
		by(&f.Stiffener.Gauge, 5)
	}
	return f
}
