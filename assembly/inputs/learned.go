package inputs

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"clampwright/assembly/assure"
	"clampwright/assembly/estimate"
	"clampwright/params"
)

// Learned is what other packs told of such cells, in sigmas of the ranges; of what an entry
// leaves out the range is taken.
func Learned(f *params.Fixture, reduced *assure.Fixture) (out []estimate.Learned) {
	ranges := reduced.OfCell()
	for _, l := range f.Learned {
		e := estimate.Learned{Batch: l.Batch, Pack: l.Pack, Packs: l.Packs, Mean: make([]float64, len(ranges)), Cov: mat.NewSymDense(len(ranges), nil)}
		for i := range ranges {
			e.Cov.SetSym(i, i, 1)
		}
		var at []int
		var sigma []float64
		for _, p := range l.Parameters {
			i := slices.IndexFunc(ranges, func(r assure.Range) bool { return r.Key == p.Name })
			at, sigma = append(at, i), append(sigma, ranges[i].Width(p.Low, p.High))
			e.Mean[i] = ranges[i].Sigmas(p.Middle)
		}
		for i, row := range l.Correlation() {
			for k, c := range row {
				e.Cov.SetSym(at[i], at[k], c*sigma[i]*sigma[k])
			}
		}
		out = append(out, e)
	}
	return out
}

// Entry is what an estimate that rests on this pack's readings alone tells of its cells, as
// it stands in a file.
func Entry(f *params.Fixture, reduced *assure.Fixture, e *estimate.Estimate) params.Learned {
	mean, cov := e.Learn()
	out := params.Learned{Cell: f.CellName(), Batch: f.Cell.Batch, Pack: f.Name, Packs: 1}
	n, first, last := 0, math.MaxInt, 0
	for _, x := range f.Readings {
		if x.AtClamp() {
			n++
			if x.Day > 0 {
				first, last = min(first, x.Day), max(last, x.Day)
			}
		}
	}
	out.From = fmt.Sprintf("%d readings at the clamp", n)
	if last > 0 {
		out.From += ", " + params.Date(first) + " to " + params.Date(last)
	}
	for i, r := range reduced.OfCell() {
		p := params.Parameter{Name: r.Key}
		p.Low, p.Middle, p.High = r.Between(mean[i], math.Sqrt(cov.At(i, i)))
		for k := range i {
			p.With = append(p.With, cov.At(i, k)/math.Sqrt(cov.At(i, i)*cov.At(k, k)))
		}
		out.Parameters = append(out.Parameters, p)
	}
	return out
}
