package wiring

import (
	"math"
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
		s := State{}
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
