package check

import (
	"math"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/params/catalog"
)

// Discs for the rod pass. Discs for a much thicker rod: on an M8 rod a bore of
// 14.2 mm leaves 3.1 mm of play to a side, so with the washer's own 0.2 mm the inner
// edge may lie at 7.1 + 3.1 + 0.2 = 10.4 mm, past the 8 mm of a normal washer.
func TestSpringsOnTheirRods(t *testing.T) {
	f := sprung()
	for _, id := range []string{"spring-held", "spring-guided"} {
		if g, ok := get(run(t, f), id, ""); !ok || g.Verdict != finding.Pass {
			t.Errorf("%s: %+v", id, g)
		}
	}
	f = sprung()
	f.Spring.Disc = &catalog.DiscSpring{Name: "28x14.2x1.5", Outer: 28, Inner: 14.2, T: 1.5, H0: 0.65}
	found := run(t, f)
	held, _ := get(found, "spring-held", "")
	major := f.Rods.Thread.Major.MM()
	want := f.Washer.Outer.MM()/2 - 7.1 - (14.2-major)/2 - (f.Washer.Inner.MM()-major)/2
	if held.Verdict != finding.Fail || math.Abs(held.Have-want) > 1e-9 {
		t.Errorf("%+v, want %.3f", held, want)
	}
	guided, _ := get(found, "spring-guided", "")
	if guided.Verdict != finding.Warn || math.Abs(guided.Have-(14.2-major)) > 1e-9 || math.Abs(guided.Need-0.9) > 1e-9 {
		t.Errorf("%+v", guided)
	}
}
