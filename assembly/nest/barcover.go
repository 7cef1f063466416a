package nest

import (
	"cmp"
	"slices"
)

// coverStep says that room up to this much costs at least this to buy.
type coverStep struct{ room, cost int64 }

// maxCover bounds the combinations of bought bars that are looked at for the
// lower bound.
const maxCover = 20_000

// coverSteps lists, by rising room, the least cost at which bought bars give it:
// every combination of bars whose room does not exceed what is needed by more
// than the last bar. Nil when there are too many combinations; then the bound
// by the best ratio of cost to room serves.
func coverSteps(buy []stock, need int64) []coverStep {
	all := []coverStep{{}}
	for _, st := range buy {
		if st.room <= 0 {
			continue
		}
		for i := 0; i < len(all); i++ { // all grows: each bar may be added again
			if all[i].room < need {
				all = append(all, coverStep{all[i].room + st.room, all[i].cost + st.price})
			}
			if len(all) > maxCover {
				return nil
			}
		}
		all = frontier(all)
	}
	return all
}

// frontier keeps the steps that no other one beats in both room and cost.
func frontier(all []coverStep) []coverStep {
	slices.SortFunc(all, func(a, b coverStep) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(b.room, a.room))
	})
	out := all[:0:0]
	most := int64(-1)
	for _, c := range all {
		if c.room > most {
			out = append(out, c)
			most = c.room
		}
	}
	return out
}

// coverCost is the least cost of bought bars with at least the given room in
// all; 0 when nothing can be bought.
func (s *barSearch) coverCost(need int64) int64 {
	if need <= 0 || len(s.buy) == 0 {
		return 0
	}
	if s.cover != nil {
		i, _ := slices.BinarySearchFunc(s.cover, need, func(c coverStep, n int64) int { return cmp.Compare(c.room, n) })
		if i < len(s.cover) {
			return s.cover[i].cost
		}
		return s.cover[len(s.cover)-1].cost
	}
	best := -1.0
	for _, st := range s.buy {
		if ratio := float64(st.price) / float64(st.room); st.room > 0 && (best < 0 || ratio < best) {
			best = ratio
		}
	}
	return int64(max(0, best) * float64(need) * (1 - 1e-12))
}
