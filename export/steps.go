package export

import (
	"fmt"
	"math"
	"strings"

	"clampwright/assembly"
	"clampwright/export/number"
	"clampwright/export/page"
	"clampwright/params"
	"clampwright/parts"
)

// cautions are the usual ones, in our own words, and those this fixture adds.
func cautions(f *params.Fixture) []page.Caution {
	out := []page.Caution{
		{Title: "The data sheet comes first", Text: "This sheet certifies nothing. Follow the cell maker's data sheet, then your local code, and have a licensed person do what that code reserves for one."},
		{Title: "Clamp before the first full charge", Text: "Loose cells dome late in charge and never come back. Do not charge loose cells to full, and do not squeeze domed ones flat."},
		{Title: "Never open the clamp at full charge", Text: fmt.Sprintf("Slacken or open it only at storage charge, about %.0f %%. At full charge the cells push hardest.", 100*f.Clamp.StorageCharge)},
		{Title: "Everything metal can short a cell", Text: shortText(f)},
		{Title: "Keep vents free", Text: "Nothing over or against a vent, no load on lids, terminals or lid welds: press the large faces only."},
		{Title: "A swollen, leaking, hot or over-voltage cell", Text: "Stop, keep away, ventilate, isolate it. Do not press it flat, do not open it."},
		{Title: "Stretched rods and squeezed springs store energy", Text: "Wear eye protection, stand to the side of the rods, turn the nuts by small equal steps crosswise."},
	}
	if m := f.Cell.Mass.Grams() * float64(f.Pack.Cells) / 1000; m > 20 {
		out = append(out, page.Caution{Title: "Heavy", Text: fmt.Sprintf("The cells alone are %.0f kg. Assemble where the pack will stay, or plan how two people or a hoist lift it.", m)})
	}
	if f.Cell.CaseLive {
		out = append(out, page.Caution{Title: "Bare cases are live", Text: "A bare aluminium case may stand at a cell potential. Put an insulating sheet between cells and between cells and anything of metal."})
	}
	return out
}

// shortText gives the short-circuit scale: one cell's voltage over its
// resistance.
func shortText(f *params.Fixture) string {
	amps := f.Electrical.VoltageStorage / (f.Cell.ResistanceMOhm / 1000)
	return fmt.Sprintf("One cell can drive about %s A into a short for a moment. Tape or cap tools to one bare end, take off rings and watches, cap the rod ends, cover the terminals you are not working on.", number.Trim(math.Round(amps/100)*100, 0))
}

// steps is the order of work with this fixture's figures.
func (j *Job) steps() []page.Phase {
	return append(append([]page.Phase{j.making(), j.clamping()}, j.charging()...), j.afterwards())
}

func (j *Job) making() page.Phase {
	p := page.Phase{Title: "Make the parts"}
	for _, l := range j.cuts() {
		p.Steps = append(p.Steps, page.Step{
			Title: fmt.Sprintf("Cut %d of %s %s", l.Quantity, l.Part.Name, l.Part.Mark),
			Text:  cutText(l.Part),
			Figures: []page.Fact{
				{Label: "size", Value: j.sizeExact(l.SizeMM)}, {Label: "from", Value: l.from()},
			},
		})
	}
	p.Steps = append(p.Steps,
		page.Step{Title: "Drill", Text: "Pilot first, then the clearance hole, from the template or the table of holes. Drill plates as a pair and angles as pairs.",
			Figures: []page.Fact{{Label: "pilot", Value: j.drill(j.Fixture.Rods.Pilot.MM())}, {Label: "hole", Value: j.drill(j.Fixture.Rods.Hole.MM())}}},
		page.Step{Title: "Deburr", Text: "Break every edge and file the sawn rod ends until a nut runs on by hand. A burr cuts insulation."},
		page.Step{Title: "Dry fit without cells", Text: "Push all rods through both plates and angles. Each must pass all its holes by hand."},
	)
	return p
}

func (j *Job) sizeExact(mm [2]float64) string {
	if mm[1] == 0 {
		return j.exact(mm[0])
	}
	return j.exact(mm[0]) + " x " + j.exact(mm[1])
}

func cutText(p *parts.Part) string {
	switch p.Make {
	case parts.MakeRod:
		return "Run a nut on before sawing; taking it off cleans the thread."
	case parts.MakeBar:
		if p.Kind == parts.KindLink {
			return "Square ends; drill the hole and open the slot as under Drilling. Round the corners and break every edge: a burr cuts insulation and keeps the joint from seating."
		}
		if p.Kind == parts.KindStiffener {
			return "Square ends; chamfer the corners of the standing leg as drawn."
		}
		return "Square ends."
	}
	if p.Kind == parts.KindPlate {
		return "Mark the UP edge and the outside face before it leaves the saw."
	}
	return "Clean edges: no burr or splinter may reach a cell."
}

func (j *Job) clamping() page.Phase {
	f, s := j.Fixture, j.Clamp.Setting
	p := page.Phase{Title: "Clamp the cells", Note: fmt.Sprintf("At %.0f %% charge or so, at room temperature, before any full charge.", 100*f.Clamp.SetCharge)}
	p.Steps = append(p.Steps, page.Step{Title: "Stand the cells on a flat board", Text: j.standText()})
	p.Steps = append(p.Steps, page.Step{Title: "Fit plates, angles, rods, washers and nuts", Text: "Plates with UP upwards and the marked face outside. Nuts finger tight. Tap the cells level with a block of wood.",
		Figures: []page.Fact{{Label: "rod", Value: j.exact(f.Rods.Length.MM())}, {Label: "stack before", Value: j.exact(f.Pack.StackLength.MM())}}})
	p.Steps = append(p.Steps, page.Step{Title: "Bring the nuts to snug", Text: "Hold each rod in its middle with pliers from outside; locking nuts turn the rod with them. Snug: the washer no longer turns by hand.", Caution: "The jaws never point at a cell or a terminal."})
	set := page.Step{Title: "Set the force", Text: "One flat of the hexagon at a time, crosswise, on the nuts of one end.", Figures: j.turnFigures()}
	if s.SpringFree > 0 {
		set.Text = "One flat of the hexagon at a time, crosswise, until every spring stack has its height."
		set.Figures = append(set.Figures, page.Fact{Label: "spring height", Value: span(s.SpringMM.Least, s.SpringMM.Greatest, 2) + " mm"})
	}
	switch drag := s.DragNMM.Greatest; {
	case s.WrenchOK:
	case drag > s.ClampNMM.Least:
		set.Caution = fmt.Sprintf("A torque wrench can't set this: the nut's own drag may reach %s N·m, the clamping torque is %s N·m.", number.Trim(drag/1000, 1), span(s.ClampNMM.Least/1000, s.ClampNMM.Greatest/1000, 2))
	default:
		set.Caution = fmt.Sprintf("A torque wrench alone is too coarse: the torque for this force is %s N·m, depending on friction.", span(s.TorqueNMM.Least/1000, s.TorqueNMM.Greatest/1000, 2))
	}
	p.Steps = append(p.Steps, set, page.Step{Title: "Measure the stack", Text: fmt.Sprintf("Beside every rod; the %d readings should agree within half a millimetre. Write them here; they tell your cells' stiffness when put into the file under clamp.bench.", len(f.Rods.Columns)*len(f.Rods.Levels))})
	return p
}

// turnFigures are the turns of the nuts: one figure when all rods need the same
// flats, else one for every rod.
func (j *Job) turnFigures() []page.Fact {
	s, f := j.Clamp.Setting, j.Fixture
	same := len(s.PerRod) != len(f.Rods.Columns)*len(f.Rods.Levels)
	if !same {
		same = true
		for _, r := range s.PerRod {
			same = same && r.Flats == s.PerRod[0].Flats
		}
	}
	if same {
		return []page.Fact{{Label: "turns past snug", Value: span(s.Turns.Least, s.Turns.Greatest, 2)}, {Label: "flats", Value: fmt.Sprint(s.Flats)}}
	}
	var out []page.Fact
	for i, r := range s.PerRod { // level by level, as the mechanics places them
		x, y := f.Rods.Columns[i%len(f.Rods.Columns)], f.Rods.Levels[i/len(f.Rods.Columns)]
		out = append(out, page.Fact{Label: j.rodName(x.MM(), y.MM()), Value: fmt.Sprintf("%s turns, %d flats", number.Trim(r.Turns, 2), r.Flats)})
	}
	return out
}

// rodName names the rod at a place: "left lower".
func (j *Job) rodName(x, y float64) string {
	for _, in := range j.Assembly.Of(assembly.GroupRod) {
		if math.Abs(in.Frame.O.X-x) < 0.01 && math.Abs(in.Frame.O.Y-y) < 0.01 {
			return strings.ReplaceAll(in.ID, "-", " ")
		}
	}
	return fmt.Sprintf("rod at %s, %s", j.length(x), j.length(y))
}

// between says what lies between the cells.
func (j *Job) between() string {
	if j.Fixture.Separator != nil {
		return ", separators between"
	}
	return ""
}

func (j *Job) standText() string {
	if w := j.Wiring; w != nil && len(w.Plan.Steps) > 0 {
		return w.Plan.Steps[0].Text + " " + w.whichSide() + " Large face to large face" + j.between() + ", corners square."
	}
	if e := j.Fixture.Electrical; e.Series > 1 {
		return "All in the orientation of the electrical plan, large face to large face" + j.between() + ", corners square."
	}
	return "Large face to large face" + j.between() + ", corners square."
}

// charging is the way from loose charge to the finished pack: the wiring plan's
// own steps.
func (j *Job) charging() []page.Phase {
	e, f := j.Fixture.Electrical, j.Fixture
	if j.Wiring != nil && j.Wiring.Problem == "" {
		if !j.Wiring.Proven {
			return []page.Phase{{Title: "Balance and charge", Note: "No wiring plan is proven: no link may be fitted. See the wiring checks."}}
		}
		return j.wiringPhases()
	}
	return []page.Phase{{Title: "Balance and charge", Steps: []page.Step{
		{Title: "Top balance in parallel", Text: "All cells in parallel, small current, watched. Stop on visible swelling, on warmth, on smell.",
			Figures: []page.Fact{{Label: "up to", Value: number.Trim(e.VoltageFull, 2) + " V"}, {Label: "supply", Value: number.Trim(e.BalanceCurrent, 0) + " A or less"}},
			Caution: "Set the supply's voltage before connecting, and measure it at its clips."},
		{Title: "Discharge to storage charge", Text: "Through the pack's load or a tester. Only now may the clamp be slackened.",
			Figures: []page.Fact{{Label: "to", Value: fmt.Sprintf("%.0f %%, about %s V a cell", 100*f.Clamp.StorageCharge, number.Trim(e.VoltageStorage, 2))}}},
	}}}
}

func (j *Job) stateForce(name string) string {
	for _, s := range j.Clamp.States {
		if s.Name == name {
			return number.Trim(s.ForceN, 0) + " N on all rods together"
		}
	}
	return ""
}

func (j *Job) afterwards() page.Phase {
	caps := page.Step{Title: "Cover the rod ends", Text: "Caps, or tape: a sawn end cuts insulation and skin."}
	if j.Fixture.Prints.RodCaps {
		caps = page.Step{Title: "Fit the rod caps", Text: "Every sawn end covered."}
	}
	return page.Phase{Title: "Afterwards", Steps: []page.Step{j.recheck(), caps}}
}

// littleCreep is the share of the force that may creep away before the nuts are
// worth a turn: about what half a flat of error in setting makes.
const littleCreep = 0.03

// recheck is when to look after the nuts again and how far to turn them: what
// creep takes, never the whole setting again.
func (j *Job) recheck() page.Step {
	hour, late := j.forceLeft("after 1 h"), j.forceLeft("after 1000 h")
	step := page.Step{Title: "Check the nuts after a day, and after the first ten cycles",
		Text: "At storage charge, never at full charge. Creep takes little force here: only see that no washer turns by hand, and leave the nuts alone otherwise."}
	for _, f := range []struct {
		label string
		left  float64
	}{{"force left after 1 h", hour}, {"force left after 1000 h", late}} {
		if f.left > 0 {
			step.Figures = append(step.Figures, page.Fact{Label: f.label, Value: number.Trim(100*f.left, 0) + " %"})
		}
	}
	if late <= 0 || late > 1-littleCreep {
		return step
	}
	s := j.Clamp.Setting
	if s.SpringFree > 0 {
		step.Text = "At storage charge, never at full charge. Turn each nut on until its spring stack has its set height again."
		step.Figures = append(step.Figures, page.Fact{Label: "spring height", Value: span(s.SpringMM.Least, s.SpringMM.Greatest, 2) + " mm"})
		return step
	}
	step.Text = "At storage charge, never at full charge. Turn each nut on only by what creep has taken, not by the whole setting again."
	turns := (s.Turns.Least + s.Turns.Greatest) / 2 * (1 - late)
	step.Figures = append(step.Figures, page.Fact{Label: "turn on, in all", Value: fmt.Sprintf("%s turns, %s flats", number.Trim(turns, 2), number.Trim(6*turns, 1))})
	return step
}

// forceLeft is a state's force over that as tightened, 0 when not computed.
func (j *Job) forceLeft(state string) float64 {
	var first, then float64
	for i := range j.Clamp.States {
		switch s := &j.Clamp.States[i]; s.Name {
		case "as tightened":
			first = s.ForceN
		case state:
			then = s.ForceN
		}
	}
	if first <= 0 {
		return 0
	}
	return then / first
}
