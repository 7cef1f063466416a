package wiring

import (
	"slices"
	"strings"
	"testing"
)

// Where strips are welded on, no link is made and none taken off, no joint is screwed, and
// no word is of screws, bars, lugs or of what cannot be done there; the cells are filled
// each by itself before, every slip is read before, and nothing comes apart.
func TestWeldedPacks(t *testing.T) {
	for _, in := range []Input{pack(4, 1, 4, 1), pack(8, 2, 16, 1), pack(8, 1, 4, 2), pack(4, 1, 1, 4), pack(2, 1, 2, 1)} {
		for _, board := range []float64{0, 20} {
			in.BoardA = board
			l := mustLayout(t, welded(in))
			for _, p := range mustPlans(t, l) {
				if p.ID == Turn || in.Series > 1 && p.ID == Cross {
					t.Errorf("%ds%dp: plan %s takes strips off", in.Series, in.Parallel, p.ID)
				}
				if !p.Proven() || len(p.Specs) > 0 || p.LinksMade > 0 || p.Openings > 0 || len(p.Apart(l)) > 0 || p.Harm.Stopped[Unseen] > 0 {
					t.Errorf("%ds%dp %s: %v, %d specs, %d opened, apart %d, %v", in.Series, in.Parallel, p.ID, p.Faults(), len(p.Specs), p.Openings, len(p.Apart(l)), p.Harm.Stopped)
				}
				fitted := 0
				for _, s := range p.Steps {
					for _, word := range []string{"screw", "bars", "lugs", "torque", "link", "jumper", "nut"} {
						if strings.Contains(strings.ToLower(s.Text), word) {
							t.Errorf("%ds%dp %s: %q in %q", in.Series, in.Parallel, p.ID, word, s.Text)
						}
					}
					if s.Action == Fit {
						fitted += len(s.Links)
					}
					if len(s.Lugs) > 0 && s.Action != Sense || s.Action == Remove {
						t.Errorf("%ds%dp %s: %s with %v", in.Series, in.Parallel, p.ID, s.Action, s.Lugs)
					}
				}
				if s, _ := p.State(StateFinal); fitted != len(s.Links) {
					t.Errorf("%ds%dp %s: %d of %d strips", in.Series, in.Parallel, p.ID, fitted, len(s.Links))
				}
			}
		}
	}
	in := welded(pack(4, 1, 4, 1))
	in.Forced = Cross
	l := mustLayout(t, in)
	if a, ok := Recommend(l.Input(), mustPlans(t, l)); !ok || a.Plan != Single || !slices.ContainsFunc(a.Why, func(s string) bool { return strings.Contains(s, "not taken off") }) {
		t.Errorf("%+v", a)
	}
}
