package nest

import (
	"fmt"
	"slices"

	"clampwright/assembly"
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
)

// Plan is how all that is cut from sheet, bar and rod lies on the stock.
type Plan struct {
	Sheets SheetPlan
	Bars   []BarGroup
}

// BarGroup is one kind of length: all angles of a section, all rods of a thread.
type BarGroup struct {
	Item  string
	Plan  BarPlan
	Stock []Bar // what it was packed on
	Usual bool  // the file lists none: the trade's usual lengths
}

// Bar is a stock length of the group.
func (g *BarGroup) Bar(id string) Bar {
	for _, b := range g.Stock {
		if b.ID == id {
			return b
		}
	}
	return Bar{ID: id}
}

// Of packs everything that is cut from sheet, bar and rod.
func Of(a *assembly.Assembly) (plan Plan, err error) {
	s := &a.Fixture.Stock
	job := SheetJob{Sheets: SheetsOf(*s), GapMM: s.PartGap.MM(), CutterMM: a.Fixture.Tools.Cutter.MM(), MarginMM: s.Margin.MM()}
	pieces := map[string][]Piece{}
	var items []string
	for _, l := range a.PartsList() {
		switch p := l.Part; p.Make {
		case parts.MakeSheet:
			item, err := itemOf(*p, l.Quantity)
			if err != nil {
				return Plan{}, err
			}
			job.Items = append(job.Items, item)
		case parts.MakeBar, parts.MakeRod:
			key := lengthItem(a.Fixture, p)
			if _, known := pieces[key]; !known {
				items = append(items, key)
			}
			pieces[key] = append(pieces[key], Piece{ID: p.ID, LengthMM: p.SizeMM[0], Quantity: l.Quantity})
		}
	}
	if plan.Sheets, err = PackSheets(job); err != nil {
		return Plan{}, fmt.Errorf("sheets: %w", err)
	}
	for _, item := range items {
		g := lengthsOf(a.Fixture, item)
		if g.Plan, err = PackBars(BarJob{Pieces: pieces[item], Bars: g.Stock, KerfMM: s.SawKerf.MM()}); err != nil {
			return Plan{}, fmt.Errorf("lengths of %s: %w", item, err)
		}
		plan.Bars = append(plan.Bars, g)
	}
	return plan, nil
}

// lengthItem is the stock that a part sawn to length is cut from.
func lengthItem(f *params.Fixture, p *parts.Part) string {
	switch {
	case p.Kind == parts.KindRod:
		return f.Rods.Thread.Name
	case p.Kind == parts.KindStiffener && f.Stiffener != nil:
		return f.Stiffener.Section.Name
	}
	return p.Stock
}

// lengthsOf are the lengths of an item, without a plan yet: those listed, or, for
// an item of which the file lists none, the lengths that flat bar and tube are
// sold in (common practice, no source).
func lengthsOf(f *params.Fixture, item string) BarGroup {
	s, g := &f.Stock, BarGroup{Item: item}
	for _, l := range slices.Concat(s.Angles, s.Rods, s.Bars) {
		if l.Item == item {
			g.Stock = append(g.Stock, Bar{ID: l.ID, LengthMM: l.Length.MM(), Quantity: l.Quantity, Price: l.Price})
			g.Usual = g.Usual || l.Usual
		}
	}
	if len(g.Stock) > 0 {
		return g
	}
	g.Usual = true
	usual := []float64{500, 1000, 2000}
	if f.Style.Unit == unit.Inch {
		usual = []float64{12 * 25.4, 36 * 25.4, 72 * 25.4}
	}
	for i, l := range usual {
		g.Stock = append(g.Stock, Bar{ID: fmt.Sprintf("U%d", i+1), LengthMM: l})
	}
	return g
}
