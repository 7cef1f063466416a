package wiring

import (
	"errors"
	"math"
	"slices"
	"testing"
)

// A charge up to that of storage is told by the voltage of storage, any above by the full
// one; a hair above is still storage.
func TestVoltageAt(t *testing.T) {
	l := mustLayout(t, pack(4, 1, 4, 1))
	v, storage := l.in.Volts, l.in.StorageCharge
	for charge, want := range map[float64]float64{0: v.Storage, storage: v.Storage, storage + chargeTol/2: v.Storage, storage + 2*chargeTol: v.Full, storage + 0.1: v.Full, 1: v.Full} {
		if got := voltageAt(l, charge); got != want {
			t.Errorf("at %g of charge %g V, want %g", charge, got, want)
		}
	}
}

// What is bare at a terminal is its pad, or the lug on it where that is wider: 3 times the
// root of a cable's section, or 2.1 times the stud.
func TestPadsOf(t *testing.T) {
	l := mustLayout(t, pack(4, 1, 4, 1))
	pad := l.in.PadDiaMM / 2
	a, b := Post{0, Right}, Post{1, Left}
	for mm2, want := range map[float64]float64{0: pad, 1: math.Max(pad, 2.1*l.in.StudDiaMM/2), 400: 30} {
		s := State{Turns: make(Turns, 4)}
		if mm2 > 0 {
			s.Links = []Link{{A: a, B: b, Cable: true, CableMM2: mm2}}
		}
		pads := padsOf(l, s)
		for _, p := range []Post{a, b} {
			if got := pads[p.node()]; math.Abs(got-want) > 1e-9 {
				t.Errorf("%g mm2: %g mm, want %g", mm2, got, want)
			}
		}
		if other := pads[(Post{3, Left}).node()]; other != pad {
			t.Errorf("%g mm2: a terminal without a lug has %g mm", mm2, other)
		}
	}
}

// Of four rows the choice that turns fewest cells has a row's plus on the left where more
// than half of its cells end so; beside it all alike and turn about.
func TestWaysThatTurnFewest(t *testing.T) {
	l := mustLayout(t, pack(5, 4, 20, 1))
	final := make(Turns, l.Cells())
	for slot := range final {
		final[slot] = Right
		if slot%5 < []int{2, 3, 0, 5}[l.Row(slot)] { // of five
			final[slot] = Left
		}
	}
	if got, want := ways(l, final), []int{0, 0b1111, 0b1010, 0b0101, 0b1010}; !slices.Equal(got, want) {
		t.Errorf("%b, want %b", got, want)
	}
	if got := len(ways(mustLayout(t, pack(5, 3, 15, 1)), final)); got != 8 {
		t.Errorf("%d ways of three rows, want all 8", got)
	}
}

// A link lies as high as what is under it when all is done.
func TestHighMM(t *testing.T) {
	l := mustLayout(t, pack(4, 1, 2, 2))
	raised := 0
	for _, p := range mustPlans(t, l) {
		last := map[Post][]Piece{}
		p.eachJoint(func(j *Joint) { last[j.Post] = j.Lies })
		final, ok := p.State(StateFinal)
		if !ok {
			t.Fatal(p.ID)
		}
		for _, k := range final.Links {
			want := 0.0
			for _, piece := range last[k.A] {
				if piece.Link == k.ID {
					break
				}
				want += piece.MM
			}
			if got := p.HighMM(k); got != want {
				t.Errorf("%s: %s lies %g mm high, want %g", p.ID, k.ID, got, want)
			}
			if want > 0 {
				raised++
			}
		}
	}
	if raised == 0 {
		t.Error("no link lies on another")
	}
}

// No current that is none is loaded, and none from a terminal that is not there.
func TestLoadRefuses(t *testing.T) {
	l, s := finalOf(t, pack(4, 1, 4, 1))
	solver, err := NewSolver(networkOf(l, s, 3.2))
	if err != nil {
		t.Fatal(err)
	}
	gone := Post{4, Left}
	for _, c := range []struct {
		m    Mains
		amps float64
	}{{s.Mains, math.NaN()}, {s.Mains, math.Inf(1)}, {s.Mains, math.Inf(-1)}, {Mains{gone, s.Mains.Plus}, 1}, {Mains{s.Mains.Minus, gone}, 1}} {
		if _, err := solver.Load(c.m, c.amps); !errors.Is(err, ErrNetwork) {
			t.Errorf("%v A at %v: %v", c.amps, c.m, err)
		}
	}
}

// The longest slot takes a quarter of the ring of contact between pad and hole, by hand
// pi/4 (22^2 - 6.6^2)/4 over a hole of 6.6: 13.10 mm; on a pad no wider than the hole none.
func TestLongestSlotByHand(t *testing.T) {
	for pad, want := range map[float64]float64{22: 13.103, 10: 1.6789, 6.7: 0.0396} {
		in := rigid(pack(4, 1, 4, 1))
		in.PadDiaMM = pad
		l := mustLayout(t, in)
		near(t, "longest slot", specOf(l, Link{A: Post{0, Left}, B: Post{1, Left}}, make(Turns, 4)).SlotMostMM, want, 0.001)
	}
}
