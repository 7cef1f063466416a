package clamp

import "math"

// Reduced is a fixture as a few numbers: what its plates, ties and layers take up at
// a force. See package assure for what is made of them.
type Reduced struct {
	// StretchMM is the stretch of one rod with its springs at StretchN.
	StretchN, StretchMM []float64
	// LayersMM is the squeeze of all liners and sheets of a row at LayersMPa.
	LayersMPa, LayersMM []float64
	// CreptMM is the same after CreptHours, where some of them creep.
	CreptHours []float64
	CreptMM    [][2][]float64 // pressures and squeezes
	// Plates is how the plates bend under cells of rising modulus.
	Plates []Bending
}

// Bending is how plates and angles give way between face and rods when the cells'
// tangent modulus is ModulusMPa: softer cells spread the pressure, stiffer ones draw it
// to the angles.
type Bending struct {
	ModulusMPa float64
	// Angles and Plate are the bending of both plates, mm for a newton of all rods
	// together: the angles' part, and that of plates of the nominal modulus.
	Angles, Plate float64
	// Dome is the part of a growth in the middle of the face that the rods see, when its
	// mean over the face is half of that.
	Dome float64
	// Spread is how uneven a dome's growth squeezes the cells, as a part of that behind a
	// rigid plate.
	Spread float64
	// BowAngles and BowPlate are by how much the middle of one plate stands out beyond the
	// middles of its left and right edges, mm for a newton of all rods together: the part
	// that stays and that of plates of the nominal modulus. BowDome is what a growth whose
	// mean over the face is half of that in the middle adds, as a part of the latter.
	BowAngles, BowPlate, BowDome float64
	// Crept and BowCrept are the bending and the bow for a newton with plates of CreptTo of
	// their modulus, where they creep: then they give way less than they are softer, since
	// the pressure draws to where they are held. 0: not asked.
	CreptTo, Crept, BowCrept float64
}

// creptTo is the part of the plates' modulus at which those that creep are bent once more.
const creptTo = 1.0 / 6

// halfDome is the growth at the edge over that in the middle for which the mean over
// the face is half of it: e + (1-e) 4/9 = 1/2.
const halfDome = 0.1

// creptHours are the times for which the layers' creep is told: an hour to thirty years.
var creptHours = []float64{1, 10, 100, 1000, 1e4, 87660, 263000}

// stretchPoints is the number of points of a rod's curve, up to stretchReach times the
// force of tightening.
const stretchPoints, stretchReach = 96, 16.0

// reducedMPa are the moduli of cells that plates are bent under.
var reducedMPa = []float64{14, 28, 56}

// Reduce finds the numbers from the full model on a coarse grid: the bending from
// tightening with the plates' nominal modulus, with half of it and with what creep may
// leave, the part of a dome from growth as large as the squeeze, all under cells of three
// moduli.
func Reduce(in Input) (Reduced, error) {
	if err := Validate(in); err != nil {
		return Reduced{}, err
	}
	var out Reduced
	even := in.evenCells()
	sys := newSystem(even, reduceRatio*in.edge())
	for _, mpa := range reducedMPa {
		b, err := newFixtureOn(sys, knowledge{mpa, 1}).bendings()
		if err != nil {
			return Reduced{}, err
		}
		b.ModulusMPa = mpa
		out.Plates = append(out.Plates, b)
	}
	rod := newRodCurve(in.Rods[0])
	one := resolveWindow(in).TargetN / float64(len(in.Rods))
	for k := range stretchPoints {
		n := one * stretchReach * math.Pow(float64(k)/(stretchPoints-1), 2)
		out.StretchN, out.StretchMM = append(out.StretchN, n), append(out.StretchMM, rod.stretch(n))
	}
	row := in.Rows[0]
	row.Cells = 0
	if layers := row.stackCurve(nominal, 0); len(row.Layers) > 0 {
		out.LayersMPa, out.LayersMM = layers.p, layers.s
		for _, h := range creptHours {
			c := row.stackCurve(nominal, h)
			out.CreptHours, out.CreptMM = append(out.CreptHours, h), append(out.CreptMM, [2][]float64{c.p, c.s})
		}
	}
	return out, nil
}

// evenCells is the fixture with cells of a modulus of 1 MPa at any pressure.
func (in Input) evenCells() Input {
	in.Rows = append([]Row(nil), in.Rows...)
	for r := range in.Rows {
		in.Rows[r].Squeeze, in.Rows[r].Stiffness = nil, 1/in.Rows[r].CellThicknessMM
	}
	return in
}

// reduceRatio is how much coarser the grid of the reduction is: with it the reduced
// model stays within 2.5 % of the full one (tests of package inputs).
const reduceRatio = 1.5

// bendings measures one modulus of the cells: under plates of half their modulus and
// as they are.
func (f *fixture) bendings() (Bending, error) {
	soft, err := f.softened(1.0 / 2)
	if err == nil {
		err = f.tighten()
	}
	if err != nil {
		return Bending{}, err
	}
	half, whole := f.bending(soft), f.bending(f.tight)
	b := Bending{Angles: math.Max(2*whole-half, 0), Plate: math.Max(half-whole, 0)}
	softBow, bow := f.bow(soft)/f.asked.TargetN, f.bow(f.tight)/f.asked.TargetN
	b.BowAngles, b.BowPlate = 2*bow-softBow, softBow-bow
	if len(f.in.Plate.Creep) > 0 {
		if soft, err = f.softened(creptTo); err != nil {
			return Bending{}, err
		}
		b.CreptTo, b.Crept, b.BowCrept = creptTo, f.bending(soft), f.bow(soft)/f.asked.TargetN
	}
	return b, f.dome(&b)
}

// softened is the fixture tightened with plates of a part of their modulus.
func (f *fixture) softened(part float64) (*solution, error) {
	lc := f.load(StateSpec{Name: "as tightened", Charge: f.in.AssemblyCharge, TempC: f.in.Climate.AssemblyC})
	lc.factor, lc.force = lc.factor*part, f.shares(f.asked.TargetN)
	return f.s.equilibrium(lc, nil)
}

// bow is by how much the middle of the plate stands out beyond the middles of its left
// and right edges.
func (f *fixture) bow(sol *solution) float64 {
	last := len(f.s.fullXS) - 1
	x, y := nearest(f.s.fullXS, f.in.Plate.WidthMM/2), nearest(f.s.m.ys, f.in.Plate.HeightMM/2)
	return f.wAt(sol, x, y) - (f.wAt(sol, 0, y)+f.wAt(sol, last, y))/2
}

// bending is how far the faces stand out beyond the rods' seats, both plates, for a
// newton of all rods together: what is left of the mean squeeze.
func (f *fixture) bending(sol *solution) float64 {
	var face, area, seat float64
	for _, c := range f.s.full {
		face += c.area * (sol.base + sol.x[f.s.contacts[c.solved].eq])
		area += c.area
	}
	for r := range f.in.Rods {
		seat += sol.rodW[f.s.groupOf[r]] / float64(len(f.in.Rods))
	}
	return 2 * (face/area - seat) / f.asked.TargetN
}

// dome is what part of a growth of halfDome the rods see: the even growth that would
// raise the force as that growth does, pressed with the nuts left alone, when it is as
// large as the squeeze; and what of it the bow of a plate sees beyond that of the force,
// and how uneven the pressure then is.
func (f *fixture) dome(b *Bending) error {
	g := *f
	g.in.Rows = append([]Row(nil), f.in.Rows...)
	for r := range g.in.Rows {
		row := &g.in.Rows[r]
		row.Growth = Growth{Points: []GrowthPoint{{0, 0}, {1, row.cellCurve().scalePressure(f.know.stiffness).squeeze(f.asked.TargetKPa / 1000)}}, Shape: ShapeDomed, Edge: halfDome}
	}
	g.in.AssemblyCharge = 0
	grown := StateSpec{Name: "grown", Charge: 1, TempC: f.in.Climate.AssemblyC}
	sol, err := g.locked(grown, g.nuts, g.tight)
	if err != nil {
		return err
	}
	rod, stack := newRodCurve(f.in.Rods[0]), f.curves(0)[0]
	taken := func(n float64) float64 {
		return rod.stretch(n/float64(len(f.in.Rods))) + stack.squeeze(n/f.asked.TargetN*f.asked.TargetKPa/1000) + n*(b.Angles+b.Plate)
	}
	growth := g.in.Rows[0].stackGrowth(0, grown, f.know)
	b.Dome = math.Min(math.Max((taken(g.total(sol))-taken(f.asked.TargetN))/growth, 0), 1)
	b.BowDome = (f.bow(sol) - g.total(sol)*(b.BowAngles+b.BowPlate)) / growth
	var with, own float64 // of the pressure's change with the dome, and of the dome with itself
	for _, c := range f.s.full {
		off := dome(f.in.Rows[c.row].Face, f.s.fullXS[c.i], f.s.m.ys[c.j]) - domeMean
		with += c.area * off * (sol.p[c.solved] - f.tight.p[c.solved])
		own += c.area * off * off
	}
	row := f.in.Rows[0]
	_, rate := row.cellCurve().scalePressure(f.know.stiffness).at(1)
	b.Spread = math.Min(math.Max(with/own/(rate/float64(row.Cells)*growth*(1-halfDome)), 0), 1)
	return nil
}
