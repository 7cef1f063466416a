package clamp

import "math"

// summarize turns a solution into a State with findings and verdict.
func (f *fixture) summarize(st StateSpec, sol *solution) State {
	out := State{Name: st.Name, Steps: sol.steps}
	for r := range f.in.Rods {
		force := sol.rodF[f.s.groupOf[r]]
		if force < stallTol*f.s.floor {
			force = 0 // what is left where the balance ends
		}
		out.RodForceN = append(out.RodForceN, force)
	}
	var pressed, pressing float64
	for r := range f.in.Rows {
		load, touch, area := f.rowLoad(r, sol)
		out.Rows = append(out.Rows, load)
		out.ForceN += load.ForceN
		pressed += touch
		pressing += area
	}
	out.ContactFraction = pressed / pressing
	out.Pressure = joinPressure(out.Rows, f.in.Rows)
	out.DeflectionMM = f.deflection(sol)
	out.StackMM = f.stackChange(sol)
	out.SpringMM = f.springHeights(sol)
	out.Margins = f.margins(st, sol)
	f.judge(st, &out)
	return out
}

// rowLoad sums up one row; touch and area are the area in contact and the area
// that can be, mm².
func (f *fixture) rowLoad(r int, sol *solution) (load RowLoad, touch, area float64) {
	p := Pressure{Least: math.Inf(1), SwellLow: math.Inf(1)}
	face, zone := f.in.Rows[r].Face, f.in.Rows[r].Face.middle(orElse(f.in.SwellZone, SwellZoneShare))
	var swellN, swell, swellTouch float64
	for _, c := range f.s.full {
		if c.row != r {
			continue
		}
		kpa := sol.p[c.solved] * 1000
		if kpa < stallTol*f.asked.TargetKPa {
			kpa = 0 // what is left where the balance ends
		}
		area += c.area
		load.ForceN += kpa / 1000 * c.area
		if kpa > 0 {
			touch += c.area
		}
		p.Least, p.Greatest = math.Min(p.Least, kpa), math.Max(p.Greatest, kpa)
		if c.swell > 0 {
			swellN += kpa * c.swell
			swell += c.swell
			if kpa > 0 {
				swellTouch += c.swell
			}
			p.SwellLow = math.Min(p.SwellLow, kpa)
		}
	}
	p.Mean, p.Swell = load.ForceN/face.area()*1000, swellN/zone.area()
	p.Least *= area / face.area()
	if p.SwellLow *= swell / zone.area(); swell == 0 || f.s.hollow[r] > 0 {
		p.SwellLow = 0 // nothing presses there
	}
	if swell > 0 {
		load.SwellContact = swellTouch / (swell + f.s.hollow[r])
	}
	p.Centre = f.pressureAt(r, sol, face.centre())
	load.Pressure, load.ContactFraction = p, touch/area
	load.Uneven = f.unevenness(r, sol, load.ForceN/area*1000)
	return load, touch, area
}

// middleRatio is the pressure in the swell zone over the mean, 0 where nothing
// presses.
func (l RowLoad) middleRatio() float64 {
	if l.Pressure.Mean <= 0 {
		return 0
	}
	return l.Pressure.Swell / l.Pressure.Mean
}

// unevenness is the root mean square of p/mean - 1, the swell zone twice.
func (f *fixture) unevenness(r int, sol *solution, mean float64) float64 {
	if mean <= 0 {
		return 0
	}
	var sum, weight float64
	for _, c := range f.s.full {
		if c.row == r {
			d := sol.p[c.solved]*1000/mean - 1
			sum += d * d * (c.area + c.swell)
			weight += c.area + c.swell
		}
	}
	return math.Sqrt(sum / weight)
}

// pressureAt interpolates a row's nodal pressures (kPa) at a spot.
func (f *fixture) pressureAt(r int, sol *solution, at [2]float64) float64 {
	i, xi := cellOf(f.s.fullXS, at[0])
	j, eta := cellOf(f.s.m.ys, at[1])
	n, _, _ := shape(xi, eta, 1, 1)
	v, sum := 0.0, 0.0
	for _, c := range f.s.full {
		if c.row != r {
			continue
		}
		for k, q := range [4][2]int{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}} {
			if c.i == q[0] && c.j == q[1] {
				v += n[k] * sol.p[c.solved] * 1000
				sum += n[k]
			}
		}
	}
	if sum <= 1e-9 {
		return 0
	}
	return v / sum
}

// joinPressure joins the rows' pressures: mean over all, the rest the worst.
func joinPressure(loads []RowLoad, rows []Row) Pressure {
	out := loads[0].Pressure
	var force, area float64
	for r, l := range loads {
		p := l.Pressure
		force += l.ForceN
		area += rows[r].Face.area()
		out.Least, out.Greatest = math.Min(out.Least, p.Least), math.Max(out.Greatest, p.Greatest)
		out.Centre, out.Swell = math.Min(out.Centre, p.Centre), math.Min(out.Swell, p.Swell)
		out.SwellLow = math.Min(out.SwellLow, p.SwellLow)
	}
	out.Mean = force / area * 1000
	return out
}

// wAt returns the plate's displacement at a node of the whole grid.
func (f *fixture) wAt(sol *solution, i, j int) float64 {
	if last := len(f.s.m.xs) - 1; f.s.half && i > last {
		i = 2*last - i
	}
	return sol.base + f.s.m.value(sol.x, f.s.m.node(i, j), dofW)
}

// deflection returns how far from flat and parallel one plate is over the faces.
func (f *fixture) deflection(sol *solution) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range f.s.contacts {
		w := sol.x[c.eq]
		lo, hi = math.Min(lo, w), math.Max(hi, w)
	}
	return hi - lo
}

// stackChange returns the change of the plates' distance at the middle of the
// first face since tightening.
func (f *fixture) stackChange(sol *solution) float64 {
	c := f.in.Rows[0].Face.centre()
	i, j := nearest(f.s.fullXS, c[0]), nearest(f.s.m.ys, c[1])
	return 2 * (f.wAt(sol, i, j) - f.wAt(f.tight, i, j))
}

// springHeights returns the height of one spring stack per rod, or nil.
func (f *fixture) springHeights(sol *solution) []float64 {
	var out []float64
	any := false
	for r, rod := range f.in.Rods {
		g := f.s.groupOf[r]
		out = append(out, f.s.rods[g].curve.stackHeight(sol.rodF[g]))
		any = any || rod.Spring.Kind != SpringNone
	}
	if !any {
		return nil
	}
	return out
}

// field unfolds the pressures to the whole plate's grid.
func (f *fixture) field(sol *solution) Field {
	out := Field{XMM: f.s.fullXS, YMM: f.s.m.ys}
	for range out.YMM {
		line := make([]float64, len(out.XMM))
		for i := range line {
			line[i] = -1
		}
		out.KPa = append(out.KPa, line)
	}
	for _, c := range f.s.full {
		out.KPa[c.j][c.i] = math.Max(out.KPa[c.j][c.i], sol.p[c.solved]*1000)
	}
	return out
}
