package nest

import (
	"math"
	"slices"
	"testing"

	"clampwright/params"
	"clampwright/parts/geom"
)

// A sheet that is the part already has no outline cut, no tab and nothing near its rim;
// it is held by its corners where holes leave room. By hand, and under a knife, it is as any other.
func TestWholeSheetIsNotCutRound(t *testing.T) {
	part := geom.Profile{Outer: geom.RectAt(geom.Vec2{}, 200, 100), Circles: []geom.Circle{{R: 5}, {C: geom.Vec2{X: -80, Y: -35}, R: 5}}}
	for _, c := range []struct {
		w, h float64 // of the sheet
		by   params.Machine
		soft bool
		want OpKind
		hold geom.Vec2 // lower left corner of the first
	}{
		{200, 100, params.Router, false, Kept, geom.Vec2{Y: 30}}, {200.05, 100.05, params.Router, false, Kept, geom.Vec2{Y: 30}},
		{200.06, 100, params.Router, false, Outside, geom.Vec2{}}, {200, 100.06, params.Router, false, Outside, geom.Vec2{}},
		{200, 100, params.Laser, false, Kept, geom.Vec2{}}, {200, 100, params.Router, true, Outside, geom.Vec2{}}, {200, 100, params.HandTools, false, Outside, geom.Vec2{}},
	} {
		tool := map[params.Machine]float64{params.Router: 6, params.Laser: 0.2}[c.by]
		plan := SheetPlan{Layouts: []SheetLayout{{Sheet: sheet("s", c.w, c.h, 1), Placed: []Placement{{ID: "p", WidthMM: 200, HeightMM: 100}}}}}
		m := must(MachineSheets(c.by, tool, map[string]geom.Profile{"p": part}, plan, map[string]bool{"p": c.soft}))
		s := m.Sheets[0]
		last := s.Ops[len(s.Ops)-1]
		if last.Kind != c.want || c.want == Kept && last.Tabs != nil {
			t.Errorf("%+v: %s with tabs %v", c, last.Kind, last.Tabs)
		}
		if c.want == Kept && (last.Runs(tool) != nil || last.Swept(tool).Min.X < math.Inf(1) || last.Start.Dist(geom.Vec2{X: 100, Y: 50}) > 1e-9) {
			t.Errorf("%+v: runs round the sheet, from %v", c, last.Start)
		}
		if done := m.Done("p"); !slices.EqualFunc(done, s.Ops, func(a, b Op) bool { return a.Kind == b.Kind && a.Start == b.Start }) {
			t.Errorf("%+v: done %v", c, done)
		}
		if c.want == Kept && c.by == params.Router && (len(s.Holds) == 0 || s.Holds[0].Min.Dist(c.hold) > 1e-9) {
			t.Errorf("%+v: held at %v", c, s.Holds)
		}
	}
	if m := (Machining{Parts: map[string][]Op{"p": {{Kind: Drill}}}}); len(m.Done("p")) != 1 || m.Done("q") != nil {
		t.Error("of what lies on no sheet the part's own operations are told")
	}
}

// In an opening the tool goes down half a web off its path where that is waste with room,
// else on the line: a window leaves its middle, a slot little wider than the tool nothing.
func TestLeadInOfOpenings(t *testing.T) {
	for wide, beside := range map[float64]bool{6.5: false, 6.99: false, 7.01: true, 30: true} {
		p := geom.Profile{Outer: geom.RectAt(geom.Vec2{}, 100, 80), Slots: []geom.Path{geom.RectAt(geom.Vec2{}, 40, wide).Reversed()}}
		op := must(Operations(p, 6))[0]
		runs := op.Runs(6)
		if len(runs) != 1 || runs[0][0].P != op.Start || (op.Start != op.Path[0].P) != beside {
			t.Fatalf("%g wide: %v from %v", wide, runs, op.Start)
		}
		if d := op.Path.DistTo(op.Start); beside && math.Abs(d-leadMM) > 1e-9 {
			t.Errorf("%g wide: the tool goes down %g inside its path", wide, d)
		}
		if long := op.Path[1].P.Dist(op.Path[0].P); math.Abs(long-0.75*34) > 1e-9 {
			t.Errorf("%g wide: the first way is %g long", wide, long)
		}
		if end := runs[0][len(runs[0])-1].P; end.Dist(op.Path[0].P) > 1e-9 {
			t.Errorf("%g wide: ends at %v", wide, end)
		}
	}
}

// A tab leaves its width between the tool's round ends, whatever the tool; two that stand
// close leave one gap.
func TestRunsAtTabs(t *testing.T) {
	square := geom.RectAt(geom.Vec2{}, 100, 100)
	for _, tool := range []float64{1, 3.175, 6, 12} {
		for _, c := range []struct {
			apart float64 // of two tabs in the lower side
			runs  int
		}{{0, 2}, {TabMM + tool - 0.1, 2}, {TabMM + tool + 0.1, 3}} {
			op := must(Operations(geom.Profile{Outer: square}, tool))[0]
			op.Tabs = []geom.Vec2{{X: 20, Y: -50}, {X: 20 + c.apart, Y: -50}}
			runs := op.Runs(tool)
			if len(runs) != c.runs {
				t.Fatalf("tool %g, %g apart: %d runs", tool, c.apart, len(runs))
			}
			if gap := 20 - runs[0][len(runs[0])-1].P.X; math.Abs(gap-(TabMM+tool)/2) > 1e-9 {
				t.Errorf("tool %g: its middle stops %g before a tab's", tool, gap)
			}
			for _, r := range runs {
				if d := square.DistTo(r[0].P); math.Abs(d+tool/2+leadMM) > 1e-9 {
					t.Errorf("tool %g: goes down %g off the part", tool, -d)
				}
			}
		}
	}
}
