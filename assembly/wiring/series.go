package wiring

import (
	"fmt"
	"slices"

	"clampwright/params/number"
)

const (
	// nearFull is the charge to which a pack is charged in series: the first cell is then
	// about to rise out of the plateau. The others may lack as much again. Common
	// practice, no source.
	nearFull = 0.95
	// underFullV is how far under the full voltage the first cell is stopped.
	underFullV = 0.10
	// tailHours is what a place takes at the full voltage until its current has fallen.
	tailHours = 0.5
	// clipA is the most that an insulated clip on a screw's head or a stud carries for hours;
	// for more the lead has a lug. Common practice, no source.
	clipA = 50.0
)

// balanceEach charges every cell by itself to full, all of them before the clamp is looked
// at, and then draws each down to storage charge by its own capacity.
func (w *stepWriter) balanceEach(s State) {
	in := w.l.in
	w.beforeLinks(s, false)
	chargeA, hours := in.oneCellA(in.ChargerA), 0.0
	for slot := range s.Turns {
		hours += heldAh(w.l, []int{slot}) * (1 - in.ArrivalCharge) / chargeA
	}
	w.add(Step{Action: TopUp, State: s.ID, Alone: true, Lugs: w.ownLugs(s, chargeA), ToCharge: 1, Amps: chargeA, Hours: hours, Text: fmt.Sprintf(
		"Set the charger to %s and %s. Fill one cell after the other at its own terminals.%s Put minus on and cap it, then plus, and cap it. Hold the voltage until the current has fallen to %s, an hour at most. Take plus off and cap, then minus, and cap."+longText(hours, "charger"),
		volts(in.Volts.Full), amps(chargeA), gripText(in, chargeA), amps(tailShare*chargeA))})
	w.drainEach(s)
	if in.Parallel > 1 { // read before they are joined
		return
	}
	w.add(Step{Action: Measure, State: s.ID, EachCell: true, Text: fmt.Sprintf("Let the cells rest for an hour. Read every cell: %s, and all within %s V of each other. If not, find out why.", w.l.RestBand(1), number.Trim(nothingV, 2))})
}

// drainEach draws every cell by itself down to storage charge.
func (w *stepWriter) drainEach(s State) {
	in, path := w.l.in, slices.Concat(s.Places...)
	out, loadA, each := 1-in.StorageCharge, in.oneCellA(in.DischargerA), mostAh(w.l, s.each())
	hours, count := heldAh(w.l, path)*out/loadA, number.Trim(each*out, 0)+" Ah"
	if w.l.cells != nil {
		count = percent(out) + " of its measured capacity"
	}
	w.add(Step{Action: Discharge, State: s.ID, Alone: true, Lugs: w.ownLugs(s, loadA), ToCharge: in.StorageCharge, Amps: loadA, Hours: hours, Text: fmt.Sprintf(
		"Connect the load to one cell after the other, capped in the same way.%s Discharge each at %s until it has counted %s: %s charge. Go by the count, not by the voltage. Stop at once below %s."+longText(hours, "load"),
		gripText(in, loadA), amps(loadA), count, percent(in.StorageCharge), volts(leastLoadV(w.l)))})
}

// gripText says how a lead for a current is held at a terminal without a link.
func gripText(in Input, amps float64) string {
	switch {
	case in.Welded && amps > clipA:
		return " Its clamps, insulated, grip the tabs over their whole width."
	case in.Welded:
		return " Its insulated clips go on the tabs."
	case amps > clipA:
		return " Screw its lugs on."
	case in.StudHeightMM > 0:
		return " Its insulated clips go on the studs."
	}
	return " Turn a screw into each terminal by hand, a few turns, for its insulated clips."
}

// ownLugs are the joints at the terminals of cells that no link joins, a lug on each where
// the current asks for one.
func (w *stepWriter) ownLugs(s State, amps float64) []Joint {
	if amps <= clipA {
		return nil
	}
	return w.lugged([]Piece{{Link: "lug", MM: lugMM}}, leadPosts(Step{Alone: true}, s)...)
}

// leadPosts are the terminals that a charger's or a load's leads go to, in their order.
func leadPosts(step Step, s State) (out []Post) {
	switch {
	case step.Alone:
		s = s.each()
	case step.Action != TopUp:
		return []Post{s.Mains.Minus, s.Mains.Plus}
	}
	for _, place := range s.Places {
		out = append(out, s.Turns.At(place[0], Minus), s.Turns.At(place[0], Plus))
	}
	return out
}

// chargeInSeries brings the finished pack to full through its board, every place by
// itself for the last percent, and down again in series: no link is moved, and one
// charge goes through all places at once.
func (w *stepWriter) chargeInSeries(s State) {
	in := w.l.in
	n, ah := len(s.Places), mostAh(w.l, s)
	up := ah * max(0, nearFull-in.ArrivalCharge) / in.BoardA
	w.add(Step{Action: Charge, State: s.ID, ToCharge: nearFull, Amps: in.BoardA, Hours: up, Text: fmt.Sprintf(
		"Fit the board as its maker says, the plug of the sense leads last. Connect the pack's charger through it, set to no more than %s. Cap each lead before you bare the next terminal. Charge at %s and read every cell from time to time. Stop when the first reads %s, not by the board's own limit."+longText(up, "charger"),
		volts(s.VoltageOf(in.Volts.Full)), amps(in.BoardA), volts(in.Volts.Full-underFullV))})
	topA := min(s.upTo(in.ChargerA), clipA) // the last percent wait for no lugs
	top := ah*2*(1-nearFull)/topA + tailHours
	w.add(Step{Action: TopUp, State: s.ID, ToCharge: 1, Amps: topA, Hours: float64(n) * top, Text: fmt.Sprintf(
		"Take the pack's charger off. Take a charger for one cell with insulated clips, whose output touches nothing else and no earth. Fill one place after the other. Put the minus lead on and cap it, then the plus lead and cap it. Charge at %s to %s and hold until the current has fallen to %s. Allow %s hours at most for each place, and leave none above %s.",
		amps(topA), volts(in.Volts.Full), amps(tailShare*topA), number.Trim(top, 1), volts(in.Volts.Full))})
	w.drawDown(s)
	w.add(Step{Action: Measure, State: s.ID, ExpectV: s.VoltageOf(in.Volts.Storage), Band: w.l.RestBand(n), Text: "Take the load off. After an hour, read the pack, and then every cell. All read within " +
		number.Trim(nothingV, 2) + " V of each other. If not, find out why before you use the pack."})
}
