package job

import (
	"clampwright/assembly/finding"
	"clampwright/assembly/stackup"
	"clampwright/params/words"
)

// mostHold is the share of fixtures that must hold for a question that does not
// hold with all errors at their worst together: common practice, no source.
const mostHold = 0.99

// OutcomeVerdict passes what holds at worst, and what nearly all fixtures hold while
// nothing is lost at worst.
func OutcomeVerdict(o stackup.Outcome) finding.Verdict {
	if o.Holds || o.Good >= mostHold && o.Worst.Least >= 0 {
		return finding.Pass
	}
	return finding.Warn
}

// toleranceFindings are the questions of the stack-up that have a least value to
// keep, as checks. They warn, never fail: what must hold is checked on the parts.
func (j *Job) toleranceFindings() []finding.Finding {
	if j.Tolerances == nil {
		return nil
	}
	var out []finding.Finding
	for _, o := range j.Tolerances.Outcomes {
		c := finding.Finding{ID: finding.ID(o.ID), Group: finding.GroupTolerances, Verdict: OutcomeVerdict(o), Have: o.Worst.Least, Sense: finding.AtLeast, Need: o.Need, Unit: o.Unit,
			Between: []string{"all errors at their worst together"}, Why: words.Upper(o.Asked) + "? " + words.Upper(o.Said(j.Fixture.Style.Small)) + "."}
		if c.Verdict == finding.Pass && !o.Holds {
			c.Have, c.Need, c.Unit, c.Between = 100*o.Good, 100*mostHold, "%", []string{"fixtures drawn from the tolerances"}
		}
		if c.Verdict != finding.Pass {
			c.Hint = "what matters most is " + o.Matters + "; measure what can be measured, as the section on tolerances lists it"
		}
		out = append(out, c)
	}
	return out
}
