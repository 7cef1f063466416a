package clamp

import (
	"math"
	"testing"
)

// The default grid: centre pressure within 2 % of a grid four times finer, and
// the error told is of the size of the true one.
func TestDefaultGrid(t *testing.T) {
	if testing.Short() {
		t.Skip("SKIPPED in short mode: the fine grids take seconds")
	}
	for name, in := range map[string]Input{"polyethylene": referenceTable[1].input(), "three angles": referenceTable[3].input(), "four cells": fourCells()} {
		in.States = []StateSpec{{Name: "as tightened", Tighten: true, Charge: in.AssemblyCharge, TempC: in.Climate.AssemblyC}}
		res, err := Solve(in)
		if err != nil {
			t.Fatal(err)
		}
		fine := in
		fine.GridMM = defaultGrid(in) / 4
		s, err := solveState(fine, in.States[0])
		if err != nil {
			t.Fatal(err)
		}
		truth := math.Abs(res.States[0].Pressure.Centre/s.Pressure.Centre - 1)
		t.Logf("%s: centre %.3f kPa, four times finer %.3f: error %.2f %%, told %.2f %%", name,
			res.States[0].Pressure.Centre, s.Pressure.Centre, 100*truth, 100*res.Mesh.Error)
		if truth > meshTolerance {
			t.Errorf("%s: error %.2g over %g", name, truth, meshTolerance)
		}
		if res.Mesh.Error < truth/3 || res.Mesh.Error > meshTolerance {
			t.Errorf("%s: the estimate %.2g does not bound the error %.2g", name, res.Mesh.Error, truth)
		}
	}
}

func TestAxis(t *testing.T) {
	got := axis(0, 100, []float64{31, 60}, []float64{14, 60.5}, 10)
	for i := 1; i < len(got); i++ {
		if got[i] <= got[i-1] || got[i]-got[i-1] > 10+1e-9 {
			t.Errorf("interval %g to %g", got[i-1], got[i])
		}
	}
	for _, want := range []float64{0, 14, 31, 60, 100} {
		if math.Abs(got[nearest(got, want)]-want) > 1e-9 {
			t.Errorf("no line at %g", want)
		}
	}
	if got[nearest(got, 60.5)] != 60 {
		t.Error("a line half a millimetre from another should have been left out")
	}
}

// The areas shared out to the nodes sum to the pressing area, clipped to the
// plate.
func TestNodeAreas(t *testing.T) {
	row := Row{Face: Rect{10, -5, 90, 85}, Pressing: []Rect{{10, -5, 30, 85}, {50, 0, 90, 40}}}
	xs, ys := axis(0, 100, nil, nil, 7), axis(0, 80, nil, nil, 9)
	area, swell := nodeAreas(xs, ys, row, 0.5)
	sum, mid := 0.0, 0.0
	for i := range area {
		sum += area[i]
		mid += swell[i]
	}
	within(t, "area", sum, 20*80+40*40, 1e-9)
	within(t, "swell zone", mid, 20*22.5, 1e-9) // 30..70 by 17.5..62.5 meets 50..70 by 17.5..40
}

// The screening grid ranks like the full one: pressures as tightened within 5 %
// of the mean, forces within 5 %.
func TestScreenAgrees(t *testing.T) {
	for name, in := range map[string]Input{"four": fourCells(), "sprung": sprung(), "two rows": twoRows()} {
		rough, err := ScreenFittings(in, [][]Rod{in.Rods}, nil)
		if err != nil {
			t.Fatal(err)
		}
		s, err := solveState(in, DefaultStates(in)[0])
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: screen centre %.1f swell %.1f; full %.1f %.1f", name, rough[0][0].Pressure.Centre, rough[0][0].Pressure.Swell, s.Pressure.Centre, s.Pressure.Swell)
		if d := math.Abs(rough[0][0].Pressure.Swell - s.Pressure.Swell); d > 0.05*s.Pressure.Mean {
			t.Errorf("%s: swell zone %g against %g", name, rough[0][0].Pressure.Swell, s.Pressure.Swell)
		}
		aged, err := solveState(in, DefaultStates(in)[3])
		if err != nil {
			t.Fatal(err)
		}
		within(t, name+" aged force", rough[0][1].ForceN, aged.ForceN, 0.05)
	}
}
