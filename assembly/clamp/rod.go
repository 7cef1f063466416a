package clamp

import (
	"math"

	"clampwright/params/catalog"
)

// solidRatio is how much stiffer than the rod a spring is taken once it is flat
// or coil-bound.
const solidRatio = 100

// rodCurve is the force of one rod with its springs against the stretch u
// between its nuts' seats.
type rodCurve struct {
	k      float64 // bare rod, N/mm
	spring Spring
}

func newRodCurve(r Rod) rodCurve {
	return rodCurve{k: r.EMPa * r.AreaMM2 / r.FreeMM, spring: r.Spring.normal()}
}

// normal fills the defaults of counts.
func (s Spring) normal() Spring {
	s.Parallel, s.Series, s.Ends = max(s.Parallel, 1), max(s.Series, 1), max(s.Ends, 1)
	return s
}

// travel returns the deflection of one spring at which it is flat or solid.
func (s Spring) travel() float64 {
	if s.Kind == SpringDisc {
		return s.Disc.ConeMM
	}
	return s.Coil.FreeMM - s.Coil.SolidMM
}

// work returns the greatest deflection of one spring in use; 0 where none is given.
func (s Spring) work() float64 {
	if s.Kind == SpringDisc {
		return s.Disc.WorkMM
	}
	return s.Coil.WorkMM
}

// one returns force and rate of one spring (one disc, one coil) at deflection v.
func (s Spring) one(v, solid float64) (f, rate float64) {
	lim := s.travel()
	at := math.Min(v, lim)
	if s.Kind == SpringDisc {
		f, rate = s.Disc.Force(at)
	} else {
		rate = s.Coil.Rate()
		f = rate * at
	}
	if v > lim {
		return f + solid*(v-lim), solid
	}
	return f, rate
}

// FreeHeight returns the height of one unloaded stack, mm: parallel discs nest,
// so a packet of n is h0 + n t high.
func (s Spring) FreeHeight() float64 {
	s = s.normal()
	switch s.Kind {
	case SpringDisc:
		return float64(s.Series) * (s.Disc.ConeMM + float64(s.Parallel)*s.Disc.ThicknessMM)
	case SpringCoil:
		return float64(s.Series) * s.Coil.FreeMM
	}
	return 0
}

// force returns the rod's force (N) and rate (N/mm) at stretch u.
func (c rodCurve) force(u float64) (f, rate float64) {
	if u <= 0 {
		return 0, 0
	}
	if c.spring.Kind == SpringNone {
		return c.k * u, c.k
	}
	f, rate = c.packet(c.deflection(u))
	return f, seriesRate(rate/c.inSeries(), c.k)
}

// inSeries is the number of springs (or packets) one behind the other per rod.
func (c rodCurve) inSeries() float64 { return float64(c.spring.Series * c.spring.Ends) }

// packet returns force and rate of the springs side by side, each deflected v.
func (c rodCurve) packet(v float64) (f, rate float64) {
	n := float64(c.spring.Parallel)
	f, rate = c.spring.one(v, solidRatio*c.k/n*c.inSeries())
	return n * f, n * rate
}

// seriesRate returns the rate of a and b in series.
func seriesRate(a, b float64) float64 {
	if a <= 0 || b <= 0 {
		return 0
	}
	return a * b / (a + b)
}

// deflection solves v m + F(v)/k = u for the deflection v of one spring; the
// left side rises, so bisection-guarded Newton finds the one root.
func (c rodCurve) deflection(u float64) float64 {
	m := c.inSeries()
	lo, hi := 0.0, u/m
	v := hi
	for range 100 {
		f, rate := c.packet(v)
		g := v*m + f/c.k - u
		if g > 0 {
			hi = v
		} else {
			lo = v
		}
		if math.Abs(g) <= 1e-14*u || hi-lo <= 1e-15*hi {
			break
		}
		v -= g / (m + rate/c.k)
		if v <= lo || v >= hi {
			v = (lo + hi) / 2
		}
	}
	return v
}

// stretch is the inverse of force: the stretch at force f >= 0.
func (c rodCurve) stretch(f float64) float64 {
	if f <= 0 {
		return 0
	}
	if c.spring.Kind == SpringNone {
		return f / c.k
	}
	return c.springAt(f)*c.inSeries() + f/c.k
}

// springAt returns the deflection of one spring at rod force f.
func (c rodCurve) springAt(f float64) float64 {
	lo, hi := 0.0, c.spring.travel()
	for g, _ := c.packet(hi); g < f; g, _ = c.packet(hi) {
		lo, hi = hi, hi+(hi+1)
	}
	for range 200 {
		v := (lo + hi) / 2
		if g, _ := c.packet(v); g > f {
			hi = v
		} else {
			lo = v
		}
		if hi-lo <= 1e-15*hi {
			break
		}
	}
	return (lo + hi) / 2
}

// stackHeight returns the height of one spring stack at rod force f.
func (c rodCurve) stackHeight(f float64) float64 {
	if c.spring.Kind == SpringNone {
		return 0
	}
	return c.spring.FreeHeight() - float64(c.spring.Series)*c.springAt(f)
}

// pitchDia returns d2, by ISO 68-1 proportions when not given.
func (r Rod) pitchDia() float64 {
	if r.PitchDiaMM > 0 {
		return r.PitchDiaMM
	}
	return catalog.PitchDia(r.DiameterMM, r.PitchMM)
}

// nutMinor returns D1, by ISO 68-1 proportions when not given.
func (r Rod) nutMinor() float64 {
	if r.NutMinorMM > 0 {
		return r.NutMinorMM
	}
	return catalog.NutMinorDia(r.DiameterMM, r.PitchMM)
}

// StripArea returns the area of the rod's thread that would shear at the nut's
// minor diameter over the engaged length, with basic sizes (ASME B1.1 appendix
// B, FED-STD-H28/2):
//
//	A = pi D1 Le [1/2 + (d2 - D1)/(P sqrt 3)]
func (r Rod) StripArea() float64 {
	d1 := r.nutMinor()
	return math.Pi * d1 * r.EngagedMM * (0.5 + (r.pitchDia()-d1)/(r.PitchMM*math.Sqrt(3)))
}
