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
		"Fit the board as its maker says, the plug of the sense leads last. Connect the pack's charger through it, set to no more than %s, one lead after the other, a cap over each before the next is bared. Charge at %s, about %s hours, and read every cell from time to time. Stop when the first reads %s; the board's own limit is not the way to stop."+longText(up, "charger"),
		volts(s.VoltageOf(in.Volts.Full)), amps(in.BoardA), number.Trim(up, 1), volts(in.Volts.Full-underFullV))})
	topA := s.upTo(in.ChargerA)
	top := ah*2*(1-nearFull)/topA + tailHours
	w.add(Step{Action: TopUp, State: s.ID, ToCharge: 1, Amps: topA, Hours: float64(n) * top, Text: fmt.Sprintf(
		"The pack's charger off. With the charger for one cell, on insulated clips, whose output touches nothing else and no earth, fill one place after the other: minus lead on the place's minus, cap it, plus lead on its plus, cap it. Charge at %s to %s and hold until the current has fallen to %s. About %s hours for all, %s at most for each. No place is left above %s.",
		amps(topA), volts(in.Volts.Full), amps(tailShare*topA), number.Trim(float64(n)*top, 1), number.Trim(top, 1), volts(in.Volts.Full))})
	w.drawDown(s)
	w.add(Step{Action: Measure, State: s.ID, ExpectV: s.VoltageOf(in.Volts.Storage), Band: w.l.RestBand(n), Text: "Load off. After an hour's rest read the pack, and then every cell: all within " +
		number.Trim(nothingV, 2) + " V of each other. Otherwise find out why before the pack is used."})
}
