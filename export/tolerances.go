package export

import (
	"fmt"

	"clampwright/assembly/job"
	"clampwright/assembly/stackup"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/words"
)

// pageTolerances is the stack-up as the sheet tells it.
func (j *Job) pageTolerances() page.Tolerances {
	r := j.Tolerances
	out := page.Tolerances{}
	for _, o := range r.Outcomes {
		a := page.Answer{Asked: words.Upper(o.Asked) + "?", Answer: words.Upper(o.Said(j.Fixture.Style.Small)) + ".", Verdict: page.Verdict(job.OutcomeVerdict(o))}
		a.Figures = append(a.Figures, page.Fact{Label: "Worst case", Value: j.span(o.Worst, o.Unit)}, page.Fact{Label: "95 of 100", Value: j.span(o.Likely, o.Unit)})
		for _, p := range o.Parts {
			a.Figures = append(a.Figures, page.Fact{Label: words.Upper(p.Name), Value: j.quantity(p.Plus, o.Unit), Note: j.contribution(p)})
		}
		for _, w := range o.Ways {
			a.Figures = append(a.Figures, page.Fact{Label: fmt.Sprintf("Drilled by %s, \u00b1%s", w.Name, j.Fixture.Style.Small(w.ErrorMM)), Value: j.Fixture.Style.Small(w.LeftMM) + " left at worst", Note: fmt.Sprintf("%s %% of fixtures go together", number.Trim(100*w.Good, 1))})
		}
		out.Answers = append(out.Answers, a)
	}
	out.Sentence = fmt.Sprintf("%s. From %d fixtures drawn at random (seed %d), every error even over its range.", words.Upper(r.Matters), r.Samples, r.Seed)
	return out
}

// contribution says how a tolerance comes to its figure.
func (j *Job) contribution(p stackup.Part) string {
	share := fmt.Sprintf("%s %% of the spread", number.Trim(100*p.Share, 1))
	if p.EachMM == 0 {
		return share
	}
	return fmt.Sprintf("%d of \u00b1%s; %s", p.Pieces, j.Fixture.Style.Small(p.EachMM), share)
}

// quantity writes an outcome's value: a length as the file has it, else with its
// unit.
func (j *Job) quantity(v float64, unit string) string {
	if unit == "mm" {
		return j.Fixture.Style.Small(v)
	}
	return number.Trim(v, 1) + " " + unit
}

// span writes a least and a greatest value.
func (j *Job) span(s stackup.Span, unit string) string {
	return j.quantity(s.Least, unit) + " to " + j.quantity(s.Greatest, unit)
}
