package check

import (
	"reflect"
	"testing"

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

func TestApplyLeavesTheOriginal(t *testing.T) {
	f := sample.TwoRows()
	before := clone(f)
	set := []finding.Setting{{Param: "rods.columns[0]", Value: -300}, {Param: "rods.levels[1]", Value: 99},
		{Param: "liners.width", Value: 50}, {Param: "pack.row_gap", Value: 70}, {Param: "plates.height", Value: 100}}
	got, err := Apply(f, set)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(f, before) {
		t.Error("Apply changed its argument")
	}
	if got.Rods.Columns[0] != -310 || got.Rods.Levels[1] != 99 || got.Liner.Width != 50 || got.Plate.Height != 100 {
		t.Errorf("settings not made: %v %v %v", got.Rods, got.Liner, got.Plate)
	}
	if got.Pack.RowX[1]-got.Pack.RowX[0] != 224+20 || got.Plate.Width != 502 || got.Rods.Columns[2] != 232 {
		t.Errorf("row gap: rows at %v, plate %v, columns %v", got.Pack.RowX, got.Plate.Width, got.Rods.Columns)
	}
}

func TestApplyRefuses(t *testing.T) {
	for _, s := range []finding.Setting{{Param: "rods.columns[7]", Value: 1}, {Param: "rods.columns[x]", Value: 1},
		{Param: "no.such", Value: 1}, {Param: "separators.width", Value: 1}, {Param: "pack.row_gap", Value: 3},
		{Param: "plates.width", Value: nan}, {Param: "nuts.name", Word: "M8"}} {
		if _, err := Apply(sample.FourCells(), []finding.Setting{s}); err == nil {
			t.Errorf("%s: no error", s.Param)
		}
	}
}

// Remedies round away from the present value, to the user's step.
func TestRoundToward(t *testing.T) {
	mm, in := params.Style{Unit: unit.Millimetre, Decimals: 1}, params.Style{Unit: unit.Inch, Denominator: 16}
	for _, c := range []struct {
		s              params.Style
		base, by, want float64
	}{{mm, 10, 0.01, 10.1}, {mm, 10, -0.01, 9.9}, {mm, 10, 0.1, 10.1}, {in, 25.4, 0.1, 25.4 * 17 / 16}, {in, 25.4, -0.1, 25.4 * 15 / 16}} {
		if got := roundToward(c.s, c.base, c.by); got < c.want-1e-9 || got > c.want+1e-9 {
			t.Errorf("%g by %g: %g, want %g", c.base, c.by, got, c.want)
		}
	}
}
