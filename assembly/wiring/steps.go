package wiring

import (
	"fmt"
	"sort"
	"strings"

	"clampwright/params/number"
	"clampwright/params/words"
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
	Match     Action = "match"     // strays brought to the charge of the others
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
	// ExpectV is about what the meter must show between the take-offs, Measure
	// only; 0 where no one figure can be named.
	ExpectV float64
	// Band is what the meter may show, beside ExpectV.
	Band  VoltBand
	Hours float64 // Charge, Discharge
	Text  string
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
		if w.change(s) || s.ID != StateFinal {
			w.check(s)
		}
		if s.ID != StateFinal {
			w.balance(s)
		}
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
	return words.Join(names)
}

// reopen takes all links off, opens the clamp and turns the cells that differ.
func (w *stepWriter) reopen(s State) {
	in := w.l.in
	w.remove(s, w.fitted)
	w.add(Step{Action: Open, State: s.ID, Text: fmt.Sprintf("Open the clamp only once the discharge to %s charge has been counted out and no cell rests above %s.",
		percent(in.StorageCharge), volts(w.l.RestBand(1).HighV))})
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

// change takes off what the state does not want and fits what it lacks; it says
// whether anything was fitted.
func (w *stepWriter) change(s State) bool {
	var off []Link
	for _, k := range w.fitted {
		if !holds(s.Links, k) {
			off = append(off, k)
		}
	}
	w.remove(s, off)
	var on []Link
	for _, k := range w.l.fitOrder(s) {
		if !holds(w.fitted, k) {
			on = append(on, k)
		}
	}
	if len(on) == 0 {
		return false
	}
	if joinsLikePoles(on, s.Turns) {
		w.beforeParallel(s)
	}
	w.fitted = append(w.fitted, on...)
	how := "capping every other terminal in reach"
	if len(on) > 1 {
		how = "one after the other, " + how
	}
	if joinsUnlikePoles(on, s.Turns) {
		how += ", every cell at " + percent(w.l.in.StorageCharge) + " charge"
	}
	w.handle(Step{Action: Fit, State: s.ID}, on, s.Turns, func(part, of string) string {
		return fmt.Sprintf("Fit %s, %s: %s.", part, how, of)
	})
	return true
}

// linksAtOnce is the most links handled under one mark of completion: what a
// hand finishes and counts before it is called away. Common practice, no source.
const linksAtOnce = 6

// handle adds one step for every few links, of about the same number each.
func (w *stepWriter) handle(s Step, links []Link, t Turns, text func(part, of string) string) {
	steps := (len(links) + linksAtOnce - 1) / linksAtOnce
	for i := range steps {
		from, to := i*len(links)/steps, (i+1)*len(links)/steps
		s.Links = links[from:to]
		part := count(to-from, "link")
		if steps > 1 {
			part = fmt.Sprintf("%d to %d of %s", from+1, to, count(len(links), "link"))
		}
		s.Text = text(part, w.marked(s.Links, t))
		w.add(s)
	}
}

// marked names links with the mark of the part: "J4 (K1, A3+ to A4-)".
func (w *stepWriter) marked(links []Link, t Turns) string {
	names := make([]string, len(links))
	for i, k := range links {
		sp, _ := w.l.SpecFor(k, t, w.p.Specs)
		mark := sp.Mark
		if n := k.layers(); n > 1 && !k.Cable {
			mark = fmt.Sprintf("%d bars of %s on each other", n, sp.Mark)
		}
		names[i] = fmt.Sprintf("%s (%s, %s to %s)", k.ID, mark, w.l.shortName(k.A, t), w.l.shortName(k.B, t))
	}
	return strings.Join(names, ", ")
}

// Pieces is how many bars or cables links are: stacked bars count singly.
func Pieces(links []Link) int {
	n := 0
	for _, k := range links {
		if k.Cable {
			n++
		} else {
			n += k.layers()
		}
	}
	return n
}

// piecesText counts links, and their bars where some lie on each other.
func piecesText(links []Link) string {
	text := count(len(links), "link")
	if n := Pieces(links); n != len(links) {
		text += ", " + count(n, "bar") + " in all,"
	}
	return text
}

func joinsLikePoles(links []Link, t Turns) bool {
	for _, k := range links {
		if t.Pole(k.A) == t.Pole(k.B) {
			return true
		}
	}
	return false
}

func joinsUnlikePoles(links []Link, t Turns) bool {
	for _, k := range links {
		if t.Pole(k.A) != t.Pole(k.B) {
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

func (w *stepWriter) remove(s State, off []Link) {
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
	w.handle(Step{Action: Remove, State: s.ID}, back, w.turns, func(part, of string) string {
		return fmt.Sprintf("Disconnect charger and load. Take off %s, in reverse order: %s.", part, of)
	})
	last := &w.p.Steps[len(w.p.Steps)-1]
	last.Text += fmt.Sprintf(" Count %s on the bench before anything else is fitted.", piecesText(back))
}

// fitOrder sorts the links of a state from the pack minus on, so that the
// voltage on the bench grows as late as possible.
func (l *Layout) fitOrder(s State) []Link {
	want := l.intendedNets(s)
	out := append([]Link(nil), s.Links...)
	sort.SliceStable(out, func(i, j int) bool { return want[out[i].A.node()] < want[out[j].A.node()] })
	return out
}

// beforeParallel has polarity and voltage compared before cells are joined in
// parallel.
func (w *stepWriter) beforeParallel(s State) {
	w.add(Step{Action: Measure, State: s.ID, Text: "Read every cell after an hour's rest, the meter's red lead where its plus must stand: a minus sign means that it stands the wrong way round. " +
		w.l.JoinText(s)})
	w.add(Step{Action: Match, State: s.ID, Text: w.l.strayText()})
}

// check reads the voltage between the take-offs at storage charge, which all
// cells have whenever links have been fitted.
func (w *stepWriter) check(s State) {
	w.add(Step{Action: Measure, State: s.ID, ExpectV: s.VoltageOf(w.l.in.Volts.Storage), Band: w.l.RestBand(len(s.Places)), Text: fmt.Sprintf(
		"Read the voltage from %s to %s: %s. "+wrongText(s),
		w.l.PostName(s.Mains.Minus, s.Turns), w.l.PostName(s.Mains.Plus, s.Turns), w.l.seriesText(len(s.Places)))})
}

// wrongText says what to do on a reading that was not expected.
func wrongText(s State) string {
	if len(s.Links) == 0 {
		return "Any other reading: stop and find out why."
	}
	return "Any other reading: stop, take the links off, find the wrong one."
}

// longHours is what charging or discharging may take before a stronger charger or
// load is worth naming: a day, common practice, no source.
const longHours = 24

// longText names what shortens a charge or discharge that takes very long.
func longText(hours float64, what string) string {
	if hours <= longHours {
		return ""
	}
	return " That is long: a stronger " + what + ", within what the cell's data sheet and the links allow, shortens it (electrical.balance_current); otherwise plan days in which somebody is near, and disconnect overnight."
}

// tailShare is the share of the charging current at which a balance is done:
// common practice, no source.
const tailShare = 0.1

// balance charges the cells of a state together to full and discharges them
// together to storage charge, so that no link is moved on full cells.
func (w *stepWriter) balance(s State) {
	in := w.l.in
	n := 0
	for _, p := range s.Places {
		n += len(p)
	}
	together, fullText, otherwise := count(n, "cell")+" together", "the cells are then full and alike", "Otherwise leave the links on and find out why"
	if n == 1 {
		together, fullText, otherwise = "the cell", "the cell is then full", "Otherwise find out why"
	}
	ah := float64(n) * in.CapacityAh * (1 - in.StorageCharge)
	arrival := in.ArrivalCharge
	if arrival == 0 {
		arrival = in.StorageCharge
	}
	up := float64(n) * in.CapacityAh * (1 - arrival)
	w.add(Step{Action: Charge, State: s.ID, ToCharge: 1, Hours: up / in.ChargerA, Text: fmt.Sprintf(
		"Connect the charger, set to %s, minus at %s, plus at %s. Charge at %s, about %s hours, and hold that voltage until the current has fallen to %s, an hour at most (common practice; the cell's data sheet goes first): %s."+longText(up/in.ChargerA, "charger"),
		volts(in.Volts.Full), w.l.PostName(s.Mains.Minus, s.Turns), w.l.PostName(s.Mains.Plus, s.Turns),
		amps(in.ChargerA), number.Trim(up/in.ChargerA, 1), amps(tailShare*in.ChargerA), fullText)})
	w.add(Step{Action: Discharge, State: s.ID, ToCharge: in.StorageCharge, Hours: ah / in.DischargerA, Text: fmt.Sprintf(
		"Charger off. Through a load that counts, at the same two terminals, discharge %s at %s until %s Ah are drawn, about %s hours: %s charge. Go by the ampere-hours, the voltage hardly tells. Stop at once below %s: less was in than was thought."+longText(ah/in.DischargerA, "load"),
		together, amps(in.DischargerA), number.Trim(ah, 0), number.Trim(ah/in.DischargerA, 1), percent(in.StorageCharge), volts(w.l.leastLoadV()))})
	w.add(Step{Action: Measure, State: s.ID, ExpectV: in.Volts.Storage, Band: w.l.RestBand(1), Text: fmt.Sprintf(
		"Load off. After an hour's rest the meter reads %s (from memory). %s.", w.l.RestBand(1), otherwise)})
}
