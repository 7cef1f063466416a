package wiring

import (
	"fmt"
	"math"
	"slices"
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
	Swap      Action = "swap"      // a cell taken out and another put in its place
	Fit       Action = "fit"       // links fitted, in the order given
	Remove    Action = "remove"    // links taken off, in the order given
	Measure   Action = "measure"   // voltages read; nothing changes
	Match     Action = "match"     // strays brought to the charge of the others
	Charge    Action = "charge"    // to ToCharge
	Discharge Action = "discharge" // to ToCharge
	TopUp     Action = "top up"    // to ToCharge, every place or cell by itself
	Sense     Action = "sense"     // ring lugs of the sense leads put on, or off
)

// Step is one thing to do, in the order of Plan.Steps.
type Step struct {
	Number int // 1 based
	Action Action
	State  string // the state being worked towards or used
	Turns  Turns  // as the cells stand when it is done
	Links  []Link // Fit, Remove: in order
	// Before says what is found before each of Links is closed or loosened.
	Before []Before
	Cells  []int // TurnCells, Swap: slots
	// EachCell says that a Measure reads every cell of its state by itself, the red lead
	// where its plus must stand.
	EachCell bool
	// Alone says that leads go to one cell after the other, which no link joins yet: TopUp,
	// Discharge.
	Alone    bool
	ToCharge float64
	// ExpectV is about what the meter must show between the take-offs, Measure
	// only; 0 where no one figure can be named.
	ExpectV float64
	// Band is what the meter may show, beside ExpectV.
	Band VoltBand
	// Amps is what the charger or the load is set to, Hours what that takes: Charge,
	// Discharge, TopUp.
	Amps, Hours float64
	// Over are the limits of readings over joints while Amps flow, Measure only.
	Over []Over
	// Lugs are the joints where the lugs of leads go on for the step, or Off.
	Lugs []Joint
	Off  bool  // Sense
	Gate *Gate // Open
	Text string
}

// Gate is what must hold before the clamp is opened: one of the two. A resting voltage
// is no proof, since it hardly tells the charge below nine tenths.
type Gate struct {
	CountedAh float64 // drawn from full, by the load
	// UnderV is what every cell must fall to under LoadA, each cell, where the count
	// was lost: little is in it then.
	UnderV, LoadA float64
}

// stepWriter writes the steps of a plan, keeping track of what is fitted.
type stepWriter struct {
	l      *Layout
	p      *Plan
	fitted []Link
	turns  Turns
	unread bool // the cells have been put in or turned, and not read since
	sensed bool // the sense leads are on
}

func (w *stepWriter) add(s Step) {
	s.Number, s.Turns = len(w.p.Steps)+1, w.turns
	w.p.Steps = append(w.p.Steps, s)
}

// writeSteps turns the states of a plan into steps.
func writeSteps(l *Layout, p *Plan) {
	w := &stepWriter{l: l, p: p, turns: p.States[0].Turns, unread: true}
	w.begin(p.States[0])
	if p.ID == Single {
		w.balanceEach(p.States[0])
	}
	for i, s := range p.States {
		if !slices.Equal(w.turns, s.Turns) {
			w.reopen(s, p.States[i-1])
		}
		if w.change(s, fitOrder(l, s, p.States[i+1:])) || s.ID != StateFinal {
			w.check(s)
		}
		if s.ID == StateFinal {
			w.senseLeads(s, false)
			w.overJoints(s)
		}
		if s.ID != StateFinal {
			w.balance(s)
		}
		if p.ID == InSeries {
			w.chargeInSeries(s)
		}
	}
}

func (w *stepWriter) begin(s State) {
	in := w.l.in
	w.add(Step{Action: Stack, State: s.ID, ToCharge: in.StorageCharge,
		Text: fmt.Sprintf("Put the cells into the clamp, each at or below %s charge: %s.",
			percent(in.StorageCharge), sidesText(w.l, s.Turns))})
	w.add(Step{Action: Close, State: s.ID, Text: "Close the clamp and set it. It stays closed while any cell is above " +
		percent(in.StorageCharge) + " charge."})
}

// sidesText says on which side the plus of every cell stands.
func sidesText(l *Layout, t Turns) string {
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
	return fmt.Sprintf("plus on the right in %s, on the left in %s", cellNames(l, right), cellNames(l, left))
}

// cellNames are the names of cells in a sentence, more than two that follow on each other
// by the first and the last: "A1 to A4".
func cellNames(l *Layout, slots []int) string {
	out, step := make([]string, len(slots)), 0
	for i, s := range slots {
		if out[i] = l.CellName(s); i == 1 {
			step = s - slots[0]
		}
		if i > 0 && s-slots[i-1] != step {
			step = 0
		}
	}
	if len(out) > 2 && step*step == 1 {
		return out[0] + " to " + out[len(out)-1]
	}
	return words.Join(out)
}

// reopen takes all links off, opens the clamp and turns the cells that differ.
func (w *stepWriter) reopen(s, from State) {
	w.remove(s, w.fitted)
	w.open(s, from)
	w.turnTo(s)
	w.add(Step{Action: Close, State: s.ID, Text: "Close the clamp and set it again."})
}

// open opens the clamp through its gate, the cells drawn down as they hung together from.
func (w *stepWriter) open(s, from State) {
	in := w.l.in
	g := &Gate{CountedAh: mostAh(w.l, from) * (1 - in.StorageCharge), UnderV: max(in.Volts.Least, in.Volts.Nominal-kneeBelowV), LoadA: in.oneCellA(from.upTo(in.DischargerA) / float64(len(from.Places[0])))}
	w.add(Step{Action: Open, State: s.ID, Gate: g, Text: fmt.Sprintf("Open the clamp only when the load has counted %s Ah since all cells were full. If the count is lost, discharge on at %s from each cell until every cell reads %s or less under that load. Then give %s Ah back to each before the clamp is set again. A resting voltage is no proof.",
		number.Trim(g.CountedAh, 0), amps(g.LoadA), volts(g.UnderV), number.Trim(in.CapacityAh*max(0, in.StorageCharge-kneeCharge), 0))})
}

// turnTo turns the cells that stand otherwise than a state asks.
func (w *stepWriter) turnTo(s State) {
	var turned []int
	for slot := range s.Turns {
		if s.Turns[slot] != w.turns[slot] {
			turned = append(turned, slot)
		}
	}
	w.turns, w.unread = s.Turns, true
	if w.p.Turned += len(turned); len(turned) > 0 {
		w.add(Step{Action: TurnCells, State: s.ID, Cells: turned,
			Text: fmt.Sprintf("Turn %s round: %s.", cellsText(w.l, turned), sidesText(w.l, s.Turns))})
	}
}

func cellsText(l *Layout, slots []int) string {
	if len(slots) == 1 {
		return "cell " + cellNames(l, slots)
	}
	return "cells " + cellNames(l, slots)
}

// change takes off what the state does not want and fits what it lacks, in the order of
// its links; it says whether anything was fitted.
func (w *stepWriter) change(s State, order []Link) bool {
	w.remove(s, w.inTheWay(s))
	var on []Link
	for _, k := range order {
		if !holds(w.fitted, k) {
			on = append(on, k)
		}
	}
	if len(on) == 0 {
		return false
	}
	w.beforeLinks(s, joins(on, s.Turns, true))
	if joins(on, s.Turns, false) && s.shocking(w.l.in.Volts.Full) { // the whole voltage comes last
		w.fit(s, on[:len(on)-1])
		on = on[len(on)-1:]
	}
	w.fit(s, on)
	return true
}

// inTheWay are the links fitted that a state does not want, those that lie on one of
// them, and cables whose terminals are still to take a bar, which lies on no lug.
func (w *stepWriter) inTheWay(s State) (off []Link) {
	for _, k := range w.fitted {
		on := func(o Link) bool { return o.on(k.A) || o.on(k.B) }
		bar := func(o Link) bool { return !o.Cable && on(o) && !holds(w.fitted, o) }
		if !holds(s.Links, k) || slices.ContainsFunc(off, on) || k.Cable && slices.ContainsFunc(s.Links, bar) {
			off = append(off, k)
		}
	}
	return off
}

// fit fits links one at a time, each after its readings.
func (w *stepWriter) fit(s State, on []Link) {
	if len(on) == 0 {
		return
	}
	path, v := slices.Concat(s.Places...), w.l.in.Volts.Storage
	before, lies := make([]Before, len(on)), liesOn(w.l, w.turns, w.fitted)
	for i, k := range on {
		lv := levelsOf(s.Turns, slices.Repeat([]float64{v}, len(s.Turns)), w.fitted)
		on[i] = grown(k, lv, path)
		before[i] = Before{Checks: checksBefore(lv, on[i], path, v), Under: [2][]string{under(w.fitted, on[i].A), under(w.fitted, on[i].B)}}
		before[i].Fused = slices.ContainsFunc(wrongEnds(w.l, on[i], s.Turns), func(x wrongEnd) bool { return math.Abs(lv.between(x.link.A, x.link.B)) > nothingV })
		w.fitted = append(w.fitted, on[i])
		lay(w.l, w.turns, lies, on[i])
		before[i].After = jointsOf(w.l, on[i], lies)
	}
	at := "."
	if joins(on, s.Turns, false) {
		at = ", every cell at " + percent(w.l.in.StorageCharge) + " charge."
	}
	fused := slices.ContainsFunc(before, func(b Before) bool { return b.Fused })
	w.handle(Step{Action: Fit, State: s.ID}, on, before, func(part string) string {
		if w.l.in.Welded {
			return fmt.Sprintf("Have %s welded on%s %s", strings.Replace(part, "link", "strip", 1), at, weldText(v, fused))
		}
		return fmt.Sprintf("Fit %s%s %s", part, at, fitText(v, fused))
	})
}

// shocking says that a state of full cells stands at a voltage that gives a shock.
func (s State) shocking(fullV float64) bool { return s.VoltageOf(fullV) > ShockV }

// linksAtOnce is the most links handled under one mark of completion: what a
// hand finishes and counts before it is called away. Common practice, no source.
const linksAtOnce = 6

// handle adds one step for every few links, of about the same number each.
func (w *stepWriter) handle(s Step, links []Link, before []Before, text func(part string) string) {
	steps := (len(links) + linksAtOnce - 1) / linksAtOnce
	for i := range steps {
		from, to := i*len(links)/steps, (i+1)*len(links)/steps
		s.Links, s.Before = links[from:to], before[from:to]
		part := count(to-from, "link")
		if steps > 1 {
			part += fmt.Sprintf(", part %d of %d", i+1, steps)
		}
		s.Text = text(part)
		w.add(s)
	}
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

// joins says that one of some links joins poles that are alike, or unlike ones.
func joins(links []Link, t Turns, alike bool) bool {
	return slices.ContainsFunc(links, func(k Link) bool { return (t.Pole(k.A) == t.Pole(k.B)) == alike })
}

func holds(links []Link, k Link) bool {
	return slices.ContainsFunc(links, func(o Link) bool {
		return o.key() == k.key() && o.Cable == k.Cable && o.layers() == k.layers() && o.CableMM2 == k.CableMM2
	})
}

func (w *stepWriter) remove(s State, off []Link) {
	if len(off) == 0 {
		return
	}
	back, before, lies := slices.Clone(off), make([]Before, len(off)), liesOn(w.l, w.turns, w.fitted)
	slices.Reverse(back)
	for i, k := range back { // nothing from terminal to terminal, so no current flows
		before[i] = Before{Checks: []Check{{Black: k.A, Red: k.B}}, Under: [2][]string{under(w.fitted, k.A), under(w.fitted, k.B)}}
		w.fitted = without(w.fitted, k)
		lies = lift(w.l, w.turns, lies, k, w.fitted)
		before[i].After = jointsOf(w.l, k, lies)
	}
	w.handle(Step{Action: Remove, State: s.ID}, back, before, func(part string) string {
		return fmt.Sprintf("Take off %s in the order of the table, one at a time. Uncap the two terminals and read from one to the other. More than %s V means that current flows: stop. Take the link off. At once put the screw or nut back on what stays, to its torque. Cap both.", part, number.Trim(nothingV, 2))
	})
	last := &w.p.Steps[len(w.p.Steps)-1]
	last.Text += fmt.Sprintf(" Count %s on the bench before you fit anything else.", piecesText(back))
}

// fitOrder sorts the links of a state so that the voltage on the bench grows as late as
// possible: bars inside one place after the other first, then from the pack minus on; where the whole
// gives a shock, what joins its halves comes last. Those that lie on the same terminals go on bars before
// cables, then by what stays in the states that follow, and so that as few bars
// as can be need a spacer.
func fitOrder(l *Layout, s State, later []State) []Link {
	want := intendedNets(l, s)
	goes := func(k Link) bool {
		return slices.ContainsFunc(later, func(o State) bool { return !slices.Equal(o.Turns, s.Turns) || !holds(o.Links, k) })
	}
	last := func(k Link) bool {
		return s.shocking(l.in.Volts.Full) && want[k.A.node()] == len(s.Places)/2 && s.Turns.Pole(k.A) != s.Turns.Pole(k.B)
	}
	rank := map[string][6]int{}
	for _, k := range s.Links {
		rank[k.ID] = [6]int{flag(last(k)), 1, want[k.A.node()], flag(k.Cable), flag(goes(k))}
		if len(s.Places) > 1 && !k.Cable && s.Turns.Pole(k.A) == s.Turns.Pole(k.B) {
			plus := flag(s.Turns.Pole(k.A) == Plus)
			rank[k.ID] = [6]int{0, 0, want[k.A.node()] - plus, plus, flag(goes(k))}
		}
	}
	out := slices.Clone(s.Links)
	sorted := func() {
		slices.SortStableFunc(out, func(a, b Link) int { x, y := rank[a.ID], rank[b.ID]; return slices.Compare(x[:], y[:]) })
	}
	sorted()
	taken := map[[6]int]bool{} // rank of a link on a terminal: a level that is not free
	for _, k := range out {
		r := rank[k.ID]
		at := func(p Post) [6]int { return [6]int{r[1], r[2], r[3], r[4], r[5], p.node()} }
		for !k.Cable && (taken[at(k.A)] || taken[at(k.B)]) {
			r[5]++
		}
		rank[k.ID], taken[at(k.A)], taken[at(k.B)] = r, true, true
	}
	sorted()
	return out
}

func flag(is bool) int {
	if is {
		return 1
	}
	return 0
}

// jointTimes is how much more than a clean joint one may resist, leastMilliV the last
// digits of a meter. Common practice, no source.
const jointTimes, leastMilliV = 3.0, 0.3

// Over is what may be read over each joint of a link.
type Over struct {
	Link   Link
	MilliV float64
}

// senseLeads puts the ring of every sense lead on its terminal, on top of all, or takes
// them off; the plug is out of its board meanwhile.
func (w *stepWriter) senseLeads(s State, off bool) {
	step := Step{Action: Sense, State: s.ID, Off: off, Text: "Pull the plug of the sense leads off its board. Uncap one terminal at a time, take its ring off, and put the screw or nut back."}
	if w.sensed = !off; !off {
		step.Text = fmt.Sprintf("Put the rings of the sense leads on in their order, on top of all else. Uncap one terminal at a time. Leave the plug out until all joints are read and the board is fitted. Read every lead in it against the one before: %s. On any other reading, stop.", w.l.RestBand(1))
	}
	step.Lugs = w.lugged(nil, sensePosts(s)...)
	if w.l.in.Welded {
		step.Text = fmt.Sprintf("Have the sense leads welded or soldered to tags of the strips, never to a cell. They go to these terminals in their order. Leave the plug out until all welds are read and the board is fitted. Read every lead in it against the one before: %s. On any other reading, stop.", w.l.RestBand(1))
	}
	w.add(step)
}

// lugs are the joints at the take-offs with a lug on the links.
func (w *stepWriter) lugs(s State) []Joint {
	return w.lugged([]Piece{{Link: "lug", MM: lugMM}}, s.Mains.Minus, s.Mains.Plus)
}

// lugged are joints with lugs between their links and a sense lead's ring.
func (w *stepWriter) lugged(lugs []Piece, at ...Post) (out []Joint) {
	if w.l.in.Welded && len(lugs) > 0 {
		at = nil
	}
	final, _ := w.p.State(StateFinal)
	lies, rings := liesOn(w.l, w.turns, w.fitted), sensePosts(final)
	for _, p := range at {
		on := slices.Concat(lies[p], lugs)
		if w.sensed && slices.Contains(rings, p) {
			on = append(on, Piece{Link: "ring", MM: ringMM})
		}
		out = append(out, w.l.in.fastened(Joint{Post: p, Lies: on}))
	}
	return out
}

// overJoints has every joint of the finished pack read under a current.
func (w *stepWriter) overJoints(s State) {
	n := len(w.p.Figures) - 1
	if len(s.Links) == 0 || n < 0 || w.p.Figures[n].State != s.ID {
		return
	}
	in, f := w.l.in, w.p.Figures[n]
	step := Step{Action: Measure, State: s.ID, Amps: in.oneCellA(s.upTo(in.DischargerA)), Lugs: w.lugs(s)}
	for _, k := range s.Links { // where one is missing, another carries all
		step.Amps = min(step.Amps, continuousA(w.l, k))
	}
	for _, k := range f.Links {
		step.Over = append(step.Over, Over{k.Link, max(leastMilliV, jointTimes*in.ContactMicroOhm*k.Amps*step.Amps/f.CurrentA/1000)})
	}
	step.Text = fmt.Sprintf("Fit the load's lugs to the take-offs like links, one at a time, the other capped. Draw %s. Lift one cap at a time. Hold one probe on the terminal beside the link, the other on the link beside the washer. Above the limit, or where no link lies, switch the load off. Take off what lies there, clean the faces, fit the link again with its readings, and read again. Then take the lugs off like links.", amps(step.Amps))
	if in.Welded {
		step.Text = fmt.Sprintf("Connect a load to tags of the take-offs, one at a time, the other capped. Draw %s. Lift one cap at a time. Hold one probe on the cell's tab, the other on the strip beside the weld. Above the limit, or where no strip lies, switch the load off: the weld is bad. Have it made again by whoever made it. Then take the load off.", amps(step.Amps))
	}
	w.add(step)
}

// beforeLinks has polarity compared before the first link, and voltage too before
// cells are joined in parallel.
func (w *stepWriter) beforeLinks(s State, parallel bool) {
	if !w.unread && !parallel {
		return
	}
	w.unread = false
	text := "Let the cells rest for an hour. Read every cell, the red lead where its plus must be. A minus sign means that it stands the wrong way round."
	if !parallel {
		w.add(Step{Action: Measure, State: s.ID, EachCell: true, Text: text})
		return
	}
	w.add(Step{Action: Measure, State: s.ID, EachCell: true, Text: text + " " + w.l.JoinRule(s)})
	w.add(Step{Action: Match, State: s.ID, Text: strayText(w.l)})
}

// check reads the voltage between the take-offs at storage charge, which all
// cells have whenever links have been fitted.
func (w *stepWriter) check(s State) {
	w.add(Step{Action: Measure, State: s.ID, EachCell: len(slices.Concat(s.Places...)) == 1, ExpectV: s.VoltageOf(w.l.in.Volts.Storage), Band: w.l.RestBand(len(s.Places)), Text: fmt.Sprintf(
		"Read from %s to %s.%s "+wrongText(w.l.in, s),
		w.l.PostName(s.Mains.Minus, s.Turns), w.l.PostName(s.Mains.Plus, s.Turns), seriesText(w.l, len(s.Places)))})
}

// wrongText says what to do on a reading that was not expected.
func wrongText(in Input, s State) string {
	switch {
	case len(s.Links) == 0:
		return "On any other reading, stop and find out why."
	case in.Welded:
		return "Every tab carries the strips of the picture. On any other reading, stop: have the wrong strip found, and cut by whoever welded it."
	}
	return "No link is left on the bench. Every terminal carries the links of the picture. On any other reading, stop, take the links off and find the wrong one."
}

// longHours is what charging or discharging may take before a stronger charger or
// load is worth naming: a day, common practice, no source.
const longHours = 24

// longText names what shortens a charge or discharge that takes very long.
func longText(hours float64, what string) string {
	if hours <= longHours {
		return ""
	}
	return " That is long: disconnect when nobody is near. A stronger " + what + " (electrical.balance_current) takes less."
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
	together, otherwise := count(n, "cell")+" together", "On any other reading, leave the links on and find out why"
	if n == 1 {
		together = "the cell"
	}
	if n == 1 || in.Welded {
		otherwise = "On any other reading, find out why"
	}
	held, chargeA, loadA := heldAh(w.l, slices.Concat(s.Places...)), in.oneCellA(in.ChargerA), in.oneCellA(in.DischargerA)
	ah := held * (1 - in.StorageCharge)
	up := held * (1 - in.ArrivalCharge) / chargeA
	var lugs []Joint
	if n == 1 {
		lugs = w.lugs(s)
	}
	w.add(Step{Action: Charge, State: s.ID, Lugs: lugs, ToCharge: 1, Amps: chargeA, Hours: up, Text: fmt.Sprintf(
		"Set the charger to %s and %s. Connect minus to %s and plus to %s. Cap each lead before you bare the next terminal. Hold the voltage until the current has fallen to %s, an hour at most."+longText(up, "charger"),
		volts(in.Volts.Full), amps(chargeA), w.l.PostName(s.Mains.Minus, s.Turns), w.l.PostName(s.Mains.Plus, s.Turns),
		amps(tailShare*chargeA))})
	less := "a link is missing. Do not fit it now: hundreds of amperes would flow. Take the charger off, discharge, take all links off, balance again."
	if in.Welded {
		less = "a strip is missing. Do not add it now: hundreds of amperes would flow. Take the charger off, bring that cell to the charge of the others by itself, and have it joined then."
	}
	if n > 1 {
		w.add(Step{Action: Measure, State: s.ID, EachCell: true, ExpectV: in.Volts.Full, Band: VoltBand{in.Volts.Full - nothingV, in.Volts.Full + nothingV}, Text: fmt.Sprintf(
			"While the charger holds the voltage, read every cell at its own terminals. All read within %s V of each other. If one reads less, %s", number.Trim(nothingV, 2), less)})
	}
	w.add(Step{Action: Discharge, State: s.ID, ToCharge: in.StorageCharge, Amps: loadA, Hours: ah / loadA, Text: fmt.Sprintf(
		"Take the charger off and connect the load to the same terminals. Discharge %s at %s until it has counted %s Ah: %s charge. Go by the count, not by the voltage. Stop at once below %s."+longText(ah/loadA, "load"),
		together, amps(loadA), number.Trim(ah, 0), percent(in.StorageCharge), volts(leastLoadV(w.l)))})
	w.add(Step{Action: Measure, State: s.ID, ExpectV: in.Volts.Storage, Band: w.l.RestBand(1), Text: fmt.Sprintf(
		"Take the load off. After an hour, read at the same terminals. %s.", otherwise)})
}
