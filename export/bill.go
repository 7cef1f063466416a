package export

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/export/page"
	"clampwright/params/catalog"
	"clampwright/params/number"
	"clampwright/params/unit"
	"clampwright/params/words"
	"clampwright/parts"
	"clampwright/parts/printed"
)

// bill is the parts list with the small things that are bought and not drawn.
func (j *Job) bill() []assembly.PartLine {
	out := j.Assembly.PartsList()
	for _, x := range slices.Concat(j.footFixings(), j.terminalFixings()) {
		p := &parts.Part{ID: x.id, Kind: parts.Kind(x.kind), Name: x.name, Make: parts.MakeBuy, Material: "steel", Stock: x.stock}
		out = append(out, assembly.PartLine{Part: p, Quantity: x.count, Pieces: x.count})
	}
	if f := j.Fixture; f.Nut.DragMax > 0 { // a nut with a drag of its own cleans no thread
		p := &parts.Part{ID: "cleaning-nut", Kind: "nut", Name: "plain nut", Make: parts.MakeBuy, Material: "steel", Stock: f.Rods.Thread.Name + ", to clean sawn threads, not for the clamp"}
		out = append(out, assembly.PartLine{Part: p, Quantity: 1, Pieces: 1, Loose: 1})
	}
	return out
}

// looseWords say that a line, or some of its pieces, are not in the finished pack.
func looseWords(l assembly.PartLine) string {
	if l.Loose < l.Pieces {
		return fmt.Sprintf(" (%d loose)", l.Loose)
	}
	return " (loose)"
}

// massFacts are the mass of the finished pack, and of what the parts list holds
// besides.
func (j *Job) massFacts() []page.Fact {
	loose, marks := 0.0, []string{}
	for _, l := range j.bill() {
		if l.LooseG() > 0 {
			loose += l.LooseG()
			marks = append(marks, words.First(l.Part.Mark, l.Part.Name))
		}
	}
	out := []page.Fact{{Label: "In the finished pack", Value: number.Trim(j.Assembly.PackMassG()/1000, 2) + " kg", Note: "with cells; plan the lifting"}}
	if loose > 0 {
		out = append(out, page.Fact{Label: "Loose: tools, and what is taken off again", Value: massWords(loose), Note: strings.Join(marks, ", ")})
	}
	return out
}

// fixing is one kind of bought screw, nut or washer.
type fixing struct {
	id, kind, name, stock string
	count                 int
}

// terminalFixings hold the links and lugs to the cells: a set for every terminal. A
// screw's length is not reckoned, as the depth of the thread is the cell maker's.
func (j *Job) terminalFixings() []fixing {
	c, n := j.Fixture.Cell, 2*j.Fixture.Pack.Cells
	hold := fixing{"terminal-screw", "screw", "terminal screw", c.TerminalThread + ", length = bars on the terminal + washers + thread depth by the cell's data sheet; never longer: a screw that bottoms breaks the terminal", n}
	if c.StudHeight > 0 {
		hold = fixing{"terminal-nut", "nut", "terminal nut", c.TerminalThread, n}
	}
	return []fixing{
		hold,
		{"terminal-washer", "washer", "plain terminal washer", "plain, " + c.TerminalThread, n},
		{"terminal-lock-washer", "washer", "terminal lock washer", "lock, as the cell's data sheet asks for, " + c.TerminalThread, n},
	}
}

// footFixings hold the printed feet to the plates and to what the pack stands on;
// none without printed feet.
func (j *Job) footFixings() []fixing {
	feet := len(j.Assembly.Of(assembly.GroupFoot))
	if feet == 0 {
		return nil
	}
	screw, nut, washer, ground := j.footWords()
	return []fixing{
		{"foot-screw", "screw", "screw for a foot", screw, feet},
		{"foot-nut", "nut", "nut for a foot", nut, feet},
		{"foot-washer", "washer", "large washer for a foot", washer, feet},
		{"ground-screw", "screw", "screw for a foot's base", ground, feet},
	}
}

// footWords are the trade's words for screw, nut and washer that hold a foot, and
// for the screw through its base.
func (j *Job) footWords() (screw, nut, washer, ground string) {
	grip, hole := j.footGrip(), j.Fixture.Plate.Feet.HoleDia
	t, ok := j.screwThread(hole)
	switch {
	case !ok:
		passes := "passes a hole of " + j.Fixture.Style.Length(hole.MM())
		return passes + ", more than " + j.Fixture.Style.Length(grip) + " long", "for that screw", "for that screw", passes + ", as the ground asks for"
	case t.System == "metric":
		long := number.Trim(j.screwLength(t), 0)
		return "ISO 4762 " + t.Name + " x " + long, "ISO 4032 " + t.Name, "ISO 7093-1 " + t.Name, t.Name + ", as the ground asks for"
	}
	return "hexagon socket cap screw " + t.Name + " x " + j.Fixture.Style.Length(j.screwLength(t)), "hexagon nut " + t.Name,
		"large washer " + t.Name, t.Name + ", as the ground asks for"
}

// footGrip is what a foot's screw holds together: plate and upright, mm.
func (j *Job) footGrip() float64 {
	f := j.Fixture
	foot := printed.FootSpec{Printer: printed.Printer{FitMM: f.Printer.Fit.MM(), MinWallMM: f.Printer.MinWall.MM()}}
	return f.Plate.Thickness.MM() + foot.ThicknessMM()
}

// Screws come in steps of 5 mm or of 1/8 in; behind the nut stands what the nut
// needs, nutHigh of the thread's diameter, and a washer of footWasher mm: common
// practice, no source.
const nutHigh, footWasher = 1.0, 1.5

// screwLength is the length of a foot's screw, mm.
func (j *Job) screwLength(t catalog.Thread) float64 {
	step := 5.0
	if t.System != "metric" {
		step = 25.4 / 8
	}
	return math.Ceil((j.footGrip()+footWasher+nutHigh*t.Major.MM())/step) * step
}

// screwThread is the largest thread of the file's system that passes a hole.
func (j *Job) screwThread(hole unit.Length) (catalog.Thread, bool) {
	var best catalog.Thread
	for _, t := range j.Fixture.Tables.Threads {
		if t.System == j.Fixture.Rods.Thread.System && t.HoleFine <= hole && t.Major > best.Major {
			best = t
		}
	}
	return best, best.Major > 0
}
