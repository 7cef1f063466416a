package clamp

import (
	"math"
	"slices"
)

// system is one fixture made discrete: structure, contacts and rods. It caches
// factorizations and is not safe for concurrent use.
type system struct {
	in     Input
	m      *model
	half   bool
	fullXS []float64

	contacts []contact     // of the solved part
	full     []fullContact // of the whole plate
	feet     []footContact // of the solved part
	rods     []rodGroup    // of the solved part
	groupOf  []int         // rod -> group

	floor float64    // force (N) below which a residual is judged no more sharply: the tightening force
	work  bandMatrix // holds the factor of solve
	base  bandCache
	solve factorCache
	last  *solution // the last equilibrium

	hollow []float64 // area of each row's swell zone that nothing is near, mm2
}

// contact is one node of one row's face with its share of the area.
type contact struct {
	row, node, eq int
	x, y, area    float64
}

// fullContact is a contact on the whole plate and the solved one it mirrors.
type fullContact struct {
	row, i, j   int
	area, swell float64 // mm²; swell is the part inside the swell zone
	solved      int
}

// rodGroup is one rod of the solved part with its mirror image, if any.
type rodGroup struct {
	curve rodCurve
	mult  float64 // 1/2 on the line of symmetry, else 1
	eq    []int
	wt    []float64 // w_r = sum wt w, sum wt = 1
	turn  [2]int    // equations of the slopes along x and y under the seat, -1 where held
	rods  []int
}

// newSystem discretizes in with greatest element edge h. The input has been
// validated.
func newSystem(in Input, h float64) *system {
	s := &system{in: in, half: symmetric(in)}
	xs, ys := gridLines(in, h, s.half)
	s.fullXS = xs
	var held func(i, j, kind int) bool
	if s.half {
		s.fullXS = mirrorLines(xs, in.Plate.WidthMM)
		last := len(xs) - 1
		held = func(i, _, kind int) bool { return i == last && (kind == dofBX || kind == dofSlope) }
	}
	s.m = newModel(in.Plate, in.Stiffeners, xs, ys, held)
	s.placeContacts()
	s.placeFeet()
	s.placeRods()
	return s
}

// placeContacts shares every row's pressing area out to the grid's nodes.
func (s *system) placeContacts() {
	nx, ny := len(s.fullXS), len(s.m.ys)
	index := make([]int, len(s.in.Rows)*nx*ny)
	for r, row := range s.in.Rows {
		area, swell := nodeAreas(s.fullXS, s.m.ys, row, orElse(s.in.SwellZone, SwellZoneShare))
		s.hollow = append(s.hollow, hollow(s.fullXS, s.m.ys, row, orElse(s.in.SwellZone, SwellZoneShare)))
		for i := range nx {
			for j := range ny {
				if area[i*ny+j] > 0 {
					s.full = append(s.full, fullContact{row: r, i: i, j: j, area: area[i*ny+j], swell: swell[i*ny+j]})
				}
			}
		}
	}
	for k := range s.full {
		s.placeSolved(&s.full[k], index, nx, ny)
	}
	mirror := mirrorRows(s.in.Rows, s.in.Plate.WidthMM)
	last := len(s.m.xs) - 1
	for k := range s.full {
		c := &s.full[k]
		if s.half && c.i > last {
			c.solved = index[(mirror[c.row]*nx+2*last-c.i)*ny+c.j]
		}
	}
}

// placeSolved adds the contact to the solved part if it lies there.
func (s *system) placeSolved(c *fullContact, index []int, nx, ny int) {
	last := len(s.m.xs) - 1
	if s.half && c.i > last {
		return
	}
	area := c.area
	if s.half && c.i == last {
		area /= 2
	}
	node := s.m.node(c.i, c.j)
	c.solved = len(s.contacts)
	index[(c.row*nx+c.i)*ny+c.j] = c.solved
	s.contacts = append(s.contacts, contact{
		row: c.row, node: node, eq: s.m.eq(node, dofW), x: s.fullXS[c.i], y: s.m.ys[c.j], area: area,
	})
}

// nodeAreas returns for each grid node (i*ny+j) its share of a row's pressing
// area and of the part of it in the swell zone: every element gives each corner
// what lies in that corner's quarter.
func nodeAreas(xs, ys []float64, row Row, share float64) (area, swell []float64) {
	ny := len(ys)
	area, swell = make([]float64, len(xs)*ny), make([]float64, len(xs)*ny)
	pressing := row.pressing()
	zone := row.Face.middle(share)
	for i := range xs {
		for j := range ys {
			tile := Rect{middle(xs, i-1), middle(ys, j-1), middle(xs, i), middle(ys, j)}
			for _, p := range pressing {
				area[i*ny+j] += tile.overlap(p)
				swell[i*ny+j] += tile.intersect(p).overlap(zone)
			}
		}
	}
	return area, swell
}

// bridgedMM is how far from what presses a case still holds itself: over a gap of twice
// that a wall of 0.8 mm domes by 0.07 mm at 100 kPa, p L^4/(384 E I) of a strip held at
// both sides.
const bridgedMM = 15

// hollow is the area in the swell zone that lies farther from all that presses, mm2.
func hollow(xs, ys []float64, row Row, share float64) (area float64) {
	pressing, zone := row.Pressing, row.Face.middle(share)
	for i, x := range xs {
		for j, y := range ys {
			held := len(pressing) == 0 // the whole face
			for _, p := range pressing {
				held = held || math.Hypot(max(p.X0-x, 0, x-p.X1), max(p.Y0-y, 0, y-p.Y1)) <= bridgedMM
			}
			if !held {
				area += (Rect{middle(xs, i-1), middle(ys, j-1), middle(xs, i), middle(ys, j)}).overlap(zone)
			}
		}
	}
	return area
}

// middle returns the middle of interval i, i+1, or the end of the lines.
func middle(lines []float64, i int) float64 {
	i0, i1 := max(i, 0), min(i+1, len(lines)-1)
	return (lines[i0] + lines[i1]) / 2
}

func (r Rect) intersect(q Rect) Rect {
	return Rect{math.Max(r.X0, q.X0), math.Max(r.Y0, q.Y0), math.Min(r.X1, q.X1), math.Min(r.Y1, q.Y1)}
}

// pressing returns the rectangles of the face that take pressure.
func (r Row) pressing() []Rect {
	if len(r.Pressing) == 0 {
		return []Rect{r.Face}
	}
	return r.Pressing
}

// placeRods couples each rod to the nodes under its washer.
func (s *system) placeRods() {
	mirror := mirrorRods(s.in.Rods, s.in.Plate.WidthMM)
	mid := s.in.Plate.WidthMM / 2
	s.groupOf = make([]int, len(s.in.Rods))
	for r, rod := range s.in.Rods {
		if s.half && rod.XMM > mid+sameLineMM {
			continue
		}
		g := rodGroup{curve: newRodCurve(rod), mult: 1, rods: []int{r}}
		if s.half {
			if m := mirror[r]; m != r {
				g.rods = append(g.rods, m)
			} else {
				g.mult = 0.5
			}
		}
		g.eq, g.wt, g.turn = s.seatWeights(rod)
		for _, k := range g.rods {
			s.groupOf[k] = len(s.rods)
		}
		s.rods = append(s.rods, g)
	}
}

// bearsOn returns the index of the stiffener a rod's washer sits on, or -1.
func bearsOn(in Input, rod Rod) int {
	for k, st := range in.Stiffeners {
		if math.Abs(rod.YMM-st.YMM) <= orElse(st.ReachMM, StiffenerReachMM) && rod.XMM >= st.X0MM && rod.XMM <= st.X1MM {
			return k
		}
	}
	return -1
}

// seatWeights returns the equations and weights of a washer's mean displacement.
// On a bare plate the pressure is even over the seat's annulus; on a stiffener
// it is spread along the stiffener's line as the seat is wide.
func (s *system) seatWeights(rod Rod) (eq []int, wt []float64, turn [2]int) {
	acc := make([]float64, s.m.n)
	within, node := Rect{0, 0, s.in.Plate.WidthMM, s.in.Plate.HeightMM}, s.m.node
	add := func(x, y, weight float64) {
		if mid := s.in.Plate.WidthMM / 2; s.half && x > mid {
			x = 2*mid - x
		}
		x = math.Min(math.Max(x, within.X0), within.X1)
		y = math.Min(math.Max(y, within.Y0), within.Y1)
		i, xi := cellOf(s.m.xs, x)
		j, eta := cellOf(s.m.ys, y)
		n, _, _ := shape(xi, eta, 1, 1)
		for c, node := range quad(node, i, j) {
			if n[c] > 1e-12 {
				acc[s.m.eq(node, dofW)] += n[c] * weight
			}
		}
	}
	switch k := bearsOn(s.in, rod); {
	case k >= 0 && s.in.Stiffeners[k].hasLeg():
		l := s.m.legs[slices.IndexFunc(s.m.legs, func(l legMesh) bool { return l.stiffener == k })]
		within, node = Rect{s.m.xs[l.i0], s.m.ys[l.j0], s.m.xs[l.i1], s.m.ys[l.j1]}, l.node
		spreadRing(rod, add)
	case k >= 0:
		spreadLine(rod, s.in.Stiffeners[k].YMM, add)
	default:
		spreadRing(rod, add)
	}
	for e, v := range acc {
		if v != 0 {
			eq, wt = append(eq, e), append(wt, v)
		}
	}
	i, j := nearest(s.m.xs, rod.XMM), nearest(s.m.ys, rod.YMM)
	return eq, wt, [2]int{s.m.eq(node(i, j), dofBX), s.m.eq(node(i, j), dofBY)}
}

// tilt is the slope of the rod's seat, rad.
func (g *rodGroup) tilt(x []float64) float64 {
	t := 0.0
	for _, e := range g.turn {
		if e >= 0 {
			t = math.Hypot(t, x[e])
		}
	}
	return t
}

// spreadRing samples an annulus in rings and spokes of equal area.
func spreadRing(rod Rod, add func(x, y, weight float64)) {
	const rings, spokes = 4, 24
	a, b := rod.Seat.InnerMM/2, rod.Seat.OuterMM/2
	for k := range rings {
		t := (float64(k) + 0.5) / rings
		r := math.Sqrt(a*a + t*(b*b-a*a))
		for q := range spokes {
			sin, cos := math.Sincos(2 * math.Pi * (float64(q) + 0.5) / spokes)
			add(rod.XMM+r*cos, rod.YMM+r*sin, 1.0/(rings*spokes))
		}
	}
}

// spreadLine samples the seat's diameter, weighted by the chord across it.
func spreadLine(rod Rod, y float64, add func(x, y, weight float64)) {
	const points = 16
	sum := 0.0
	chord := func(k int) float64 {
		t := (float64(k)+0.5)/points*2 - 1
		return math.Sqrt(1 - t*t)
	}
	for k := range points {
		sum += chord(k)
	}
	for k := range points {
		t := (float64(k)+0.5)/points*2 - 1
		add(rod.XMM+t*rod.Seat.OuterMM/2, y, chord(k)/sum)
	}
}

// bandCache keeps the structure's matrix of the last plate modulus factor.
type bandCache struct {
	factor float64
	k      bandMatrix
}

// structure returns the band matrix of plate and stiffeners.
func (s *system) structure(factor float64) bandMatrix {
	if s.base.k.data == nil || s.base.factor != factor {
		s.base = bandCache{factor: factor, k: s.m.stiffness(factor)}
	}
	return s.base.k
}
