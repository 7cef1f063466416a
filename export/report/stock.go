package report

import (
	"fmt"

	"clampwright/assembly/job"
	"clampwright/export/tell"
	"clampwright/params/number"
)

// nestJSON is the nesting in the report.
type nestJSON struct {
	Sheets   []nestSheetJSON `json:"sheets"`
	Bars     []nestBarJSON   `json:"bars"`
	Buy      []buyJSON       `json:"buy"`
	Unplaced string          `json:"unplaced,omitempty"`
}

type nestSheetJSON struct {
	Sheet  string       `json:"sheet"`
	Bought bool         `json:"bought"`
	Yield  number.Value `json:"yield"`
	Parts  []string     `json:"parts"`
}

type nestBarJSON struct {
	Item     string       `json:"item"`
	Bar      string       `json:"bar"`
	LengthMM number.Value `json:"length_mm"`
	LeftMM   number.Value `json:"left_mm"`
	Pieces   []string     `json:"pieces"`
	Optimal  bool         `json:"optimal"`
}

type buyJSON struct {
	Item  string       `json:"item"`
	Count int          `json:"count"`
	Each  number.Value `json:"each"`
}

func nestingOf(j *job.Job) nestJSON {
	out := nestJSON{Sheets: []nestSheetJSON{}, Bars: []nestBarJSON{}, Buy: []buyJSON{}, Unplaced: tell.Unplaced(j)}
	for _, l := range j.Nest.Sheets.Layouts {
		s := nestSheetJSON{Sheet: fmt.Sprintf("sheet %d", l.Number), Bought: l.Bought, Yield: number.Ratio.Of(l.Yield)}
		for _, p := range l.Placed {
			s.Parts = append(s.Parts, p.ID)
		}
		out.Sheets = append(out.Sheets, s)
	}
	for _, b := range j.Buying {
		out.Buy = append(out.Buy, buyJSON{b.Item, b.Count, number.Money.Of(b.Each)})
	}
	for _, g := range j.Nest.Bars {
		for _, c := range g.Plan.Cuts {
			b := nestBarJSON{Item: g.Item, Bar: fmt.Sprintf("length %d", len(out.Bars)+1), LengthMM: number.Length.Of(c.Bar.Length.MM()), LeftMM: number.Length.Of(c.LeftMM), Optimal: g.Plan.Optimal}
			for _, p := range c.Pieces {
				b.Pieces = append(b.Pieces, p.ID)
			}
			out.Bars = append(out.Bars, b)
		}
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

func costOf(j *job.Job) *costJSON {
	c := j.Cost
	if !c.Priced {
		return nil
	}
	m := number.Money
	return &costJSON{c.Currency, m.Of(c.Pieces), m.Of(c.Stock), m.Of(c.Share), m.Of(c.Pay()), c.Unpriced}
}
