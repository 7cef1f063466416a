package export

import (
	"cmp"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/export/tell"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// told is the order of work in words.
func told(j *Job) []page.Phase { return steps.Phases(j.Work, j.Fixture.Style) }

// remade is a job with its order of work computed anew, after what it follows from
// was changed.
func remade(j *job.Job) *Job {
	j.Work = j.OrderOfWork()
	return &Job{Job: j}
}

// allSteps are the steps of an example in one list.
func allSteps(j *Job) []page.Step {
	var out []page.Step
	for _, p := range told(j) {
		out = append(out, p.Steps...)
	}
	return out
}

// stepText is all that a step says.
func stepText(s page.Step) string {
	out := []string{s.Title, s.Text, cautioned(s)}
	for _, f := range s.Figures {
		out = append(out, f.Label, f.Value, f.Note)
	}
	for _, row := range s.Table {
		out = append(out, row...)
	}
	return strings.Join(out, " | ")
}

// cautioned is what a step warns of.
func cautioned(s page.Step) string {
	out := ""
	for _, c := range s.Cautions {
		out += c.Title + " " + c.Text + " "
	}
	return out
}

// phaseText is all that the phases say whose titles are kept.
func phaseText(j *Job, keep func(title string) bool) string {
	var out []string
	for _, p := range told(j) {
		if !keep(p.Title) {
			continue
		}
		out = append(out, p.Title, p.Note)
		for _, s := range p.Steps {
			out = append(out, stepText(s))
		}
	}
	return strings.Join(out, " | ")
}

// state is a computed state.
func state(j *Job, name string) *clamp.State {
	return &j.Clamp.States[slices.IndexFunc(j.Clamp.States, func(s clamp.State) bool { return s.Name == name })]
}

// stepTitled is the first step of that title.
func stepTitled(t *testing.T, j *Job, title string) page.Step {
	t.Helper()
	for _, s := range allSteps(j) {
		if s.Title == title {
			return s
		}
	}
	t.Fatalf("no step %q", title)
	return page.Step{}
}

// The order of work keeps the cells safe: checked before anything is cut to them,
// clamped before any charge, covered before the first link, the nuts looked after
// at storage charge.
func TestOrderOfWork(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		all := allSteps(j)
		at := func(title string) int {
			for i, s := range all {
				if strings.HasPrefix(s.Title, title) {
					return i
				}
			}
			return -1
		}
		order := []string{"Buy", "Check and mark", "Cut", "Drill", "Dry fit", "Build the back end", "Stand the cells in", "Close the front end", "Bring the nuts to snug"}
		if !work.SnugIsAll(j.Fixture, j.Clamp) {
			order = append(order, "Set the force", "Measure the clamped stack")
		}
		links := "Fit the links"
		if j.Fixture.Cell.Welded {
			links = "Have the strips welded on"
		}
		if j.Wiring.Plan.ID != wiring.Single {
			order = append(order, "Cover what stands", links, "Charge", fullTitle(j), "Check the nuts")
		} else {
			order = append(order, "Cover what stands", "Fill every cell by itself", fullTitle(j), "Discharge to storage charge", links, "Check the nuts")
		}
		for i := 1; i < len(order); i++ {
			if a, b := at(order[i-1]), at(order[i]); a < 0 || b <= a {
				t.Errorf("%s: %q is step %d, %q step %d", name, order[i-1], a+1, order[i], b+1)
			}
		}
		ends := at("Fit the rod caps")
		if len(j.Assembly.Of(assembly.RoleRodCap)) == 0 {
			ends = at("Cover the rod ends")
		}
		if ends < 0 || ends > at(links) {
			t.Errorf("%s: the rod ends are covered at step %d, the first link is fitted at step %d", name, ends+1, at(links)+1)
		}
	}
}

// fullTitle is what the look at the clamp at full charge is called.
func fullTitle(j *Job) string {
	if j.Fixture.Cell.Compression == params.CompressNone {
		return "Look at the clamp at full charge"
	}
	return "Check the force at full charge"
}

// Nobody touches the nuts of a full pack: after the last charge comes a discharge
// before the nuts are checked.
func TestNutsAreCheckedAfterDischarge(t *testing.T) {
	for _, name := range exampleNames(t) {
		charged := false
		for _, s := range allSteps(made(t, name).job) {
			switch {
			case strings.HasPrefix(s.Title, "Charge"), strings.HasPrefix(s.Title, "Fill every"):
				charged = true
			case strings.HasPrefix(s.Title, "Discharge"):
				charged = false
			case strings.HasPrefix(s.Title, "Check the nuts") && charged:
				t.Errorf("%s: %q comes after a charge without a discharge between", name, s.Title)
			}
		}
	}
}

// Every part of the parts list is made or bought in one step and used in another.
func TestEveryPartIsMadeAndUsed(t *testing.T) {
	first := func(title string) bool { return title == "Buy and print" || title == "Make the parts" }
	listed := func(j *Job) (out string) { // what is bought stands in the list of parts
		for _, p := range tell.Parts(j.Job).Rows {
			out += " | " + p.Name + " " + p.Mark
		}
		return out
	}
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		make, use := phaseText(j, first)+listed(j), phaseText(j, func(t string) bool { return !first(t) })
		drilled := phaseText(j, func(t string) bool { return t == "Make the parts" })
		for _, l := range j.Assembly.Bill() {
			p := l.Part
			if !named(make, p) {
				t.Errorf("%s: nothing says where %s %s comes from", name, p.Name, p.Mark)
			}
			where := use
			if p.Kind == parts.KindGuide {
				where = drilled // guides are used on parts that are being made
			}
			if l.Within { // its pieces become others where these are made
				where = joined(t, j, l)
			}
			if !named(where, p) {
				t.Errorf("%s: %s %s is never used", name, p.Name, p.Mark)
			}
		}
	}
}

// joined is what the step says that makes others of a line's pieces, all of them.
func joined(t *testing.T, j *Job, l assembly.PartLine) string {
	t.Helper()
	for i, p := range j.Work {
		for k, s := range p.Steps {
			of := slices.IndexFunc(s.Uses, func(u work.Lot) bool { return u.Part == l.Part })
			if s.Kind != work.Join || of < 0 {
				continue
			}
			if made := s.Makes; s.Uses[of].Count != l.Pieces || len(made) == 0 || !made[0].Part.Joined {
				t.Errorf("%s: %d of %d %s are used", j.Fixture.Name, s.Uses[of].Count, l.Pieces, l.Part.ID)
			}
			return stepText(told(j)[i].Steps[k])
		}
	}
	return ""
}

// named says whether a text names a part: by its mark as a word, or without a mark
// by the last word of its name.
func named(text string, p *parts.Part) bool {
	word := p.Mark
	if word == "" {
		words := strings.Fields(strings.TrimSuffix(p.Name, "s"))
		word = words[len(words)-1]
	}
	return regexp.MustCompile(`\b` + strings.Replace(regexp.QuoteMeta(word), "foot", "f(?:oo|ee)t", 1) + `s?\b`).MatchString(text)
}

// The order of work says nothing of what this fixture has not got.
func TestStepsNameOnlyWhatIsThere(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		f := j.Fixture
		all := phaseText(j, func(string) bool { return true })
		for _, c := range []struct {
			words string
			there bool
		}{
			{`angles?|stiffeners?`, f.Stiffener != nil},
			{`springs?|discs?`, f.Spring != nil},
			{`pliers|drags?|own drag`, f.Nut.DragMax > 0},
			{`sleeves?`, f.Sleeve != nil},
			{`liners?`, f.Liner != nil},
			{`separators?`, f.Separator != nil},
			{`second nut|jam nut`, f.JamNut != nil},
			{`corner (guard|strip)s?`, f.Prints.CornerGuards},
			{`end caps?`, f.Prints.EndCaps},
			{`rod caps?`, f.Prints.RodCaps},
			{`feet|foot`, f.Prints.Feet},
			{`drill guides?`, f.Prints.DrillGuides},
			{`gauges?|feelers?`, f.Prints.Gauges},
			{`mounting`, f.Plate.Feet != nil},
			{`cable ties`, f.Plate.TieSlots},
			{`past snug|stages?|flats`, !work.SnugIsAll(j.Fixture, j.Clamp)},
			{`Rest it on strips`, f.Plate.Bottom > 0},
		} {
			found := regexp.MustCompile(`(?i)\b(` + c.words + `)\b`).FindString(all)
			if (found != "") != c.there {
				t.Errorf("%s: %q is named (%q), but there: %v", name, c.words, found, c.there)
			}
		}
	}
}

// The standing legs point the way the assembly places them.
func TestStandingLegsPointAsPlaced(t *testing.T) {
	j := made(t, "four-cell-offcut").job
	text := stepText(stepTitled(t, j, "Build the back end"))
	inward := true
	for level, above := range []bool{true, false} {
		inward = inward && above == (outermost(t, j.Assembly.StiffenerAt(assembly.Front, level)).Y > j.Fixture.Rods.Levels[level].MM())
	}
	if said := strings.Contains(text, "Turn both standing legs towards the middle of the plate."); said != inward {
		t.Errorf("legs point inward: %v; %q", inward, text)
	}
	three := stepText(stepTitled(t, made(t, "fourteen-cell-three-rows").job, "Build the back end"))
	if strings.Contains(three, "Turn both") == strings.Contains(three, "standing leg above the rods") {
		t.Errorf("said twice, or not at all: %q", three)
	}
	if text = stepTitled(t, j, "Close the front end").Text; !strings.Contains(text, "as at the back") {
		t.Error(text)
	}
}

// outermost is the point of a part that stands out farthest at the front.
func outermost(t *testing.T, in *assembly.Instance) geom.Vec3 {
	t.Helper()
	m, err := in.Part.Solid.Mesh(0.1)
	if err != nil {
		t.Fatal(err)
	}
	out := m.Transform(in.Frame).Vertices
	return slices.MaxFunc(out, func(a, b geom.Vec3) int { return cmp.Compare(a.Z, b.Z) })
}

// A measured bulge is a rocking straight edge's gaps at the ends, and the limit for
// one face is not taken for that of both.
func TestIncomingMeasuresDomes(t *testing.T) {
	in := tell.Incoming(made(t, "eight-cell-plywood").job.Job)
	text := strings.Join(in.Text, " ")
	for _, want := range []string{"rocks", "both ends", "hollow", "BF1"} {
		if !strings.Contains(text, want) {
			t.Errorf("the text does not say %q: %s", want, text)
		}
	}
	limits := ""
	for _, l := range in.Limits {
		limits += l.Label + " " + l.Value + " | "
	}
	if !strings.Contains(limits, "0.27 mm") || !strings.Contains(limits, "0.54 mm") {
		t.Errorf("limits %s", limits)
	}
	for _, want := range []string{"centre", "left", "right", "top", "bottom", "gap", "volt"} {
		if !strings.Contains(strings.Join(in.Columns, " "), want) {
			t.Errorf("no column for %q among %v", want, in.Columns)
		}
	}
	plain := tell.Incoming(made(t, "four-cell-offcut").job.Job)
	if strings.Contains(strings.Join(plain.Text, " "), "B1") {
		t.Error("a gauge is named that is not printed")
	}
}

// Serials are written down by pen only where they are not on record.
func TestSerialsOnRecordAreNotAskedFor(t *testing.T) {
	if in := tell.Incoming(made(t, "eight-cell-plywood").job.Job); !slices.Contains(in.Columns, tell.SerialColumn) {
		t.Errorf("no room for serials among %v", in.Columns)
	}
	text, err := os.ReadFile("../examples/eight-cell-plywood.yaml")
	if err != nil {
		t.Fatal(err)
	}
	in := tell.Incoming(mustWire(t, string(text), exampleRecords(t, 0)).Job)
	if slices.Contains(in.Columns, tell.SerialColumn) || !strings.Contains(in.Cells[0], "DEMO-") {
		t.Errorf("columns %v, cells %v", in.Columns, in.Cells)
	}
}

// The turns of every stage are that share of each rod's own, rod by rod where they
// differ.
func TestStagesAreSharesOfEachRod(t *testing.T) {
	for _, name := range []string{"sixteen-cell-two-rows", "four-cell-offcut"} {
		j := made(t, name).job
		groups, force := j.Clamp.Setting.Groups(), stepTitled(t, j, "Set the force")
		seen := map[int]bool{}
		for n, g := range groups {
			for _, i := range g.Rods {
				seen[i] = true
				if r := j.Clamp.Setting.PerRod[i]; math.Abs(r.Turns-g.Turns) > 0.025 {
					t.Errorf("%s: rod %d needs %.3f turns and is told %.3f", name, i, r.Turns, g.Turns)
				}
			}
			for k := 1; k <= 4; k++ {
				want := number.Fixed(g.Turns*float64(k)/4, 2) + " turns"
				if got := stages(force)[k-1]; len(got) != len(groups) || !strings.Contains(got[n], want) {
					t.Errorf("%s: stage %d says %q, not %q", name, k, got, want)
				}
			}
		}
		if want := len(j.Assembly.Of(assembly.RoleRod)); len(seen) != want || !strings.Contains(lastStage(force), "in all") {
			t.Errorf("%s: %d rods are told turns, there are %d", name, len(seen), want)
		}
	}
	j := made(t, "sixteen-cell-two-rows").job
	table := stepTitled(t, j, "Set the force").Table
	if len(table) != 3 || table[1][0] != "left and right" || !strings.HasPrefix(table[1][4], "4.30 ") || table[2][0] != "middle" || !strings.HasPrefix(table[2][4], "5.74 ") {
		t.Error(table)
	}
}

// stages are what a step that sets the force tells for each stage, for all rods or for
// each group of them.
func stages(force page.Step) (out [4][]string) {
	for k := range out {
		if force.Table == nil {
			out[k] = []string{force.Figures[k].Value}
			continue
		}
		for _, row := range force.Table[1:] {
			out[k] = append(out[k], row[k+1])
		}
	}
	return out
}

// lastStage is what the last stage is called.
func lastStage(force page.Step) string {
	if force.Table == nil {
		return force.Figures[3].Label
	}
	return force.Table[0][4]
}

// A clamp that only holds has no turns past snug and no torque, and says which nuts
// suit it.
func TestNoForceIsSnugAndNoMore(t *testing.T) {
	j := made(t, "two-cell-frames").job
	for _, s := range allSteps(j) {
		if s.Title == "Set the force" || s.Title == "Measure the clamped stack" {
			t.Errorf("step %q", s.Title)
		}
	}
	if text := stepTitled(t, j, "Bring the nuts to snug").Text; !strings.Contains(text, "Stop there") || !strings.Contains(text, "Plain nuts, each locked by a second one") {
		t.Error(text)
	}
	for _, f := range tell.Setting(j.Job).Figures {
		if f.Label == "Torque" || strings.Contains(f.Value+f.Note, "flats") {
			t.Errorf("%s: %s %s", f.Label, f.Value, f.Note)
		}
	}
}

// Whole flats stand with what is left over: 6.49 turns are not 39 flats.
func TestTurnsAreNotRoundedToFlats(t *testing.T) {
	f := tell.Setting(made(t, "four-cell-offcut").job.Job).Figures[1]
	if !strings.Contains(f.Value, "38 flats, 55°") || strings.Contains(f.Value+f.Note, "39 flats") {
		t.Error(f)
	}
}

// Live cases are warned of where the cells go in.
func TestLiveCasesAreWarnedOf(t *testing.T) {
	j := *made(t, "four-cell-offcut").job.Job
	for _, live := range []bool{true, false} {
		f := *j.Fixture
		f.Cell.CaseLive = live
		a := *j.Assembly
		j.Fixture, a.Fixture, j.Assembly = &f, &f, &a
		if s := stepTitled(t, remade(&j), "Stand the cells in"); strings.Contains(cautioned(s), "cases are live") != live {
			t.Errorf("live %v: %q", live, s.Cautions)
		}
	}
}

// Crosswise means that each rod is named once and follows the one across.
func TestCrosswise(t *testing.T) {
	got := stepTitled(t, made(t, "sixteen-cell-two-rows").job, "Bring the nuts to snug").Text
	if want := "middle lower, middle upper, left lower, right upper, right lower, left upper"; !strings.Contains(got, want+". ") {
		t.Errorf("%s, want %s", got, want)
	}
}

// Sleeves go on before the cells, and bare the rod by their play at both ends.
func TestSleevesGoOnFirst(t *testing.T) {
	j := made(t, "sixteen-cell-two-rows").job
	at := map[string]int{}
	for i, s := range allSteps(j) {
		at[s.Title] = i
	}
	if at["Slip on what the rods pass through"] >= at["Stand the cells in"] {
		t.Error("the sleeves are to be slipped on past the cells")
	}
	if s := stepTitled(t, j, "Bring the nuts to snug"); !strings.Contains(s.Text, "bares 16 mm") {
		t.Error(s.Text)
	}
}

// The discs' way round: alternating in series, the end rims by the count.
func TestDiscsFaceByTurns(t *testing.T) {
	j := made(t, "eight-cell-plywood").job
	if text := stepText(stepTitled(t, j, "Sort the springs")); !strings.Contains(text, "32 discs in series") || !strings.Contains(text, "The first lies with its wide rim on the washer, the last has its wide rim") || !strings.Contains(text, "4 stacks of 32") {
		t.Error(text)
	}
	for title, there := range map[string]bool{"Build the back end": false, "Close the front end": true} {
		if text := stepText(stepTitled(t, j, title)); strings.Contains(text, "disc") != there {
			t.Errorf("springs at one end, told %v: %s", there, text)
		}
	}
	f, a, k := *j.Fixture, *j.Assembly, *j.Job
	s := *f.Spring
	s.Series, s.Parallel = 5, 2
	f.Spring, a.Fixture, k.Fixture, k.Assembly = &s, &f, &f, &a
	if text := stepTitled(t, remade(&k), "Sort the springs").Text; !strings.Contains(text, "5 packets of 2 discs") || !strings.Contains(text, "the last has its narrow rim") {
		t.Error(text)
	}
}

// Creep is made good by the share it took: doubling the setting would double
// the force.
func TestRecheckTurnsOnlyWhatCreepTook(t *testing.T) {
	j := locked(t)
	left := state(j, "after 1000 h").ForceN / state(j, "as tightened").ForceN
	if left <= 0.5 || left >= 0.97 {
		t.Fatalf("polyethylene creeps: %.2f of the force left", left)
	}
	for _, f := range stepTitled(t, j, "Check the nuts after a day, and after the first ten cycles").Figures {
		if !strings.HasPrefix(f.Label, "turn on") {
			continue
		}
		word, _, _ := strings.Cut(f.Value, " ")
		got, err := strconv.ParseFloat(word, 64)
		if want := j.Clamp.Setting.Turns.Greatest * (1 - left); err != nil || math.Abs(got-want) > 0.01 || got > 0.5*j.Clamp.Setting.Turns.Least {
			t.Errorf("turn on %q, want %.3f", f.Value, want)
		}
		return
	}
	t.Error("no figure for turning the nuts on")
}

// The readings of the stack are asked for as readings of the file only where springs let
// them tell the cells' stiffness, of cells that are pressed.
func TestBenchOnlyWhereItTells(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		asked := false
		for _, s := range allSteps(j) {
			asked = asked || strings.Contains(stepText(s), "in the file (readings: stack, snug and set)")
		}
		if want := j.Fixture.Spring != nil && j.Fixture.Cell.Compression != params.CompressNone; asked != want {
			t.Errorf("%s: readings asked for: %v, springs: %v", name, asked, j.Fixture.Spring != nil)
		}
	}
}
