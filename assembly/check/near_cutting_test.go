package check

import (
	"math"
	"slices"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/assembly/nest"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/parts"
	"clampwright/parts/geom"
)

func cutter(dia float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Tools.Cutter = mm(dia) }
}

// A hole should be 0.2 mm larger than the cutter, else it is drilled; holes of every size
// are compared.
func TestCutterHolesNear(t *testing.T) {
	checkNear(t, "hole-for-cutter", []near{
		{"", sample.FourCells, cutter(hole - 0.2 - over), finding.Pass, hole, hole - over},
		{"", sample.FourCells, cutter(hole - 0.2 - under), finding.Warn, hole, hole - under},
		{"", sample.FourCells, cutter(hole - over), finding.Warn, hole, hole - over + 0.2},
		{"", sample.FourCells, cutter(hole - under), finding.Warn, hole, hole - under + 0.2},
		{"", sample.FourCells, all(feet(14, 6), cutter(6-under)), finding.Warn, 6, 6 - under + 0.2},
		{"", sample.FourCells, cutter(0), "", 0, 0},
	})
}

// A link's hole only warns: it can be drilled. One that is bought has its holes.
func TestLinkHolesNear(t *testing.T) {
	for i, c := range []struct {
		cutter float64
		want   finding.Verdict
	}{{0, ""}, {6.39, finding.Pass}, {6.42, finding.Warn}, {9, finding.Warn}} {
		a := linked(t, 20, nil)
		a.Fixture.Tools.Cutter = mm(c.cutter)
		found := judged(t, "hole-for-cutter", a)
		k := slices.IndexFunc(found, func(f finding.Finding) bool { return f.Of == "link" })
		if k < 0 && c.want != "" || k >= 0 && found[k].Verdict != c.want {
			t.Errorf("case %d: %+v, want %s", i, found, c.want)
		}
		for _, p := range a.Parts {
			if p.Kind == parts.KindLink {
				p.Make = parts.MakeBuy
			}
		}
		if slices.ContainsFunc(judged(t, "hole-for-cutter", a), func(f finding.Finding) bool { return f.Of == "link" }) {
			t.Errorf("case %d: judges the holes of a bought link", i)
		}
	}
}

// The whole width of a tool stays on the sheet and off the neighbours, its lead-in too,
// which is half a web off its way: of a sheet that is the plate none is cut by a machine,
// nor is any by hand.
func TestToolOnSheetNear(t *testing.T) {
	const c, lead = 3.175, 0.5
	room := func(margin, gap float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Stock.Margin, f.Stock.PartGap = mm(margin), mm(gap) }
	}
	whole := func(f *params.Fixture) { f.Stock.Sheets[0].Height = mm(195) }
	kerf := func(f *params.Fixture) { f.Tools.Cutter, f.Stock.BeamKerf = 0, 0.2 }
	checkNear(t, "tool-on-sheet", []near{
		{"edge", sample.FourCells, none, finding.Pass, 5 - c - lead, 0},
		{"edge", sample.FourCells, room(c+lead+over, 6), finding.Pass, over, 0},
		{"edge", sample.FourCells, room(c+lead+under, 6), finding.Fail, under, 0},
		{"edge", sample.FourCells, all(room(0.2+lead+over, 6), kerf), finding.Pass, over, 0},
		{"edge", sample.FourCells, all(room(0.2+lead+under, 6), kerf), finding.Fail, under, 0},
		{"edge", sample.FourCells, whole, "", 0, 0},
		{"edge", sample.FourCells, all(whole, cutter(0)), "", 0, 0},
		{"neighbour", sample.FourCells, none, finding.Pass, 6 - c - lead, apartLeast},
		{"neighbour", sample.FourCells, room(5, c+lead+apartLeast+over), finding.Pass, apartLeast + over, apartLeast},
		{"neighbour", sample.FourCells, room(5, c+lead+apartLeast+under), finding.Fail, apartLeast + under, apartLeast},
	})
}

// The plan as it is made keeps its tools on their sheets; the sweep is judged all the same:
// of one that is moved, by what it leaves.
func TestToolOnSheetSpoiled(t *testing.T) {
	const c, lead = 3.175, 0.5
	for i, s := range []struct {
		of   string
		move func(*nest.Machined)
		have float64
	}{
		{"edge", func(s *nest.Machined) { s.Sheet.Height = mm(s.Placed[0].At.Y + 195 + c + lead - 0.02) }, -0.02},
		{"edge", func(s *nest.Machined) { s.Sheet.Height = mm(s.Placed[0].At.Y + 195 + c + lead) }, 0},
		{"hold", func(s *nest.Machined) {
			s.Holds[0] = geom.Box2{Min: s.Placed[0].At, Max: s.Placed[0].At.Add(geom.Vec2{X: 1, Y: 1})}
		}, 0},
		{"neighbour", func(s *nest.Machined) { s.Placed[1].At.X = s.Placed[0].At.X + s.Placed[0].WidthMM + c + lead + 0.005 }, 0.005},
	} {
		a, err := assembly.Build(sample.FourCells())
		if err != nil {
			t.Fatal(err)
		}
		b := newScene(a)
		plan, err := b.cutting()
		if err != nil {
			t.Fatal(err)
		}
		s.move(&plan.Machining.Sheets[0])
		found, err := measureSweep(b)
		k := slices.IndexFunc(found, func(f finding.Finding) bool { return f.Of == s.of })
		if err != nil || k < 0 || (found[k].Verdict == finding.Pass) != (s.of == "edge" && s.have == 0) || math.Abs(found[k].Have-s.have) > 1e-6 {
			t.Errorf("case %d: %+v, %v", i, found, err)
		}
	}
}

// Two tabs hold a part and two places a sheet, on a router.
func TestPartHeldNear(t *testing.T) {
	sheet := func(w, h float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Stock.Sheets[0].Width, f.Stock.Sheets[0].Height = mm(w), mm(h) }
	}
	round := func(f *params.Fixture) { f.Plate.CornerRadius = mm(195/2 - 9) }
	checkNear(t, "part-held", []near{
		{"tabs", sample.FourCells, none, finding.Pass, 4, 2},
		{"tabs", sample.FourCells, round, finding.Pass, 4, 2},
		{"sheet", sample.FourCells, sheet(24*25.4, 210), finding.Pass, 4, 2},
		{"sheet", sample.FourCells, sheet(525, 210), finding.Warn, 0, 2},
		{"sheet", sample.FourCells, all(sheet(525, 210), cutter(0)), "", 0, 0},
	})
}

// The ends of a slot for ties are as sharp as half its width; corners of windows in
// soft sheets only warn.
func TestInnerRadiiNear(t *testing.T) {
	frame := func(f *params.Fixture) { f.Separator.Pattern, f.Separator.Border = "frame", 20 }
	behind := func(f *params.Fixture) { f.Liner.Pattern, f.Liner.Border = "frame", 20 }
	checkNear(t, "inner-radius", []near{
		{"", sample.TwoRows, all(frame, cutter(0.008)), finding.Pass, 0, 0.004},
		{"", sample.TwoRows, all(frame, cutter(0.012)), finding.Warn, 0, 0.006},
		{"", sample.TwoRows, all(behind, cutter(6)), finding.Warn, 0, 3},
		{"", sample.TwoRows, all(frame, cutter(0)), "", 0, 0},
		{"", sample.FourCells, none, "", 0, 0},
	})
}

// A plate's inside corner fails where a soft sheet's warns.
func TestInnerRadiusOfPlates(t *testing.T) {
	f := sample.FourCells()
	f.Plate.TieSlots = true
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	sharp := judged(t, "inner-radius", a)[0]
	f.Tools.Cutter = mm(2*sharp.Have - 2*over) // the slots stay as they were placed
	if got := judged(t, "inner-radius", a)[0]; got.Verdict != finding.Pass || math.Abs(got.Need-sharp.Have+over) > nearBy {
		t.Errorf("%+v", got)
	}
	f.Tools.Cutter = mm(2*sharp.Have - 2*under)
	got := judged(t, "inner-radius", a)[0]
	if got.Verdict != finding.Fail || got.At == nil {
		t.Fatalf("%+v", got)
	}
	if box := newScene(a).box(a.PlateAt(assembly.Front)).Union(newScene(a).box(a.PlateAt(assembly.Back))); got.At.Z < box.Min.Z-1 || got.At.Z > box.Max.Z+1 || math.Abs(got.At.Z) < 100 {
		t.Errorf("the corner is said to be at %v, off the plates", *got.At)
	}
}

// A drill may be 0.05 mm off its hole; the nearest of the set is taken, whichever
// side it is on.
func TestDrillsNear(t *testing.T) {
	rods := func(dia float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Rods.Hole = mm(dia) }
	}
	pilot := func(dia float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Rods.Pilot = mm(dia) }
	}
	set := func(dias ...float64) func(*params.Fixture) {
		return func(f *params.Fixture) {
			f.Tools.Drills = nil
			for _, d := range dias {
				f.Tools.Drills = append(f.Tools.Drills, catalog.Drill{Name: "d", Dia: mm(d)})
			}
		}
	}
	checkNear(t, "drill-at-hand", []near{
		{"rods.hole", sample.FourCells, rods(hole + 0.049), finding.Pass, hole, hole - 0.001},
		{"rods.hole", sample.FourCells, rods(hole + 0.051), finding.Warn, hole, hole + 0.001},
		{"rods.hole", sample.FourCells, rods(hole - 0.049), finding.Pass, hole, hole - 0.099},
		{"rods.hole", sample.FourCells, rods(hole - 0.051), finding.Warn, hole, hole - 0.101},
		{"rods.hole", sample.FourCells, all(set(8, 9, 8.8, 8.5, 10), rods(8.6)), finding.Warn, 8.5, 8.55},
		{"rods.hole", sample.FourCells, all(set(8, 9, 8.8, 8.5, 10), rods(8.7)), finding.Warn, 8.8, 8.65},
		{"rods.pilot", sample.FourCells, pilot(3.04), finding.Pass, 3, 2.99},
		{"rods.pilot", sample.FourCells, pilot(0), "", 0, 0},
		{"plates.feet.hole", sample.FourCells, feet(14, 11.06), finding.Warn, 11, 11.01},
		{"plates.feet.hole", sample.FourCells, none, "", 0, 0},
		{"rods.hole", sample.FourCells, set(), "", 0, 0},
	})
}

// A sleeve must go on the bed in some position; long ones are made in pieces.
func TestBedNear(t *testing.T) {
	const across = 24.0
	bed := func(x, y, z float64) func(*params.Fixture) {
		return func(f *params.Fixture) {
			f.Sleeve.Outer, f.Printer.BedX, f.Printer.BedY, f.Printer.BedZ = across, mm(x), mm(y), mm(z)
		}
	}
	checkNear(t, "fits-bed", []near{
		{"", sleeved, bed(across+over, 250, across+over), finding.Pass, across + over, across},
		{"", sleeved, bed(across+under, 250, across+1), finding.Fail, across + under, across},
		{"", sleeved, bed(250, across+under, across+1), finding.Fail, across + under, across},
		{"", sleeved, bed(across+1, 250, across+under), finding.Fail, across + under, across},
		{"", sample.FourCells, none, "", 0, 0},
	})
}

// The side that is shortest of room is told, whichever it is.
func TestBedSides(t *testing.T) {
	for i, c := range []struct {
		size       [3]float64
		have, need float64
	}{{[3]float64{30, 10, 24}, 23, 24}, {[3]float64{21, 22, 30}, 20, 21}, {[3]float64{20, 22, 210}, 200, 210}, {[3]float64{210, 22, 25}, 200, 210}} {
		b := printedBench(t, parts.Print{}, func(f *params.Fixture) { f.Printer.BedX, f.Printer.BedY, f.Printer.BedZ = 200, 20, 23 })
		for _, p := range prints(b.nominal) {
			p.SizeMM = c.size
		}
		found, err := ruleByID(t, "fits-bed").eval(b)
		if err != nil {
			t.Fatal(err)
		}
		checkFound(t, "fits-bed", i, near{want: finding.Fail, have: c.have, need: c.need}, found)
	}
}

// Walls of printed sleeves and ribs; what is bought or solid has none.
func TestWallsNear(t *testing.T) {
	least := func(wall float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Printer.MinWall = mm(wall) }
	}
	bought := func(f *params.Fixture) { f.Sleeve.Printed = false }
	ribs := func(border float64, printed bool) func(*params.Fixture) {
		return func(f *params.Fixture) {
			f.Separator.Printed, f.Separator.Border = printed, mm(border)
		}
	}
	checkNear(t, "wall-printable", []near{
		{"", sleeved, least(1.2 - over), finding.Pass, 1.2, 1.2 - over},
		{"", sleeved, least(1.2 - under), finding.Fail, 1.2, 1.2 - under},
		{"", sleeved, all(bought, least(2)), "", 0, 0},
		{"", sample.FourCells, least(2), "", 0, 0},
		{"", sample.TwoRows, all(ribs(1, false), least(2)), "", 0, 0},
	})
	for i, c := range []near{
		{"", sample.TwoRows, all(ribs(1.2+over, true), least(1.2)), finding.Pass, 1.2 + over, 1.2},
		{"", sample.TwoRows, all(ribs(1.2+under, true), least(1.2)), finding.Fail, 1.2 + under, 1.2},
		{"", sample.TwoRows, all(ribs(0, true), least(1.2)), "", 0, 0},
	} {
		a, err := assembly.Build(c.base()) // the rule reads the parameters alone
		if err != nil {
			t.Fatal(err)
		}
		c.set(a.Fixture)
		checkFound(t, "wall-printable", 10+i, c, judged(t, "wall-printable", a))
	}
}

// printedBench is a bench on sleeved rods whose prints measure as given.
func printedBench(t *testing.T, p parts.Print, change func(*params.Fixture)) *scene {
	t.Helper()
	f := sleeved()
	change(f)
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	b := newScene(a)
	for _, part := range prints(a) {
		q := p
		part.Print = &q
	}
	return b
}

func TestPrintsNear(t *testing.T) {
	for i, c := range []struct {
		id   string
		p    parts.Print
		want finding.Verdict
		need float64
		have float64
	}{
		{"print-wall", parts.Print{WallMM: 1.15 + over}, finding.Pass, 1.15, 1.15 + over},
		{"print-wall", parts.Print{WallMM: 1.15 + under}, finding.Fail, 1.15, 1.15 + under},
		{"print-overhang", parts.Print{SteepMM2: 5}, finding.Pass, 5, 5},
		{"print-overhang", parts.Print{SteepMM2: 5.01}, finding.Warn, 5, 5.01},
		{"print-overhang", parts.Print{SteepMM2: 5.01, Need: "a bore"}, finding.Pass, 5.01, 5.01},
		{"print-overhang", parts.Print{SteepMM2: 4.9, Need: "a bore"}, finding.Pass, 5, 4.9},
	} {
		found, err := ruleByID(t, c.id).eval(printedBench(t, c.p, none))
		if err != nil {
			t.Fatal(err)
		}
		checkFound(t, c.id, i, near{want: c.want, have: c.have, need: c.need}, found)
	}
	b := printedBench(t, parts.Print{}, none)
	for _, part := range prints(b.nominal) {
		part.Print = nil // not measured: nothing to judge
	}
	for _, id := range []string{"print-wall", "print-overhang"} {
		if found, err := ruleByID(t, id).eval(b); err != nil || len(found) != 0 {
			t.Errorf("%s: %v, %v", id, found, err)
		}
	}
}

// A print must stand the hottest state, by 10 K if it can.
func TestHeatNear(t *testing.T) {
	for i, c := range []struct {
		hot, stands float64
		want        finding.Verdict
		need        float64
	}{
		{60, 70, finding.Pass, 70}, {60.1, 70, finding.Warn, 70.1}, {70, 70, finding.Warn, 80}, {70.1, 70, finding.Fail, 70.1},
		{60, 0, "", 0},
	} {
		b := printedBench(t, parts.Print{}, func(f *params.Fixture) {
			m := sample.PETG
			m.MaxService = temperature(c.stands)
			f.Tables.Materials = []catalog.Material{m}
			f.Clamp.HotTemp = temperature(c.hot)
		})
		found, err := ruleByID(t, "material-heat").eval(b)
		if err != nil {
			t.Fatal(err)
		}
		checkFound(t, "material-heat", i, near{want: c.want, have: c.stands, need: c.need}, found)
	}
}

// What is not printed must stand the hottest state as well.
func TestHeatOfSheetsNear(t *testing.T) {
	for i, c := range []struct {
		hot  float64
		want finding.Verdict
		need float64
	}{{50, finding.Pass, 60}, {50.1, finding.Warn, 60.1}, {60, finding.Warn, 70}, {60.1, finding.Fail, 60.1}} {
		f := sample.FourCells()
		m := f.Plate.Material
		m.MaxService = 60
		f.Tables.Materials, f.Clamp.HotTemp = []catalog.Material{m}, temperature(c.hot)
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatal(err)
		}
		checkFound(t, "material-heat", i, near{want: c.want, have: 60, need: c.need}, judged(t, "material-heat", a))
	}
}

// An aid may touch what it is used on, but not need its space.
func TestAidsNear(t *testing.T) {
	for i, by := range []float64{1, over, under} {
		f := sample.FourCells()
		f.Prints.Gauges, f.Printer.Material = true, sample.PETG
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatal(err)
		}
		for k := range a.Aids { // the feeler lies on the end cell's face
			a.Aids[k].Frame.O.Z += by
		}
		want := near{want: finding.Pass, have: max(by, 0)} // an overlap within the slack is touching
		if by == under {
			want = near{want: finding.Fail, have: by}
		}
		checkFound(t, "aid-fits", i, want, judged(t, "aid-fits", a))
		a.EndCell(assembly.Front, 0).Role = assembly.RoleJamNut // goes on when the aid is put away
		if found := judged(t, "aid-fits", a); len(found) != 0 {
			t.Errorf("jam nut: %+v", found)
		}
	}
}

// A slot 3 mm to each side of its line and a hole of 8 mm must leave 1.2 diameters.
func TestSlotLigamentNear(t *testing.T) {
	a, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range []near{{"", nil, nil, finding.Pass, 9.6 + over, 9.6}, {"", nil, nil, finding.Fail, 9.6 + under, 9.6}} {
		p, err := parts.EndPlate(parts.PlateSpec{Label: parts.Label{ID: "test"}, WidthMM: 100, HeightMM: 100, ThicknessMM: 10,
			RodHoles: []parts.Hole{{C: geom.Vec2{Y: 7 + c.have}, DiaMM: 8}},
			Slots:    []parts.SlotSpec{{A: geom.Vec2{X: -10}, B: geom.Vec2{X: 10}, WidthMM: 6}}})
		if err != nil {
			t.Fatal(err)
		}
		var tl tally
		newScene(a).ligaments(&tl, &p)
		found := tl.finding("", "mm")
		checkFound(t, "hole-ligament", i, c, found)
		if found[0].At != nil || found[0].Between[0] != "test hole 1" && found[0].Between[0] != "test H1" || found[0].Between[1] != "test slot 1" {
			t.Errorf("a part that is placed nowhere is at %v, between %v", found[0].At, found[0].Between)
		}
	}
}
