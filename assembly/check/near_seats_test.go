package check

import (
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// softPlates is two rows between plates of polyethylene with washers of a
// diameter, the middle rods carrying 2942 N between them, the outer ones half.
func softPlates(washer float64) func(*params.Fixture) {
	return func(f *params.Fixture) {
		f.Plate.Material = sample.FourCells().Plate.Material
		f.Washer.Outer = mm(washer)
	}
}

// The pressure under a washer is that of the rod which carries most: 2942 N over
// two levels, on a ring of 11 mm bore.
func TestWasherBearingNear(t *testing.T) {
	ring := func(outer, inner float64) float64 { return math.Pi / 4 * (outer*outer - inner*inner) }
	middle := 2942.0 / 2
	across := func(pressure float64) float64 { return math.Sqrt(middle/pressure*4/math.Pi + 11*11) }
	checkNear(t, "washer-bearing", []near{
		{"hdpe", sample.TwoRows, softPlates(across(4.99)), finding.Pass, 4.99, 5},
		{"hdpe", sample.TwoRows, softPlates(across(5.01)), finding.Warn, 5.01, 5},
		{"hdpe", sample.TwoRows, softPlates(across(9.99)), finding.Warn, 9.99, 5},
		{"hdpe", sample.TwoRows, softPlates(across(10.01)), finding.Fail, 10.01, 10},
		{"hdpe", sample.TwoRows, softPlates(10.9), finding.Fail, math.Inf(1), 10},
		// the larger of hole and bore is what the washer lacks
		{"hdpe", sample.TwoRows, func(f *params.Fixture) { softPlates(22)(f); f.Washer.Inner = 13 }, finding.Warn, middle / ring(22, 13), 5},
		// metal is compared with its strength, under the angle's washers too
		{"aluminium", sample.TwoRows, func(f *params.Fixture) { f.Washer.Outer = 11.53 }, finding.Pass, middle / ring(11.53, 11), 160},
		{"aluminium", sample.TwoRows, func(f *params.Fixture) { f.Washer.Outer = 11.51 }, finding.Fail, middle / ring(11.51, 11), 160},
		{"aluminium", sample.FourCells, none, finding.Pass, 2942.0 / 4 / ring(0.688*inch, 0.344*inch), 160},
		{"aluminium", sample.TwoRows, func(f *params.Fixture) { f.Plate.Material.Strength = 0 }, "", 0, 0},
	})
}

// A washer is judged by the rods that carry most: one that does for these passes on all.
// By hand: sqrt(4 1471/(pi 5) + 11^2) = 22.26.
func TestWashersServeMiddleRods(t *testing.T) {
	for outer, want := range map[unit.Length]finding.Verdict{19.28: finding.Warn, 22.2: finding.Warn, 22.3: finding.Pass} {
		f := sample.TwoRows()
		softPlates(19.28)(f) // the mean of all rods would be 4.99 MPa
		f.Washer.Outer = outer
		if got, _ := get(run(t, f), "washer-bearing", ""); got.Verdict != want || outer == 19.28 && math.Abs(got.Have-7.48) > 0.01 {
			t.Errorf("%g: %+v", outer, got)
		}
	}
}

// The sizes of four cells that the seats depend on, mm.
const (
	hole, bore, outer = 11 * inch / 32, 0.344 * inch, 0.688 * inch // of the rod, of the washer
	major             = 2 * halfRod
	leg, root, toe    = inch / 8, 3.2, 1.6
	play              = (hole-major)/2 + (bore-major)/2 + 0.3
)

func gauge(at float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Stiffener.Gauge = mm(at) }
}

// The washer's edge must lie on the flat of the leg, and stay there with all play.
func TestWasherFlatNear(t *testing.T) {
	in, out := leg+root+outer/2, 1.25*inch-toe-outer/2
	checkNear(t, "washer-flat", []near{
		{"root fillet", sample.FourCells, gauge(in + play + over), finding.Pass, play + over, play},
		{"root fillet", sample.FourCells, gauge(in + play + under), finding.Warn, play + under, play},
		{"root fillet", sample.FourCells, gauge(in + over), finding.Warn, over, play},
		{"root fillet", sample.FourCells, gauge(in + under), finding.Fail, under, 0},
		{"leg edge", sample.FourCells, gauge(out - play - over), finding.Pass, play + over, play},
		{"leg edge", sample.FourCells, gauge(out - play - under), finding.Warn, play + under, play},
		{"leg edge", sample.FourCells, gauge(out - over), finding.Warn, over, play},
		{"leg edge", sample.FourCells, gauge(out - under), finding.Fail, under, 0},
		{"leg end", sample.FourCells, all(washer(24), angleLength(12+over)), finding.Pass, over, 0},
		{"leg end", sample.FourCells, all(washer(24), angleLength(12+under)), finding.Fail, under, 0},
		{"root fillet", plainPlates, none, "", 0, 0},
		{"leg end", plainPlates, none, "", 0, 0},
	})
}

// A washer's bore keeps it by (bore-major)/2 on the rod, the rod by (hole-major)/2 in its
// hole: slid by both, it still covers the hole's edge.
func TestWasherCoversNear(t *testing.T) {
	bored := func(wide float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Rods.Hole = mm(wide) }
	}
	widest := (outer + 2*major - bore) / 2 // outer/2 - (bore-major)/2 - (widest-major)/2 = widest/2
	checkNear(t, "washer-covers", []near{
		{"", sample.FourCells, bored(widest - over), finding.Pass, over, 0},
		{"", sample.FourCells, bored(widest - under), finding.Fail, under, 0},
		{"", sample.FourCells, none, finding.Pass, widest - hole, 0},
		{"", plainPlates, all(bored(widest+3), washer(outer+6+2*under)), finding.Fail, under, 0},
	})
}

// plateWidth leaves so much from the outer rods' middles to the plate's sides.
func plateWidth(edge float64) func(*params.Fixture) {
	return func(f *params.Fixture) {
		f.Plate.Width = 2 * (f.Rods.Columns[len(f.Rods.Columns)-1] + mm(edge))
	}
}

func angleLength(edge float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Stiffener.Length = 2 * mm(108+edge) }
}

func feet(inset, dia float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Plate.Feet = &params.Feet{HoleDia: mm(dia), Inset: mm(inset)} }
}

func washer(outer float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Washer.Outer = mm(outer) }
}

// A hole's middle must lie 1.2 diameters from an edge, and should 1.5; the washers
// of soft plates 2 mm inside it. The heel of an angle is no edge.
func TestHoleEdgeNear(t *testing.T) {
	least, usual := 1.2*hole, 1.5*hole
	checkNear(t, "hole-edge", []near{
		{"end-plate", sample.FourCells, plateWidth(usual + over), finding.Pass, usual + over, usual},
		{"end-plate", sample.FourCells, plateWidth(usual + under), finding.Warn, usual + under, usual},
		{"end-plate", sample.FourCells, plateWidth(least + over), finding.Warn, least + over, usual},
		{"end-plate", sample.FourCells, plateWidth(least + under), finding.Fail, least + under, least},
		{"end-plate", sample.FourCells, all(washer(24), plateWidth(14+over)), finding.Pass, 14 + over, 14},
		{"end-plate", sample.FourCells, all(washer(24), plateWidth(14+under)), finding.Warn, 14 + under, 14},
		{"end-plate", sample.TwoRows, all(washer(33), plateWidth(16.5+over)), finding.Pass, 16.5 + over, 16.5}, // metal
		{"end-plate", sample.TwoRows, all(washer(40), plateWidth(20+over)), finding.Pass, 20 + over, 20},
		{"end-plate", sample.TwoRows, all(washer(40), plateWidth(20+under)), finding.Fail, 20 + under, 20},
		{"end-plate", plainPlates, plateWidth(14 + over), finding.Pass, 14 + over, 14},
		{"end-plate", plainPlates, plateWidth(12 + over), finding.Warn, 12 + over, 14},
		{"end-plate", plainPlates, plateWidth(12 + under), finding.Fail, 12 + under, 12},
		{"end-plate", sample.TwoRows, plateWidth(16.5 + under), finding.Warn, 16.5 + under, 16.5},
		{"end-plate", sample.FourCells, all(washer(24), feet(9.9+over, 6.6)), finding.Pass, 9.9 + over, 9.9}, // no washer on these
		{"end-plate", sample.FourCells, feet(9.9+under, 6.6), finding.Warn, 9.9 + under, 9.9},
		{"end-plate", sample.FourCells, feet(7.92+under, 6.6), finding.Fail, 7.92 + under, 7.92},
		{"stiffener", sample.FourCells, angleLength(usual + over), finding.Pass, usual + over, usual},
		{"stiffener", sample.FourCells, angleLength(usual + under), finding.Warn, usual + under, usual},
		{"stiffener", sample.FourCells, angleLength(least + under), finding.Fail, least + under, least},
		{"stiffener", sample.FourCells, all(columns(-108, 100), angleLength(usual+under)), finding.Warn, usual + under, usual},
		{"stiffener", sample.FourCells, all(columns(-100, 108), angleLength(usual+under)), finding.Warn, usual + under, usual},
		{"stiffener", sample.FourCells, all(washer(40), gauge(1.25*inch-usual-over)), finding.Pass, usual + over, usual},
		{"stiffener", sample.FourCells, gauge(1.25*inch - usual - under), finding.Warn, usual + under, usual},
		{"stiffener", sample.FourCells, gauge(11), finding.Pass, 9.75*inch/2 - 108, usual},
		{"stiffener", plainPlates, none, "", 0, 0},
	})
}

// An angle's hole has three edges to tear out at: both ends and the toe.
func TestToFreeEdge(t *testing.T) {
	a, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	p := newScene(a).ofKind(parts.KindStiffener)[0]
	box := p.Flat.Profile.Bounds()
	for _, c := range [][2]geom.Vec2{
		{{X: 3, Y: 20}, {X: box.Min.X + 3, Y: box.Min.Y + 20}}, {{X: 3, Y: 20}, {X: box.Max.X - 3, Y: box.Min.Y + 20}},
		{{X: 3, Y: 3}, {X: 0, Y: box.Min.Y + 3}}, {{X: box.Max.X, Y: box.Max.Y - box.Min.Y - 1}, {X: 0, Y: box.Max.Y - 1}},
	} {
		if got, want := toFreeEdge(p, c[1]), min(c[0].X, c[0].Y); math.Abs(got-want) > 1e-9 {
			t.Errorf("%v: %g to an edge, want %g", c[1], got, want)
		}
	}
}

// Between two holes 1.2 diameters of the larger must be left, and should be 2.
func TestLigamentNear(t *testing.T) {
	apart := func(gap float64) func(*params.Fixture) { return levels(90, mm(90+hole+gap)) }
	// a foot's hole of 12 mm right below a rod's, 15.825 mm in from side and bottom
	below := func(gap float64) func(*params.Fixture) {
		return all(feet(9.75*inch/2-108, 12), levels(mm(3+9.75*inch/2-108+(hole+12)/2+gap), 149))
	}
	checkNear(t, "hole-ligament", []near{
		{"end-plate", plainPlates, apart(2*hole + over), finding.Pass, 2*hole + over, 2 * hole},
		{"end-plate", plainPlates, apart(2*hole + under), finding.Warn, 2*hole + under, 2 * hole},
		{"end-plate", plainPlates, apart(1.2*hole + over), finding.Warn, 1.2*hole + over, 2 * hole},
		{"end-plate", plainPlates, apart(1.2*hole + under), finding.Fail, 1.2*hole + under, 1.2 * hole},
		{"end-plate", plainPlates, below(24 + over), finding.Pass, 24 + over, 24},
		{"end-plate", plainPlates, below(24 + under), finding.Warn, 24 + under, 24},
		{"end-plate", plainPlates, below(14.4 + under), finding.Fail, 14.4 + under, 14.4},
		{"stiffener", sample.FourCells, columns(-10, mm(-10+hole*2.2+under)), finding.Fail, 1.2*hole + under, 1.2 * hole},
	})
}

// What lies on a rod at one end of four cells, mm from the middle: seat, nut.
const (
	seat = 8.5*inch/2 + inch/2 + inch/8 + 0.065*inch
	nut  = 0.359 * inch
)

// rodEnds puts the rods' ends so far from the middle.
func rodEnds(at float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Rods.Length = mm(2 * at) }
}

func jamNut(f *params.Fixture) {
	f.JamNut = &catalog.Nut{Name: "jam", Kind: "plain", Height: 5, Flats: 12.7, Corners: 14.7}
}

// Thread must stand out of the outermost nut; of a stack that was measured only the
// saw can take any away.
func TestProtrusionNear(t *testing.T) {
	drawn, worst := "as drawn", "thickest cells, shortest rod"
	loose := func(f *params.Fixture) { f.Pack.Measured = false } // four cells 0.5 mm thicker: 1 mm an end
	checkNear(t, "thread-protrusion", []near{
		{drawn, sample.FourCells, rodEnds(seat + nut + 1.5 + over), finding.Pass, 1.5 + over, 1.5},
		{drawn, sample.FourCells, rodEnds(seat + nut + 1.5 + under), finding.Fail, 1.5 + under, 1.5},
		{drawn, sample.FourCells, all(jamNut, rodEnds(seat+nut+5+1.5+over)), finding.Pass, 1.5 + over, 1.5},
		{drawn, sample.FourCells, all(jamNut, rodEnds(seat+nut+5+1.5+under)), finding.Fail, 1.5 + under, 1.5},
		{worst, sample.FourCells, rodEnds(seat + nut + 1.75 + over), finding.Pass, 1.5 + over, 1.5},
		{worst, sample.FourCells, rodEnds(seat + nut + 1.75 + under), finding.Warn, 1.5 + under, 1.5},
		{worst, sample.FourCells, rodEnds(seat + nut + 0.25 + over), finding.Warn, over, 1.5},
		{worst, sample.FourCells, rodEnds(seat + nut + 0.25 + under), finding.Fail, under, 0},
		{worst, sample.FourCells, all(loose, rodEnds(seat+nut+2.75+over)), finding.Pass, 1.5 + over, 1.5},
		{worst, sample.FourCells, all(loose, rodEnds(seat+nut+2.75+under)), finding.Warn, 1.5 + under, 1.5},
	})
}

// The rod must go through every nut, the jam nut too.
func TestEngagementNear(t *testing.T) {
	checkNear(t, "nut-engaged", []near{
		{"", sample.FourCells, rodEnds(seat + nut + over), finding.Pass, nut + over, nut},
		{"", sample.FourCells, rodEnds(seat + nut + under), finding.Fail, nut + under, nut},
		{"", sample.FourCells, rodEnds(seat - 1), finding.Fail, 0, nut},
		{"", sample.FourCells, all(jamNut, rodEnds(seat+nut+5+over)), finding.Pass, 5 + over, 5},
		{"", sample.FourCells, all(jamNut, rodEnds(seat+nut+5+under)), finding.Fail, 5 + under, 5},
		{"", sample.FourCells, none, finding.Pass, nut, nut},
	})
}

// With the springs free two threads must stand through the second washer.
func TestStartNear(t *testing.T) {
	sprungSeat, end := seat+6.5+0.065*inch, (11.25*inch+10)/2+5
	free := func(through float64) func(*params.Fixture) {
		return func(f *params.Fixture) { f.Spring.FreeHeight = mm(6.5 + end - sprungSeat - through) }
	}
	both := func(f *params.Fixture) { f.Spring.BothEnds = true }
	need := 2 * inch / 18
	checkNear(t, "nut-starts", []near{
		{"", sprung, free(need + over), finding.Pass, need + over, need},
		{"", sprung, free(need + under), finding.Fail, need + under, need},
		{"", sprung, all(both, free(need+10+over)), finding.Pass, need + over, need}, // 10 mm less rod at the back
		{"", sprung, all(both, free(need+10+under)), finding.Fail, need + under, need},
		{"", sample.FourCells, none, "", 0, 0},
	})
}

// The rod beyond the seat goes into socket and drive.
func TestSocketDepthNear(t *testing.T) {
	checkNear(t, "socket-depth", []near{
		{"", sample.FourCells, rodEnds(seat + 80 - over), finding.Pass, 80 - over, 80},
		{"", sample.FourCells, rodEnds(seat + 80 - under), finding.Warn, 80 - under, 80},
		{"", sample.FourCells, func(f *params.Fixture) { f.Tools.SocketWith = 0 }, "", 0, 0},
	})
}

func discBore(inner float64) func(*params.Fixture) {
	return func(f *params.Fixture) {
		f.Spring.Disc = &catalog.DiscSpring{Name: "d", Outer: mm(inner + 10), Inner: mm(inner), T: 0.9, H0: 0.35}
	}
}

func stackHigh(free float64) func(*params.Fixture) {
	return func(f *params.Fixture) { f.Spring.FreeHeight = mm(free) }
}

func coil(inner float64) func(*params.Fixture) {
	return func(f *params.Fixture) {
		f.Spring.Disc, f.Spring.Coil = nil, &catalog.CoilSpring{Name: "c", Wire: 2, Mean: mm(inner + 2), Active: 5, Free: 30, Solid: 14}
	}
}

// A spring that has slipped must still lie on its washer; a disc should be guided.
func TestSpringNear(t *testing.T) {
	held := outer/2 + major/2 - (bore-major)/2 // less the spring's bore; a coil rests with the middle of its wire, 1 mm further out
	bushed := func(f *params.Fixture) { f.Spring.BushInner, f.Spring.BushOuter = mm(major+0.1), f.Spring.Bore()-0.2 }
	checkNear(t, "spring-held", []near{
		{"", sprung, discBore(held - over), finding.Pass, over, 0},
		{"", sprung, discBore(held - under), finding.Fail, under, 0},
		{"", sprung, coil(held - 1 - over), finding.Pass, over, 0},
		{"", sprung, coil(held - 1 - under), finding.Fail, under, 0},
		{"", sprung, all(discBore(2*(outer/2-0.15-(bore-major)/2-over)), bushed), finding.Pass, over, 0}, // rests where the bush lets it
		{"", sprung, all(discBore(2*(outer/2-0.15-(bore-major)/2-under)), bushed), finding.Fail, under, 0},
		{"", sample.FourCells, none, "", 0, 0},
	})
	guide := (&catalog.DiscSpring{Inner: 8.5}).GuidePlay().MM()
	checkNear(t, "spring-guided", []near{
		{"", sprung, discBore(major + guide - over), finding.Pass, guide - over, guide},
		{"", sprung, discBore(major + guide - under), finding.Warn, guide - under, guide},
		{"", sprung, all(discBore(major+3), bushed), finding.Pass, 0.3, guide},
		{"", sprung, coil(major + 3), "", 0, 0},
		{"", sample.FourCells, none, "", 0, 0},
		{"stack", sprung, stackHigh(3*16 - over), finding.Pass, 3*16 - over, 3 * 16}, // discs of 16 mm
		{"stack", sprung, stackHigh(3*16 - under), finding.Warn, 3*16 - under, 3 * 16},
		{"stack", sprung, all(coil(major+3), stackHigh(30)), finding.Pass, 30, 30}, // one coil of 30 mm
		{"stack", sprung, all(coil(major+3), stackHigh(60)), finding.Warn, 60, 30}, // two
		{"stack", sample.FourCells, none, "", 0, 0},
	})
}
