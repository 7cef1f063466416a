package steps

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/params/words"
)

func (t teller) snug(s work.Step, p *page.Step) {
	n := s.Facts.(*work.Nuts)
	drags := n.DragNMM > 0
	p.Text = fmt.Sprintf("Turn the nuts crosswise, a little at a time: %s. ", strings.Join(rodNames(n.Order), ", "))
	if strings.Contains(p.Text, "column 1") {
		p.Text += "Column 1 is on the left. "
	}
	if n.Grease {
		p.Text = "Brush grease on the thread of every front end and on both faces of nut and washer: the torque holds for greased ones. " + p.Text
	}
	if drags {
		p.Text += "Use a spanner: the nuts' own drag hides the feel. A rod is snug when its washer can only just be turned by hand. "
		p.Text += t.holdText(n)
	} else {
		p.Text += "Turn them by hand. A rod is snug when its nut is finger tight and its washer can only just be turned. "
	}
	switch {
	case n.Held:
		p.Text += "Stop there: the data sheet wants no pressure. "
		if drags {
			p.Text += "Plain nuts, each locked by a second one, are better here (nuts.kind: jam): you can feel when they are finger tight. "
		}
	case n.Enough:
		p.Text += "Stop there: that is the force. "
	default:
		p.Text += "The turns count from here. "
	}
	p.Text += "Measure from plate to plate beside every rod. Turn nuts until all readings agree within " + t.Small(n.EvenMM) + "."
	t.record(s, p)
}

// holdText is how a rod is kept from turning with a nut that drags.
func (t teller) holdText(n *work.Nuts) string {
	const spanner = "Hold the back nut of the same rod with a second spanner, or the rod turns too. "
	switch n.Hold {
	case work.HoldMiddle:
		return "Hold the rod in its middle with pliers, or it turns too. "
	case work.HoldNoRoom:
		return spanner + "The sleeves leave no room for pliers. "
	case work.HoldBared:
		return fmt.Sprintf("Push its sleeve to the back, which bares %s of the rod at the front. Hold the rod there with pliers, or it turns too. Then push the sleeve to the middle again. ", t.Length(n.BareMM))
	}
	return spanner
}

func (t teller) force(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Forcing)
	if f.Torque {
		p.Text = fmt.Sprintf("Set the torque wrench. Tighten every front nut crosswise as before, in %d equal stages, so that the plates stay parallel. Pull slowly and stop at the click. Hold the back nut of the same rod with a spanner. Then mark every front nut and the plate beside it with a pen.", f.Stages)
		staged(p, s.Sets, work.TorqueTo, f.Stages, func(v work.Value) string { return t.Torques().Text(v.Value) + " greased" })
		return
	}
	p.Text = fmt.Sprintf("Mark every front nut and the plate beside it with a pen. Turn every nut crosswise as before, in %d equal stages. Hold the back nut of the same rod with a second spanner. Only what the front nut turns against the plate counts.", f.Stages)
	staged(p, s.Sets, work.TurnsTo, f.Stages, func(v work.Value) string { return clamp.TurnWords(v.Value) })
	if heights := Heights("spring height", s.Sets, t.Style); len(heights) > 0 {
		p.Text += " Then turn each nut until its spring has its height: that is surer than the turns." + t.gaugeText(f)
		if f.Weighed {
			p.Text += " That is the mean height found on the scale. The figure here is from the list."
		}
		p.Figures = append(p.Figures, heights...)
	}
}

// staged tells what is set in every stage, in a table where rods differ.
func staged(p *page.Step, sets []work.Value, what work.Set, stages int, say func(work.Value) string) {
	out := page.Rows{{"rods"}}
	for _, v := range sets {
		if v.What != what {
			continue
		}
		if name := strings.TrimSuffix(rodsName(v.Rods), " rods"); v.Stage == 1 {
			out = append(out, []string{name})
		}
		row := 1 + slices.IndexFunc(out[1:], func(r []string) bool { return len(r) == v.Stage })
		out[row] = append(out[row], say(v))
	}
	for k := range stages {
		out[0] = append(out[0], fmt.Sprintf("after stage %d", k+1))
	}
	out[0][stages] += ", in all from snug"
	if len(out) > 2 {
		p.Table = out
		return
	}
	for k, label := range out[0][1:] {
		p.Figures = append(p.Figures, page.Fact{Label: label, Value: out[1][k+1]})
	}
}

// gaugeText is how the printed gauge judges a spring, or why there is none.
func (t teller) gaugeText(f *work.Forcing) string {
	switch {
	case f.NoGauge:
		return " No gauge is printed for them: the rods carry unlike forces."
	case f.Gauge == nil:
		return ""
	case !f.Fits:
		return fmt.Sprintf(" Do not use the %s here: it is for rods that all carry alike.", PartName(f.Gauge))
	}
	return fmt.Sprintf(" Stand the %s where the first washer lies. Its GO arm (%s) must pass over the outer washer, its NO arm (%s) must not.", PartName(f.Gauge), t.Small(f.GoMM), t.Small(f.NoGoMM))
}

func (t teller) jam(s work.Step, p *page.Step) {
	n := 0
	for _, l := range s.Uses {
		n += l.Count
	}
	p.Text = fmt.Sprintf("Put a second nut, %s, on every rod end, %d in all. Hold the set nut with one spanner and tighten the second against it with another. The pen mark shows that the set nut does not move.", s.Uses[0].Part.Stock, n)
}

func (t teller) measured(s work.Step, p *page.Step) {
	n := s.Facts.(*work.Nuts)
	p.Text = "Measure from plate to plate beside every rod. If the readings do not agree within " + t.Small(n.EvenMM) + ", turn the nut of the longest."
	if n.Bench {
		p.Text += " Enter the means at snug and now in the file (readings: stack, snug and set). Make this card again before the first charge, and set the force it gives."
	}
	for _, r := range s.Readings {
		if r.What == work.PlatesCloser {
			p.Text += fmt.Sprintf(" Take the mean now from the mean at snug: at least %s. Less means that the cells are too stiff for these springs. Stop then, and do not charge above storage charge.", t.Small(r.Low))
		}
	}
	out := s.Readings[len(s.Readings)-2:] // front and back, which is as the back end was built
	t.record(s, p)
	p.Figures = append(p.Figures, page.Fact{Label: "rod out of the front nuts, about", Value: t.Length(out[0].Low)})
}

func (t teller) rodEnds(s work.Step, p *page.Step) {
	p.Text = "Put a turn of tape or a bought cap on each: a sawn end cuts insulation and skin."
	if len(s.Uses) == 0 {
		return
	}
	p.Title = "Fit the rod caps"
	where := "Push " + of(s.Uses) + " on the rod ends"
	if front, back := atEnd(s, assembly.RoleRodCap, assembly.Front), atEnd(s, assembly.RoleRodCap, assembly.Back); front[0].Part != back[0].Part {
		where = fmt.Sprintf("Push %s on the front ends and %s on the back ends", of(front), of(back))
	}
	p.Text = where + ". Push them on fully."
}

// bareNames are what is covered near the terminals.
var bareNames = map[work.BareKind]string{work.Plates: "the plates' upper edges", work.Angles: "the upper angles", work.NutsBare: "the nuts and washers"}

func (t teller) coverNear(s work.Step, p *page.Step) {
	var bare []string
	for _, b := range s.Bare {
		bare = append(bare, bareNames[b.What])
	}
	p.Text = "Put tape or an insulating sheet over " + words.Join(words.NonEmpty(bare...)) + ". " + coverLinks(t, s) + "Every terminal keeps its cap until its link goes on."
}

// coverLinks tells of the sheets bought for the lids.
func coverLinks(t teller, s work.Step) string {
	text := ""
	for _, l := range s.Uses {
		switch l.Part.ID {
		case "cover-strip":
			text += "Lay an insulating strip along each row of terminals, under where the links come. Cover no vent. "
		case "cover-mat":
			text += "Lay the mat over all lids but those you work at. "
		}
	}
	return text
}

func (t teller) lookFull(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Full)
	p.Figures = t.readings(s)
	switch {
	case f.Held:
		p.Title = "Look at the clamp at full charge"
		p.Text = "No cell may bulge against its neighbour or a plate. None may be loose. "
	case !f.Reckoned:
		p.Figures = []page.Fact{{Label: "expected force"}}
	case f.Springs:
		p.Text = "Measure every spring between its washers. If one is much shorter than listed, stop and discharge. "
	default:
		p.Text = "Lay a straight edge along the outside of the plates and measure the bow. Measure from plate to plate beside every rod. If a reading is much more than listed, stop and discharge. "
		p.Figures = slices.Insert(p.Figures, 1, bow(t, s, f))
	}
	p.Text += "Do not turn a nut now."
}

// bow is how far the plates bow now, and did when set.
func bow(t teller, s work.Step, f *work.Full) page.Fact {
	fact := page.Fact{Label: "plates bow by about"}
	for _, r := range s.Readings {
		if r.What == work.PlatesBow {
			fact.Value = t.Small(r.Low)
		}
	}
	if f.SetBow != nil {
		fact.Note = t.Small(*f.SetBow) + " when set"
	}
	return fact
}

func (t teller) recheck(s work.Step, p *page.Step) {
	l := s.Facts.(*work.Late)
	caps := ""
	if l.RodCaps {
		caps = " Take one rod cap off at a time, and put it back."
	}
	p.Text = fmt.Sprintf("Do this at storage charge, %.0f %%, never at full charge.%s ", 100*l.Charge, caps)
	p.Figures = t.readings(s)
	switch l.Creep {
	case work.LeaveBe:
		p.Text += "Creep takes little force here. See that no washer turns by hand, and leave the nuts alone."
	case work.ByHeight:
		p.Text += "Turn each nut on until its spring has the height listed here."
		p.Figures = append(p.Figures, Heights("spring height at storage charge", s.Sets, t.Style)...)
	case work.ByTurns:
		p.Text += "Turn each nut on by what creep has taken, never by the whole setting again."
		for _, v := range s.Sets {
			p.Figures = append(p.Figures, page.Fact{Label: "turn on " + words.First(rodsName(v.Rods), "every nut") + ", once", Value: clamp.TurnWords(v.Value)})
		}
	case work.ByReading:
		p.Text += "Read the bow of both plates after a month, then once a year, and enter it. 'clampwright reading' says which nut to turn, by how much, and when to read next. forms.html has the limits."
	default:
		p.Text += "No cell may be loose. Bring a nut back to snug where its washer turns freely."
	}
	if l.Yearly {
		p.Text += " Measure every spring once a year, at storage charge and room temperature. Outside the limits, turn the nuts until the springs have the height of the setting again."
	}
}

func (t teller) tie(s work.Step, p *page.Step) {
	p.Text = "Lead the sense leads along the plates' side edges. Close each cable tie over them, clear of vents and rod ends."
}

func (t teller) threadTies(s work.Step, p *page.Step) {
	p.Text = "Before you put up a plate, push a cable tie through each slot from outside and back round the side edge. Leave it open, and tape its ends to the plate's outer face."
}

func (t teller) stand(s work.Step, p *page.Step) {
	hole := t.Length(s.Facts.(*work.Feet).HoleMM)
	p.Text = "Screw the brackets on the plates to what the pack stands on. No bracket may touch a cell or lift a plate."
	if feet := of(lots(s, assembly.RoleFoot)); feet != "" {
		p.Text = fmt.Sprintf("Screw %s through their base holes, %s, to what the pack stands on. The cells stand on it too: the feet carry nothing.", feet, hole)
	}
}
