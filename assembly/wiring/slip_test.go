package wiring

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// layouts are four packs of our own and 26 at random.
func layouts() []Input {
	r := rand.New(rand.NewPCG(21, 3))
	out := []Input{pack(4, 1, 4, 1), pack(8, 1, 8, 1), pack(8, 2, 16, 1), pack(16, 1, 8, 2)}
	for i := range 26 {
		out = append(out, randomInput(r))
		if i%2 == 0 {
			out[len(out)-1].BoardA = 20
		}
	}
	return out
}

// eachPlan runs a test on every plan of every layout.
func eachPlan(t *testing.T, test func(t *testing.T, l *Layout, p Plan)) {
	t.Helper()
	for i, in := range layouts() {
		l := mustLayout(t, in)
		for _, p := range mustPlans(t, l) {
			t.Run(fmt.Sprintf("%d %ds%dp %s", i, in.Series, in.Parallel, p.ID), func(t *testing.T) { test(t, l, p) })
		}
	}
}

// Every slip is tried, counted here by distance alone, and stopped by a reading: one that
// would short before the link is closed, where a fuse would blow too; a cell that stands
// the wrong way round before the first link; what is no fault joins what belongs together.
func TestEverySlipIsStopped(t *testing.T) {
	eachPlan(t, func(t *testing.T, l *Layout, p Plan) {
		want := map[SlipKind]int{}
		for _, s := range p.Steps {
			state, _ := p.State(s.State)
			switch s.Action {
			case Stack, TurnCells:
				want[WrongWay] += l.Cells()
			case Sense:
				for _, p := range sensePosts(state) {
					for node := range 2 * l.Cells() {
						if x := postOf(node); x != p && l.Position(p, state.Turns).Dist(l.Position(x, state.Turns)) <= 200 {
							want[WrongLead]++
						}
					}
				}
			case Fit:
				want[LeftOut] += len(s.Links)
				for _, k := range s.Links {
					sp := specOf(l, k, state.Turns)
					reach := l.in.endDistance() + l.in.PadDiaMM/2
					switch {
					case k.Cable:
						reach += sp.LengthMM
					case sp.Braided:
						reach += sp.FlatMM // stretched
					default:
						reach += sp.HolesMM + sp.TravelMM/2
					}
					for node := range 2 * l.Cells() {
						x := postOf(node)
						if x == k.A || x == k.B {
							continue
						}
						if l.Position(k.A, state.Turns).Dist(l.Position(x, state.Turns)) <= reach {
							want[WrongLoose]++
						}
						if l.Position(k.B, state.Turns).Dist(l.Position(x, state.Turns)) <= reach {
							want[WrongFirst]++
						}
					}
				}
			}
		}
		have := map[SlipKind]int{}
		for _, s := range Slips(l, p) {
			have[s.Kind]++
			if s.By == Unseen || s.ShortV > 0 && (s.By != ByReading || !s.Fused) || s.Kind == WrongWay && s.By != ByReading {
				t.Errorf("%s of %s in step %d at %v: %s, %v V", s.Kind, s.Link.ID, s.Step, s.At, s.By, s.ShortV)
			}
			state, _ := p.State(p.Steps[s.Step-1].State)
			if s.By != Alike || s.Kind == WrongLead {
				continue
			}
			links := slices.DeleteFunc(slices.Clone(state.Links), func(k Link) bool { return k.key() == s.Link.key() })
			if s.Kind == WrongLoose {
				links = append(links, Link{A: s.Link.A, B: s.At})
			} else {
				links = append(links, Link{A: s.At, B: s.Link.B})
			}
			if other := state; !sameCircuit(l.Cells(), state, func() State { other.Links = links; return other }()) {
				t.Errorf("%s of %s at %v is no fault, but makes another circuit", s.Kind, s.Link.ID, s.At)
			}
		}
		if fmt.Sprint(have) != fmt.Sprint(want) {
			t.Errorf("tried %v, there are %v", have, want)
		}
	})
}

// A reading stops every slip that changes a voltage anywhere. What none stops leaves every
// terminal where it would stand were all right, to the last one of them, so that no current
// flows and no meter tells it before; a reading under current does, or it is no fault.
func TestWhatNoReadingStopsChangesNoVoltage(t *testing.T) {
	unread := 0
	eachPlan(t, func(t *testing.T, l *Layout, p Plan) {
		fitted, slips := []Link{}, map[string][]Slip{}
		key := func(step int, k Link) string { return fmt.Sprint(step, k.ID) }
		for _, s := range Slips(l, p) {
			if s.By != ByReading && s.Link.ID != "" {
				slips[key(s.Step, s.Link)] = append(slips[key(s.Step, s.Link)], s)
			}
		}
		for _, step := range p.Steps {
			state, _ := p.State(step.State)
			at := func(links ...Link) levels {
				return levelsOf(state.Turns, slices.Repeat([]float64{3.3}, l.Cells()), slices.Concat(fitted, links))
			}
			for _, k := range step.Links {
				fitted = without(fitted, k)
				if step.Action == Remove {
					continue
				}
				right := at(k)
				for _, s := range slips[key(step.Number, k)] {
					wrong := at(map[SlipKind][]Link{WrongLoose: {{A: k.A, B: s.At}}, WrongFirst: {{A: s.At, B: k.B}}}[s.Kind]...)
					unread++
					if s.ShortV != 0 || s.ShortA != 0 || s.By == Unseen {
						t.Errorf("%s of %s at %v by %s: %v V", s.Kind, k.ID, s.At, s.By, s.ShortV)
					}
					for i := range 2 * l.Cells() {
						for j := range i {
							a, b := postOf(i), postOf(j)
							if right.joined(a, b) != wrong.joined(a, b) || math.Abs(right.between(a, b)-wrong.between(a, b)) > 1e-9 {
								t.Fatalf("step %d, %s of %s at %v is told by %s, and %v to %v reads otherwise", step.Number, s.Kind, k.ID, s.At, s.By, a, b)
							}
						}
					}
				}
				fitted = append(fitted, k)
			}
		}
	})
	if unread == 0 {
		t.Error("none was tried")
	}
}

// In the recommended plan of a pack of single cells the reading before stops every slip.
// Where cells are in parallel no reading can tell what closes a ring of them: without it
// every terminal stands where it stands with it. There are as many such links as cells
// beside the first of each place; only they, or a link put twice where one of them belongs,
// are left to the look and to the reading under current.
func TestRecommendedPlansAreReadBefore(t *testing.T) {
	single, rings := 0, 0
	uneven := func(in Input) Input {
		in.PlusAt, in.MinusAt = TerminalAt{XMM: 66, ZMM: 9, HeightMM: 5, PadMM: 24}, TerminalAt{XMM: -40, ZMM: -12, HeightMM: 2, PadMM: 16}
		return in
	}
	for i, in := range append(layouts(), pack(2, 1, 2, 1), pack(3, 1, 3, 1), pack(6, 2, 12, 1), pack(14, 1, 14, 1),
		uneven(pack(4, 1, 4, 1)), uneven(pack(6, 2, 12, 1)), uneven(pack(8, 1, 4, 2)), welded(pack(4, 1, 4, 1)), welded(uneven(pack(6, 2, 12, 1))), welded(pack(8, 1, 4, 2))) {
		l := mustLayout(t, in)
		plans := mustPlans(t, l)
		a, _ := Recommend(l.Input(), plans)
		p := plans[slices.IndexFunc(plans, func(p Plan) bool { return p.ID == a.Plan })]
		if in.Parallel == 1 {
			if single++; p.Harm.Stopped[ByReading] != p.Harm.Slips {
				t.Errorf("%d, plan %s: %d of %d slips are read before", i, p.ID, p.Harm.Stopped[ByReading], p.Harm.Slips)
			}
			continue
		}
		out := map[string]bool{}
		for _, s := range Slips(l, p) {
			if s.Kind == LeftOut && s.By != ByReading && (s.By != Alike) {
				out[fmt.Sprint(p.Steps[s.Step-1].State, s.Link.ID)] = true
			}
		}
		rings += len(out)
		if want := in.Series * (in.Parallel - 1); len(p.States) == 1 && len(out) != want {
			t.Errorf("%d, plan %s: %d links may be left out unread, %d close a ring", i, p.ID, len(out), want)
		}
		if p.Harm.Stopped[Unseen] > 0 {
			t.Errorf("%d, plan %s: %v", i, p.ID, p.Harm.Stopped)
		}
	}
	if single < 10 || rings < 20 {
		t.Errorf("%d packs of single cells, %d rings", single, rings)
	}
}

// What must lie on the terminals stops a link where more, less or other lies.
func TestLooksWrong(t *testing.T) {
	a, b, c := Post{0, Left}, Post{1, Left}, Post{2, Left}
	fitted := []Link{{ID: "J1", A: a, B: b}}
	told := Before{Checks: []Check{{}}, Under: [2][]string{{"J1"}, nil}}
	for _, x := range []struct {
		name string
		k    Link
		want bool
	}{{"as told", Link{A: b, B: c}, false}, {"loose end where it lies", Link{A: b, B: a}, true}, {"first end in the air", Link{A: c, B: Post{3, Left}}, true}, {"turned", Link{A: c, B: b}, true}} {
		if got := looksWrong(told, fitted, x.k); got != x.want {
			t.Errorf("%s: %v", x.name, got)
		}
	}
	if told.Under[0] = []string{"J1", "J2"}; !looksWrong(told, fitted, Link{A: b, B: c}) {
		t.Error("a link that is left out is not missed")
	}
}

// Without its readings a plan stops no wrong end that shorts.
func TestSlipsWithoutReadings(t *testing.T) {
	l, p := planOf(t, pack(8, 1, 8, 1), Cross)
	p.Steps = slices.Clone(p.Steps)
	for i := range p.Steps {
		p.Steps[i].Before, p.Steps[i].EachCell = nil, false
	}
	for _, s := range Slips(l, p) {
		if s.Kind == WrongLead { // read in the plug
			continue
		}
		if s.By == ByReading && s.Kind != LeftOut || (s.ShortV > 0 || s.Kind == WrongWay) && s.By != Unseen {
			t.Errorf("%s of %s at %v: %s", s.Kind, s.Link.ID, s.At, s.By)
		}
	}
	if harmOf(l, p).LinkBurns <= p.Harm.LinkBurns {
		t.Error("readings that are not taken cost nothing")
	}
}

// A fuse goes across the gap of a link that reaches a terminal where it would short, and
// of no other; where no fuse does, ten times as much is burnt of what no reading stops.
func TestFuseWhereItHelps(t *testing.T) {
	some, none := 0, 0
	eachPlan(t, func(t *testing.T, l *Layout, p Plan) {
		shorts := map[string]bool{}
		for _, s := range Slips(l, p) {
			shorts[fmt.Sprint(s.Step, s.Link.ID)] = shorts[fmt.Sprint(s.Step, s.Link.ID)] || s.ShortV > 0
		}
		for _, s := range p.Steps {
			for i, b := range s.Before {
				if want := s.Action == Fit && shorts[fmt.Sprint(s.Number, s.Links[i].ID)]; b.Fused != want {
					t.Errorf("step %d, %s: a fuse %v, could short %v", s.Number, s.Links[i].ID, b.Fused, want)
				}
				if read, _ := l.BeforeText(b, s.Links[i], s.Turns); strings.HasSuffix(read, "; fuse") != b.Fused {
					t.Errorf("read first: %s", read)
				}
				some, none = some+flag(b.Fused), none+flag(!b.Fused)
			}
		}
	})
	if some == 0 || none == 0 {
		t.Errorf("%d with a fuse, %d without", some, none)
	}
	for _, fused := range []bool{true, false} {
		h := Harm{Stopped: map[StoppedBy]int{}}
		h.slip([]Slip{{Kind: WrongLoose, By: ByReading, Fused: fused, ShortV: 3, ShortA: 10000}})
		near(t, "burns", h.LinkBurns, map[bool]float64{true: 0.09, false: 0.9}[fused], 1e-9)
		near(t, "worst", h.WorstA, 10000, 0)
	}
}

// The four cases of a link that goes astray, by their readings.
func TestReadingsOfOneLink(t *testing.T) {
	l := mustLayout(t, pack(4, 1, 4, 1))
	right := Turns{Right, Right, Right, Right}
	minus := func(slot int) Post { return right.At(slot, Minus) }
	plus := func(slot int) Post { return right.At(slot, Plus) }
	path, v := []int{0, 1, 2, 3}, l.in.Volts.Storage
	lv := levelsOf(right, slices.Repeat([]float64{v}, 4), []Link{{A: minus(0), B: minus(1)}})
	joins := checksBefore(lv, Link{A: minus(1), B: minus(2)}, path, v)
	if want := []Check{{Black: minus(0), Red: plus(2), Lead: true, WantV: v}}; !slices.Equal(joins, want) {
		t.Errorf("brings a cell in: %+v", joins)
	}
	closes := checksBefore(lv, Link{A: plus(0), B: plus(1)}, path, v)
	if want := []Check{{Black: minus(0), Red: plus(0), RedLoose: true, WantV: v}, {Black: minus(0), Red: plus(1), WantV: v}, {Black: plus(0), Red: plus(1), BlackLoose: true}}; !slices.Equal(closes, want) {
		t.Errorf("closes a ring: %+v", closes)
	}
	s := &slips{l: l, turns: right}
	for _, c := range []struct {
		name   string
		checks []Check
		at     Link
		want   bool
	}{
		{"as meant", joins, Link{A: minus(1), B: minus(2)}, false},
		{"wrong pole", joins, Link{A: minus(1), B: plus(2)}, true},
		{"another cell", joins, Link{A: minus(1), B: minus(3)}, true},
		{"a short", joins, Link{A: minus(1), B: plus(1)}, true},
		{"first end wrong", joins, Link{A: plus(1), B: minus(2)}, true},
		{"first end in the air", joins, Link{A: minus(3), B: minus(2)}, true},
		{"ring as meant", closes, Link{A: plus(0), B: plus(1)}, false},
		{"ring shorted", closes, Link{A: plus(0), B: minus(1)}, true},
		{"ring in the air", closes, Link{A: plus(0), B: plus(2)}, true},
		{"ring's first end in the air", closes, Link{A: plus(3), B: plus(1)}, true},
	} {
		if got := s.seen(lv, c.checks, c.at); got != c.want {
			t.Errorf("%s: seen %v", c.name, got)
		}
	}
}

// A reading of nothing is told from 0.02 V on, a count of cells from half a cell on.
func TestReadingLimits(t *testing.T) {
	for _, c := range []struct {
		want, have float64
		shows      bool
	}{{0, 0.02, false}, {0, 0.021, true}, {0, -0.021, true}, {6.6, 8.24, false}, {6.6, 8.26, true}, {6.6, 4.94, true}} {
		if got := (Check{WantV: c.want}).shows(c.have, 3.3); got != c.shows {
			t.Errorf("%v for %v: %v", c.have, c.want, got)
		}
	}
}

// The levels against the solved circuit, at every moment of every plan: whatever two
// terminals the solver finds a voltage between, the levels find the same.
func TestLevelsAgainstCircuit(t *testing.T) {
	eachPlan(t, func(t *testing.T, l *Layout, p Plan) {
		moments, _ := Walk(l, p)
		for _, m := range moments {
			if m.Turns == nil || m.InHand == nil {
				continue
			}
			lv := levelsOf(m.Turns, m.CellV(l), m.Links)
			n := networkOf(l, State{Turns: m.Turns, Links: m.Links}, 0)
			copy(n.EMF, m.CellV(l))
			solver, err := NewSolver(n)
			if err != nil {
				t.Fatal(err)
			}
			for i := range 2 * l.Cells() {
				v, _, ok := solver.Between(m.InHand.A, postOf(i))
				if postOf(i) != m.InHand.A && ok != lv.joined(m.InHand.A, postOf(i)) || math.Abs(v-lv.between(m.InHand.A, postOf(i))) > 1e-6 {
					t.Fatalf("step %d: %v to %v is %v V, levels say %v", m.Step, m.InHand.A, postOf(i), v, lv.between(m.InHand.A, postOf(i)))
				}
			}
		}
	})
}

// At no moment do two terminals without a cap stand at a dangerous voltage: nothing
// that a loose end or a tool joins.
func TestNoDangerousTerminalIsBare(t *testing.T) {
	eachPlan(t, func(t *testing.T, l *Layout, p Plan) {
		moments, _ := Walk(l, p)
		worked := 0
		for _, m := range moments {
			if len(m.Bare) > 0 {
				worked++
			}
			for i, a := range m.Bare {
				for _, b := range m.Bare[i+1:] {
					if v := levelsOf(m.Turns, m.CellV(l), m.Links).between(a, b); math.Abs(v) > nothingV {
						t.Errorf("step %d: %v V between bare %v and %v", m.Step, v, a, b)
					}
				}
			}
		}
		if worked < p.Handlings {
			t.Errorf("%d moments with bare terminals, %d links handled", worked, p.Handlings)
		}
	})
}

// After the last step the links lie on each other in the order in which they went on,
// and no link of an earlier state is left.
func TestMomentsTellWhatLiesWhere(t *testing.T) {
	l, p := planOf(t, pack(16, 1, 8, 2), Cross)
	moments, faults := Walk(l, p)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	last := moments[len(moments)-1]
	final, _ := p.State(StateFinal)
	if len(last.Links) != len(final.Links) || !last.Closed {
		t.Fatalf("%d links, closed %v", len(last.Links), last.Closed)
	}
	for node := range 2 * l.Cells() {
		var want []string
		for _, s := range p.Steps {
			for _, k := range s.Links {
				want = slices.DeleteFunc(want, func(id string) bool { return id == k.ID })
				if s.Action == Fit && (k.A == postOf(node) || k.B == postOf(node)) {
					want = append(want, k.ID)
				}
			}
		}
		if got := last.Under(postOf(node)); !slices.Equal(got, want) {
			t.Errorf("under %v: %v, want %v", postOf(node), got, want)
		}
	}
}

// Above 50 V when full the last link is the one between the halves; below, the order
// runs from the minus on.
func TestHighVoltageComesLast(t *testing.T) {
	for _, c := range []struct {
		series int
		middle bool
	}{{13, false}, {14, true}, {16, true}} {
		l, p := planOf(t, pack(c.series, 1, c.series, 1), Cross)
		var on []Link
		for _, s := range p.Steps {
			if s.Action == Fit && s.State == StateFinal {
				on = append(on, s.Links...)
			}
		}
		final, _ := p.State(StateFinal)
		between := intendedNets(l, final)[on[len(on)-1].A.node()]
		if got := between == c.series/2; got != c.middle {
			t.Errorf("%d in series: the last link is at place %d", c.series, between)
		}
	}
}

// Which plan is followed, and the figures it rests on, for four packs.
func TestPlansRankedByHarm(t *testing.T) {
	for _, c := range []struct {
		in   Input
		want PlanID
	}{{pack(4, 1, 4, 1), Single}, {pack(8, 1, 8, 1), Single}, {pack(8, 2, 16, 1), Single}, {pack(4, 1, 2, 2), Single}, {pack(16, 1, 8, 2), Single}} {
		l := mustLayout(t, c.in)
		plans := mustPlans(t, l)
		a, ok := Recommend(l.Input(), plans)
		if !ok || a.Plan != c.want {
			t.Errorf("%ds%dp: %s", c.in.Series, c.in.Parallel, a.Plan)
		}
		for _, p := range plans {
			if p.ID != a.Plan && p.Harm.Burns() < plans[slices.IndexFunc(plans, func(q Plan) bool { return q.ID == a.Plan })].Harm.Burns()*(1-alikeShare) {
				t.Errorf("%s does less harm than %s", p.ID, a.Plan)
			}
		}
	}
	alike, worse := Plan{LinksMade: 6, Harm: Harm{LinkBurns: 10}}, Plan{LinksMade: 5, Harm: Harm{LinkBurns: 10.1}}
	if !worse.better(alike) || alike.better(worse) {
		t.Error("among equals the fewer links go first")
	}
	worse.Harm.LinkBurns = 10.3
	if worse.better(alike) || !alike.better(worse) {
		t.Error("less harm goes first")
	}
}

// Cells all in parallel have one plan, whatever is asked for.
func TestAskedForInParallel(t *testing.T) {
	in := pack(4, 1, 1, 4)
	in.Forced = Turn
	l := mustLayout(t, in)
	a, ok := Recommend(l.Input(), mustPlans(t, l))
	if !ok || a.Plan != Cross || a.Forced || !strings.Contains(a.Why[0], "nothing to do that way") {
		t.Errorf("%v %+v", ok, a)
	}
}

// With a board the pack is charged in series and every place topped up: far fewer
// hours, no link moved twice, and the plan that is followed; without one there is no
// such plan.
func TestChargingInSeries(t *testing.T) {
	in := pack(8, 2, 16, 1)
	for _, p := range mustPlans(t, mustLayout(t, in)) {
		if p.ID == InSeries {
			t.Error("a plan without a board")
		}
	}
	in.BoardA, in.ChargerA, in.DischargerA, in.ArrivalCharge = 20, 20, 20, 0.3
	l, p := planOf(t, in, InSeries)
	_, cross := planOf(t, in, Cross)
	// 0.65 and 0.6 of 280 Ah at 20 A, and 16 times a tenth of it and half an hour.
	if want := 280*0.65/20 + 280*0.6/20 + 16*(280*0.1/20+0.5); !p.Proven() || math.Abs(p.Hours-want) > 1e-6 || p.Hours > cross.Hours/3 {
		t.Errorf("proven %v, %v hours, want %v; crossed %v", p.Proven(), p.Hours, want, cross.Hours)
	}
	if p.Handlings != 15 || p.Openings != 0 {
		t.Errorf("%d links handled, %d openings", p.Handlings, p.Openings)
	}
	if a, _ := Recommend(l.Input(), mustPlans(t, l)); a.Plan != InSeries {
		t.Errorf("followed is %s", a.Plan)
	}
	p.Steps = drop(p.Steps, TopUp, 0)
	if got := faultKinds(sequenceFaults(l, p)); !slices.Contains(got, FaultSequence) {
		t.Errorf("never full: %v", got)
	}
}
