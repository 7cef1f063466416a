package params

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"time"

	"clampwright/params/diag"
	"clampwright/params/number"
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
	// Day is the date in days since 1970, 0 where none is given; Charge and TempC are the
	// cells', where Charged and Warmed say that they are given.
	Day             int
	Charge, TempC   float64
	Charged, Warmed bool
	Cycles          int
	LoadN           float64 // weights on the loose row
	HighMM          float64 // of a spring on the scale
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
	{"turns", "", "", qNumber, -40, 40, "pen mark"},     // past snug on every rod, both ends together; at reset from where the nuts were
	{"torque", "N.mm", "", qTorque, 50, 1e6, "torque wrench"},
	{"running", "N.mm", "", qTorque, 0, 1e6, "torque wrench"}, // of a nut that presses nothing yet
	{"bow", "mm", "", qLength, -10, 20, "dial gauge"},         // of a plate's middle against the middles of its left and right edges
	{"weighed", "N", "", qForce, 1, 1e5, "scale"},             // of one spring at a height
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
	"dial gauge": {0.02, 0}, "feeler": {0.05, 0}, "torque wrench": {0, 0.06}, "scale": {0.5, 0.005},
	"voltmeter": {0.005, 0.001}, "milliohmmeter": {0.01, 0.02}, "cell tester": {0, 0.01},
}

// UsualError is what the usual instrument of a quantity may be off: so much, in its unit,
// and this part of it.
func UsualError(what string) (much, part float64) {
	m, _ := measureOf(what)
	e := instruments[m.instrument]
	return e.much, e.part
}

// partForm is a made part by its mark, with its number among several and the hole.
var partForm = regexp.MustCompile(`^[A-Z]+[0-9.]+(/[0-9]+)?( [HS][0-9]+)?$`)

// mostCells bounds the cells of a table.
const mostCells = 2000

var serialForm = regexp.MustCompile(`^[\p{L}\p{N}._/ #-]{1,64}$`)

// settleReadings settles what was measured: in the file, then in the table beside it.
func settleReadings(r *resolver) {
	m := r.in.taken
	if !m.of(r.in) || stoodIn(r.doubt, "readings", "pack.stack", "units") {
		before := len(r.diags)
		readAll(r)
		if m = (&taken{r.in.Readings, r.in.beside, r.in.Pack.Stack, r.in.Units, r.f.Readings, slices.Clone(r.diags[before:])}); !r.brief && r.trial == 0 {
			r.in.taken = m // copies have it too
		}
		return
	}
	r.f.Readings = m.read
	r.diags.Add(m.wrong...)
}

// taken is what was measured: as it is given, as it is read, and what is wrong with it.
type taken struct {
	file, beside []ReadingBlock
	stack        lengthV
	units        wordV
	read         []Reading
	wrong        diag.List
}

// of says whether a file gives what was read.
func (m *taken) of(in *File) bool {
	same := func(a, b []ReadingBlock) bool { return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0]) }
	return m != nil && same(in.Readings, m.file) && same(in.beside, m.beside) && in.Pack.Stack == m.stack && in.Units == m.units
}

// stoodIn says whether something in these blocks is in doubt.
func stoodIn(doubt []string, blocks ...string) bool {
	return slices.ContainsFunc(doubt, func(path string) bool {
		return slices.ContainsFunc(blocks, func(b string) bool { return strings.HasPrefix(path, b) })
	})
}

func readAll(r *resolver) {
	given := slices.Concat(r.in.Readings, r.in.beside)
	if s := r.in.Pack.Stack; s.Set { // the short way to write one
		given = append(given, ReadingBlock{What: wordV{"stack", true, s.At}, Value: wordV{LengthText(s.V, unit.Millimetre), true, s.At}})
	}
	first := map[Reading]diag.Range{}
	for _, b := range given {
		got, ok := readingOf(r, b)
		if len(r.diags) > maxTableErrors {
			break
		}
		if !ok {
			continue
		}
		key := Reading{What: got.What, Where: got.Where, When: got.When, Day: got.Day, Charge: got.Charge, LoadN: got.LoadN, HighMM: got.HighMM}
		if at, twice := first[key]; twice {
			measuredTwice(r, b, got, at)
			continue
		}
		first[key] = got.At
		r.f.Readings = append(r.f.Readings, got)
	}
	settleWholeCells(r)
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
	if got.Value, ok = amount(r, m, b.Value, b.Unit.V, m.lo, m.hi); !ok || !around(r, b, &got) {
		return got, false
	}
	off, ok := instruments[got.Instrument]
	if got.Uncertainty = off.much + off.part*math.Abs(got.Value); got.Uncertainty == 0 { // of nothing read: as of a thousandth of what may be
		got.Uncertainty = off.part * m.hi / 1000
	}
	if !ok {
		r.errorf(b.Instrument.At, "the instrument is not known", fmt.Sprintf("%q", got.Instrument), strings.Join(instrumentNames(), ", "), "")
	} else if b.Uncertainty.Set {
		got.Uncertainty, ok = amount(r, m, b.Uncertainty, b.Unit.V, got.Uncertainty/finest, max(got.Value, m.hi/100))
	}
	return got, ok
}

// finest is by what part of the usual instrument's error one may be better: none is without.
const finest = 100

// around settles what stands about a reading: its date, the cells' charge and temperature,
// the weights and the height that it was taken at.
func around(r *resolver, b ReadingBlock, got *Reading) bool {
	ok := true
	take := func(what string, q quantity, g wordV, lo, hi float64) (x float64) {
		if g.Set {
			var fine bool
			x, fine = amount(r, measure{what: what, quantity: q}, g, "", lo, hi)
			ok = ok && fine
		}
		return x
	}
	got.Charge, got.Charged = take("charge", qNumber, b.Charge, 0, 1), b.Charge.Set
	got.TempC, got.Warmed = take("temperature", qTemperature, b.Temperature, -40, 90), b.Temperature.Set
	got.Cycles, got.LoadN, got.HighMM = int(take("cycles", qNumber, b.Cycles, 0, 1e5)), take("load", qMass, b.Load, 1, 5e5)*gravity/1000, take("high", qLength, b.High, 0.5, 500)
	if b.Date.Set {
		day, err := time.Parse(time.DateOnly, b.Date.V)
		if got.Day = int(day.Unix() / 86400); err != nil || got.Day < 1 {
			r.errorf(b.Date.At, "the date can't be read", fmt.Sprintf("%q", b.Date.V), "year-month-day: 2026-05-31", "")
			ok = false
		}
	}
	later := got.When == "visit" || got.When == "reset"
	switch {
	case later && !b.Date.Set:
		r.errorf(b.When.At, "a later reading has no date", "", "date: year-month-day", "")
	case later && !b.Charge.Set:
		r.errorf(b.When.At, "a later reading does not say how full the cells are", "", "charge: 0 to 1", "")
	case got.What == "weighed" && !b.High.Set:
		r.errorf(b.What.At, "a spring was weighed at no height", "", "high: its height on the scale", "")
	case slices.Contains([]string{"spring", "turns", "torque", "bow"}, got.What) && !b.When.Set:
		r.errorf(b.What.At, "it is not said when this was read", "", "when: snug, set, full, visit ...", "")
	default:
		return ok
	}
	return false
}

// gravity is the pull on one gram, mN.
const gravity = 9.80665

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
	if m.quantity == qLength || m.quantity == qNumber {
		text = strings.TrimSpace(strings.TrimSuffix(text, m.unit))
	}
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
		r.errorf(g.At, m.what+" is out of range", g.V, strings.TrimSpace(number.Trim(lo, 4)+" to "+number.Trim(hi, 4)+" "+m.unit), "")
	default:
		return x, true
	}
	return 0, false
}

// settleWholeCells wants every reading of each cell that has any.
func settleWholeCells(r *resolver) {
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
		if x.What == what && x.When == when && x.LoadN == 0 {
			x.Value, x.Uncertainty = mean.Value+x.Value, max(mean.Uncertainty, x.Uncertainty)
			mean, n = x, n+1
		}
	}
	mean.Value /= max(n, 1)
	return mean, n > 0
}

// tightening are the states of a clamp on the way to be set, tightens the quantities that only
// grow on it, or only fall.
var (
	tightening = []string{"snug", "quarter", "half", "three_quarters", "set"}
	tightens   = map[string]float64{"stack": -1, "spring": -1, "turns": 1, "torque": 1}
)

// mostUneven is by how many turns nuts may differ from one another: a judgement.
const mostUneven = 3

// settleTightened wants nuts to be turned about alike, and what is read of one rod, or of all, on the way to be set to go one way,
// but for the errors of the instruments.
func settleTightened(r *resolver) {
	type place struct{ what, where string }
	last := map[place]Reading{}
	refuse := func(was, x Reading, why, want string) {
		r.diags.Add(diag.Diagnostic{Summary: "the " + was.Name() + " and the " + x.Name() + " cannot both be right: " + why, Found: r.read(x) + " after " + r.read(was),
			Expected: want, Suggestion: "read both again, and take out what is wrong", Range: x.At, Related: []diag.Range{was.At}})
	}
	for _, when := range tightening {
		var turned Reading
		for _, x := range r.f.Readings {
			way, goes := tightens[x.What]
			if !goes || x.When != when {
				continue
			}
			if x.What == "turns" && turned.What != "" && math.Abs(x.Value-turned.Value) > mostUneven {
				refuse(turned, x, "the plates would lie askew", fmt.Sprintf("nuts that are turned alike, to %d turns", mostUneven))
			} else if x.What == "turns" && turned.What == "" {
				turned = x
			}
			was, before := last[place{x.What, x.Where}]
			if last[place{x.What, x.Where}] = x; before && was.When != when && way*(x.Value-was.Value) < -x.Uncertainty-was.Uncertainty {
				refuse(was, x, "nuts are only tightened on the way to be set", map[bool]string{true: "no less than before", false: "no more than before"}[way > 0])
			}
		}
	}
}

// settleBenched holds the readings at the clamp against one another and against what there is.
func settleBenched(r *resolver) {
	snug, a := r.f.Measured("stack", "snug")
	set, b := r.f.Measured("stack", "set")
	if a && b && set.Value >= snug.Value {
		r.diags.Add(diag.Diagnostic{Summary: "the stack got no shorter", Found: r.f.Style.Small(set.Value) + " after " + r.f.Style.Small(snug.Value), Expected: "a shorter stack as set", Range: set.At, Related: []diag.Range{snug.At}})
	} else {
		settleTightened(r)
	}
	most := Reading{}
	for _, x := range slices.SortedStableFunc(slices.Values(r.f.Readings), func(x, y Reading) int { return x.Day - y.Day }) {
		if x.Day > 0 && x.Cycles > 0 && x.Cycles < most.Cycles {
			r.diags.Add(diag.Diagnostic{Summary: "the cells have seen fewer cycles than before", Found: fmt.Sprintf("%d after %d", x.Cycles, most.Cycles), Expected: "cycles that never fall with the date", Range: x.At, Related: []diag.Range{most.At}})
		} else if x.Day > 0 && x.Cycles > 0 {
			most = x
		}
	}
}

// read writes what was read at the clamp in the shop's unit.
func (r *resolver) read(x Reading) string {
	switch x.Unit {
	case "mm":
		return r.f.Style.Small(x.Value)
	case "N.mm":
		return r.f.Style.Torques().Text(x.Value)
	}
	return number.Trim(x.Value, 2)
}

// Name names a reading at the clamp for a person: "spring height at left lower (set 2026-05-01)".
func (x Reading) Name() string {
	name := map[string]string{"stack": "distance of the plates", "spring": "spring height", "turns": "turns of the nuts", "torque": "torque", "running": "running torque of the nuts",
		"bow": "bow of the plate", "weighed": "spring on the scale"}[x.What]
	if x.LoadN > 0 {
		name = "length of the loose row under " + number.Trim(x.LoadN/gravity, 1) + " kg"
	}
	if x.Where != "" {
		name += " at " + x.Where
	}
	when := strings.ReplaceAll(x.When, "_", " ")
	if x.Day > 0 {
		when = strings.TrimSpace(when + " " + Date(x.Day))
	}
	if when != "" {
		name += " (" + when + ")"
	}
	return name
}

// Date is a day as it is written in a file.
func Date(day int) string { return time.Unix(int64(day)*86400, 0).UTC().Format(time.DateOnly) }

// AtClamp says whether a reading tells of the clamp as it is pressed.
func (x Reading) AtClamp() bool { return x.When != "" || x.What == "weighed" || x.LoadN > 0 }

// settleTied wants every reading at the clamp to be of a rod or a plate that there is.
func settleTied(r *resolver) {
	for _, x := range r.f.Readings {
		if !x.AtClamp() {
			continue
		}
		if _, ok := r.f.Spot(x); !ok {
			want := "front or back"
			if x.What != "bow" {
				want = strings.Join(r.f.TieNames(), ", ")
			}
			r.errorf(x.At, "there is no such place at the clamp", fmt.Sprintf("%q", x.Where), want, "")
		}
		if (x.What == "spring" || x.What == "weighed") && r.f.Spring == nil {
			r.errorf(x.At, "no springs are fitted that could be read", "", "stack, turns, torque or bow", "")
		}
	}
}

// Spot is the tie that a reading is of, or of bow the plate, the front one 0; -1: of all.
func (f *Fixture) Spot(x Reading) (at int, ok bool) {
	if x.Where == "" {
		return -1, true
	}
	if x.What == "bow" {
		at = slices.Index([]string{"front", "back"}, x.Where)
		return at, at >= 0
	}
	names := f.TieNames()
	for i, n := range names {
		column, level, _ := strings.Cut(n, " ")
		if x.Where == n || x.Where == level+" "+column || x.Where == fmt.Sprint("rod ", i+1) {
			return i, true
		}
	}
	return 0, false
}

// TieNames name the ties, in their order: "left lower".
func (f *Fixture) TieNames() (names []string) {
	for l := range f.Rods.Levels {
		for c := range f.Rods.Columns {
			names = append(names, ColumnName(c, len(f.Rods.Columns))+" "+LevelName(l, len(f.Rods.Levels)))
		}
	}
	return names
}

// ColumnName names rod column i of n, from -x to +x.
func ColumnName(i, n int) string {
	return placeName(i, n, [3]string{"left", "middle", "right"}, "column")
}

// LevelName names rod level i of n, upwards.
func LevelName(i, n int) string {
	return placeName(i, n, [3]string{"lower", "middle", "upper"}, "level")
}

// placeName returns words of position for up to three positions and numbers beyond.
func placeName(i, n int, words [3]string, noun string) string {
	switch {
	case n == 1:
		return words[1]
	case n == 2:
		return words[2*i]
	case n == 3:
		return words[i]
	}
	return fmt.Sprintf("%s-%d", noun, i+1)
}
