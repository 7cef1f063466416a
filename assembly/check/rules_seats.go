package check

import (
	"math"
	"slices"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/parts/geom"
)

// washerPlay is how far a washer may lie off its hole: play of rod in hole and
// of washer on rod, and the hole's own error, mm.
func washerPlay(f *params.Fixture) float64 {
	d := f.Rods.Thread.Major.MM()
	return (f.Rods.Hole.MM()-d)/2 + (f.Washer.Inner.MM()-d)/2 + f.Tolerances.HolePosition.MM()
}

// legFlat returns the flat of the drilled leg's outer face, measured from the
// heel: it begins where the root fillet ends and ends where the toe rounding
// begins, mm.
func legFlat(s *params.Stiffener) (from, to float64) {
	t := s.Section.Thickness.MM()
	return t + s.Section.Root.MM(), s.DrilledLeg.MM() - s.Section.Toe.MM()
}

// measureWasherFlat compares the washer's edge with all four ends of the leg's flat.
func measureWasherFlat(b *scene) ([]finding.Finding, error) {
	s := b.fixture.Stiffener
	if s == nil {
		return nil, nil
	}
	from, to := legFlat(s)
	gauge, r, play := s.Gauge.MM(), b.fixture.Washer.Outer.MM()/2, washerPlay(b.fixture)
	var root, edge, end tally
	for _, w := range b.nominal.Of(assembly.RoleWasher) {
		if w.Layer != assembly.LayerSeat {
			continue
		}
		leg := b.nominal.StiffenerAt(w.End, w.Level)
		p := atLeast(gauge-r-from, 0, play)
		p.Between, p.At = []string{w.ID, leg.ID}, spot(w.Frame.O)
		root.add(p)
		p = atLeast(to-gauge-r, 0, play)
		p.Between, p.At = []string{w.ID, leg.ID}, spot(w.Frame.O)
		edge.add(p)
		p = atLeast(s.Length.MM()/2-math.Abs(w.Frame.O.X)-r, 0, 0)
		p.Between, p.At = []string{w.ID, leg.ID}, spot(w.Frame.O)
		end.add(p)
	}
	return slices.Concat(root.finding("root fillet", "mm"), edge.finding("leg edge", "mm"), end.finding("leg end", "mm")), nil
}

// measureWasherCovers is how far a washer that has slid as far as it can still reaches
// over the edge of its hole.
func measureWasherCovers(b *scene) ([]finding.Finding, error) {
	f := b.fixture
	slid := washerPlay(f) - f.Tolerances.HolePosition.MM() // the hole takes the rod with it
	var t tally
	for _, w := range b.nominal.Of(assembly.RoleWasher) {
		if w.Layer != assembly.LayerSeat {
			continue
		}
		p := atLeast(f.Washer.Outer.MM()/2-slid-f.Rods.Hole.MM()/2, 0, 0)
		p.Between, p.At = []string{w.ID, b.nominal.SeatUnder(w.End, w.Level).ID}, spot(w.Frame.O)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

// seatArea is the bearing area of a washer over its hole, mm2:
// pi/4 (D^2 - d^2), d the larger of the hole and the washer's own bore.
func seatArea(f *params.Fixture) float64 {
	d := max(f.Rods.Hole.MM(), f.Washer.Inner.MM())
	return math.Pi / 4 * (sq(f.Washer.Outer.MM()) - sq(d))
}

// measureWasherBearing compares the pressure under the washers with what the
// material under them stands, for a long time (warn) and for a short (fail).
// Metals are compared with their yield strength.
func measureWasherBearing(b *scene) ([]finding.Finding, error) {
	f := b.fixture
	m := f.Plate.Material
	if f.Stiffener != nil {
		m = f.Stiffener.Material
	}
	long, short := m.SeatLong.MPa(), m.SeatShort.MPa()
	if long <= 0 {
		long = m.Strength.MPa()
	}
	short = max(short, long)
	if long <= 0 {
		return nil, nil
	}
	var t tally
	for _, w := range b.nominal.Of(assembly.RoleWasher) {
		if w.Layer != assembly.LayerSeat {
			continue
		}
		pressure := math.Inf(1)
		if area := seatArea(f); area > 0 {
			pressure = f.RodForce(f.Cell.ForceTarget, w.Column).N() / area
		}
		p := atMost(pressure, short, long)
		p.Between, p.At = []string{w.ID, b.nominal.SeatUnder(w.End, w.Level).ID}, spot(w.Frame.O)
		t.add(p)
	}
	return t.finding(m.Name, "MPa"), nil
}

// measureProtrusion compares the thread standing out of the outermost nut, as
// drawn and with the thickest cells and the shortest rods.
func measureProtrusion(b *scene) ([]finding.Finding, error) {
	wide, err := b.variant(assembly.Largest)
	if err != nil {
		return nil, err
	}
	want, cut := b.fixture.Rods.Protrusion.MM(), b.fixture.Tolerances.CutLength.MM()
	var drawn, worst tally
	for _, n := range b.nominal.Of(assembly.RoleNut) {
		p := atLeast(b.layout.Ends[n.End].Protrusion(), want, want)
		p.Between, p.At = []string{n.ID, b.nominal.RodAt(n.Column, n.Level).ID}, spot(n.Frame.O)
		drawn.add(p)
		q := atLeast(wide.Placement.Ends[n.End].Protrusion()-cut/2, 0, want)
		q.Between, q.At = p.Between, p.At
		worst.add(q)
	}
	return append(drawn.finding("as drawn", "mm"), worst.finding("thickest cells, shortest rod", "mm")...), nil
}

// measureEngagement compares the thread inside each nut with the nut's height.
func measureEngagement(b *scene) ([]finding.Finding, error) {
	var t tally
	for _, g := range []assembly.Role{assembly.RoleNut, assembly.RoleJamNut} {
		for _, n := range b.nominal.Of(g) {
			span := b.layout.Ends[n.End].Nut
			if g == assembly.RoleJamNut {
				span = b.layout.Ends[n.End].JamNut
			}
			inside := min(b.layout.Ends[n.End].RodEnd, span.Outer) - span.Inner
			p := atLeast(max(inside, 0), span.Thickness(), span.Thickness())
			p.Between, p.At = []string{n.ID, b.nominal.RodAt(n.Column, n.Level).ID}, spot(n.Frame.O)
			t.add(p)
		}
	}
	return t.finding("", "mm"), nil
}

// startThreads is how many threads must stick through for a nut to be started
// by hand.
const startThreads = 2

// measureStart asks whether a nut catches the rod while the springs are free.
func measureStart(b *scene) ([]finding.Finding, error) {
	f := b.fixture
	if f.Spring == nil {
		return nil, nil
	}
	need := startThreads * f.Rods.Thread.Pitch.MM()
	taller := f.Spring.FreeHeight.MM() - f.Spring.SetHeight.MM()
	var t tally
	for _, n := range b.nominal.Of(assembly.RoleNut) {
		if !assembly.HasSpring(f, n.End) {
			continue
		}
		s := b.layout.Ends[n.End]
		p := atLeast(s.RodEnd-s.Seat()-taller, need, need)
		p.Between, p.At = []string{n.ID, b.nominal.RodAt(n.Column, n.Level).ID}, spot(n.Frame.O)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

// measureSocketDepth compares the rod beyond the seat with the depth that the
// socket and drive leave for it.
func measureSocketDepth(b *scene) ([]finding.Finding, error) {
	depth := b.fixture.Tools.SocketWith.MM()
	if depth <= 0 {
		return nil, nil
	}
	var t tally
	for _, n := range b.nominal.Of(assembly.RoleNut) {
		s := b.layout.Ends[n.End]
		p := atMost(s.RodEnd-s.Seat(), math.Inf(1), depth)
		p.Between, p.At = []string{"tool: socket on " + n.ID, b.nominal.RodAt(n.Column, n.Level).ID}, spot(geom.Vec3{X: n.Frame.O.X, Y: n.Frame.O.Y, Z: n.End.Sign() * s.RodEnd})
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

func sq(x float64) float64 { return x * x }
