package job

import (
	"os"
	"path/filepath"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/inputs"
	"clampwright/params"
)

// example computes one of the examples.
func example(t *testing.T, name string) *Job {
	t.Helper()
	path := filepath.Join("..", "..", "examples", name+".yaml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f, diags := params.Load(path, text)
	if f == nil {
		t.Fatal(diags)
	}
	j, err := Compute(t.Context(), f, func(string) {})
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// A turn adds near the target what two solutions, a little below and above it,
// say: no less, and not much more.
func TestPerTurn(t *testing.T) {
	for _, name := range []string{"four-cell-offcut", "eight-cell-plywood", "three-cell-ribs", "sixteen-cell-two-rows"} {
		j := example(t, name)
		at := func(share float64) (forceN, turns float64) {
			in := inputs.Clamp(j.Fixture)
			in.Window.Target *= share
			r, err := clamp.Solve(in)
			if err != nil {
				t.Fatal(err)
			}
			return r.Setting.TargetN, (r.Setting.Turns.Least + r.Setting.Turns.Greatest) / 2
		}
		lowN, low := at(0.98)
		highN, high := at(1.02)
		want := (highN - lowN) / (high - low)
		snug := clamp.SnugForceN * float64(len(j.Fixture.Rods.Columns)*len(j.Fixture.Rods.Levels))
		if got := perTurn(j.Clamp, snug, j.Fixture.Rods.Thread.Pitch.MM()); got < 0.97*want || got > 1.2*want {
			t.Errorf("%s: %g N a turn, solved %g", name, got, want)
		}
	}
}
