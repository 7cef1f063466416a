package export

import (
	"fmt"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/export/drawing"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/words"
)

// afterwards looks after the finished pack.
func (j *Job) afterwards() page.Phase {
	p := page.Phase{Title: "Afterwards"}
	if j.leftCharged() {
		p.Steps = append(p.Steps, j.discharge())
	}
	p.Steps = append(p.Steps, nonEmptySteps(j.recheck(), j.tie(), j.stand())...)
	return p
}

// littleCreep is the share of the force that may creep away before the nuts are
// worth a turn: about what half a flat of error in setting makes.
const littleCreep = 0.03

// recheck is when to look after the nuts again and how far to turn them: what
// creep takes, never the whole setting again.
func (j *Job) recheck() page.Step {
	step := page.Step{Title: "Check the nuts after a day, and after the first ten cycles"}
	when := fmt.Sprintf("At storage charge, %.0f %%, never at full charge: discharge first.%s ", 100*j.Fixture.Clamp.StorageCharge, j.capOff())
	if j.noForce() {
		step.Text = when + "No cell may be loose: bring a nut back to snug where its washer turns freely."
		return step
	}
	hour, late := j.forceLeft("after 1 h"), j.forceLeft("after 1000 h")
	for _, f := range []struct {
		label string
		left  float64
	}{{"force left after 1 h", hour}, {"force left after 1000 h", late}} {
		if f.left > 0 {
			step.Figures = append(step.Figures, page.Fact{Label: f.label, Value: number.Trim(100*f.left, 0) + " %"})
		}
	}
	s := j.Clamp.Setting
	switch {
	case late <= 0 || late > 1-littleCreep:
		step.Text = when + "Creep takes little force here: only see that no washer turns by hand, and leave the nuts alone otherwise."
	case s.SpringFree > 0:
		step.Text = when + "Turn each nut on until its spring has the height told here, which is that of the setting at this charge."
		step.Figures = append(step.Figures, j.springAtStorage()...)
	default:
		step.Text = when + "Turn each nut on only by what creep has taken, not by the whole setting again."
		for _, g := range j.rodGroups() {
			step.Figures = append(step.Figures, page.Fact{Label: "turn on " + words.First(g.name, "every nut") + ", once", Value: clamp.TurnWords(g.Turns * (1 - late))})
		}
	}
	return step
}

// springAtStorage is the springs' height at storage charge before anything crept,
// mm: the cells have grown since the setting.
func (j *Job) springAtStorage() []page.Fact {
	const label = "spring height at storage charge"
	if s := j.state("storage charge"); s != nil && len(s.SpringMM) > 0 {
		return j.heights(label, "", s.SpringMM)
	}
	return j.springFigures(label)
}

// capOff says how a nut is reached again.
func (j *Job) capOff() string {
	if !j.has(assembly.GroupRodCap) {
		return ""
	}
	return " One rod cap off at a time, and on again."
}

// tie is what the slots for cable ties are for.
func (j *Job) tie() page.Step {
	slots := drawing.Slots(j.Assembly.PlateAt(assembly.Front).Part.Flat)
	if len(slots) == 0 {
		return page.Step{}
	}
	return page.Step{Title: "Tie the leads down", Text: "Sense leads through the slots in the plates' upper edges with cable ties, clear of vents and of the rods' ends."}
}

// stand is how the finished pack is held where it stands.
func (j *Job) stand() page.Step {
	f := j.Fixture
	if f.Plate.Feet == nil {
		return page.Step{}
	}
	hole := j.Fixture.Style.Length(f.Plate.Feet.HoleDia.MM())
	if feet := j.of(assembly.GroupFoot, nil); feet != "" {
		return page.Step{Title: "Fix the pack where it stands", Text: fmt.Sprintf("Screws through the base holes, %s, of %s, into what the pack stands on. The cells stand on it too; the feet hold the pack in place and carry nothing.", hole, feet)}
	}
	return page.Step{Title: "Fix the pack where it stands", Text: fmt.Sprintf("The mounting holes of the plates, %s, take screws into brackets of your own. Nothing of these may touch a cell or lift the plates off their height.", hole)}
}

// forceLeft is a state's force over that as tightened, 0 when not computed.
func (j *Job) forceLeft(name string) float64 {
	first, then := j.state("as tightened"), j.state(name)
	if first == nil || then == nil || first.ForceN <= 0 {
		return 0
	}
	return then.ForceN / first.ForceN
}
