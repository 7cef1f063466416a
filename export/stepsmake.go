package export

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"clampwright/assembly"
	"clampwright/export/drawing"
	"clampwright/export/page"
	"clampwright/params/words"
	"clampwright/parts"
)

// getting is what is bought and printed before anything is cut.
func (j *Job) getting() page.Phase {
	p := page.Phase{Title: "Buy and print"}
	buy := page.Step{Title: "Buy what comes ready", Text: "All of it on the bench before the first cut; sheet, bar and rod to be bought are under Cutting."}
	out := page.Step{Title: "Print", Text: "The files in print/ lie as they must lie on the bed. Break burrs off: the parts touch cells."}
	for _, l := range j.bill() {
		switch l.Part.Make {
		case parts.MakeBuy, parts.MakeOwn:
			buy.Figures = append(buy.Figures, page.Fact{Label: partName(l.Part), Value: fmt.Sprintf("%d of %s", l.Pieces, words.First(l.Part.Stock, l.Part.Material))})
		case parts.MakePrint:
			fact := page.Fact{Label: partName(l.Part), Value: fmt.Sprintf("%d in %s", l.Pieces, l.Part.Material)}
			if l.Part.Print != nil && l.Part.Print.Joint != "" {
				fact.Note = "pieces join by " + l.Part.Print.Joint
			}
			out.Figures = append(out.Figures, fact)
		}
	}
	p.Steps = append(p.Steps, buy)
	if len(out.Figures) > 0 {
		p.Steps = append(p.Steps, out)
	}
	return p
}

// checking is what is done with the cells before anything is cut to them.
func (j *Job) checking() page.Phase {
	f := j.Fixture
	step := page.Step{Title: "Check and mark every cell",
		Text: "As under \"The cells before they go in\"; fill in the record there. Put rejected cells aside. " + j.marking(), Figures: j.serialPlaces()}
	if gauge := j.gauge("bulge-feeler"); gauge != "" {
		step.Text += " The " + gauge + " tells a bulged face at once."
	}
	if !f.Pack.Measured {
		j.askForSum(&step)
	}
	return page.Phase{Title: "Check the cells", Steps: []page.Step{step}}
}

// marking is what is written on the cells that are kept.
func (j *Job) marking() string {
	f := j.Fixture.Pack
	switch {
	case j.serialPlaces() != nil:
		return "Mark each of the others with its place, as told here by serial number."
	case f.Cells == 1:
		return "Mark it 1."
	}
	var rows []string
	for row := range f.Rows {
		first, last := j.Fixture.Pack.CellName(row*f.PerRow), j.Fixture.Pack.CellName((row+1)*f.PerRow-1)
		if first != last {
			first += " to " + last
		}
		rows = append(rows, first)
	}
	return "Mark the others with their places, " + words.Join(rows) + "."
}

// askForSum has the cells' thicknesses added up where the stack is reckoned from
// nominal ones.
func (j *Job) askForSum(step *page.Step) {
	f := j.Fixture
	n := f.Pack.PerRow
	slack := float64(n) * f.Cell.ThicknessTol.MM()
	sum := "Then add up the thicknesses of each row. Where a sum is off"
	if n == 1 {
		sum = "Where a thickness is off"
	}
	step.Text += fmt.Sprintf(" %s by more than %s, give the measured stack as pack.stack and have this sheet made anew before the rods are cut.", sum, j.Fixture.Style.Small(slack))
	step.Figures = append(step.Figures, page.Fact{Label: fmt.Sprintf("%d cell%s of a row", n, words.Plural(n)), Value: j.Fixture.Style.Exact(float64(n) * f.Cell.Thickness.MM()), Note: "as reckoned here, from the nominal thickness"})
	for row := range f.Pack.Rows {
		label := "measured"
		if f.Pack.Rows > 1 {
			label = "measured, row " + j.Fixture.Pack.RowName(row)
		}
		step.Figures = append(step.Figures, page.Fact{Label: label, Value: fill})
	}
}

// gauge names a printed aid by the start of its id; empty when not printed.
func (j *Job) gauge(id string) string {
	var out []string
	for _, l := range j.Assembly.PartsList() {
		if strings.HasPrefix(l.Part.ID, id) {
			out = append(out, partName(l.Part))
		}
	}
	return words.Join(out)
}

// making is the work on sheet, bar and rod.
func (j *Job) making() page.Phase {
	p := page.Phase{Title: "Make the parts"}
	for _, l := range j.Nest.Cuts {
		p.Steps = append(p.Steps, page.Step{
			Title: fmt.Sprintf("Cut %d of %s", l.Quantity, partName(l.Part)),
			Text:  j.cutText(l.Part),
			Figures: []page.Fact{
				{Label: "size", Value: j.sizeExact(l.SizeMM)}, {Label: "from", Value: j.cutFrom(l)},
			},
		})
	}
	p.Steps = append(p.Steps, j.drilling()...)
	return page.Phase{Title: p.Title, Steps: append(p.Steps, j.deburring(), j.dryFit())}
}

func (j *Job) sizeExact(mm [2]float64) string {
	if mm[1] == 0 {
		return j.Fixture.Style.Exact(mm[0])
	}
	return j.Fixture.Style.Exact(mm[0]) + " x " + j.Fixture.Style.Exact(mm[1])
}

// startsByHand is how far a nut goes on a good thread without a wrench.
func (j *Job) startsByHand() string {
	if j.Fixture.Nut.DragMax > 0 {
		return "starts by hand"
	}
	return "runs on by hand"
}

func (j *Job) cutText(p *parts.Part) string {
	dust := ""
	if strings.Contains(strings.ToLower(p.Material), "fr4") {
		dust = "Glass dust: mask, and saw wet or with suction."
	}
	switch {
	case p.Make == parts.MakeRod && j.Fixture.Nut.DragMax > 0:
		return "The nut that is run on before sawing, as drawn, is a plain one; taking it off cleans the thread. Never one of the clamp's own locking nuts: each time on wears their lock."
	case p.Make == parts.MakeRod:
		return "Run a nut on before sawing; taking it off cleans the thread."
	case p.Kind == parts.KindLink:
		return "Square ends; drill the hole and open the slot as below. Round the corners and break every edge: a burr cuts insulation and keeps the joint from seating."
	case p.Kind == parts.KindStiffener:
		return "Square ends; chamfer the corners of the standing leg as drawn."
	case p.Make == parts.MakeBar:
		return "Square ends, no burr inside: it must slide along the rod."
	case p.Kind == parts.KindPlate:
		return "Mark the UP edge and the outside face before it leaves the saw."
	}
	return words.Sentences("Clean edges: no burr or splinter may reach a cell.", dust)
}

// drilling is a step for every part that is drilled by hand.
func (j *Job) drilling() []page.Step {
	var out []page.Step
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		if p.Flat == nil || len(p.Holes) == 0 || p.Make == parts.MakePrint {
			continue
		}
		slots := drawing.Slots(p.Flat)
		out = append(out, page.Step{Title: fmt.Sprintf("Drill %d of %s", l.Quantity, partName(p)),
			Text:    words.Sentences(j.drillText(l), drawing.HowToDrill(slots)),
			Figures: append(j.holeFigures(p.Holes), j.slotFigures(slots)...)})
	}
	return out
}

// drillText is how the holes of a part come to their places.
func (j *Job) drillText(l assembly.PartLine) string {
	switch l.Part.Kind {
	case parts.KindPlate:
		routed, together := "", ""
		if j.Fixture.Tools.Cutter > 0 {
			routed = "What the router has opened after the file in cut/ needs no drill."
		}
		if l.Quantity > 1 {
			together = "Clamp two together, outside faces up, UP edges together, and drill both at once."
		}
		return words.Sentences(routed, together, j.guidesFor("plate-guide", "hooked over both edges of a corner"), j.fromTemplate("plate-guide"), "Pilot first, then every drill in the order told, square to the face.")
	case parts.KindStiffener:
		together := ""
		if l.Quantity > 1 && mirrored(l.Part.Holes) {
			together = "Clamp two back to back, the flat outsides of their drilled legs together, heels and ends flush, and drill both at once."
		}
		return words.Sentences("In the drilled leg.", together, j.guidesFor("angle-guide", "in the angle, pushed against an end and the standing leg"), j.fromTemplate("angle-guide"), "Pilot first, then every drill in the order told.")
	}
	return "From the table of holes; a smaller drill first keeps the hole in its place. Deburr both faces."
}

// fromTemplate is where holes are marked without a guide.
func (j *Job) fromTemplate(guide string) string {
	if j.gauge(guide) != "" {
		return "Holes that no guide reaches: from the template in paper/ or the table of holes."
	}
	return "From the template in paper/ or the table of holes."
}

// mirrored says whether holes lie alike on both sides of the part's middle.
func mirrored(holes []parts.Hole) bool {
	for _, h := range holes {
		if !slices.ContainsFunc(holes, func(o parts.Hole) bool { return math.Hypot(o.C.X+h.C.X, o.C.Y-h.C.Y) < sameHoleMM }) {
			return false
		}
	}
	return true
}

// sameHoleMM is how far two holes may lie apart and be one, mm: rounding only.
const sameHoleMM = 1e-3

// guidesFor is how the printed drill guides of a kind are used.
func (j *Job) guidesFor(id, how string) string {
	var where []string
	middle := (j.Fixture.Plate.Bottom + j.Fixture.Plate.Height/2).MM()
	for _, a := range j.Assembly.Aids {
		switch {
		case !strings.HasPrefix(a.ID, id):
		case id != "plate-guide":
			where = append(where, a.Part.Mark)
		case a.Frame.O.Y > middle:
			where = append(where, a.Part.Mark+" at the upper corners")
		default:
			where = append(where, a.Part.Mark+" at the lower corners")
		}
	}
	if len(where) == 0 {
		return ""
	}
	press := ""
	if b := j.Fixture.Prints.Bushing; b > 0 {
		press = "Press a bushing of " + j.Fixture.Style.Length(b.MM()) + " outside, bored for the pilot, into every hole of the guide first."
	}
	return words.Sentences(fmt.Sprintf("Drill the pilots through the drill guide%s, %s: %s; turned over for the other side.", words.Plural(len(where)), how, words.Join(where)), press)
}

// holeFigures tells each kind of hole once, with its drills.
func (j *Job) holeFigures(holes []parts.Hole) []page.Fact {
	var out []page.Fact
	done := map[int]bool{}
	for i, h := range holes {
		if done[i] {
			continue
		}
		var ids []string
		for k, o := range holes {
			if o.For == h.For && o.DiaMM == h.DiaMM && o.PilotMM == h.PilotMM {
				done[k] = true
				ids = append(ids, o.ID)
			}
		}
		value := j.drill(h.DiaMM)
		if h.PilotMM > 0 {
			value = "pilot " + j.pilot(h) + ", then " + value
		}
		out = append(out, page.Fact{Label: inRun(ids), Value: value, Note: h.For})
	}
	return out
}

// slotFigures tells each size of slot once.
func (j *Job) slotFigures(slots []drawing.Slot) []page.Fact {
	var out []page.Fact
	for _, s := range slots {
		long := s.Ends[0].Sub(s.Ends[1]).Len() + s.DiaMM
		f := page.Fact{Label: "slot " + s.ID, Value: fmt.Sprintf("%s x %s", j.Fixture.Style.Length(long), j.Fixture.Style.Length(s.DiaMM)), Note: "drill " + j.drill(s.DiaMM)}
		if k := slices.IndexFunc(out, func(o page.Fact) bool { return o.Value == f.Value && o.Note == f.Note }); k >= 0 {
			out[k].Label += ", " + s.ID
			continue
		}
		out = append(out, f)
	}
	return out
}

// inRun shortens a list of ids that follow each other: "H1 to H4".
func inRun(ids []string) string {
	for i := range ids {
		if ids[i] != fmt.Sprintf("H%d", numberOf(ids[0])+i) || len(ids) < 3 {
			return words.Join(ids)
		}
	}
	return ids[0] + " to " + ids[len(ids)-1]
}

// numberOf is the number in a hole's id, 0 when there is none.
func numberOf(id string) int {
	n, err := strconv.Atoi(strings.TrimPrefix(id, "H"))
	if err != nil {
		return 0
	}
	return n
}

func (j *Job) deburring() page.Step {
	return page.Step{Title: "Deburr", Text: fmt.Sprintf("Break every edge, countersink every hole lightly, file the sawn rod ends until a nut %s. A burr cuts insulation.", j.startsByHand())}
}

// dryFit tries what must go together before a cell is near.
func (j *Job) dryFit() page.Step {
	through := []string{"both plates"}
	if j.has(assembly.GroupStiffener) {
		through = append(through, "the angles")
	}
	if j.has(assembly.GroupEndCap) {
		through = append(through, "the end caps")
	}
	text := "Push all rods through " + words.Join(through) + ". Each must pass all its holes by hand."
	if j.has(assembly.GroupSleeve) {
		text += fmt.Sprintf(" The sleeves must slide on the rods; each is shorter than the space between the plates by %s.", j.Fixture.Style.Length(2*j.Fixture.Sleeve.EndGap.MM()))
	}
	return page.Step{Title: "Dry fit without cells", Text: text}
}
