package steps

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly/wiring"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/words"
)

// actions are the titles of the wiring plan's actions.
var actions = map[wiring.Action]string{
	wiring.Stack: "Put the cells in", wiring.Close: "Close the clamp", wiring.Open: "Open the clamp", wiring.TurnCells: "Turn cells round",
	wiring.Fit: "Fit the links", wiring.Remove: "Take links off", wiring.Measure: "Measure", wiring.Sense: "Put the sense leads on", wiring.Match: "Bring strays to the same charge",
	wiring.Swap: "Replace the cell", wiring.TopUp: "Fill every place by itself", wiring.Charge: "Charge", wiring.Discharge: "Discharge to storage charge",
}

func (t teller) wire(s work.Step, p *page.Step) {
	w := s.Facts.(*work.Wired)
	p.Title, p.Text = actions[w.Action], w.Text
	if w.Band.HighV > 0 {
		p.Figures = append(p.Figures, page.Fact{Label: "expect", Value: w.Band.String()})
	}
	if w.Hours > 0 {
		p.Figures = append(p.Figures, page.Fact{Label: "takes about", Value: number.Trim(w.Hours, 1) + " h"})
	}
	if len(w.Links) > 0 {
		p.Figures = append(p.Figures, page.Fact{Label: "links", Value: marks(s, w)})
	}
	if w.Action == wiring.Fit {
		for i, k := range w.Links {
			read, lies := w.Layout.BeforeText(w.Before[i], k, w.Turns)
			p.Figures = append(p.Figures, page.Fact{Label: w.Layout.LinkName(k, w.Turns) + " of " + markOf(s, k), Value: read, Note: lies})
		}
	}
	for i, k := range w.Links {
		if w.Action == wiring.Remove {
			_, lies := w.Layout.BeforeText(w.Before[i], k, w.Turns)
			p.Figures = append(p.Figures, page.Fact{Label: w.Layout.LinkName(k, w.Turns), Value: "0 V", Note: lies})
		}
	}
	label := "with the lug"
	if w.Action == wiring.Sense {
		label = "with their rings"
	}
	if w.Off {
		p.Title, label = "Take the sense leads off", "then"
	}
	var joints []string
	for _, j := range w.Lugs {
		joints = append(joints, w.Layout.JointText(j, w.Turns))
	}
	if len(joints) > 0 {
		p.Figures = append(p.Figures, page.Fact{Label: label, Value: strings.Join(joints, "; ")})
	}
	for _, o := range w.Over {
		for _, at := range []wiring.Post{o.Link.A, o.Link.B} {
			p.Figures = append(p.Figures, page.Fact{Label: fmt.Sprintf("%s at %s, at most %s mV at %s A", o.Link.ID, w.Layout.ShortName(at, w.Turns), number.Trim(o.MilliV, 2), number.Trim(w.Amps, 1)), Value: page.ToFill})
		}
	}
	if w.Action == wiring.Fit || w.Action == wiring.Remove || w.Lug {
		on, torque := "lock washer under the head, plain washer below it; turned in by hand first, the screw must not bottom", page.Fact{Label: "torque of every terminal", Value: "as found when the cells were checked", Note: "by the cell's data sheet"}
		if w.Stud {
			on = "plain washer, lock washer, nut"
		}
		if w.TorqueNMM > 0 {
			torque = page.Fact{Label: "torque of every terminal", Value: number.Trim(w.TorqueNMM/1000, 1) + " N·m", Note: "cell.terminals.torque"}
		}
		p.Figures = append(p.Figures, page.Fact{Label: "on every terminal", Value: on}, torque)
	}
	if w.Slack != nil {
		p.Text += fmt.Sprintf(" Slacken every front nut crosswise, in %d stages, a like part of its turns in each, until all are loose. No face in line with a rod.", w.Slack.Stages)
		p.Figures = append(p.Figures, page.Fact{Label: "held until then", Value: fmt.Sprintf("%s N, %s J", number.Trim(w.Slack.ForceN, 0), number.Trim(w.Slack.EnergyJ, 1)), Note: "all rods together"})
	}
	if w.Again != nil {
		p.Text = again(w.Again, len(s.Readings) > 0)
		for _, r := range s.Readings {
			p.Figures = append(p.Figures, page.Fact{Label: fmt.Sprintf("spring height at %.0f %% charge", 100*w.Again.Now), Value: Span(r.Low, r.High, 2) + " mm"})
		}
	}
}

// marks counts the bars and cables of a step by the mark on the part, and says
// which lie on each other.
func marks(s work.Step, w *work.Wired) string {
	var out []string
	for _, l := range s.Uses {
		if l.Group != "" {
			out = append(out, fmt.Sprintf("%d of %s", l.Count, l.Part.Mark))
		}
	}
	text := words.Join(out)
	for _, k := range w.Links {
		if !k.Cable && k.Layers > 1 {
			text += fmt.Sprintf("; %d on each other at %s", k.Layers, k.ID)
		}
	}
	return text
}

// keepShut says what is not opened, how it is kept away and who is called.
func keepShut(_ teller, s work.Step, p *page.Step) {
	f := s.Facts.(*work.Shut)
	p.Text = fmt.Sprintf("Do not open a pack with a cell that is swollen, leaks, hisses, smells or is warm, nor one that is full and can't be discharged, nor one in doubt. Turn no nut. Take off no link. "+
		"Disconnect charger and load where no hand comes over the pack. Leave it where it stands, nothing that burns beside it, doors open to the outside, and keep people away. Watch it from afar for a day. "+
		"On smoke, hissing or flame leave, shut the door and call the fire service. Say: lithium iron phosphate, %s kWh, %s V, the fumes are poisonous. "+
		"Else call the cell's maker or a collection point for damaged lithium batteries: a damaged one is not posted and not driven without them.", number.Trim(f.KWh, 1), number.Trim(f.PackV, 1))
}

// markOf is the mark on the part of a link.
func markOf(s work.Step, k wiring.Link) string {
	for _, l := range s.Uses {
		if slices.Contains(l.At, k.ID) {
			return l.Part.Mark
		}
	}
	return ""
}

// again says what setting the clamp a second time takes, by the springs where they
// have heights of their own for the charge the cells have by then.
func again(a *work.Again, springs bool) string {
	if a.Held {
		return "Close the clamp as the first time: find snug anew."
	}
	now, was := fmt.Sprintf("%.0f %%", 100*a.Now), fmt.Sprintf("%.0f %%", 100*a.Was)
	off, nuts := "Covers", ""
	if a.JamNuts {
		off = "Covers and second nuts"
	}
	if a.NewNuts {
		nuts = "Put new locking nuts on: those taken off hold less each time."
	}
	how := fmt.Sprintf("The setting was reckoned at %s charge, now the cells are at %s. The same turns from the new snug give the first force now, so it stays a little lower at full charge than reckoned; never add turns for that.", was, now)
	switch {
	case now == was:
		how = fmt.Sprintf("The cells are at %s charge as the first time: set it by the same figures, in the same stages.", now)
	case springs:
		how = fmt.Sprintf("The setting was reckoned at %s charge, now the cells are at %s and thicker: go by the spring heights told here, not by the turns.", was, now)
	}
	return words.Sentences(off+" are off. Find snug anew, crosswise, and record it anew: the old marks no longer hold.", nuts, how)
}

// parallel is the balance without a wiring plan.
func (t teller) parallel(s work.Step, p *page.Step) {
	p.Text = "All cells in parallel, small current, watched. Stop on visible swelling, on warmth, on smell."
	p.Figures = []page.Fact{{Label: "up to", Value: number.Trim(s.Sets[1].Value, 2) + " V"}, {Label: "supply", Value: number.Trim(s.Sets[2].Value, 0) + " A or less"}}
}
