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
	if w.Action == wiring.Measure {
		p.Title = reads(w)
	}
	if w.Band.HighV > 0 {
		p.Figures = append(p.Figures, page.Fact{Label: "expect", Value: w.Band.String()})
	}
	if w.Hours > 0 {
		p.Figures = append(p.Figures, page.Fact{Label: "takes about", Value: number.Figures(w.Hours, 2) + " h"})
	}
	if w.Alone && w.Action == wiring.TopUp {
		p.Title = "Fill every cell by itself"
	}
	welded := w.Layout.Input().Welded
	if welded && w.Action == wiring.Fit {
		p.Title = "Have the strips welded on"
	}
	if len(w.Links) > 0 && !welded {
		p.Figures = append(p.Figures, page.Fact{Label: "links", Value: marks(s, w)})
		var same []page.Fact
		p.Table, same = alike(linkTable(s, w))
		p.Figures = append(p.Figures, same...)
	}
	if len(w.Links) > 0 && welded {
		p.Table = page.Rows{{"strip", "read first"}}
		for i, k := range w.Links {
			read, _ := w.Layout.BeforeText(w.Before[i], k, w.Turns)
			p.Table = append(p.Table, []string{strings.TrimPrefix(w.Layout.LinkName(k, w.Turns), "link "), read})
		}
	}
	label := "with the lug"
	if w.Off {
		p.Title, label = "Take the sense leads off", "afterwards"
	}
	switch {
	case w.Action == wiring.Sense && !w.Off:
		p.Table = leadTable(w)
	case len(w.Lugs) > 0:
		p.Figures = append(p.Figures, page.Fact{Label: label, Value: joints(w, "lug", w.Lugs)})
	}
	each := len(w.Over) > 1 && !slices.ContainsFunc(w.Over, func(o wiring.Over) bool { return number.Trim(o.MilliV, 2) != number.Trim(w.Over[0].MilliV, 2) })
	if each {
		p.Figures = append(p.Figures, page.Fact{Label: "over each at most", Value: number.Trim(w.Over[0].MilliV, 2) + " mV"})
	}
	for _, o := range w.Over {
		for _, at := range []wiring.Post{o.Link.A, o.Link.B} {
			label := o.Link.ID + " at " + w.Layout.ShortName(at, w.Turns)
			if !each {
				label += ", \u2264 " + number.Trim(o.MilliV, 2) + " mV"
			}
			p.Figures = append(p.Figures, page.Fact{Label: label, Value: page.ToFill})
		}
	}
	if !welded && (w.Action == wiring.Fit || len(w.Lugs) > 0 && len(w.Over) == 0) {
		p.Text = words.Sentences(p.Text, fixing(t, w))
	}
	if w.Slack != nil {
		p.Text += fmt.Sprintf(" Slacken every front nut crosswise in %d equal stages, until all are loose. Keep your face out of line with the rods.", w.Slack.Stages)
		p.Figures = append(p.Figures, page.Fact{Label: "force until then, all rods", Value: t.Forces().Text(w.Slack.ForceN), Note: number.Trim(w.Slack.EnergyJ, 1) + " J"})
	}
	if w.Again != nil {
		p.Text = again(w.Again, len(s.Readings) > 0)
		for _, r := range s.Readings {
			f := page.Fact{Label: fmt.Sprintf("spring height at %.0f %% charge", 100*w.Again.Now), Value: t.Spring(r.Low)}
			if high := t.Spring(r.High); high != f.Value {
				f.Value += " to " + high
			}
			p.Figures = append(p.Figures, f)
		}
	}
}

// marks counts the bars and cables of a step by the mark on the part, and says
// which lie on each other.
func marks(s work.Step, w *work.Wired) string {
	var out []string
	for _, l := range s.Uses {
		if l.Group != "" {
			out = append(out, fmt.Sprintf("%s (%d)", l.Part.Mark, l.Count))
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

// reads is the title of a step that reads voltages.
func reads(w *work.Wired) string {
	switch {
	case len(w.Over) > 0:
		return "Read over every joint"
	case w.EachCell && w.Band.HighV == 0:
		return "Read every cell"
	case w.EachCell && w.ExpectV == w.Layout.Input().Volts.Full:
		return "Read every full cell"
	}
	return "Check the voltage"
}

// linkTable has a row for every link: what is read before it is closed or loosened, what
// lies on its terminals until then, and how they are fastened afterwards.
func linkTable(s work.Step, w *work.Wired) page.Rows {
	head, marked := []string{"link", "read first", "lies there", "fasten"}, len(s.Uses) > 1 && s.Uses[1].Group != ""
	if w.Action == wiring.Remove {
		head = []string{"link", "lies there", "afterwards"}
	}
	out := page.Rows{head}
	for i, k := range w.Links {
		name := strings.TrimPrefix(w.Layout.LinkName(k, w.Turns), "link ")
		if marked {
			name += " of " + markOf(s, k)
		}
		read, lies := w.Layout.BeforeText(w.Before[i], k, w.Turns)
		switch u := w.Before[i].Under; {
		case len(u[0])+len(u[1]) == 0:
			lies = "nothing"
		case len(u[0]) == 1 && len(u[1]) == 1:
			lies = "this link alone"
		}
		row := []string{name, read, lies, joints(w, k.ID, w.Before[i].After[:])}
		if w.Action == wiring.Remove {
			row = slices.Delete(row, 1, 2)
		}
		out = append(out, row)
	}
	return out
}

// leadTable has a row for every sense lead in its order: its terminal, and how that is
// fastened afterwards.
func leadTable(w *work.Wired) page.Rows {
	out := page.Rows{{"lead", "at", "afterwards"}}
	for i, j := range w.Lugs {
		out = append(out, []string{fmt.Sprint(i + 1), w.Layout.ShortName(j.Post, w.Turns), joints(w, "", []wiring.Joint{j})})
	}
	if w.Layout.Input().Welded {
		for i := range out {
			out[i] = out[i][:2]
		}
	}
	return out
}

// alike takes out of a table the columns that read the same in every row.
func alike(t page.Rows) (page.Rows, []page.Fact) {
	var same []page.Fact
	for c := len(t[0]) - 1; c > 0; c-- {
		if slices.ContainsFunc(t[1:], func(r []string) bool { return r[c] != t[1][c] }) {
			continue
		}
		same = append([]page.Fact{{Label: t[0][c], Value: t[1][c]}}, same...)
		for i := range t {
			t[i] = slices.Delete(t[i], c, c+1)
		}
	}
	return t, same
}

// joints are terminals as they are fastened, told once where they are alike, and without
// the link that is fastened where it lies there alone.
func joints(w *work.Wired, link string, ends []wiring.Joint) string {
	names, order := map[string][]string{}, []string{}
	for _, j := range ends {
		name := w.Layout.ShortName(j.Post, w.Turns)
		on := strings.TrimPrefix(w.Layout.JointText(j, w.Turns), name)
		if names[on] == nil {
			order = append(order, on)
		}
		names[on] = append(names[on], name)
	}
	if len(order) == 1 {
		return strings.TrimPrefix(strings.TrimLeft(order[0], ": "), link+", ")
	}
	for i, on := range order {
		order[i] = words.Join(names[on]) + on
	}
	return strings.Join(order, "; ")
}

// fixing is what goes on a terminal and how tight.
func fixing(t teller, w *work.Wired) string {
	on := fastening + "under the screw's head and the plain washer below it. Turn the screw in by hand first: it must not bottom."
	if n := w.Layout.Input().Screws; n > 1 {
		on = fmt.Sprintf("%s Each terminal has %d: start them all before you tighten one.", on, n)
	}
	if w.Layout.Input().StudHeightMM > 0 {
		on = fastening + "on the plain washer, then the nut."
	}
	if w.TorqueNMM > 0 {
		return on + " Tighten to " + t.Torques().Text(w.TorqueNMM) + "."
	}
	return on + " Tighten to the terminals' torque that you wrote down."
}

// keepShut says what is not opened, how it is kept away and who is called.
func keepShut(_ teller, s work.Step, p *page.Step) {
	f := s.Facts.(*work.Shut)
	only := ""
	if f.Welded {
		only = "Its strips are welded on: it does not come apart here, and no cell of it is replaced. Cutting them is work for whoever welded them, at storage charge and before the clamp is opened. "
	}
	p.Text = only + fmt.Sprintf("Do not open a pack with a cell that is swollen, leaks, hisses, smells or is warm. Do not open one that is full and cannot be discharged, nor one in doubt. Turn no nut. Take off no link. "+
		"Disconnect charger and load without a hand over the pack. Leave it where it stands, with nothing that burns beside it. Open the doors to the outside, keep people away, and watch it from afar for a day. "+
		"On smoke, hissing or flame, leave, shut the door and call the fire service. Say: lithium iron phosphate, %s kWh, %s V, the fumes are poisonous. "+
		"Otherwise call the cell's maker or a collection point for damaged lithium batteries. Do not post or drive a damaged one without them.", number.Trim(f.KWh, 1), number.Trim(f.PackV, 1))
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
		return "Close the clamp as the first time. Find snug again."
	}
	now, was := fmt.Sprintf("%.0f %%", 100*a.Now), fmt.Sprintf("%.0f %%", 100*a.Was)
	off, nuts := "Covers", ""
	if a.JamNuts {
		off = "Covers and second nuts"
	}
	if a.NewNuts {
		nuts = "Put new locking nuts on: used ones hold less."
	}
	how := fmt.Sprintf("The cells were at %s charge when you set the clamp, now they are at %s. Turn by the same figures from the new snug, and never add turns.", was, now)
	switch {
	case now == was:
		how = fmt.Sprintf("The cells are at %s charge as the first time. Set the clamp by the same figures, in the same stages.", now)
	case springs:
		how = fmt.Sprintf("The cells were at %s charge when you set the clamp, now they are at %s and thicker. Go by the spring heights listed here, not by the turns.", was, now)
	}
	return words.Sentences(off+" are off. Find snug again, crosswise, and record it: the old marks no longer hold.", nuts, how)
}
