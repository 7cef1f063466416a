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
	if j.Clamp != nil {
		s := j.Clamp.Setting
		rods := float64(len(j.Fixture.Rods.Columns) * len(j.Fixture.Rods.Levels))
		t = stackup.Turns{TargetN: s.TargetN, SnugN: math.Min(clamp.SnugForceN*rods, s.TargetN/4), Turns: (s.Turns.Least + s.Turns.Greatest) / 2,
			BandN: [2]float64{s.ForceTurnsN.Least, s.ForceTurnsN.Greatest}}
	}
	return stackup.Study(j.Fixture, t)
}

// pageTolerances is the stack-up as the sheet tells it. It warns, never fails:
// what must hold is among the checks.
func (j *Job) pageTolerances() page.Tolerances {
	r := j.stackup()
	out := page.Tolerances{}
	for _, o := range r.Outcomes {
		a := page.Answer{Asked: upperFirst(o.Asked) + "?", Answer: upperFirst(o.Answer) + ".", Verdict: page.Pass}
		if !o.Holds {
			a.Verdict = page.Warn
		}
		span := func(s stackup.Span) string {
			return fmt.Sprintf("%s to %s %s", number.Trim(s.Least, 2), number.Trim(s.Greatest, 2), o.Unit)
		}
		a.Figures = append(a.Figures, page.Fact{Label: "Worst case", Value: span(o.Worst)}, page.Fact{Label: "95 of 100", Value: span(o.Likely)})
		for _, p := range o.Parts {
			if p.Share > 0 {
				a.Figures = append(a.Figures, page.Fact{Label: upperFirst(p.Name), Value: fmt.Sprintf("%s %s", number.Trim(p.Plus, 2), o.Unit), Note: fmt.Sprintf("%.0f %% of the spread", 100*p.Share)})
			}
		}
		out.Answers = append(out.Answers, a)
	}
	out.Sentence = fmt.Sprintf("%s. From %d fixtures drawn at random (seed %d), every error even over its range.", upperFirst(r.Matters), r.Samples, r.Seed)
	return out
}

// upperFirst begins a sentence.
func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
