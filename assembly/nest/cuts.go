package nest

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/parts"
)

// Cut is a part that is cut from stock, and where its pieces lie.
type Cut struct {
	Part     *parts.Part
	Quantity int
	// SizeMM is width and height for sheet, length and 0 for bars and rods.
	SizeMM  [2]float64
	Item    string // section, thread or bar that it is sawn from; of sheet, the material
	Sheet   bool
	Taken   []Taken
	Missing int // pieces that find no stock
}

// Worth is the share of the price of the stock, by area or length.
func (c Cut) Worth() (sum float64) {
	for _, t := range c.Taken {
		sum += t.Worth
	}
	return sum
}

// Worth is the share of the price of the stock that a part takes; 0 of what is not
// cut.
func (p *Nesting) Worth(part string) float64 {
	for _, c := range p.Cuts {
		if c.Part.ID == part {
			return c.Worth()
		}
	}
	return 0
}

// Taken is the stock that some pieces of a part are cut from.
type Taken struct {
	ID      string // of the stock
	Sheet   bool   // else a bar, an angle or a rod
	Bought  bool
	StockMM [2]float64 // length, 0 for bars
	Numbers []int      // of the sheets or lengths, as the pictures number them
	Count   int        // of the pieces
	Worth   float64    // the pieces' share of the stock's price, by length or area; 0 without a price
}

// take fills in where the pieces of the cut list lie.
func (p *Nesting) take(kerf float64) {
	for _, l := range p.Sheets.Layouts {
		size := [2]float64{l.Sheet.Width.MM(), l.Sheet.Height.MM()}
		for _, k := range l.Placed {
			p.add(k.ID, Taken{ID: l.Sheet.ID, Sheet: true, Bought: l.Bought, StockMM: size, Numbers: []int{l.Number}, Count: 1,
				Worth: l.Sheet.Price * k.WidthMM * k.HeightMM / areaOf(l.Sheet)})
		}
	}
	bar := 0
	for _, g := range p.Bars {
		for _, c := range g.Plan.Cuts {
			bar++
			long := c.Bar.Length.MM()
			for _, k := range c.Pieces {
				p.add(k.ID, Taken{ID: c.Bar.ID, Bought: c.Bought, StockMM: [2]float64{long}, Numbers: []int{bar}, Count: 1,
					Worth: c.Bar.Price * min(1, (k.LengthMM+kerf)/long)})
			}
		}
	}
}

// add counts one piece of a part; those from one kind of stock stand together.
func (p *Nesting) add(part string, t Taken) {
	c := &p.Cuts[slices.IndexFunc(p.Cuts, func(c Cut) bool { return c.Part.ID == part })]
	c.Missing--
	if i := slices.IndexFunc(c.Taken, func(o Taken) bool { return o.ID == t.ID }); i >= 0 {
		c.Taken[i].add(t)
		return
	}
	c.Taken = append(c.Taken, t)
}

// add adds the pieces of another sheet or bar of the same stock.
func (t *Taken) add(o Taken) {
	t.Count += o.Count
	t.Worth += o.Worth
	for _, n := range o.Numbers {
		if k := len(t.Numbers); t.Numbers[k-1] != n {
			t.Numbers = append(t.Numbers, n)
		}
	}
}

// On names the sheets or lengths as the pictures number them: "sheet 1", "lengths
// 2 and 3"; empty for no stock.
func (t Taken) On() string {
	switch {
	case len(t.Numbers) == 0:
		return ""
	case t.Sheet:
		return "sheet" + numbers(t.Numbers)
	}
	return "length" + numbers(t.Numbers)
}

// numbers writes " 1", "s 1 and 2", "s 1 to 4" for a list that rises.
func numbers(n []int) string {
	last := n[len(n)-1]
	switch {
	case len(n) == 1:
		return fmt.Sprintf(" %d", n[0])
	case last-n[0] == len(n)-1 && len(n) > 2:
		return fmt.Sprintf("s %d to %d", n[0], last)
	}
	var out []string
	for _, v := range n[:len(n)-1] {
		out = append(out, fmt.Sprint(v))
	}
	return "s " + strings.Join(out, ", ") + fmt.Sprintf(" and %d", last)
}
