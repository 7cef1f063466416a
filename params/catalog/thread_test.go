package catalog

import (
	"math"
	"testing"

	"clampwright/params/unit"
)

// A thread of the user's own, ISO metric fine M10 x 1.25: stress area 61.2 mm²
// in ISO 898-1.
func TestCompleteThread(t *testing.T) {
	r := CompleteThread(Thread{Name: "M10x1.25", Major: 10, Pitch: 1.25, HoleMedium: 11})
	near(t, "stress area", float64(r.StressArea), 61.2, 0.05)
	if r.System != "metric" || r.HoleMedium != 11 || r.HoleShop != 11 || r.TapDrill != 8.75 {
		t.Errorf("%+v", r)
	}
	if !(r.Major < r.HoleFine && r.HoleFine < r.HoleMedium && r.HoleMedium < r.HoleCoarse) {
		t.Errorf("holes %+v", r)
	}
	// A pitch diameter that was measured doesn't change the other formulas.
	own := CompleteThread(Thread{Major: 10, Pitch: 1.25, PitchDia: 9})
	if own.PitchDia != 9 || own.StressArea != r.StressArea {
		t.Errorf("%+v", own)
	}
	unc := CompleteThread(Thread{System: "unc", Major: in(0.75), Pitch: in(0.1)})
	near(t, "3/4-10 stress area in2 (ASME B1.1: 0.334)", float64(unc.StressArea)/in2, 0.334, 0.0006)
	for _, bad := range []Thread{{}, {Major: 10}, {Pitch: 1}, {Major: -1, Pitch: 1}, {Major: unit.Length(math.NaN()), Pitch: 1}} {
		if got := CompleteThread(bad); got.StressArea != 0 || got.System != "" {
			t.Errorf("%+v became %+v", bad, got)
		}
	}
}

// Look-ups take any text.
func FuzzLookup(f *testing.F) {
	for _, s := range []string{"", "x", "M8", `1/4"`, "30x30x3 mm 6061-T6", "L", "l x x x", "1-1/4 by 1-1/4 by 1/8 in", "×××", "5/16-18 UNC", "no. 7", "\xff", "in in in", "1x1x1 mm in"} {
		f.Add(s)
	}
	b := Builtin()
	f.Fuzz(func(t *testing.T, s string) {
		if a, ok := b.Angle(s); ok && Section(a).Area <= 0 {
			t.Fatalf("%q gives %+v", s, a)
		}
		b.Thread(s)
		b.Material(s)
		b.Drill(s)
		b.Nut(s)
		b.Washer(s)
		b.Cell(s)
		b.Grade(s)
		b.Disc(s)
		b.Coil(s)
		b.NutFor(s, "plain")
		b.WasherFor(s, "large")
		b.MaterialAt(s, 12)
	})
}
