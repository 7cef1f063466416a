package job

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/params/diag"
)

// readOf is a clamp on four springs, 51 mm high without load, 735 N each at 43.2 mm, with
// readings.
func readOf(t *testing.T, readings string) (*Job, error) {
	t.Helper()
	text := "fixture: a\ncell: {model: 54x174x200, force: 300 kgf, force_tolerance: 20 kgf, force_limit: 700 kgf}\npack: {cells: 4}\n" +
		"plates: {material: birch plywood, thickness: 18}\nsprings: {coil: die heavy 20x51}\nseparators: {material: fr4, thickness: 0.5}\nreadings:\n" + readings
	f, diags := params.Load("pack.yaml", []byte(text))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return Compute(context.Background(), f, func(string) {}, WithAnswers(0))
}

// A clamp that its readings tell was set outside the band for sure fails, either side; one
// that may be inside warns; one inside does not, nor one whose force was read after a later
// visit.
func TestSetForce(t *testing.T) {
	set := func(mm float64) string {
		return fmt.Sprintf("  - {what: spring, when: set, value: %g mm, date: 2026-01-10}\n", mm)
	}
	for _, c := range []struct {
		name, readings string
		sense          finding.Sense
		want           finding.Verdict
	}{
		{"as asked", set(43.2), "", ""},
		{"far too tight", set(34.2), finding.AtMost, finding.Fail},
		{"far too loose", set(48.5), finding.AtLeast, finding.Fail},
		{"a little too tight, inside", set(42.8), "", ""},
		{"too tight, it may be inside", set(42.4), finding.AtMost, finding.Warn},
		{"too loose, it may be inside", set(44.0), finding.AtLeast, finding.Warn},
		{"read at a visit since", set(34.2) + "  - {what: spring, when: visit, value: 42 mm, date: 2026-08-10, charge: 0.3}\n", "", ""},
	} {
		j, err := readOf(t, c.readings)
		if err != nil {
			t.Fatal(c.name, err)
		}
		got := finding.Sense("")
		for _, f := range j.Findings {
			if f.ID == clamp.SetForce {
				if got = f.Sense; f.Verdict != c.want {
					t.Errorf("%s: %s, want %s", c.name, f.Verdict, c.want)
				}
			}
		}
		if got != c.sense {
			t.Errorf("%s: %q, want %q", c.name, got, c.sense)
		}
	}
}

// The card has one spring of every rod weighed: heights that are entered without what they
// carry warn and say so, and with that pass as the card does with nothing entered.
func TestHeightsUnweighed(t *testing.T) {
	set, weighed := "", ""
	for _, rod := range []string{"left lower", "right lower", "left upper", "right upper"} {
		set += "  - {what: spring, where: " + rod + ", when: set, value: 43.2 mm, date: 2026-01-10}\n"
		weighed += "  - {what: weighed, where: " + rod + ", value: 735 N, high: 43.2 mm}\n"
	}
	for _, c := range []struct {
		readings string
		want     finding.Verdict
	}{{"  []\n", finding.Pass}, {set, finding.Warn}, {set + weighed[:strings.Index(weighed, "\n")+1], finding.Warn}, {set + weighed, finding.Pass}} {
		j, err := readOf(t, c.readings)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range j.Findings {
			if f.ID == clamp.Share && (f.Verdict != c.want || strings.Contains(f.Hint, "weigh one spring of every rod") != (c.want == finding.Warn)) {
				t.Errorf("%s%s with %.1f %%: %s", c.readings, f.Verdict, f.Have, f.Hint)
			}
		}
	}
}

// Readings that cannot be are refused, each by its line; those at the limit are not.
func TestImpossibleReadings(t *testing.T) {
	const set = "  - {what: spring, when: set, value: 43.2 mm, date: 2026-01-10}\n"
	visit := func(mm, date string) string {
		return "  - {what: spring, when: visit, value: " + mm + " mm, date: " + date + ", charge: 0.3}\n"
	}
	for readings, want := range map[string]string{
		set + visit("50.9", "2026-08-10"):                    "",
		set + visit("52", "2026-08-10"):                      "higher than without any load",
		set + visit("43", "2026-01-10"):                      "",
		set + visit("43", "2026-01-09"):                      "before the day of setting",
		set + visit("43", "2066-01-09"):                      "",
		set + visit("43", "2066-02-01"):                      "more than 40 years",
		"  - {what: spring, when: set, value: 34 mm}\n":      "",
		"  - {what: weighed, value: 735 N, high: 52 mm}\n":   "a height that it cannot have",
		"  - {what: weighed, value: 735 N, high: 1 mm}\n":    "a height that it cannot have",
		"  - {what: weighed, value: 735 N, high: 43.2 mm}\n": "",
		"  - {what: running, when: set, value: 0 N m}\n":     "",
		"  - {what: spring, when: set, value: 2 mm}\n":       "tears the rods",
	} {
		_, err := readOf(t, readings)
		var wrong diag.List
		if errors.As(err, &wrong); (want == "") != (err == nil) || want != "" && (len(wrong) != 1 || !strings.Contains(wrong[0].Summary, want) || wrong[0].Range.Line == 0) {
			t.Errorf("%s%v, want %q", readings, err, want)
		}
	}
}

// A spring that weighs half of what the others do is in doubt for as long as it is fitted: nothing
// is charged on its rod.
func TestWeakSpringStaysInDoubt(t *testing.T) {
	for weighs, charge := range map[string]bool{"735 N": true, "367 N": false} {
		text := ""
		for _, rod := range []string{"left lower", "right lower", "left upper", "right upper"} {
			n := "735 N"
			if rod == "right upper" {
				n = weighs
			}
			text += "  - {what: weighed, where: " + rod + ", value: " + n + ", high: 43.2 mm}\n  - {what: spring, where: " + rod + ", when: set, value: 43.2 mm, date: 2026-01-10, charge: 0.3}\n"
		}
		j, err := readOf(t, text)
		if err != nil {
			t.Fatal(err)
		}
		if a := j.Estimate.Answer(); a.Charge != charge || (j.Estimate.Doubted() == 0) != charge {
			t.Errorf("%s: charge %t, %+v", weighs, a.Charge, a.Notes)
		}
	}
}

// A force that tears the rods is told with the two readings that raise it most.
func TestTornNamesBoth(t *testing.T) {
	set := ""
	for i, rod := range []string{"left lower", "right lower", "left upper", "right upper"} {
		set += fmt.Sprintf("  - {what: spring, where: %s, when: set, value: %s mm, date: 2026-01-10}\n", rod, []string{"1.7", "1.75", "1.8", "1.72"}[i])
	}
	_, err := readOf(t, set)
	var wrong diag.List
	if !errors.As(err, &wrong) || len(wrong) != 1 || len(wrong[0].Related) != 1 || wrong[0].Range.Line == wrong[0].Related[0].Line {
		t.Errorf("%+v", err)
	}
}

// The line at fault is the one that is named, also where it is what the nuts were set by.
func TestTornNamesTheFault(t *testing.T) {
	for readings, want := range map[string]int{
		"  - {what: turns, when: set, value: 40}\n": 8,
		"  - {what: stack, when: snug, value: 219 mm}\n  - {what: turns, where: left lower, when: set, value: 39}\n  - {what: turns, where: right lower, when: set, value: 40}\n": 10,
	} {
		_, err := readOf(t, readings)
		var wrong diag.List
		if !errors.As(err, &wrong) || len(wrong) != 1 || !strings.Contains(wrong[0].Summary, "tears the rods") || wrong[0].Range.Line != want {
			t.Errorf("%s%+v, want line %d", readings, err, want)
		}
	}
}

// All nuts turned in far, read twice: the force is what the springs stand at, and not what a
// start drawn far away makes of it. 735 N at 43.2 of 51 mm is 94.2 N/mm: 1404 N at 36.1 mm.
func TestFarDrift(t *testing.T) {
	text := ""
	for _, k := range []string{"set, value: 43.2 mm, date: 2026-01-10", "visit, value: 36 mm, date: 2026-02-10", "visit, value: 36.1 mm, date: 2026-03-10"} {
		for _, rod := range []string{"left lower", "right lower", "left upper", "right upper"} {
			text += "  - {what: spring, where: " + rod + ", when: " + k + ", charge: 0.3}\n"
		}
	}
	j, err := readOf(t, text)
	if err != nil {
		t.Fatal(err)
	}
	if all, _ := j.Estimate.Forces(j.Estimate.Now()); all.Value < 0.97*4*1404 || all.Value > 1.03*4*1404 {
		t.Errorf("%+v", all)
	}
}

// Turns of nuts that are set again are held against the heights of the springs before and after:
// 1.2 mm shorter springs, and cells that yield, are about a turn of 1.25 mm.
func TestTurnsOfReset(t *testing.T) {
	for _, c := range []struct {
		mm, turns float64
		named     bool
	}{{42, 1.1, false}, {44.4, -1.1, false}, {42, -1.1, true}, {44.9, 9, true}, {43.2, 0, false}} {
		text := ""
		for _, k := range []string{"set, value: 43.2 mm, date: 2026-01-10", fmt.Sprintf("reset, value: %g mm, date: 2026-02-10", c.mm)} {
			for _, rod := range []string{"left lower", "right lower", "left upper", "right upper"} {
				text += "  - {what: spring, where: " + rod + ", when: " + k + ", charge: 0.3}\n"
			}
		}
		j, err := readOf(t, text+fmt.Sprintf("  - {what: turns, when: reset, value: %g, date: 2026-02-10, charge: 0.3}\n", c.turns))
		if err != nil {
			t.Errorf("%v: %v", c, err)
			continue
		}
		notes := j.Estimate.Answer().Notes
		if named := len(notes) == 1 && j.Fixture.Readings[notes[0].Refs[0]].What == "turns"; named != c.named || !named && len(notes) > 0 {
			t.Errorf("%v: %+v", c, notes)
		}
	}
}

// What mends a clamp whose readings stand in the file is told only where nothing fails in
// that file as it is then written.
func TestMendedAsWritten(t *testing.T) {
	for _, readings := range []string{"", "readings:\n  - {what: bow, where: front, when: set, value: 0.4 mm, date: 2026-01-10}\n  - {what: bow, where: front, when: full, value: 0.55 mm, date: 2026-01-12}\n"} {
		text := "fixture: a\ncell: {model: 54x174x200, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 700 kgf}\npack: {cells: 4}\n" +
			"plates: {material: birch plywood, thickness: 18}\nsprings: none\nseparators: {material: fr4, thickness: 0.5}\n" + readings
		f, diags := params.Load("pack.yaml", []byte(text))
		if diags.HasErrors() {
			t.Fatal(diags)
		}
		j, err := Compute(context.Background(), f, func(string) {})
		if err != nil {
			t.Fatal(err)
		}
		if j.Verdict() != finding.Fail || readings == "" && len(j.Mended.Patches) == 0 {
			t.Fatalf("%q: %s, %d answers", readings, j.Verdict(), len(j.Mended.Patches))
		}
		for _, p := range j.Mended.Patches {
			edited, err := params.Edit("pack.yaml", []byte(text), p.Noted())
			if err != nil {
				t.Fatal(err)
			}
			g, diags := params.Load("pack.yaml", edited)
			if diags.HasErrors() {
				t.Fatal(diags)
			}
			now, err := Compute(context.Background(), g, func(string) {}, WithAnswers(0))
			if err != nil || now.Verdict() == finding.Fail {
				t.Errorf("%q: told, and fails: %v", readings, err)
			}
		}
	}
}
