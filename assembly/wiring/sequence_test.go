package wiring

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// planOf returns one plan of a pack.
func planOf(t *testing.T, in Input, id PlanID) (*Layout, Plan) {
	t.Helper()
	l := mustLayout(t, in)
	for _, p := range mustPlans(t, l) {
		if p.ID == id {
			return l, p
		}
	}
	t.Fatalf("no plan %s", id)
	return nil, Plan{}
}

// opensFull is an oracle of its own: the greatest charge any cell can have when
// the clamp is opened, following charge and discharge steps only.
func opensFull(p Plan, start float64) bool {
	charge := start
	for _, s := range p.Steps {
		switch s.Action {
		case Charge:
			charge = max(charge, s.ToCharge)
		case Discharge:
			charge = s.ToCharge
		case Open:
			if charge > start {
				return true
			}
		}
	}
	return false
}

func faultKinds(faults []Fault) []FaultKind { return kinds(Proof{Faults: faults}) }

func TestClampIsNeverOpenedFull(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 3))
	for range 40 {
		in := randomInput(r)
		l := mustLayout(t, in)
		for _, p := range mustPlans(t, l) {
			if opensFull(p, in.StorageCharge) {
				t.Fatalf("plan %s opens the clamp on charged cells", p.ID)
			}
			if p.ID != Turn && p.Openings > 0 {
				t.Fatalf("plan %s opens the clamp", p.ID)
			}
		}
	}
}

// Steps exchanged, dropped or doubled: whenever the oracle sees the clamp opened
// on charged cells, the proof must name an opening.
func TestSequenceProofOverSpoiltPlans(t *testing.T) {
	r := rand.New(rand.NewPCG(12, 3))
	full := 0
	for range 25 {
		in := randomInput(r)
		l := mustLayout(t, in)
		for _, p := range mustPlans(t, l) {
			for range 10 {
				q := p
				q.Steps = spoilSteps(r, p.Steps)
				faults := sequenceFaults(l, q)
				if !opensFull(q, in.StorageCharge) {
					continue
				}
				full++
				if !slices.Contains(faultKinds(faults), FaultOpening) {
					t.Fatalf("plan %s opened on charged cells: %v", p.ID, faults)
				}
			}
		}
	}
	if full < 20 {
		t.Errorf("only %d spoilt plans opened on charged cells", full)
	}
}

func spoilSteps(r *rand.Rand, steps []Step) []Step {
	out := slices.Clone(steps)
	i, j := 1+r.IntN(len(out)-1), 1+r.IntN(len(out)-1)
	switch r.IntN(4) {
	case 0:
		out[i], out[j] = out[j], out[i]
	case 1:
		out = slices.Delete(out, i, i+1)
	case 2:
		out = slices.Insert(out, i, out[j])
	default:
		for k := range out {
			if out[k].Action == Discharge {
				out[k].ToCharge = 0.41 + 0.5*r.Float64()
			}
		}
	}
	return out
}

// drop returns the steps without the n-th step of an action.
func drop(steps []Step, a Action, n int) []Step {
	for i, s := range steps {
		if s.Action == a {
			if n == 0 {
				return slices.Delete(slices.Clone(steps), i, i+1)
			}
			n--
		}
	}
	return steps
}

func TestSequenceFaults(t *testing.T) {
	for _, c := range []struct {
		name string
		plan PlanID
		drop Action
		nth  int
		want FaultKind
	}{
		{"no discharge before opening", Turn, Discharge, 0, FaultOpening},
		{"links left on before opening", Turn, Remove, 1, FaultSequence},
		{"clamp left open", Turn, Close, 1, FaultSequence},
		{"cells not turned", Turn, TurnCells, 0, FaultTurned},
		{"turned in the closed clamp", Turn, Open, 0, FaultSequence},
		{"charged in an open clamp", Cross, Close, 0, FaultOpening},
		{"series links on full cells", Cross, Discharge, 0, FaultSequence},
		{"series links over jumpers", Cross, Remove, 0, FaultLink},
		{"jumpers never fitted", Cross, Fit, 0, FaultMissing},
		{"series links never fitted", Cross, Fit, 1, FaultMissing},
		{"cells never filled", Single, TopUp, 0, FaultSequence},
		{"full cells linked", Single, Discharge, 0, FaultSequence},
		{"filled in an open clamp", Single, Close, 0, FaultOpening},
		{"not stacked", Single, Stack, 0, FaultSequence},
	} {
		l, p := planOf(t, pack(8, 1, 8, 1), c.plan)
		before := len(p.Steps)
		p.Steps = drop(p.Steps, c.drop, c.nth)
		if len(p.Steps) != before-1 {
			t.Fatalf("%s: nothing dropped", c.name)
		}
		if got := faultKinds(sequenceFaults(l, p)); !slices.Contains(got, c.want) {
			t.Errorf("%s: %v, want %s", c.name, got, c.want)
		}
	}
}

// Followed by charge and discharge alone: no link between unlike poles is fitted
// and none is taken off while a cell is above the storage charge, and every plan
// ends there.
func TestLinksAreHandledAtStorageCharge(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 3))
	for range 20 {
		in := randomInput(r)
		l := mustLayout(t, in)
		for _, p := range mustPlans(t, l) {
			charge := in.StorageCharge
			for _, s := range p.Steps {
				if s.ExpectV > 0 && !(s.Band.LowV < s.ExpectV && s.ExpectV < s.Band.HighV) {
					t.Fatalf("plan %s: %v V expected of %v", p.ID, s.ExpectV, s.Band)
				}
				switch s.Action {
				case Charge, Discharge:
					charge = s.ToCharge
				case Fit, Remove, Open:
					if charge > in.StorageCharge {
						t.Fatalf("plan %s: %s at %v charge", p.ID, s.Action, charge)
					}
				}
			}
			if charge > in.StorageCharge {
				t.Fatalf("plan %s ends at %v charge", p.ID, charge)
			}
		}
	}
}

// A step handles no more links than a hand finishes, all of them in order, each
// named with the mark on the part; a link's name is no part's mark.
func TestLinkStepsAreShort(t *testing.T) {
	l, p := planOf(t, pack(8, 2, 16, 1), Cross)
	var fitted []string
	for _, s := range p.Steps {
		if len(s.Links) > linksAtOnce {
			t.Errorf("step %d handles %d links", s.Number, len(s.Links))
		}
		state, _ := p.State(s.State)
		for _, k := range s.Links {
			if s.Action != Fit {
				continue
			}
			fitted = append(fitted, k.ID)
			sp, ok := l.SpecFor(k, state.Turns, p.Specs)
			if !ok || sp.Mark == "" || sp.Mark == k.ID {
				t.Errorf("step %d: link %s has mark %q", s.Number, k.ID, sp.Mark)
			}
		}
		if len(s.Links) != len(s.Before) {
			t.Errorf("step %d: %d links, readings for %d", s.Number, len(s.Links), len(s.Before))
		}
	}
	if len(fitted) != 45 || fitted[30] != "J31" || fitted[43] != "J45" || fitted[44] != "J38" { // the one between the halves
		t.Errorf("fitted %v", fitted)
	}
}

func TestSequenceOfNonsense(t *testing.T) {
	l, p := planOf(t, pack(4, 1, 4, 1), Cross)
	for name, steps := range map[string][]Step{
		"empty":          {},
		"unknown state":  {{Action: Stack, State: "elsewhere"}},
		"unknown action": {{Action: Stack, State: StateFinal}, {Action: "jump", State: StateFinal}},
		"far link":       {{Action: Stack, State: StateFinal}, {Action: Close, State: StateFinal}, {Action: Fit, State: StateFinal, Links: []Link{{A: Post{99, Left}}}}},
		"far cell":       {{Action: Stack, State: StateFinal}, {Action: TurnCells, State: StateFinal, Cells: []int{-1}}},
		"full stack":     {{Action: Stack, State: StateFinal, ToCharge: 1}},
	} {
		q := p
		q.Steps = steps
		if len(sequenceFaults(l, q)) == 0 {
			t.Errorf("%s: no fault", name)
		}
	}
}
