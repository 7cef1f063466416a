package export

import (
	"fmt"
	"strings"

	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/parts"
)

// Cost is what the fixture costs, in the currency of the prices: only what has
// a price in the file counts, Unpriced names the rest of what is to be bought.
type Cost struct {
	Currency string
	Pieces   float64  // pieces bought by number
	Stock    float64  // whole sheets and lengths to be bought
	Share    float64  // the part of all stock used, bought or at hand, by length or area
	Unpriced []string // to be bought, without a price
	Priced   bool     // something has a price
}

// Pay is what is to be paid: bought pieces and whole sheets and lengths.
func (c Cost) Pay() float64 { return c.Pieces + c.Stock }

// cost adds up the prices of the file.
func (j *Job) cost() Cost {
	c := Cost{Currency: j.Fixture.Prices.Currency, Unpriced: []string{}}
	for _, l := range j.bill() {
		each, ok := j.price(l.Part)
		switch {
		case ok:
			c.Priced = true
			c.Pieces += each * float64(l.Pieces)
		case l.Part.Make == parts.MakeBuy:
			c.Unpriced = append(c.Unpriced, l.PieceName())
		}
	}
	for _, p := range j.Nest.Sheets.Buy {
		c.buy(j.sheetWords(p.Stock), p.Count, p.Stock.Price)
	}
	for _, g := range j.Nest.Bars {
		for _, p := range g.Plan.Buy {
			c.buy(j.lengthWords(p.Stock), p.Count, p.Stock.Price)
		}
	}
	for _, cut := range j.Nest.Cuts {
		c.Share += cut.Worth()
	}
	c.Priced = c.Priced || c.Share > 0
	return c
}

// buy adds whole sheets or lengths.
func (c *Cost) buy(what string, count int, each float64) {
	if each == 0 {
		c.Unpriced = append(c.Unpriced, what)
		return
	}
	c.Priced = true
	c.Stock += each * float64(count)
}

// money writes an amount with its currency.
func (j *Job) money(v float64) string {
	return strings.TrimSpace(number.Money.Text(v) + " " + j.Fixture.Prices.Currency)
}

// costFacts are the totals under the parts list; none without a price.
func (j *Job) costFacts() []page.Fact {
	c := j.cost()
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

// costJSON is the cost in the report.
type costJSON struct {
	Currency string       `json:"currency,omitempty"`
	Pieces   number.Value `json:"pieces"`
	Stock    number.Value `json:"stock_whole"`
	Share    number.Value `json:"stock_share"`
	Pay      number.Value `json:"to_pay"`
	Unpriced []string     `json:"unpriced"`
}

func (j *Job) costReport() *costJSON {
	c := j.cost()
	if !c.Priced {
		return nil
	}
	m := number.Money
	return &costJSON{c.Currency, m.Of(c.Pieces), m.Of(c.Stock), m.Of(c.Share), m.Of(c.Pay()), c.Unpriced}
}
