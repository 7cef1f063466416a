package tell

import (
	"fmt"
	"math"
	"strings"

	"clampwright/assembly/job"
	"clampwright/assembly/nest"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
	"clampwright/parts/geom"
)

// nestedSheets draws the nested sheets.
func nestedSheets(j *job.Job) []page.NestSheet {
	flats, marks := j.Assembly.Flats(), marks(j)
	var out []page.NestSheet
	for _, l := range j.Nest.Sheets.Layouts {
		s := page.NestSheet{
			Name: fmt.Sprintf("Sheet %d: %s %s", l.Number, l.Sheet.Material, j.Fixture.Style.Length(l.Sheet.Thickness.MM())), Width: l.Sheet.Width.MM(), Height: l.Sheet.Height.MM(),
			Caption: fmt.Sprintf("%s, %s, %s %% used", j.Fixture.Style.Size([3]float64{l.Sheet.Width.MM(), l.Sheet.Height.MM()}), steps.AtHand(l.Bought), number.Trim(100*l.Yield, 0)),
		}
		for _, p := range l.Placed {
			f := flats[p.ID]
			if f.Grain {
				s.Grain = grainAxis(l.Sheet.GrainAlongX)
			}
			s.Placed = append(s.Placed, page.Placed{Label: marks[p.ID], Outlines: laid(f.Profile, p)})
		}
		out = append(out, s)
	}
	return out
}

func grainAxis(alongX bool) string {
	if alongX {
		return "x"
	}
	return "y"
}

// laid are a part's outlines where it lies on its sheet.
func laid(p geom.Profile, at nest.Placement) []page.Polyline {
	if at.Turned {
		p = p.Turned(math.Pi / 2)
	}
	shift := at.At.Sub(p.Bounds().Min)
	out := polylines(p)
	for _, line := range out {
		for i := range line {
			line[i] = line[i].Add(shift)
		}
	}
	return out
}

// bars draws the bars and rods with their pieces, numbered as the cut list
// names them.
func bars(j *job.Job) []page.Bar {
	var out []page.Bar
	marks := marks(j)
	for _, g := range j.Nest.Bars {
		for _, c := range g.Plan.Cuts {
			bar := page.Bar{
				Name: fmt.Sprintf("%d: %s, %s", len(out)+1, g.Item, j.Fixture.Style.Length(c.Bar.Length.MM())), Length: c.Bar.Length.MM(),
				Kerf: j.Fixture.Stock.SawKerf.MM(), Caption: steps.AtHand(c.Bought) + "; left over " + j.Fixture.Style.Length(c.LeftMM),
			}
			for _, p := range c.Pieces {
				bar.Pieces = append(bar.Pieces, page.BarPiece{Label: marks[p.ID], Length: p.LengthMM})
			}
			out = append(out, bar)
		}
	}
	return out
}

// marks are the short names that parts are marked with, by id.
func marks(j *job.Job) map[string]string {
	out := map[string]string{}
	for _, l := range j.Assembly.PartsList() { // with what is taken off again
		out[l.Part.ID] = words.First(l.Part.Mark, l.Part.ID)
	}
	return out
}

// buy lists what is to be bought of sheets and lengths.
func buy(j *job.Job) []page.Fact {
	var out []page.Fact
	for _, p := range j.Nest.Sheets.Buy {
		out = append(out, page.Fact{Label: j.Fixture.Style.Sheet(p.Stock), Value: fmt.Sprint(p.Count), Note: sheetNote(j, p)})
	}
	for _, g := range j.Nest.Bars {
		for _, p := range g.Plan.Buy {
			note := priceNote(j, p.Stock.Price, p.Count)
			if g.Usual {
				note = "a usual length; list yours under stock"
			}
			out = append(out, page.Fact{Label: j.Fixture.Style.Bar(p.Stock), Value: fmt.Sprint(p.Count), Note: note})
		}
	}
	return out
}

// sheetNote is the price of a sheet, or what to order instead of a whole one.
func sheetNote(j *job.Job, p nest.Purchase[params.SheetStock]) string {
	if note := priceNote(j, p.Stock.Price, p.Count); note != "" {
		return note
	}
	var cut []string
	for i := range j.Nest.Sheets.Layouts {
		if l := &j.Nest.Sheets.Layouts[i]; l.Bought && l.Sheet.ID == p.Stock.ID {
			w, h := l.Least(j.Fixture.Stock.Margin.MM())
			cut = append(cut, j.Fixture.Style.Size([3]float64{w, h}))
		}
	}
	note := "or ordered cut to at least " + strings.Join(cut, " and ")
	if p.Stock.Usual {
		note = "a usual size; list yours under stock, " + note
	}
	return note
}

func priceNote(j *job.Job, each float64, count int) string {
	if each == 0 {
		return ""
	}
	return strings.TrimSpace(fmt.Sprintf("%s each, %s %s", number.Money.Text(each), number.Money.Text(each*float64(count)), j.Fixture.Prices.Currency))
}
