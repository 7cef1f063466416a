package steps

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/words"
)

func (t teller) snug(s work.Step, p *page.Step) {
	n := s.Facts.(*work.Nuts)
	drags := n.DragNMM > 0
	p.Text = fmt.Sprintf("Crosswise, a little at a time: %s. ", strings.Join(rodNames(n.Order), ", "))
	if n.Grease {
		p.Text = "Brush grease on the thread of every front end and on both faces of nut and washer: the torque holds for greased ones. " + p.Text
	}
	if drags {
		p.Text += fmt.Sprintf("Run the nuts down with a wrench. Their own drag, up to %s N·m, hides the feel: go by the washer. A rod is snug when its washer can only just be turned by hand. ", number.Trim(n.DragNMM/1000, 1))
		p.Text += t.holdText(n)
	} else {
		p.Text += "Run the nuts down by hand. A rod is snug when the nut is finger tight: its washer can only just be turned by hand. "
	}
	switch {
	case n.Held:
		p.Text += "Stop there: the data sheet wants no pressure, the nuts only keep the cells from moving. "
		if drags {
			p.Text += "Plain nuts, each locked by a second one, do better here than nuts that drag (nuts.kind: jam): with them finger tight can be felt. "
		}
	case n.Enough:
		p.Text += "Stop there: that is the force wanted. "
	default:
		p.Text += "The turns count from here. "
	}
	p.Text += "Measure from plate to plate beside every rod: the readings agree within " + t.Small(n.EvenMM) + ", else even them out."
	p.Figures = t.readings(s)
}

// holdText is how a rod is kept from turning with a nut that drags.
func (t teller) holdText(n *work.Nuts) string {
	const spanner = "The rod turns with the nut: hold the back nut of the same rod with a second spanner. "
	switch n.Hold {
	case work.HoldMiddle:
		return "The rod turns with the nut: hold it in its middle with pliers. "
	case work.HoldNoRoom:
		return spanner + "The sleeves leave no room for pliers. "
	case work.HoldBared:
		return fmt.Sprintf("The rod turns with the nut: push its sleeve to the back, which bares %s of it at the front, and hold it there with pliers; then push the sleeve to the middle again. ", t.Length(n.BareMM))
	}
	return spanner
}

func (t teller) force(s work.Step, p *page.Step) {
	f := s.Facts.(*work.Forcing)
	if f.Torque {
		p.Text = fmt.Sprintf("Set the torque wrench. Go over the front nuts in %d equal stages, in each of them every nut once, crosswise as before: so the plates stay parallel. Pull slowly and stop at the click. Hold the back nut of the same rod with a spanner. Then mark every front nut and the plate beside it with a pen.", f.Stages)
		p.Figures = staged(s.Sets, work.TorqueTo, f.Stages, "greased", func(v work.Value) string { return number.Trim(v.Value/1000, 2) + " N·m" })
		return
	}
	p.Text = fmt.Sprintf("Mark every front nut and the plate beside it with a pen. Turn in %d equal stages, in each of them every nut once, crosswise as before, by its own stage: so the plates stay parallel. Hold the back nut of the same rod with a second spanner; then only what the front nut turns against the plate counts, even if the rod turns with it.", f.Stages)
	p.Figures = staged(s.Sets, work.TurnsTo, f.Stages, "past snug", func(v work.Value) string { return clamp.TurnWords(v.Value) })
	if heights := Heights("spring height", s.Sets); len(heights) > 0 {
		p.Text += " Then go by the springs, which tell the force better than the turns: measure each stack between its washers and turn its nut until it has its height." + gaugeText(f)
		if f.Weighed {
			p.Text += " That height is the one found on the scale; the figure here is reckoned from the list."
		}
		p.Figures = append(p.Figures, heights...)
	}
}

// staged is what is set in every stage, rod by rod where they differ.
func staged(sets []work.Value, what work.Set, stages int, note string, say func(work.Value) string) []page.Fact {
	out := make([]page.Fact, stages)
	for k := range out {
		var words []string
		for _, v := range sets {
			if v.What == what && v.Stage == k+1 {
				words = append(words, strings.TrimPrefix(rodsName(v.Rods)+": "+say(v), ": "))
			}
		}
		out[k] = page.Fact{Label: fmt.Sprintf("after stage %d", k+1), Value: strings.Join(words, "; "), Note: note}
	}
	out[stages-1].Label += ", in all"
	return out
}

// gaugeText is how the printed gauge judges a spring, or why there is none.
func gaugeText(f *work.Forcing) string {
	switch {
	case f.NoGauge:
		return " No gauge is printed for them: one gauge can't judge rods that carry unlike forces."
	case f.Gauge == nil:
		return ""
	case !f.Fits:
		return fmt.Sprintf(" Leave the %s away here: it is for rods that all carry alike.", PartName(f.Gauge))
	}
	return fmt.Sprintf(" The %s stands on what the first washer lies on: its GO arm (%s mm) must pass over the outer washer, its NO arm (%s mm) must not.", PartName(f.Gauge), number.Trim(f.GoMM, 1), number.Trim(f.NoGoMM, 1))
}

func (t teller) jam(s work.Step, p *page.Step) {
	n := 0
	for _, l := range s.Uses {
		n += l.Count
	}
	p.Text = fmt.Sprintf("A second nut, %s, on every rod end, %d in all: hold the set nut with one spanner and tighten the second against it with another. The set nut must not move: look at its pen mark.", s.Uses[0].Part.Stock, n)
}

func (t teller) measured(s work.Step, p *page.Step) {
	n := s.Facts.(*work.Nuts)
	p.Text = "From plate to plate beside every rod. The readings agree within " + t.Small(n.EvenMM) + "; if not, the plates lean: even them out with the nut of the longest."
	if n.Bench {
		p.Text += " The means of the readings at snug and now, put into the file under readings as stack, snug and set, tell how stiff your cells are: make this sheet anew with them before the first charge, and set the force it then tells."
	}
	for _, r := range s.Readings {
		if r.What == work.PlatesCloser {
			p.Text += fmt.Sprintf(" Take the mean of the readings now from the mean at snug. It must be at least %s. Less means that the cells are too stiff for these springs: stop, and do not charge above storage charge.", t.Small(r.Low))
		}
	}
	out := s.Readings[len(s.Readings)-2:] // front and back
	p.Figures = append(t.readings(s), page.Fact{Label: "rod out of the front nuts, about", Value: t.Exact(out[0].Low), Note: "at the back " + t.Exact(out[1].Low)})
}

func (t teller) rodEnds(s work.Step, p *page.Step) {
	p.Text = "A turn of tape or a bought cap on each: a sawn end cuts insulation and skin, and stands where a spanner slips."
	if len(s.Uses) == 0 {
		return
	}
	p.Title = "Fit the rod caps"
	where := "On every rod end: " + of(s.Uses)
	if front, back := atEnd(s, assembly.GroupRodCap, assembly.Front), atEnd(s, assembly.GroupRodCap, assembly.Back); front[0].Part != back[0].Part {
		where = fmt.Sprintf("On the front ends: %s; on the back ends: %s", of(front), of(back))
	}
	p.Text = where + ". Push them on as far as they go; no sawn end stays bare."
}

// bareNames are what is covered near the terminals.
var bareNames = map[work.BareKind]string{work.Plates: "the plates' upper edges", work.Angles: "the upper angles", work.NutsBare: "the nuts and washers"}

func (t teller) coverNear(s work.Step, p *page.Step) {
	var bare []string
	for _, b := range s.Bare {
		bare = append(bare, bareNames[b.What])
	}
	p.Text = "Tape or an insulating sheet over " + strings.Join(words.NonEmpty(bare...), ", ") + ". " + t.coverLinks(s) + "Every terminal keeps its cap. Take the caps off only the two terminals that a link joins. Put them back when it is tight."
}

// coverLinks tells of the sheets bought for the lids.
func (t teller) coverLinks(s work.Step) string {
	text := ""
	for _, l := range s.Uses {
		switch l.Part.ID {
		case "cover-strip":
			text += "Lay an insulating strip over each row of terminals, under where the links come: no vent may be covered. "
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
	case f.Cells != f.Of:
		p.Title = "Look at the clamp with this group full"
		p.Text = fmt.Sprintf("Only %d of %d cells are full, so the clamp holds less than with all of them, and its figures for full charge do not apply yet. No cell may bulge and no plate bow visibly more than before: stop, discharge. ", f.Cells, f.Of)
	case f.Held:
		p.Title = "Look at the clamp at full charge"
		p.Text = "No cell may bulge against its neighbour or a plate, and none may be loose. "
	case !f.Reckoned:
		p.Figures = []page.Fact{{Label: "expected force"}}
	case f.Springs:
		p.Text = "Measure every spring between its washers. One much shorter than told means cells that swell more than reckoned: stop, discharge. "
	default:
		p.Text = "Lay a straight edge along the outside of the plates, where no rod is in the way, and measure from plate to plate beside every rod. Much more than told here means cells that swell more than reckoned: stop, discharge. "
		p.Figures = slices.Insert(p.Figures, 1, t.bow(s, f))
	}
	if f.First {
		p.Text = "When the pack is full for the first time, on its own charger and board, somebody beside it: until now only some of the cells were full at once. " + p.Text
	}
	p.Text += "Do not turn a nut now."
}

// bow is how far the plates bow now, and did when set.
func (t teller) bow(s work.Step, f *work.Full) page.Fact {
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

func (t teller) discharge(s work.Step, p *page.Step) {
	p.Text = "Through the pack's own load or a tester, every cell watched. A pack is not left at full charge, and only at storage charge may a nut be turned."
	p.Figures = []page.Fact{{Label: "to", Value: fmt.Sprintf("%.0f %%, about %s V a cell", 100*s.Sets[0].Value, number.Trim(s.Sets[1].Value, 2))}}
}

func (t teller) recheck(s work.Step, p *page.Step) {
	l := s.Facts.(*work.Late)
	caps := ""
	if l.RodCaps {
		caps = " One rod cap off at a time, and on again."
	}
	p.Text = fmt.Sprintf("At storage charge, %.0f %%, never at full charge: discharge first.%s ", 100*l.Charge, caps)
	p.Figures = t.readings(s)
	switch l.Creep {
	case work.LeaveBe:
		p.Text += "Creep takes little force here: only see that no washer turns by hand, and leave the nuts alone otherwise."
	case work.ByHeight:
		p.Text += "Turn each nut on until its spring has the height told here, which is that of the setting at this charge."
		p.Figures = append(p.Figures, Heights("spring height at storage charge", s.Sets)...)
	case work.ByTurns:
		p.Text += "Turn each nut on only by what creep has taken, not by the whole setting again."
		for _, v := range s.Sets {
			p.Figures = append(p.Figures, page.Fact{Label: "turn on " + words.First(rodsName(v.Rods), "every nut") + ", once", Value: clamp.TurnWords(v.Value)})
		}
	default:
		p.Text += "No cell may be loose: bring a nut back to snug where its washer turns freely."
	}
	if l.Yearly {
		p.Text += " Measure every spring once a year, at storage charge and room temperature. Within the limits leave the nuts alone. Outside them turn the nuts until the springs have the height of the setting again."
	}
}

func (t teller) tie(s work.Step, p *page.Step) {
	p.Text = "Sense leads to the plates' side edges: close each cable tie over them, clear of vents and of the rods' ends."
}

func (t teller) threadTies(s work.Step, p *page.Step) {
	p.Text = "Before a plate is put up: one cable tie through each slot from outside, back round the side edge, left open. Tape its ends to the plate's outer face."
}

func (t teller) stand(s work.Step, p *page.Step) {
	hole := t.Length(s.Facts.(*work.Feet).HoleMM)
	p.Text = "Screws through the brackets on the plates into what the pack stands on. No bracket may touch a cell or lift the plates off their height."
	if feet := of(lots(s, assembly.GroupFoot)); feet != "" {
		p.Text = fmt.Sprintf("Screws through the base holes, %s, of %s, into what the pack stands on. The cells stand on it too; the feet hold the pack in place and carry nothing.", hole, feet)
	}
}
