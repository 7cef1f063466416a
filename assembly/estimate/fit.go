package estimate

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// fit is the most likely state of all that is not known.
type fit struct {
	*model
	z    []float64
	at   []float64     // what it foretells
	j    *mat.Dense    // how that moves, in sigmas of the readings
	cov  *mat.SymDense // of z
	root *mat.TriDense // lower, cov = root rootᵀ
	wide float64       // by which cov was widened because the model does not fit
}

// Limits of the steps.
const (
	mostSteps = 60
	rest      = 1e-6 // of the sum of squares, below which a step gains nothing
	mostDamp  = 1e8
)

// errNoRest is when no step lessens the sum and the slope is not nothing.
var errNoRest = errors.New("the readings and the model do not come to rest: one of the readings may be in another unit")

// solve looks for the most likely z from a start.
func (m *model) solve(z []float64) (*fit, error) {
	f := &fit{model: m, z: append(append([]float64(nil), z...), make([]float64, m.n-len(z))...), wide: 1}
	f.at = m.foretell(f.z)
	damp, best := 1e-3, f.sum(f.z, f.at)
	for range mostSteps {
		f.j = m.jacobian(f.z, f.at)
		a, b := f.normal()
		gained := false
		for ; damp < mostDamp; damp *= 8 {
			step := f.step(a, b, damp)
			if step == nil {
				continue
			}
			at := m.foretell(step)
			if sum := f.sum(step, at); sum < best {
				gained = best-sum > rest*math.Max(best, 1)
				f.z, f.at, best = step, at, sum
				damp = math.Max(damp/10, 1e-9)
				break
			}
		}
		if !gained {
			break
		}
		damp = math.Min(damp, 1)
	}
	f.j = m.jacobian(f.z, f.at)
	if math.IsNaN(best) || math.IsInf(best, 0) {
		return nil, errNoRest
	}
	return f, f.spread()
}

// anew solves from a start and from nothing, and keeps the likelier: what was off may have
// drawn the start far away.
func anew(m *model, z []float64) (*fit, error) {
	f, err := m.solve(z)
	g, other := m.solve(nil)
	if other == nil && (err != nil || g.sum(g.z, g.at) < f.sum(f.z, f.at)) {
		return g, nil
	}
	return f, err
}

// sum is what the most likely z makes least.
func (f *fit) sum(z, at []float64) float64 {
	s := 0.0
	for _, v := range z {
		s += v * v
	}
	for i, r := range f.rows {
		if !f.out[i] {
			e := (r.Value - at[i]) / f.sigma(i)
			s += e * e
		}
	}
	return s
}

// normal is the matrix of a step, 1 + JᵀJ, and its right side.
func (f *fit) normal() (*mat.SymDense, []float64) {
	a := mat.NewSymDense(f.n, nil)
	a.SymOuterK(1, f.j.T())
	b := make([]float64, f.n)
	for k := range f.n {
		a.SetSym(k, k, a.At(k, k)+1)
		b[k] = -f.z[k]
	}
	for i, r := range f.rows {
		if f.out[i] {
			continue
		}
		e := (r.Value - f.at[i]) / f.sigma(i)
		for k := range f.n {
			b[k] += f.j.At(i, k) * e
		}
	}
	return a, b
}

// step is z after a step damped so much, nil where there is none.
func (f *fit) step(a *mat.SymDense, b []float64, damp float64) []float64 {
	d := mat.NewSymDense(f.n, nil)
	d.CopySym(a)
	for k := range f.n {
		d.SetSym(k, k, a.At(k, k)*(1+damp))
	}
	var c mat.Cholesky
	var x mat.VecDense
	if !c.Factorize(d) || c.SolveVecTo(&x, mat.NewVecDense(f.n, b)) != nil {
		return nil
	}
	out := append([]float64(nil), f.z...)
	for k := range out {
		out[k] += math.Max(-2, math.Min(x.AtVec(k), 2))
	}
	return out
}

// spread is the covariance of z and its root.
func (f *fit) spread() error {
	a, _ := f.normal()
	var c, r mat.Cholesky
	f.cov = mat.NewSymDense(f.n, nil)
	if !c.Factorize(a) || c.InverseTo(f.cov) != nil || !r.Factorize(f.cov) {
		return errNoRest
	}
	f.root = mat.NewTriDense(f.n, mat.Lower, nil)
	r.LTo(f.root)
	return nil
}

// widen scales the covariance.
func (f *fit) widen(by float64) {
	f.wide = by
	f.cov.ScaleSym(by, f.cov)
	f.root.ScaleTri(math.Sqrt(by), f.root)
}
