package estimate

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"clampwright/assembly/assure"
)

// Offer is readings that may be taken together: one quantity, on all ties, at a moment.
type Offer struct {
	Readings []Reading `json:"readings"`
	Before   float64   `json:"before_n"` // one sigma of the force that it is to narrow
	After    float64   `json:"after_n"`
}

// target is the force that readings are to narrow.
func (m *model) target(z []float64, at Moment) float64 {
	l, _ := m.walk(z)
	return l.At(at.Years, at.Charge, at.TempC).ForceN
}

// slope is how the force at a moment moves with each latent.
func (m *model) slope(z []float64, at Moment) *mat.VecDense {
	g := mat.NewVecDense(len(z), nil)
	base := m.target(z, at)
	step := slices.Clone(z)
	for k := range m.n {
		step[k] += stepSigma
		g.SetVec(k, (m.target(step, at)-base)/stepSigma)
		step[k] = z[k]
	}
	return g
}

// Sigma is one of the force at a moment.
func (e *Estimate) Sigma(at Moment) float64 {
	g := e.slope(e.z, at)
	return math.Sqrt(mat.Inner(g, e.cov, g))
}

// Raise are the readings that are used, that first without which the force at a moment is least.
func (e *Estimate) Raise(at Moment) (refs []int) {
	left := map[int]float64{}
	for i, r := range e.rows {
		if e.out[i] && !slices.Contains(e.setBy(e.in[i]), i) {
			continue
		}
		m := newModel(e.Clamp, slices.Delete(slices.Clone(e.rows), i, i+1))
		if f, err := m.solve(nil); err == nil {
			left[r.Ref] = m.target(f.z, at)
			refs = append(refs, r.Ref)
		}
	}
	slices.SortStableFunc(refs, func(a, b int) int { return cmp.Compare(left[a], left[b]) })
	return refs
}

// After is what one sigma of the force at a moment comes to with more readings, by the
// covariance that they would leave.
func (e *Estimate) After(at Moment, more ...Reading) float64 {
	more = InOrder(slices.Clone(more))
	m := e.with(more)
	z := append(slices.Clone(e.z), make([]float64, m.n-e.n)...)
	f := fit{model: m, z: z, wide: 1}
	f.at = m.foretell(z)
	for i := range more { // as if it were read just so
		m.rows[len(e.rows)+i].Value = f.at[len(e.rows)+i]
	}
	f.j = m.jacobian(z, f.at)
	if f.spread() != nil {
		return math.Inf(1)
	}
	g := m.slope(z, at)
	return math.Sqrt(e.wide * mat.Inner(g, f.cov, g))
}

// Best is the offer that narrows the force most, nil where none does by a twentieth.
func (e *Estimate) Best(at Moment, offers []Offer) *Offer {
	var best *Offer
	e = e.listed()
	was := e.Sigma(at)
	for i := range offers {
		o := &offers[i]
		o.Before, o.After = was, e.After(at, o.Readings...)
		if o.After < worth*was && (best == nil || o.After < best.After) {
			best = o
		}
	}
	return best
}

// listed is the estimate of springs that are still to be set, were they set by the height
// that is listed: what it is worth to weigh them shows there.
func (e *Estimate) listed() *Estimate {
	if e.isSet() || e.FreeMM == 0 {
		return e
	}
	m, f := *e.model, *e.fit
	m.sets, f.model = []assure.Set{{Method: assure.Height, TargetN: e.TargetN, TurnMM: e.TurnMM}}, &m
	return &Estimate{fit: &f}
}

// worth is what part of a sigma a reading may leave to be worth taking: a judgement.
const worth = 0.95

// Order takes offers one after another, that which narrows most first, as long as one is
// worth it.
func (e *Estimate) Order(at Moment, offers []Offer) (out []Offer) {
	var taken []Reading
	e = e.listed()
	was := e.Sigma(at)
	left := slices.Clone(offers)
	for len(left) > 0 {
		best, after := -1, worth*was
		for i, o := range left {
			if s := e.After(at, inOrder(taken, o.Readings)...); s < after {
				best, after = i, s
			}
		}
		if best < 0 {
			break
		}
		o := left[best]
		o.Before, o.After, was = was, after, after
		out, taken = append(out, o), inOrder(taken, o.Readings)
		left = slices.Delete(left, best, best+1)
	}
	return out
}

// inOrder puts readings in the order of their stages and times.
func inOrder(a, b []Reading) []Reading {
	return InOrder(slices.Concat(a, b))
}

// InOrder sorts readings by their stages and times.
func InOrder(out []Reading) []Reading {
	slices.SortStableFunc(out, func(x, y Reading) int { return x.order(y) })
	return out
}

func (r Reading) order(o Reading) int {
	rank := func(r Reading) float64 {
		if r.Stage < Set {
			return float64(r.Stage)*10 + r.Part - 100
		}
		v := r.Years * 1e3
		if r.Stage == Reset {
			v += 0.5
		}
		if r.Stage == Visit {
			v += 0.1
		}
		return v + r.Charge*0.1
	}
	x, y := rank(r), rank(o)
	switch {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return 0
}
