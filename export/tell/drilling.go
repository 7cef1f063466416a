package tell

import (
	"fmt"
	"math"
	"strings"

	"clampwright/assembly/job"
	"clampwright/assembly/work"
	"clampwright/export/drawing"
	"clampwright/export/page"
	"clampwright/export/steps"
	"clampwright/export/views"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// polylines are a flat's edge and openings as chains of points.
func polylines(p geom.Profile) []page.Polyline {
	var out []page.Polyline
	for _, line := range views.Outlines(p) {
		out = append(out, line)
	}
	return out
}

// Drilling is the table of holes of every part that is drilled.
func Drilling(j *job.Job) []page.DrillPart {
	var out []page.DrillPart
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		holes := j.Nest.Machining.ByDrill(p)
		if p.Flat == nil || len(holes) == 0 {
			continue
		}
		box := p.Flat.Profile.Outer.Bounds()
		d := page.DrillPart{
			Part: p.Name + " " + p.Mark, Quantity: fmt.Sprintf("make %d", l.Quantity), Datum: datumWords(p),
			Outlines: polylines(p.Flat.Profile), Origin: box.Min, Note: drillNote(p, l.Quantity),
		}
		across := func(y float64) string { return j.Fixture.Style.Exact(math.Abs(y - d.Origin.Y)) }
		if a := drawing.AngleOf(j.Fixture, p); a != nil {
			d.Origin, d.Across = a.Datum(box), "from heel"
			d.Heel = page.Polyline{d.Origin, {X: box.Max.X, Y: d.Origin.Y}}
		}
		for _, h := range holes {
			d.Holes = append(d.Holes, page.Hole{
				ID: h.ID, At: h.C, Diameter: h.DiaMM, X: j.Fixture.Style.Exact(h.C.X - box.Min.X), Y: across(h.C.Y),
				Pilot: pilot(j, h), Drill: j.Fixture.DrillWords(h.DiaMM), Note: h.For,
			})
		}
		for _, s := range parts.Slots(p.Flat) {
			if j.Nest.Machining.On(p) != params.HandTools {
				break
			}
			for i, c := range s.Ends {
				d.Holes = append(d.Holes, page.Hole{ID: s.ID + string(rune('a'+i)), At: c, Diameter: s.DiaMM,
					X: j.Fixture.Style.Exact(c.X - box.Min.X), Y: across(c.Y), Drill: j.Fixture.DrillWords(s.DiaMM), Note: "end of slot " + s.ID, SlotEnd: 2*i - 1})
			}
		}
		out = append(out, d)
	}
	return out
}

func datumWords(p *parts.Part) string {
	switch p.Kind {
	case parts.KindLink:
		return "the left end and the lower edge, the round hole at the left"
	case parts.KindStiffener:
		return "the left end and the heel (the outer corner), seen from outside the fixture"
	}
	return "the lower left corner, seen from outside the fixture"
}

// pilot names the drills before the last one.
func pilot(j *job.Job, h parts.Hole) string {
	mms := parts.DrillSteps(h.PilotMM, h.DiaMM)
	var out []string
	for _, mm := range mms[:len(mms)-1] {
		out = append(out, j.Fixture.DrillWords(mm))
	}
	return strings.Join(out, ", then ")
}

func drillNote(p *parts.Part, quantity int) string {
	if p.Kind == parts.KindLink {
		return "Either face. " + drawing.HowToDrill(parts.Slots(p.Flat))
	}
	if p.Kind == parts.KindStiffener && quantity > 1 && work.Mirrored(p.Holes) {
		return "Drilled leg, seen from outside. Clamp a pair together and drill both at once: their holes then match."
	}
	if p.Kind == parts.KindStiffener {
		return "Drilled leg, seen from outside. Each by its own table: the holes are not alike from both ends."
	}
	if quantity < 2 {
		return "By its own table: the other plate is its mirror image."
	}
	return "Clamp both plates together and drill both at once: their holes then match."
}

// Cutting is the cut list.
func Cutting(j *job.Job) page.Cutting {
	c := page.Cutting{Sheets: nestedSheets(j), Bars: bars(j), Buy: buy(j), Note: Unplaced(j)}
	for _, l := range j.Nest.Cuts {
		c.Rows = append(c.Rows, page.Cut{
			Part: l.Part.Name + " " + l.Part.Mark, Quantity: fmt.Sprint(l.Quantity), Material: l.Part.Material,
			Size: j.Fixture.Style.Size([3]float64{l.SizeMM[0], l.SizeMM[1]}), From: steps.CutFrom(l, j.Fixture.Style),
		})
	}
	return c
}
