package clamp

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"clampwright/testdata/outside"
)

// solid is a quarter of a plate with one angle as CalculiX solves it: eight-node
// solids with incompatible modes (C3D8I) for the plate, the foot and the standing
// leg, stiff springs between foot and plate of which those that would pull are taken
// away until none does, springs for the cells, the rod's force
// spread over its washer; no hole, no fillet. Only the numbers are common with the
// program's own model. The foot is free to slide along y, or held sideways.
type solid struct {
	name           string
	plate          Plate
	face           [2]float64 // width and height, centred
	foundation     float64    // MPa per mm of plate displacement
	rodX, rodY     float64    // from the plate's middle
	forceN         float64    // one rod
	washerR        float64
	leg, t         float64 // equal legs and their thickness
	gauge          float64 // hole from the heel
	inward         bool    // standing leg towards the plate's middle
	angleE, length float64 // length: half of it
}

// hdpe is the plate of the first fixtures; crept has the modulus left after 1000 h.
var (
	hdpe      = Plate{WidthMM: 227, HeightMM: 196.8, ThicknessMM: 19.05, ExMPa: 900, Nu: 0.42, StrengthXMPa: 1000}
	crept     = Plate{WidthMM: 227, HeightMM: 196.8, ThicknessMM: 19.05, ExMPa: 430, Nu: 0.42, StrengthXMPa: 1000}
	thinSheet = Plate{WidthMM: 227, HeightMM: 196.8, ThicknessMM: 5, ExMPa: 69000, Nu: 0.33, StrengthXMPa: 1000}
)

func angleOn(name string, p Plate, inward bool) solid {
	return solid{name: name, plate: p, face: [2]float64{174, 196.8}, foundation: 0.16, rodX: 99.2, rodY: 49.2, forceN: 735.5,
		washerR: 8.7, leg: 31.75, t: 3.175, gauge: 17, inward: inward, angleE: 68900, length: 113.5}
}

var solids = []solid{
	angleOn("thick plastic, inward", hdpe, true),
	angleOn("thick plastic, outward", hdpe, false),
	angleOn("crept plastic, inward", crept, true),
	angleOn("crept plastic, outward", crept, false),
	angleOn("thin aluminium, inward", thinSheet, true),
	angleOn("thin aluminium, outward", thinSheet, false),
}

// heel and toe are the heights of the foot's edges over the plate's middle.
func (s solid) heel() float64 { return s.rodY - s.side()*s.gauge }
func (s solid) toe() float64  { return s.heel() + s.side()*s.leg }

// side is 1 where the foot runs from its heel away from the plate's middle.
func (s solid) side() float64 {
	if s.inward {
		return 1
	}
	return -1
}

// input is the same fixture for the program.
func (s solid) input() Input {
	w, h := s.plate.WidthMM/2, s.plate.HeightMM/2
	in := Input{Plate: s.plate, Window: Window{Kind: WindowForce, Min: 1, Target: 4 * s.forceN, Max: 1e5},
		Rows: []Row{{Face: Rect{w - s.face[0]/2, h - s.face[1]/2, w + s.face[0]/2, h + s.face[1]/2}, Cells: 1, CellThicknessMM: 72, Stiffness: s.foundation / 2, Growth: Growth{Shape: ShapeFlat}}}}
	b, t := s.leg, s.t
	area, y := t*(2*b-t), (b*b+b*t-t*t)/(2*(2*b-t))
	held := (math.Pow(b, 4)-math.Pow(b-t, 4))/3 - area*(b-y)*(b-y)
	product := -b * t * (b - t) * b * t * (b - t) / (4 * area) // equal legs: of two strips b by t and b-t by t about their common centroid
	free := held - product*product/held
	for _, up := range []float64{-1, 1} {
		in.Stiffeners = append(in.Stiffeners, Stiffener{YMM: h + up*s.rodY, HeelMM: up * (s.heel() - s.rodY), ToeMM: up * (s.toe() - s.rodY), StandMM: b,
			X0MM: w - s.length, X1MM: w + s.length, EMPa: s.angleE, IMM4: (held + free) / 2, SectionMM3: 700, YieldMPa: 240, LegMM: t})
		for _, side := range []float64{-1, 1} {
			r := testRod(w+side*s.rodX, h+up*s.rodY)
			r.Seat = Seat{OuterMM: 2 * s.washerR, ShortMPa: 1e7}
			in.Rods = append(in.Rods, r)
		}
	}
	return in
}

// pressures of the reference or of the program, kPa.
type pressures struct{ middle, centre, least, greatest, contact float64 }

// A fixture with angles gives what the solid model gives, between a foot free to
// slide and one held sideways: middle, centre, greatest and share in contact within
// 5 %, the least within 10 % of the mean.
func TestAngleAgainstSolids(t *testing.T) {
	ccx := outside.Program(t, "ccx")
	for _, s := range solids {
		t.Run(s.name, func(t *testing.T) {
			free, held := s.calculix(t, ccx, false), s.calculix(t, ccx, true)
			st, err := solveState(s.input(), StateSpec{Name: "tight", Tighten: true})
			if err != nil {
				t.Fatal(err)
			}
			p := st.Pressure
			t.Logf("middle %.1f (%.1f, %.1f) centre %.1f (%.1f, %.1f) least %.1f (%.1f, %.1f) greatest %.1f (%.1f, %.1f) contact %.3f (%.3f, %.3f)",
				p.Swell, free.middle, held.middle, p.Centre, free.centre, held.centre, p.Least, free.least, held.least, p.Greatest, free.greatest, held.greatest, st.ContactFraction, free.contact, held.contact)
			between(t, "middle", p.Swell, free.middle, held.middle, 0.05*p.Swell)
			between(t, "centre", p.Centre, free.centre, held.centre, 0.05*p.Centre)
			between(t, "greatest", p.Greatest, free.greatest, held.greatest, 0.05*p.Greatest)
			between(t, "contact", st.ContactFraction, free.contact, held.contact, 0.05)
			between(t, "least", p.Least, free.least, held.least, 0.1*p.Mean)
		})
	}
}

// between asks for a value from a to b, or no further than tol outside.
func between(t *testing.T, what string, got, a, b, tol float64) {
	t.Helper()
	if !(got >= min(a, b)-tol && got <= max(a, b)+tol) {
		t.Errorf("%s: %.2f, want %.2f to %.2f, at most %.2f outside", what, got, a, b, tol)
	}
}

// solidMesh writes the deck.
type solidMesh struct {
	strings.Builder
	nodes, elements int
}

func (m *solidMesh) say(format string, a ...any) { fmt.Fprintf(m, format+"\n", a...) }

// block writes a box of elements over lines xs, ys, zs and returns its node numbers.
func (m *solidMesh) block(set string, xs, ys, zs []float64) func(i, j, k int) int {
	base := m.nodes
	id := func(i, j, k int) int { return base + (k*len(ys)+j)*len(xs) + i + 1 }
	m.say("*NODE,NSET=N%s", set)
	for k, z := range zs {
		for j, y := range ys {
			for i, x := range xs {
				m.say("%d,%.9g,%.9g,%.9g", id(i, j, k), x, y, z)
			}
		}
	}
	m.nodes += len(xs) * len(ys) * len(zs)
	m.say("*ELEMENT,TYPE=C3D8I,ELSET=E%s", set)
	for k := range len(zs) - 1 {
		for j := range len(ys) - 1 {
			for i := range len(xs) - 1 {
				m.elements++
				m.say("%d,%d,%d,%d,%d,%d,%d,%d,%d", m.elements, id(i, j, k), id(i+1, j, k), id(i+1, j+1, k), id(i, j+1, k),
					id(i, j, k+1), id(i+1, j, k+1), id(i+1, j+1, k+1), id(i, j+1, k+1))
			}
		}
	}
	return id
}

// solidEdge is the greatest element edge, mm.
const solidEdge = 8

// calculix solves the solid model. z is outward from the cells: they lie at z = 0,
// the plate above them, the foot on the plate.
func (s solid) calculix(t *testing.T, ccx string, held bool) pressures {
	t.Helper()
	w, h, pt := s.plate.WidthMM/2, s.plate.HeightMM/2, s.plate.ThicknessMM
	inner := s.heel() + s.side()*s.t
	xs := axis(0, w, []float64{s.face[0] / 2, s.rodX, s.length}, nil, solidEdge)
	ys := axis(0, h, []float64{s.face[1] / 2, s.heel(), inner, s.toe()}, []float64{s.rodY}, solidEdge)
	inFoot := func(y float64) bool { return y > min(s.heel(), s.toe())-1e-6 && y < max(s.heel(), s.toe())+1e-6 }
	var m solidMesh
	plate := m.block("PLATE", xs, ys, axis(0, pt, nil, nil, max(pt/4, 1.3)))
	top := len(axis(0, pt, nil, nil, max(pt/4, 1.3))) - 1
	fys := slices.DeleteFunc(slices.Clone(ys), func(y float64) bool { return !inFoot(y) })
	fxs := slices.DeleteFunc(slices.Clone(xs), func(x float64) bool { return x > s.length+1e-6 })
	foot := m.block("FOOT", fxs, fys, axis(pt, pt+s.t, nil, nil, s.t/2))
	stand := slices.DeleteFunc(slices.Clone(ys), func(y float64) bool {
		return y < min(s.heel(), inner)-1e-6 || y > max(s.heel(), inner)+1e-6
	})
	leg := m.block("LEG", fxs, stand, axis(pt+s.t, pt+s.leg, nil, nil, solidEdge))
	m.say("*MATERIAL,NAME=MP\n*ELASTIC\n%g,%g\n*MATERIAL,NAME=MA\n*ELASTIC\n%g,%g", s.plate.ExMPa, s.plate.Nu, s.angleE, legNu)
	m.say("*SOLID SECTION,ELSET=EPLATE,MATERIAL=MP\n\n*SOLID SECTION,ELSET=EFOOT,MATERIAL=MA\n\n*SOLID SECTION,ELSET=ELEG,MATERIAL=MA\n")
	// The standing leg grows out of the foot: the same points, made one.
	at := func(y float64) int {
		return slices.IndexFunc(fys, func(v float64) bool { return math.Abs(v-y) < 1e-6 })
	}
	for j, y := range stand {
		for i := range fxs {
			for d := 1; d <= 3; d++ {
				m.say("*EQUATION\n2\n%d,%d,1,%d,%d,-1", leg(i, j, 0), d, foot(i, at(y), 2), d)
			}
		}
	}
	s.cells(&m, xs, ys, plate)
	s.supports(&m, xs, ys, fys, top, plate, foot, leg, len(stand), held)
	var pairs [][2]int
	for jf, y := range fys {
		for i := range fxs {
			pairs = append(pairs, [2]int{plate(i, slices.Index(ys, y), top), foot(i, jf, 0)})
		}
	}
	load := s.washer(fxs, fys, func(i, j int) int { return foot(i, j, 2) })
	active := map[int]bool{}
	for p := range pairs {
		active[p] = true
	}
	for range 20 {
		uz := s.run(t, ccx, m.String()+contactDeck(m.elements, pairs, active, load))
		changed := false
		for p, n := range pairs {
			if into := uz[n[0]] - uz[n[1]]; into > 0 != active[p] && math.Abs(into) > touchMM {
				active[p], changed = !active[p], true
			}
		}
		if !changed {
			return s.sum(t, uz, xs, ys, plate)
		}
	}
	t.Fatal("the contact does not settle")
	return pressures{}
}

// contactDeck ends a deck: springs at the pairs of nodes that touch, and the step.
func contactDeck(elements int, pairs [][2]int, active map[int]bool, load map[int]float64) string {
	m := solidMesh{elements: elements}
	m.say("*ELEMENT,TYPE=SPRING2,ELSET=TOUCH")
	for p, n := range pairs {
		if active[p] {
			m.elements++
			m.say("%d,%d,%d", m.elements, n[0], n[1])
		}
	}
	m.say("*SPRING,ELSET=TOUCH\n3,3\n%.1f", contactNPerMM)
	m.say("*STEP\n*STATIC\n*CLOAD")
	for node, f := range load {
		m.say("%d,3,%.9g", node, f)
	}
	m.say("*NODE PRINT,NSET=NPLATE\nU\n*NODE PRINT,NSET=NFOOT\nU\n*END STEP")
	return m.String()
}

// contactNPerMM is stiffer than plate and foot at a node; touchMM is too little
// between two nodes to tell whether they touch.
const contactNPerMM, touchMM = 1e5, 2e-6

// cells puts a spring to ground under every node of the face. No fixture here lifts
// off its cells.
func (s solid) cells(m *solidMesh, xs, ys []float64, plate func(i, j, k int) int) {
	share := func(v []float64, i int, end float64) float64 {
		lo, hi := middle(v, i-1), middle(v, i)
		return max(min(hi, end)-min(lo, end), 0)
	}
	for j := range ys {
		for i := range xs {
			if a := share(xs, i, s.face[0]/2) * share(ys, j, s.face[1]/2); a > 1e-9 {
				m.elements++
				m.say("*ELEMENT,TYPE=SPRING1,ELSET=S%d\n%d,%d\n*SPRING,ELSET=S%d\n3\n%.9g", m.elements, m.elements, plate(i, j, 0), m.elements, a*s.foundation)
			}
		}
	}
}

// supports are the planes of symmetry, and what keeps the angle from floating.
func (s solid) supports(m *solidMesh, xs, ys, fys []float64, top int, plate, foot, leg func(i, j, k int) int, stands int, held bool) {
	m.say("*BOUNDARY")
	for k := 0; k <= top; k++ {
		for j := range ys {
			m.say("%d,1", plate(0, j, k))
		}
		for i := range xs {
			m.say("%d,2", plate(i, 0, k))
		}
	}
	for k := range 3 {
		for j := range fys {
			m.say("%d,1", foot(0, j, k))
		}
	}
	for k := 1; k < len(axis(s.t, s.leg, nil, nil, solidEdge)); k++ {
		for j := range stands {
			m.say("%d,1", leg(0, j, k))
		}
	}
	corner := 0
	if s.side() < 0 {
		corner = len(fys) - 1
	}
	for i := range len(slices.DeleteFunc(slices.Clone(xs), func(x float64) bool { return x > s.length+1e-6 })) {
		if held || i == 0 {
			m.say("%d,2", foot(i, corner, 0))
		}
	}
}

// washer spreads the rod's force evenly over a disc on the foot.
func (s solid) washer(xs, ys []float64, id func(i, j int) int) map[int]float64 {
	out := map[int]float64{}
	spreadRing(Rod{XMM: s.rodX, YMM: s.rodY, Seat: Seat{OuterMM: 2 * s.washerR}}, func(x, y, weight float64) {
		i, xi := cellOf(xs, min(x, xs[len(xs)-1]))
		j, eta := cellOf(ys, y)
		n, _, _ := shape(xi, eta, 1, 1)
		for c, q := range [4][2]int{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}} {
			out[id(q[0], q[1])] -= n[c] * weight * s.forceN
		}
	})
	return out
}

// run solves a deck and returns the nodes' displacements along z, mm.
func (s solid) run(t *testing.T, ccx, deck string) map[int]float64 {
	t.Helper()
	f, err := os.Open(solveDeck(t, ccx, deck))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	uz := map[int]float64{}
	for sc := bufio.NewScanner(f); sc.Scan(); {
		if w := strings.Fields(sc.Text()); len(w) == 4 {
			if n, err := strconv.Atoi(w[0]); err == nil {
				uz[n], _ = strconv.ParseFloat(w[3], 64)
			}
		}
	}
	return uz
}

// sum makes pressures of the displacements of the plate's face.
func (s solid) sum(t *testing.T, uz map[int]float64, xs, ys []float64, plate func(i, j, k int) int) pressures {
	t.Helper()
	p := func(i, j int) float64 { return -1000 * s.foundation * uz[plate(i, j, 0)] }
	out := pressures{centre: p(0, 0), least: math.Inf(1)}
	var area, touch, swell, sum float64
	for j, y := range ys {
		for i, x := range xs {
			if x > s.face[0]/2+1e-6 || y > s.face[1]/2+1e-6 {
				continue
			}
			v := p(i, j)
			out.least, out.greatest = min(out.least, v), max(out.greatest, v)
			tile := Rect{max(middle(xs, i-1), 0), max(middle(ys, j-1), 0), middle(xs, i), middle(ys, j)}
			a := tile.overlap(Rect{0, 0, s.face[0] / 2, s.face[1] / 2})
			area += a
			if v > 0 {
				touch += a
			}
			in := tile.overlap(Rect{0, 0, s.face[0] / 2 * SwellZoneShare, s.face[1] / 2 * SwellZoneShare})
			swell += in
			sum += in * v
		}
	}
	out.middle, out.contact = sum/swell, touch/area
	if area < 1 {
		t.Fatal("nothing read")
	}
	return out
}
