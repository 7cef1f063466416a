package clamp

import (
	"math"
	"testing"

	"clampwright/assembly/finding"
)

// foam is a pad's curve; its energy is by trapezoids 0.5·0.5·0.03 + 0.5·(0.03+0.07)·0.5 +
// 0.5·(0.07+0.35)·1 N/mm to 2 mm.
var foam = []SqueezePoint{{0.5, 0.03}, {1, 0.07}, {2, 0.35}}

const foamEnergy = 0.0075 + 0.025 + 0.21

// energy is the area under a curve to a squeeze, by many small steps.
func energy(c pwl, to float64) (sum float64) {
	const steps = 200000
	for i := range steps {
		p, _ := c.at((float64(i) + 0.5) * to / steps)
		sum += p * to / steps
	}
	return sum
}

// Springs in series: 1/k = n/k1 + m/k2 for straight curves. The work done on cells and
// pads together is the sum of what each takes up (energy of a curve: its area).
func TestPadsInSeries(t *testing.T) {
	row := Row{Cells: 4, CellThicknessMM: 72, Stiffness: 0.4, Layers: []Layer{{Count: 3, ThicknessMM: 2, EMPa: 0.5}}}
	if _, got := row.stackCurve(nominal, 0).at(1); math.Abs(1/got-(4/0.4+3/0.25)) > 1e-9 {
		t.Errorf("compliance %g, want %g mm/MPa", 1/got, 4/0.4+3/0.25)
	}
	row.Layers[0].EMPa, row.Layers[0].Curve = 0, foam
	all := row.stackCurve(nominal, 0)
	const p = 0.35
	cells := 4 * p * p / 0.4 / 2
	if got, want := energy(all, all.squeeze(p)), cells+3*foamEnergy; math.Abs(got/want-1) > 1e-4 {
		t.Errorf("%g of energy, want %g N/mm", got, want)
	}
	if got := energy(newPWL(foam), 2); math.Abs(got/foamEnergy-1) > 1e-4 {
		t.Errorf("%g under the pad's curve, want %g", got, foamEnergy)
	}
}

// Between plates and rods that do not give way, cells that grow flat by g press cells and
// pads together by it: the force is where cells and pads together have given way by what
// they had and g. After creep the pads carry a part of it.
func TestPadsTakeUpGrowth(t *testing.T) {
	in := quick(fourCells())
	in.Plate.ExMPa, in.Plate.ThicknessMM, in.Plate.Creep, in.Stiffeners = 1e9, 60, nil, nil
	in.Rows[0].Squeeze, in.Rows[0].Stiffness = nil, 0.4
	in.Rows[0].Layers = []Layer{{Name: "separator", Count: 3, ThicknessMM: 4, Curve: foam, Creep: []CreepPoint{{10, 0.8}}}}
	in.Rows[0].Growth = Growth{Shape: ShapeFlat, Points: []GrowthPoint{{0, 0}, {1, 0.3}}}
	in.AssemblyCharge = 0
	for i := range in.Rods {
		in.Rods[i].AreaMM2, in.Rods[i].SettleMM = 1e7, 0
	}
	face := in.Rows[0].Face.area()
	series := func(p, left float64) float64 { return 4*p/0.4 + 3*newPWL(foam).squeeze(p/left) }
	for _, c := range []struct{ charge, hours, left float64 }{{0, 0, 1}, {1, 0, 1}, {1, 10, 0.8}} {
		st, err := solveState(in, StateSpec{Name: "s", Charge: c.charge, Hours: c.hours, TempC: 20})
		if err != nil {
			t.Fatal(err)
		}
		want := series(in.Window.Target/face, 1) + 4*0.3*c.charge
		if got := series(st.ForceN/face, c.left); math.Abs(got/want-1) > 2e-3 {
			t.Errorf("charge %g, %g h: %.1f N squeeze the stack by %.4f mm, want %.4f", c.charge, c.hours, st.ForceN, got, want)
		}
	}
}

// A pad passes up to its curve's last pressure, of which creep leaves its part, and fails
// beyond it.
func TestPadFlat(t *testing.T) {
	for _, c := range []struct {
		last, left float64
		want       finding.Verdict
	}{{0.120, 1, finding.Pass}, {0.060, 1, finding.Fail}, {0.120, 0.5, finding.Fail}} {
		in := quick(fourCells())
		in.Plate.ExMPa, in.Plate.ThicknessMM = 1e9, 60
		in.Rows[0].Layers[0].Curve = []SqueezePoint{{1, 0.02}, {1.5, c.last}}
		in.Rows[0].Layers[0].Creep = []CreepPoint{{1e-4, c.left}}
		st, err := solveState(in, StateSpec{Name: "s", Tighten: true, Charge: 0.4, TempC: 20, Hours: 1})
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, m := range st.Margins {
			if m.Part == "pad" {
				found = true
				if m.Verdict != c.want {
					t.Errorf("%.4f of %.4f MPa: %s, want %s", m.Stress, m.Allowed, m.Verdict, c.want)
				}
			}
		}
		if !found {
			t.Error("pads are not judged")
		}
	}
}
