package check

import (
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/catalog"
)

// checkLinks runs one rule on linked cells, bars 20 mm wide.
func checkLinks(t *testing.T, id string, cases []near) {
	t.Helper()
	for i, c := range cases {
		checkFound(t, id, i, c, judged(t, id, linked(t, 20, c.set)))
	}
}

func terminalClear(d float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Clearances.MetalToTerminal = mm(d) }
}

// cellPitch sets the terminals so far apart along the row.
func cellPitch(p float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Pack.Pitch = mm(p) }
}

// A socket of 16 mm over one M6 screw passes the next, 10 mm over flats, from 8 + 10/sqrt 3
// mm on; a washer wider than that lies beside its neighbour from its own width on. Terminals
// of one screw, and those that are welded, are not asked.
func TestScrewsOfOneTerminalNear(t *testing.T) {
	least := 8 + 10/math.Sqrt(3)
	set := func(screws int, x, z float64, welded bool) func(*params.Fixture) {
		return func(f *params.Fixture) {
			f.Cell.Screws, f.Cell.StepX, f.Cell.StepZ, f.Cell.Welded, f.Clearances.ToolToMetal = screws, mm(x), mm(z), welded, 0.5
			f.Tables.Sockets = []catalog.Socket{{Name: "10 mm", Flats: 10, Outer: 16, Length: 50}}
			f.Tables.Nuts = []catalog.Nut{{Name: "own", Kind: "plain", Thread: "M6", Flats: 10}}
			f.Tables.Washers = []catalog.Washer{{Name: "own", Series: "standard", Thread: "M6", Outer: 12}}
		}
	}
	wide := func(f *params.Fixture) {
		set(2, 18, 0, false)(f)
		f.Tables.Washers[0].Outer = 18 - 0.5 + 0.006
	}
	checkLinks(t, "terminal-driver", []near{
		{of: "beside", set: set(2, least+0.5+over, 0, false), want: finding.Pass, have: 0.5 + over, need: 0.5},
		{of: "beside", set: set(2, 0, least+0.5+under, false), want: finding.Warn, have: 0.5 + under, need: 0.5},
		{of: "beside", set: set(3, least+0.01+over, 0, false), want: finding.Warn, have: 0.01 + over, need: 0.5},
		{of: "beside", set: set(2, least+0.01+under, 0, false), want: finding.Fail, have: 0.01 + under, need: 0.01},
		{of: "beside", set: wide, want: finding.Warn, have: 0.494, need: 0.5},
	})
	for _, none := range []func(*params.Fixture){set(1, 8, 0, false), set(2, 8, 0, true)} {
		if f := only(t, linked(t, 20, none), "terminal-driver")["beside"]; f.Verdict != "" {
			t.Errorf("%+v", f)
		}
	}
}

// Bars that end at neighbouring terminals leave the pitch less 10 and 11 mm; from a
// bar's end to the next pad are 11 and 9 mm less. Less air than a chip bridges fails, less than wanted warns.
func TestLinkPairsNear(t *testing.T) {
	const ends = 21
	gap := 8.5*inch/4 - ends
	checkLinks(t, "link-to-link", []near{
		{of: "link", set: terminalClear(gap - over), want: finding.Pass, have: gap, need: gap - over},
		{of: "link", set: terminalClear(gap - under), want: finding.Warn, have: gap, need: gap - under},
		{of: "link", set: cellPitch(ends + 1 + over), want: finding.Warn, have: 1 + over, need: 10},
		{of: "link", set: cellPitch(ends + 1 + under), want: finding.Fail, have: 1 + under, need: 1},
	})
	post := 8.5*inch/4 - 11 - 9
	checkLinks(t, "link-to-terminal", []near{
		{of: "terminal", set: terminalClear(post - over), want: finding.Pass, have: post, need: post - over},
		{of: "terminal", set: terminalClear(post - under), want: finding.Warn, have: post, need: post - under},
	})
}

// Under the bars lie the cases, the pads' height lower: live ones want the clearance
// of metal to cells, or room for an insulating sheet.
func TestLinkCasesNear(t *testing.T) {
	sheet := func(thick float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Electrical.LinkSheet = mm(thick) }
	}
	set := func(height, clear float64, isLive bool) func(*params.Fixture) {
		return func(f *params.Fixture) {
			f.Cell.Plus.Height, f.Cell.Minus.Height, f.Clearances.MetalToCell, f.Cell.CaseLive = mm(height), mm(height), mm(clear), isLive
		}
	}
	checkLinks(t, "link-to-case", []near{
		{of: "case", set: set(3, 3.004, true), want: finding.Pass, have: 3, need: 3.004},
		{of: "case", set: set(3, 3.006, true), want: finding.Warn, have: 3, need: 3.006},
		{of: "case", set: set(3, 9, false), want: finding.Pass, have: 3, need: 0.01},
		{of: "case", set: all(set(3, 9, true), sheet(2.996)), want: finding.Pass, have: 3, need: 2.996},
		{of: "case", set: all(set(3, 9, true), sheet(3.006)), want: finding.Fail, have: 3, need: 3.006}, // no room for it
		{of: "case", set: all(set(3, 9, false), sheet(3.006)), want: finding.Fail, have: 3, need: 3.006},
		{of: "case", set: set(1.004, 3, true), want: finding.Warn, have: 1.004, need: 3}, // air as between cells
		{of: "case", set: set(0.994, 3, true), want: finding.Fail, have: 0.994, need: 1},
		{of: "case", set: set(0.994, 0, true), want: finding.Fail, have: 0.994, need: 1},
		{of: "case", set: set(0.294, 0, false), want: finding.Pass, have: 0.294, need: 0.01},
		{of: "case", set: all(set(3, 9, true), sheet(0.29)), want: finding.Warn, have: 3, need: 9}, // too thin to insulate
	})
}

// Rods beside the bars: 108 mm from the middle, the bars' sides 71.
func TestLinkMetalNear(t *testing.T) {
	beside := func(clear float64) func(*params.Fixture) {
		return func(f *params.Fixture) {
			f.Stiffener = nil
			f.Plate.Height, f.Plate.Thickness = 240, 30
			levels(52, 205)(f)
			terminalClear(clear)(f)
		}
	}
	tubes := func(f *params.Fixture) { f.Sleeve = sleeved().Sleeve }
	rods := 108 - halfRod - 71
	checkLinks(t, "link-to-metal", []near{
		{of: "frame", set: beside(rods - over), want: finding.Pass, have: rods, need: rods - over},
		{of: "frame", set: beside(rods - under), want: finding.Fail, have: rods, need: rods - under},
	})
	for _, f := range judged(t, "link-to-metal", linked(t, 20, all(beside(rods-under), tubes))) {
		if f.Verdict != finding.Pass || f.Have < rods+1 {
			t.Errorf("sleeved rods: %+v", f)
		}
	}
}

// The socket on a terminal: the next pad of another net, and the metal of the frame.
func TestTerminalDriverNear(t *testing.T) {
	set := func(clear float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Clearances.ToolToTerminal, f.Clearances.ToolToMetal = mm(clear), mm(clear) }
	}
	a := linked(t, 20, nil)
	r := 0.0
	for _, tool := range a.Tools {
		if tool.Kind == assembly.ToolDriver {
			box := tool.Body().Bounds()
			r = (box.Max.X - box.Min.X) / 2
		}
	}
	// a bar of another net ends 11 mm beyond the next terminal
	toBar := 8.5*inch/4 - 11 - r
	checkLinks(t, "terminal-driver", []near{
		{of: "live", set: set(toBar - 0.02), want: finding.Pass, have: toBar, need: toBar - 0.02},
		{of: "live", set: set(toBar + 0.02), want: finding.Warn, have: toBar, need: toBar + 0.02},
	})
	// end plates of metal: half a pitch and a thickness from the last terminals
	steel := func(f *params.Fixture) {
		f.Stiffener, f.Plate.Material = nil, sample.TwoRows().Plate.Material
		f.Plate.Height = 240
	}
	toPlate := 8.5*inch/2 - 1.5*8.5*inch/4 - r
	checkLinks(t, "terminal-driver", []near{
		{of: "frame", set: all(steel, set(toPlate-0.02)), want: finding.Pass, have: toPlate, need: toPlate - 0.02},
		{of: "frame", set: all(steel, set(toPlate+0.02)), want: finding.Warn, have: toPlate, need: toPlate + 0.02},
	})
	if math.Abs(toPlate) < 1 {
		t.Error("the plate is in the driver")
	}
}
