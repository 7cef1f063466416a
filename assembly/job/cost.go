package job

import (
	"strings"

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
	for _, l := range j.Assembly.Bill() {
		each, ok := j.Price(l.Part)
		switch {
		case ok:
			c.Priced = true
			c.Pieces += each * float64(l.Pieces)
		case l.Part.Make == parts.MakeBuy:
			c.Unpriced = append(c.Unpriced, l.PieceName())
		}
	}
	for _, p := range j.Nest.Sheets.Buy {
		c.buy(j.Fixture.Style.Sheet(p.Stock), p.Count, p.Stock.Price)
	}
	for _, g := range j.Nest.Bars {
		for _, p := range g.Plan.Buy {
			c.buy(j.Fixture.Style.Bar(p.Stock), p.Count, p.Stock.Price)
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

// Price is the price of a bought part, by its designation.
func (j *Job) Price(p *parts.Part) (float64, bool) {
	for _, e := range j.Fixture.Prices.Each {
		if strings.EqualFold(e.Item, p.Stock) || strings.EqualFold(e.Item, p.Name) {
			return e.Each, true
		}
	}
	return 0, false
}
