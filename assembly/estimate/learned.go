package estimate

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"

	"clampwright/assembly/assure"
)

// Learned is what readings of packs told of a cell, in sigmas about the middles of the
// ranges: those of assure.Fixture.OfCell.
type Learned struct {
	Batch, Pack string
	Packs       int
	Mean        []float64
	Cov         *mat.SymDense
}

// Learn is what this clamp's readings tell of its cells. An estimate that rests on what
// others told is none of this pack's own.
func (e *Estimate) Learn() (mean []float64, cov *mat.SymDense) {
	mean, cov = make([]float64, assure.OfCells), mat.NewSymDense(assure.OfCells, nil)
	for _, z := range e.draws {
		for i, v := range z[:assure.OfCells] {
			mean[i] += v / drawn
		}
	}
	for _, z := range e.draws {
		for i := range mean {
			for k := range i + 1 {
				cov.SetSym(i, k, cov.At(i, k)+(z[i]-mean[i])*(z[k]-mean[k])/drawn)
			}
		}
	}
	return mean, cov
}

// Judgements: batchSigma is by how many sigmas of a range the middles of two batches of one
// model may differ, one sigma; apartSigmas the normal score from which on two entries are
// told apart; told is the part of a variance that must be gone for a reading to have told
// of it.
const (
	batchSigma  = 0.3
	apartSigmas = 3.1
	told        = 0.03
)

// knowledge is what one entry tells beside the ranges: precision and precision times mean.
func (l *Learned) knowledge(otherBatch bool) (p *mat.SymDense, h *mat.VecDense) {
	n := assure.OfCells
	p, h = mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	var e mat.EigenSym
	if !e.Factorize(l.Cov, true) {
		return p, h
	}
	var v mat.Dense
	e.VectorsTo(&v)
	mean := mat.NewVecDense(n, l.Mean)
	for k, c := range e.Values(nil) {
		if c > 1-told {
			continue // as wide as the range
		}
		c = math.Max(c, 1e-6)
		axis := v.ColView(k)
		own := 1/c - 1
		at := mat.Dot(axis, mean) / c / own
		if otherBatch {
			own /= 1 + own*batchSigma*batchSigma
		}
		p.SymRankOne(p, own, axis)
		h.AddScaledVec(h, own*at, axis)
	}
	return p, h
}

// Prior is what is known of the cells before this clamp is read.
type Prior struct {
	From  []int // the entries that it rests on
	Packs int
	mean  []float64
	root  *mat.TriDense // of the covariance, lower
}

// Apart is two entries that cannot be of like cells, of which neither is used.
type Apart struct {
	Entries [2]int
	Sigmas  float64
	Most    int        // the parameter that differs most
	Means   [2]float64 // of it, in sigmas of its range
}

// Pool is the knowledge that entries give of cells of a batch: of that batch where there are
// any, else of all, which may differ from it as batches do. Entries that disagree are
// neither used nor averaged. Each tells beside the ranges, which count once.
func Pool(batch string, all []Learned) (*Prior, *Apart) {
	var use []int
	for i, l := range all {
		if batch != "" && l.Batch == batch {
			use = append(use, i)
		}
	}
	same := len(use) > 0
	for i := range all {
		if !same {
			use = append(use, i)
		}
	}
	var worst *Apart
	for k, i := range use {
		for _, o := range use[:k] {
			if a := disagree(&all[o], &all[i]); a != nil && (worst == nil || a.Sigmas > worst.Sigmas) {
				a.Entries, worst = [2]int{o, i}, a
			}
		}
	}
	if worst != nil || len(use) == 0 {
		return nil, worst
	}
	n := assure.OfCells
	p, h := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		p.SetSym(i, i, 1)
	}
	out := &Prior{From: use}
	for _, i := range use {
		own, at := all[i].knowledge(!same)
		p.AddSym(p, own)
		h.AddVec(h, at)
		out.Packs += all[i].Packs
	}
	var c, r mat.Cholesky
	var cov mat.SymDense
	var mean mat.VecDense
	if !c.Factorize(p) || c.InverseTo(&cov) != nil || c.SolveVecTo(&mean, h) != nil || !r.Factorize(&cov) {
		return nil, nil
	}
	out.mean, out.root = mean.RawVector().Data, mat.NewTriDense(n, mat.Lower, nil)
	r.LTo(out.root)
	return out, nil
}

// disagree says whether two entries can be of cells of one kind: their means differ by more
// than what their readings, and batches where they are two, leave open. With A = I - C what
// an entry's readings weigh against the range, its mean is A x + noise of covariance A C
// for cells x drawn from the range.
func disagree(a, b *Learned) *Apart {
	n := assure.OfCells
	weigh := func(l *Learned) (w, noise *mat.Dense) {
		w, noise = mat.NewDense(n, n, nil), mat.NewDense(n, n, nil)
		for i := range n {
			w.Set(i, i, 1)
		}
		w.Sub(w, l.Cov)
		noise.Mul(w, l.Cov)
		return w, noise
	}
	wa, s := weigh(a)
	wb, sb := weigh(b)
	s.Add(s, sb)
	spread := func(w mat.Matrix, by float64) {
		var x mat.Dense
		x.Mul(w, w.T())
		x.Scale(by, &x)
		s.Add(s, &x)
	}
	var diff mat.Dense
	diff.Sub(wa, wb)
	spread(&diff, 1)
	if a.Batch != b.Batch {
		spread(wa, batchSigma*batchSigma)
		spread(wb, batchSigma*batchSigma)
	}
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for k := range n {
			sym.SetSym(i, k, (s.At(i, k)+s.At(k, i))/2)
		}
	}
	var e mat.EigenSym
	if !e.Factorize(sym, true) {
		return nil
	}
	var v mat.Dense
	e.VectorsTo(&v)
	d := mat.NewVecDense(n, nil)
	d.SubVec(mat.NewVecDense(n, a.Mean), mat.NewVecDense(n, b.Mean))
	sum, free := 0.0, 0
	for k, c := range e.Values(nil) {
		if c > told {
			x := mat.Dot(v.ColView(k), d)
			sum, free = sum+x*x/c, free+1
		}
	}
	out := &Apart{Sigmas: misfit(sum, free)}
	if out.Sigmas < apartSigmas {
		return nil
	}
	off := func(i int) float64 { return math.Abs(d.AtVec(i)) / math.Sqrt(math.Max(sym.At(i, i), told)) }
	for i := range n {
		if off(i) > off(out.Most) {
			out.Most = i
		}
	}
	out.Means = [2]float64{a.Mean[out.Most], b.Mean[out.Most]}
	return out
}

// Known is the prior as draws of n sigmas, for the share of clamps of which nothing was read.
func (p *Prior) Known(n int) *assure.Known {
	if p == nil {
		return nil
	}
	r, out := rand.New(rand.NewPCG(drawnSeed, 2)), &assure.Known{Cells: p.mean}
	for range drawn {
		z := make([]float64, n)
		for k := range z {
			z[k] = r.NormFloat64()
		}
		out.Draws = append(out.Draws, p.of(z))
	}
	return out
}

// of is what latents of the estimate are in sigmas of the ranges: its cells' are those of
// the prior.
func (p *Prior) of(z []float64) []float64 {
	if p == nil {
		return z
	}
	out := slices.Clone(z)
	for i, m := range p.mean {
		out[i] = m
		for k := range i + 1 {
			out[i] += p.root.At(i, k) * z[k]
		}
	}
	return out
}

// Middle is the most likely of a cell's parameter, in sigmas of its range; 0 without.
func (p *Prior) Middle(parameter int) float64 {
	if p == nil {
		return 0
	}
	return p.mean[parameter]
}

// Against says whether what this clamp's readings alone tell is at odds with the entries;
// the second of the two is then -1.
func (e *Estimate) Against(batch string, all []Learned, p *Prior) *Apart {
	own := &Learned{Batch: batch}
	own.Mean, own.Cov = e.Learn()
	for _, i := range p.From {
		if a := disagree(&all[i], own); a != nil {
			a.Entries = [2]int{i, -1}
			return a
		}
	}
	return nil
}
