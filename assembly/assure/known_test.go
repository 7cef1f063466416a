package assure

import (
	"math"
	"math/rand/v2"
	"testing"
)

// told is a fixture of which the cells' modulus is known within so many of its sigmas, and
// nothing else.
func told(f *Fixture, sigma float64) *Known {
	k := &Known{Sets: []Set{{Method: f.Method, TargetN: f.TargetN, TurnMM: f.advance()}}}
	r := rand.New(rand.NewPCG(5, 6))
	for range 4000 {
		z := (*Known)(nil).Draw(r, f.Latents())
		z[0] *= sigma
		k.Draws = append(k.Draws, append(Seated(z), 0))
	}
	return k
}

// What is known of the cells narrows the force that turns give; where nothing is known
// beyond the ranges, the share is what it is without readings.
func TestKnown(t *testing.T) {
	f := large(8, Turns, nil)
	plain := f.run(1000, 1, nil)
	f.Known = told(f, 1)
	if same := f.run(1000, 1, nil); math.Abs(same.set-plain.set) > 0.05 || math.Abs(same.share-plain.share) > 0.04 {
		t.Errorf("%.2f and %.2f with nothing known, %.2f and %.2f without readings", same.set, same.share, plain.set, plain.share)
	}
	f.Known = told(f, 0.2)
	if known := f.run(1000, 1, nil); known.set < plain.set+0.1 {
		t.Errorf("%.2f set within the band by turns with known cells, %.2f without", known.set, plain.set)
	}
}

// Of two sigmas that are known only together, one that is pinned takes the other along;
// the rest of what is known of that is its part that does not follow.
func TestPinned(t *testing.T) {
	k := told(large(4, Turns, nil), 1)
	for _, z := range k.Draws {
		z[3] = -0.8*z[4] + 0.6*z[3]
	}
	gains := k.gains([]pin{{4, 2}}, latents)
	if g := gains[0].follow[3]; math.Abs(g+0.8) > 0.02 {
		t.Errorf("follows by %.3f", g)
	}
	r := rand.New(rand.NewPCG(1, 2))
	sum, square := 0.0, 0.0
	const n = 4000
	for range n {
		z := pinned(k.Draw(r, latents), gains)
		if math.Abs(z[4]-2) > 1e-9 {
			t.Fatalf("pinned at %g", z[4])
		}
		sum, square = sum+z[3]/n, square+z[3]*z[3]/n
	}
	if sd := math.Sqrt(square - sum*sum); math.Abs(sum+1.6) > 0.05 || math.Abs(sd-0.6) > 0.03 {
		t.Errorf("%.3f, %.3f either way; want -1.6, 0.6", sum, sd)
	}
}

// Seating of a sigma stands at the same place among sizes: half of all are below 0.674.
func TestSeated(t *testing.T) {
	for z, want := range map[float64]float64{0: 0.67449, -8: 0, 1.6448536: 1.9599640} {
		if got := halfNormal(z); math.Abs(got-want) > 1e-4 {
			t.Errorf("%g: %g, want %g", z, got, want)
		}
	}
}

// A clamp that was set and is read at once shows the force set, the nuts where they are
// and the plates as near as they came; when nuts are turned by what another force needs
// it has that, and nothing that is read jumps.
func TestLife(t *testing.T) {
	for _, f := range []*Fixture{large(4, Turns, nil), large(4, Height, coil(68, 20.4))} {
		z := make([]float64, latents+3)
		l := f.Life(z, 0)
		l.SetAs(Set{Method: f.Method, TargetN: f.TargetN, TurnMM: f.advance()}, z)
		as, on := l.At(0, f.SetCharge, f.AssemblyC), l.Tightening(l.set)
		if math.Abs(as.ForceN-f.TargetN) > 0.01*f.TargetN || math.Abs(as.ClosedMM-on.ClosedMM) > 1e-6 || math.Abs(as.TurnMM-on.TurnMM) > 1e-9 {
			t.Errorf("%s: as set %+v, on the way %+v", f.Method, as, on)
		}
		full := l.At(0, 1, f.AssemblyC)
		if full.ForceN <= as.ForceN || full.ClosedMM >= as.ClosedMM || full.TurnMM != as.TurnMM {
			t.Errorf("%s: full %+v after %+v", f.Method, full, as)
		}
		aged := l.At(2, f.SetCharge, f.AssemblyC)
		turn := l.Needs(f.TargetN, 2, f.SetCharge, f.AssemblyC)
		l.SetAs(Set{Years: 2, Method: Turns, TurnMM: turn}, z)
		again := l.At(2, f.SetCharge, f.AssemblyC)
		if math.Abs(again.ForceN-f.TargetN) > 1 || turn >= 0 {
			t.Errorf("%s: %.0f N after turning by %.3f mm from %.0f N, want %.0f", f.Method, again.ForceN, turn, aged.ForceN, f.TargetN)
		}
		// the plates move by what the nuts were turned and by what the ties gave way
		if got, want := aged.ClosedMM-again.ClosedMM, f.Stretch.of(again.ForceN/4)-f.Stretch.of(aged.ForceN/4)-turn; math.Abs(got-want) > 1e-3 {
			t.Errorf("%s: the plates went %.4f mm apart, the nuts and ties say %.4f", f.Method, got, want)
		}
	}
}
