package clamp

import (
	"encoding/json"
	"testing"
)

// Every scenario solves, its result goes into JSON (so no number is NaN or
// infinite), and the numbers a builder needs are there.
func TestSolveScenarios(t *testing.T) {
	for name, in := range map[string]Input{"four": fourCells(), "two rows": twoRows(), "sprung": sprung()} {
		in.GridMM = 12
		r := mustSolve(t, in)
		if _, err := json.Marshal(r); err != nil {
			t.Error(name, err)
		}
		if len(r.States) != 8 || r.Sentence == "" || len(r.Setting.Sentences) < 2 {
			t.Errorf("%s: incomplete: %+v", name, r)
		}
		if r.Setting.Turns.Least <= 0 || len(r.Setting.PerRod) != len(in.Rods) {
			t.Errorf("%s: setting %+v", name, r.Setting)
		}
		if r.States[3].ForceN <= r.States[2].ForceN || r.States[5].ForceN >= r.States[4].ForceN {
			t.Errorf("%s: age adds force and creep takes it", name)
		}
	}
}

// Springs keep the force nearer its target as the cells age.
func TestSpringsTameGrowth(t *testing.T) {
	bare, soft := mustSolve(t, quick(fourCells())), mustSolve(t, quick(sprung()))
	if soft.States[3].ForceN > 0.8*bare.States[3].ForceN {
		t.Errorf("full and aged: bare %.0f N, sprung %.0f N", bare.States[3].ForceN, soft.States[3].ForceN)
	}
	if soft.Setting.Method != MethodSpring || bare.Setting.Method != MethodTurns {
		t.Error("the method of setting")
	}
}

func BenchmarkOneState(b *testing.B) {
	b.ReportAllocs()
	defer reportCPU(b)()
	for b.Loop() {
		if _, err := solveState(fourCells(), StateSpec{Tighten: true}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSolveFour(b *testing.B)    { benchSolve(b, fourCells()) }
func BenchmarkSolveTwoRows(b *testing.B) { benchSolve(b, twoRows()) }

func benchSolve(b *testing.B, in Input) {
	b.ReportAllocs()
	defer reportCPU(b)()
	for b.Loop() {
		if _, err := Solve(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkScreen(b *testing.B) {
	b.ReportAllocs()
	in := fourCells()
	defer reportCPU(b)()
	for b.Loop() {
		if _, err := ScreenFittings(in, [][]Rod{in.Rods}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
