package job

import (
	"math"
	"slices"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/params"
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

// Known is what is to be paid, to the hundredth; nil where nothing has a price.
func (c Cost) Known() *float64 {
	if !c.Priced {
		return nil
	}
	pay := math.Round(100*c.Pay()) / 100
	return &pay
}

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
	for _, b := range j.Buying {
		if b.Each == 0 {
			c.Unpriced = append(c.Unpriced, b.Item)
		}
		c.Priced = c.Priced || b.Each != 0
		c.Stock += b.Each * float64(b.Count)
	}
	for _, cut := range j.Nest.Cuts {
		c.Share += cut.Worth()
	}
	c.Priced = c.Priced || c.Share > 0
	return c
}

// Buying is a kind of sheet or length of which whole ones are to be bought.
type Buying struct {
	Item  string
	Count int
	Each  float64 // price; 0 without one
	Usual bool    // not of the file: a size that the trade sells
	// CutMM are the least sizes that would do instead of whole sheets; nil of lengths.
	CutMM [][2]float64
}

// buying lists sheets and then lengths to be bought.
func (j *Job) buying() []Buying {
	var out []Buying
	for _, p := range j.Nest.Sheets.Buy {
		b := Buying{Item: j.Fixture.Style.Sheet(p.Stock), Count: p.Count, Each: p.Stock.Price, Usual: p.Stock.Usual}
		for i := range j.Nest.Sheets.Layouts {
			if l := &j.Nest.Sheets.Layouts[i]; l.Bought && l.Sheet.ID == p.Stock.ID {
				w, h := l.Least(j.Fixture.Stock.Margin.MM())
				b.CutMM = append(b.CutMM, [2]float64{w, h})
			}
		}
		out = append(out, b)
	}
	for _, g := range j.Nest.Bars {
		for _, p := range g.Plan.Buy {
			out = append(out, Buying{Item: j.Fixture.Style.Bar(p.Stock), Count: p.Count, Each: p.Stock.Price, Usual: g.Usual})
		}
	}
	return out
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

// SpringsPrice is what the springs cost that are fitted, and how many there are; by how much
// more is to be paid with the springs that mend a fixture without; or of one that passes without
// what springs would cost.
func SpringsPrice(j *Job) (price float64, pieces int, priced bool) {
	for _, l := range j.Assembly.Bill() {
		if l.Part.Kind == parts.KindSpring {
			each, ok := j.Price(l.Part)
			price, pieces, priced = price+each*float64(l.Pieces), pieces+l.Pieces, ok
		}
	}
	if f, err := j.Fixture.Set(params.Change{Path: "springs", Value: "{}"}); err == nil && j.Fixture.Spring == nil && j.Verdict() != finding.Fail && f.Spring != nil {
		if t, err := j.Other(f); err == nil {
			return SpringsPrice(t)
		}
	}
	if j.Fixture.Spring != nil || !j.Cost.Priced {
		return price, pieces, priced
	}
	for _, p := range j.Mended.Patches {
		if slices.ContainsFunc(p.Changes(), func(c params.Change) bool { return c.Path == "springs" }) {
			return p.Burden.Price - j.Cost.Pay(), 0, p.Burden.Price > 0
		}
	}
	return 0, 0, false
}
