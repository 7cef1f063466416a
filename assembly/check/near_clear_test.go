package check

import (
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/unit"
)

// largest is half the width of the widest cell, mm.
const largest = 87.25

// beside puts the rods so far from the widest cells.
func beside(gap float64) func(*params.Fixture) {
	x := mm(largest + halfRod + gap)
	return columns(-x, x)
}

// Two parts must be 0.01 mm apart, which is the accuracy of a distance: there is no
// slack.
func TestApartNear(t *testing.T) {
	checkNear(t, "parts-apart", []near{
		{"all pairs", sample.FourCells, beside(0.011), finding.Pass, 0.011, 0.01},
		{"cell - rod", sample.FourCells, beside(0.011), "", 0, 0},
		{"cell - rod", sample.FourCells, beside(0.009), finding.Fail, 0.009, 0.01},
		{"all pairs", sample.FourCells, beside(0.009), "", 0, 0},
		{"cell - rod", sample.FourCells, beside(-0.5), finding.Fail, -0.5, 0.01},
	})
}

// The nominal cells are compared too: where the widest are left out of it, parts
// that foul are found all the same, and each pair is named once a size.
func TestApartComparesBothSizes(t *testing.T) {
	f := sample.FourCells()
	beside(-0.5)(f)
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range judged(t, "parts-apart", a) {
		// four cells, four rods, two sizes; the nominal ones are 0.25 mm narrower
		if x.Of == "cell - rod" && (len(x.Also) != 31 || x.Compared != 32 || x.Way != "largest cells") {
			t.Errorf("%d pairs, %d of them also short, worst with %s", x.Compared, len(x.Also), x.Way)
		}
	}
}

func pitch(more float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Pack.Pitch += mm(more) }
}

// What is clamped must neither gape nor overlap: 1.5 pitches lie between the middle
// and an end cell.
func TestChainNear(t *testing.T) {
	at := func(x float64) float64 { return x / 1.5 }
	checkNear(t, "gap", []near{
		{"along the stack", sample.FourCells, pitch(at(0.014)), finding.Pass, 0.014, 0.01},
		{"along the stack", sample.FourCells, pitch(at(0.016)), finding.Fail, 0.016, 0.01},
		{"along the stack", sample.FourCells, pitch(-at(0.014)), finding.Pass, 0.014, 0.01},
		{"along the stack", sample.FourCells, pitch(-at(0.016)), finding.Fail, 0.016, 0.01},
		{"washer on the angle", sample.FourCells, pitch(1), finding.Pass, 0, 0.01},
		{"washer on the angle", plainPlates, none, "", 0, 0},
	})
}

// A hole must have the play that its own error takes; what is bought must only pass
// the rod.
func TestPlayNear(t *testing.T) {
	drilled := func(play float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Rods.Hole = mm(major + 2*play) }
	}
	washers := func(play float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Washer.Inner = mm(major + 2*play) }
	}
	tube := func(play float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Sleeve.Inner = mm(major + 2*play) }
	}
	checkNear(t, "rod-passes", []near{
		{"rod in plate", sample.FourCells, drilled(0.3 + over), finding.Pass, 0.3 + over, 0.3},
		{"rod in plate", sample.FourCells, drilled(0.3 + under), finding.Fail, 0.3 + under, 0.3},
		{"rod in plate", sample.FourCells, drilled(-0.1), finding.Fail, -0.1, 0.3},
		{"rod in plate", sample.FourCells, drilled(0), finding.Fail, 0, 0.3},
		{"rod in stiffener", sample.FourCells, drilled(0.3 + over), finding.Pass, 0.3 + over, 0.3},
		{"rod in stiffener", sample.FourCells, drilled(0.3 + under), finding.Fail, 0.3 + under, 0.3},
		{"rod in washer", sample.FourCells, washers(0.011), finding.Pass, 0.011, 0.01},
		{"rod in washer", sample.FourCells, washers(0.009), finding.Fail, 0.009, 0.01},
		{"rod in washer", sample.FourCells, washers(-0.2), finding.Fail, -0.2, 0.01},
		{"rod in sleeve", sleeved, tube(0.011), finding.Fail, 0.0017, 0.01}, // its bore is of chords
		{"rod in sleeve", sleeved, tube(-0.2), finding.Fail, -0.2, 0.01},
		{"rod in spring", sprung, discBore(major + 0.022), finding.Pass, 0.011, 0.01},
		{"rod in spring", sprung, discBore(major - 0.4), finding.Fail, -0.2, 0.01},
	})
}

// metalSleeve is a tube of metal round every rod, so far from the widest cells.
func metalSleeve(gap float64) func(*params.Fixture) {
	return func(f *params.Fixture) {
		f.Sleeve.Material, f.Sleeve.Printed = f.Stiffener.Material, false
		f.Sleeve.Outer = mm(2 * (108 - largest - gap))
	}
}

func wall(thick float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Sleeve.Outer = f.Sleeve.Inner + mm(2*thick) }
}

func toCells(clear float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Clearances.MetalToCell = mm(clear) }
}

// Bare metal must keep off the widest cells: rods, and all that is not between
// plates. A sleeve insulates its rod when it is of no metal and 0.3 mm thick.
func TestMetalToCellNear(t *testing.T) {
	free := 108 - halfRod - largest
	checkNear(t, "metal-to-cell", []near{
		{"rod", sample.FourCells, beside(3 + over), finding.Pass, 3 + over, 3},
		{"rod", sample.FourCells, beside(3 + under), finding.Fail, 3 + under, 3},
		{"hardware", sample.FourCells, toCells(inch/2 - over), finding.Pass, inch / 2, inch/2 - over},
		{"hardware", sample.FourCells, toCells(inch/2 - under), finding.Fail, inch / 2, inch/2 - under},
		{"rod", sleeved, endGap(3, true), "", 0, 0},
		{"rod", sleeved, all(endGap(3.01, true), beside(3+under)), finding.Fail, 3 + under, 3}, // slid to one end
		{"rod", sleeved, all(endGap(3, true), beside(3+under)), "", 0, 0},
		{"rod", sleeved, none, finding.Pass, free, 3},
		{"rod", sleeved, all(endGap(3, true), wall(0.301)), "", 0, 0},
		{"rod", sleeved, wall(0.299), finding.Pass, free, 3},
		{"rod", sleeved, metalSleeve(4), finding.Pass, free, 3},
		{"hardware", sleeved, metalSleeve(3 + over), finding.Pass, 3 + over, 3},
		{"hardware", sleeved, metalSleeve(3 + under), finding.Fail, 3 + under, 3},
		{"hardware", sleeved, none, finding.Pass, inch / 2, 3},
	})
}

// Printed guards stand at the cells' edges: they insulate, or else are metal there.
func TestGuardsInsulate(t *testing.T) {
	guards := func(m params.Printer) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Prints.CornerGuards = true; f.Printer = m }
	}
	p := sample.FourCells().Printer
	p.Material = sample.PETG
	q := p
	q.Material.Conducts = true
	checkNear(t, "metal-to-cell", []near{
		{"hardware", sample.FourCells, guards(p), finding.Pass, inch / 2, 3},
		{"hardware", sample.FourCells, guards(q), finding.Fail, 0.25, 3}, // the printer's fit
	})
}

func TestSleeveToCellNear(t *testing.T) {
	outer := func(gap float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Sleeve.Outer = mm(2 * (108 - largest - gap)) }
	}
	checkNear(t, "sleeve-to-cell", []near{
		{"sleeve", sleeved, outer(0.01 + over), finding.Pass, 0.01 + over, 0.01},
		{"sleeve", sleeved, outer(0.01 + under), finding.Fail, 0.01 + under, 0.01},
		{"sleeve", sample.FourCells, none, "", 0, 0},
	})
}

// endGap leaves so much free at both ends of the sleeves together, of four cells
// that are 2 mm thinner together where they were not measured.
func endGap(room float64, measured bool) func(*params.Fixture) {
	return func(f *params.Fixture) {
		f.Pack.Measured = measured
		f.Sleeve.EndGap = mm(room / 2)
		if !measured {
			f.Sleeve.EndGap = mm(room/2 + 1)
		}
	}
}

func TestSleeveFreeNear(t *testing.T) {
	checkNear(t, "sleeve-free", []near{
		{"", sleeved, endGap(0.5+over, false), finding.Pass, 0.5 + over, 0.5},
		{"", sleeved, endGap(0.5+under, false), finding.Warn, 0.5 + under, 0.5},
		{"", sleeved, endGap(0.01+over, false), finding.Warn, 0.01 + over, 0.5},
		{"", sleeved, endGap(0.01+under, false), finding.Fail, 0.01 + under, 0.01},
		{"", sleeved, endGap(0.5+over, true), finding.Pass, 0.5 + over, 0.5},
		{"", sample.FourCells, none, "", 0, 0},
	})
}

// Pliers 10 mm wide with 3 mm of room to each side need 16 mm of bare rod, where the
// nuts drag.
func TestGripBareNear(t *testing.T) {
	plain := func(f *params.Fixture) { f.Nut.Kind = "plain" }
	checkNear(t, "grip-bare", []near{
		{"", sleeved, endGap(16+over, true), finding.Pass, 16 + over, 16},
		{"", sleeved, endGap(16+under, true), finding.Warn, 16 + under, 16},
		{"", sleeved, all(plain, endGap(1, true)), "", 0, 0},
		{"", sample.FourCells, none, "", 0, 0},
	})
}

// Pliers' tips stand out 4 mm beyond the rod, towards the cells where they come from
// the side.
func TestGripNear(t *testing.T) {
	room := func(gap float64) func(*params.Fixture) { return beside(gap + 4 - 0.25) } // nominal cells
	checkNear(t, "grip-room", []near{
		{"", sample.FourCells, room(3 + over), finding.Pass, 3 + over, 3},
		{"", sample.FourCells, room(3 + under), finding.Fail, 3 + under, 3},
		{"", sample.FourCells, all(room(6+under), func(f *params.Fixture) { f.Clearances.ToolToCell = 6 }), finding.Fail, 6 + under, 6},
		{"", sample.FourCells, all(room(6+over), func(f *params.Fixture) { f.Clearances.ToolToCell = 6 }), finding.Pass, 6 + over, 6},
	})
}

// The pliers close on a sleeve where there is one, which is then no obstacle.
func TestGripOnSleeves(t *testing.T) {
	r := (major + 3) / 2
	room := func(gap float64) func(*params.Fixture) {
		x := mm(87 + r + 4 + gap)
		return columns(-x, x)
	}
	checkNear(t, "grip-room", []near{
		{"", sleeved, room(3 + over), finding.Pass, 3 + over, 3},
		{"", sleeved, room(3 + under), finding.Fail, 3 + under, 3},
	})
}

// Each rod outside the cells is come at from the side, from above and from below,
// with both jaws.
func TestWays(t *testing.T) {
	a, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	ways := newScene(a).ways()
	seen := map[string]int{}
	for _, w := range ways {
		seen[w.rod+" "+w.approach]++
		if len(w.jaws) != 2 || w.jaws[0].On != w.rod || w.jaws[1].Approach != w.approach {
			t.Errorf("%s %s: %d jaws", w.rod, w.approach, len(w.jaws))
		}
	}
	if len(ways) != 12 || len(seen) != 12 {
		t.Errorf("%d ways, %d of them different", len(ways), len(seen))
	}
	for _, f := range judged(t, "grip-room", a) {
		if f.Way != "from above" && f.Way != "from below" && f.Way != "from the side" {
			t.Errorf("best way in: %q", f.Way)
		}
	}
}

// A spanner serves its own nut alone: where one rod is too near the cells for either
// tool, it does not help that a spanner gets on the other rod's nut.
func TestSpannerOnTheSameNut(t *testing.T) {
	f := sample.FourCells()
	columns(-108, 140)(f)
	f.Plate.Width, f.Stiffener.Length = 320, 320
	f.Rods.Levels, f.Stiffener.StandingUp = f.Rods.Levels[:1], f.Stiffener.StandingUp[:1]
	f.Clearances.ToolToCell = mm(math.Hypot(108-10-87, inch/2+leg+0.065*inch) - under)
	spanner(20)(f)
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	got := judged(t, "driver-to-cell", a)[0]
	if got.Verdict != finding.Fail || got.Between[0] != "tool-socket-on-nut-front-left-middle" || len(got.Also) != 1 || got.Way != "socket" {
		t.Errorf("%s %v, also %v, way %q", got.Verdict, got.Between, got.Also, got.Way)
	}
}

func TestToolDistances(t *testing.T) {
	f := sample.FourCells()
	f.Clearances.ToolToMetal, f.Clearances.ToolToCell, f.Clearances.ToolToTerminal = 1, 4, 10
	for class, want := range map[target][2]float64{toMetal: {1, 3}, toCell: {4, 4}, toTerminal: {10, 10}} {
		if g, n := toolGap(f, class), gripNeed(f, class); g != want[0] || n != want[1] {
			t.Errorf("class %d: %g from a tool, %g from jaws, want %v", class, g, n, want)
		}
	}
	f.Clearances.ToolToCell = 2
	if n := gripNeed(f, toCell); n != 3 {
		t.Errorf("jaws want %g mm to the cells, the room round them is 3", n)
	}
	for g, want := range map[assembly.Role]target{
		assembly.RoleCell: toCell, assembly.RoleSeparator: toCell, assembly.RoleLiner: toCell,
		assembly.RoleTerminal: toTerminal, assembly.RoleVent: toTerminal, assembly.RoleLink: toTerminal,
		assembly.RolePlate: toMetal, assembly.RoleRod: toMetal, assembly.RoleGuard: toMetal,
	} {
		if classOf(g) != want {
			t.Errorf("%s is of class %d", g, classOf(g))
		}
	}
}

// A socket meets its own nut, what lies under it, and its rod; a sleeve or the
// hardware of another rod or end is in its way.
func TestMates(t *testing.T) {
	tool := &assembly.Tool{Instance: assembly.Instance{Column: 1, Level: 0, End: assembly.Front}}
	at := func(g assembly.Role, column, level int, e assembly.End) *assembly.Instance {
		return &assembly.Instance{Role: g, Column: column, Level: level, End: e}
	}
	for i, c := range []struct {
		w    *assembly.Instance
		want bool
	}{
		{at(assembly.RoleNut, 1, 0, assembly.Front), true},
		{at(assembly.RoleNut, 1, 0, assembly.Back), false},
		{at(assembly.RoleNut, 0, 0, assembly.Front), false},
		{at(assembly.RoleNut, 1, 1, assembly.Front), false},
		{at(assembly.RoleRod, 1, 0, assembly.Back), true},
		{at(assembly.RoleRod, 0, 0, assembly.Front), false},
		{at(assembly.RoleSleeve, 1, 0, assembly.Front), false},
		{at(assembly.RolePlate, -1, -1, assembly.Front), false},
	} {
		if mates(tool, c.w) != c.want {
			t.Errorf("case %d: %t", i, !c.want)
		}
	}
	loose := &assembly.Tool{Instance: assembly.Instance{Column: -1, Level: -1}}
	if mates(loose, at(assembly.RolePlate, -1, -1, assembly.Front)) {
		t.Error("what sits on no rod is no mate")
	}
	u, v := at(assembly.RoleRod, 0, 1, assembly.Front), at(assembly.RoleSleeve, 0, 1, assembly.Back)
	if !sameRod(u, v) || sameRod(u, at(assembly.RoleRod, 0, 0, assembly.Front)) || sameRod(u, at(assembly.RoleRod, 1, 1, assembly.Front)) ||
		sameRod(at(assembly.RolePlate, -1, 0, assembly.Front), at(assembly.RolePlate, -1, 0, assembly.Front)) {
		t.Error("sameRod")
	}
}

// The nut's corners must clear the standing leg.
func TestNutTurnsNear(t *testing.T) {
	in := leg + 9.0
	corners := func(f *params.Fixture) { f.Nut.Corners = 18 }
	gauge := func(at float64) func(*params.Fixture) { return all(corners, gauge(at)) }
	checkNear(t, "nut-turns", []near{
		{"", sample.FourCells, gauge(in + 0.5 + over), finding.Pass, 0.5 + over, 0.5},
		{"", sample.FourCells, gauge(in + 0.5 + under), finding.Warn, 0.5 + under, 0.5},
		{"", sample.FourCells, gauge(in + over), finding.Warn, over, 0.5},
		{"", sample.FourCells, gauge(in + under), finding.Fail, under, 0},
		{"", plainPlates, none, "", 0, 0},
	})
}

func spanner(wide float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Tools.Spanner = mm(wide) }
}

// raised is four cells without angles whose upper rods stand beside the terminals,
// in high and thick plates.
func raised() *params.Fixture {
	f := plainPlates()
	f.Plate.Height, f.Plate.Thickness, f.Rods.Levels = 240, 30, []unit.Length{52, 202.5}
	return f
}

// A socket of 20 mm must clear the standing leg, the cells and the terminals; where
// it does not and a spanner does, it only warns.
func TestDriverNear(t *testing.T) {
	// the rim of the socket, on the washer, comes nearest to the root fillet
	to := func(gap float64) func(*params.Fixture) {
		up := root - 0.065*inch
		return gauge(leg + root - math.Sqrt((root-gap)*(root-gap)-up*up) + 10)
	}
	checkNear(t, "driver-to-metal", []near{
		{"", sample.FourCells, to(0.5 + over), finding.Pass, 0.5 + over, 0.5},
		{"", sample.FourCells, to(0.5 + under), finding.Warn, 0.5 + under, 0.5},
		{"", sample.FourCells, all(spanner(16), to(0.5+under)), finding.Warn, 0.5 + under, 0.5},
	})
	cell := func(d float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Clearances.ToolToCell = mm(d) }
	}
	// from the washer's face, 10 mm round the rod, to the end cell's edge
	toCell := math.Hypot(108-10-87, inch/2+leg+0.065*inch)
	checkNear(t, "driver-to-cell", []near{
		{"", sample.FourCells, cell(toCell - over), finding.Pass, toCell, toCell - over},
		{"", sample.FourCells, cell(toCell - under), finding.Fail, toCell, toCell - under},
		{"", sample.FourCells, all(spanner(8), cell(toCell-under)), finding.Warn, toCell, toCell - under},
		{"", sample.FourCells, all(spanner(20), cell(toCell-under)), finding.Fail, toCell, toCell - under},
	})
	terminal := func(d float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Clearances.ToolToTerminal = mm(d) }
	}
	pads := 1.5 * 8.5 * inch / 4
	toPad := math.Hypot(108-10-61, 8.5*inch/2+30+0.065*inch-pads) - 9
	checkNear(t, "driver-to-terminal", []near{
		{"", raised, terminal(toPad - over), finding.Pass, toPad, toPad - over},
		{"", raised, func(f *params.Fixture) { f.Cell.Plus.Dia, f.Cell.Minus.Dia, f.Cell.VentLength = 0, 0, 0 }, "", 0, 0},
		{"", raised, terminal(toPad - under), finding.Fail, toPad, toPad - under},
	})
}

// Rods are compared with terminals and vents, unless they are sleeved.
func TestMetalToTerminalNear(t *testing.T) {
	clear := func(d float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Clearances.MetalToTerminal = mm(d) }
	}
	tubes := func(f *params.Fixture) { f.Sleeve = sleeved().Sleeve }
	const rise = 0.2 // of a vent over the cell
	toPad, toVent := 108-halfRod-61-9, math.Hypot(108-15, 1.5-rise)-halfRod
	// past the rod the washers come next, 12 mm round it on the plate
	washers := math.Hypot(108-12-61, 8.5*inch/2+30-1.5*8.5*inch/4) - 9
	checkNear(t, "metal-to-terminal", []near{
		{"terminal", raised, clear(toPad - over), finding.Pass, toPad, toPad - over},
		{"terminal", raised, clear(toPad - under), finding.Fail, toPad, toPad - under},
		{"vent", raised, clear(toVent - over), finding.Pass, toVent, toVent - over},
		{"vent", raised, clear(toVent - under), finding.Fail, toVent, toVent - under},
		{"terminal", raised, all(tubes, clear(washers-0.02)), finding.Pass, washers, washers - 0.02},
		{"terminal", raised, all(tubes, clear(washers+0.02)), finding.Fail, washers, washers + 0.02},
	})
}

// A rod across the vents must leave 20 mm free over them.
func TestVentFreeNear(t *testing.T) {
	above := func(free float64) func(*params.Fixture) {
		return func(f *params.Fixture) {
			f.Plate.Height, f.Rods.Columns, f.Rods.Levels = 260, []unit.Length{-108, 0, 108}, []unit.Length{52, mm(201 + free + halfRod)}
		}
	}
	checkNear(t, "vent-free", []near{
		{"", plainPlates, above(19.996), finding.Pass, 20, 20},
		{"", plainPlates, above(19.994), finding.Fail, 19.994, 20},
		{"", plainPlates, above(8), finding.Fail, 8, 20},
		{"", plainPlates, all(above(8), columns(-108, 15+halfRod+0.003, 108)), finding.Pass, 20, 20}, // just beside them
		{"", plainPlates, func(f *params.Fixture) { f.Clearances.VentFree = 0 }, "", 0, 0},
	})
}

// The chuck, 28 mm across, must clear a standing leg that reaches it.
func TestDrillAccessNear(t *testing.T) {
	at := func(gap float64) func(*params.Fixture) {
		return all(gauge(leg+14+gap), func(f *params.Fixture) { f.Stiffener.StandingLeg = 90 })
	}
	short := func(f *params.Fixture) { f.Stiffener.StandingLeg = mm(leg + 8*hole - 0.4) }
	checkNear(t, "drill-access", []near{
		{"", sample.FourCells, at(0.52), finding.Pass, 0.52, 0.5},
		{"", sample.FourCells, at(0.48), finding.Warn, 0.48, 0.5},
		{"", sample.FourCells, all(at(-2), short), finding.Warn, 0.4, 0.5}, // it ends below the chuck
		{"", plainPlates, none, "", 0, 0},
	})
}
