package export

import (
	"fmt"

	"clampwright/assembly/wiring"
	"clampwright/export/number"
	"clampwright/export/page"
)

// wiringPhases are the plan's own steps for the build sheet, a phase for every
// state. What is told elsewhere is added where it belongs: the force at full
// charge, and the opening of the clamp.
func (j *Job) wiringPhases() []page.Phase {
	w := j.Wiring
	var out []page.Phase
	for _, s := range w.Plan.Steps {
		if s.Action == wiring.Stack && s.Number == 1 || s.Action == wiring.Close && s.Number == 2 {
			continue // told under "Clamp the cells"
		}
		title := w.phaseTitle(s.State)
		if len(out) == 0 || out[len(out)-1].Title != title {
			out = append(out, page.Phase{Title: title})
		}
		p := &out[len(out)-1]
		p.Steps = append(p.Steps, w.pageStep(s))
		if s.Action == wiring.Charge {
			p.Steps = append(p.Steps, page.Step{Title: "Check the force at full charge", Text: "Look along the plates with a straight edge and read the springs, if fitted. Do not turn a nut now.",
				Figures: []page.Fact{{Label: "expected force", Value: j.stateForce("full")}}})
		}
	}
	return out
}

func (w *WiringOutcome) phaseTitle(id string) string {
	switch {
	case id == wiring.StateFinal:
		return "Link in series"
	case id == wiring.StateDischarge:
		return "Discharge to storage charge"
	}
	s, _ := w.Plan.State(id)
	return "Top balance: " + s.Name
}

// stepWords are title and caution of the plan's actions.
var stepWords = map[wiring.Action][2]string{
	wiring.Stack:     {"Put the cells in", ""},
	wiring.Close:     {"Close the clamp", "Set the force as before; it is not opened again above storage charge."},
	wiring.Open:      {"Open the clamp", "Never at full charge: the cells push hardest then, and dome for good when they are let go."},
	wiring.TurnCells: {"Turn cells round", "Cap both terminals of every cell that is lifted."},
	wiring.Fit:       {"Fit the links", "One link at a time, tools insulated to one bare end. Torque as the cell's data sheet says."},
	wiring.Remove:    {"Take links off", "Charger and load disconnected first."},
	wiring.Measure:   {"Measure", ""},
	wiring.Charge:    {"Charge", "Set the supply's voltage before connecting, and measure it at its clips. Stay near; stop on swelling, warmth or smell."},
	wiring.Discharge: {"Discharge to storage charge", "Watch the weakest cell: it empties first."},
}

func (w *WiringOutcome) pageStep(s wiring.Step) page.Step {
	words := stepWords[s.Action]
	out := page.Step{Title: words[0], Text: s.Text, Caution: words[1]}
	if s.ExpectV > 0 {
		out.Figures = append(out.Figures, page.Fact{Label: "expect", Value: number.Trim(s.ExpectV, 2) + " V"})
	}
	if s.Hours > 0 {
		out.Figures = append(out.Figures, page.Fact{Label: "takes about", Value: number.Trim(s.Hours, 1) + " h"})
	}
	if s.Action == wiring.Fit || s.Action == wiring.Remove {
		out.Figures = append(out.Figures, page.Fact{Label: "links", Value: fmt.Sprint(len(s.Links))})
	}
	return out
}
