package clamp

import (
	"math"
	"testing"
)

// Several sets of rods screened together give what each gives alone.
func TestFittingsTogether(t *testing.T) {
	bare, soft := fourCells(), sprung()
	stiff := fourCells()
	for i := range stiff.Rods {
		stiff.Rods[i].AreaMM2, stiff.Rods[i].FreeMM = 58, 300
	}
	sets := [][]Rod{bare.Rods, soft.Rods, stiff.Rods}
	got, err := ScreenFittings(bare, sets, nil)
	if err != nil {
		t.Fatal(err)
	}
	for k, rods := range sets {
		in := fourCells()
		in.Rods = rods
		alone, err := ScreenFittings(in, [][]Rod{rods}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(got[k]) != len(ScreenStates(in)) {
			t.Fatalf("set %d: %d states", k, len(got[k]))
		}
		for n, s := range got[k] {
			if one := alone[0][n]; math.Abs(s.ForceN/one.ForceN-1) > 1e-6 || math.Abs(s.Rows[0].Uneven-one.Rows[0].Uneven) > 1e-9 {
				t.Errorf("set %d, %s: %g N and unevenness %g together, %g and %g alone", k, s.Name, s.ForceN, s.Rows[0].Uneven, one.ForceN, one.Rows[0].Uneven)
			}
		}
	}
}

func TestFittingsRefused(t *testing.T) {
	in := fourCells()
	moved := append([]Rod(nil), in.Rods...)
	moved[0].XMM++
	for _, bad := range [][]Rod{moved, in.Rods[:3]} {
		if _, err := ScreenFittings(in, [][]Rod{in.Rods, bad}, nil); err == nil {
			t.Error("accepted rods at other places")
		}
	}
}

// The states alone are those of the whole solution, with a measurement of the stack
// that tells its stiffness too.
func TestSolveStates(t *testing.T) {
	in := quick(fourCells())
	in.GridMM = 16
	measured := in
	measured.Stiffness = 1.6
	for _, in := range []Input{in, measured} {
		want := mustSolve(t, in).States
		got, err := SolveStates(in, nil, nil)
		if err != nil || len(got) != len(want) {
			t.Fatal(err, len(got))
		}
		for k := range got {
			if math.Abs(got[k].ForceN-want[k].ForceN) > 1e-9*want[k].ForceN || got[k].Verdict != want[k].Verdict {
				t.Errorf("%s: %g against %g", got[k].Name, got[k].ForceN, want[k].ForceN)
			}
		}
	}
	one, err := SolveStates(in, nil, func(State) bool { return true })
	if err != nil || len(one) != 1 {
		t.Error("did not end early")
	}
}
