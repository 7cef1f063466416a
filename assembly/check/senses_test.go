package check

import (
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
)

// senses says of every rule which way it lies; all but the named ones want at least
// so much. placeless are those whose findings lie nowhere in the fixture.
var (
	senses = map[finding.ID]finding.Sense{
		"chain-closed": finding.AtMost, "washer-bearing": finding.AtMost, "socket-depth": finding.AtMost,
		"spring-guided": finding.AtMost, "print-overhang": finding.AtMost, "drill-at-hand": finding.Within,
	}
	placeless = map[finding.ID]bool{
		"fits-sheet": true, "fits-length": true, "drill-at-hand": true, "fits-bed": true, "wall-printable": true,
		"print-wall": true, "print-overhang": true, "print-heat": true,
	}
	// softened are verdicts that a rule makes milder or worse than its limit says.
	softened = map[finding.ID]bool{"driver-to-metal": true, "print-wall": true}
)

// everything is placed fixtures in which every rule finds something to judge, good
// and bad.
func everything(t *testing.T) []*assembly.Assembly {
	t.Helper()
	place := func(base func() *params.Fixture, changes ...func(*params.Fixture)) *assembly.Assembly {
		f := base()
		all(changes...)(f)
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	prints := func(f *params.Fixture) {
		f.Prints.Gauges, f.Prints.CornerGuards, f.Printer.Material = true, true, sample.PETG
		m := sample.PETG
		m.MaxService = 70
		f.Tables.Materials = append(f.Tables.Materials, m)
	}
	frame := func(f *params.Fixture) { f.Separator.Pattern, f.Separator.Border = "frame", 20 }
	return []*assembly.Assembly{
		place(sample.FourCells), place(sample.TwoRows, live, frame), place(sleeved, prints), place(sprung), place(plainPlates),
		place(sample.FourCells, beside(-1), gauge(13), rodEnds(100)), linked(t, 20, nil),
		place(sample.TwoRows, live, noLiner, func(f *params.Fixture) { f.Separator = nil }),
	}
}

// Every rule has findings, all of them lie the way the table says, with a place
// where they have one; the verdict is what value, limit and sense say.
func TestSenses(t *testing.T) {
	seen := map[finding.ID]bool{}
	for _, a := range everything(t) {
		found, err := Judge(a)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			seen[f.ID] = true
			want := senses[f.ID]
			if want == "" {
				want = finding.AtLeast
			}
			if f.Sense != want {
				t.Errorf("%s %s lies %q, want %q", f.ID, f.Of, f.Sense, want)
			}
			if (f.At == nil) != placeless[f.ID] {
				t.Errorf("%s %s: place %v", f.ID, f.Of, f.At)
			}
			if (f.Margin() < -Slack) != (f.Verdict != finding.Pass) && !softened[f.ID] {
				t.Errorf("%s %s: %s at %g, %s %g", f.ID, f.Of, f.Verdict, f.Have, f.Sense, f.Need)
			}
			if f.Bound && f.Verdict != finding.Pass {
				t.Errorf("%s %s: does not pass on a lower bound", f.ID, f.Of)
			}
			if len(f.Between) == 0 || f.Why == "" || f.Unit == "" || f.Compared == 0 || len(f.Params) == 0 || f.Group == "" {
				t.Errorf("%s %s is not complete: %+v", f.ID, f.Of, f)
			}
		}
	}
	for _, r := range rules() {
		if !seen[r.id] {
			t.Errorf("%s has no finding in any sample", r.id)
		}
	}
}

// Of the rules that compare every instance, each counts what there is to count in
// sixteen cells: two plates, two rows, six rods, twelve nuts.
func TestCompared(t *testing.T) {
	a, err := assembly.Build(sample.TwoRows())
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]int{
		"plate-covers": 4, "row-fits": 4, "plate-insulated": 4, "sheet-covers": 14 + 4, "separator-registers": 14,
		"washer-bearing": 12, "nut-engaged": 12, "socket-depth": 12, "grip-room": 6,
		"hole-edge": 6, "hole-ligament": 15, "hole-for-cutter": 6,
		"driver-to-cell": 12, "driver-to-terminal": 12, "driver-to-metal": 12,
	}
	found, err := JudgeLight(a)
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{"grip-room", "driver-to-cell", "driver-to-terminal", "driver-to-metal"} {
		found = append(found, judged(t, id, a)...)
	}
	for _, f := range found {
		if n, ok := want[string(f.ID)]; ok && f.Compared != n {
			t.Errorf("%s compared %d, want %d", f.ID, f.Compared, n)
		}
		delete(want, string(f.ID))
	}
	for id := range want {
		t.Errorf("%s: no finding", id)
	}
}
