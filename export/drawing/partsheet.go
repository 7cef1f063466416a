package drawing

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"clampwright/params"
	"clampwright/params/words"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// PartSheet is what the drawing of one part needs.
type PartSheet struct {
	Part     *parts.Part
	Quantity int
	Units    Units
	Paper    Paper
	Fixture  string
	Print    string // fingerprint of the input
	// Tolerance is the general tolerance in words: "sizes ±0.5, holes ±0.3".
	Tolerance string
	// Drill names the nearest drill the user owns for a hole, in words:
	// "11/32 in (8.73 mm)". Nil: the size itself.
	Drill func(mm float64) string
	// Angle is set for drilled angles, Rod for rods, Tube for pieces of tube.
	Angle *AngleShape
	Rod   *RodShape
	Tube  *TubeShape
	Notes []string // further notes
	// Machine is what cuts the part from sheet; holes that it opens are not drilled.
	Machine params.Machine
	// Sheet of Sheets in the set; zero: 1 of 1.
	Sheet, Sheets int
}

// AngleShape is the section of a drilled angle and how its flat lies on it. The
// flat (parts.Flat) is the drilled leg seen from outside the fixture.
type AngleShape struct {
	DrilledLegMM, StandingLegMM, ThicknessMM float64
	RootMM, ToeMM                            float64
	ChamferMM                                float64 // 45 degrees, at both ends of the standing leg
	// HeelHigh says that the standing leg is at the flat's upper edge.
	HeelHigh bool
}

// Datum is the point that an angle's holes are measured from, in the coordinates
// of its flat with the given box: left end and heel.
func (a *AngleShape) Datum(flat geom.Box2) geom.Vec2 {
	if a.HeelHigh {
		return geom.Vec2{X: flat.Min.X, Y: flat.Max.Y}
	}
	return flat.Min
}

// RodShape is a threaded rod.
type RodShape struct {
	LengthMM, MajorMM, MinorMM float64
	Thread                     string // "M8", "5/16-18 UNC"
}

// TubeShape is a piece of round tube.
type TubeShape struct {
	LengthMM, OuterMM, InnerMM float64
}

// Draw lays the part out on one sheet. It errors when the part has neither a
// flat outline nor the shape of a rod or tube, and when the drawing cannot be fitted on the larger of the two papers.
func (p PartSheet) Draw() (Sheet, error) {
	if p.Part == nil {
		return Sheet{}, fmt.Errorf("drawing: no part given")
	}
	p.Units = p.Units.orDefault()
	if p.Drill == nil {
		p.Drill = p.Units.Words
	}
	if p.Paper.W == 0 {
		p.Paper = A4
	}
	c, err := p.content()
	if err != nil {
		return Sheet{}, fmt.Errorf("drawing: part %q: %w", p.Part.ID, err)
	}
	c.title = p.title()
	c.notes = append(c.notes, p.Notes...)
	return compose(c, p.Paper)
}

func (p PartSheet) content() (*content, error) {
	switch {
	case p.Rod != nil:
		return p.rod()
	case p.Tube != nil:
		return p.tube()
	case p.Part.Flat == nil:
		return nil, fmt.Errorf("it has no flat outline to draw")
	case p.Angle != nil:
		return p.angle()
	}
	return p.plate()
}

func (p PartSheet) title() Title {
	t := Title{
		Title: words.Upper(p.Part.Name), Mark: p.Part.Mark, Kind: "Part drawing", Fixture: p.Fixture,
		Number: p.Part.ID, Print: p.Print, Quantity: fmt.Sprint(p.Quantity), Tolerance: p.Tolerance,
		Units: p.Units.Name, Sheet: p.Sheet, Sheets: p.Sheets,
	}
	t.Material = stockWords(p.Part, p.Units)
	if p.Part.MassG > 0 {
		t.Mass = p.Units.Mass(p.Part.MassG)
	}
	return t
}

// stockWords names material and stock, without saying a word twice.
func stockWords(p *parts.Part, u Units) string {
	switch {
	case p.Make == parts.MakeSheet && p.Flat != nil:
		return p.Material + " sheet " + u.Words(p.Flat.ThicknessMM)
	case p.Stock == "":
		return p.Material
	case strings.Contains(p.Stock, p.Material):
		return p.Stock
	}
	return p.Material + ", " + p.Stock
}

// sortedHoles are the part's holes, with any circle of the outline that has no
// entry of its own added.
func sortedHoles(part *parts.Part) []parts.Hole {
	out := append([]parts.Hole{}, part.Holes...)
	extra := 0
	for _, c := range part.Flat.Profile.Circles {
		known := false
		for _, h := range part.Holes {
			known = known || math.Hypot(h.C.X-c.C.X, h.C.Y-c.C.Y) < 0.01
		}
		if !known {
			extra++
			out = append(out, parts.Hole{ID: fmt.Sprintf("X%d", extra), C: c.C, DiaMM: 2 * c.R})
		}
	}
	return out
}

// holeGroup is holes of one size and pilot.
type holeGroup struct {
	dia, pilot float64
	ids        []string
	use        string
}

// groupHoles collects equal holes in order of first appearance.
func groupHoles(holes []parts.Hole) []holeGroup {
	var out []holeGroup
next:
	for _, h := range holes {
		for i := range out {
			if math.Abs(out[i].dia-h.DiaMM) < 0.005 && math.Abs(out[i].pilot-h.PilotMM) < 0.005 {
				out[i].ids = append(out[i].ids, h.ID)
				continue next
			}
		}
		out = append(out, holeGroup{h.DiaMM, h.PilotMM, []string{h.ID}, h.For})
	}
	return out
}

// idRange shortens a list of hole names: "H1-H4", "H1, H3".
func idRange(ids []string) string {
	var out []string
	for i := 0; i < len(ids); {
		j := i
		for j+1 < len(ids) && follows(ids[j], ids[j+1]) {
			j++
		}
		switch {
		case j > i+1:
			out = append(out, ids[i]+"-"+ids[j])
		case j == i+1:
			out = append(out, ids[i], ids[j])
		default:
			out = append(out, ids[i])
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
}

func follows(a, b string) bool {
	pa, na := splitNumber(a)
	pb, nb := splitNumber(b)
	return pa == pb && nb == na+1 && na >= 0
}

// splitNumber takes "H12" apart; the number is -1 when there is none.
func splitNumber(s string) (string, int) {
	i := len(s)
	for i > 0 && s[i-1] >= '0' && s[i-1] <= '9' {
		i--
	}
	n := -1
	if i < len(s) && len(s)-i < 8 {
		n = 0
		for _, r := range s[i:] {
			n = n*10 + int(r-'0')
		}
	}
	return s[:i], n
}

// holeTable lists the holes with coordinates from the datum corner, or along
// an angle and from its heel.
func (p PartSheet) holeTable(holes []parts.Hole, datum geom.Vec2, withY bool) *Table {
	t := &Table{Title: "Holes from the datum corner", Head: []string{"Hole", "X", "Y", "Ø"}, Right: map[int]bool{1: true, 2: true, 3: true}}
	if !withY {
		t.Title = "Holes from the datum end and the heel"
		t.Head = []string{"Hole", "X", "From heel", "Ø"}
	}
	for _, h := range holes {
		row := []string{h.ID, p.Units.Coord(h.C.X - datum.X)}
		row = append(row, p.Units.Coord(math.Abs(h.C.Y-datum.Y)))
		t.Rows = append(t.Rows, append(row, p.Units.Coord(h.DiaMM)))
	}
	return t.fold(holeRows)
}

// holeRows is the longest hole table; longer ones go on beside it.
const holeRows = 18

// drillTable lists which drills make the holes and the ends of slots, in order.
func (p PartSheet) drillTable(holes []parts.Hole, slots ...parts.Slot) *Table {
	t := &Table{Title: "Drilling, in this order", Head: []string{"Holes", "No.", "Step", "Drill"}, Right: map[int]bool{1: true}}
	for _, g := range groupHoles(holes) {
		ids, n := idRange(g.ids), fmt.Sprint(len(g.ids))
		steps := parts.DrillSteps(g.pilot, g.dia)
		for i, mm := range steps {
			step := "between"
			switch {
			case i == len(steps)-1:
				step = "full"
			case i == 0:
				step = "pilot"
			}
			t.Rows = append(t.Rows, []string{ids, n, step, p.Drill(mm)})
		}
	}
	for _, s := range slots {
		n := "1"
		if s.Apart() {
			n = "2"
		}
		t.Rows = append(t.Rows, []string{s.ID, n, "end", p.Drill(s.DiaMM)})
	}
	return t
}

// useTable says what each group of holes is for; nil when nothing is known.
func useTable(holes []parts.Hole) *Table {
	t := &Table{Head: []string{"Holes", "For"}}
	for _, g := range groupHoles(holes) {
		if g.use != "" {
			t.Rows = append(t.Rows, []string{idRange(g.ids), g.use})
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

// shopNotes are the notes every drilled part carries.
func (p PartSheet) shopNotes(first string, holes []parts.Hole) []string {
	if p.Machine == params.Router || p.Machine == params.Laser {
		return []string{first, fmt.Sprintf("Cut by %s after the file in cut/, holes and slots too; by hand only what its cutter can't enter.", p.Machine), fmt.Sprintf("Break sharp edges by %s on both sides.", p.Units.Words(0.5))}
	}
	drill := "Drill on scrap backing."
	for _, h := range holes {
		if h.PilotMM > 0 {
			drill = "Drill the pilot first, then in the steps of the table to the full size, on scrap backing."
		}
	}
	if how := HowToDrill(parts.Slots(p.Part.Flat)); how != "" {
		drill += " " + how
	}
	return []string{first, drill, fmt.Sprintf("Break sharp edges by %s; deburr both sides of every hole.", p.Units.Words(0.5))}
}

// uniqueAlong returns the distinct positions of holes on one axis, each with
// the hole that lies lowest on the other axis.
func uniqueAlong(holes []parts.Hole, axis func(geom.Vec2) (along, across float64)) []parts.Hole {
	sorted := append([]parts.Hole{}, holes...)
	sort.SliceStable(sorted, func(i, j int) bool {
		a, ca := axis(sorted[i].C)
		b, cb := axis(sorted[j].C)
		if math.Abs(a-b) > 0.005 {
			return a < b
		}
		return ca < cb
	})
	var out []parts.Hole
	for _, h := range sorted {
		if n := len(out); n > 0 {
			a, _ := axis(out[n-1].C)
			b, _ := axis(h.C)
			if math.Abs(a-b) <= 0.005 {
				continue
			}
		}
		out = append(out, h)
	}
	return out
}

func byX(v geom.Vec2) (float64, float64) { return v.X, v.Y }
func byY(v geom.Vec2) (float64, float64) { return v.Y, v.X }

// crossOverMM is how far centre crosses pass their hole.
const crossOverMM = 2.0
