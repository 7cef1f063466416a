package nest

import (
	"fmt"
	"slices"

	"clampwright/assembly"
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
)

// Nesting is how all that is cut from sheet, bar and rod lies on the stock.
type Nesting struct {
	Sheets    SheetPlan
	Bars      []BarGroup
	Cuts      []Cut // the cut list: a line for every part, in the order placed
	Machining Machining
}

// BarGroup is one kind of length: all angles of a section, all rods of a thread.
type BarGroup struct {
	Item  string
	Plan  BarPlan
	Usual bool // the file lists none: the trade's usual lengths
}

// Of packs everything that is cut from sheet, bar and rod.
func Of(a *assembly.Assembly) (plan Nesting, err error) {
	s := &a.Fixture.Stock
	job := SheetJobOf(a.Fixture)
	pieces, shapes := map[string][]Piece{}, map[string]*shape{}
	for _, l := range a.PartsList() {
		p := l.Part
		c := Cut{Part: p, Quantity: l.Quantity, Missing: l.Quantity}
		if p.Joined {
			continue
		}
		switch p.Make {
		case parts.MakeSheet:
			item, err := itemOf(*p, l.Quantity)
			if err != nil {
				return Nesting{}, err
			}
			item.shape, item.byHand = shapeOf(a.Fixture, p), byHand(a.Fixture, p)
			c.Sheet, c.Item, c.SizeMM = true, p.Material, [2]float64{item.WidthMM, item.HeightMM}
			job.Items = append(job.Items, item)
		case parts.MakeBar, parts.MakeRod:
			c.Item, c.SizeMM[0] = lengthItem(a.Fixture, p), p.SizeMM[0]
			if len(pieces[c.Item]) == 0 {
				plan.Bars = append(plan.Bars, BarGroup{Item: c.Item})
			}
			pieces[c.Item] = append(pieces[c.Item], Piece{ID: p.ID, LengthMM: p.SizeMM[0], Quantity: l.Quantity})
			shapes[p.ID] = shapeOf(a.Fixture, p)
		default:
			continue
		}
		plan.Cuts = append(plan.Cuts, c)
	}
	if plan.Sheets, err = PackSheets(job); err != nil {
		return Nesting{}, fmt.Errorf("sheets: %w", err)
	}
	if plan.Machining, err = machine(a, plan.Sheets); err != nil {
		return Nesting{}, fmt.Errorf("machining: %w", err)
	}
	for i := range plan.Bars {
		g, job := &plan.Bars[i], BarJob{Pieces: pieces[plan.Bars[i].Item], KerfMM: s.SawKerf.MM(), shapes: shapes}
		job.Bars, g.Usual = lengthsOf(a.Fixture, g.Item)
		if g.Plan, err = PackBars(job); err != nil {
			return Nesting{}, fmt.Errorf("lengths of %s: %w", g.Item, err)
		}
	}
	plan.take(s.SawKerf.MM())
	return plan, nil
}

// SheetJobOf is what sheets there are and how parts lie on them, without parts.
func SheetJobOf(f *params.Fixture) SheetJob {
	s := &f.Stock
	_, tool := f.Machine()
	return SheetJob{Sheets: s.Sheets, GapMM: s.PartGap.MM(), ToolMM: tool, MarginMM: s.Margin.MM()}
}

// lengthItem is the stock that a part sawn to length is cut from.
func lengthItem(f *params.Fixture, p *parts.Part) string {
	if p.Kind == parts.KindRod {
		return f.Rods.Thread.Name
	}
	return p.Stock
}

// lengthsOf are the lengths of an item: those listed, or, for an item of which the
// file lists none, the lengths that flat bar and tube are sold in (common
// practice, no source).
func lengthsOf(f *params.Fixture, item string) (out []params.LengthStock, usual bool) {
	for _, l := range slices.Concat(f.Stock.Angles, f.Stock.Rods, f.Stock.Bars) {
		if l.Item == item {
			out, usual = append(out, l), usual || l.Usual
		}
	}
	if len(out) > 0 {
		return out, usual
	}
	lengths := []unit.Length{500, 1000, 2000}
	if f.Style.Unit == unit.Inch {
		lengths = []unit.Length{12 * unit.MMPerInch, 36 * unit.MMPerInch, 72 * unit.MMPerInch}
	}
	for i, l := range lengths {
		out = append(out, params.LengthStock{ID: fmt.Sprintf("U%d", i+1), Item: item, Length: l, Usual: true})
	}
	return out, true
}
