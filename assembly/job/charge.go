package job

import (
	"fmt"

	"clampwright/assembly/clamp"
	"clampwright/assembly/inputs"
	"clampwright/params"
)

// ChargeCurve is the total force against state of charge with the nuts left
// where tightening put them, nominal.
type ChargeCurve struct {
	Charge, ForceN []float64
	AgedN          []float64 // at end of life
}

// chargeSteps is the number of intervals the curve is computed at.
const chargeSteps = 10

// charge computes the curve on a coarse grid.
func (j *Job) charge() error {
	in := coarsely(j.Fixture)
	var c ChargeCurve
	for i := 0; i <= chargeSteps; i++ {
		c.Charge = append(c.Charge, float64(i)/chargeSteps)
	}
	var err error
	if c.ForceN, err = forces(in, c.Charge, 0); err != nil {
		return err
	}
	if c.AgedN, err = forces(in, c.Charge, 1); err != nil {
		return err
	}
	j.Curve = c
	return nil
}

// coarsely is the clamp on a grid that gives forces and the middle of the face, and
// little time taken.
func coarsely(f *params.Fixture) clamp.Input {
	in := inputs.Clamp(f)
	in.GridMM = max(f.Cell.Width.MM(), f.Cell.Height.MM()) / 10
	return in
}

// forces solves tightening and then every charge.
func forces(in clamp.Input, charge []float64, aged float64) ([]float64, error) {
	in.States = []clamp.StateSpec{{Name: "as tightened", Tighten: true, Charge: in.AssemblyCharge, TempC: in.Climate.AssemblyC}}
	for _, c := range charge {
		in.States = append(in.States, clamp.StateSpec{Name: fmt.Sprintf("charge %.2f", c), Charge: c, Aged: aged, TempC: in.Climate.AssemblyC})
	}
	states, err := clamp.SolveStates(in, nil, nil)
	if err != nil {
		return nil, err
	}
	var out []float64
	for _, s := range states[1:] {
		out = append(out, s.ForceN)
	}
	return out, nil
}
