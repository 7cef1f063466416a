package job

import (
	"math"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/inputs"
	"clampwright/assembly/stackup"
	"clampwright/params"
	"clampwright/params/words"
)

// stackup is the stack-up of the job's tolerances.
func (j *Job) stackup() stackup.Result {
	var t stackup.Turns
	if j.Clamp != nil && j.Fixture.Cell.Compression != params.CompressNone {
		s := &j.Clamp.Setting
		t = stackup.Turns{TargetN: s.TargetN, SnugN: inputs.Clamp(j.Fixture).SnugTotalN(s.TargetN),
			BandN: [2]float64{s.ForceTurnsN.Least, s.ForceTurnsN.Greatest}}
		t.PerTurnN = perTurn(j.Clamp, t.SnugN, j.Fixture.Rods.Thread.Pitch.MM())
	}
	return stackup.Study(j.Fixture, t)
}

// perTurn is what one turn of every nut adds near the target, N in all: the
// stacks give way as they do there, and plates, rods and springs as they did on
// the whole way from snug. What the cells took up before snug counts as theirs,
// which makes the force a little more sensitive than it is. Zero when unknown.
func perTurn(r *clamp.Result, snugN, pitchMM float64) float64 {
	s := &r.Setting
	stiff, squeeze := 0.0, 0.0
	for _, k := range r.Stacks {
		stiff += k.StiffnessNPerMM
		squeeze += k.SqueezeMM / float64(len(r.Stacks))
	}
	advance := (s.AdvanceMM.Least + s.AdvanceMM.Greatest) / 2
	if stiff <= 0 || s.TargetN <= snugN || advance <= 0 {
		return 0
	}
	rest := math.Max(advance-squeeze, 0) / (s.TargetN - snugN) // mm/N
	return pitchMM / (1/stiff + rest)
}

// mostHold is the share of fixtures that must hold for a question that does not
// hold with all errors at their worst together: common practice, no source.
const mostHold = 0.99

// OutcomeVerdict passes what holds at worst, and what nearly all fixtures hold while
// nothing is lost at worst.
func OutcomeVerdict(o stackup.Outcome) finding.Verdict {
	lost := o.Allowed == nil && o.Worst.Least < 0
	if o.Holds || o.Good >= mostHold && !lost {
		return finding.Pass
	}
	return finding.Warn
}

// toleranceFindings are the questions of the stack-up that have a least value to
// keep, as checks. They warn, never fail: what must hold is checked on the parts.
// How the force turns out is the clamp's to judge.
func (j *Job) toleranceFindings() []finding.Finding {
	if j.Tolerances == nil {
		return nil
	}
	var out []finding.Finding
	for _, o := range j.Tolerances.Outcomes {
		if o.Allowed != nil {
			continue
		}
		c := finding.Finding{ID: finding.ID(o.ID), Group: finding.GroupTolerances, Verdict: OutcomeVerdict(o), Have: o.Worst.Least, Sense: finding.AtLeast, Need: o.Need, Unit: o.Unit,
			Between: []string{"all errors at their worst together"}, Why: words.Upper(o.Asked) + "? " + words.Upper(o.Said(j.Fixture.Style.Small)) + "."}
		if c.Verdict != finding.Pass {
			c.Hint = "what matters most is " + o.Matters + "; measure what can be measured, as the section on tolerances lists it"
		}
		out = append(out, c)
	}
	return out
}
