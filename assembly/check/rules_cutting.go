package check

import (
	"fmt"
	"math"
	"slices"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// measureSheets compares every flat part with the sheet it fits best.
func measureSheets(b *bench) ([]finding.Finding, error) {
	var all []finding.Finding
	for _, p := range b.nominal.Parts {
		if p.Make != parts.MakeSheet || p.Flat == nil {
			continue
		}
		none := finding.Finding{Sense: finding.AtLeast, Verdict: finding.Warn, Need: max(p.SizeMM[0], p.SizeMM[1]), Between: []string{p.ID, "no sheet listed"}, Way: "width"}
		best := &none
		for _, s := range b.fixture.Stock.Sheets {
			if !assembly.IsStockFor(s, p) {
				continue
			}
			q := onSheet(b.fixture, s, p)
			if best == &none || finding.Compare(q, *best) >= 0 {
				best = &q
			}
		}
		var t tally
		t.add(*best)
		all = append(all, t.finding(p.ID, "mm")...)
	}
	return all, nil
}

// onSheet measures the direction in which a part has least room on a sheet.
func onSheet(f *params.Fixture, s params.SheetStock, p *parts.Part) finding.Finding {
	w, h := assembly.SheetRoom(f, s, p)
	room, need, along := w, p.SizeMM[0], "width"
	if h-p.SizeMM[1] < w-p.SizeMM[0] {
		room, need, along = h, p.SizeMM[1], "height"
	}
	q := atLeast(room, need, need)
	q.Between, q.Way = []string{p.ID, "sheet " + s.ID}, along
	return q
}

func cureSheets(b *bench, f finding.Finding) []change {
	if f.Of != string(parts.KindPlate) {
		return nil
	}
	p := b.fixture.Plate
	return []change{
		b.move("plates.height", p.Height.MM(), -1, p.Height.MM()/2, "make the plate lower"),
		b.move("plates.width", p.Width.MM(), -1, p.Width.MM()/2, "make the plate narrower"),
	}
}

func wordsSheets(b *bench, f finding.Finding) string {
	if f.Have == 0 {
		return fmt.Sprintf("list a sheet of its material and thickness of %s or more in stock.sheets", b.up(f.Need))
	}
	return fmt.Sprintf("use a sheet with %s more %s", b.up(f.Need-f.Have), f.Way)
}

// cutList is the sawn pieces of one kind of stock.
type cutList struct {
	kind  parts.Kind
	item  string
	stock []params.LengthStock
}

// measureLengths packs the sawn parts into the lengths at hand, longest first,
// each into the first length with room; a saw kerf is lost between pieces. The
// finding compares the first piece that finds no room with the most room left.
func measureLengths(b *bench) ([]finding.Finding, error) {
	f := b.fixture
	lists := []cutList{{parts.KindRod, f.Rods.Thread.Name, f.Stock.Rods}}
	if f.Stiffener != nil {
		lists = append(lists, cutList{parts.KindStiffener, f.Stiffener.Section.Name, f.Stock.Angles})
	}
	var all []finding.Finding
	for _, l := range lists {
		var t tally
		if p, ok := packLengths(b, l); ok {
			t.add(p)
			all = append(all, t.finding(string(l.kind), "mm")...)
		}
	}
	return all, nil
}

// packLengths packs one list; ok is false when no stock of the item is listed.
func packLengths(b *bench, l cutList) (p finding.Finding, ok bool) {
	room, bought := lengthsOf(l)
	if len(room) == 0 && bought == 0 {
		return finding.Finding{}, false
	}
	kerf := b.fixture.Stock.SawKerf.MM()
	least := finding.Finding{Sense: finding.AtLeast, Verdict: finding.Pass, Have: math.Inf(1)}
	for _, piece := range b.pieces(l.kind) {
		i := slices.IndexFunc(room, func(r float64) bool { return r >= piece.length-Slack })
		most := bought
		if len(room) > 0 {
			most = max(bought, slices.Max(room))
		}
		if i < 0 && bought < piece.length-Slack {
			p = atLeast(most, piece.length, piece.length)
			p.Between = []string{piece.id, l.item}
			return p, true
		}
		if i < 0 {
			room, i = append(room, bought), len(room)
			most = bought
		}
		if most-piece.length < least.Margin() {
			least = finding.Finding{Sense: finding.AtLeast, Verdict: finding.Pass, Have: most, Need: piece.length, Between: []string{piece.id, l.item}}
		}
		room[i] -= piece.length + kerf
	}
	return least, true
}

// lengthsOf returns the lengths at hand of the item, shortest first so that
// short lengths are used up, and the longest that can be bought, 0 when none.
func lengthsOf(l cutList) (room []float64, bought float64) {
	for _, s := range l.stock {
		if s.Item != "" && s.Item != l.item {
			continue
		}
		if s.Quantity == 0 {
			bought = max(bought, s.Length.MM())
		}
		for range s.Quantity {
			room = append(room, s.Length.MM())
		}
	}
	slices.Sort(room)
	return room, bought
}

type piece struct {
	id     string
	length float64
}

// pieces lists the sawn pieces of one kind, longest first.
func (b *bench) pieces(k parts.Kind) []piece {
	var all []piece
	for _, line := range b.nominal.PartsList() {
		if line.Part.Kind == k {
			for range line.Quantity {
				all = append(all, piece{line.Part.ID, line.Part.SizeMM[0]})
			}
		}
	}
	slices.SortStableFunc(all, func(p, q piece) int { return -cmpFloat(p.length, q.length) })
	return all
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func wordsLengths(b *bench, f finding.Finding) string {
	return fmt.Sprintf("one more length of %s of %s or more is needed", f.Between[1], b.up(f.Need))
}

// cutterPlay is how much wider than the cutter a hole should be so that the
// cutter can go round in it, mm: common practice, no source.
const cutterPlay = 0.2

// measureCutterHoles compares the smallest hole of every flat part with the
// cutter.
func measureCutterHoles(b *bench) ([]finding.Finding, error) {
	cutter := b.fixture.Tools.Cutter.MM()
	if cutter <= 0 {
		return nil, nil
	}
	var t tally
	for _, p := range b.sheetParts() {
		for i, c := range p.Flat.Profile.Circles {
			q := atLeast(2*c.R, cutter, cutter+cutterPlay)
			q.Between = []string{fmt.Sprintf("%s hole %d", p.ID, i+1), "tool: cutter"}
			t.add(q)
		}
	}
	return t.finding("", "mm"), nil
}

func cureCutter(b *bench, _ finding.Finding) []change {
	d := b.fixture.Tools.Cutter.MM()
	return []change{b.move("tools.cutter", d, -1, d, "use a thinner cutter")}
}

// measureInnerRadii compares inside corners with the cutter's radius.
func measureInnerRadii(b *bench) ([]finding.Finding, error) {
	cutter := b.fixture.Tools.Cutter.MM()
	if cutter <= 0 {
		return nil, nil
	}
	var t tally
	for _, p := range b.sheetParts() {
		for _, path := range append([]geom.Path{p.Flat.Profile.Outer}, p.Flat.Profile.Slots...) {
			for _, c := range innerCorners(path) {
				q := atLeast(c.radius, sharpest(p, cutter/2), cutter/2)
				q.Between, q.At = []string{p.ID, "tool: cutter"}, spot(geom.Vec3{X: c.at.X, Y: c.at.Y})
				t.add(q)
			}
		}
	}
	return t.finding("", "mm"), nil
}

// sharpest is the radius below which an inside corner fails: a window in a soft
// sheet may keep the cutter's radius in its corners, so it only warns.
func sharpest(p *parts.Part, r float64) float64 {
	if p.Kind == parts.KindSeparator || p.Kind == parts.KindLiner {
		return 0
	}
	return r
}

// sheetParts are the parts with a flat outline that a router or laser cuts.
func (b *bench) sheetParts() []*parts.Part {
	return slices.DeleteFunc(slices.Clone(b.nominal.Parts), func(p *parts.Part) bool {
		return p.Make != parts.MakeSheet || p.Flat == nil
	})
}

// drillMatch is how far a drill may be from the hole's size, mm: under the
// spread of a twist drill's own hole (common practice, no source).
const drillMatch = 0.05

// measureDrills asks for a drill of each drilled size in the user's set.
func measureDrills(b *bench) ([]finding.Finding, error) {
	set := b.fixture.Tools.Drills
	if len(set) == 0 {
		return nil, nil
	}
	sizes := []struct {
		param string
		dia   float64
	}{{"rods.hole", b.fixture.Rods.Hole.MM()}, {"rods.pilot", b.fixture.Rods.Pilot.MM()}}
	if feet := b.fixture.Plate.Feet; feet != nil {
		sizes = append(sizes, struct {
			param string
			dia   float64
		}{"plates.feet.hole", feet.HoleDia.MM()})
	}
	var all []finding.Finding
	for _, s := range sizes {
		if s.dia <= 0 {
			continue
		}
		near := nearestDrill(set, s.dia)
		p := finding.Finding{Verdict: finding.Pass, Have: near.Dia.MM(), Sense: finding.Within, Need: s.dia - drillMatch, Most: s.dia + drillMatch, Between: []string{s.param, "drill " + near.Name}}
		if p.Margin() < 0 {
			p.Verdict = finding.Warn
		}
		var t tally
		t.add(p)
		all = append(all, t.finding(s.param, "mm")...)
	}
	return all, nil
}

func nearestDrill(set []catalog.Drill, dia float64) catalog.Drill {
	return slices.MinFunc(set, func(p, q catalog.Drill) int {
		return cmpFloat(math.Abs(p.Dia.MM()-dia), math.Abs(q.Dia.MM()-dia))
	})
}

// cureDrills takes the next larger drill of the set, else the nearest.
func cureDrills(b *bench, f finding.Finding) []change {
	best := nearestDrill(b.fixture.Tools.Drills, f.Need+drillMatch)
	for _, d := range b.fixture.Tools.Drills {
		bigger := d.Dia.MM() >= f.Need
		if bigger && (best.Dia.MM() < f.Need || d.Dia < best.Dia) {
			best = d
		}
	}
	return []change{b.exactly(f.Of, best.Dia, fmt.Sprintf("drill %s", best.Name))}
}

// exactly is the change of one parameter to a given value.
func (b *bench) exactly(param string, to unit.Length, words string) change {
	return change{
		at: func(float64) []finding.Setting { return []finding.Setting{{Param: param, Value: to.MM()}} },
		text: func(float64, []finding.Setting) string {
			return fmt.Sprintf("%s: set %s to %s", words, param, b.length(to.MM()))
		},
		max: math.Inf(1),
	}
}

// measureBed compares printed parts with the printer's bed, lying or turned a
// quarter, standing as modelled or on another side.
func measureBed(b *bench) ([]finding.Finding, error) {
	p := b.fixture.Printer
	bed := []float64{p.BedX.MM(), p.BedY.MM(), p.BedZ.MM()}
	slices.Sort(bed)
	var t tally
	for _, part := range prints(b.nominal) {
		size := part.SizeMM[:]
		size = slices.Sorted(slices.Values(size))
		worst := 0
		for i := range size {
			if bed[i]-size[i] < bed[worst]-size[worst] {
				worst = i
			}
		}
		q := atLeast(bed[worst], size[worst], size[worst])
		q.Between = []string{part.ID, "printer bed"}
		t.add(q)
	}
	return t.finding("", "mm"), nil
}

func wordsBed(b *bench, f finding.Finding) string {
	n := math.Ceil(f.Need / f.Have)
	return fmt.Sprintf("print %s in %.0f pieces of %s, or on a bed of %s", f.Between[0], n, b.up(f.Need/n), b.up(f.Need))
}

// measureWalls compares the walls of printed sleeves and ribs with the
// thinnest the printer makes.
func measureWalls(b *bench) ([]finding.Finding, error) {
	f := b.fixture
	var t tally
	wall := func(name string, thick float64) {
		p := atLeast(thick, f.Printer.MinWall.MM(), f.Printer.MinWall.MM())
		p.Between = []string{name, "printer nozzle"}
		t.add(p)
	}
	if s := f.Sleeve; s != nil && s.Printed {
		wall("sleeve", (s.Outer.MM()-s.Inner.MM())/2)
	}
	for _, i := range b.inserts() {
		if i.spec.Printed && i.spec.Border > 0 {
			wall(i.name, i.spec.Border.MM())
		}
	}
	return t.finding("", "mm"), nil
}

func wordsWalls(b *bench, f finding.Finding) string {
	return fmt.Sprintf("make the wall of the %s %s or thicker", f.Between[0], b.up(f.Need))
}

// wordsInner says what cutter goes into the sharpest corner there is.
func wordsInner(b *bench, f finding.Finding) string {
	if f.Have < Slack {
		return fmt.Sprintf("leave a radius of %s in the corner, or cut it with a laser (tools.cutter: 0)", b.up(f.Need))
	}
	return fmt.Sprintf("use a cutter of %s or less", b.down(2*f.Have))
}
