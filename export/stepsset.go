package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/unit"
	"clampwright/params/words"
)

// stages is the number of equal parts in which the turns are made, so that the
// plates stay parallel.
const stages = 4

// setting brings the nuts to where the force is right.
func (j *Job) setting() page.Phase {
	p := page.Phase{Title: "Set the clamp", Note: fmt.Sprintf("Before any full charge. The nuts of the front end are turned; those of the back end stay. Once set, the clamp is neither opened nor slackened above %.0f %% charge.", 100*j.Fixture.Clamp.StorageCharge)}
	p.Steps = append(p.Steps, j.snug())
	if !j.snugIsAll() {
		p.Steps = append(p.Steps, j.force())
	}
	p.Steps = append(p.Steps, nonEmptySteps(j.jam())...)
	if !j.snugIsAll() {
		p.Steps = append(p.Steps, j.measured())
	}
	return p
}

// snugIsAll says that there is nothing to set past snug: the cells are only held,
// or the turns left are fewer than a hand can set.
func (j *Job) snugIsAll() bool { return j.noForce() || j.Clamp.Setting.SnugIsEnough() }

// evenMM is how far the distances of the plates at the rods may differ, mm: common
// practice, no source.
const evenMM = 0.5

// snug is where the turns are counted from, found in a way that the nut allows.
func (j *Job) snug() page.Step {
	f := j.Fixture
	drags := f.Nut.DragMax > 0
	text := fmt.Sprintf("Crosswise, a little at a time: %s. ", strings.Join(j.rodNames(), ", "))
	step := page.Step{Title: "Bring the nuts to snug"}
	if drags {
		text += fmt.Sprintf("Run the nuts down with a wrench. Their own drag, up to %s N·m, hides the feel: go by the washer. A rod is snug when its washer can only just be turned by hand. ", number.Trim(f.Nut.DragMax.NMM()/1000, 1))
		text += j.holdText()
		step.Caution = "A wrench or pliers never point at a cell or a terminal."
	} else {
		text += "Run the nuts down by hand. A rod is snug when the nut is finger tight: its washer can only just be turned by hand. "
	}
	switch {
	case j.noForce():
		text += "Stop there: the data sheet wants no pressure, the nuts only keep the cells from moving. " + j.betterNuts()
	case j.snugIsAll():
		text += "Stop there: that is the force wanted. "
	default:
		text += "The turns count from here. "
	}
	text += "Measure from plate to plate beside every rod: the readings agree within " + j.Fixture.Style.Small(evenMM) + ", else even them out."
	step.Text = text
	step.Figures = append([]page.Fact{{Label: "plate to plate, about", Value: j.Fixture.Style.Exact(2 * j.Assembly.Layout.Ends[assembly.Front].Plate.Inner), Note: measuredNote(f)}}, j.fieldsByRod("snug")...)
	step.Figures = append(step.Figures, j.springFields("snug")...)
	return step
}

// springFields are fields for the springs' height: of one where all carry alike, else
// of every rod's, whose mean stands for as much force.
func (j *Job) springFields(when string) []page.Fact {
	switch {
	case j.Fixture.Spring == nil:
		return nil
	case len(j.Clamp.Setting.Groups()) == 1:
		return []page.Fact{{Label: when + ", a spring between its washers", Value: fill}}
	}
	return append(j.fieldsByRod(when+", spring between its washers"),
		page.Fact{Label: when + ", mean of these springs", Value: fill, Note: "the height for clamp.bench"})
}

// betterNuts says which nuts suit a clamp that only holds.
func (j *Job) betterNuts() string {
	if j.Fixture.Nut.DragMax <= 0 {
		return ""
	}
	return "Plain nuts, each locked by a second one, do better here than nuts that drag (nuts.kind: jam): with them finger tight can be felt. "
}

// holdText is how a rod is kept from turning with a nut that drags.
func (j *Job) holdText() string {
	f := j.Fixture
	spanner := "The rod turns with the nut: hold the back nut of the same rod with a second spanner."
	p := f.Tools.Pliers
	if p.JawThickness <= 0 || p.JawWidth <= 0 {
		return spanner + " "
	}
	if f.Sleeve == nil {
		return "The rod turns with the nut: hold it in its middle with pliers. "
	}
	bare := 2*j.Assembly.Layout.Ends[assembly.Front].Plate.Inner - j.Assembly.SleeveLength()
	for _, c := range j.Assembly.Of(assembly.GroupEndCap) {
		bare -= c.Part.SizeMM[2] / 2 // a cap at each end; half the gap is at each
	}
	if bare < p.JawWidth.MM() {
		return spanner + " The sleeves leave no room for pliers. "
	}
	return fmt.Sprintf("The rod turns with the nut: push its sleeve to the back, which bares %s of it at the front, and hold it there with pliers; then push the sleeve to the middle again. ", j.Fixture.Style.Length(bare))
}

// force turns the nuts from snug to the force, in stages.
func (j *Job) force() page.Step {
	s := j.Clamp.Setting
	step := page.Step{Title: "Set the force", Figures: j.turnFigures(), Caution: j.wrenchText()}
	step.Text = fmt.Sprintf("Mark every front nut and the plate beside it with a pen. Turn in %d equal stages, in each of them every nut once, crosswise as before, by its own stage: so the plates stay parallel. Hold the back nut of the same rod with a second spanner; then only what the front nut turns against the plate counts, even if the rod turns with it.", stages)
	if s.SpringFree > 0 {
		step.Text += " Then go by the springs, which tell the force better than the turns: measure each stack between its washers and turn its nut until it has its height." + j.gaugeText()
		step.Figures = append(step.Figures, j.springFigures("spring height")...)
	}
	return step
}

// gaugeText is how the printed gauge judges a spring, or why there is none.
func (j *Job) gaugeText() string {
	g := j.gauge("spring-gauge")
	switch {
	case g == "" && j.Fixture.Prints.Gauges:
		return " No gauge is printed for them: one gauge can't judge rods that carry unlike forces."
	case g == "":
		return ""
	}
	most, least := j.Assembly.GaugeHeights()
	if !j.withinGauge(most, least) {
		return fmt.Sprintf(" Leave the %s away here: it is for rods that all carry alike.", g)
	}
	return fmt.Sprintf(" The %s stands on what the first washer lies on: its GO arm (%s mm) must pass over the outer washer, its NO arm (%s mm) must not.", g, number.Trim(most, 1), number.Trim(least, 1))
}

// withinGauge says whether every spring, set right, passes a gauge for heights from
// least to most, mm, the two washers included.
func (j *Job) withinGauge(most, least float64) bool {
	under := 2 * j.Fixture.Washer.Thickness.MM()
	s := j.Clamp.Setting.SpringMM
	return s.Least+under >= least && s.Greatest+under <= most
}

// wrenchText says why a torque wrench is not the way.
func (j *Job) wrenchText() string {
	s := j.Clamp.Setting
	drag := s.DragNMM.Greatest
	switch {
	case s.WrenchOK:
		return ""
	case drag > s.ClampNMM.Least:
		return fmt.Sprintf("A torque wrench can't set this: the nut's own drag may reach %s N·m, the clamping torque is %s N·m.", number.Trim(drag/1000, 1), span(s.ClampNMM.Least/1000, s.ClampNMM.Greatest/1000, 2))
	}
	return fmt.Sprintf("A torque wrench alone is too coarse: the torque for this force is %s N·m, depending on friction.", span(s.TorqueNMM.Least/1000, s.TorqueNMM.Greatest/1000, 2))
}

// rodGroup are rods that are set alike, with their name for people.
type rodGroup struct {
	clamp.RodGroup
	name string // empty when it is all rods
}

// rodGroups are the rods as they are set, by name.
func (j *Job) rodGroups() []rodGroup {
	var out []rodGroup
	for _, g := range j.Clamp.Setting.Groups() {
		out = append(out, rodGroup{g, j.groupName(g.Rods)})
	}
	return out
}

// heights are one spring height for each group of rods, mm is those of all rods in
// the order of the mechanics.
func (j *Job) heights(label, note string, mm []float64) []page.Fact {
	var out []page.Fact
	for _, g := range j.rodGroups() {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, i := range g.Rods {
			lo, hi = min(lo, mm[i]), max(hi, mm[i])
		}
		fact := page.Fact{Label: label, Value: number.Fixed(lo, 2) + " mm", Note: note}
		if most := number.Fixed(hi, 2) + " mm"; most != fact.Value {
			fact.Value = number.Fixed(lo, 2) + " to " + most
		}
		if g.name != "" {
			fact.Label += ", " + g.name
		}
		out = append(out, fact)
	}
	return out
}

// springFigures are the height and the force of each group's springs when set.
func (j *Job) springFigures(label string) []page.Fact {
	groups := j.rodGroups()
	var out []page.Fact
	for _, g := range groups {
		fact := page.Fact{Label: label, Value: number.Fixed(g.SpringMM, 2) + " mm", Note: fmt.Sprintf("free %s mm; %s N in each rod", number.Trim(j.Clamp.Setting.SpringFree, 2), number.Trim(g.ForceN, 0))}
		if g.name != "" {
			fact.Label += ", " + g.name
		}
		out = append(out, fact)
	}
	return out
}

// groupName names rods: nothing for all, "left and right rods" for whole columns, or
// each rod.
func (j *Job) groupName(rods []int) string {
	f := j.Fixture.Rods
	if len(rods) == len(f.Columns)*len(f.Levels) {
		return ""
	}
	var columns, names []string
	for _, i := range rods {
		c, l := i%len(f.Columns), i/len(f.Columns)
		names = append(names, j.rodName(c, l))
		whole := len(f.Levels) > 1
		for o := range f.Levels {
			whole = whole && slices.Contains(rods, o*len(f.Columns)+c)
		}
		if whole && l == 0 {
			columns = append(columns, sameStart(j.rodName(c, 0), j.rodName(c, 1)))
		}
	}
	if len(columns)*len(f.Levels) == len(rods) {
		return words.Join(columns) + " rods"
	}
	return words.Join(names)
}

// sameStart is the words that two names begin with.
func sameStart(a, b string) string {
	u, v := strings.Fields(a), strings.Fields(b)
	n := 0
	for n < min(len(u), len(v)) && u[n] == v[n] {
		n++
	}
	return strings.Join(u[:n], " ")
}

// turnFigures are the turns past snug after every stage, rod by rod where they
// differ.
func (j *Job) turnFigures() []page.Fact {
	var out []page.Fact
	groups := j.rodGroups()
	for k := 1; k <= stages; k++ {
		var words []string
		for _, g := range groups {
			turns := clamp.TurnWords(g.Turns * float64(k) / stages)
			if g.name != "" {
				turns = g.name + ": " + turns
			}
			words = append(words, turns)
		}
		label := fmt.Sprintf("after stage %d", k)
		if k == stages {
			label += ", in all"
		}
		out = append(out, page.Fact{Label: label, Value: strings.Join(words, "; "), Note: "past snug"})
	}
	return out
}

// jam locks plain nuts with a second one.
func (j *Job) jam() page.Step {
	if j.Fixture.JamNut == nil {
		return page.Step{}
	}
	return page.Step{Title: "Lock the nuts", Text: fmt.Sprintf("A second nut, %s, on every rod end, %d in all: hold the set nut with one spanner and tighten the second against it with another. The set nut must not move: look at its pen mark.", j.Fixture.JamNut.Name, len(j.Assembly.Of(assembly.GroupJamNut)))}
}

// measured are the readings that tell how stiff these cells are.
func (j *Job) measured() page.Step {
	front, back := j.Assembly.Layout.Ends[assembly.Front], j.Assembly.Layout.Ends[assembly.Back]
	step := page.Step{Title: "Measure the clamped stack",
		Text:    "From plate to plate beside every rod. The readings agree within " + j.Fixture.Style.Small(evenMM) + "; if not, the plates lean: even them out with the nut of the longest." + j.benchWords(),
		Figures: j.fieldsByRod("set")}
	step.Figures = append(step.Figures, j.springFields("set")...)
	step.Figures = append(step.Figures, page.Fact{Label: "rod out of the front nuts, about", Value: j.Fixture.Style.Exact(front.Protrusion()), Note: "at the back " + j.Fixture.Style.Exact(back.Protrusion())})
	return step
}

// covering is done before the first link makes the pack live.
func (j *Job) covering() page.Phase {
	p := page.Phase{Title: "Cover bare metal", Note: "Before the first link is fitted: from then on every slip is a short."}
	ends := page.Step{Title: "Cover the rod ends", Text: "A turn of tape or a bought cap on each: a sawn end cuts insulation and skin, and stands where a spanner slips."}
	if j.has(assembly.GroupRodCap) {
		ends = page.Step{Title: "Fit the rod caps", Text: j.capText() + " Push them on as far as they go; no sawn end stays bare."}
	}
	var bare []string
	if f := j.Fixture; f.Plate.Material.Conducts {
		bare = append(bare, "the plates' upper edges")
	}
	if s := j.Fixture.Stiffener; s != nil && s.Material.Conducts {
		bare = append(bare, "the upper angles")
	}
	bare = append(bare, "the nuts and washers")
	p.Steps = append(p.Steps, ends, page.Step{Title: "Cover what stands near the terminals", Text: "Tape or an insulating sheet over " + strings.Join(bare, ", ") + ", and a cap on every terminal. Only the two terminals that a link joins are bare while it is fitted."})
	return p
}

// capText says which cap goes where.
func (j *Job) capText() string {
	front, back := j.Assembly.Of(assembly.GroupRodCap), j.of(assembly.GroupRodCap, at(assembly.Back))
	if same := slices.ContainsFunc(front, func(in *assembly.Instance) bool { return in.Part != front[0].Part }); !same {
		return "On every rod end: " + j.of(assembly.GroupRodCap, nil) + "."
	}
	return fmt.Sprintf("On the front ends: %s; on the back ends: %s.", j.of(assembly.GroupRodCap, at(assembly.Front)), back)
}

// fullCheck looks at the clamp where it is loaded most, without touching it.
func (j *Job) fullCheck() page.Step {
	if j.noForce() {
		return page.Step{Title: "Look at the clamp at full charge", Text: "No cell may bulge against its neighbour or a plate, and none may be loose. Do not turn a nut now."}
	}
	step := page.Step{Title: "Check the force at full charge", Figures: []page.Fact{{Label: "expected force", Value: j.stateForce("full")}}}
	state := j.state("full")
	if state == nil {
		step.Text = "Do not turn a nut now."
		return step
	}
	if len(state.SpringMM) > 0 {
		step.Text = "Measure every spring between its washers. One much shorter than told means cells that swell more than reckoned: stop, discharge. Do not turn a nut now."
		step.Figures = append(step.Figures, j.heights("spring height now", "", state.SpringMM)...)
		step.Figures = append(step.Figures, j.heights("at the cells' limit", "never shorter", j.springsAtLimit())...)
		return step
	}
	step.Text = "Lay a straight edge along the outside of the plates, where no rod is in the way, and measure from plate to plate beside every rod. Much more than told here means cells that swell more than reckoned: stop, discharge. Do not turn a nut now."
	bow := page.Fact{Label: "plates bow by about", Value: j.Fixture.Style.Small(state.DeflectionMM)}
	if set := j.state("as tightened"); set != nil {
		bow.Note = j.Fixture.Style.Small(set.DeflectionMM) + " when set"
	}
	step.Figures = append(append(step.Figures, bow), j.gapFigures(state)...)
	return step
}

// readsMM is what two readings of a calliper from plate to plate tell apart, mm:
// common practice, no source.
const readsMM = 0.05

// gapFigures are how much farther apart the plates are in a state than when set,
// beside the rods, where it can be measured.
func (j *Job) gapFigures(state *clamp.State) []page.Fact {
	var out []page.Fact
	for _, g := range j.rodGroups() {
		gap := 0.0
		for _, i := range g.Rods {
			r := j.Clamp.Setting.PerRod[i]
			gap += (state.RodForceN[i] - r.ForceN) * r.GapPerN / float64(len(g.Rods))
		}
		fact := page.Fact{Label: "plates farther apart than set, beside " + words.First(g.name, "every rod"), Value: "about " + j.Fixture.Style.Small(gap)}
		if gap < readsMM {
			fact.Value = "less than " + j.Fixture.Style.Small(readsMM)
		}
		out = append(out, fact)
	}
	return out
}

// springsAtLimit is how high the spring of each rod is when the cells press with
// the most they bear, the rods sharing it as when set, mm.
func (j *Job) springsAtLimit() []float64 {
	f, sum := j.Fixture, 0.0
	for _, r := range j.Clamp.Setting.PerRod {
		sum += r.ForceN
	}
	var out []float64
	for _, r := range j.Clamp.Setting.PerRod {
		share := f.Cell.ForceLimit * unit.Force(f.Pack.Rows) * unit.Force(r.ForceN/sum)
		out = append(out, f.Spring.HeightAt(share).MM())
	}
	return out
}

// state is a computed state by its name; nil when not computed.
func (j *Job) state(name string) *clamp.State {
	for i := range j.Clamp.States {
		if j.Clamp.States[i].Name == name {
			return &j.Clamp.States[i]
		}
	}
	return nil
}

// benchWords says what the readings are good for: with locked nuts they hardly tell
// the cells' stiffness.
func (j *Job) benchWords() string {
	if j.Fixture.Spring == nil {
		return ""
	}
	return " The means of the readings at snug and now, put into the file under clamp.bench, tell how stiff your cells are: make this sheet anew with them before the first charge, and set the force it then tells."
}
