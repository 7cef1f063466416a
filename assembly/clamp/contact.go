package clamp

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// loadCase is what one state imposes on a system.
type loadCase struct {
	name   string
	factor float64   // plate modulus over nominal
	curves []pwl     // per row, whole stack
	g      []float64 // per contact: the stack's excess length there, mm
	force  []float64 // per rod group: prescribed forces, or nil
	offset []float64 // per rod group: nut advance d, when force is nil
}

// solution is an equilibrium of the solved part. The plate's displacement is base, the
// same everywhere, and what x adds: so a stiff plate's bending, far less than its way,
// keeps its digits.
type solution struct {
	base  float64
	x     []float64 // by equation
	p     []float64 // per contact, MPa
	rodF  []float64 // per rod group, N in one rod
	rodW  []float64 // per rod group: displacement of the seat
	steps int
}

// Limits of Newton's method. The energy is convex and its gradient piecewise
// smooth, so the line search makes it converge; the limits are for rounding.
const (
	maxNewton    = 250
	maxLine      = 30
	maxStall     = 60   // iterations without halving the best residual
	roundingRest = 1e-3 // of the total force
	residualTol  = 1e-9 // of the total force
	stallTol     = 2e-7 // accepted when rounding allows no better
	restTol      = 1e-5 // of the total force: accepted when it stays so for restSteps, as beside slivers of the grid
	restSteps    = 5
)

// factorCache keeps the last factorization with the plate modulus and the contact
// stiffness it holds.
type factorCache struct {
	factor  float64
	tangent []float64
	f       bandMatrix // K0 = Uᵀ U
	seats   []seat     // per rod group
}

// seat is Y = U⁻ᵀ b of a rod group, from its first row that is not 0, and its products with
// those of the groups up to it: bᵀ K0⁻¹ b.
type seat struct {
	first int
	y     []float64
	by    []float64
}

// equilibrium solves a load case by Newton's method with active contacts, starting
// from start (may be nil) or what is nearer.
func (s *system) equilibrium(lc loadCase, start *solution) (*solution, error) {
	k := s.structure(lc.factor)
	sol := s.begin(k, lc, start)
	r, tangent := make([]float64, s.m.n), make([]float64, s.m.n+len(s.feet))
	coef := make([]float64, len(s.rods))
	best, last := math.Inf(1), 0
	for sol.steps = range maxNewton {
		s.rebase(sol)
		scale := s.residual(k, lc, sol, r, tangent, coef)
		norm := s.norm(r)
		if norm < best/2 {
			last = sol.steps
		}
		if sol.steps-last > maxStall {
			return nil, unsettled(lc, best/scale)
		}
		if norm <= residualTol*scale || (norm <= stallTol*scale && norm > best/4) || (norm <= restTol*scale && sol.steps-last > restSteps) {
			s.last = sol
			return sol, s.checkFinite(lc, sol)
		}
		best = math.Min(best, norm)
		d, err := s.direction(k, lc, r, tangent, coef)
		if err != nil {
			return nil, err
		}
		s.lineSearch(k, lc, sol, r, d)
	}
	return nil, unsettled(lc, 1)
}

// unsettled words why the iteration gave up: a small rest that no longer
// shrinks is rounding, a great one a contact set that cycles.
func unsettled(lc loadCase, rest float64) error {
	if rest < roundingRest {
		return &SolveError{Kind: Rigid, State: lc.name, Field: "plate.thickness_mm",
			Detail: "the plate is too stiff to be reckoned with; take a thinner one, the result will be the same"}
	}
	return &SolveError{Kind: Cycling, State: lc.name, Field: "rows[0].squeeze",
		Detail: "the set of points in contact does not settle; check the curves of cells and layers for kinks"}
}

// begin returns the starting point: start, the last equilibrium or, where there is none,
// a rigid plate pressed evenly, whichever is nearest to balance.
func (s *system) begin(k bandMatrix, lc loadCase, start *solution) *solution {
	var best *solution
	least := math.Inf(1)
	r, tangent, coef := make([]float64, s.m.n), make([]float64, s.m.n+len(s.feet)), make([]float64, len(s.rods))
	for _, from := range []*solution{start, s.last, s.rigid(lc)} {
		if from == nil || best != nil && from == start {
			continue
		}
		sol := &solution{
			base: from.base, x: append([]float64(nil), from.x...), p: make([]float64, len(s.contacts)),
			rodF: make([]float64, len(s.rods)), rodW: make([]float64, len(s.rods)),
		}
		s.residual(k, lc, sol, r, tangent, coef)
		if norm := s.norm(r); norm < least {
			best, least = sol, norm
		}
	}
	return best
}

// rigid is the rigid plate that the mean pressure just presses somewhere.
func (s *system) rigid(lc loadCase) *solution {
	base, mean := math.Inf(1), s.meanPressure(lc)
	for c, ct := range s.contacts {
		base = math.Min(base, (lc.g[c]-lc.curves[ct.row].squeeze(mean))/2)
	}
	return &solution{base: base, x: make([]float64, s.m.n)}
}

// rebase moves the mean of the contacts' displacements from x to base.
func (s *system) rebase(sol *solution) {
	mean := 0.0
	for _, ct := range s.contacts {
		mean += sol.x[ct.eq] / float64(len(s.contacts))
	}
	sol.base += mean
	for node := range s.m.nodes {
		if e := s.m.eq(node, dofW); e >= 0 {
			sol.x[e] -= mean
		}
	}
}

// meanPressure guesses the mean pressure from the prescribed forces.
func (s *system) meanPressure(lc loadCase) float64 {
	var f, a float64
	for g, v := range lc.force {
		f += v * s.rods[g].mult
	}
	for _, c := range s.contacts {
		a += c.area
	}
	return math.Max(f/a, 1e-6)
}

// residual fills r with the unbalanced forces at sol, tangent with the stiffness of
// the cells' contacts on the diagonal and, behind it, of the feet's, and coef with
// the rods' stiffness; it returns the force scale.
func (s *system) residual(k bandMatrix, lc loadCase, sol *solution, r, tangent, coef []float64) float64 {
	k.multiply(sol.x, r)
	floats.Scale(-1, r)
	clear(tangent)
	scale := 0.0
	for c, ct := range s.contacts {
		p, slope := lc.curves[ct.row].at(lc.g[c] - 2*(sol.base+sol.x[ct.eq]))
		sol.p[c] = p
		r[ct.eq] += p * ct.area
		tangent[ct.eq] += 2 * slope * ct.area
		scale += p * ct.area
	}
	for q, ft := range s.feet {
		f, k := ft.force(lc.factor, sol.x)
		r[ft.plate] -= f
		r[ft.leg] += f
		tangent[s.m.n+q] = k
	}
	for g := range s.rods {
		scale += s.rodResidual(lc, sol, g, r, coef)
	}
	return math.Max(scale, s.floor)
}

// rodResidual adds one rod group's pull.
func (s *system) rodResidual(lc loadCase, sol *solution, g int, r, coef []float64) float64 {
	rod := &s.rods[g]
	w := sol.base + rod.mean(sol.x)
	sol.rodW[g] = w
	f, rate := 0.0, 0.0
	if lc.force != nil {
		f = lc.force[g]
	} else {
		f, rate = rod.curve.force(lc.offset[g] + 2*w)
	}
	sol.rodF[g], coef[g] = f, 2*rate*rod.mult
	for i, e := range rod.eq {
		r[e] -= f * rod.mult * rod.wt[i]
	}
	return f * rod.mult
}

// mean returns the displacement of the rod's seat.
func (g *rodGroup) mean(x []float64) float64 {
	w := 0.0
	for i, e := range g.eq {
		w += g.wt[i] * x[e]
	}
	return w
}

// rotationScale turns a moment residual into a force for the norm, mm.
const rotationScale = 50

// norm sums the unbalanced forces, moments as forces on a lever.
func (s *system) norm(r []float64) float64 {
	sum := 0.0
	for node := range s.m.nodes {
		for k := range dofsPerNode {
			if e := s.m.eq(node, k); e >= 0 {
				v := math.Abs(r[e])
				if k != dofW {
					v /= rotationScale
				}
				sum += v
			}
		}
	}
	return sum
}

// direction solves J d = r with J = K0 + sum coef b bᵀ, K0 banded (plate, beams,
// contacts). Where the same spots of the feet touch, the last factor serves for a K0 that
// has changed too: as the preconditioner of conjugate gradients, unless they take longer
// than to factorize anew.
func (s *system) direction(k bandMatrix, lc loadCase, r, tangent, coef []float64) ([]float64, error) {
	if s.solve.tangent != nil {
		if s.solve.factor == lc.factor && floats.Equal(tangent, s.solve.tangent) {
			return s.precondition(r, coef), nil
		}
		if slices.EqualFunc(tangent[s.m.n:], s.solve.tangent[s.m.n:], func(a, b float64) bool { return (a > 0) == (b > 0) }) {
			if d, ok := s.gradients(k, r, tangent, coef); ok {
				return d, nil
			}
		}
	}
	if err := s.refactor(k, lc, tangent); err != nil {
		return nil, err
	}
	return s.precondition(r, coef), nil
}

// Conjugate gradients end when the rest is gradientTol of what it was, or after as
// many steps as cost a factorization: one for every bandPerStep of the half bandwidth.
const gradientTol, bandPerStep = 1e-4, 7

// gradients solves J d = r by preconditioned conjugate gradients; false when it takes
// too long.
func (s *system) gradients(k bandMatrix, r, tangent, coef []float64) ([]float64, bool) {
	n := len(r)
	d, rest, jp := make([]float64, n), append([]float64(nil), r...), make([]float64, n)
	z := s.precondition(rest, coef)
	p, rz, aim := append([]float64(nil), z...), floats.Dot(rest, z), gradientTol*floats.Norm(r, 2)
	for range s.m.kd / bandPerStep {
		s.tangentTimes(k, tangent, coef, p, jp)
		step := rz / floats.Dot(p, jp)
		floats.AddScaled(d, step, p)
		floats.AddScaled(rest, -step, jp)
		if floats.Norm(rest, 2) <= aim {
			return d, true
		}
		z = s.precondition(rest, coef)
		next := floats.Dot(rest, z)
		floats.AddScaledTo(p, z, next/rz, p)
		rz = next
	}
	return nil, false
}

// tangentTimes writes J p into out.
func (s *system) tangentTimes(k bandMatrix, tangent, coef, p, out []float64) {
	k.multiply(p, out)
	for e, v := range tangent[:s.m.n] {
		out[e] += v * p[e]
	}
	for q, ft := range s.feet {
		f := tangent[s.m.n+q] * (p[ft.plate] - p[ft.leg])
		out[ft.plate] += f
		out[ft.leg] -= f
	}
	for g := range s.rods {
		rod := &s.rods[g]
		f := coef[g] * rod.mean(p)
		for i, e := range rod.eq {
			out[e] += f * rod.wt[i]
		}
	}
}

// precondition solves J d = r with the last factor in the place of K0, and the rods by
// the Sherman-Morrison-Woodbury formula.
func (s *system) precondition(r, coef []float64) []float64 {
	d := append([]float64(nil), r...)
	s.solve.f.forward(d)
	var active []int
	for g, c := range coef {
		if c > 0 {
			active = append(active, g)
		}
	}
	if len(active) > 0 {
		s.solveSeats()
		small, rhs := s.capacitance(active, coef, d)
		var x mat.VecDense
		err := x.SolveVec(small, rhs)
		if _, poor := err.(mat.Condition); err == nil || poor {
			for a, g := range active {
				floats.AddScaled(d[s.solve.seats[g].first:], -x.AtVec(a), s.solve.seats[g].y)
			}
		}
	}
	s.solve.f.back(d)
	return d
}

// capacitance returns C⁻¹ + Yᵀ Y and Yᵀ d for the active rods.
func (s *system) capacitance(active []int, coef, d []float64) (*mat.SymDense, *mat.VecDense) {
	n := len(active)
	small, rhs := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for a, g := range active {
		seat := s.solve.seats[g]
		for b, h := range active[:a+1] {
			small.SetSym(a, b, seat.by[h])
		}
		small.SetSym(a, a, small.At(a, a)+1/coef[g])
		rhs.SetVec(a, floats.Dot(seat.y, d[seat.first:]))
	}
	return small, rhs
}

// floorShare is the part of its own stiffness that holds a plate where nothing else
// does: far above rounding, far below what cells add.
const floorShare = 1e-13

// refactor factorizes K0 with a floor under it, which a plate that floats free needs;
// the balance does not know of it.
func (s *system) refactor(k bandMatrix, lc loadCase, tangent []float64) error {
	if s.work.data == nil {
		s.work = newBandMatrix(s.m.kd, s.m.last)
	}
	f := s.work // the factor before it is given up
	for floor := floorShare; floor < 1; floor *= 100 {
		copy(f.data, k.data)
		for e, v := range tangent[:s.m.n] {
			f.add(e, v+floor*k.data[e*(k.kd+1)])
		}
		for q, ft := range s.feet {
			f.couple(ft.plate, ft.leg, tangent[s.m.n+q])
		}
		if f.factorize() {
			s.solve = factorCache{factor: lc.factor, tangent: append([]float64(nil), tangent...), f: f}
			return nil
		}
	}
	s.solve = factorCache{}
	return s.singular(lc)
}

// solveSeats fills the cache with the seats of every rod.
func (s *system) solveSeats() {
	if s.solve.seats != nil {
		return
	}
	for _, rod := range s.rods {
		y := make([]float64, s.m.n)
		for i, e := range rod.eq {
			y[e] = rod.wt[i]
		}
		first := s.solve.f.forward(y)
		x := seat{first: first, y: y[first:]}
		s.solve.seats = append(s.solve.seats, x)
		for _, o := range s.solve.seats {
			from := max(o.first, first)
			x.by = append(x.by, floats.Dot(x.y[from-first:], o.y[from-o.first:]))
		}
		s.solve.seats[len(s.solve.seats)-1].by = x.by
	}
}

func (s *system) singular(lc loadCase) error {
	return &SolveError{Kind: Singular, State: lc.name, Field: "rods",
		Detail: "nothing holds the plate: no cell is pressed and no rod is tight"}
}

// lineSearch moves sol along d to where the energy no longer falls steeply: the
// full step unless it overshoots, else a root of the slope by bisection and
// secant.
func (s *system) lineSearch(k bandMatrix, lc loadCase, sol *solution, r, d []float64) {
	kd := make([]float64, len(d))
	k.multiply(d, kd)
	base := append([]float64(nil), sol.x...)
	kx := make([]float64, len(d))
	k.multiply(base, kx)
	slope0 := -floats.Dot(r, d)
	at := func(t float64) float64 {
		floats.AddScaledTo(sol.x, base, t, d)
		return floats.Dot(kx, d) + t*floats.Dot(kd, d) + s.loadSlope(lc, sol, d)
	}
	lo, hi := 0.0, 1.0
	v := at(1)
	if v <= 0.5*math.Abs(slope0) {
		return
	}
	vlo, vhi := slope0, v
	for range maxLine {
		t := lo + (hi-lo)*math.Min(math.Max(-vlo/(vhi-vlo), 0.1), 0.9)
		v = at(t)
		if math.Abs(v) <= 0.1*math.Abs(slope0) {
			return
		}
		if v > 0 {
			hi, vhi = t, v
		} else {
			lo, vlo = t, v
		}
	}
}

// loadSlope returns minus the work of contacts and rods along d.
func (s *system) loadSlope(lc loadCase, sol *solution, d []float64) float64 {
	x := sol.x
	v := 0.0
	for c, ct := range s.contacts {
		p, _ := lc.curves[ct.row].at(lc.g[c] - 2*(sol.base+x[ct.eq]))
		v -= p * ct.area * d[ct.eq]
	}
	for _, ft := range s.feet {
		f, _ := ft.force(lc.factor, x)
		v += f * (d[ft.plate] - d[ft.leg])
	}
	for g := range s.rods {
		rod := &s.rods[g]
		f := 0.0
		if lc.force != nil {
			f = lc.force[g]
		} else {
			f, _ = rod.curve.force(lc.offset[g] + 2*(sol.base+rod.mean(x)))
		}
		v += f * rod.mult * rod.mean(d)
	}
	return v
}

// checkFinite refuses a solution with a value that is not a number.
func (s *system) checkFinite(lc loadCase, sol *solution) error {
	if floats.HasNaN(sol.x) || floats.HasNaN(sol.p) || floats.HasNaN(sol.rodF) {
		return s.singular(lc)
	}
	return nil
}
