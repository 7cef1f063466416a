package wiring

import (
	"fmt"
	"slices"

	"clampwright/params/number"
)

// Renewal is the way from any moment of a plan's work, the finished pack or a half
// fitted one, apart and back to the finished pack with the cell of one slot replaced:
// a plan of its own, whose work starts at that moment. A link that hangs on one end
// has been taken off. It has no steps before the cells are in the clamp, and none where the
// strips are welded.
func (p Plan) Renewal(l *Layout, m Moment, slot int) Plan {
	out := Plan{ID: p.ID, Name: "apart and together again", States: p.States, Specs: p.Specs, Figures: p.Figures, From: &m}
	final, ok := p.State(StateFinal)
	if !ok || m.Turns == nil || l.in.Welded {
		return out
	}
	w := &stepWriter{l: l, p: &out, fitted: slices.Clone(m.Links), turns: m.Turns, unread: true}
	now, _ := p.State(p.Steps[m.Step-1].State)
	if len(m.Links) == 0 {
		now = now.each()
	}
	if slices.Max(m.Charge) > l.in.StorageCharge+chargeTol {
		w.drawDown(now)
	}
	if m.Sensed {
		w.senseLeads(final, true)
	}
	w.remove(final, w.fitted)
	if m.Closed {
		w.open(final, now)
	}
	w.add(Step{Action: Swap, State: final.ID, Cells: []int{slot}, Text: swapText(l.in)})
	w.turnTo(final)
	w.add(Step{Action: Close, State: final.ID, Text: "Close the clamp and set it again."})
	if w.change(final, p.fitted()) || l.Cells() == 1 { // as before: every screw and spacer is there
		w.check(final)
	}
	w.senseLeads(final, false)
	w.overJoints(final)
	return out
}

// fitted are the links that a plan leaves on, in the order in which they went on.
func (p Plan) fitted() (out []Link) {
	for _, s := range p.Steps {
		for _, k := range s.Links {
			if out = without(out, k); s.Action == Fit {
				out = append(out, k)
			}
		}
	}
	return out
}

// Apart is the renewal of the finished pack when it is full; none without a proof.
func (p Plan) Apart(l *Layout) []Step {
	if !p.Proven() {
		return nil
	}
	moments, _ := Walk(l, p)
	full := moments[len(moments)-1]
	full.Charge = slices.Repeat([]float64{1}, l.Cells())
	return p.Renewal(l, full, 0).Steps
}

// drawDown brings a state that is charged to storage charge at its take-offs, by no more
// than one cell may carry where a link is missing and not told yet.
func (w *stepWriter) drawDown(s State) {
	if len(w.fitted) == 0 && w.l.Cells() > 1 {
		w.drainEach(s)
		return
	}
	in := w.l.in
	ah, loadA := mostAh(w.l, s)*(1-in.StorageCharge), s.upTo(in.DischargerA)
	if s.ID != StateFinal {
		loadA = in.oneCellA(loadA)
	}
	w.add(Step{Action: Discharge, State: s.ID, ToCharge: in.StorageCharge, Amps: loadA, Hours: ah / loadA, Text: fmt.Sprintf(
		"Take the charger off. Connect a load that counts from %s to %s. Draw %s Ah at %s from the full pack, or what is in it beyond %s charge. Watch every cell and stop when the first reads %s. Take the load off.",
		w.l.PostName(s.Mains.Minus, s.Turns), w.l.PostName(s.Mains.Plus, s.Turns), number.Trim(ah, 0), amps(loadA), percent(in.StorageCharge), volts(leastLoadV(w.l)))})
}

// likeShare is how near the capacity of a new cell must be to that of the cell it
// replaces: our own judgement, no source.
const likeShare = 0.02

// swapText says how a cell comes out and which one takes its place.
func swapText(in Input) string {
	return fmt.Sprintf("Lift the old cell out, caps on. The new one matches its record: capacity within %s, resistance below %s of it, thickness within what separators and sheets take up. Give it the charge of the others. Charge it by itself to %s until the current has fallen to %s. Then count %s of its own measured capacity out. Stand it the same way round as the old one.",
		percent(likeShare), percent(in.Screen.ResistanceFactor), volts(in.Volts.Full), amps(tailShare*in.oneCellA(in.ChargerA)), percent(1-in.StorageCharge))
}
