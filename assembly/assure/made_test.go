package assure

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Disk line picking: the mean distance of two points even over a disc of radius R
// is 128 R / (45 pi) (any table of geometric probability; from memory); the circle
// round two points has half their distance as radius.
func TestTwoHoles(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	sum, n := 0.0, 40000
	for range n {
		sum += 2 * circleRound(drilled(r, 2))
	}
	if want := 128 / (45 * math.Pi); math.Abs(sum/float64(n)/want-1) > 0.01 {
		t.Errorf("mean distance %g, want %g", sum/float64(n), want)
	}
}

// The smallest circle against a slow search over its middle.
func TestCircleRound(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 40 {
		p := drilled(r, 4)
		got := circleRound(p)
		best, at := math.Inf(1), point{}
		for step, span := 0.05, 1.0; step > 1e-4; step, span = step/8, step*2 {
			mid := at
			for x := mid.x - span; x <= mid.x+span; x += step {
				for y := mid.y - span; y <= mid.y+span; y += step {
					worst := 0.0
					for _, q := range p {
						worst = math.Max(worst, math.Hypot(q.x-x, q.y-y))
					}
					if worst < best {
						best, at = worst, point{x, y}
					}
				}
			}
		}
		if math.Abs(best-got) > 2e-3 {
			t.Errorf("%v: radius %g, search finds %g", p, got, best)
		}
		if got > 1 {
			t.Errorf("%v: %g is more than the error itself", p, got)
		}
	}
}

// What is drawn spreads as its formulas say: the variance of one piece even over -a to a
// is a²/3, and variances add; no chain is off by more than all pieces at their limits, no
// circle is greater than that of two holes off by 1 mm in opposite ways. The same seed
// draws the same, another another.
func TestMaking(t *testing.T) {
	m := Making{Ties: 4, Holes: 4, Pieces: []Pieces{{4, 0.5}, {2, 0.3}, {1, 1}}}
	apart, off := m.Draw(7)
	sum, worst := 0.0, 0.0
	for _, v := range off {
		sum, worst = sum+v*v/Draws, math.Max(worst, math.Abs(v))
	}
	if want := (4*0.25 + 2*0.09 + 1) / 3; len(off) != Draws || math.Abs(sum/want-1) > 0.1 || worst > 4*0.5+2*0.3+1 {
		t.Errorf("%d chains: variance %g, want %g, at most %g off", len(off), sum, want, worst)
	}
	if most := slices.Max(apart); len(apart) != Draws || most > 1 || most < 0.9 || slices.Min(apart) < 0.3 {
		t.Errorf("%d circles of %g to %g", len(apart), slices.Min(apart), most)
	}
	more, _ := Making{Ties: 12, Holes: 4}.Draw(7)
	if a, b := mean(apart), mean(more); b < a+0.02 {
		t.Errorf("the worst of 12 rods %g, of 4 %g", b, a)
	}
	if again, _ := m.Draw(7); !slices.Equal(again, apart) {
		t.Error("the same seed draws anew")
	}
	if other, _ := m.Draw(8); slices.Equal(other, apart) {
		t.Error("the seed does not matter")
	}
}

func mean(list []float64) (m float64) {
	for _, v := range list {
		m += v / float64(len(list))
	}
	return m
}
