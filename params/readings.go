package params

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

// Reading is one thing measured on what is at hand: a cell that came in, a part
// that was made, the stack, a spring or the nuts at the clamp.
type Reading struct {
	What  string  // a quantity of measures
	Where string  // a cell's serial, a part's mark with the hole, or the rod; empty: of the whole
	When  string  // the state of the clamp: snug, set, ...; empty: before it
	Value float64 // in Unit
	Unit  string
	// Uncertainty is what the value may be off, plus or minus, in Unit: as given, or
	// that of the instrument.
	Uncertainty float64
	Instrument  string
	At          diag.Range
}

// measure is a quantity that can be read, and what it is usually read with.
type measure struct {
	what, unit string
	of         string // "cell": of each by its serial; "part": of a made part by its mark
	quantity   quantity
	lo, hi     float64 // in unit
	instrument string
}

var measures = []measure{
	{"capacity", "Ah", "cell", qNumber, 0.01, 1e5, "cell tester"},
	{"resistance", "mohm", "cell", qNumber, 0.001, 1e4, "milliohmmeter"},
	{"voltage", "V", "cell", qNumber, 0, 5, "voltmeter"},
	{"centre", "mm", "cell", qLength, 0.1, 2000, "calliper"},     // thickness in the middle of the large face
	{"edge_left", "mm", "cell", qLength, 0.1, 2000, "calliper"},  // at the edge on the left when the plus is on the right
	{"edge_right", "mm", "cell", qLength, 0.1, 2000, "calliper"}, // at the other
	{"stack", "mm", "", qLength, 2, 6000, "calliper"},
	{"spring", "mm", "", qLength, 0.1, 500, "calliper"}, // its height
	{"turns", "", "", qNumber, 0.05, 40, "pen mark"},    // past snug on every rod, both ends together
	{"length", "mm", "part", qLength, 0.1, 6000, "calliper"},
	{"width", "mm", "part", qLength, 0.1, 6000, "calliper"},
	{"height", "mm", "part", qLength, 0.1, 6000, "calliper"},
	{"thickness", "mm", "part", qLength, 0.1, 500, "calliper"},
	{"hole_dia", "mm", "part", qLength, 0.1, 200, "calliper"},
	{"hole_x", "mm", "part", qLength, 0.1, 6000, "calliper"}, // of a hole's middle from the drawing's datum
	{"hole_y", "mm", "part", qLength, 0.1, 6000, "calliper"},
}

// measureOf finds a quantity by its name, or by the name of its column in a table of
// cells, which ends in the unit: capacity_ah.
func measureOf(name string) (measure, bool) {
	i := slices.IndexFunc(measures, func(m measure) bool { return m.what == name || m.unit != "" && m.column() == name })
	if i < 0 {
		return measure{}, false
	}
	return measures[i], true
}

// measuredThickness is the middle one of the cells' thicknesses as measured, so that a
// bulged cell counts little, and where the first stands; 0 without any.
func (f *Fixture) measuredThickness() (unit.Length, diag.Range) {
	var all []float64
	var first diag.Range
	for _, x := range f.Readings {
		if x.What == "centre" {
			first = cmp.Or(first, x.At)
			all = append(all, x.Value)
		}
	}
	if len(all) == 0 {
		return 0, first
	}
	slices.Sort(all)
	return unit.Length(all[(len(all)-1)/2]+all[len(all)/2]) / 2, first
}

// quantities are the names of all that can be read.
func quantities() (names []string) {
	for _, m := range measures {
		names = append(names, m.what)
	}
	return names
}

func (m measure) column() string { return m.what + "_" + strings.ToLower(m.unit) }

// instruments are what a value may be off, plus or minus: so much and this part of
// it. Common practice, no source; a calliper's is that over a long stack.
var instruments = map[string]struct{ much, part float64 }{
	"calliper": {0.1, 0}, "micrometer": {0.02, 0}, "tape": {1, 0}, "pen mark": {0.08, 0},
	"voltmeter": {0.005, 0.001}, "milliohmmeter": {0.01, 0.02}, "cell tester": {0, 0.01},
}

// partForm is a made part by its mark, with its number among several and the hole.
var partForm = regexp.MustCompile(`^[A-Z]+[0-9.]+(/[0-9]+)?( [HS][0-9]+)?$`)

// mostCells bounds the cells of a table.
const mostCells = 2000

var serialForm = regexp.MustCompile(`^[\p{L}\p{N}._/ #-]{1,64}$`)

// readings settles what was measured: in the file, then in the table beside it.
func (r *resolver) readings() {
	given := slices.Concat(r.in.Readings, r.in.beside)
	if s := r.in.Pack.Stack; s.Set { // the short way to write one
		given = append(given, ReadingBlock{What: wordV{"stack", true, s.At}, Value: wordV{LengthText(s.V, unit.Millimetre), true, s.At}})
	}
	first := map[[3]string]diag.Range{}
	for _, b := range given {
		got, ok := readingOf(r, b)
		if !ok {
			continue
		}
		key := [3]string{got.What, got.Where, got.When}
		if at, twice := first[key]; twice {
			measuredTwice(r, b, got, at)
			continue
		}
		first[key] = got.At
		r.f.Readings = append(r.f.Readings, got)
	}
	r.wholeCells()
}

func measuredTwice(r *resolver, b ReadingBlock, got Reading, first diag.Range) {
	what, at := strings.TrimSpace(got.When+" "+got.What), b.Value.At
	if got.Where != "" {
		what, at = got.Where, b.Where.At
	}
	r.diags.Add(diag.Diagnostic{Summary: fmt.Sprintf("%q is measured twice", what), Found: fmt.Sprintf("first in line %d", first.Line),
		Expected: "each reading once", Range: at, Related: []diag.Range{first}})
}

// readingOf settles one reading.
func readingOf(r *resolver, b ReadingBlock) (got Reading, ok bool) {
	m, known := measureOf(b.What.V)
	if !known && b.What.Set {
		r.errorf(b.What.At, fmt.Sprintf("there is no quantity %q", b.What.V), "", "one of "+strings.Join(quantities(), ", "), "")
	}
	if !known || !b.Value.Set {
		return got, false
	}
	got = Reading{What: m.what, Where: b.Where.V, When: b.When.V, Unit: m.unit, Instrument: b.Instrument.Or(m.instrument), At: b.Value.At}
	if m.of == "cell" && !serialForm.MatchString(got.Where) {
		r.errorf(cmp.Or(b.Where.At, b.Value.At), "the serial can't be used", fmt.Sprintf("%q", got.Where), "1 to 64 letters, digits and . _ / # - or space", "")
		return got, false
	}
	if m.of == "part" && !partForm.MatchString(got.Where) {
		r.errorf(cmp.Or(b.Where.At, b.Value.At), "it is not said of which part this is", fmt.Sprintf("%q", got.Where), "its mark, its number where there are several, and the hole: \"P1/2 H3\"", "")
		return got, false
	}
	if got.Value, ok = amount(r, m, b.Value, b.Unit.V, m.lo, m.hi); !ok {
		return got, false
	}
	off, ok := instruments[got.Instrument]
	if got.Uncertainty = off.much + off.part*got.Value; !ok {
		r.errorf(b.Instrument.At, "the instrument is not known", fmt.Sprintf("%q", got.Instrument), strings.Join(instrumentNames(), ", "), "")
	} else if b.Uncertainty.Set {
		got.Uncertainty, ok = amount(r, m, b.Uncertainty, b.Unit.V, 0, got.Value)
	}
	return got, ok
}

func instrumentNames() []string {
	var names []string
	for n := range instruments {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

// amount reads a value with its unit, in the text or apart, within bounds.
func amount(r *resolver, m measure, g wordV, apart string, lo, hi float64) (float64, bool) {
	text := g.V
	if apart != "" && apart != m.unit {
		text += " " + apart
	}
	text = strings.TrimSpace(strings.TrimSuffix(text, m.unit))
	def := r.f.Style.Unit
	if g.V != text || apart != "" {
		def = unit.Millimetre // as it says
	}
	x, err := m.quantity.parse(text, def)
	switch {
	case err != nil:
		e := asScalarError(err)
		r.errorf(g.At, m.what+": "+e.summary, fmt.Sprintf("%q", g.V), firstOf(e.expected, m.quantity.words()), e.suggestion)
	case x < lo || x > hi:
		r.errorf(g.At, m.what+" is out of range", g.V, strings.TrimSpace(fmt.Sprintf("%g to %g %s", lo, hi, m.unit)), "")
	default:
		return x, true
	}
	return 0, false
}

// wholeCells wants every reading of each cell that has any.
func (r *resolver) wholeCells() {
	has, order := map[string]map[string]bool{}, []Reading(nil)
	for _, x := range r.f.Readings {
		if x.OfCell() {
			if has[x.Where] == nil {
				has[x.Where], order = map[string]bool{}, append(order, x)
			}
			has[x.Where][x.What] = true
		}
	}
	if len(order) > mostCells {
		r.errorf(order[mostCells].At, "too many cells are measured", fmt.Sprint(len(order)), fmt.Sprintf("%d or fewer", mostCells), "")
	}
	for _, m := range measures {
		i := slices.IndexFunc(order, func(x Reading) bool { return m.of == "cell" && !has[x.Where][m.what] })
		if i >= 0 && !r.diags.HasErrors() {
			r.errorf(order[i].At, fmt.Sprintf("the %s of cell %q is missing", m.what, order[i].Where), "", m.column()+" of every cell", "")
		}
	}
}

// OfCell says whether the reading is one of a cell that came in.
func (x Reading) OfCell() bool {
	m, _ := measureOf(x.What)
	return m.of == "cell"
}

// OfPart says whether the reading is one of a made part.
func (x Reading) OfPart() bool {
	m, _ := measureOf(x.What)
	return m.of == "part"
}

// Measured is the mean of the readings of a quantity in a state, over all rods; ok
// says whether there are any.
func (f *Fixture) Measured(what, when string) (mean Reading, ok bool) {
	n := 0.0
	for _, x := range f.Readings {
		if x.What == what && x.When == when {
			x.Value, x.Uncertainty = mean.Value+x.Value, max(mean.Uncertainty, x.Uncertainty)
			mean, n = x, n+1
		}
	}
	mean.Value /= max(n, 1)
	return mean, n > 0
}

// benched wants the readings that tell the cells' stiffness to be whole: the stack
// at snug and as set, and the turns between or the springs as set.
func (r *resolver) benched() {
	snug, a := r.f.Measured("stack", "snug")
	set, b := r.f.Measured("stack", "set")
	turns, c := r.f.Measured("turns", "set")
	spring, d := r.f.Measured("spring", "set")
	switch {
	case a && b && set.Value >= snug.Value:
		r.errorf(set.At, "the stack got no shorter", fmt.Sprintf("%g mm after %g mm", set.Value, snug.Value), "a shorter stack as set", "")
	case (a || b || c) && !(a && b && (c || d)):
		r.errorf(cmp.Or(snug.At, set.At, turns.At, spring.At), "the readings at the clamp are not complete", "", "stack at snug and at set, and turns or spring at set", "read what is missing, or leave these out")
	}
}
