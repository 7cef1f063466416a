package tell

import (
	"fmt"

	"clampwright/assembly/job"
	"clampwright/assembly/stackup"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/words"
)

// Tolerances is the stack-up as the sheet tells it.
func Tolerances(j *job.Job) page.Tolerances {
	r := j.Tolerances
	out := page.Tolerances{}
	for _, o := range r.Outcomes {
		a := page.Answer{Asked: words.Upper(o.Asked) + "?", Answer: words.Upper(o.Said(j.Fixture.Style.Small)) + ".", Verdict: page.Verdict(job.OutcomeVerdict(o))}
		a.Figures = append(a.Figures, page.Fact{Label: "Worst case", Value: outcomeSpan(j, o.Worst, o.Unit)}, page.Fact{Label: "95 of 100", Value: outcomeSpan(j, o.Likely, o.Unit)})
		for _, p := range o.Parts {
			a.Figures = append(a.Figures, page.Fact{Label: words.Upper(p.Name), Value: quantity(j, p.Plus, o.Unit), Note: contribution(j, p)})
		}
		for _, w := range o.Ways {
			a.Figures = append(a.Figures, page.Fact{Label: fmt.Sprintf("Drilled by %s, \u00b1%s", w.Name, j.Fixture.Style.Small(w.ErrorMM)), Value: j.Fixture.Style.Small(w.LeftMM) + " left at worst", Note: fmt.Sprintf("%s %% of fixtures go together", number.Trim(100*w.Good, 1))})
		}
		out.Answers = append(out.Answers, a)
	}
	out.Sentence = fmt.Sprintf("%s. This is from %d fixtures drawn at random, each error spread evenly over its range.", words.Upper(r.Matters), r.Samples)
	return out
}

// contribution says how a tolerance comes to its figure.
func contribution(j *job.Job, p stackup.Part) string {
	share := fmt.Sprintf("%s %% of the spread", number.Trim(100*p.Share, 1))
	if p.EachMM == 0 {
		return share
	}
	return fmt.Sprintf("%d of \u00b1%s; %s", p.Pieces, j.Fixture.Style.Small(p.EachMM), share)
}

// quantity writes an outcome's value: a length as the file has it, else with its
// unit.
func quantity(j *job.Job, v float64, unit string) string {
	if unit == "mm" {
		return j.Fixture.Style.Small(v)
	}
	return number.Trim(v, 1) + " " + unit
}

// outcomeSpan writes a least and a greatest value.
func outcomeSpan(j *job.Job, s stackup.Span, unit string) string {
	return quantity(j, s.Least, unit) + " to " + quantity(j, s.Greatest, unit)
}
