package clamp

import (
	"fmt"
	"math"

	"clampwright/assembly/finding"
)

// specs returns the states asked for.
func (f *fixture) specs() []StateSpec { return f.in.specs() }

func (in Input) specs() []StateSpec {
	if len(in.States) > 0 {
		return in.States
	}
	return DefaultStates(in)
}

// edge returns the greatest element edge in use.
func (in Input) edge() float64 { return orElse(in.GridMM, defaultGrid(in)) }

// Solve computes all states, the setting and the warnings. Errors are *InputError (a field that
// cannot be used) or *SolveError (a state without a usable solution).
func Solve(in Input) (Result, error) {
	if err := Validate(in); err != nil {
		return Result{}, err
	}
	coarse := newSystem(in, coarseRatio*in.edge())
	know := in.knowledge()
	f := newFixture(in, in.edge(), know)
	r := Result{Target: f.asked}
	if err := f.allStates(&r); err != nil {
		return Result{}, err
	}
	var err error
	if r.Setting, err = f.setting(); err != nil {
		return Result{}, err
	}
	if r.Mesh, err = f.mesh(newFixtureOn(coarse, know)); err != nil {
		return Result{}, err
	}
	r.Stacks = f.stacks()
	r.Warnings = f.warnings(&r)
	r.Sentence = resultSentence(r)
	return r, checkResult(r)
}

// knowledge is the cell stiffness in use: the table's, or what readings told.
func (in Input) knowledge() knowledge { return knowledge{orElse(in.Stiffness, 1), 1} }

// allStates fills states and the overall verdict.
func (f *fixture) allStates(r *Result) error {
	r.Verdict = finding.Pass
	for _, st := range f.specs() {
		sol, err := f.run(st)
		if err != nil {
			return err
		}
		s := f.summarize(st, sol)
		s.Field = f.field(sol)
		r.States = append(r.States, s)
		if r.Verdict.Worse(s.Verdict) != r.Verdict {
			r.Verdict, r.Limiting = s.Verdict, s.Name+": "+s.Limiting
		}
	}
	return nil
}

// mesh estimates the error of the centre pressure as tightened from a grid twice
// as coarse. The element's error falls with the square of the edge, so a third
// of the difference is left in the finer one (Richardson). The measure is
// relative to the centre pressure, or to a tenth of the mean where the centre is
// hardly pressed.
func (f *fixture) mesh(c *fixture) (Mesh, error) {
	if err := c.tighten(); err != nil {
		return Mesh{}, err
	}
	m := Mesh{NX: len(f.s.fullXS), NY: len(f.s.m.ys), EdgeMM: f.in.edge(), Unknowns: f.s.m.n, Half: f.s.half}
	for r, row := range f.in.Rows {
		fine := f.pressureAt(r, f.tight, row.Face.centre())
		rough := c.pressureAt(r, c.tight, row.Face.centre())
		base := math.Max(fine, f.asked.TargetKPa/10)
		m.Error = math.Max(m.Error, math.Abs(fine-rough)/(coarseRatio*coarseRatio-1)/base)
	}
	return m, nil
}

// stacks sums up the rows' stacks.
func (f *fixture) stacks() []Stack {
	var out []Stack
	full := StateSpec{Charge: 1}
	for r, row := range f.in.Rows {
		c := f.curves(0)[r]
		p := f.asked.TargetKPa / 1000
		s := c.squeeze(p)
		_, slope := c.at(s)
		grown := row.stackGrowth(f.in.AssemblyCharge, full, f.know)
		aged := row.stackGrowth(f.in.AssemblyCharge, StateSpec{Charge: 1, Aged: 1}, f.know)
		out = append(out, Stack{slope, slope * row.Face.area(), s, grown, aged})
	}
	return out
}

func resultSentence(r Result) string {
	if len(r.States) == 0 {
		return ""
	}
	s := r.States[0]
	v := fmt.Sprintf("%s: %.0f N presses with %.0f kPa on the mean and %.0f kPa in the middle of the face.", s.Name, s.ForceN, s.Pressure.Mean, s.Pressure.Swell)
	if r.Limiting != "" {
		v += fmt.Sprintf(" %s by %s.", r.Verdict, r.Limiting)
	}
	return v
}

// checkResult refuses a result with a number that is none.
func checkResult(r Result) error {
	for _, s := range r.States {
		p := s.Pressure
		for _, v := range append([]float64{s.ForceN, p.Mean, p.Least, p.Greatest, p.Centre, p.Swell, s.DeflectionMM, s.ContactFraction}, s.RodForceN...) {
			if !finite(v) {
				return &SolveError{Kind: Singular, State: s.Name, Field: "rods", Detail: "the solution is not a number"}
			}
		}
	}
	return nil
}
