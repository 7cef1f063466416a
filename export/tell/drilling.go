package tell

import (
	"fmt"
	"math"

	"clampwright/assembly/job"
	"clampwright/assembly/work"
	"clampwright/export/drawing"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/export/views"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed"
)

// polylines are a flat's edge and openings as chains of points.
func polylines(p geom.Profile) []page.Polyline {
	var out []page.Polyline
	for _, line := range views.Outlines(p) {
		out = append(out, line)
	}
	return out
}

// Drilling are the parts that are drilled, with their holes.
func Drilling(j *job.Job) []page.DrillPart {
	var out []page.DrillPart
	for _, l := range j.Assembly.PartsList() {
		if l.Part.Flat != nil && len(j.Nest.Machining.ByDrill(l.Part)) > 0 {
			out = append(out, *holes(j, l.Part))
		}
	}
	return out
}

// drilled gives every step that drills its part with the holes.
func drilled(j *job.Job, phases []page.Phase) {
	for i, p := range j.Work {
		for k, s := range p.Steps {
			if d, ok := s.Facts.(*work.Drilling); ok {
				phases[i].Steps[k].Holes = holes(j, d.Line.Part)
			}
		}
	}
}

// holes is a part with those of its holes that are drilled.
func holes(j *job.Job, p *parts.Part) *page.DrillPart {
	box := p.Flat.Profile.Outer.Bounds()
	d := page.DrillPart{Part: steps.PartName(p), Datum: datumWords(p), Outlines: polylines(p.Flat.Profile), Origin: box.Min}
	across := func(y float64) string { return j.Fixture.Style.Place(math.Abs(y - d.Origin.Y)) }
	if a := drawing.AngleOf(j.Fixture, p); a != nil {
		d.Origin, d.Across = a.Datum(box), "from heel"
		d.Heel = page.Polyline{d.Origin, {X: box.Max.X, Y: d.Origin.Y}}
	}
	for _, h := range j.Nest.Machining.ByDrill(p) {
		d.Holes = append(d.Holes, page.Hole{ID: h.ID, At: h.C, Diameter: h.DiaMM, X: j.Fixture.Style.Place(h.C.X - box.Min.X), Y: across(h.C.Y)})
	}
	for _, s := range parts.Slots(p.Flat) {
		if j.Nest.Machining.On(p) != params.HandTools {
			break
		}
		for i, c := range s.Ends {
			d.Holes = append(d.Holes, page.Hole{ID: s.ID + string(rune('a'+i)), At: c, Diameter: s.DiaMM,
				X: j.Fixture.Style.Place(c.X - box.Min.X), Y: across(c.Y), SlotEnd: 2*i - 1})
		}
	}
	return &d
}

func datumWords(p *parts.Part) string {
	switch p.Kind {
	case parts.KindLink:
		return "the left end and the lower edge"
	case parts.KindStiffener:
		return "the left end and the heel, seen from outside"
	}
	return "the lower left corner, seen from outside"
}

// Stock is what the parts are cut from.
func Stock(j *job.Job) page.Stock {
	return page.Stock{Sheets: nestedSheets(j), Bars: bars(j), Buy: buy(j), Note: Unplaced(j)}
}

// Prints is how the printed parts are printed, a row each.
func Prints(j *job.Job) [][]string {
	out := [][]string{{"Part", "Pieces", "How"}}
	for _, l := range j.Assembly.PartsList() {
		if how := printed.Advice(l.Part); how != "" {
			out = append(out, []string{steps.PartName(l.Part), fmt.Sprint(l.Quantity), j.Fixture.Style.SayBoth(how)})
		}
	}
	return out
}
