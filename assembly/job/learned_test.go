package job

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"testing"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/assembly/inputs"
	"clampwright/params"
)

// loadedYear is the clamp of the year's example with readings of its own.
func loadedYear(t *testing.T, readings string) *params.Fixture {
	t.Helper()
	text, err := os.ReadFile("../../examples/year/pack.yaml")
	if err != nil {
		t.Fatal(err)
	}
	before, _, _ := bytes.Cut(text, []byte("readings:"))
	f, list := params.Load("pack.yaml", append(before, readings...))
	if f == nil {
		t.Fatal(list)
	}
	return f
}

// Readings as full solves of the plates give them: the stiffness of the cells that the solve
// had lies in the band of 95 in 100, and the mechanics take what is found. The solve's table
// of squeeze is straight where the estimate's law is soft, below the force of setting: it
// finds cells up to 0.37 stiffer, in the logarithm.
func TestStiffnessFromFullSolves(t *testing.T) {
	was := 0.0
	for _, k := range []float64{0.7, 1, 1.5} {
		f := loadedYear(t, "")
		in := inputs.Clamp(f)
		in.Stiffness = k
		r, err := clamp.Solve(in)
		if err != nil {
			t.Fatal(err)
		}
		high := f.Spring.HeightAt(f.Cell.ForceTarget / 4).MM()
		turns := (r.Setting.Turns.Least + r.Setting.Turns.Greatest) / 2
		j, err := Read(loadedYear(t, fmt.Sprintf("readings:\n  - {what: spring, when: set, value: %.3f mm}\n  - {what: turns, when: set, value: %.3f}\n", high, turns)))
		if err != nil {
			t.Fatal(err)
		}
		p, ok := Entry(j)
		sigma := math.Log(p.Parameters[0].High/p.Parameters[0].Low) / 2 / assure.EndSigmas
		if want := k * assure.CellModulus.Middle(); !ok || math.Abs(math.Log(p.Parameters[0].Middle/want)) > 1.96*sigma {
			t.Errorf("cells %g times as stiff, %.1f MPa: %+v", k, want, p.Parameters[0])
		}
		if was >= j.told.stiffness || math.Abs(math.Log(j.told.stiffness/k)) > 0.4 || j.pressed().Stiffness != j.told.stiffness {
			t.Errorf("the mechanics take %.2f times the stiffness, want %g", j.told.stiffness, k)
		}
		was = j.told.stiffness
	}
	j, err := Read(loadedYear(t, ""))
	if err != nil || j.told.stiffness != 0 {
		t.Errorf("nothing read: %g %v", j.told.stiffness, err)
	}
}

// What was learned is told apart from this pack's readings where they are at odds, and the
// estimate then rests on these alone.
func TestLearnedAgainstReadings(t *testing.T) {
	text, err := os.ReadFile("../../examples/year/pack.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		modulus [3]float64
		apart   bool
	}{"alike": {[3]float64{36, 40, 45}, false}, "softer": {[3]float64{11, 12, 13}, true}} {
		f, list := params.Load("pack.yaml", append(bytes.Clone(text), fmt.Sprintf("learned:\n  - {cell: 54x174x200, pack: other, parameters: [{name: modulus, low: %g, middle: %g, high: %g}]}\n", c.modulus[0], c.modulus[1], c.modulus[2])...))
		if f == nil {
			t.Fatal(list)
		}
		j, err := Read(f)
		if err != nil {
			t.Fatal(err)
		}
		if got := len(j.Rests.Apart) == 2; got != c.apart || c.apart == (j.Assurance.Packs > 0) || c.apart == (j.reduced.Learned != nil) || c.apart != (j.Estimate == j.own) {
			t.Errorf("%s: %+v", name, j.Rests)
		}
	}
}
