package clamp

// Full is a fixture that is pressed in full, for tests that read it.
type Full struct{ f *fixture }

// Read is what can be read of it: the force of all rods, how far the nuts are turned in
// from where all touches, by how much the plates came closer at the rods' seats and at the
// plates' own faces there, and how far the middle of a plate bows out, N and mm.
type Read struct{ ForceN, TurnMM, SeatMM, FaceMM, BowMM float64 }

// NewFull makes a fixture discrete once; cells are given by With.
func NewFull(in Input) *Full {
	return &Full{newFixture(in, in.edge(), nominal)}
}

// With is the fixture with a curve for one cell, growth at the edge of a part of that in
// the middle, and rods and springs of a part of the force listed.
func (u *Full) With(squeeze []SqueezePoint, edge, strength float64) *Full {
	in := u.f.in
	in.Rows = append([]Row(nil), in.Rows...)
	for r := range in.Rows {
		in.Rows[r].Squeeze, in.Rows[r].Growth.Shape, in.Rows[r].Growth.Edge = squeeze, ShapeDomed, edge
	}
	f := newFixtureOn(u.f.s, nominal)
	f.in = in
	for g := range f.s.rods {
		r := in.Rods[f.s.rods[g].rods[0]]
		r.EMPa *= strength
		r.Spring.Coil.GMPa *= strength
		r.Spring.Coil.RateNMM *= strength
		r.Spring.Disc.EMPa = orElse(r.Spring.Disc.EMPa, 206000) * strength
		f.s.rods[g].curve = newRodCurve(r)
	}
	return &Full{f}
}

func (u *Full) load(factor, grown, longer float64) loadCase {
	lc := u.f.load(StateSpec{Name: "twin", Charge: u.f.in.AssemblyCharge, TempC: u.f.in.Climate.AssemblyC})
	lc.factor = factor
	for c, ct := range u.f.s.contacts {
		row := u.f.in.Rows[ct.row]
		lc.g[c] += grown*row.Growth.field(row.Face, ct.x, ct.y) + longer
	}
	return lc
}

// At presses with a force, by plates of a part of their modulus; nuts are where they then
// stand.
func (u *Full) At(force, factor float64) (r Read, nuts []float64, err error) {
	lc := u.load(factor, 0, 0)
	lc.force = u.f.shares(force)
	sol, err := u.f.s.equilibrium(lc, nil)
	if err != nil {
		return r, nil, err
	}
	for g, rod := range u.f.s.rods {
		nuts = append(nuts, rod.curve.stretch(lc.force[g])-2*sol.rodW[g])
	}
	return u.read(sol, nuts), nuts, nil
}

// Locked presses with nuts where they are.
func (u *Full) Locked(nuts []float64, factor, grown, longer float64) (Read, error) {
	lc := u.load(factor, grown, longer)
	lc.offset = nuts
	sol, err := u.f.s.equilibrium(lc, nil)
	if err != nil {
		return Read{}, err
	}
	return u.read(sol, nuts), nil
}

func (u *Full) read(sol *solution, nuts []float64) Read {
	f, n := u.f, float64(len(u.f.in.Rods))
	r := Read{ForceN: f.total(sol), BowMM: f.bow(sol)}
	for k, rod := range f.in.Rods {
		r.TurnMM += nuts[f.s.groupOf[k]] / n
		r.SeatMM -= 2 * sol.rodW[f.s.groupOf[k]] / n
		r.FaceMM -= 2 * f.wAt(sol, nearest(f.s.fullXS, rod.XMM), nearest(f.s.m.ys, rod.YMM)) / n
	}
	return r
}

// Turned are nuts turned in further.
func Turned(nuts []float64, mm float64) []float64 {
	out := append([]float64(nil), nuts...)
	for i := range out {
		out[i] += mm
	}
	return out
}
