package job

import (
	"context"
	"slices"

	"clampwright/assembly/check"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/inputs"
	"clampwright/assembly/remedy"
	"clampwright/params"
)

// remedies looks for a remedy of every finding that does not pass.
func (j *Job) remedies(ctx context.Context) error {
	assured := slices.ContainsFunc(j.Findings, func(f finding.Finding) bool { return f.ID == clamp.Share && f.Verdict == finding.Pass })
	b := remedy.Bench{Fixture: j.Fixture, Advice: j.Clamp.Advice, Place: func(f *params.Fixture) (remedy.Trial, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		t, err := placed(f)
		return trial{t, assured}, err
	}}
	return b.Find(j.Findings)
}

// trial is a job that is judged to see whether a change of the file is a remedy.
type trial struct {
	*Job
	assured bool // enough fixtures stay within their bands so far
}

// Rule judges as its finding was.
func (t trial) Rule(f finding.Finding) ([]finding.Finding, error) {
	switch f.Group {
	case finding.GroupClamp:
		return t.coarse()
	case finding.GroupWiring:
		return t.wiringFindings(), nil
	}
	return check.JudgeRule(t.Assembly, f)
}

// coarse is the clamp on the grid that searches use.
func (t trial) coarse() ([]finding.Finding, error) {
	in := inputs.Clamp(t.Fixture)
	states, err := clamp.ScreenFittings(in, [][]clamp.Rod{in.Rods}, nil)
	if err != nil {
		return nil, err
	}
	return clampFindings(states[0]), nil
}

// Sift runs the light checks, and the clamp on a coarse grid.
func (t trial) Sift() ([]finding.Finding, error) {
	light, err := check.JudgeLight(t.Assembly)
	if err != nil {
		return nil, err
	}
	pressed, err := t.coarse()
	return append(append(light, pressed...), t.wiringFindings()...), err
}

// Checks runs every check, adds up the tolerances and judges the wiring.
func (t trial) Checks() ([]finding.Finding, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	t.sumUp()
	return t.Findings, nil
}

// Press solves every state of the clamp as it is reported, and draws the share only
// where it could come to miss what it reached.
func (t trial) Press() ([]finding.Finding, error) {
	states, err := clamp.SolveStates(inputs.Clamp(t.Fixture), nil)
	if err == nil && t.assured {
		err = t.assure()
	}
	return append(clampFindings(states), t.assurance()...), err
}
