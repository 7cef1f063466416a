package nest

import (
	"cmp"
	"slices"

	"clampwright/params"
)

// plan turns the best patterns found into cuts: bars in the shop first, then
// bought ones, fuller before emptier.
func (s *barSearch) plan() BarPlan {
	low := s.bound(s.want, 0)
	p := BarPlan{Priced: s.priced, Optimal: !s.cut}
	p.Cost, p.LowerBound = s.money(s.bestCost.bought), s.money(low.bought)
	if !s.cut || s.bestCost.compare(low) == 0 {
		p.Optimal = true
		p.LowerBound = p.Cost
	}
	bars := slices.Clone(s.best)
	slices.SortStableFunc(bars, func(a, b used) int {
		return cmp.Or(boolOrder(a.stock.bought, b.stock.bought), cmp.Compare(a.stock.bar, b.stock.bar),
			cmp.Compare(s.total(b.pattern), s.total(a.pattern)), slices.Compare(b.pattern, a.pattern))
	})
	next := make([]int, len(s.size))
	for _, u := range bars {
		if !u.missing && !none(u.pattern) {
			p.Cuts = append(p.Cuts, s.cutsOf(u, next))
		}
	}
	p.Buy = s.purchases(bars)
	return p
}

func boolOrder(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// money is a bought cost in the unit of the prices, or in mm.
func (s *barSearch) money(steps int64) float64 {
	if s.priced {
		return float64(steps) * priceStep
	}
	return float64(steps) / nmPerMM
}

// cutsOf names the pieces on one bar, longest first; next counts the names of
// each size that are given out.
func (s *barSearch) cutsOf(u used, next []int) BarCut {
	bar := s.job.Bars[u.stock.bar]
	c := BarCut{Bar: bar, Bought: u.stock.bought}
	at := s.job.TrimMM
	for i, n := range u.pattern {
		for range n {
			mm := float64(s.size[i]) / nmPerMM
			c.Pieces = append(c.Pieces, PieceCut{ID: s.ids[i][next[i]], FromMM: at, LengthMM: mm})
			next[i]++
			at += mm + s.job.KerfMM
		}
	}
	c.LeftMM = max(0, bar.Length.MM()-at)
	return c
}

func (s *barSearch) purchases(bars []used) (out []Purchase[params.LengthStock]) {
	count := make([]int, len(s.job.Bars))
	for _, u := range bars {
		if u.stock.bought && !u.missing {
			count[u.stock.bar]++
		}
	}
	for i, n := range count {
		if n > 0 {
			out = append(out, Purchase[params.LengthStock]{s.job.Bars[i], n})
		}
	}
	return out
}
