package export

import (
	"fmt"
	"slices"

	"clampwright/assembly/wiring"
	"clampwright/export/page"
	"clampwright/export/tell"
	"clampwright/params/number"
	"clampwright/params/words"
)

// wiringPhases are the plan's own steps, a phase for every state. Putting the cells
// in and closing the clamp the first time is told by the clamp's own phases, which
// come between the two lists. The look at the clamp at full charge is added where
// it belongs.
func (j *Job) wiringPhases() (before, after []page.Phase) {
	w := j.wired()
	stacked, closed := false, false
	for _, s := range w.Plan.Steps {
		list := &before
		switch {
		case s.Action == wiring.Stack && !stacked:
			stacked = true
			continue
		case s.Action == wiring.Close && !closed:
			closed = true
			continue
		case stacked:
			list = &after
		}
		w.addStep(list, s)
		if s.Action == wiring.Close {
			steps := (*list)[len(*list)-1].Steps
			steps[len(steps)-1] = j.closeAgain(steps[len(steps)-1])
		}
		if s.Action == wiring.Charge && closed {
			p := &(*list)[len(*list)-1]
			p.Steps = append(p.Steps, j.fullCheckOf(s.State))
		}
	}
	return before, after
}

// closeAgain says what setting the clamp a second time takes, at the charge the
// cells have by then.
func (j *Job) closeAgain(step page.Step) page.Step {
	c := j.Fixture.Clamp
	if j.noForce() {
		step.Text = "Close the clamp as the first time: find snug anew."
		return step
	}
	off := "Covers"
	if j.Fixture.JamNut != nil {
		off = "Covers and second nuts"
	}
	step.Text = off + " are off. Find snug anew, crosswise, and record it anew: the old marks no longer hold."
	if j.Fixture.Nut.DragMax > 0 {
		step.Text += " Put new locking nuts on: those taken off hold less each time."
	}
	now, was := fmt.Sprintf("%.0f %%", 100*c.StorageCharge), fmt.Sprintf("%.0f %%", 100*c.SetCharge)
	state := j.state("storage charge")
	switch {
	case now == was:
		step.Text += fmt.Sprintf(" The cells are at %s charge as the first time: set it by the same figures, in the same stages.", now)
	case state != nil && len(state.SpringMM) > 0:
		step.Text += fmt.Sprintf(" The setting was reckoned at %s charge, now the cells are at %s and thicker: go by the spring heights told here, not by the turns.", was, now)
		step.Figures = append(step.Figures, page.Fact{Label: "spring height at " + now + " charge", Value: span(slices.Min(state.SpringMM), slices.Max(state.SpringMM), 2) + " mm"})
	default:
		step.Text += fmt.Sprintf(" The setting was reckoned at %s charge, now the cells are at %s. The same turns from the new snug give the first force now, so it stays a little lower at full charge than reckoned; never add turns for that.", was, now)
	}
	return step
}

// fullCheckOf is the look at the clamp with the cells of one state full. Figures
// are reckoned for the whole pack full, so they are left out where only a group is.
func (j *Job) fullCheckOf(id string) page.Step {
	step, cells := j.fullCheck(), 0
	s, _ := j.Wiring.Plan.State(id)
	for _, place := range s.Places {
		cells += len(place)
	}
	if cells == j.Fixture.Pack.Cells {
		return step
	}
	return page.Step{Title: "Look at the clamp with this group full", Text: fmt.Sprintf(
		"Only %d of %d cells are full, so the clamp holds less than with all of them, and its figures for full charge do not apply yet. No cell may bulge and no plate bow visibly more than before: stop, discharge. Do not turn a nut now.", cells, j.Fixture.Pack.Cells)}
}

// addStep adds a step to the phase of its state, a new one where that changes.
func (w wired) addStep(list *[]page.Phase, s wiring.Step) {
	title := w.phaseTitle(s.State)
	if n := len(*list); n == 0 || (*list)[n-1].Title != title {
		*list = append(*list, page.Phase{Title: title})
	}
	p := &(*list)[len(*list)-1]
	p.Steps = append(p.Steps, w.pageStep(s))
}

func (w wired) phaseTitle(id string) string {
	if id == wiring.StateFinal {
		return "Link in series"
	}
	s, _ := w.Plan.State(id)
	if w.Layout.Cells() == 1 {
		return "First full charge"
	}
	return "Top balance: " + s.Name
}

// stepWords are title and caution of the plan's actions.
var stepWords = map[wiring.Action][2]string{
	wiring.Stack:     {"Put the cells in", ""},
	wiring.Close:     {"Close the clamp", "Put its covers on again before a link is fitted; it is not opened above storage charge."},
	wiring.Open:      {"Open the clamp", "Never at full charge: the cells push hardest then, and dome for good when they are let go. Slacken the front nuts crosswise, in the stages they were set by."},
	wiring.TurnCells: {"Turn cells round", "Cap both terminals of every cell that is lifted."},
	wiring.Fit:       {"Fit the links", "One link at a time, tools insulated to one bare end. Torque as the cell's data sheet says."},
	wiring.Remove:    {"Take links off", "Charger and load disconnected first."},
	wiring.Measure:   {"Measure", ""},
	wiring.Match:     {"Bring strays to the same charge", "Never join a stray to the others without a limited supply, a load or the resistor between."},
	wiring.Charge:    {"Charge", "Set the supply's voltage before connecting, and measure it at its clips. Stay near; stop on swelling, warmth or smell."},
	wiring.Discharge: {"Discharge to storage charge", "The load gets hot: nothing that burns near it, and stay with it."},
}

func (w wired) pageStep(s wiring.Step) page.Step {
	words := stepWords[s.Action]
	out := page.Step{Title: words[0], Text: s.Text, Caution: words[1]}
	if s.Band.HighV > 0 {
		out.Figures = append(out.Figures, page.Fact{Label: "expect", Value: s.Band.String()})
	}
	if s.Hours > 0 {
		out.Figures = append(out.Figures, page.Fact{Label: "takes about", Value: number.Trim(s.Hours, 1) + " h"})
	}
	if s.Action == wiring.Fit || s.Action == wiring.Remove {
		out.Figures = append(out.Figures, page.Fact{Label: "links", Value: w.marks(s)})
	}
	if s.Action == wiring.Fit || s.Action == wiring.Charge && w.Layout.Cells() == 1 {
		out.Figures = append(out.Figures, page.Fact{Label: "on every terminal", Value: w.fixingWords()})
	}
	if s.Action == wiring.Fit && s.State == wiring.StateFinal {
		out.Figures = append(out.Figures, w.spacers(s)...)
		in := w.Layout.Input()
		if shock := shockText(in.Volts.Full * float64(in.Series)); shock != "" {
			out.Caution += " " + shock
		}
	}
	return out
}

// fixingWords say what holds a link or lug to its terminal.
func (w wired) fixingWords() string {
	if w.Layout.Input().StudHeightMM > 0 {
		return "plain washer, lock washer, nut"
	}
	return "screw with lock washer and plain washer; turned in by hand first, it must not bottom"
}

// spacers are laid under the links of a step that would hang in the air.
func (w wired) spacers(s wiring.Step) []page.Fact {
	var out []page.Fact
	for _, shim := range w.Shims {
		if slices.ContainsFunc(s.Links, func(k wiring.Link) bool { return k.A == shim.Post || k.B == shim.Post }) {
			out = append(out, page.Fact{Label: "spacers", Value: tell.ShimText(w.Wiring, shim)})
		}
	}
	return out
}

// marks counts the bars and cables of a step by the mark on the part, and says
// which lie on each other.
func (w wired) marks(s wiring.Step) string {
	state, _ := w.Plan.State(s.State)
	count := map[string]int{}
	var order []string
	for _, k := range s.Links {
		mark := "unmarked"
		if spec, ok := w.Layout.SpecFor(k, w.turnsOf(k, state), w.Plan.Specs); ok {
			mark = spec.Mark
		}
		if count[mark] += wiring.Pieces([]wiring.Link{k}); !slices.Contains(order, mark) {
			order = append(order, mark)
		}
	}
	var out []string
	for _, m := range order {
		out = append(out, fmt.Sprintf("%d of %s", count[m], m))
	}
	text := words.Join(out)
	for _, k := range s.Links {
		if !k.Cable && k.Layers > 1 {
			text += fmt.Sprintf("; %d on each other at %s", k.Layers, k.ID)
		}
	}
	return text
}

// turnsOf is how the cells stand in the state that a link belongs to: that of the
// step, or an earlier one for links that are taken off.
func (w wired) turnsOf(k wiring.Link, state wiring.State) wiring.Turns {
	has := func(s wiring.State) bool {
		return slices.ContainsFunc(s.Links, func(o wiring.Link) bool { return o.ID == k.ID })
	}
	if has(state) {
		return state.Turns
	}
	for _, s := range w.Plan.States {
		if has(s) {
			return s.Turns
		}
	}
	return state.Turns
}
