package drawing

import (
	"math"
	"testing"
)

// The sections of a coil's turns lie within its length, between bore and outside, those
// below between those above; discs are lines.
func TestCoilInSection(t *testing.T) {
	l := Layer{Kind: LayerSpring, ThicknessMM: 32, HighMM: 10, HoleMM: 11, Discs: 5, WireMM: 3}
	above, below := 0, 0
	for _, it := range l.spring(7, 2) {
		b := it.(Chain).Path.Bounds()
		if b.Min.X < 7-1e-9 || b.Max.X > 7+64+1e-9 || math.Abs(b.Max.X-b.Min.X-6) > 1e-9 {
			t.Errorf("a turn from %v to %v along the rod, want 6 within 7 to 71", b.Min.X, b.Max.X)
		}
		if b.Min.Y > 0 {
			above++
		} else {
			below++
		}
		near, far := min(math.Abs(b.Min.Y), math.Abs(b.Max.Y)), max(math.Abs(b.Min.Y), math.Abs(b.Max.Y))
		if math.Abs(near-11) > 1e-9 || math.Abs(far-20) > 1e-9 {
			t.Errorf("a turn from %v to %v off the axis, want 11 to 20", near, far)
		}
	}
	if above != 5 || below != 4 {
		t.Errorf("%d turns above and %d below, want 5 and 4", above, below)
	}
	l.WireMM = 0
	if got := l.spring(7, 2); len(got) != 10 {
		t.Errorf("%d lines of discs, want 10", len(got))
	}
}
