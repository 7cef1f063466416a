package check

import (
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/unit"
)

// narrow is plates without angles whose rods stand so near the middle that the
// plates may be cut narrow.
func narrow() *params.Fixture {
	f := plainPlates()
	columns(-30, 30)(f)
	return f
}

func plate(x, y, w, h float64) func(*params.Fixture) {
	return func(f *params.Fixture) {
		f.Plate.Bottom, f.Plate.Width, f.Plate.Height = mm(y), mm(w), mm(h)
		for i := range f.Pack.RowX {
			f.Pack.RowX[i] += mm(x)
		}
	}
}

// The zone that domes, 104.4 by 120.6 mm round the middle of a face, must lie inside
// the plate on all sides, by half its size's tolerance.
func TestPlateCoversNear(t *testing.T) {
	left, low, high := 0.3*174.0, 0.2*201.0, 0.8*201.0
	cases := []near{
		{"", sample.FourCells, none, finding.Pass, 198 - high, 0.25},
		{"", narrow, plate(0, low-0.25-over, 400, 300), finding.Pass, 0.25 + over, 0.25},
		{"", narrow, plate(0, low-0.25-under, 400, 300), finding.Warn, 0.25 + under, 0.25},
		{"", narrow, plate(0, low-over, 400, 300), finding.Warn, over, 0.25},
		{"", narrow, plate(0, low-under, 400, 300), finding.Fail, under, 0},
		{"", narrow, plate(0, 0, 400, high+0.25+over), finding.Pass, 0.25 + over, 0.25},
		{"", narrow, plate(0, 0, 400, high+under), finding.Fail, under, 0},
	}
	for _, x := range []float64{10, -10} { // the row off the middle of the plate
		cases = append(cases,
			near{"", narrow, plate(x, 0, 2*(left+10+0.25+over), 300), finding.Pass, 0.25 + over, 0.25},
			near{"", narrow, plate(x, 0, 2*(left+10+under), 300), finding.Fail, under, 0})
	}
	checkNear(t, "plate-covers", cases)
}

// The plate should be as wide as the rows of the widest cells.
func TestRowFitsNear(t *testing.T) {
	var cases []near
	for _, x := range []float64{0, 10, -10} {
		cases = append(cases,
			near{"", narrow, plate(x, 0, 2*(largest+max(x, -x)+over), 300), finding.Pass, over, 0},
			near{"", narrow, plate(x, 0, 2*(largest+max(x, -x)+under), 300), finding.Warn, under, 0})
	}
	checkNear(t, "row-fits", cases)
}

func live(f *params.Fixture) { f.Cell.CaseLive = true }

func noLiner(f *params.Fixture) { f.Liner = nil }

// liner and separator change the sheet fitted.
func liner(change func(*params.Insert)) func(*params.Fixture) {
	return func(f *params.Fixture) { change(f.Liner) }
}

func separator(change func(*params.Insert)) func(*params.Fixture) {
	return func(f *params.Fixture) { change(f.Separator) }
}

func thick(t float64) func(*params.Insert) { return func(i *params.Insert) { i.Thickness = mm(t) } }

func ofMetal(i *params.Insert) { i.Material = sample.TwoRows().Plate.Material }

// windows are those of a frame or of ribs, into which cells dome that grow by 1.4 mm
// and are 0.2 mm proud: 0.8 mm a face.
func windows(pattern string, t float64) func(*params.Insert) {
	return func(i *params.Insert) { i.Pattern, i.Border, i.RibPitch, i.Thickness = pattern, 20, 40, mm(t) }
}

func grown(f *params.Fixture) {
	f.Clamp.Aged, f.Clamp.Bulge = 1, 0.2
	f.Clamp.Growth = []params.GrowthPoint{{Charge: 0, Growth: -0.3}, {Charge: 0.5, Growth: 0.4}, {Charge: 1, Growth: 0.2}}
}

// A metal plate wants a liner that does not conduct, thick enough, and past the
// metal that faces a cell. Without it live cells fail and wrapped ones warn.
func TestPlateInsulatedNear(t *testing.T) {
	wide := func(past float64) func(*params.Insert) {
		return func(i *params.Insert) { i.Width = mm(174 + 2*past) }
	}
	low := func(past float64) func(*params.Insert) { return func(i *params.Insert) { i.Bottom = mm(1 - past) } }
	high := func(past float64) func(*params.Insert) { return func(i *params.Insert) { i.Height = mm(201 + past) } }
	checkNear(t, "plate-insulated", []near{
		{"", sample.TwoRows, live, finding.Pass, 2, 0},
		{"", sample.TwoRows, all(live, liner(wide(over))), finding.Pass, over, 0},
		{"", sample.TwoRows, all(live, liner(wide(under))), finding.Fail, under, 0},
		{"", sample.TwoRows, liner(wide(under)), finding.Warn, under, 0},
		{"", sample.TwoRows, all(live, liner(low(over))), finding.Pass, over, 0},
		{"", sample.TwoRows, all(live, liner(low(under))), finding.Fail, under, 0},
		{"", sample.TwoRows, all(live, liner(high(over))), finding.Pass, over, 0},
		{"", sample.TwoRows, all(live, liner(high(under))), finding.Fail, under, 0},
		{"", sample.TwoRows, all(live, liner(thick(0.3+over))), finding.Pass, 2, 0},
		{"", sample.TwoRows, all(live, liner(thick(0.3+under))), finding.Warn, 0.3 + under, 0.3},
		{"", sample.TwoRows, all(live, liner(ofMetal)), finding.Fail, 0, 0.3},
		{"", sample.TwoRows, liner(ofMetal), finding.Warn, 0, 0.3},
		{"", sample.TwoRows, all(live, noLiner), finding.Fail, 0, 0.3},
		{"", sample.TwoRows, noLiner, finding.Warn, 0, 0.3},
		{"", sample.TwoRows, all(live, grown, liner(windows("frame", 0.8+0.3+over))), finding.Pass, 2, 0},
		{"", sample.TwoRows, all(live, grown, liner(windows("frame", 0.8+0.3+under))), finding.Warn, 0.3 + under, 0.3},
		{"", sample.TwoRows, all(live, grown, liner(windows("ribs", 0.8+0.3+under))), finding.Warn, 0.3 + under, 0.3},
		{"", sample.TwoRows, all(live, grown, liner(windows("frame", 0.7))), finding.Fail, 0, 0.3},
		{"", sample.FourCells, live, "", 0, 0},
	})
}

// Live cases want a sheet between them that does not conduct; with windows, one that
// keeps them apart when both have domed.
func TestCellsInsulatedNear(t *testing.T) {
	single := func(f *params.Fixture) { f.Pack.PerRow, f.Pack.Cells = 1, 2 }
	bare := func(f *params.Fixture) { f.Separator = nil }
	smaller := func(by float64) func(*params.Insert) {
		return func(i *params.Insert) {
			i.Width, i.Height, i.Bottom = i.Width-mm(2*by), i.Height-mm(2*by), i.Bottom+mm(by)
		}
	}
	apart := func(air float64) func(*params.Fixture) { // of the widest cells
		return func(f *params.Fixture) {
			half := (f.Cell.Width + f.Cell.WidthTol + mm(air)) / 2
			f.Pack.RowX = []unit.Length{-half, half}
		}
	}
	checkNear(t, "cells-insulated", []near{
		{"", sample.TwoRows, live, finding.Pass, 0.5, 0.3},
		{"", sample.TwoRows, all(live, separator(thick(0.3+over))), finding.Pass, 0.3 + over, 0.3},
		{"", sample.TwoRows, all(live, separator(thick(0.3+under))), finding.Warn, 0.3 + under, 0.3},
		{"", sample.TwoRows, all(live, grown, separator(windows("ribs", 1.611))), finding.Warn, 0.011, 0.3},
		{"", sample.TwoRows, all(live, grown, separator(windows("ribs", 1.609))), finding.Fail, 0.009, 0.3},
		{"", sample.TwoRows, all(live, separator(ofMetal)), finding.Fail, 0, 0.3},
		{"", sample.TwoRows, all(live, bare), finding.Fail, 0, 0.3},
		{"", sample.TwoRows, all(live, grown, separator(windows("frame", 1.6+0.3+over))), finding.Pass, 0.3 + over, 0.3},
		{"", sample.TwoRows, all(live, grown, separator(windows("ribs", 1.6+0.3+under))), finding.Warn, 0.3 + under, 0.3},
		{"", sample.TwoRows, all(live, grown, separator(windows("frame", 1.5))), finding.Fail, 0, 0.3},
		{"", sample.TwoRows, bare, "", 0, 0},
		{"", sample.TwoRows, all(live, bare, func(f *params.Fixture) { f.Pack.PerRow, f.Pack.Cells = 2, 4 }), finding.Fail, 0, 0.3},
		{"", sample.TwoRows, all(live, single, bare), "", 0, 0},
		{"", sample.TwoRows, all(live, separator(smaller(0))), finding.Pass, 0.5, 0.3},
		{"", sample.TwoRows, all(live, separator(smaller(0.01))), finding.Warn, -0.01, 0},
		{"", sample.TwoRows, all(live, separator(smaller(2-over))), finding.Warn, over - 2, 0},
		{"", sample.TwoRows, all(live, separator(smaller(2-under))), finding.Fail, under - 2, -2},
		{"", sample.TwoRows, separator(smaller(5)), "", 0, 0},
		{"", sample.TwoRows, all(live, separator(smaller(5)), separator(thick(1))), finding.Warn, -5, 0}, // so much air
		{"", sample.TwoRows, all(live, separator(smaller(5)), separator(thick(1-0.01))), finding.Fail, -5, -2},
		{"", sample.TwoRows, all(live, separator(smaller(5)), separator(thick(3))), finding.Pass, 3, 0.3},
		{"", sample.TwoRows, all(live, separator(smaller(5)), separator(thick(2.99))), finding.Warn, -5, 0},
		{"rows", sample.TwoRows, all(live, apart(3+over)), finding.Pass, 3 + over, 3},
		{"rows", sample.TwoRows, all(live, apart(3+under)), finding.Warn, 3 + under, 3},
		{"rows", sample.TwoRows, all(live, apart(1+over)), finding.Warn, 1 + over, 3},
		{"rows", sample.TwoRows, all(live, apart(1+under)), finding.Fail, 1 + under, 1},
		{"rows", sample.TwoRows, apart(0.5), "", 0, 0},
		{"rows", sample.FourCells, live, "", 0, 0},
	})
}

// Metal is told from insulation in the same way at the plate and between cells.
func TestMetalInsulatesNowhere(t *testing.T) {
	for _, m := range []unit.Length{0.3, 1, 10} {
		for name, i := range map[string]params.Insert{
			"sheet": {Material: sample.TwoRows().Plate.Material, Thickness: m, Pattern: "sheet"},
			"frame": {Material: sample.TwoRows().Plate.Material, Thickness: m, Pattern: "frame"},
		} {
			if got := sample.TwoRows().Insulation(&i, 2); got != 0 {
				t.Errorf("%s of metal, %g mm thick, insulates as %g mm", name, m.MM(), got.MM())
			}
		}
		if s := (params.Sleeve{Material: sample.TwoRows().Plate.Material, Inner: 10, Outer: 10 + 2*m}); s.Insulates() {
			t.Errorf("a sleeve of metal, %g mm thick, insulates", m.MM())
		}
	}
}

// Each pair of neighbours in a row is judged, and each two rows once.
func TestCellsInsulatedPairs(t *testing.T) {
	f := sample.TwoRows()
	live(f)
	f.Separator = nil
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	found := judged(t, "cells-insulated", a)
	if len(found) != 2 || found[1].Compared != 1 || found[0].Compared != 14 || len(found[0].Also) != 13 || found[0].Between[0] != "cell-row-1-1" || found[0].Between[1] != "cell-row-1-2" {
		t.Errorf("%+v", found)
	}
}

// Separators and liners must reach past the zone that domes.
func TestSheetCoversNear(t *testing.T) {
	low, high, side := 0.2*201.0, 0.8*201.0, 0.3*174.0
	size := func(y, w, h float64) func(*params.Insert) {
		return func(i *params.Insert) { i.Bottom, i.Width, i.Height = mm(y), mm(w), mm(h) }
	}
	var cases []near
	for _, sheet := range []func(func(*params.Insert)) func(*params.Fixture){liner, separator} {
		cases = append(cases,
			near{"", sample.TwoRows, sheet(size(low-over, 174, 150)), finding.Pass, over, 0},
			near{"", sample.TwoRows, sheet(size(low-under, 174, 150)), finding.Fail, under, 0},
			near{"", sample.TwoRows, sheet(size(0, 174, high+over)), finding.Pass, over, 0},
			near{"", sample.TwoRows, sheet(size(0, 174, high+under)), finding.Fail, under, 0},
			near{"", sample.TwoRows, sheet(size(0, 2*(side+over), 201)), finding.Pass, over, 0},
			near{"", sample.TwoRows, sheet(size(0, 2*(side+under), 201)), finding.Fail, under, 0})
	}
	checkNear(t, "sheet-covers", append(cases, near{"", sample.FourCells, none, "", 0, 0}))
}

// The sheet that is too small is named.
func TestSheetCoversNames(t *testing.T) {
	for kind, sheet := range map[string]func(func(*params.Insert)) func(*params.Fixture){"liner": liner, "separator": separator} {
		f := sample.TwoRows()
		sheet(func(i *params.Insert) { i.Height = 100 })(f)
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatal(err)
		}
		got := judged(t, "sheet-covers", a)[0]
		if !strings.HasPrefix(got.Between[0], kind) || got.Compared != 18 || len(got.Also) != map[string]int{"liner": 3, "separator": 13}[kind] {
			t.Errorf("%s too small: %+v", kind, got)
		}
	}
}

// A trace of a sheet warns, less is none.
func TestInsulatesNear(t *testing.T) {
	for sheet, want := range map[unit.Length]finding.Verdict{0: finding.Fail, 0.0099: finding.Fail, 0.01: finding.Warn, 0.29: finding.Warn, 0.3: finding.Pass} {
		if got := insulates(sheet); got.Verdict != want || got.Need != 0.3 || got.Sense != finding.AtLeast {
			t.Errorf("%g mm: %+v", sheet.MM(), got)
		}
	}
}

// A separator may stand above the floor; a liner hangs below it as it likes.
func TestRegisterNear(t *testing.T) {
	bottom := func(y float64) func(*params.Insert) { return func(i *params.Insert) { i.Bottom = mm(y) } }
	checkNear(t, "separator-registers", []near{
		{"", sample.TwoRows, separator(bottom(over)), finding.Pass, over, 0},
		{"", sample.TwoRows, separator(bottom(under)), finding.Fail, under, 0},
		{"", sample.TwoRows, separator(bottom(3)), finding.Pass, 3, 0},
		{"", sample.FourCells, none, "", 0, 0},
	})
}

// A row of four cells of 72 mm, 0.5 mm more or less each, and three sheets of 0.5 mm, read
// with a tape to 1 mm, is 289.5 mm long, 3 mm more or less; one that is not measured is not
// judged.
func TestRowAsListedNear(t *testing.T) {
	measured := func(long float64) func(*params.Fixture) {
		return func(f *params.Fixture) {
			f.Cell.Thickness, f.Cell.ThicknessTol, f.Separator.Thickness = 72, 0.5, 0.5
			f.Pack.PerRow, f.Pack.StackLength, f.Pack.Measured = 4, mm(long), true
		}
	}
	for i, c := range []struct {
		long float64
		want finding.Verdict
	}{{289.5, finding.Pass}, {286.5 + over, finding.Pass}, {286.5 + under, finding.Warn}, {292.5 - over, finding.Pass}, {292.5 - under, finding.Warn}} {
		f := sample.TwoRows()
		if f.Separator == nil {
			t.Fatal("no separators")
		}
		measured(c.long)(f)
		b := &scene{fixture: f}
		found, err := ruleByID(t, "row-as-listed").eval(b)
		if err != nil || len(found) != 1 || found[0].Verdict != c.want || found[0].Need != 286.5 || found[0].Most != 292.5 {
			t.Errorf("case %d: %+v, %v, want %s", i, found, err, c.want)
		}
		f.Pack.Measured = false
		f.Readings = []params.Reading{{What: "stack", When: "snug", Value: c.long}, {What: "stack", When: "set", Value: 1}}
		f.Pack.StackLength, f.Pack.CellThickness, f.Liner = 289.5, 72, nil
		if found, err := ruleByID(t, "row-as-listed").eval(b); err != nil || len(found) != 1 || found[0].Verdict != c.want || found[0].Between[0] != "plates at snug" {
			t.Errorf("case %d, at snug: %+v, %v, want %s", i, found, err, c.want)
		}
		f.Readings = nil
		if found, err := ruleByID(t, "row-as-listed").eval(b); err != nil || len(found) != 0 {
			t.Errorf("not measured: %+v, %v", found, err)
		}
	}
}
