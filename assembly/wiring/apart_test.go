package wiring

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// distinct are the moments at which a pack stands as at no moment before; the way back
// follows from nothing else.
func distinct(p Plan, moments []Moment) (out []Moment) {
	seen := map[string]bool{}
	for _, m := range moments {
		if m.Turns == nil {
			continue
		}
		key := fmt.Sprint(p.Steps[m.Step-1].State, m.Closed, m.Sensed, m.Turns, m.Charge, m.Links)
		if !seen[key] {
			out = append(out, m)
		}
		seen[key] = true
	}
	return out
}

// From every moment of every plan of every layout the pack comes apart and together
// again: nothing is done that must not be, every slip on the way is stopped, nothing
// dangerous is bare, and at the end the finished pack stands, closed. In short every third.
func TestRenewalFromEveryMoment(t *testing.T) {
	eachPlan(t, func(t *testing.T, l *Layout, p Plan) {
		moments, _ := Walk(l, p)
		moments = distinct(p, moments)
		final, _ := p.State(StateFinal)
		for i, m := range moments {
			if testing.Short() && i%3 != 0 && i != len(moments)-1 {
				continue
			}
			back := p.Renewal(l, m, i%l.Cells())
			way, faults := Walk(l, back)
			if len(faults) > 0 {
				t.Fatalf("from step %d: %v", m.Step, faults)
			}
			last, out := way[len(way)-1], 0
			if !last.Closed || len(last.Links) != len(final.Links) {
				t.Fatalf("from step %d: ends closed %v with %d links", m.Step, last.Closed, len(last.Links))
			}
			for _, s := range back.Steps {
				if s.Action == Swap {
					out++
				}
				if s.Action == Open && (s.Gate == nil || s.Gate.CountedAh <= 0 || s.Gate.UnderV >= l.in.Volts.Nominal || s.Gate.LoadA <= 0) {
					t.Errorf("the clamp is opened without a gate")
				}
			}
			if out != 1 {
				t.Errorf("%d cells replaced", out)
			}
			for _, w := range way {
				for k, a := range w.Bare {
					for _, b := range w.Bare[k+1:] {
						if v := levelsOf(w.Turns, w.CellV(l), w.Links).between(a, b); math.Abs(v) > nothingV {
							t.Errorf("from step %d: %v V between bare terminals", m.Step, v)
						}
					}
				}
			}
			for _, s := range Slips(l, back) {
				if s.By == Unseen || s.ShortV > 0 && s.By != ByReading {
					t.Errorf("from step %d: %s of %s: %s", m.Step, s.Kind, s.Link.ID, s.By)
				}
			}
		}
	})
}

// The way back takes no screw, washer or spacer that was not bought for the way there:
// what is fitted again lies on its terminals as before.
func TestRenewalTakesTheSameScrews(t *testing.T) {
	for _, in := range []Input{pack(6, 2, 4, 3), pack(3, 3, 3, 3), pack(8, 2, 8, 2), pack(4, 1, 4, 1)} {
		l := mustLayout(t, tapped(in, 8))
		for _, p := range mustPlans(t, l) {
			moments, _ := Walk(l, p)
			for i := 1; i < len(moments); i += 7 {
				if m := moments[len(moments)-i]; m.Turns != nil && !fewer(p.Renewal(l, m, 0), p, l) {
					t.Errorf("%ds%dp, plan %s, from step %d: others are needed", in.Series, in.Parallel, p.ID, m.Step)
				}
			}
		}
	}
}

// fewer says that a plan needs no screw, washer or spacer that another has not.
func fewer(p, than Plan, l *Layout) bool {
	screws, washers, spacers := p.Screws(l)
	have, plain, low := than.Screws(l)
	for s, n := range screws {
		if n > have[s] {
			return false
		}
	}
	for s, n := range spacers {
		if n > low[s] {
			return false
		}
	}
	return washers <= plain
}

// A pack that is full is drawn down first, one at storage charge is not; the links
// come off against the order they went on.
func TestRenewalOfAFullPack(t *testing.T) {
	l, p := planOf(t, pack(8, 2, 16, 1), Turn)
	moments, _ := Walk(l, p)
	last := moments[len(moments)-1]
	if s := p.Renewal(l, last, 3).Steps; s[0].Action != Sense || !s[0].Off || s[1].Action != Remove || s[1].Links[0].ID != last.Links[len(last.Links)-1].ID {
		t.Errorf("%s, %s of %v", s[0].Action, s[1].Action, s[1].Links)
	}
	back := p.Renewal(l, last, 3)
	n := len(back.Steps) - 1
	if leads, end := back.Steps[n-1], back.Steps[n]; leads.Action != Sense || leads.Off || end.Action != Measure || len(end.Over) != len(last.Links) {
		t.Errorf("ends with %s and %s over %d joints of %d", leads.Action, end.Action, len(end.Over), len(last.Links))
	}
	back.Steps = back.Steps[1:]
	if _, faults := Walk(l, back); len(faults) == 0 || !strings.Contains(faults[0].Text, "sense leads on") {
		t.Errorf("links off with the sense leads on: %v", faults)
	}
	last.Charge = slices.Repeat([]float64{1}, 16)
	s := p.Renewal(l, last, 3).Steps
	if s[0].Action != Discharge || s[0].ToCharge != l.in.StorageCharge || math.Abs(s[0].Hours-l.in.CapacityAh*0.6/l.in.DischargerA) > 1e-9 {
		t.Errorf("%+v", s[0])
	}
	back = p.Renewal(l, last, 3)
	back.Steps = back.Steps[1:]
	if _, faults := Walk(l, back); !slices.Contains(faultKinds(faults), FaultOpening) {
		t.Errorf("opened full: %v", faults)
	}
}
