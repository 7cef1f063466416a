package job

import (
	"context"
	"slices"

	"clampwright/assembly/assure"
	"clampwright/assembly/check"
	"clampwright/assembly/clamp"
	"clampwright/params"
)

// Like takes from a job computed before what comes out alike: the plan of the wiring
// and the shapes of printed parts. A nil job gives nothing.
func Like(old *Job) Input {
	return func(j *Job) {
		if old != nil {
			j.Wiring, j.like = old.Wiring, old.Assembly
		}
	}
}

// Glance is what can be told of a fixture at once: its parts at their places, the light
// checks and the clamp on a coarse grid. It is no verdict: what takes longer is left
// out, and what it finds may be off by some percent.
func Glance(ctx context.Context, f *params.Fixture, more ...Input) (*Job, error) {
	j, err := placed(f, more...)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	r, err := clamp.Solve(coarsely(f))
	if err != nil {
		return nil, wrong(f, err)
	}
	light, err := check.JudgeLight(j.Assembly)
	if err != nil {
		return nil, wrong(f, err)
	}
	j.Clamp, j.Assurance = &r, &assure.Share{} // none is drawn
	j.Findings = named(slices.Concat(light, clampFindings(r.States), j.wiringFindings()))
	return j, wrong(f, j.nest())
}

// Mend looks for up to so many changes of the file that mend a computed job and differ
// in kind; keys and blocks that are fixed stay as they are.
func (j *Job) Mend(ctx context.Context, most int, fixed ...string) error {
	j.answers = most
	return wrong(j.Fixture, j.mend(ctx, fixed...))
}
