package hunt

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

// known is a slab whose pressures are known from elsewhere, kPa.
type known struct {
	name                                     string
	slab                                     slab
	forceN                                   float64
	middle, centre, least, greatest, contact [2]float64 // between
}

// plainPlate is a slab of one material with a face of foundation 0.16 MPa per mm that it
// moves, in the middle.
func plainPlate(wide, high, t, e, nu, faceW, faceH float64) slab {
	g := e / (2 * (1 + nu))
	return slab{wide: wide, high: high, t: t, ex: e, ey: e, nu: nu, gxy: g, gxz: g, gyz: g, zone: 0.6, even: true,
		faces: [][4]float64{{-faceW / 2, (high - faceH) / 2, faceW / 2, (high + faceH) / 2}}}
}

// one is a value known once.
func one(v float64) [2]float64 { return [2]float64{v, v} }

// tableOfPlates is the table of plates with beams for angles (thin plate elements, grids
// of 4 and 2 mm within 0.2 %), as package clamp has it.
func tableOfPlates() (out []known) {
	for _, r := range []struct {
		name           string
		t, e, nu       float64
		heights        []float64
		angles         bool
		least, most, c float64
		contact        float64
	}{
		{"PE 15, rods only", 15, 900, 0.42, []float64{25, 180}, false, 0, 442, 0, 0.53},
		{"PE 15, angles 25 180", 15, 900, 0.42, []float64{25, 180}, true, 21.8, 183, 21.8, 1},
		{"PE 15, angles 52 153", 15, 900, 0.42, []float64{52, 153}, true, 44.4, 110, 80.1, 1},
		{"PE 15, three angles", 15, 900, 0.42, []float64{25, 102.5, 180}, true, 68.6, 114, 69.2, 1},
		{"plywood 18, angles 25 180", 18, 8000, 0.2, []float64{25, 180}, true, 71.2, 107, 71.2, 1},
		{"aluminium 10, rods only", 10, 69000, 0.33, []float64{25, 180}, false, 71.1, 112, 71.3, 1},
	} {
		s := plainPlate(236, 205, r.t, r.e, r.nu, 174, 201)
		s.gxz, s.gyz = 1e3*s.gxz, 1e3*s.gyz // the table is of thin plates
		for k, y := range r.heights {
			bar := -1
			if r.angles {
				bar = k
				s.bars = append(s.bars, bar1(y))
			}
			for _, x := range []float64{-104, 104} {
				s.pulls = append(s.pulls, pull{x: x, y: y, out: 0.01, share: 1, bar: bar})
			}
		}
		out = append(out, known{r.name, s, 2940, [2]float64{}, one(r.c), one(r.least), one(r.most), one(r.contact)})
	}
	return out
}

func bar1(y float64) bar { return bar{heel: y, toe: y, corner: y, half: 118, e: 69000, i: 14000} }

// solidPlates are the six fixtures that CalculiX solves with solids in package clamp
// (TestAngleAgainstSolids, whose figures these are): the foot free to slide, and held.
func solidPlates() (out []known) {
	for _, r := range solidFigures {
		s := plainPlate(227, 196.8, r.t, r.e, r.nu, 174, 196.8)
		for _, up := range []float64{-1, 1} {
			side := up
			if !r.inward {
				side = -up
			}
			hole := 196.8/2 + up*49.2
			heel := hole - side*17
			const b, t = 31.75, 3.175
			area, y := t*(2*b-t), (b*b+b*t-t*t)/(2*(2*b-t))
			held := (math.Pow(b, 4)-math.Pow(b-t, 4))/3 - area*(b-y)*(b-y)
			product := -b * t * (b - t) * b * t * (b - t) / (4 * area)
			s.bars = append(s.bars, bar{heel: heel, toe: heel + side*b, corner: heel + side*t/2, half: 113.5, e: 68900, i: held - product*product/held/2, stand: b, t: t})
			for _, x := range []float64{-99.2, 99.2} {
				s.pulls = append(s.pulls, pull{x: x, y: hole, out: 8.7, share: 1, bar: len(s.bars) - 1})
			}
		}
		out = append(out, known{r.name, s, 4 * 735.5, r.middle, r.centre, r.least, r.greatest, one(1)})
	}
	return out
}

// solidFigures: free to slide, held sideways.
var solidFigures = []struct {
	name                            string
	t, e, nu                        float64
	inward                          bool
	middle, centre, least, greatest [2]float64
}{
	{"thick plastic, inward", 19.05, 900, 0.42, true, [2]float64{84.3, 85.4}, [2]float64{84.0, 85.7}, [2]float64{36.8, 40.5}, [2]float64{124.8, 120.2}},
	{"thick plastic, outward", 19.05, 900, 0.42, false, [2]float64{79.6, 80.9}, [2]float64{71.4, 73.4}, [2]float64{56.0, 59.1}, [2]float64{136.3, 131.1}},
	{"crept plastic, inward", 19.05, 430, 0.42, true, [2]float64{85.0, 86.5}, [2]float64{84.1, 86.1}, [2]float64{22.8, 26.9}, [2]float64{135.9, 130.0}},
	{"crept plastic, outward", 19.05, 430, 0.42, false, [2]float64{77.7, 79.5}, [2]float64{64.4, 67.2}, [2]float64{51.2, 53.4}, [2]float64{149.7, 143.1}},
	{"thin aluminium, inward", 5, 69000, 0.33, true, [2]float64{83.5, 84.6}, [2]float64{83.4, 85.0}, [2]float64{46.4, 49.4}, [2]float64{119.3, 115.4}},
	{"thin aluminium, outward", 5, 69000, 0.33, false, [2]float64{79.8, 81.0}, [2]float64{73.1, 75.0}, [2]float64{60.8, 63.3}, [2]float64{128.4, 124.0}},
}

// off is how far a value lies outside its limits, kPa.
func off(v float64, a [2]float64) float64 {
	return max(0, min(a[0], a[1])-v, v-max(a[0], a[1]))
}

// The plate judge's own error: of the middle in parts of it, of one spot in parts of the
// mean, of the greatest in parts of itself (it stands at a spot under an edge), of what
// is touched in parts of the face.
const middleError, spotError, mostError, touchError = 0.01, 0.04, 0.07, 0.01

// leastTouch is what part of what may press must be in contact for the mean to be judged:
// plates that bear on a line under one edge are known to nobody.
const leastTouch = 0.3

// slackKPa is a mean pressure below which nothing but the mean and the middle is judged.
const slackKPa = 1.0

// ownDegree is of the polynomials; a fixture's own error is what two degrees less change. With 9 and
// 7 plates of a few millimetres between four levels of rods were 3 % too stiff unseen.
const ownDegree, lessDegree = 11, 9

// evenPress is a force on cells of 0.16 MPa for each mm that the plate moves.
func evenPress(forceN float64) press {
	return press{factor: 1, pulled: forceN, grown: func(int, float64, float64) float64 { return 0 },
		stack: func(s float64) (float64, float64) {
			if s <= 0 {
				return 0, 0
			}
			return 0.08 * s, 0.08
		}}
}

// The plate judge against plates solved elsewhere: within its own error of them.
func TestPlateOwnError(t *testing.T) {
	worst := map[string]float64{}
	for _, k := range append(tableOfPlates(), solidPlates()...) {
		r, c := newRitz(k.slab, ownDegree), evenPress(k.forceN)
		if !r.solve(c) {
			t.Fatal(k.name)
		}
		p := r.face(c, 0)
		t.Logf("%-26s middle %.1f %v centre %.1f %v least %.1f %v greatest %.0f %v touch %.3f %v", k.name, p.middle, k.middle, p.centre, k.centre, p.least, k.least, p.most, k.greatest, p.touch, k.contact)
		for what, e := range map[string]float64{"centre": off(p.centre, k.centre) / p.mean / spotError, "least": off(p.least, k.least) / p.mean / spotError,
			"greatest": off(p.most, k.greatest) / p.most / mostError, "contact": off(p.touch, k.contact) / touchError} {
			worst[what] = max(worst[what], e)
		}
		if k.middle[0] > 0 {
			worst["middle"] = max(worst["middle"], off(p.middle, k.middle)/p.middle/middleError)
		}
	}
	for what, e := range worst {
		if e > 1 {
			t.Errorf("%s: %.2f times the error stated", what, e)
		}
	}
	t.Logf("parts of the error stated: %v", worst)
}

// slabOf is a fixture as a slab, from its settled sizes.
func slabOf(f *params.Fixture) slab {
	p, m := &f.Plate, &f.Plate.Material
	s := slab{wide: p.Width.MM(), high: p.Height.MM(), t: p.Thickness.MM(), ex: m.E.MPa(), ey: m.E.MPa(), nu: m.Nu, zone: f.Cell.SwellWidth.MM() / f.Cell.Width.MM()}
	if m.EAcross > 0 {
		s.ey = m.EAcross.MPa()
		if !p.GrainAcross {
			s.ex, s.ey = s.ey, s.ex
		}
	}
	if s.gxy = m.Shear.MPa(); s.gxy == 0 {
		s.gxy = math.Sqrt(s.ex*s.ey) / (2 * (1 + s.nu))
	}
	if s.gxz = m.RollingShear.MPa(); s.gxz == 0 {
		s.gxz = s.gxy
	}
	s.gyz = s.gxz
	if l := p.Laminate; l != nil { // each sheet about its own middle, and a part of what it has about the plate's
		whole, n := [3]float64{s.ex, s.ey, s.gxy}, float64(l.Sheets)
		s.ex, s.ey, s.gxy = 0, 0, 0
		for i := range l.Sheets {
			z := (float64(i)+0.5)/n - 0.5 // of the thickness
			part := 1/(n*n*n) + l.Efficiency*12*z*z/n
			e := whole
			if l.Crossed && i%2 == 1 {
				e[0], e[1] = e[1], e[0]
			}
			s.ex, s.ey, s.gxy = s.ex+e[0]*part, s.ey+e[1]*part, s.gxy+e[2]*part
		}
	}
	low := p.Bottom.MM()
	for _, x := range f.Pack.RowX {
		s.faces = append(s.faces, [4]float64{(x - f.Cell.Width/2).MM(), -low, (x + f.Cell.Width/2).MM(), f.Cell.Height.MM() - low})
	}
	s.even = true
	for i, x := range f.Rods.Columns {
		s.even = s.even && math.Abs((x+f.Rods.Columns[len(f.Rods.Columns)-1-i]).MM()) < 1e-6
	}
	s.sheets(f)
	if a := f.Stiffener; a != nil {
		for k, up := range a.StandingUp {
			side := 1.0
			if up {
				side = -1
			}
			heel := f.Rods.Levels[k].MM() - low - side*a.Gauge.MM()
			t := a.Section.Thickness.MM()
			s.bars = append(s.bars, bar{heel: heel, toe: heel + side*a.DrilledLeg.MM(), corner: heel + side*t/2, half: a.Length.MM() / 2,
				e: a.Material.E.MPa(), i: bendingOf(a.DrilledLeg.MM(), a.StandingLeg.MM(), t), stand: a.StandingLeg.MM(), t: t})
		}
	}
	for k, y := range f.Rods.Levels {
		for c, x := range f.Rods.Columns {
			q := pull{x: x.MM(), y: y.MM() - low, in: max(f.Rods.Hole, f.Washer.Inner).MM() / 2, out: f.Washer.Outer.MM() / 2, share: f.RodShare(c), bar: -1, force: rodOf(f).force}
			if len(s.bars) > 0 {
				q.bar = k
			}
			s.pulls = append(s.pulls, q)
		}
	}
	return s
}

// bendingOf is the second moment of an angle of two strips about the axis along its foot,
// the mean of that held sideways and that free to turn to its principal axes, mm4.
func bendingOf(foot, stand, t float64) float64 {
	// strips: the foot, foot by t; the rest of the standing leg, t by stand-t
	a1, a2 := foot*t, (stand-t)*t
	x1, y1, x2, y2 := foot/2, t/2, t/2, t+(stand-t)/2
	x, y := (a1*x1+a2*x2)/(a1+a2), (a1*y1+a2*y2)/(a1+a2)
	along := foot*t*t*t/12 + a1*(y1-y)*(y1-y) + t*math.Pow(stand-t, 3)/12 + a2*(y2-y)*(y2-y)
	across := t*foot*foot*foot/12 + a1*(x1-x)*(x1-x) + (stand-t)*t*t*t/12 + a2*(x2-x)*(x2-x)
	both := a1*(x1-x)*(y1-y) + a2*(x2-x)*(y2-y)
	return along - both*both/across/2
}

// sheets says where separators and liners let pressure pass: all over, in a frame, or in
// upright ribs evenly apart.
func (s *slab) sheets(f *params.Fixture) {
	type field struct{ x0, x1, y0, y1 float64 }
	var all [][]field
	low := f.Plate.Bottom.MM()
	for _, in := range []*params.Insert{f.Separator, f.Liner} {
		if in == nil {
			continue
		}
		w, b := in.Width.MM()/2, in.Border.MM()
		y0, y1 := in.Bottom.MM()-low, (in.Bottom+in.Height).MM()-low
		one := []field{{-w, w, y0, y1}}
		switch in.Pattern {
		case "frame":
			one = []field{{-w, w, y0, y0 + b}, {-w, w, y1 - b, y1}, {-w, -w + b, y0, y1}, {w - b, w, y0, y1}}
		case "ribs":
			one = nil
			n := max(2, int((2*w-b)/in.RibPitch.MM())+1)
			for i := range n {
				x := -w + (2*w-b)*float64(i)/float64(n-1)
				one = append(one, field{x, x + b, y0, y1})
			}
		}
		all = append(all, one)
		for _, q := range one {
			for _, row := range f.Pack.RowX {
				s.linesX = append(s.linesX, row.MM()+q.x0, row.MM()+q.x1)
			}
			s.linesY = append(s.linesY, q.y0, q.y1)
		}
	}
	if len(all) == 0 {
		return
	}
	s.presses = func(face int, x, y float64) bool {
		x -= f.Pack.RowX[face].MM()
		for _, one := range all {
			if !slices.ContainsFunc(one, func(q field) bool { return x > q.x0 && x < q.x1 && y > q.y0 && y < q.y1 }) {
				return false
			}
		}
		return true
	}
}

// bridged is how far a case reaches over a gap by itself: the wall of a cell of 0.8 mm
// domes by less than a tenth of a millimetre over twice that (a strip held at both
// ends, p L^4/(384 E I) at 100 kPa).
const bridged = 15.0

// bare is the area of a face's middle that lies farther than bridged from all that
// presses, mm2: by points.
func (s *slab) bare(k int) (area float64) {
	if s.presses == nil {
		return 0
	}
	const step = 2.5
	f := s.faces[k]
	x0, y0 := (f[0]+f[2])/2, (f[1]+f[3])/2
	zx, zy := (f[2]-f[0])/2*s.zone, (f[3]-f[1])/2*s.zone
	held := func(x, y float64) bool {
		for dx := -bridged; dx <= bridged; dx += step {
			for dy := -bridged; dy <= bridged; dy += step {
				if math.Hypot(dx, dy) <= bridged && math.Abs(x+dx-x0) < (f[2]-f[0])/2 && math.Abs(y+dy-y0) < (f[3]-f[1])/2 && s.presses(k, x+dx, y+dy) {
					return true
				}
			}
		}
		return false
	}
	for x := x0 - zx + step/2; x < x0+zx; x += step {
		for y := y0 - zy + step/2; y < y0+zy; y += step {
			if !held(x, y) {
				area += step * step
			}
		}
	}
	return area
}

// rodSpring is a rod with what is on it.
type rodSpring struct {
	rod            float64                 // N/mm
	packet         func(v float64) float64 // N at a deflection of each spring; nil without
	flat, inSeries float64
}

func rodOf(f *params.Fixture) rodSpring {
	long := f.Pack.StackLength.MM() + 2*(f.Plate.Thickness+f.Washer.Thickness).MM()
	if f.Liner != nil {
		long += 2 * f.Liner.Thickness.MM()
	}
	if f.Stiffener != nil {
		long += 2 * f.Stiffener.Section.Thickness.MM()
	}
	s := f.Spring
	stacks := 1.0
	if s != nil && s.BothEnds {
		stacks = 2
	}
	if s != nil {
		long += stacks * (s.SetHeight + f.Washer.Thickness).MM()
	}
	out := rodSpring{rod: f.Rods.Grade.Modulus.MPa() * float64(f.Rods.Thread.StressArea) / long}
	if s == nil {
		return out
	}
	beside := float64(max(1, s.Parallel))
	out.inSeries = float64(max(1, s.Series)) * stacks
	if c := s.Coil; c != nil {
		rate := c.Given
		if rate <= 0 {
			rate = c.Shear.MPa() * math.Pow(c.Wire.MM(), 4) / (8 * c.Active * math.Pow(c.Mean.MM(), 3))
		}
		out.flat = (c.Free - c.Solid).MM()
		out.packet = func(v float64) float64 { return beside * rate * v }
		return out
	}
	d := s.Disc // Almen and Laszlo, EN 16984
	ratio, t, h := d.Outer.MM()/d.Inner.MM(), d.T.MM(), d.H0.MM()
	k1 := math.Pow((ratio-1)/ratio, 2) / ((ratio+1)/(ratio-1) - 2/math.Log(ratio)) / math.Pi
	out.flat = h
	out.packet = func(v float64) float64 {
		e := 4 * 206000 / (1 - 0.09)
		return beside * e * math.Pow(t, 4) / (k1 * d.Outer.MM() * d.Outer.MM()) * v / t * ((h/t-v/t)*(h/t-v/(2*t)) + 1)
	}
	return out
}

// stretch is by how much rod and springs give way at a force, mm: springs that are flat
// are taken as rigid.
func (r rodSpring) stretch(n float64) float64 {
	if r.packet == nil {
		return n / r.rod
	}
	lo, hi := 0.0, r.flat
	for range 60 {
		if v := (lo + hi) / 2; r.packet(v) < n {
			lo = v
		} else {
			hi = v
		}
	}
	return lo*r.inSeries + n/r.rod
}

// force is the inverse, and its rate.
func (r rodSpring) force(u float64) (n, rate float64) {
	if u <= 0 {
		return 0, 0
	}
	if r.packet == nil {
		return r.rod * u, r.rod
	}
	lo, hi := 0.0, r.rod*u
	for range 60 {
		if v := (lo + hi) / 2; r.stretch(v) < u {
			lo = v
		} else {
			hi = v
		}
	}
	step := 1e-4 * (1 + lo)
	return lo, step / (r.stretch(lo+step/2) - r.stretch(max(0, lo-step/2)) + 1e-12)
}

// curve is a rising line of pressure, MPa, over squeeze, mm, from nothing.
type curve struct{ s, p []float64 }

func (c curve) squeeze(p float64) float64 {
	i := 1
	for i < len(c.p)-1 && c.p[i] < p {
		i++
	}
	return c.s[i-1] + (p-c.p[i-1])*(c.s[i]-c.s[i-1])/(c.p[i]-c.p[i-1])
}

func (c curve) at(s float64) (p, rate float64) {
	if s <= 0 {
		return 0, 0
	}
	i := min(max(sort.SearchFloat64s(c.s, s), 1), len(c.s)-1)
	rate = (c.p[i] - c.p[i-1]) / (c.s[i] - c.s[i-1])
	return c.p[i-1] + (s-c.s[i-1])*rate, rate
}

// stackOf is a row's curve after some hours: its cells and sheets one after the other.
func stackOf(f *params.Fixture, hours float64) curve {
	points := func(list []params.SqueezePoint) curve {
		c := curve{s: []float64{0}, p: []float64{0}}
		for _, q := range list {
			if q.Squeeze > 0 {
				c.s, c.p = append(c.s, q.Squeeze.MM()), append(c.p, q.Pressure.MPa())
			}
		}
		return c
	}
	cell := points(f.Clamp.Squeeze)
	type layer struct {
		n    float64
		c    curve
		left float64
	}
	all := []layer{{float64(f.Pack.PerRow), cell, 1}}
	for in, n := range map[*params.Insert]int{f.Separator: f.Pack.PerRow - 1, f.Liner: 2} {
		if in != nil && n > 0 {
			c := points(in.Curve)
			if q := in.Material.Squeeze; len(in.Curve) == 0 && len(q) > 0 {
				c = curve{s: []float64{0}, p: []float64{0}}
				for _, v := range q {
					c.s, c.p = append(c.s, v.Strain*in.Thickness.MM()), append(c.p, v.Pressure.MPa())
				}
			} else if len(in.Curve) == 0 {
				c = curve{s: []float64{0, in.Thickness.MM()}, p: []float64{0, in.Material.E.MPa()}}
			}
			all = append(all, layer{float64(n), c, leftAfter(in.Material.Creep, hours)})
		}
	}
	out := curve{s: []float64{0}, p: []float64{0}}
	add := func(p float64) {
		s := 0.0
		for _, l := range all {
			s += l.n * l.c.squeeze(p/l.left)
		}
		out.s, out.p = append(out.s, s), append(out.p, p)
	}
	for p := 1e-4; p < 20; p *= 1.03 {
		add(p)
	}
	return out
}

// leftAfter is the part of a stiffness left after some hours: straight in the logarithm
// of time from a thousandth of an hour.
func leftAfter(creep []catalog.CreepPoint, hours float64) float64 {
	h, left := 1e-3, 1.0
	for _, p := range creep {
		if hours <= p.Hours && p.Hours > h {
			if hours <= h {
				return left
			}
			return left + (p.Factor-left)*math.Log(hours/h)/math.Log(p.Hours/h)
		}
		h, left = p.Hours, p.Factor
	}
	return left
}

// states are those judged: how full, whether aged, hours, °C over those at tightening.
func statesOf(f *params.Fixture) map[string][4]float64 {
	c := &f.Clamp
	return map[string][4]float64{"as tightened": {c.SetCharge}, "full": {1}, "full and aged": {1, 1}, "after 1000 h": {c.SetCharge, 0, 1000},
		"hot": {c.SetCharge, 0, 0, float64(c.HotTemp - c.AssemblyTemp)}, "cold": {c.SetCharge, 0, 0, float64(c.ColdTemp - c.AssemblyTemp)}}
}

// pressOf is what a state imposes beside the nuts.
func pressOf(f *params.Fixture, s slab, st [4]float64) (c press, longer float64) {
	charge, aged, hours, warmer := st[0], st[1], st[2], st[3]
	m := &f.Plate.Material
	c.factor = leftAfter(m.Creep, hours)
	if t := float64(f.Clamp.AssemblyTemp) + warmer; m.HotFactor > 0 && t > 23 {
		c.factor *= max(0.2, 1+(m.HotFactor-1)*(t-23)/17)
	}
	stack := stackOf(f, hours)
	c.stack = stack.at
	growth := func(q float64) float64 {
		g := f.Clamp.Growth
		i := 1
		for i < len(g)-1 && g[i].Charge < q {
			i++
		}
		a, b := g[i-1], g[i]
		return (a.Growth + (b.Growth-a.Growth)*unit.Length(min(max((q-a.Charge)/(b.Charge-a.Charge), 0), 1))).MM()
	}
	n := float64(f.Pack.PerRow)
	grown := n * (growth(charge) - growth(f.Clamp.SetCharge) + aged*f.Clamp.Aged.MM())
	even := n * f.Pack.CellThickness.MM() * f.Clamp.CellCTE * warmer
	for in, k := range map[*params.Insert]float64{f.Separator: n - 1, f.Liner: 2} {
		if in != nil {
			even += k * in.Thickness.MM() * in.Material.CTE * warmer
		}
	}
	edge := (0.75 - 4.0/9) / (1 - 4.0/9) // the mean three quarters of the middle, half way of what is assumed
	if f.Cell.Compression == params.CompressNone {
		edge = 0
	}
	if f.Clamp.Shape == "flat" {
		edge = 1
	}
	dome := func(x, y float64, r [4]float64) float64 {
		u, v := (2*x-r[0]-r[2])/(r[2]-r[0]), (2*y-r[1]-r[3])/(r[3]-r[1])
		return max(0, 1-u*u) * max(0, 1-v*v)
	}
	whole := [4]float64{-s.wide / 2, 0, s.wide / 2, s.high}
	c.grown = func(k int, x, y float64) float64 {
		d := dome(x, y, s.faces[k])
		return grown*(edge+(1-edge)*d) + even - 2*f.Plate.FlatnessGap.MM()*dome(x, y, whole) + n*f.Clamp.Bulge.MM()*d
	}
	// what a rod reaches through beside the stack, less the rod itself
	steel, washers := f.Rods.Grade.CTE, 2*f.Washer.Thickness.MM()
	long := f.Rods.Grade.Modulus.MPa() * float64(f.Rods.Thread.StressArea) / rodOf(f).rod
	longer = 2 * f.Plate.Thickness.MM() * m.CTE
	if a := f.Stiffener; a != nil {
		longer += 2 * a.Section.Thickness.MM() * a.Material.CTE
	}
	if q := f.Spring; q != nil {
		k := 1.0
		if q.BothEnds {
			k = 2
		}
		washers += k * (q.SetHeight + f.Washer.Thickness).MM()
	}
	return c, (longer + (washers-long)*steel) * warmer
}

// pressures are what a face gets in each state, by polynomials of a degree; nil where no
// balance is found.
func pressures(f *params.Fixture, degree int) map[string][]pressed {
	s := slabOf(f)
	r := newRitz(s, degree)
	states := statesOf(f)
	set, _ := pressOf(f, s, states["as tightened"])
	set.pulled = f.Cell.ForceTarget.N() * float64(f.Pack.Rows)
	top := set.stack // begin where the mean pressure just presses
	mean := f.Cell.ForceTarget.N() / (f.Cell.Width.MM() * f.Cell.Height.MM())
	base := 0.0
	for p, _ := top(-2 * base); p < mean; p, _ = top(-2 * base) {
		base = base*1.1 - 1e-3
	}
	r.x = make([]float64, r.n)
	r.x[0] = base
	for k := range r.foot {
		if r.foot[k] >= 0 {
			r.x[r.foot[k]] = base
		}
	}
	if !r.solve(set) {
		return nil
	}
	out := map[string][]pressed{}
	keep := func(name string, c press) {
		for k, face := range s.faces {
			if !s.even || face[0]+face[2] > -1e-9 {
				p := r.face(c, k)
				if bare := s.bare(k); bare > 0.01*p.zone {
					p.middleLeast, p.middleTouch = 0, p.middleTouch*p.zone/(p.zone+bare)
				}
				out[name] = append(out[name], p)
			}
		}
	}
	keep("as tightened", set)
	nuts := r.nuts(set, rodOf(f).stretch)
	at := slices.Clone(r.x)
	for name, st := range states {
		if name == "as tightened" {
			continue
		}
		c, longer := pressOf(f, s, st)
		for _, n := range nuts {
			c.turned = append(c.turned, n+longer)
		}
		copy(r.x, at)
		if r.solve(c) {
			keep(name, c)
		}
	}
	return out
}

// byPlates holds what is said of the pressures of every state against plates of its own.
func (h *hunt) byPlates(text string, j *job.Job, fine, coarse map[string][]pressed) {
	f := j.Fixture
	if fine == nil || coarse == nil {
		h.count("plates without a balance")
		return
	}
	c := &f.Cell
	area := c.Width.MM() * c.Height.MM() / 1000
	floor, ceiling := c.ForceFloor.N()/area, c.ForceLimit.N()/area
	for _, st := range j.Clamp.States {
		a, b := fine[st.Name], coarse[st.Name]
		if len(a) == 0 || len(a) != len(b) {
			continue
		}
		said := verdicts(st.Findings)
		low, high := floor, ceiling
		if st.Name == "as tightened" {
			low, high = c.ForceLow.N()/area, c.ForceHigh.N()/area
		}
		for k := range a {
			p, q := a[k], b[k]
			hold := func(id finding.ID, sign, have, less, limit, err float64) {
				got, known := said[rule{id, ""}]
				if !known {
					return
				}
				h.count("plates")
				err += math.Abs(have - less)
				spare := sign * (have - limit)
				at := fmt.Sprintf("%s: %.2f by plates (error %.2f), limit %.2f, said %.2f", st.Name, have, err, limit, got.Have)
				if spare < -err && got.Verdict == finding.Pass {
					h.falsePass(text, rule{id, ""}, at)
				}
				if spare > err && got.Verdict == finding.Fail && len(a) == 1 {
					h.falseFail(text, rule{id, ""}, at)
				}
			}
			if p.touch > leastTouch {
				hold(clamp.MeanLow, 1, p.mean, q.mean, low, middleError*p.mean)
				hold(clamp.MeanHigh, -1, p.mean, q.mean, high, middleError*p.mean)
			}
			hold(clamp.Middle, 1, p.middle, q.middle, low, 2*middleError*p.middle)
			if p.mean > 0 {
				share := 60.0
				if c.MiddleShare > 0 {
					share = 100 * c.MiddleShare
				}
				hold(clamp.MiddleShare, 1, 100*p.middle/p.mean, 100*q.middle/max(q.mean, 1e-9), share, 2)
			}
			if p.mean < slackKPa {
				continue // whether a face that hardly anything presses touches is decided by microns
			}
			hold(clamp.MiddleTouch, 1, 100*p.middleTouch, 100*q.middleTouch, 90, 100*touchError+2)
			hold(clamp.MiddleLeast, 1, p.middleLeast, q.middleLeast, 0.25*floor, spotError*p.mean)
			hold(clamp.MiddleHigh, -1, p.middle, q.middle, ceiling/0.6, 2*middleError*p.middle)
			hold(clamp.Peak, -1, p.most, q.most, 4*ceiling, mostError*p.most)
		}
	}
}
