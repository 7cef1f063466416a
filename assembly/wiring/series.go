package wiring

import (
	"fmt"

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
)

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
	topA := s.upTo(in.ChargerA)
	top := ah*2*(1-nearFull)/topA + tailHours
	w.add(Step{Action: TopUp, State: s.ID, ToCharge: 1, Amps: topA, Hours: float64(n) * top, Text: fmt.Sprintf(
		"Take the pack's charger off. Take a charger for one cell with insulated clips, whose output touches nothing else and no earth. Fill one place after the other. Put the minus lead on and cap it, then the plus lead and cap it. Charge at %s to %s and hold until the current has fallen to %s. Allow %s hours at most for each place, and leave none above %s.",
		amps(topA), volts(in.Volts.Full), amps(tailShare*topA), number.Trim(top, 1), volts(in.Volts.Full))})
	w.drawDown(s)
	w.add(Step{Action: Measure, State: s.ID, ExpectV: s.VoltageOf(in.Volts.Storage), Band: w.l.RestBand(n), Text: "Take the load off. After an hour, read the pack, and then every cell. All read within " +
		number.Trim(nothingV, 2) + " V of each other. If not, find out why before you use the pack."})
}
