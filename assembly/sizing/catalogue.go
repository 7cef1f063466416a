package sizing

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// Catalogue is what a search may choose from. Every axis needs one entry at
// least; the candidates are all combinations.
type Catalogue struct {
	Plates  []Plate
	Angles  []string        // rows of the angles table; "" for none
	Levels  [][]unit.Length // heights of the rods, each list rising
	Threads []string
	Springs []Spring
	Middle  []bool // two rows: a column of rods between them
}

// Plate is what an end plate is cut from: a sheet, or two and more that are joined.
type Plate struct {
	Material  string
	Thickness unit.Length // in all
	Sheets    int         // joined; 0 for a plate of one piece
}

// plateOf is a settled fixture's.
func plateOf(f *params.Fixture) Plate {
	p := Plate{Material: f.Plate.Material.Name, Thickness: f.Plate.Thickness}
	if l := f.Plate.Laminate; l != nil {
		p.Sheets = l.Sheets
	}
	return p
}

// Spring is what sits under the nuts. The zero value is none: locked nuts.
type Spring struct {
	Disc, Coil       string // row of the table, one of the two
	Parallel, Series int    // discs
	Both             bool   // at both ends of every rod
	Derived          bool   // the fewest that do, of the tables
}

// None says that there is no spring.
func (s Spring) None() bool { return s.Disc == "" && s.Coil == "" && !s.Derived }

// springOf is a settled fixture's, named.
func springOf(f *params.Fixture) Spring {
	s := f.Spring
	switch {
	case s == nil:
		return Spring{}
	case s.Disc != nil:
		return Spring{Disc: s.Disc.Name, Parallel: s.Parallel, Series: s.Series, Both: s.BothEnds}
	}
	return Spring{Coil: s.Coil.Name, Both: s.BothEnds}
}

// String names the spring for people.
func (s Spring) String() string {
	ends := ""
	if s.Both {
		ends = " at both ends"
	}
	switch {
	case s.None():
		return "locked nuts"
	case s.Derived:
		return "springs" + ends
	case s.Coil != "":
		return "coil " + s.Coil + ends
	case s.Parallel > 1:
		return fmt.Sprintf("%d x %d discs %s%s", s.Series, s.Parallel, s.Disc, ends)
	}
	return fmt.Sprintf("%d discs %s%s", s.Series, s.Disc, ends)
}

// Size is the number of candidates.
func (c *Catalogue) Size() int {
	return len(c.Plates) * len(c.Angles) * len(c.Levels) * len(c.Threads) * len(c.Middle) * len(c.Springs)
}

// Choice is one candidate.
type Choice struct {
	Plate  Plate
	Angle  string
	Levels []unit.Length
	Thread string
	Middle bool
	Spring Spring
}

// at returns candidate i. Candidates that differ in their spring alone are
// neighbours: len(Springs) of them share a plate with its angles and rod places.
func (c *Catalogue) at(i int) Choice {
	next := func(n int) int {
		k := i % n
		i /= n
		return k
	}
	s := c.Springs[next(len(c.Springs))]
	m := c.Middle[next(len(c.Middle))]
	t := c.Threads[next(len(c.Threads))]
	l := c.Levels[next(len(c.Levels))]
	a := c.Angles[next(len(c.Angles))]
	return Choice{Plate: c.Plates[next(len(c.Plates))], Angle: a, Levels: l, Thread: t, Middle: m, Spring: s}
}

// check refuses a catalogue without candidates or with too many.
func (c *Catalogue) check() error {
	for _, axis := range []struct {
		what string
		n    int
	}{
		{"plate", len(c.Plates)}, {"angle", len(c.Angles)}, {"height of rods", len(c.Levels)},
		{"thread", len(c.Threads)}, {"spring", len(c.Springs)}, {"column", len(c.Middle)},
	} {
		if axis.n == 0 {
			return fmt.Errorf("no %s to choose from", axis.what)
		}
	}
	if n := c.Size(); n > MaxCandidates {
		return fmt.Errorf("%d candidates; %d at most", n, MaxCandidates)
	}
	return nil
}

// MaxCandidates bounds a catalogue: some minutes of searching.
const MaxCandidates = 200000

// changes are what the file must say for the choice to be made. What it gave for a
// part that the choice exchanges is taken out, so that it is derived anew.
func (c Choice) changes(in *params.File) []params.Change {
	e := &edits{}
	c.plate(in, e)
	c.thread(in, e)
	c.levels(in, e)
	if in.Pack.Rows.Or(1) > 1 {
		e.set("rods.middle_column", fmt.Sprint(c.Middle))
		e.drop("rods.columns")
	}
	if other := c.otherThread(in); !in.Nuts.Kind.Set && (other || !in.Nuts.Name.Set) && !c.Spring.None() {
		e.set("nuts.kind", "plain") // springs keep the nut tight; a plain one runs free
	}
	c.stiffeners(in, e)
	c.springs(in, e)
	return e.list
}

func (c Choice) plate(in *params.File, e *edits) {
	e.set("plates.material", params.Word(c.Plate.Material))
	if n := c.Plate.Sheets; n > 0 {
		e.set("plates.laminate.sheet", params.LengthText(c.Plate.Thickness/unit.Length(n), in.LengthUnit()))
		e.drop("plates.thickness")
	} else {
		e.set("plates.thickness", params.LengthText(c.Plate.Thickness, in.LengthUnit()))
		e.drop("plates.laminate")
	}
	e.drop("rods.length", "rods.end_allowance")
}

func (c Choice) otherThread(in *params.File) bool {
	return !strings.EqualFold(in.Rods.Thread.V, c.Thread)
}

func (c Choice) thread(in *params.File, e *edits) {
	e.set("rods.thread", params.Word(c.Thread))
	if c.otherThread(in) {
		e.drop("rods.hole", "rods.pilot", "rods.edge_distance", "rods.protrusion",
			"nuts.name", "nuts.drag_min", "nuts.drag_max", "washers.name", "tools.socket", "stiffeners.gauge")
	}
}

func (c Choice) levels(in *params.File, e *edits) {
	var heights []string
	for _, y := range c.Levels {
		heights = append(heights, params.LengthText(y, in.LengthUnit()))
	}
	e.set("rods.levels", "["+strings.Join(heights, ", ")+"]")
	e.drop("rods.level_count")
}

// edits collects changes of a file.
type edits struct{ list []params.Change }

func (e *edits) set(path, value string) {
	e.list = append(e.list, params.Change{Path: path, Value: value})
}

func (e *edits) drop(paths ...string) {
	for _, p := range paths {
		e.list = append(e.list, params.Change{Path: p, Why: "follows what was chosen"})
	}
}

func (c Choice) stiffeners(in *params.File, e *edits) {
	if c.Angle == "" {
		e.set("stiffeners", "none")
		return
	}
	e.set("stiffeners.angle", params.Word(c.Angle))
	if in.Stiffeners.Angle.V != c.Angle {
		e.drop("stiffeners.gauge", "stiffeners.chamfer")
	}
}

func (c Choice) springs(in *params.File, e *edits) {
	s := c.Spring
	switch {
	case s.Derived:
		e.drop("springs.coil", "springs.disc", "springs.parallel", "springs.series")
	case s.Disc != "":
		e.set("springs.disc", params.Word(s.Disc))
		e.set("springs.parallel", strconv.Itoa(max(1, s.Parallel)))
		e.set("springs.series", strconv.Itoa(s.Series))
		e.drop("springs.coil")
	case s.Coil != "":
		e.set("springs.coil", params.Word(s.Coil))
		e.drop("springs.disc", "springs.parallel", "springs.series")
	default:
		if in.Springs.Present {
			e.set("springs", "none")
		}
		return
	}
	ends := "one"
	if s.Both {
		ends = "both"
	}
	e.set("springs.ends", ends)
}

// What is offered without being listed in the file: usual sizes of what any shop
// can buy (common practice, no source). The user's own rows and stock are added.
var (
	usualPlates = []Plate{
		{"birch plywood", 12, 0}, {"birch plywood", 14.9, 0}, {"birch plywood", 17.7, 0}, {"birch plywood", 20.5, 0}, {"birch plywood", 23.4, 0},
		{"hdpe", 15, 0}, {"hdpe", 20, 0}, {"hdpe", 25, 0},
		{"6061-T6", 6, 0}, {"6061-T6", 8, 0}, {"6061-T6", 10, 0}, {"6061-T6", 12, 0},
	}
	usualInchPlates = []Plate{
		{"birch plywood", 12, 0}, {"birch plywood", 17.7, 0}, {"birch plywood", 23.4, 0},
		{"hdpe", 12.7, 0}, {"hdpe", 19.05, 0}, {"hdpe", 25.4, 0},
		{"6061-T6", 6.35, 0}, {"6061-T6", 9.525, 0}, {"6061-T6", 12.7, 0},
	}
	usualAngles = map[unit.LengthUnit][]string{
		unit.Millimetre: {"25x25x3 mm aluminium", "30x30x3 mm aluminium", "40x40x3 mm aluminium", "40x40x4 mm aluminium", "40x25x3 mm aluminium", "50x30x3 mm aluminium"},
		unit.Inch: {"1 x 1 x 1/8 in aluminium", "1-1/4 x 1-1/4 x 1/8 in aluminium", "1-1/2 x 1-1/2 x 1/8 in aluminium", "1-1/2 x 1-1/2 x 3/16 in aluminium",
			"1-1/2 x 1 x 1/8 in aluminium", "2 x 1 x 1/8 in aluminium"},
	}
	usualThreads = map[unit.LengthUnit][]string{
		unit.Millimetre: {"M6", "M8", "M10"},
		unit.Inch:       {"1/4-20", "5/16-18", "3/8-16"},
	}
	// usualSprings are derived for each candidate.
	usualSprings = []Spring{{Derived: true}, {Derived: true, Both: true}}
	// spreads are how far the outer rods stand from the middle, as shares of
	// half the height that the plate covers, by the number of levels.
	spreads = map[int][]float64{2: {0.40, 0.5, 0.62}, 3: {0.60, 0.70}, 4: {0.75}}
)

// Bounds of listed sheets that are offered for end plates, mm.
const (
	leastPlateMM, mostPlateMM = 6, 40
	leastMetalMM, mostMetalMM = 4, 20
)

// Offer is the catalogue of what the file's user has and can buy: the sheets,
// angles and rods listed in its stock and, unless only is set, the tables' usual
// sizes. f is the file settled as it is.
func Offer(in *params.File, f *params.Fixture, only bool) *Catalogue {
	c := &Catalogue{Springs: offerSprings(f, only), Levels: offerLevels(f), Middle: []bool{false}}
	if f.Pack.Rows > 1 {
		c.Middle = []bool{true, false}
	}
	c.plates(in, f, only)
	c.angles(f, only)
	c.threads(f, only)
	return c
}

// plates offers the file's own plate, then listed sheets, then usual ones; where plates are
// joined of sheets, also so many of each.
func (c *Catalogue) plates(in *params.File, f *params.Fixture, only bool) {
	own := plateOf(f)
	add := func(p Plate) {
		if !slices.Contains(c.Plates, p) {
			c.Plates = append(c.Plates, p)
		}
		if n := unit.Length(own.Sheets); n > 0 && p.Sheets == 0 && p.Material == own.Material && n*p.Thickness <= mostPlateMM && n*p.Thickness != own.Thickness {
			c.Plates = append(c.Plates, Plate{p.Material, n * p.Thickness, own.Sheets})
		}
	}
	add(own)
	for i := range in.Stock.Sheets {
		s := f.Stock.Sheets[i]
		if m, ok := f.Tables.Material(s.Material); ok && thick(m, s.Thickness) {
			add(Plate{Material: s.Material, Thickness: s.Thickness})
		}
	}
	usual := usualPlates
	if f.Style.Unit == unit.Inch {
		usual = usualInchPlates
	}
	for _, p := range usual {
		if _, ok := f.Tables.Material(p.Material); ok && !only && !c.nearly(p) {
			add(p)
		}
	}
}

// nearly says whether a sheet of about that thickness is offered already: the
// user's own figure for what is sold under another.
func (c *Catalogue) nearly(p Plate) bool {
	return slices.ContainsFunc(c.Plates, func(q Plate) bool {
		return q.Sheets == 0 && params.SheetStock{Material: q.Material, Thickness: q.Thickness}.Takes(p.Material, p.Thickness)
	})
}

// thick says whether a sheet is of a thickness that end plates are made of.
func thick(m catalog.Material, t unit.Length) bool {
	if m.Family == "metal" {
		return t >= leastMetalMM && t <= mostMetalMM
	}
	return t >= leastPlateMM && t <= mostPlateMM
}

// angles offers none, the file's own, listed ones, and usual ones of the
// file's system of units.
func (c *Catalogue) angles(f *params.Fixture, only bool) {
	c.Angles = []string{""}
	add := func(name string) {
		for _, a := range c.Angles {
			if a == name {
				return
			}
		}
		c.Angles = append(c.Angles, name)
	}
	if f.Stiffener != nil {
		add(f.Stiffener.Section.Name)
	}
	for _, s := range f.Stock.Angles {
		add(s.Item)
	}
	for _, name := range usualAngles[f.Style.Unit] {
		if a, ok := f.Tables.Angle(name); ok && !only {
			add(a.Name)
		}
	}
}

func (c *Catalogue) threads(f *params.Fixture, only bool) {
	add := func(name string) {
		for _, t := range c.Threads {
			if strings.EqualFold(t, name) {
				return
			}
		}
		if _, ok := f.Tables.Thread(name); ok {
			c.Threads = append(c.Threads, name)
		}
	}
	add(f.Rods.Thread.Name)
	for _, s := range f.Stock.Rods {
		add(s.Item)
	}
	if !only {
		for _, name := range usualThreads[f.Style.Unit] {
			add(name)
		}
	}
}

// offerSprings offers locked nuts, the file's own springs, and unless only these
// are wanted derived ones.
func offerSprings(f *params.Fixture, only bool) []Spring {
	out := []Spring{{}}
	if f.Spring != nil {
		out = append(out, springOf(f))
	}
	if !only {
		out = append(out, usualSprings...)
	}
	return out
}

// offerLevels offers the file's heights, then even ones about the middle.
func offerLevels(f *params.Fixture) [][]unit.Length {
	out := [][]unit.Length{f.Rods.Levels}
	lo, hi := max(f.Plate.Bottom, 0), min(f.Plate.Bottom+f.Plate.Height, f.Cell.Height)
	mid, half := (lo+hi)/2, (hi-lo)/2
	for n := 2; n <= 4; n++ {
		for _, spread := range spreads[n] {
			var at []unit.Length
			for k := range n {
				y := mid + half*unit.Length(spread*(2*float64(k)/float64(n-1)-1))
				at = append(at, shopSize(y, f.Style.Unit))
			}
			out = append(out, at)
		}
	}
	return out
}

// shopSize rounds to what a shop measures: a millimetre, or a sixteenth.
func shopSize(l unit.Length, u unit.LengthUnit) unit.Length {
	step := unit.Length(1)
	if u == unit.Inch {
		step = unit.MMPerInch / 16
	}
	size := math.Floor(float64(l/step)+0.5) * float64(step)
	return unit.Length(math.Round(size*1e6) / 1e6) // as the size reads back from a file
}
