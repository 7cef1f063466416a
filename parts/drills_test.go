package parts

import (
	"math"
	"testing"
)

// Every drill is at most 3.5 times as wide as the one before, none is put in
// without need.
func TestDrillSteps(t *testing.T) {
	for _, c := range []struct {
		pilot, dia float64
		steps      int
	}{{1.5875, 9.525, 3}, {3, 9, 2}, {2, 7, 2}, {2, 7.5, 3}, {0, 9, 1}, {9, 9, 1}, {1, 30, 4}} {
		got := DrillSteps(c.pilot, c.dia)
		if len(got) != c.steps || got[len(got)-1] != c.dia || c.steps > 1 && got[0] != c.pilot {
			t.Errorf("%v to %v mm: %v, want %d steps", c.pilot, c.dia, got, c.steps)
		}
		for i := 1; i < len(got); i++ {
			if r := got[i] / got[i-1]; r <= 1 || r > 3.55 {
				t.Errorf("%v to %v mm: %v has a step of %.2f times", c.pilot, c.dia, got, r)
			}
		}
	}
	if got := DrillSteps(1.5875, 9.525)[1]; math.Abs(got-math.Sqrt(1.5875*9.525)) > 0.05 {
		t.Errorf("the drill between is %v mm, not in equal proportion", got)
	}
}
