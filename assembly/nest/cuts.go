package nest

import (
	"fmt"
	"strings"

	"clampwright/assembly"
)

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

// Cut is one line of the cut list with the stock that its pieces lie on.
type Cut struct {
	assembly.CutLine
	Taken   []Taken
	Missing int // pieces for which no stock is listed
}

// Cuts are the lines of the cut list, each with where its pieces lie.
func (p *Plan) Cuts(a *assembly.Assembly) []Cut {
	from := p.Taken(a)
	var out []Cut
	for _, l := range a.CutList() {
		c := Cut{CutLine: l, Taken: from[l.Part.ID], Missing: l.Quantity}
		for i := range c.Taken {
			c.Missing -= c.Taken[i].Count
		}
		out = append(out, c)
	}
	return out
}

// Taken collects, for every part by its id, the stock that its pieces lie on.
func (p *Plan) Taken(a *assembly.Assembly) map[string][]Taken {
	out := map[string][]Taken{}
	add := func(part string, t Taken) {
		list := out[part]
		for i := range list {
			if list[i].ID == t.ID && list[i].Bought == t.Bought {
				list[i].add(t)
				return
			}
		}
		out[part] = append(list, t)
	}
	for _, l := range p.Sheets.Layouts {
		size := [2]float64{l.Sheet.WidthMM, l.Sheet.HeightMM}
		for _, k := range l.Placed {
			add(k.ID, Taken{ID: l.Sheet.ID, Sheet: true, Bought: l.Bought, StockMM: size, Numbers: []int{l.Number}, Count: 1,
				Worth: l.Sheet.Price * k.WidthMM * k.HeightMM / (size[0] * size[1])})
		}
	}
	bar, kerf := 0, a.Fixture.Stock.SawKerf.MM()
	for i := range p.Bars {
		g := &p.Bars[i]
		for _, c := range g.Plan.Cuts {
			bar++
			for _, k := range c.Pieces {
				add(k.ID, Taken{ID: c.Bar, Bought: c.Bought, StockMM: [2]float64{c.LengthMM}, Numbers: []int{bar}, Count: 1,
					Worth: g.Bar(c.Bar).Price * min(1, (k.LengthMM+kerf)/c.LengthMM)})
			}
		}
	}
	return out
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
