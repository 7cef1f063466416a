package export

import (
	"fmt"
	"strings"

	"clampwright/export/page"
	"clampwright/params/number"
)

// money writes an amount with its currency.
func (j *Job) money(v float64) string {
	return strings.TrimSpace(number.Money.Text(v) + " " + j.Fixture.Prices.Currency)
}

// costFacts are the totals under the parts list; none without a price.
func (j *Job) costFacts() []page.Fact {
	c := j.Cost
	if !c.Priced {
		return nil
	}
	out := []page.Fact{{Label: "To pay", Value: j.money(c.Pay()), Note: fmt.Sprintf("%s for pieces, %s for whole sheets and lengths", j.money(c.Pieces), j.money(c.Stock))}}
	if c.Share > 0 {
		out = append(out, page.Fact{Label: "Stock used", Value: j.money(c.Share), Note: "the fixture's share of sheets and lengths, by area and length; the rest is left over"})
	}
	if len(c.Unpriced) > 0 {
		out = append(out, page.Fact{Label: "Not in these sums", Value: fmt.Sprint(len(c.Unpriced)), Note: "to be bought, without a price in the file: " + strings.Join(c.Unpriced, "; ")})
	}
	return out
}
