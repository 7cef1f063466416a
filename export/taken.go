package export

import (
	"fmt"
	"strings"

	"clampwright/assembly"
)

// taken is from which stock some pieces of a part are cut, as nested.
type taken struct {
	On       string // "sheet 1", "lengths 2 and 3": as the pictures number them
	Words    string // "offcut, 610 x 197 mm": the stock for a person
	Count    int
	StockMM  [2]float64 // length, 0 for bars
	Bought   bool
	Worth    float64 // these pieces' share of the stock's price, by length or area; 0 without a price
	id       string  // of the stock
	numbered []int
	what     string
}

// cut is one line of the cut list with the stock that the nesting found.
type cut struct {
	assembly.CutLine
	Taken   []taken
	Missing int // pieces for which no stock is listed
}

// cuts are the lines of the cut list, each with where its pieces lie.
func (j *Job) cuts() []cut {
	from := j.takings()
	var out []cut
	for _, l := range j.Assembly.CutList() {
		c := cut{CutLine: l, Taken: from[l.Part.ID], Missing: l.Quantity}
		for i := range c.Taken {
			c.Missing -= c.Taken[i].Count
		}
		out = append(out, c)
	}
	return out
}

// from says in words which stock a line is cut from.
func (c cut) from() string {
	var out []string
	for _, t := range c.Taken {
		words := t.On + " (" + t.Words + ")"
		if len(c.Taken) > 1 || c.Missing > 0 {
			words = fmt.Sprintf("%d from %s", t.Count, words)
		}
		out = append(out, words)
	}
	switch {
	case c.Missing == c.Quantity:
		out = append(out, "no stock listed takes it")
	case c.Missing > 0:
		out = append(out, fmt.Sprintf("no stock listed takes %d more", c.Missing))
	}
	return strings.Join(out, "; ")
}

// takings collects, for every part, the stock that its pieces were nested on.
func (j *Job) takings() map[string][]taken {
	out := map[string][]taken{}
	add := func(part string, t taken) {
		list := out[part]
		for i := range list {
			if list[i].id == t.id && list[i].Bought == t.Bought {
				list[i].count(t)
				return
			}
		}
		t.count(taken{Count: 0, numbered: t.numbered})
		out[part] = append(list, t)
	}
	for _, l := range j.Nest.Sheets.Layouts {
		size := [2]float64{l.Sheet.WidthMM, l.Sheet.HeightMM}
		words := boughtWord(l.Bought) + ", " + j.Fixture.Style.Size([3]float64{size[0], size[1]})
		for _, p := range l.Placed {
			add(p.ID, taken{id: l.Sheet.ID, Words: words, Count: 1, StockMM: size, Bought: l.Bought, numbered: []int{l.Number}, what: "sheet",
				Worth: l.Sheet.Price * p.WidthMM * p.HeightMM / (size[0] * size[1])})
		}
	}
	bar, kerf := 0, j.Fixture.Stock.SawKerf.MM()
	for i := range j.Nest.Bars {
		g := &j.Nest.Bars[i]
		for _, c := range g.Plan.Cuts {
			bar++
			words := boughtWord(c.Bought) + ", " + j.Fixture.Style.Length(c.LengthMM)
			for _, p := range c.Pieces {
				add(p.ID, taken{id: c.Bar, Words: words, Count: 1, StockMM: [2]float64{c.LengthMM}, Bought: c.Bought, numbered: []int{bar}, what: "length",
					Worth: g.Bar(c.Bar).Price * min(1, (p.LengthMM+kerf)/c.LengthMM)})
			}
		}
	}
	return out
}

// count adds the pieces of another sheet or bar of the same stock.
func (t *taken) count(o taken) {
	t.Count += o.Count
	t.Worth += o.Worth
	for _, n := range o.numbered {
		if k := len(t.numbered); k == 0 || t.numbered[k-1] != n {
			t.numbered = append(t.numbered, n)
		}
	}
	t.On = t.what + numbers(t.numbered)
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
