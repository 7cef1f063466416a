package work

import (
	"math"
	"testing"
)

// Ten readings and a setting take two hours and about a quarter; none, nothing.
func TestServiceHours(t *testing.T) {
	for _, c := range []struct{ years, again, want float64 }{{0, 0, 0}, {10, 0, 100. / 60}, {10, 1, 125. / 60}} {
		if got := ServiceHours(c.years, c.again); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v: %g", c, got)
		}
	}
}
