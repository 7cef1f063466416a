package clamp

import "math"

// An angle lies on the plate with one leg, the foot, and stands off it with the
// other. The foot is a plate of its own over the grid, from the middle of the
// standing leg to the toe; the standing leg is a beam along that corner, which
// bends with the whole section and twists with its own torsion. Between foot and
// plate there is one-sided contact at every node: an angle presses where it
// touches, near the corner between the rods and near the holes beside them, not
// on a line through the holes.

// hasLeg says whether the stiffener is an angle with a foot, and not only a line.
func (s Stiffener) hasLeg() bool { return s.HeelMM != s.ToeMM }

// cornerMM is the height of the corner, the middle of the standing leg, over YMM.
func (s Stiffener) cornerMM() float64 {
	if !s.hasLeg() {
		return 0
	}
	return s.HeelMM + math.Copysign(s.LegMM/2, s.ToeMM-s.HeelMM)
}

// torsion is G b t^3/3 of the standing leg, N·mm2 (thin rectangle, Saint-Venant).
func (s Stiffener) torsion() float64 {
	if !s.hasLeg() {
		return 0
	}
	return s.EMPa / (2 * (1 + legNu)) * s.StandMM * math.Pow(s.LegMM, 3) / 3
}

// legNu is Poisson's ratio of the metals that angles are of.
const legNu = 0.33

// leg is the foot as a plate.
func (s Stiffener) leg() Plate {
	return Plate{ThicknessMM: s.LegMM, ExMPa: s.EMPa, Nu: legNu}
}

// bandY is the foot's lower and upper edge in plate coordinates: from the corner to
// the toe.
func (s Stiffener) bandY() (lo, hi float64) {
	a, b := s.YMM+s.cornerMM(), s.YMM+s.ToeMM
	return math.Min(a, b), math.Max(a, b)
}

// legMesh is the nodes of one foot: those of the grid from i0, j0 to i1, j1.
type legMesh struct {
	stiffener, base, i0, i1, j0, j1 int
}

func (l legMesh) has(i, j int) bool { return i >= l.i0 && i <= l.i1 && j >= l.j0 && j <= l.j1 }

// node is the number of the foot's node over grid place i, j.
func (l legMesh) node(i, j int) int { return l.base + (i-l.i0)*(l.j1-l.j0+1) + j - l.j0 }

// elements calls fn for every element of the foot.
func (l legMesh) elements(fn func(i, j int)) {
	for i := l.i0; i < l.i1; i++ {
		for j := l.j0; j < l.j1; j++ {
			fn(i, j)
		}
	}
}

// placeLeg adds the foot of stiffener k, if it has one.
func (m *model) placeLeg(k int, st Stiffener) {
	if !st.hasLeg() {
		return
	}
	lo, hi := st.bandY()
	l := legMesh{stiffener: k, base: m.nodes, i0: nearest(m.xs, st.X0MM), i1: nearest(m.xs, st.X1MM), j0: nearest(m.ys, lo), j1: nearest(m.ys, hi)}
	m.legs = append(m.legs, l)
	m.nodes += (l.i1 - l.i0 + 1) * (l.j1 - l.j0 + 1)
}

// footContact is one node at which a foot rests on the plate.
type footContact struct {
	plate, leg      int // equations of w
	k, area         float64
	stiffener, i, j int // where it is
}

// force is what the plate presses against the foot (N) and the contact's stiffness,
// none where they are apart. factor is the plate's modulus over its nominal one.
func (c footContact) force(factor float64, x []float64) (f, k float64) {
	if d := x[c.plate] - x[c.leg]; d >= 0 {
		return factor * c.k * d, factor * c.k
	}
	return 0, 0
}

// placeFeet puts contact under every foot: at each node its share of the foot's
// area, at the corner with what lies under the standing leg. The stiffness per area
// is that of half the plate's thickness.
func (s *system) placeFeet() {
	for _, l := range s.m.legs {
		st := s.in.Stiffeners[l.stiffener]
		heel := Rect{st.X0MM, math.Min(st.YMM+st.HeelMM, st.YMM+st.ToeMM), st.X1MM, math.Max(st.YMM+st.HeelMM, st.YMM+st.ToeMM)}
		for i := l.i0; i <= l.i1; i++ {
			for j := l.j0; j <= l.j1; j++ {
				tile := Rect{middle(s.m.xs, i-1), middle(s.m.ys, j-1), middle(s.m.xs, i), middle(s.m.ys, j)}
				if j == l.j0 {
					tile.Y0 = math.Min(tile.Y0, heel.Y0)
				}
				if j == l.j1 {
					tile.Y1 = math.Max(tile.Y1, heel.Y1)
				}
				if area := tile.overlap(heel); area > 0 {
					s.feet = append(s.feet, footContact{plate: s.m.eq(s.m.node(i, j), dofW), leg: s.m.eq(l.node(i, j), dofW), area: area, k: area * s.in.Plate.through(), stiffener: l.stiffener, i: i, j: j})
				}
			}
		}
	}
}

// through is the pressure per shortening of half the plate's thickness, MPa/mm.
func (p Plate) through() float64 {
	return math.Min(p.ExMPa, orElse(p.EyMPa, p.ExMPa)) / (p.ThicknessMM / 2)
}
