package tell

import (
	"fmt"
	"math"
	"strings"

	"clampwright/assembly/job"
	"clampwright/assembly/nest"
	"clampwright/export/page"
	"clampwright/export/steps"
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
		if len(l.Sheet.Holes) > 0 {
			s.Caption += "; an old piece: its lower left corner is where its holes are measured from"
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
			if len(c.Bar.Holes) > 0 {
				bar.Caption += "; an old piece: the first part begins " + j.Fixture.Style.Length(c.Pieces[0].FromMM) + " from its left end, so that its holes serve or do no harm"
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
	for _, b := range j.Buying {
		out = append(out, page.Fact{Label: b.Item, Value: fmt.Sprint(b.Count), Note: buyNote(j, b)})
	}
	return out
}

// buyNote is the price, or what to order instead of a whole sheet.
func buyNote(j *job.Job, b job.Buying) string {
	switch {
	case b.CutMM == nil && b.Usual:
		return "a usual length; list yours under stock"
	case b.Each > 0:
		return fmt.Sprintf("%s each, %s", number.Money.Text(b.Each), money(j, b.Each*float64(b.Count)))
	case b.CutMM == nil:
		return ""
	}
	var cut []string
	for _, mm := range b.CutMM {
		cut = append(cut, j.Fixture.Style.Size([3]float64{mm[0], mm[1]}))
	}
	note := "or ordered cut to at least " + strings.Join(cut, " and ")
	if b.Usual {
		note = "a usual size; list yours under stock, " + note
	}
	return note
}
