package clamp

import "math"

// fixture runs the states of one input on one grid under one set of
// assumptions on the cells.
type fixture struct {
	in    Input
	s     *system
	know  knowledge
	asked Asked
	tight *solution
	nuts  []float64 // per rod group: nut advance d after tightening
	curve map[float64][]pwl
}

// newFixture prepares in on a grid of edge h.
func newFixture(in Input, h float64, know knowledge) *fixture {
	return newFixtureOn(newSystem(in, h), know)
}

// newFixtureOn uses a system already built.
func newFixtureOn(s *system, know knowledge) *fixture {
	f := &fixture{in: s.in, s: s, know: know, asked: resolveWindow(s.in), curve: map[float64][]pwl{}}
	s.floor = f.asked.TargetN
	if s.half {
		s.floor /= 2
	}
	return f
}

// curves returns the rows' stack curves after some hours.
func (f *fixture) curves(hours float64) []pwl {
	if c := f.curve[hours]; c != nil {
		return c
	}
	var out []pwl
	for _, r := range f.in.Rows {
		out = append(out, r.stackCurve(f.know, hours))
	}
	f.curve[hours] = out
	return out
}

// plateFactor returns the plate's modulus over its nominal one.
func (p Plate) factor(hours, tempC float64) float64 {
	v := creepFactor(p.Creep, hours)
	if p.HotFactor > 0 && tempC > roomC {
		hot := 1 + (p.HotFactor-1)*(tempC-roomC)/(hotReferenceC-roomC)
		v *= math.Max(hot, leastHotFactor)
	}
	return v
}

// load builds the load case of a state; forces or nut positions come after.
func (f *fixture) load(st StateSpec) loadCase {
	lc := loadCase{name: st.Name, factor: f.in.Plate.factor(st.Hours, st.TempC), curves: f.curves(st.Hours)}
	dT := st.TempC - f.in.Climate.AssemblyC
	grow, flat := make([]float64, len(f.in.Rows)), make([]float64, len(f.in.Rows))
	for r, row := range f.in.Rows {
		grow[r] = row.stackGrowth(f.in.AssemblyCharge, st, f.know)
		flat[r] = row.stackThermal(dT)
	}
	lc.g = make([]float64, len(f.s.contacts))
	for c, ct := range f.s.contacts {
		row := f.in.Rows[ct.row]
		lc.g[c] = grow[ct.row]*row.Growth.field(row.Face, ct.x, ct.y) + flat[ct.row] - f.in.initialGap(row, ct.x, ct.y)
	}
	return lc
}

// shares returns the rod forces (per group) that add up to total.
func (f *fixture) shares(total float64) []float64 {
	sum := 0.0
	for _, r := range f.in.Rods {
		sum += orElse(r.Share, 1)
	}
	out := make([]float64, len(f.s.rods))
	for g, rod := range f.s.rods {
		out[g] = total * orElse(f.in.Rods[rod.rods[0]].Share, 1) / sum
	}
	return out
}

// press solves a state with the rods' total force prescribed and returns also
// the nut advance of every rod group.
func (f *fixture) press(st StateSpec, total float64, start *solution) (*solution, []float64, error) {
	lc := f.load(st)
	lc.force = f.shares(total)
	sol, err := f.s.equilibrium(lc, start)
	if err != nil {
		return nil, nil, err
	}
	nuts := make([]float64, len(f.s.rods))
	for g, rod := range f.s.rods {
		nuts[g] = rod.curve.stretch(lc.force[g]) - 2*sol.rodW[g]
	}
	return sol, nuts, nil
}

// tighten brings the fixture to its target force.
func (f *fixture) tighten() error {
	if f.tight != nil {
		return nil
	}
	st := StateSpec{Name: "as tightened", Charge: f.in.AssemblyCharge, TempC: f.in.Climate.AssemblyC}
	sol, nuts, err := f.press(st, f.asked.TargetN, nil)
	f.tight, f.nuts = sol, nuts
	return err
}

// locked solves a state with the nuts advanced by nuts.
func (f *fixture) locked(st StateSpec, nuts []float64, start *solution) (*solution, error) {
	lc := f.load(st)
	lc.offset = make([]float64, len(nuts))
	dT := st.TempC - f.in.Climate.AssemblyC
	for g, rod := range f.s.rods {
		r := f.in.Rods[rod.rods[0]]
		lc.offset[g] = nuts[g] + r.OutgrownMM*dT - r.SettleMM*settled(st.Hours)
	}
	return f.s.equilibrium(lc, start)
}

// settled is the part of the settling done after some hours under load: linear
// in the logarithm of time, all by 1000 h (common practice, no source).
func settled(hours float64) float64 {
	if hours <= 0 {
		return 0
	}
	return math.Min(math.Log10(1+hours)/math.Log10(1001), 1)
}

// run solves one state.
func (f *fixture) run(st StateSpec) (*solution, error) {
	if err := f.tighten(); err != nil {
		return nil, err
	}
	if st.Tighten {
		return f.tight, nil
	}
	return f.locked(st, f.nuts, f.tight)
}

// state solves one state and sums it up.
func (f *fixture) state(st StateSpec) (State, error) {
	sol, err := f.run(st)
	if err != nil {
		return State{}, err
	}
	return f.summarize(st, sol), nil
}
