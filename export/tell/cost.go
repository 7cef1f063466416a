package tell

import (
	"fmt"
	"strings"

	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/words"
)

// money writes an amount with its currency.
func money(j *job.Job, v float64) string {
	return strings.TrimSpace(number.Money.Text(v) + " " + j.Fixture.Prices.Currency)
}

// costFacts are the totals under the parts list; none without a price.
func costFacts(j *job.Job) []page.Fact {
	c := j.Cost
	if !c.Priced {
		return nil
	}
	out := []page.Fact{{Label: "To pay", Value: money(j, c.Pay()), Note: "whole sheets and lengths"}}
	if n := len(c.Unpriced); n > 0 {
		out[0].Note += fmt.Sprintf("; %d part%s without a price", n, words.Plural(n))
	}
	return out
}
