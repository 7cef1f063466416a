package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"clampwright/assembly/finding"
	"clampwright/assembly/nest"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// measureStock counts the pieces of every part cut from sheet, or of every kind of
// part sawn to length, that the plan of cutting finds stock for.
func measureStock(sheet bool) func(*scene) ([]finding.Finding, error) {
	return func(b *scene) (all []finding.Finding, err error) {
		plan, err := b.cutting()
		if err != nil {
			return nil, err
		}
		var kinds []string
		of := map[string]*tally{}
		for _, c := range plan.Cuts {
			if c.Sheet != sheet {
				continue
			}
			kind := c.Part.ID
			if !sheet {
				kind = string(c.Part.Kind)
			}
			if of[kind] == nil {
				kinds, of[kind] = append(kinds, kind), &tally{}
			}
			q := atLeast(float64(c.Quantity-c.Missing), float64(c.Quantity), float64(c.Quantity))
			q.Between = []string{c.Part.ID, "stock of " + c.Item}
			of[kind].add(q)
		}
		for _, kind := range kinds {
			all = append(all, of[kind].finding(kind, "pieces")...)
		}
		return all, nil
	}
}

// cutting plans how the parts are cut from the stock, once.
func (b *scene) cutting() (*nest.Nesting, error) {
	if b.plan == nil {
		plan, err := nest.Of(b.nominal)
		if err != nil {
			return nil, err
		}
		b.plan = &plan
	}
	return b.plan, nil
}

// wordsStock says what is to be found or bought so that all pieces have stock.
func wordsStock(b *scene, f finding.Finding) string {
	i := slices.IndexFunc(b.plan.Cuts, func(c nest.Cut) bool { return c.Part.ID == f.Between[0] })
	c := b.plan.Cuts[i]
	size, what := b.up(c.SizeMM[0]), c.Item
	if c.Sheet {
		what += " of " + b.length(c.Part.Flat.ThicknessMM)
		size = fmt.Sprintf("%s x %s and the rim of %s round it", size, b.up(c.SizeMM[1]), b.up(nest.SheetJobOf(b.fixture).MarginMM))
	}
	said := fmt.Sprintf("%s is missing for %.0f more of %s, each %s", what, f.Need-f.Have, c.Part.ID, size)
	if rows := params.RowsFor(b.fixture); c.Part.Kind == parts.KindRod && rows > b.fixture.Pack.Rows {
		said += fmt.Sprintf("; or stand the cells in %d rows of %d", rows, (b.fixture.Pack.Cells+rows-1)/rows)
	}
	return said
}

// measureSweep compares what each tool sweeps, lead-in and all, with the edges of the
// sheet, with the other parts on it and with where it is held.
func measureSweep(b *scene) ([]finding.Finding, error) {
	plan, err := b.cutting()
	if err != nil || plan.Machining.ToolMM == 0 {
		return nil, err
	}
	var edge, other, held tally
	for _, s := range plan.Machining.Sheets {
		name := fmt.Sprintf("sheet %d", s.Number)
		for _, op := range s.Ops {
			box, part := op.Swept(plan.Machining.ToolMM), s.Placed[op.Piece].ID
			if s.Hand || box.Min.X > box.Max.X {
				continue
			}
			room := min(box.Min.X, box.Min.Y, s.Sheet.Width.MM()-box.Max.X, s.Sheet.Height.MM()-box.Max.Y)
			edge.near(room, 0, 0, part, "edge of "+name)
			for i := range s.Placed {
				if i != op.Piece {
					other.near(box.Dist(s.BoxOf(i)), apartLeast, apartLeast, part, s.Placed[i].ID+" on "+name)
				}
			}
			for _, h := range s.Holds {
				held.near(box.Dist(h), apartLeast, apartLeast, part, "hold of "+name)
			}
		}
	}
	return slices.Concat(edge.finding("edge", "mm"), other.finding("neighbour", "mm"), held.finding("hold", "mm")), nil
}

// heldAt is how many tabs hold a part, and how many places a sheet: one lets it turn.
const heldAt = 2

// measureHeld counts the tabs of every part and the places to hold every sheet.
func measureHeld(b *scene) ([]finding.Finding, error) {
	plan, err := b.cutting()
	if err != nil || plan.Machining.Machine != params.Router {
		return nil, err
	}
	var tabs, holds tally
	for _, s := range plan.Machining.Sheets {
		if s.Hand {
			continue
		}
		name := fmt.Sprintf("sheet %d", s.Number)
		holds.near(float64(len(s.Holds)), 0, heldAt, name, "router table")
		for _, op := range s.Ops {
			if op.Kind == nest.Outside {
				tabs.near(float64(len(op.Tabs)), 0, heldAt, s.Placed[op.Piece].ID, name)
			}
		}
	}
	return append(tabs.finding("tabs", "pieces"), holds.finding("sheet", "pieces")...), nil
}

func wordsHeld(_ *scene, f finding.Finding) string {
	return fmt.Sprintf("stick %s down with double-sided tape all over, or hold it by vacuum", f.Between[0])
}

// cutterPlay is how much wider than the cutter a hole should be so that the
// cutter can go round in it, mm: common practice, no source.
const cutterPlay = 0.2

// measureCutterHoles compares the holes of every flat part that is made with the cutter.
func measureCutterHoles(b *scene) ([]finding.Finding, error) {
	cutter := b.fixture.Tools.Cutter.MM()
	if cutter <= 0 {
		return nil, nil
	}
	var t, links tally
	for _, p := range slices.Concat(b.sheetParts(), b.ofKind(parts.KindLink)) {
		into := &t
		if p.Kind == parts.KindLink {
			into = &links
		}
		if p.Make == parts.MakeBuy {
			continue // its holes are there
		}
		for i, c := range p.Flat.Profile.Circles {
			q := atLeast(2*c.R, 0, cutter+cutterPlay) // what it can't open is drilled: the plan has it so
			q.Between, q.At = []string{holeName(p, i), "tool: cutter"}, b.onPart(p, c.C)
			into.add(q)
		}
	}
	return append(t.finding("", "mm"), links.finding("link", "mm")...), nil
}

// wordsCutterHole says how a hole is made that the cutter does not go into.
func wordsCutterHole(_ *scene, f finding.Finding) string {
	if f.Of == "link" {
		return fmt.Sprintf("drill %s: the cutter can't open it", f.Between[0])
	}
	return fmt.Sprintf("drill %s where the file marks it", f.Between[0])
}

// measureInnerRadii compares inside corners with the cutter's radius.
func measureInnerRadii(b *scene) ([]finding.Finding, error) {
	cutter := b.fixture.Tools.Cutter.MM()
	if cutter <= 0 {
		return nil, nil
	}
	var t tally
	for _, p := range b.sheetParts() {
		for _, path := range append([]geom.Path{p.Flat.Profile.Outer}, p.Flat.Profile.Slots...) {
			for _, c := range innerCorners(path) {
				q := atLeast(c.radius, sharpest(p, cutter/2), cutter/2)
				q.Between, q.At = []string{p.ID, "tool: cutter"}, b.onPart(p, c.at)
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
func (b *scene) sheetParts() []*parts.Part {
	return slices.DeleteFunc(slices.Clone(b.nominal.Parts), func(p *parts.Part) bool {
		return p.Make != parts.MakeSheet || p.Joined || p.Flat == nil || p.Kind == parts.KindLink
	})
}

// drillMatch is how far a drill may be from the hole's size, mm: under the
// spread of a twist drill's own hole (common practice, no source).
const drillMatch = 0.05

// measureDrills asks for a drill of each drilled size in the user's set.
func measureDrills(b *scene) ([]finding.Finding, error) {
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
		return cmp.Compare(math.Abs(p.Dia.MM()-dia), math.Abs(q.Dia.MM()-dia))
	})
}

// measureBed compares printed parts with the printer's bed, lying or turned a
// quarter, standing as modelled or on another side.
func measureBed(b *scene) ([]finding.Finding, error) {
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

// measureWalls compares the walls of printed sleeves and ribs with the
// thinnest the printer makes.
func measureWalls(b *scene) ([]finding.Finding, error) {
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
