package nest

import "slices"

// bestFit makes first plans: pieces longest first, each on the bar with the
// least room left that takes it, bars in the shop before bought ones; once for
// every kind of bar that can be bought, and once for the cheapest in proportion.
// Every bought bar is changed for the cheapest kind that holds what is on it.
func (s *barSearch) bestFit() {
	for prefer := range max(1, len(s.buy)) {
		var bars []used
		for _, st := range s.shop {
			bars = append(bars, used{stock: st, pattern: make([]int, len(s.want))})
		}
		missing := used{pattern: make([]int, len(s.want)), missing: true}
		for i, n := range s.want {
			for range n {
				bars = s.putOne(bars, &missing, i, prefer)
			}
		}
		s.offerFit(bars, missing)
	}
}

func (s *barSearch) putOne(bars []used, missing *used, size, prefer int) []used {
	best, least := -1, int64(0)
	for k, b := range bars {
		free := b.stock.room - s.total(b.pattern) - s.take[size]
		if free < 0 {
			continue
		}
		if best < 0 || bars[best].stock.bought == b.stock.bought && free < least { // bought ones come behind those of the shop
			best, least = k, free
		}
	}
	if best < 0 {
		for k := range s.buy {
			st := s.buy[(prefer+k)%len(s.buy)]
			if st.room >= s.take[size] {
				bars = append(bars, used{stock: st, pattern: make([]int, len(s.want))})
				best = len(bars) - 1
				break
			}
		}
	}
	if best < 0 {
		missing.pattern[size]++
		return bars
	}
	bars[best].pattern[size]++
	return bars
}

// offerFit swaps bought bars for cheaper kinds and offers the plan.
func (s *barSearch) offerFit(bars []used, missing used) {
	var c cost
	bars = slices.DeleteFunc(bars, func(u used) bool { return none(u.pattern) })
	for k, b := range bars {
		if !b.stock.bought {
			continue
		}
		for _, st := range s.buy {
			if st.room >= s.total(b.pattern) && st.price < bars[k].stock.price {
				bars[k].stock = st
			}
		}
		c = c.plus(cost{bought: bars[k].stock.price, fromBought: s.lengthOf(b.pattern)})
	}
	if !none(missing.pattern) {
		bars = append(bars, missing)
		c.missing = s.lengthOf(missing.pattern)
	}
	s.offer(bars, c)
}
