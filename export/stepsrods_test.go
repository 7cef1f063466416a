package export

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/assembly/inputs"
	"clampwright/assembly/nest"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/export/tell"
	"clampwright/params/number"
	"clampwright/parts"
)

// twoRowsSprung is a fixture whose middle rods carry for both rows.
const twoRowsSprung = `fixture: t
cell: {model: 72x174x201, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 1000 kgf, case: insulated}
pack: {cells: 6, rows: 2}
plates: {material: 6061-T6, thickness: 12}
stiffeners: none
springs: {ends: %s, disc: 20x10.2x1.1, parallel: 1, series: 12}
prints: {gauges: true}
electrical: {series: 6, parallel: 1, current: 100}
`

// pressed computes a fixture with its wiring, its cuts and its clamp.
func pressed(t *testing.T, text string, table ...string) *Job {
	t.Helper()
	j := mustWire(t, text, table...)
	r, err := clamp.Solve(inputs.Clamp(j.Fixture))
	if err == nil {
		j.Clamp = &r
		j.Nest, err = nest.Of(j.Assembly)
	}
	if err != nil {
		t.Fatal(err)
	}
	return remade(j.Job)
}

// figure is the value of a step's figure.
func figure(t *testing.T, s page.Step, label string) string {
	t.Helper()
	for _, f := range s.Figures {
		if f.Label == label {
			return f.Value + " " + f.Note
		}
	}
	t.Fatalf("%q has no figure %q among %v", s.Title, label, s.Figures)
	return ""
}

// Rods that carry twice have springs of another height: told for each group, in the
// setting, at full charge and at storage charge, and no mean anywhere.
func TestSpringsAreToldForEachGroupOfRods(t *testing.T) {
	for _, ends := range []string{"one", "both"} {
		j := pressed(t, fmt.Sprintf(twoRowsSprung, ends))
		s := j.Clamp.Setting
		if s.RodN.Greatest < 1.5*s.RodN.Least {
			t.Fatalf("%s: the rods carry alike, %v", ends, s.RodN)
		}
		set := stepTitled(t, j, "Set the force")
		full, look := state(j, "full"), stepTitled(t, j, "Check the force at full charge")
		for name, rod := range map[string]int{"left and right rods": 0, "middle rods": 1} {
			r := s.PerRod[rod]
			want := number.Fixed(r.SpringMM, 2) + " mm"
			if got := figure(t, set, "spring height, "+name); !strings.Contains(got, want) || !strings.Contains(got, number.Trim(r.ForceN, 0)+" N") {
				t.Errorf("%s, %s: told %q, the rods need %s and %.0f N", ends, name, got, want, r.ForceN)
			}
			if got, want := figure(t, look, "spring height now, "+name), number.Fixed(full.SpringMM[rod], 2); !strings.Contains(got, want) {
				t.Errorf("%s, %s at full charge: %q, want %s", ends, name, got, want)
			}
			if text := strings.Join(s.Sentences, " "); !strings.Contains(text, want) || strings.Contains(text, "every spring stack is") {
				t.Errorf("%s: %s", ends, text)
			}
		}
		for _, step := range []page.Step{stepTitled(t, j, "Bring the nuts to snug"), stepTitled(t, j, "Measure the clamped stack")} {
			if text := stepText(step); len(step.Table)-1 != len(s.PerRod) || step.Table[0][2] != "spring between its washers" || !strings.Contains(text, "mean height of the springs") {
				t.Errorf("%s: not every spring is measured: %s", ends, text)
			}
		}
		clamped := *j.Clamp
		clamped.States = slices.Clone(clamped.States) // creep takes a tenth
		j.Clamp = &clamped
		state(j, "after 1000 h").ForceN *= 0.9
		j = remade(j.Job)
		if storage := stepText(stepTitled(t, j, "Check the nuts after a day, and after the first ten cycles")); strings.Count(storage, "spring height at storage charge, ") != 2 {
			t.Errorf("%s: %v", ends, storage)
		}
		if !strings.Contains(set.Text, "No gauge is printed") {
			t.Errorf("%s: one gauge for unlike rods: %s", ends, set.Text)
		}
	}
}

// A gauge that would refuse springs that are right is left away.
func TestGaugeIsNotUsedOnSpringsBesideItsBand(t *testing.T) {
	from := made(t, "eight-cell-plywood").job
	if text := stepTitled(t, from, "Set the force").Text; !strings.Contains(text, "GO arm") {
		t.Error(text)
	}
	clamped := *from.Clamp
	clamped.Setting.SpringMM.Least -= 5
	j := *from.Job
	j.Clamp = &clamped
	if text := stepTitled(t, remade(&j), "Set the force").Text; strings.Contains(text, "GO arm") || !strings.Contains(text, "Do not use the") {
		t.Error(text)
	}
}

// The sentence, the card and the last stage tell the same turns, and the stages are
// even shares of what is told.
func TestTurnsAreToldAlike(t *testing.T) {
	for _, name := range exampleNames(t) {
		j := made(t, name).job
		if work.SnugIsAll(j.Fixture, j.Clamp) {
			continue
		}
		sentences := strings.Join(j.Clamp.Setting.Sentences, " ")
		told := stages(stepTitled(t, j, "Set the force"))
		card := tell.Setting(j.Job).Figures[1].Value
		groups := j.Clamp.Setting.Groups()
		by := func(a, b clamp.RodGroup) int { return cmp.Compare(a.Turns, b.Turns) }
		ends := []clamp.RodGroup{slices.MinFunc(groups, by), slices.MaxFunc(groups, by)}
		for _, g := range ends { // those between are told at the stages alone
			words := clamp.TurnWords(g.Turns)
			if !slices.Contains(told[3], words) || !strings.Contains(sentences, words) {
				t.Errorf("%s: %s is not in the last stage %q or the sentences %s", name, words, told[3], sentences)
			}
			if turns, _, _ := strings.Cut(words, " "); !strings.Contains(card, turns) {
				t.Errorf("%s: the last stage says %s, the card %q", name, turns, card)
			}
		}
		if len(told[3]) != len(groups) {
			t.Errorf("%s: %d turns in the last stage, %d groups of rods", name, len(told[3]), len(groups))
		}
		for i := range told[3] {
			if a, b := leading(t, told[1][i]), leading(t, told[3][i]); math.Abs(2*a-b) > 0.0101 {
				t.Errorf("%s: stage 2 of %v is %v", name, b, a)
			}
		}
	}
}

// leading is the number that words begin with.
func leading(t *testing.T, words string) float64 {
	t.Helper()
	word, _, _ := strings.Cut(words, " ")
	v, err := strconv.ParseFloat(word, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Two rows are placed, and every cell has one name in all steps and in the record.
func TestRowsArePlaced(t *testing.T) {
	j := made(t, "sixteen-cell-two-rows").job
	if a, b := j.Assembly.Placement.RowX[0], j.Assembly.Placement.RowX[1]; a >= b {
		t.Fatalf("row A at %v is not left of row B at %v", a, b)
	}
	for place := range j.Fixture.Pack.Cells {
		if a, b := j.Fixture.Pack.CellName(place), j.Wiring.Layout.CellName(place); a != b {
			t.Errorf("cell %d is %s in the steps and %s in the wiring", place, a, b)
		}
	}
	for title, want := range map[string]string{
		"Stand the cells in":        "Begin at the back with A1 and B1.",
		"Check and mark every cell": "A1 to A8 and B1 to B8",
	} {
		if text := stepText(stepTitled(t, j, title)); !strings.Contains(text, want) {
			t.Errorf("%s: %q is missing in %s", title, want, text)
		}
	}
	if note := told(j)[3].Note; !strings.Contains(note, "Row A is on the left, row B on the right") {
		t.Error(note)
	}
	if cells := tell.Incoming(j.Job).Cells; cells[0] != "A1" || cells[15] != "B8" {
		t.Error(cells)
	}
}

// Cells on record go to their places by serial number, in both steps.
func TestRecordedCellsAreToldTheirPlaces(t *testing.T) {
	text, err := os.ReadFile("../examples/eight-cell-plywood.yaml")
	if err != nil {
		t.Fatal(err)
	}
	j := pressed(t, string(text), exampleRecords(t, 0))
	last := j.Wiring.Arrangement.Slots[7].Serial
	for _, s := range []page.Step{stepTitled(t, j, "Check and mark every cell"), stepTitled(t, j, "Stand the cells in")} {
		if text := stepText(s); !strings.Contains(text, last+" to 8") || strings.Contains(text, "number the others") {
			t.Errorf("%s does not send %s to 8: %s", s.Title, last, text)
		}
	}
}

// Every drill of the drilling table is in the steps.
func TestStepsNameTheDrillBetween(t *testing.T) {
	j := made(t, "eight-cell-plywood").job
	p := j.Assembly.PlateAt(assembly.Front).Part
	for _, h := range p.Holes {
		mms := parts.DrillSteps(h.PilotMM, h.DiaMM)
		want := "pilot"
		for _, mm := range mms {
			want += " " + j.Fixture.DrillWords(mm) + ", then"
		}
		want = strings.TrimSuffix(want, ", then")
		found := false
		for _, s := range allSteps(j) {
			found = found || strings.Contains(stepText(s), want)
		}
		if !found {
			t.Errorf("hole %s: no step says %q", h.ID, want)
		}
	}
}

// Beside the rods the plates part by what the rods stretch; what no calliper tells is
// not told as a figure.
func TestGapAtFullChargeIsTheRodsStretch(t *testing.T) {
	from := locked(t)
	j, clamped := *from.Job, *from.Clamp
	clamped.States = slices.Clone(clamped.States)
	j.Clamp = &clamped
	gap := func() string {
		return figure(t, stepTitled(t, remade(&j), "Check the force at full charge"), "plates farther apart than set, beside every rod")
	}
	if got := gap(); !strings.HasPrefix(got, "less than") {
		t.Error(got)
	}
	r, full := clamped.Setting.PerRod[0], state(&Job{Job: &j}, "full")
	full.RodForceN = nil
	for _, rod := range clamped.Setting.PerRod {
		full.RodForceN = append(full.RodForceN, rod.ForceN+0.3/rod.GapPerN)
	}
	if got := gap(); !strings.Contains(got, "0.012 in") {
		t.Error(got)
	}
	rods := from.Fixture.Rods
	stiff := 1 / r.GapPerN * rods.Length.MM() / (math.Pi / 4 * rods.Thread.Major.MM() * rods.Thread.Major.MM())
	if stiff < 50e3 || stiff > 300e3 {
		t.Errorf("a rod that gives %.3g mm per newton would have a modulus of %.3g MPa", r.GapPerN, stiff)
	}
}

// Plates that end above the cells stand on strips at both ends, and are not tapped
// off them.
func TestBothPlatesStandOnStrips(t *testing.T) {
	j := made(t, "four-cell-offcut").job
	for title, want := range map[string]string{"Build the back end": "strips about 5/64 in thick", "Close the front end": "on strips", "Square it up": "the plates down on their strips"} {
		if text := stepTitled(t, j, title).Text; !strings.Contains(text, want) {
			t.Errorf("%s: no %q in %s", title, want, text)
		}
	}
	if text := phaseText(made(t, "sixteen-cell-two-rows").job, func(string) bool { return true }); strings.Contains(text, "on strips") || strings.Contains(text, "their strips") {
		t.Error(text)
	}
}

// A liner is as high on the plate as the cells: it stands where they stand.
func TestLinersStandOnTheBoard(t *testing.T) {
	if text := stepTitled(t, made(t, "sixteen-cell-two-rows").job, "Stand the cells in").Text; !strings.Contains(text, "centred across the row. They stand on the board.") {
		t.Error(text)
	}
}

// One cell has no two ends to look along.
func TestOneCellIsNotSeenAlongARow(t *testing.T) {
	j := pressed(t, "fixture: t\ncell: {model: 72x174x201, compression: none}\npack: {cells: 1}\nelectrical: {series: 1}\n")
	text := phaseText(j, func(string) bool { return true }) + tell.Wiring(j.Job).States[0].Text
	for _, word := range []string{"looking towards", "end of cell", "lowest number", "large face to large face", "add up", "first and the last"} {
		if strings.Contains(text, word) {
			t.Errorf("%q is said of one cell: %s", word, text)
		}
	}
}

// What is listed as a limit is a reason to put a cell aside.
func TestEveryLimitRejects(t *testing.T) {
	in := tell.Incoming(made(t, "four-cell-offcut").job.Job)
	text := strings.Join(in.Reject, " ")
	for _, l := range in.Limits {
		word := strings.ToLower(strings.Fields(l.Label)[0])
		if !strings.Contains(strings.ToLower(text), word) {
			t.Errorf("%s has a limit and no cell is put aside for it: %s", l.Label, text)
		}
	}
	if !strings.Contains(text, "voltage") {
		t.Error(text)
	}
}

// The nut run on before sawing is never one whose lock wears.
func TestThreadIsCleanedWithAPlainNut(t *testing.T) {
	text := stepTitled(t, made(t, "four-cell-offcut").job, "Cut 4 threaded rods R1").Text
	if !strings.Contains(text, "Run a plain nut on before you saw, as drawn") || !strings.Contains(text, "Do not use a locking nut") {
		t.Error(text)
	}
}
