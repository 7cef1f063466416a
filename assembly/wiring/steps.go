package wiring

import (
	"fmt"
	"math"
	"sort"
)

// Action is what a step does.
type Action string

// The actions.
const (
	Stack     Action = "stack"     // cells into the clamp, turned as the state says
	Close     Action = "close"     // clamp tightened
	Open      Action = "open"      // clamp slackened
	TurnCells Action = "turn"      // cells turned round
	Fit       Action = "fit"       // links fitted, in the order given
	Remove    Action = "remove"    // links taken off, in the order given
	Measure   Action = "measure"   // voltages read; nothing changes
	Charge    Action = "charge"    // to ToCharge
	Discharge Action = "discharge" // to ToCharge
)

// Step is one thing to do, in the order of Plan.Steps.
type Step struct {
	Number   int // 1 based
	Action   Action
	State    string // the state being worked towards or used
	Links    []Link // Fit, Remove: in order
	Cells    []int  // TurnCells: slots
	ToCharge float64
	// ExpectV is what the meter must show between the take-offs, Measure only;
	// 0 where no one figure can be named.
	ExpectV float64
	Hours   float64 // Charge, Discharge
	Text    string
}

// stepWriter writes the steps of a plan, keeping track of what is fitted.
type stepWriter struct {
	l      *Layout
	p      *Plan
	fitted []Link
	turns  Turns
}

func (w *stepWriter) add(s Step) {
	s.Number = len(w.p.Steps) + 1
	w.p.Steps = append(w.p.Steps, s)
}

// writeSteps turns the states of a plan into steps.
func (l *Layout) writeSteps(p *Plan) {
	w := &stepWriter{l: l, p: p, turns: p.States[0].Turns}
	w.begin(p.States[0])
	for _, s := range p.States {
		if !sameTurns(w.turns, s.Turns) {
			w.reopen(s)
		}
		w.change(s)
		w.check(s)
		w.use(s)
	}
}

func sameTurns(a, b Turns) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func (w *stepWriter) begin(s State) {
	in := w.l.in
	w.add(Step{Action: Stack, State: s.ID, ToCharge: in.StorageCharge,
		Text: fmt.Sprintf("Put the cells into the clamp, each at or below %s charge: %s.",
			percent(in.StorageCharge), w.l.sidesText(s.Turns))})
	w.add(Step{Action: Close, State: s.ID, Text: "Close the clamp and set it. It stays closed while any cell is above " +
		percent(in.StorageCharge) + " charge."})
}

// sidesText says on which side the plus of every cell stands.
func (l *Layout) sidesText(t Turns) string {
	var left, right []int
	for slot, side := range t {
		if side == Left {
			left = append(left, slot)
		} else {
			right = append(right, slot)
		}
	}
	switch {
	case len(left) == 0:
		return "plus on the right in every one"
	case len(right) == 0:
		return "plus on the left in every one"
	}
	return fmt.Sprintf("plus on the right in %s, on the left in %s", l.cellNames(right), l.cellNames(left))
}

func (l *Layout) cellNames(slots []int) string {
	names := make([]string, len(slots))
	for i, s := range slots {
		names[i] = l.CellName(s)
	}
	return list(names)
}

// reopen takes all links off, opens the clamp and turns the cells that differ.
func (w *stepWriter) reopen(s State) {
	in := w.l.in
	w.remove(s, w.fitted, "Take all links off")
	w.add(Step{Action: Open, State: s.ID, Text: fmt.Sprintf("Read every cell: open the clamp only when none is above %s (%s charge).",
		volts(in.Volts.Storage), percent(in.StorageCharge))})
	var turned []int
	for slot := range s.Turns {
		if s.Turns[slot] != w.turns[slot] {
			turned = append(turned, slot)
		}
	}
	w.turns = s.Turns
	w.p.Turned += len(turned)
	w.add(Step{Action: TurnCells, State: s.ID, Cells: turned,
		Text: fmt.Sprintf("Turn %s round: %s.", w.l.cellsText(turned), w.l.sidesText(s.Turns))})
	w.add(Step{Action: Close, State: s.ID, Text: "Close the clamp and set it again."})
}

func (l *Layout) cellsText(slots []int) string {
	if len(slots) == 1 {
		return "cell " + l.cellNames(slots)
	}
	return "cells " + l.cellNames(slots)
}

// change takes off what the state does not want and fits what it lacks.
func (w *stepWriter) change(s State) {
	var off []Link
	for _, k := range w.fitted {
		if !holds(s.Links, k) {
			off = append(off, k)
		}
	}
	w.remove(s, off, "Take off")
	var on []Link
	for _, k := range w.l.fitOrder(s) {
		if !holds(w.fitted, k) {
			on = append(on, k)
		}
	}
	if len(on) == 0 {
		return
	}
	if joinsLikePoles(on, s.Turns) {
		w.beforeParallel(s)
	}
	w.fitted = append(w.fitted, on...)
	w.add(Step{Action: Fit, State: s.ID, Links: on,
		Text: fmt.Sprintf("Fit %s, one after the other, capping every other terminal in reach: %s.",
			count(len(on), "link"), w.l.linkNames(on, s.Turns))})
}

func joinsLikePoles(links []Link, t Turns) bool {
	for _, k := range links {
		if t.Pole(k.A) == t.Pole(k.B) {
			return true
		}
	}
	return false
}

func holds(links []Link, k Link) bool {
	for _, o := range links {
		if o.key() == k.key() && o.Cable == k.Cable && o.layers() == k.layers() && o.CableMM2 == k.CableMM2 {
			return true
		}
	}
	return false
}

func (w *stepWriter) remove(s State, off []Link, words string) {
	if len(off) == 0 {
		return
	}
	back := make([]Link, 0, len(off))
	for i := len(off) - 1; i >= 0; i-- {
		back = append(back, off[i])
	}
	var kept []Link
	for _, k := range w.fitted {
		if !holds(off, k) {
			kept = append(kept, k)
		}
	}
	w.fitted = kept
	w.add(Step{Action: Remove, State: s.ID, Links: back,
		Text: fmt.Sprintf("Disconnect charger and load. %s, in reverse order: %s. Count %s on the bench before anything else is fitted.",
			words, w.l.linkNames(back, w.turns), count(len(back), "link"))})
}

// fitOrder sorts the links of a state from the pack minus on, so that the
// voltage on the bench grows as late as possible.
func (l *Layout) fitOrder(s State) []Link {
	want := l.intendedNets(s)
	out := append([]Link(nil), s.Links...)
	sort.SliceStable(out, func(i, j int) bool { return want[out[i].A.node()] < want[out[j].A.node()] })
	return out
}

// beforeParallel has the voltages compared before cells are joined in parallel.
func (w *stepWriter) beforeParallel(s State) {
	w.add(Step{Action: Measure, State: s.ID, Text: fmt.Sprintf(
		"Read every cell. Join cells in parallel only when they agree within %s mV (%s would flow for a moment); bring a stray one there by itself first.",
		trim(1000*w.l.JoinDifferenceV(), 0), amps(w.l.in.CellLimitA))})
}

// JoinDifferenceV is the voltage difference of two cells that drives their
// current limit through them and the least link between: dU = I (2 Ri + Rl),
// rounded down to a millivolt.
func (l *Layout) JoinDifferenceV() float64 {
	ohm := 2*l.in.CellMilliOhm/1000 + 2*l.in.ContactMicroOhm*1e-6
	return math.Floor(1000*l.in.CellLimitA*ohm) / 1000
}

func (w *stepWriter) check(s State) {
	in := w.l.in
	v, charge := in.Volts.Storage, "at storage charge"
	if s.ID == StateDischarge || s.ID == StateFinal && s.Charge > in.StorageCharge+chargeTol {
		v, charge = in.Volts.Full, "just charged; somewhat less after a rest"
	}
	v = s.VoltageOf(v)
	w.add(Step{Action: Measure, State: s.ID, ExpectV: v, Text: fmt.Sprintf(
		"Read the voltage from %s to %s: about %s (%s). Any other reading: stop, take the links off, find the wrong one.",
		w.l.PostName(s.Mains.Minus, s.Turns), w.l.PostName(s.Mains.Plus, s.Turns), volts(v), charge)})
}

// use charges or discharges in a state.
func (w *stepWriter) use(s State) {
	in := w.l.in
	n := 0
	for _, p := range s.Places {
		n += len(p)
	}
	span := 1 - in.StorageCharge
	switch {
	case s.ID == StateDischarge:
		h := float64(in.Parallel) * in.CapacityAh * span / in.DischargerA
		w.add(Step{Action: Discharge, State: s.ID, ToCharge: in.StorageCharge, Hours: h, Text: fmt.Sprintf(
			"Discharge at %s to %s charge, about %s hours; stop when any cell reaches %s.",
			amps(in.DischargerA), percent(in.StorageCharge), trim(h, 1), volts(in.Volts.Least))})
	case s.ID != StateFinal:
		h := float64(n) * in.CapacityAh * span / in.ChargerA
		w.add(Step{Action: Charge, State: s.ID, ToCharge: 1, Hours: h, Text: fmt.Sprintf(
			"Connect the charger, set to %s, minus at %s, plus at %s. Charge at %s until the current has died away, about %s hours.",
			volts(in.Volts.Full), w.l.PostName(s.Mains.Minus, s.Turns), w.l.PostName(s.Mains.Plus, s.Turns),
			amps(in.ChargerA), trim(h, 1))})
	}
}
