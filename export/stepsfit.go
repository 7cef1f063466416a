package export

import (
	"fmt"
	"math"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/wiring"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/unit"
	"clampwright/params/words"
)

// fitting puts the clamp together round the cells, from the back to the front, in
// the order in which every part still goes on.
func (j *Job) fitting() page.Phase {
	p := page.Phase{Title: "Put the clamp together",
		Note: fmt.Sprintf("The cells at %.0f %% charge and %.0f \u00b0C or near, for which the setting is reckoned. %s", 100*j.Fixture.Clamp.SetCharge, float64(j.Fixture.Clamp.AssemblyTemp), j.cellEnds())}
	p.Steps = nonEmptySteps(j.feet(), j.springs(), j.backEnd(), j.onRods(), j.cellsIn(), j.frontEnd(), j.square())
	return p
}

// nonEmptySteps drops steps without a title.
func nonEmptySteps(in ...page.Step) []page.Step {
	var out []page.Step
	for _, s := range in {
		if s.Title != "" {
			out = append(out, s)
		}
	}
	return out
}

// feet are screwed on first, while a screw's nut can still be held.
func (j *Job) feet() page.Step {
	names := j.of(assembly.GroupFoot, nil)
	if names == "" {
		return page.Step{}
	}
	return page.Step{Title: "Screw the feet to the plates", Text: fmt.Sprintf("%s: each upright on the outside of a plate at a mounting hole, its base down and away from the plate. Head of the screw inside with a large washer, nut outside. %s",
		words.Upper(names), j.screwInside())}
}

// screwInside says whether a cell lies over the screw heads.
func (j *Job) screwInside() string {
	f := j.Fixture
	x := (f.Plate.Width/2 - f.Plate.Feet.Inset).MM()
	for _, row := range f.Pack.RowX {
		if math.Abs(x-row.MM()) < (f.Cell.Width+f.Plate.Feet.HoleDia).MM()/2 {
			return "A cell comes to lie over the heads: sink them below the plate's face and cover them."
		}
	}
	return "The heads come to stand beside the cells; see that none touches one."
}

// backEnd is the plate that the stack is built against, with all that is outside
// of it.
func (j *Job) backEnd() page.Step {
	e := assembly.Back
	ends := j.Assembly.Layout.Ends[e]
	text := words.Sentences(
		fmt.Sprintf("Stand %s upright on a flat board, UP upwards, its marked outside face away from the cells%s.", partName(j.Assembly.PlateAt(e).Part), j.shim()),
		j.anglesText(e),
		fmt.Sprintf("Push %s through. Put on outside what is listed here, from the plate outward, and run the nuts on until the rods stand out of them as told, all alike.%s Prop the plate: it is not to fall.", j.of(assembly.GroupRod, nil), j.whileRunningOn()))
	return page.Step{Title: "Build the back end", Text: text,
		Figures: append(j.endFigures(e), page.Fact{Label: "rod out of the back nuts", Value: j.Fixture.Style.Exact(ends.RodEnd - ends.Nut.Outer), Note: "of " + j.Fixture.Style.Exact(j.Fixture.Rods.Length.MM()) + " in all"})}
}

// endFigures are what an end is built of: the angles, and what goes on every rod.
func (j *Job) endFigures(e assembly.End) []page.Fact {
	return append(j.angleFigures(e), page.Fact{Label: "on every rod, outward", Value: strings.Join(j.hardware(e), ", ")})
}

// whileRunningOn is how a rod is held while a nut with drag goes on.
func (j *Job) whileRunningOn() string {
	if j.Fixture.Nut.DragMax <= 0 {
		return ""
	}
	return " They drag: hold the rod with pliers in its middle, which no nut passes over."
}

// levelMM is how far the plates' lower edges may be off the cells' underside and
// stand on the same board, mm: less than strips are made in.
const levelMM = 0.05

// onStrips and onBoard say that the plates end above or below the cells.
func (j *Job) onStrips() bool { return j.Fixture.Plate.Bottom.MM() > levelMM }
func (j *Job) onBoard() bool  { return j.Fixture.Plate.Bottom.MM() < -levelMM }

// shim says how the back plate stands when it is not level with the cells.
func (j *Job) shim() string {
	b := j.Fixture.Plate.Bottom.MM()
	switch {
	case j.onStrips():
		return fmt.Sprintf(", its lower edge on strips about %s thick, so far above the underside of the cells", j.packing(b))
	case j.onBoard():
		return fmt.Sprintf("; the cells will stand on a board about %s high beside it, as the plate reaches below them", j.packing(-b))
	}
	return ""
}

// packing is a thickness as strips and boards can be had: to the nearest 64th of an
// inch or tenth of a millimetre, and never nothing.
func (j *Job) packing(mm float64) string {
	if j.Fixture.Style.Unit == unit.Inch {
		const step = 25.4 / 64
		return unit.Length(max(1, math.Round(mm/step)) * step).Short(unit.Style{Unit: unit.Inch, Denominator: 64})
	}
	return number.Trim(max(0.1, mm), 1) + " mm"
}

// anglesText says how the angles lie on a plate.
func (j *Job) anglesText(e assembly.End) string {
	names := j.of(assembly.GroupStiffener, at(e))
	if names == "" {
		return ""
	}
	return fmt.Sprintf("Against its outside, %s: the drilled leg on the plate, the standing leg outward, on the side of the rods that is told here.%s", names, j.inward())
}

// inward says so when all standing legs point to the plate's middle.
func (j *Job) inward() string {
	up := j.Fixture.Stiffener.StandingUp
	if len(up) == 2 && up[0] && !up[1] {
		return " Both standing legs are towards the middle of the plate."
	}
	return ""
}

// angleFigures say for each level which angle lies there and on which side of the
// rods its standing leg is.
func (j *Job) angleFigures(e assembly.End) []page.Fact {
	s := j.Fixture.Stiffener
	if s == nil {
		return nil
	}
	var out []page.Fact
	for level, up := range s.StandingUp {
		in := j.Assembly.StiffenerAt(e, level)
		way := "below"
		if up {
			way = "above"
		}
		name := strings.ReplaceAll(strings.TrimPrefix(in.ID, "stiffener-"+e.String()+"-"), "-", " ")
		out = append(out, page.Fact{Label: "angle at the " + name + " rods", Value: in.Part.Mark + ", standing leg " + way + " the rods"})
	}
	return out
}

// hardware lists what sits on each rod at an end up to the nut, outward.
func (j *Job) hardware(e assembly.End) []string {
	f := j.Fixture
	var out []string
	for i := range j.Assembly.Instances {
		in := &j.Assembly.Instances[i]
		if in.End != e || in.Column != 0 || in.Level != 0 {
			continue
		}
		switch in.Group {
		case assembly.GroupWasher:
			out = append(out, "washer "+f.Washer.Name)
		case assembly.GroupSpring:
			out = append(out, in.Part.Name)
		case assembly.GroupNut:
			out = append(out, "nut "+f.Nut.Name)
		}
	}
	return out
}

// springs are put together before they go on: how many, at which end, and which
// way round.
func (j *Job) springs() page.Step {
	s := j.Fixture.Spring
	if s == nil {
		return page.Step{}
	}
	where := "They go on the front end of every rod, with a washer on both sides; the back ends have none. "
	if s.BothEnds {
		where = "They go on both ends of every rod, with a washer on both sides. "
	}
	step := page.Step{Title: "Sort the springs", Text: where}
	if s.Disc == nil {
		step.Text += "The ground ends lie on the washers."
	} else {
		step.Text += j.discText()
	}
	for _, in := range j.Assembly.Of(assembly.GroupSpring)[:1] {
		step.Figures = []page.Fact{{Label: "to make up", Value: j.of(assembly.GroupSpring, nil)}, {Label: "height when free", Value: j.Fixture.Style.Exact(s.FreeHeight.MM()), Note: in.Part.Stock}}
	}
	return step
}

// discText is the arrangement of the discs of one stack.
func (j *Job) discText() string {
	s, f := j.Fixture.Spring, j.Fixture
	rim, other := "wide rim", "narrow rim"
	if f.Washer.Outer < s.Disc.Outer {
		rim, other = other, rim // the washer carries the narrow one only
	}
	how := fmt.Sprintf("%d discs in series: each the other way round than the one before, hollow to hollow and back to back by turns", s.Series)
	switch {
	case s.Series == 1:
		how = fmt.Sprintf("%d discs nested, all the same way round", s.Parallel)
	case s.Parallel > 1:
		how = fmt.Sprintf("%d packets of %d discs: those of a packet nested the same way round, each packet the other way round than the one before", s.Series, s.Parallel)
	}
	last := rim
	if s.Series%2 == 1 {
		last = other
	}
	text := fmt.Sprintf("A stack is %s; the first lies with its %s on the washer, so the last has its %s under the outer washer.", how, rim, last)
	if !s.Disc.GuidedBy(f.Rods.Thread.Major) {
		text += fmt.Sprintf(" The rod does not guide them: slip a piece of tube over it inside the discs, less than %s outside, shorter than the stack when flat.", j.Fixture.Style.Length(s.Disc.Inner.MM()))
	}
	return text
}

// onRods are the parts that go over the rods before the cells close the way.
func (j *Job) onRods() page.Step {
	caps, sleeves := j.of(assembly.GroupEndCap, at(assembly.Back)), j.of(assembly.GroupSleeve, nil)
	if caps == "" && sleeves == "" {
		return page.Step{}
	}
	var text []string
	if caps != "" {
		text = append(text, fmt.Sprintf("Over the rods, flat against the inside of the back plate: %s, left and right, beside where the cells will stand.", caps))
	}
	if sleeves != "" {
		text = append(text, fmt.Sprintf("A sleeve on every rod (%s): it insulates the rod beside the cells, and none goes on once the front is closed.%s", sleeves, j.jointOf(assembly.GroupSleeve)))
	}
	return page.Step{Title: "Slip on what the rods pass through", Text: strings.Join(text, " ")}
}

// jointOf says how the pieces of a printed part join.
func (j *Job) jointOf(g assembly.Group) string {
	for _, in := range j.Assembly.Of(g) {
		if p := in.Part.Print; p != nil && p.Joint != "" {
			return " Its pieces join by " + p.Joint + "."
		}
	}
	return ""
}

// cellsIn stands the cells in with what lies between them and the plates.
func (j *Job) cellsIn() page.Step {
	rows := ""
	if j.Fixture.Pack.Rows > 1 {
		rows = fmt.Sprintf(" Both rows in step, %s apart.", j.Fixture.Style.Exact(j.Fixture.Pack.RowGap.MM()))
	}
	first, last := "", ""
	if l := j.of(assembly.GroupLiner, at(assembly.Back)); l != "" {
		first = fmt.Sprintf("Against the inside of the back plate first: %s, %sstanding on the board, centred across the row.%s", l, j.eachRow(), j.lips())
		last = fmt.Sprintf("Last, on the outer face of the front cell%s: %s.%s", words.Plural(j.Fixture.Pack.Rows), j.of(assembly.GroupLiner, at(assembly.Front)), j.jointOf(assembly.GroupLiner))
	}
	text := words.Sentences(first,
		j.standText()+rows,
		j.separatorText(), last, j.guardText())
	return page.Step{Title: "Stand the cells in", Text: text, Figures: append(append(j.serialPlaces(), j.poles()...), page.Fact{Label: "stack when they touch", Value: j.Fixture.Style.Exact(j.Fixture.Pack.StackLength.MM()), Note: measuredNote(j.Fixture)}),
		Caution: words.Sentences(j.barePlates(), j.liveCases())}
}

// standText says which cell stands where.
func (j *Job) standText() string {
	f := j.Fixture.Pack
	switch {
	case f.Cells == 1:
		return "Stand the cell on the board, its large face to the plate, corners square."
	case f.PerRow == 1:
		return "Stand the cells on the board, their large faces to the plate, corners square. " + j.rowsBeside()
	}
	return words.Sentences(fmt.Sprintf("Stand the cells on the board, %s at the back and %s at the front, large face to large face%s, corners square.", j.placeOfEach(0), j.placeOfEach(f.PerRow-1), j.between()), j.rowsBeside())
}

// liveCases warns where the cells' cases may stand at a potential.
func (j *Job) liveCases() string {
	if !j.Fixture.Cell.CaseLive {
		return ""
	}
	return "The cases are live: no two cells, and no cell and any metal, may touch without an insulating sheet between."
}

// lips says which way a printed liner goes.
func (j *Job) lips() string {
	if l := j.Fixture.Liner; l == nil || !l.Printed {
		return ""
	}
	return " Its lips reach over the cell."
}

func (j *Job) eachRow() string {
	if j.Fixture.Pack.Rows > 1 {
		return "one behind each row, "
	}
	return ""
}

// barePlates warns where a liner is all that keeps metal off the cells.
func (j *Job) barePlates() string {
	switch f := j.Fixture; {
	case f.Liner != nil && f.Plate.Material.Conducts:
		return fmt.Sprintf("The %s plates conduct and the liners are all that keeps them off the cells: none may be missing, cracked, or leave an edge of a cell bare.", f.Plate.Material.Name)
	case f.Plate.Material.Conducts:
		return fmt.Sprintf("The %s plates conduct and lie on the end cells with nothing between but the cells' own wrap: look it over, no cut may be in it.", f.Plate.Material.Name)
	}
	return ""
}

// between says what lies between the cells.
func (j *Job) between() string {
	if s := j.of(assembly.GroupSeparator, nil); s != "" {
		return ", one separator between each two (" + s + ")"
	}
	return ""
}

// separatorText is which way round a printed separator goes.
func (j *Job) separatorText() string {
	s := j.Fixture.Separator
	switch {
	case s == nil || !s.Printed || !j.has(assembly.GroupSeparator):
		return ""
	case s.Pattern == "frame":
		return "The lips of a frame reach over the cell in front of it, its cut-outs are up at the terminals." + j.jointOf(assembly.GroupSeparator)
	}
	return "The lips of a separator reach over both its cells, its cut-outs are up at the terminals." + j.jointOf(assembly.GroupSeparator)
}

func (j *Job) guardText() string {
	names := j.of(assembly.GroupGuard, nil)
	if names == "" {
		return ""
	}
	ends := fmt.Sprintf("the first and the last cell%s", words.Plural(j.Fixture.Pack.Rows))
	if j.Fixture.Pack.PerRow == 1 {
		ends = "the cell" + words.Plural(j.Fixture.Pack.Rows)
	}
	return fmt.Sprintf("On the outer upright edges of %s: %s, one leg along the cell's side, the other outward along the plate, so that none is pressed between cell and plate.%s", ends, names, j.jointOf(assembly.GroupGuard))
}

// poles says which way round the cells stand.
func (j *Job) poles() []page.Fact {
	turns, ok := j.firstTurns()
	if !ok {
		return nil
	}
	var out []page.Fact
	for _, side := range []wiring.Side{wiring.Right, wiring.Left} {
		var cells []string
		for slot := range turns {
			if turns[slot] == side {
				cells = append(cells, j.Fixture.Pack.CellName(slot))
			}
		}
		word := "plus on the left"
		if side == wiring.Right {
			word = "plus on the right"
		}
		if len(cells) > 0 {
			out = append(out, page.Fact{Label: word, Value: words.Join(cells)})
		}
	}
	return out
}

// firstTurns is how the cells stand when they go into the clamp.
func (j *Job) firstTurns() (wiring.Turns, bool) {
	w := j.wired()
	if w.Wiring == nil || w.Problem != "" {
		return nil, false
	}
	for _, s := range w.Plan.Steps {
		if s.Action != wiring.Stack {
			continue
		}
		state, ok := w.Plan.State(s.State)
		return state.Turns, ok
	}
	return nil, false
}

// frontEnd closes the clamp.
func (j *Job) frontEnd() page.Step {
	e := assembly.Front
	caps, strips := "", ""
	if j.onStrips() {
		strips = ", its lower edge on strips as thick as those under the back plate"
	}
	if c := j.of(assembly.GroupEndCap, at(e)); c != "" {
		caps = fmt.Sprintf("First %s over the rods, left and right.", c)
	}
	text := words.Sentences(caps,
		fmt.Sprintf("Put %s over all rods, UP upwards, its marked face outside%s.", partName(j.Assembly.PlateAt(e).Part), strips),
		j.anglesText(e), "Put on outside what is listed here, from the plate outward. Start every nut and leave it loose.")
	return page.Step{Title: "Close the front end", Text: text, Figures: j.endFigures(e),
		Caution: "Start each nut with your fingers from outside the plate; no tool lies on the cells."}
}

// square lines everything up before anything is tight.
func (j *Job) square() page.Step {
	down := "Cells and plates down on the board: tap them level with a block of wood"
	switch {
	case j.onStrips():
		down = "Cells down on the board, plates down on their strips and no further: tap the cells level with a block of wood"
	case j.onBoard():
		down = "Cells down on their board, plates down beside it: tap them level with a block of wood"
	}
	text := down + ", lids in one plane, plates upright and square to the row."
	if j.has(assembly.GroupSleeve) {
		text += " The sleeves lie loose, pushed to the middle."
	}
	return page.Step{Title: "Square it up", Text: text}
}
