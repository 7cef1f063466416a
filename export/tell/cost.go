package tell

import (
	"fmt"
	"strings"

	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/params/number"
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
	out := []page.Fact{{Label: "To pay", Value: money(j, c.Pay()), Note: fmt.Sprintf("%s for pieces, %s for whole sheets and lengths", money(j, c.Pieces), money(j, c.Stock))}}
	if c.Share > 0 {
		out = append(out, page.Fact{Label: "Stock used", Value: money(j, c.Share), Note: "the fixture's share of sheets and lengths, by area and length; the rest is left over"})
	}
	if len(c.Unpriced) > 0 {
		out = append(out, page.Fact{Label: "Not in these sums", Value: fmt.Sprint(len(c.Unpriced)), Note: "to be bought, without a price in the file: " + strings.Join(c.Unpriced, "; ")})
	}
	return out
}
