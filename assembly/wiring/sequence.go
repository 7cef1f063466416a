package wiring

import (
	"fmt"
	"slices"
)

// realPack is the pack as it really is while a plan is carried out.
type realPack struct {
	l      *Layout
	p      *Plan
	closed bool
	sensed bool // the sense leads are on
	turns  Turns
	charge []float64
	full   []bool // has been charged to full, that is balanced
	links  []Link
	faults []Fault
	seen   map[string]bool // faults already named: the first step counts
	step   int
	past   []Moment
}

// Moment is the pack as it is after a step, or with one link in hand: its end A
// fitted, its end B loose.
type Moment struct {
	Step   int // of the plan, 1 based
	InHand *Link
	Closed bool // the clamp, set to its force; else it is slack
	Sensed bool // the sense leads are on
	Turns  Turns
	Charge []float64 // of every cell
	// Links are those whose joints are tight, in the order in which they went on.
	Links []Link
	// Bare are the terminals without a cap, while a tool or a loose end is at hand.
	Bare []Post
}

// Under names the links that lie under a terminal's screw, the lowest first.
func (m Moment) Under(p Post) []string { return under(m.Links, p) }

// under names those of some links that lie on a terminal, in their order.
func under(links []Link, p Post) []string {
	var out []string
	for _, k := range links {
		if k.on(p) {
			out = append(out, k.ID)
		}
	}
	return out
}

// CellV are the cells' resting voltages, as named for their charge.
func (m Moment) CellV(l *Layout) []float64 {
	out := make([]float64, len(m.Charge))
	for i, c := range m.Charge {
		out[i] = voltageAt(l, c)
	}
	return out
}

// note keeps the moment.
func (b *realPack) note(inHand *Link, bare ...Post) {
	b.past = append(b.past, Moment{b.step, inHand, b.closed, b.sensed, slices.Clone(b.turns), slices.Clone(b.charge), slices.Clip(b.links), bare})
}

func (b *realPack) report(f Fault) {
	f.Step = b.step
	key := string(f.Kind) + "|" + f.State + "|" + f.Text
	if !b.seen[key] {
		b.seen[key] = true
		b.faults = append(b.faults, f)
	}
}

// Walk carries a plan out step by step, one link at a time, and returns the pack after
// every step and with every link in hand, beside what must not be done. It trusts the
// states and the steps alone, not the way they were made:
//
//   - the clamp is opened only when no cell is above the storage charge, and
//     cells are turned only with the clamp open and no link at them;
//   - cells are charged only in the closed clamp, in a state that is proven;
//   - every link fitted joins what the state worked towards means to join: so no cell
//     is shorted and no loop is opposed at any time;
//   - what stays does not lie on what comes off, bars lie on no lug, and every screw
//     goes back on what its terminal keeps;
//   - cells that are joined hold the same charge, and in series no more than the
//     storage charge;
//   - no link is worked on with the sense leads on;
//   - at the end the clamp is closed, every cell has been balanced and the final
//     state is proven.
func Walk(l *Layout, p Plan) ([]Moment, []Fault) {
	b := &realPack{l: l, p: &p, charge: make([]float64, l.Cells()), full: make([]bool, l.Cells()), seen: map[string]bool{}}
	for i := range b.charge {
		b.charge[i] = l.in.StorageCharge
	}
	if m := p.From; m != nil {
		b.closed, b.sensed, b.turns, b.links = m.Closed, m.Sensed, slices.Clone(m.Turns), slices.Clip(m.Links)
		copy(b.charge, m.Charge)
		for i := range b.full {
			b.full[i] = true
		}
	}
	for i, s := range p.Steps {
		b.step = i + 1
		b.do(s)
		b.note(nil)
	}
	b.step = len(p.Steps)
	b.end()
	return b.past, b.faults
}

func (b *realPack) fault(kind FaultKind, state, format string, args ...any) {
	b.report(Fault{Kind: kind, State: state, Text: fmt.Sprintf(format, args...)})
}

func (b *realPack) do(s Step) {
	state, ok := b.p.State(s.State)
	if !ok {
		b.fault(FaultSequence, s.State, "the step belongs to no state of the plan")
		return
	}
	if b.turns == nil && s.Action != Stack {
		b.fault(FaultSequence, s.State, "the cells are not in the clamp yet")
		return
	}
	if b.sensed && slices.Contains([]Action{Fit, Remove, Open}, s.Action) {
		b.fault(FaultSequence, s.State, "links or clamp are worked on with the sense leads on")
	}
	switch s.Action {
	case Stack:
		b.stack(s, state)
	case Close:
		b.closed = true
	case Open:
		b.open(s)
	case TurnCells, Swap:
		b.turn(s)
	case Fit:
		lies := liesOn(b.l, b.turns, b.links)
		for i, k := range s.Links {
			b.note(&s.Links[i], k.A, k.B)
			if b.fit(k, state) {
				lay(b.l, b.turns, lies, k)
			}
			b.screw(k, s, i, lies)
		}
	case Remove:
		lies := liesOn(b.l, b.turns, b.links)
		for i, k := range s.Links {
			if b.remove(k, s.State) {
				lies = lift(b.l, b.turns, lies, k, b.links)
			}
			b.screw(k, s, i, lies)
			b.note(&s.Links[i], k.A, k.B)
		}
	case Charge, Discharge, TopUp: // one lead at a time, a cap over each
		for _, p := range leadPosts(s, state) {
			b.note(nil, p)
		}
		b.run(s, state)
	case Sense:
		for _, j := range s.Lugs {
			b.note(nil, j.Post)
		}
		b.sensed = !s.Off
	case Measure, Match:
	default:
		b.fault(FaultSequence, s.State, "unknown action %q", s.Action)
	}
}

func (b *realPack) stack(s Step, state State) {
	if b.turns != nil || len(state.Turns) != b.l.Cells() {
		b.fault(FaultSequence, s.State, "the cells are stacked twice or not all")
		return
	}
	if s.ToCharge > b.l.in.StorageCharge+chargeTol {
		b.fault(FaultOpening, s.State, "cells above the storage charge are handled outside the clamp")
	}
	b.turns = slices.Clone(state.Turns)
}

func (b *realPack) open(s Step) {
	if c := slices.Max(b.charge); c > b.l.in.StorageCharge+chargeTol {
		b.fault(FaultOpening, s.State, "the clamp is opened with cell %s at %s charge; at most %s is allowed",
			b.l.CellName(slices.Index(b.charge, c)), percent(c), percent(b.l.in.StorageCharge))
	}
	if len(b.links) > 0 {
		b.fault(FaultSequence, s.State, "the clamp is opened with %s fitted", count(len(b.links), "link"))
	}
	b.closed = false
}

func (b *realPack) turn(s Step) {
	if b.closed {
		b.fault(FaultSequence, s.State, "cells are turned in the closed clamp")
	}
	for _, slot := range s.Cells {
		if slot < 0 || slot >= len(b.turns) {
			b.fault(FaultSequence, s.State, "a cell is turned that is not there")
			continue
		}
		for _, k := range b.links {
			if k.A.Slot == slot || k.B.Slot == slot {
				b.fault(FaultSequence, s.State, "cell %s is turned with a link fitted", b.l.CellName(slot))
			}
		}
		if s.Action == Swap {
			b.charge[slot] = b.l.in.StorageCharge
			continue
		}
		b.turns[slot] = b.turns[slot].Other()
	}
}

// fit fits a link and says whether it could.
func (b *realPack) fit(k Link, state State) bool {
	if !b.closed {
		b.fault(FaultSequence, state.ID, "%s is fitted with the clamp open", b.l.LinkName(k, b.turns))
	}
	now := state
	now.Turns, now.Links = b.turns, append(b.links, k)
	if f, bad := brokenState(b.l, now); bad {
		b.fault(FaultBroken, state.ID, "%s", f.Text)
		return false
	}
	b.links = now.Links
	for _, f := range linkFaults(b.l, now, intendedNets(b.l, now)) {
		f.State = state.ID
		b.report(f)
	}
	b.rightCharge(k, state)
	return true
}

// rightCharge refuses to join cells at unlike charge, and cells in series above
// the storage charge: less voltage and less energy are at hand then.
func (b *realPack) rightCharge(k Link, state State) {
	if c := b.charge[k.A.Slot]; b.turns.Pole(k.A) != b.turns.Pole(k.B) && c > b.l.in.StorageCharge+chargeTol {
		b.fault(FaultSequence, state.ID, "%s joins cells in series at %s charge; at most %s is allowed",
			b.l.LinkName(k, b.turns), percent(c), percent(b.l.in.StorageCharge))
	}
	if d := b.charge[k.A.Slot] - b.charge[k.B.Slot]; d > chargeTol || d < -chargeTol {
		b.fault(FaultSequence, state.ID, "%s joins cells at unlike charge", b.l.LinkName(k, b.turns))
	}
}

// remove takes a link off and says whether it was on.
func (b *realPack) remove(k Link, state string) bool {
	i := slices.IndexFunc(b.links, func(o Link) bool { return o.key() == k.key() })
	if i < 0 {
		b.fault(FaultSequence, state, "%s is taken off but was not fitted", b.l.LinkName(k, b.turns))
		return false
	}
	for _, on := range b.links[i+1:] {
		if on.on(k.A) || on.on(k.B) {
			b.fault(FaultSequence, state, "%s is taken off from under %s, which stays", b.l.LinkName(k, b.turns), b.l.LinkName(on, b.turns))
		}
	}
	b.links = slices.Delete(slices.Clone(b.links), i, i+1)
	return true
}

// screw puts the screws or nuts of a link's terminals back on what lies there by then,
// as the step tells, and looks at the seats of bars.
func (b *realPack) screw(k Link, s Step, at int, lies map[Post][]Piece) {
	for i, p := range [2]Post{k.A, k.B} {
		if told := at < len(s.Before) && slices.Equal(s.Before[at].After[i].Lies, lies[p]); !told && len(lies[p]) > 0 {
			b.fault(FaultSequence, s.State, "no screw is put back on what lies at %s", b.l.PostName(p, b.turns))
		}
		for n, x := range lies[p] {
			if n > 0 && x.Flat && lies[p][n-1].Link != "" && !lies[p][n-1].Flat {
				b.fault(FaultSequence, s.State, "link %s lies on the lug of a cable at %s", x.Link, b.l.PostName(p, b.turns))
			}
		}
	}
}

// actual is a state with the links and turns that are really there.
func (b *realPack) actual(state State) State {
	state.Turns, state.Links = b.turns, b.links
	return state
}

func (b *realPack) run(s Step, state State) {
	if !b.closed {
		b.fault(FaultOpening, s.State, "cells are charged or discharged in the open clamp")
	}
	stands := []State{state}
	if s.Alone {
		stands = nil
		for slot := range state.Turns {
			stands = append(stands, state.alone(slot))
		}
	}
	for _, x := range stands {
		for _, f := range b.l.Prove(b.actual(x)).Faults {
			b.report(f)
		}
	}
	if !(s.ToCharge >= 0 && s.ToCharge <= 1) {
		b.fault(FaultSequence, s.State, "charge %v is not a fraction", s.ToCharge)
		return
	}
	for _, place := range state.Places {
		for _, slot := range place {
			if slot >= 0 && slot < len(b.charge) {
				b.charge[slot] = s.ToCharge
				b.full[slot] = b.full[slot] || s.ToCharge >= 1-chargeTol
			}
		}
	}
}

func (b *realPack) end() {
	state, ok := b.p.State(StateFinal)
	if !ok || b.turns == nil {
		b.fault(FaultSequence, StateFinal, "the plan does not end in the finished pack")
		return
	}
	if !b.closed || !b.sensed {
		b.fault(FaultSequence, StateFinal, "the plan ends with the clamp open or without sense leads")
	}
	for slot, full := range b.full {
		if !full {
			b.fault(FaultSequence, StateFinal, "cell %s has not been balanced", b.l.CellName(slot))
		}
	}
	for _, f := range b.l.Prove(b.actual(state)).Faults {
		b.report(f)
	}
}
