package check

import (
	"math"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

const inch = 25.4

// run builds and checks a fixture.
func run(t testing.TB, f *params.Fixture) []finding.Finding {
	t.Helper()
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	found, err := Judge(a)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// get returns the finding of a rule and kind; kind "" takes the worst.
func get(found []finding.Finding, id, kind string) (finding.Finding, bool) {
	var best finding.Finding
	ok := false
	for _, f := range found {
		if string(f.ID) == id && (kind == "" || f.Of == kind) && (!ok || f.Verdict.Rank() > best.Verdict.Rank()) {
			best, ok = f, true
		}
	}
	return best, ok
}

// sleeved is four cells with printed sleeves on the rods.
func sleeved() *params.Fixture {
	f := sample.FourCells()
	d := f.Rods.Thread.Major
	f.Sleeve = &params.Sleeve{Material: sample.PETG, Inner: d + 0.6, Outer: d + 3, EndGap: 10, Printed: true}
	return f
}

// sprung is four cells with disc springs at the front.
func sprung() *params.Fixture {
	f := sample.FourCells()
	f.Spring = &params.Spring{Disc: &catalog.DiscSpring{Name: "16x8.2x0.9", Outer: 16, Inner: 8.2, T: 0.9, H0: 0.35},
		Parallel: 1, Series: 6, FreeHeight: 7.5, SetHeight: 6.5}
	f.Rods.EndAllowance += 10
	f.Rods.Length += 10
	f.Room = &params.Room{Width: 400, Height: 300, Length: 400, Gap: 5, Leads: 30}
	return f
}

// bareRods is four cells without angles: washers on the plastic plate.
func plainPlates() *params.Fixture {
	f := sample.FourCells()
	f.Stiffener = nil
	f.Washer.Outer = 24
	return f
}

// spoiled is one way to break one rule.
type spoiled struct {
	rule, kind string
	base       func() *params.Fixture
	spoil      func(*params.Fixture)
	want       finding.Verdict
	measured   float64 // by hand; NaN where another test covers the distance
}

func columns(x ...unit.Length) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Rods.Columns = x }
}

func levels(y ...unit.Length) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Rods.Levels = y }
}

var nan = math.NaN()

// halfRod is half the major diameter of a 5/16 in rod.
const halfRod = 0.3125 * inch / 2

var spoils = []spoiled{
	{"parts-apart", "cell - rod", sample.FourCells, columns(-89, 89), finding.Fail, 89 - halfRod - 87.25},
	{"parts-apart", "stiffener - stiffener", sample.FourCells, levels(90, 110), finding.Fail, nan},
	{"parts-apart", "liner - rod", sample.TwoRows, func(f *params.Fixture) { f.Liner.Width = 214 }, finding.Fail, nan},
	{"room-fits", "width", sample.FourCells, func(f *params.Fixture) { f.Room = &params.Room{Width: f.Plate.Width - 1} }, finding.Fail, nan},
	{"gap", "", sample.FourCells, func(f *params.Fixture) { f.Pack.Pitch += 0.2 }, finding.Fail, 1.5 * 0.2},
	{"gap", "washer on the angle", sample.FourCells, func(f *params.Fixture) { f.Stiffener.Gauge = 13 }, finding.Fail, nan},
	{"gap", "", sample.TwoRows, func(f *params.Fixture) { f.Separator.Thickness = 0.6 }, finding.Fail, nan},
	{"rod-passes", "rod in plate", sample.TwoRows, func(f *params.Fixture) { f.Rods.Hole = 10.5 }, finding.Fail, 0.25},
	{"rod-passes", "rod in stiffener", sample.FourCells, func(f *params.Fixture) { f.Rods.Hole = 8.3 }, finding.Fail, 8.3/2 - halfRod},
	{"rod-passes", "rod in washer", sample.TwoRows, func(f *params.Fixture) { f.Washer.Inner = 10 }, finding.Fail, 0},
	{"metal-to-cell", "rod", sample.FourCells, columns(-93, 93), finding.Fail, 93 - halfRod - 87.25},
	{"metal-to-cell", "rod", sample.TwoRows, func(f *params.Fixture) { f.Rods.Columns = []unit.Length{-222, 20, 222} }, finding.Fail, 25 - 20 - 5 - 0.25},
	{"metal-to-cell", "hardware", sample.FourCells, func(f *params.Fixture) { f.Clearances.MetalToCell = 13 }, finding.Fail, inch / 2},
	{"plate-insulated", "", sample.TwoRows, func(f *params.Fixture) { f.Liner.Width = 172; f.Cell.CaseLive = true }, finding.Fail, -1},
	{"plate-insulated", "", sample.TwoRows, func(f *params.Fixture) { f.Liner.Bottom = 2 }, finding.Warn, -1},
	{"plate-insulated", "", sample.TwoRows, func(f *params.Fixture) { f.Liner = nil; f.Cell.CaseLive = true }, finding.Fail, 0},
	{"cells-insulated", "", sample.FourCells, func(f *params.Fixture) { f.Cell.CaseLive, f.Separator = true, nil }, finding.Fail, 0},
	{"washer-covers", "", plainPlates, func(f *params.Fixture) { f.Rods.Hole = 18 }, finding.Fail, nan},
	{"sleeve-to-cell", "sleeve", sleeved, func(f *params.Fixture) { f.Sleeve.Outer = 42 }, finding.Fail, nan},
	{"sleeve-free", "", sleeved, func(f *params.Fixture) { f.Pack.Measured = false; f.Sleeve.EndGap = 1 }, finding.Fail, 2 - 4*0.5},
	{"grip-room", "", sample.FourCells, columns(-96, 96), finding.Fail, 96 - halfRod - 4 - 87},
	{"grip-bare", "", sleeved, func(f *params.Fixture) { f.Sleeve.EndGap = 2 }, finding.Warn, 4},
	{"nut-turns", "", sample.FourCells, func(f *params.Fixture) { f.Stiffener.Gauge, f.Nut.Corners = 12, 18 }, finding.Fail, 12 - inch/8 - 9},
	{"driver-to-metal", "", sample.FourCells, func(f *params.Fixture) { f.Stiffener.Gauge = 13 }, finding.Warn, nan},
	{"driver-to-metal", "", sample.TwoRows, levels(100, 121), finding.Warn, 0},
	{"driver-to-cell", "", sample.FourCells, func(f *params.Fixture) { f.Clearances.ToolToCell = 22 }, finding.Fail, nan},
	{"driver-to-terminal", "", sample.FourCells, func(f *params.Fixture) { f.Clearances.ToolToTerminal = 70 }, finding.Fail, nan},
	{"metal-to-terminal", "terminal", sample.FourCells, func(f *params.Fixture) { f.Clearances.MetalToTerminal = 50 }, finding.Fail, nan},
	{"metal-to-terminal", "vent", sample.FourCells, func(f *params.Fixture) { f.Clearances.MetalToTerminal = 51 }, finding.Fail, nan},
	{"vent-free", "", sample.FourCells, func(f *params.Fixture) {
		f.Rods.Columns, f.Rods.Levels = []unit.Length{-108, 0, 108}, []unit.Length{52, 215}
		f.Plate.Height = 240
	}, finding.Fail, 215 - halfRod - 201},
	{"drill-access", "", sample.FourCells, func(f *params.Fixture) { f.Stiffener.StandingLeg = 90; f.Tools.DrillBody = 40 }, finding.Warn, nan},
	{"screw-to-cell", "", sample.FourCells, feet(25, 6.6), finding.Fail, 9.75*inch/2 - 25 - 9.9 - 87.25},
	{"opening-free", "mounting hole", sample.FourCells, feet(30, 6.6), finding.Fail, nan},
	{"washer-flat", "root fillet", sample.FourCells, func(f *params.Fixture) { f.Stiffener.Gauge = 14 }, finding.Fail, 14 - 0.344*inch - inch/8 - 3.2},
	{"washer-flat", "leg edge", sample.FourCells, func(f *params.Fixture) { f.Stiffener.Gauge = 22 }, finding.Fail, 1.25*inch - 1.6 - 22 - 0.344*inch},
	{"washer-flat", "root fillet", sample.FourCells, func(f *params.Fixture) { f.Washer.Outer = 25 }, finding.Fail, 18 - 12.5 - inch/8 - 3.2},
	{"washer-bearing", "hdpe", plainPlates, func(f *params.Fixture) { f.Washer.Outer = 12 }, finding.Fail, 2942.0 / 4 / (math.Pi / 4 * (144 - sq(0.344*inch)))},
	{"washer-bearing", "hdpe", plainPlates, func(f *params.Fixture) { f.Washer.Outer = 15 }, finding.Warn, 2942.0 / 4 / (math.Pi / 4 * (225 - sq(0.344*inch)))},
	{"hole-edge", "end-plate", sample.FourCells, func(f *params.Fixture) { f.Plate.Width = 234 }, finding.Fail, 9},
	{"hole-edge", "end-plate", sample.FourCells, func(f *params.Fixture) { f.Plate.Width = 240 }, finding.Warn, 12},
	{"hole-edge", "end-plate", sample.TwoRows, levels(12, 160), finding.Fail, 11},
	{"hole-edge", "stiffener", sample.FourCells, func(f *params.Fixture) { f.Stiffener.Length = 234 }, finding.Fail, 9},
	{"hole-edge", "stiffener", sample.FourCells, func(f *params.Fixture) { f.Stiffener.Gauge = 20 }, finding.Warn, 1.25*inch - 20},
	{"hole-ligament", "end-plate", plainPlates, levels(90, 105), finding.Fail, 15 - 11*inch/32},
	{"hole-ligament", "end-plate", plainPlates, levels(90, 112), finding.Warn, 22 - 11*inch/32},
	{"thread-protrusion", "as drawn", sample.FourCells, func(f *params.Fixture) { f.Rods.Length = 10.5 * inch }, finding.Fail, nan},
	{"thread-protrusion", "thickest cells, shortest rod", sample.TwoRows, func(f *params.Fixture) { f.Rods.Length = 634.5 }, finding.Warn, 634.5/2 - 0.25 - (579.5+4)/2 - 1 - 10 - 2 - 11.9},
	{"nut-engaged", "", sample.FourCells, func(f *params.Fixture) { f.Rods.Length = 10.5 * inch }, finding.Fail, nan},
	{"nut-starts", "", sprung, func(f *params.Fixture) { f.Rods.Length -= 32; f.Spring.FreeHeight = 9 }, finding.Fail, nan},
	{"socket-depth", "", sample.FourCells, func(f *params.Fixture) { f.Rods.Length += 160 }, finding.Warn, nan},
	{"plate-covers", "", sample.FourCells, func(f *params.Fixture) { f.Plate.Bottom = 45; levels(60, 149)(f) }, finding.Fail, 0.2*201 - 45},
	{"plate-covers", "", sample.TwoRows, func(f *params.Fixture) { f.Plate.Height = 158; levels(40, 130)(f) }, finding.Fail, 159 - 0.8*201},
	{"row-fits", "", sample.TwoRows, func(f *params.Fixture) { f.Plate.Width = 380; columns(-14, 14)(f) }, finding.Warn, 190 - 112 - 87.25},
	{"sheet-covers", "", sample.TwoRows, func(f *params.Fixture) { f.Separator.Height = 150 }, finding.Fail, 150 - 0.8*201},
	{"separator-registers", "", sample.TwoRows, func(f *params.Fixture) { f.Separator.Bottom = -3 }, finding.Fail, -3},
	{"fits-sheet", "end-plate", sample.FourCells, func(f *params.Fixture) { f.Stock.Sheets[0].Height = 200 }, finding.Fail, 0},
	{"fits-sheet", "liner", sample.TwoRows, func(f *params.Fixture) { f.Stock.Sheets = f.Stock.Sheets[:1] }, finding.Fail, 0},
	{"part-held", "sheet", sample.FourCells, func(f *params.Fixture) { f.Stock.Sheets[0].Width, f.Stock.Sheets[0].Height = 520, 210 }, finding.Warn, 0},
	{"fits-length", "rod", sample.FourCells, func(f *params.Fixture) { f.Stock.Rods[0].Length = 280 }, finding.Fail, 0},
	{"fits-length", "stiffener", sample.FourCells, func(f *params.Fixture) { f.Stock.Angles[0].Length, f.Stock.Angles[0].Quantity = 900, 1 }, finding.Fail, 3},
	{"inner-radius", "", sample.TwoRows, func(f *params.Fixture) { f.Separator.Pattern, f.Separator.Border = "frame", 20 }, finding.Warn, 0},
	{"hole-for-cutter", "", sample.FourCells, func(f *params.Fixture) { f.Tools.Cutter = 9 }, finding.Warn, 11 * inch / 32},
	{"hole-for-cutter", "", sample.FourCells, func(f *params.Fixture) { f.Tools.Cutter = 8.6 }, finding.Warn, 11 * inch / 32},
	{"drill-at-hand", "rods.hole", sample.FourCells, func(f *params.Fixture) { f.Rods.Hole = 9 }, finding.Warn, 11 * inch / 32},
	{"fits-bed", "", sleeved, func(f *params.Fixture) { // long sleeves are made in pieces; their width is not
		f.Sleeve.Outer = f.Sleeve.Inner + 14
		f.Printer.BedX, f.Printer.BedY, f.Printer.BedZ = 20, 180, 20
	}, finding.Fail, 20},
	{"row-as-listed", "", sample.FourCells, func(f *params.Fixture) { f.Cell.Thickness = 72 }, finding.Warn, 215.9},
	{"wall-printable", "", sleeved, func(f *params.Fixture) { f.Printer.MinWall = 1.6 }, finding.Fail, 1.2},
}

// Every sample passes every check: nothing is spoiled before it is spoiled.
func TestSamplesPass(t *testing.T) {
	for name, base := range map[string]func() *params.Fixture{
		"four": sample.FourCells, "two rows": sample.TwoRows, "sleeved": sleeved, "sprung": sprung, "plain plates": plainPlates,
	} {
		for _, f := range run(t, base()) {
			if f.Verdict != finding.Pass {
				t.Errorf("%s: %s %s %s: %.3f, required %.3f between %v", name, f.Verdict, f.ID, f.Of, f.Have, f.Need, f.Between)
			}
		}
	}
}

// Every rule has a case that passes (its base) and one that does not; and says with
// a number what to do.
func TestSpoils(t *testing.T) {
	for _, s := range spoils {
		f := s.base()
		s.spoil(f)
		checkSpoil(t, s, run(t, f))
	}
}

func checkSpoil(t *testing.T, s spoiled, found []finding.Finding) {
	t.Helper()
	got, ok := get(found, s.rule, s.kind)
	switch {
	case !ok:
		t.Errorf("%s %s: no finding", s.rule, s.kind)
	case got.Verdict != s.want:
		t.Errorf("%s %s: %s (%.3f, required %.3f), want %s", s.rule, s.kind, got.Verdict, got.Have, got.Need, s.want)
	case !math.IsNaN(s.measured) && math.Abs(got.Have-s.measured) > 0.01:
		t.Errorf("%s %s: measured %.4f, by hand %.4f", s.rule, s.kind, got.Have, s.measured)
	}
	for _, f := range found {
		for _, path := range f.Params {
			if strings.Contains(f.Hint, path) {
				t.Errorf("%s %s: the hint %q changes the file", f.ID, f.Of, f.Hint)
			}
		}
		if len(f.Between) == 0 || f.Why == "" || f.Unit == "" || f.Compared == 0 || len(f.Params) == 0 {
			t.Errorf("%s %s is not complete: %+v", f.ID, f.Of, f)
		}
	}
}

// Every rule of the table but those for link bars, prints and springs, which have
// tests of their own, is spoiled by at least one case.
func TestEveryRuleCanFail(t *testing.T) {
	seen := map[string]bool{"tool-on-sheet": true} // TestToolOnSheetSpoiled: a plan, not a fixture
	for _, r := range slices.Concat(linkRules(), printRules(), aidRules(), springRules()) {
		seen[string(r.id)] = true
	}
	for _, s := range spoils {
		seen[s.rule] = true
	}
	for _, r := range rules() {
		if !seen[string(r.id)] {
			t.Errorf("no case breaks %s", r.id)
		}
	}
}
