package wiring

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// What no reading stops before the next link does no harm until a reading under current
// tells it, over all layouts, plans and ways back from every moment, in short from a fifth: it joins only what belongs together, so
// that nothing is shorted and no pole is wrong; every link after it finds nothing where
// nothing is wanted; no link or cell carries more than it may for long, though another is
// missing; and neither is a link taken off nor the clamp opened before it is told.
func TestWhatIsToldLaterIsHarmless(t *testing.T) {
	tried := map[SlipKind]int{}
	eachPlan(t, func(t *testing.T, l *Layout, p Plan) {
		moments, _ := Walk(l, p)
		ways := []Plan{p}
		for i, m := range distinct(p, moments) {
			if i%5 == 0 || !testing.Short() {
				ways = append(ways, p.Renewal(l, m, 0))
			}
		}
		for _, way := range append(ways, p.Renewal(l, moments[len(moments)-1], 0)) {
			for _, s := range Slips(l, way) {
				if s.By == Later || s.By == ByLook {
					tried[s.Kind]++
					carryOn(t, l, way, s)
				}
			}
		}
	})
	if tried[LeftOut] == 0 || tried[WrongLoose] == 0 || tried[WrongFirst] == 0 {
		t.Errorf("tried %v", tried)
	}
}

// wronged is a link as a slip leaves it; none where it is left out.
func wronged(s Slip) []Link {
	k := s.Link
	switch s.Kind {
	case LeftOut:
		return nil
	case WrongLoose:
		k.B = s.At
	case WrongFirst:
		k.A = s.At
	}
	return []Link{k}
}

// carryOn does the rest of a plan up to the reading that tells a slip.
func carryOn(t *testing.T, l *Layout, p Plan, s Slip) {
	t.Helper()
	state, _ := p.State(p.Steps[s.Step-1].State)
	there := state
	there.Links = append(without(state.Links, s.Link), wronged(s)...)
	if f := append(linkFaults(l, there, intendedNets(l, there)), turnedFaults(l, there)...); len(f) > 0 {
		t.Errorf("%s of %s at %v: %v", s.Kind, s.Link.ID, s.At, f)
	}
	bears := func(amps float64) {
		solver, err := NewSolver(networkOf(l, there, l.in.Volts.Nominal))
		if err != nil {
			t.Fatal(err)
		}
		sol, err := solver.Load(there.Mains, amps)
		if err != nil { // nothing hangs on the charger
			return
		}
		for i, k := range there.Links {
			if a := math.Abs(sol.LinkA[i]); a > continuousA(l, k)*1.000001 {
				t.Errorf("%s of %s at %v: %s carries %.2f A, at most %.2f A", s.Kind, s.Link.ID, s.At, k.ID, a, continuousA(l, k))
			}
		}
		for slot, a := range sol.CellA {
			if math.Abs(a) > l.in.CellLimitA*1.000001 {
				t.Errorf("%s of %s at %v: cell %d carries %.2f A, at most %.2f A", s.Kind, s.Link.ID, s.At, slot, a, l.in.CellLimitA)
			}
		}
	}
	var fitted []Link
	if p.From != nil {
		fitted = slices.Clone(p.From.Links)
	}
	for n, step := range p.Steps {
		now, _ := p.State(step.State)
		for _, k := range step.Links {
			fitted = without(fitted, k)
			if step.Action != Fit {
				continue
			}
			if lv := levelsOf(now.Turns, slices.Repeat([]float64{3.3}, l.Cells()), fitted); n+1 >= s.Step && math.Abs(lv.between(k.A, k.B)) > nothingV {
				t.Errorf("%s of %s at %v: then %s closes on %v V", s.Kind, s.Link.ID, s.At, k.ID, lv.between(k.A, k.B))
			}
			if fitted = append(fitted, k); n+1 == s.Step && k.key() == s.Link.key() {
				fitted = append(fitted[:len(fitted)-1], wronged(s)...)
			}
		}
		if n+1 < s.Step {
			continue
		}
		switch step.Action {
		case Charge:
			bears(-step.Amps)
			back := Plan{}
			(&stepWriter{l: l, p: &back, fitted: now.Links}).drawDown(now)
			bears(back.Steps[0].Amps) // taken apart from there
		case Measure:
			if len(step.Over) > 0 {
				bears(step.Amps)
			}
			if len(step.Over) > 0 || step.EachCell && step.ExpectV == l.in.Volts.Full {
				if next := p.Steps[min(n+1, len(p.Steps)-1)]; next.Action == Discharge { // as the reading says
					bears(next.Amps)
				}
				return
			}
		case Fit, Match, Sense:
		default:
			t.Errorf("%s of %s at %v: %s before it is told", s.Kind, s.Link.ID, s.At, step.Action)
		}
	}
	t.Errorf("%s of %s at %v is never told", s.Kind, s.Link.ID, s.At)
}

// The same with chargers, loads and cells of any size: where a jumper is missing, another
// may carry all, and one cell too.
func TestAnyChargerIsHarmless(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 4))
	for range 8 {
		in := randomInput(r)
		in.ChargerA, in.DischargerA, in.CellLimitA, in.RatedA = 10+190*r.Float64(), 10+190*r.Float64(), 20+120*r.Float64(), 20+200*r.Float64()
		l := mustLayout(t, in)
		for _, p := range mustPlans(t, l) {
			for _, s := range Slips(l, p) {
				if s.By == Later || s.By == ByLook {
					carryOn(t, l, p, s)
				}
			}
		}
	}
}
