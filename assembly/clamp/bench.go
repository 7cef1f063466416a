package clamp

import (
	"math"
	"slices"
)

// Measured is the stack stiffness that a bench measurement gives back.
type Measured struct {
	Factor            float64 `json:"factor"` // on the table's cell stiffness
	FactorBand        Span    `json:"factor_band"`
	StiffnessMPaPerMM float64 `json:"stiffness_mpa_per_mm"` // whole stack, secant from snug to tight
	ForceN            float64 `json:"force_n"`              // total force at the tightened reading
	ShorteningMM      float64 `json:"shortening_mm"`
	Usable            bool    `json:"usable"` // the band is narrower than the default one
	Sentence          string  `json:"sentence"`
}

// Limits of the factor searched for.
const benchLow, benchHigh = 1e-2, 1e2

// benchModel predicts the stack's shortening at the rods, snug to tight, for
// cells factor times as stiff as the table says.
func benchModel(s *system, b Bench, factor float64) (shortening, force float64, err error) {
	f := newFixtureOn(s, knowledge{factor, 1})
	snug, nuts, err := f.snug()
	if err != nil {
		return 0, 0, err
	}
	st := StateSpec{Name: "bench", Charge: s.in.AssemblyCharge, TempC: s.in.Climate.AssemblyC}
	var tight *solution
	if b.SpringMM > 0 {
		tight, _, err = f.press(st, f.springTotal(b.SpringMM), snug)
	} else {
		for g, rod := range s.rods {
			nuts[g] += b.Turns * s.in.Rods[rod.rods[0]].PitchMM
		}
		tight, err = f.locked(st, nuts, snug)
	}
	if err != nil {
		return 0, 0, err
	}
	for _, g := range s.groupOf {
		shortening += 2 * (snug.rodW[g] - tight.rodW[g]) / float64(len(s.groupOf))
	}
	return shortening, f.total(tight), nil
}

// springTotal is the total rod force at a spring height.
func (f *fixture) springTotal(h float64) float64 {
	sum := 0.0
	for _, g := range f.s.groupOf {
		sum += f.s.rods[g].curve.forceAtHeight(h)
	}
	return sum
}

// evaluateBench finds the factor on cell stiffness that explains a measurement,
// with the band the reading error leaves. Stiffer cells shorten less at the same
// spring height or turns, so bisection finds it.
func evaluateBench(s *system, b Bench) (*Measured, error) {
	d := b.SnugMM - b.TightMM
	e := math.Sqrt2 * orElse(b.ResolutionMM, BenchResolutionMM)
	best, ok, err := findFactor(s, b, d)
	if err != nil {
		return nil, err
	}
	soft, softOK, err := findFactor(s, b, d+e)
	if err != nil {
		return nil, err
	}
	stiff, stiffOK, err := findFactor(s, b, math.Max(d-e, 1e-4))
	if err != nil {
		return nil, err
	}
	if !ok && !softOK && !stiffOK {
		return nil, &InputError{Field: "bench.tight_mm", Value: b.TightMM,
			Reason: "no plausible cell stiffness explains this measurement; read both lengths and the turns again"}
	}
	return benchResult(s, b, d, best, Span{soft, stiff})
}

// sprung says whether any rod has a spring.
func (s *system) sprung() bool {
	return slices.ContainsFunc(s.in.Rods, func(r Rod) bool { return r.Spring.Kind != SpringNone })
}

func benchResult(s *system, b Bench, d, factor float64, span Span) (*Measured, error) {
	_, force, err := benchModel(s, b, factor)
	if err != nil {
		return nil, err
	}
	area := 0.0
	for _, r := range s.in.Rows {
		area += r.Face.area()
	}
	c := s.in.Rows[0].stackCurve(knowledge{factor, 1}, 0)
	snug := s.in.SnugTotalN(force)
	m := &Measured{Factor: factor, FactorBand: span, ForceN: force, ShorteningMM: d}
	m.StiffnessMPaPerMM = (force - snug) / area / (c.squeeze(force/area) - c.squeeze(snug/area))
	m.Usable = span.Greatest/span.Least < usableBand
	m.Sentence = "The measurement gives the cell stiffness; it replaces the table's value."
	if !m.Usable {
		m.Sentence = "The readings of the stack do not narrow the cell stiffness: the error of reading them outweighs what they tell. "
		if s.sprung() {
			m.Sentence += "Read finer, or turn further."
		} else {
			m.Sentence += "With locked nuts the stack gives nearly what the nuts advance, whatever the cells are like: only springs tell."
		}
	}
	return m, nil
}

// findFactor bisects the logarithm of the factor; ok is false when the answer
// lies at an end of the range.
func findFactor(s *system, b Bench, shortening float64) (factor float64, ok bool, err error) {
	lo, hi := math.Log(benchLow), math.Log(benchHigh)
	for range 24 {
		mid := (lo + hi) / 2
		v, _, err := benchModel(s, b, math.Exp(mid))
		if err != nil {
			return 0, false, err
		}
		if v > shortening {
			lo = mid
		} else {
			hi = mid
		}
	}
	x := (lo + hi) / 2
	ok = x > math.Log(benchLow)+1e-3 && x < math.Log(benchHigh)-1e-3
	return math.Exp(x), ok, nil
}
