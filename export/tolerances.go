package export

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"

	"clampwright/assembly/clamp"
	"clampwright/assembly/stackup"
	"clampwright/export/number"
	"clampwright/export/page"
)

// stackup is the stack-up of the job's tolerances.
func (j *Job) stackup() stackup.Result {
	var t stackup.Turns
	if j.Clamp != nil && !j.noForce() {
		s := &j.Clamp.Setting
		rods := float64(len(j.Fixture.Rods.Columns) * len(j.Fixture.Rods.Levels))
		t = stackup.Turns{TargetN: s.TargetN, SnugN: math.Min(clamp.SnugForceN*rods, s.TargetN/4),
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

// outcomeVerdict passes what holds at worst, and what nearly all fixtures hold while
// nothing is lost at worst.
func outcomeVerdict(o stackup.Outcome) Verdict {
	lost := o.Allowed == nil && o.Worst.Least < 0
	if o.Holds || o.Good >= mostHold && !lost {
		return Pass
	}
	return Warn
}

// toleranceChecks are the questions of the stack-up that have a least value to
// keep, as checks. They warn, never fail: what must hold is checked on the parts.
// How the force turns out is the clamp's to judge.
func (j *Job) toleranceChecks() []Check {
	if j.Tolerances == nil {
		return nil
	}
	var out []Check
	for _, o := range j.Tolerances.Outcomes {
		if o.Allowed != nil {
			continue
		}
		c := Check{ID: slug(o.ID), Group: "tolerances", Verdict: outcomeVerdict(o), Measured: o.Worst.Least, Required: o.Need, Unit: o.Unit,
			Between: []string{"all errors at their worst together"}, Why: upperFirst(o.Asked) + "? " + upperFirst(o.Said(j.small)) + "."}
		if c.Verdict != Pass {
			c.Remedy = "what matters most is " + o.Matters + "; measure what can be measured, as the section on tolerances lists it"
		}
		out = append(out, c)
	}
	return out
}

// pageTolerances is the stack-up as the sheet tells it.
func (j *Job) pageTolerances() page.Tolerances {
	r := j.Tolerances
	out := page.Tolerances{}
	for _, o := range r.Outcomes {
		a := page.Answer{Asked: upperFirst(o.Asked) + "?", Answer: upperFirst(o.Said(j.small)) + ".", Verdict: page.Verdict(outcomeVerdict(o))}
		a.Figures = append(a.Figures, page.Fact{Label: "Worst case", Value: j.span(o.Worst, o.Unit)}, page.Fact{Label: "95 of 100", Value: j.span(o.Likely, o.Unit)})
		for _, p := range o.Parts {
			a.Figures = append(a.Figures, page.Fact{Label: upperFirst(p.Name), Value: j.quantity(p.Plus, o.Unit), Note: j.contribution(p)})
		}
		for _, w := range o.Ways {
			a.Figures = append(a.Figures, page.Fact{Label: fmt.Sprintf("Drilled by %s, \u00b1%s", w.Name, j.small(w.ErrorMM)), Value: j.small(w.LeftMM) + " left at worst", Note: fmt.Sprintf("%s %% of fixtures go together", number.Trim(100*w.Good, 1))})
		}
		out.Answers = append(out.Answers, a)
	}
	out.Sentence = fmt.Sprintf("%s. From %d fixtures drawn at random (seed %d), every error even over its range.", upperFirst(r.Matters), r.Samples, r.Seed)
	return out
}

// contribution says how a tolerance comes to its figure.
func (j *Job) contribution(p stackup.Part) string {
	share := fmt.Sprintf("%s %% of the spread", number.Trim(100*p.Share, 1))
	if p.EachMM == 0 {
		return share
	}
	return fmt.Sprintf("%d of \u00b1%s; %s", p.Pieces, j.small(p.EachMM), share)
}

// quantity writes an outcome's value: a length as the file has it, else with its
// unit.
func (j *Job) quantity(v float64, unit string) string {
	if unit == "mm" {
		return j.small(v)
	}
	return number.Trim(v, 1) + " " + unit
}

// span writes a least and a greatest value.
func (j *Job) span(s stackup.Span, unit string) string {
	return j.quantity(s.Least, unit) + " to " + j.quantity(s.Greatest, unit)
}

// upperFirst begins a sentence.
func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
