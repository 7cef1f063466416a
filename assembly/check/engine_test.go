package check

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/unit"
)

// Twice the same fixture gives the same findings, remedies included.
func TestRunIsDeterministic(t *testing.T) {
	f := sample.FourCells()
	f.Rods.Columns = []unit.Length{-90, 90}
	if a, b := run(t, f), run(t, f); !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
}

// A report stays readable: some dozens of rows, whatever the number of pairs.
func TestReportLength(t *testing.T) {
	for name, f := range map[string]*params.Fixture{"four": sample.FourCells(), "two rows": sample.TwoRows()} {
		found := run(t, f)
		pairs := 0
		for _, x := range found {
			pairs += x.Compared
		}
		if len(found) < 20 || len(found) > 45 || pairs < 1000 {
			t.Errorf("%s: %d rows from %d comparisons", name, len(found), pairs)
		}
	}
}

// Groups come in their order and rules are named once.
func TestTableOrder(t *testing.T) {
	order := map[finding.Group]int{finding.GroupInterference: 0, finding.GroupClear: 1, finding.GroupSeats: 2, finding.GroupCover: 3, finding.GroupCutting: 4}
	last := 0
	seen := map[finding.ID]bool{}
	for _, r := range rules() {
		if order[r.group] < last {
			t.Errorf("%s is out of order", r.id)
		}
		last = order[r.group]
		if seen[r.id] {
			t.Errorf("%s is there twice", r.id)
		}
		seen[r.id] = true
	}
}

// JudgeRule gives what Judge gives for one rule, of pairs only the kind asked for.
func TestJudgeRule(t *testing.T) {
	f := sample.FourCells()
	f.Rods.Columns = []unit.Length{-90, 90}
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	all, err := Judge(a)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range all {
		found, err := JudgeRule(a, want)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(found, func(g finding.Finding) bool { return g.Key() == want.Key() })
		if i < 0 || found[i].Verdict != want.Verdict || math.Abs(found[i].Have-want.Have) > 1e-9 {
			t.Errorf("%s: %+v", want.Key(), found)
		}
	}
}
