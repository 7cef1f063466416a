package nest

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// Bounds of the search. They are counts, not times, so that the same job gives
// the same plan on every machine.
const (
	maxPatterns = 2_000     // on one bar, at one step
	maxWork     = 4_000_000 // counts looked at or copied, in all: about 0.2 s
)

// run finds a good plan by best fit and then searches for a better one: the bars
// in the shop are filled one after the other, then the longest piece left always
// goes on a bought bar. Only patterns to which nothing can be added are tried: a
// plan with another one is never better, because fewer pieces left never cost
// more.
func (s *barSearch) run() {
	s.bestFit()
	left := slices.Clone(s.want)
	s.step(left, 0, cost{})
}

// offer keeps the current path if it is better than the best.
func (s *barSearch) offer(path []used, c cost) {
	if s.found && c.compare(s.bestCost) >= 0 {
		return
	}
	s.found, s.bestCost = true, c
	s.best = make([]used, len(path))
	for i, u := range path {
		s.best[i] = u
		s.best[i].pattern = slices.Clone(u.pattern)
	}
}

// step goes on from a state: pieces left, bars of the shop looked at, cost so
// far.
func (s *barSearch) step(left []int, shop int, soFar cost) {
	if none(left) {
		s.offer(s.path, soFar)
		return
	}
	if s.found && soFar.plus(s.bound(left, shop)).compare(s.bestCost) >= 0 || s.been(left, shop, soFar) {
		return
	}
	if !s.spend(len(left)) {
		return
	}
	if shop < len(s.shop) {
		s.fillShop(left, shop, soFar)
		return
	}
	s.fillBought(left, soFar)
}

// been reports whether the state was reached before at no greater cost, and
// remembers it.
func (s *barSearch) been(left []int, shop int, soFar cost) bool {
	key := binary.AppendUvarint(nil, uint64(shop))
	for _, n := range left {
		key = binary.AppendUvarint(key, uint64(n))
	}
	if c, ok := s.seen[string(key)]; ok && c.compare(soFar) <= 0 {
		return true
	}
	s.seen[string(key)] = soFar
	return false
}

func (s *barSearch) fillShop(left []int, shop int, soFar cost) {
	st := s.shop[shop]
	for _, p := range s.patterns(left, st.room, 0, 0) {
		s.descend(left, shop+1, soFar, used{stock: st, pattern: p})
	}
}

// fillBought puts the longest piece left on a bar of each kind that takes it.
func (s *barSearch) fillBought(left []int, soFar cost) {
	longest := slices.IndexFunc(left, func(n int) bool { return n > 0 })
	placed := false
	for _, st := range s.buy {
		if st.room < s.take[longest] {
			continue
		}
		placed = true
		for _, p := range s.patterns(left, st.room, longest, 1) {
			c := cost{bought: st.price, fromBought: s.lengthOf(p)}
			s.descend(left, len(s.shop), soFar.plus(c), used{stock: st, pattern: p})
		}
	}
	if !placed {
		p := make([]int, len(left))
		p[longest] = left[longest]
		c := cost{missing: s.lengthOf(p)}
		s.descend(left, len(s.shop), soFar.plus(c), used{pattern: p, missing: true})
	}
}

func (s *barSearch) descend(left []int, shop int, soFar cost, u used) {
	next := slices.Clone(left)
	for i, n := range u.pattern {
		next[i] -= n
	}
	s.path = append(s.path, u)
	s.step(next, shop, soFar)
	s.path = s.path[:len(s.path)-1]
}

// patterns lists the ways to fill a room so that nothing more goes in, with at
// least the given count of the first size from there on; fullest first.
func (s *barSearch) patterns(left []int, room int64, from, atLeast int) [][]int {
	var out [][]int
	p := make([]int, len(left))
	var fill func(i int, room int64)
	fill = func(i int, free int64) {
		if len(out) >= maxPatterns {
			s.cut = true
		}
		if len(out) >= maxPatterns || !s.spend(1) {
			return
		}
		if i == len(left) {
			if s.spend(len(left)) && s.full(left, p, free) {
				out = append(out, slices.Clone(p))
			}
			return
		}
		least := 0
		if i == from {
			least = atLeast
		}
		for n := min(left[i], int(free/s.take[i])); n >= least; n-- {
			p[i] = n
			fill(i+1, free-int64(n)*s.take[i])
		}
		p[i] = 0
	}
	fill(from, room)
	return s.fullestFirst(out)
}

func (s *barSearch) fullestFirst(patterns [][]int) [][]int {
	total := make([]int64, len(patterns))
	order := make([]int, len(patterns))
	for i, p := range patterns {
		total[i], order[i] = s.total(p), i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(total[b], total[a]) })
	out := make([][]int, len(patterns))
	for i, k := range order {
		out[i] = patterns[k]
	}
	return out
}

// spend takes from the bound on work; false means that the search must end.
func (s *barSearch) spend(work int) bool {
	s.work += work
	if s.work > maxWork {
		s.cut = true
	}
	return s.work <= maxWork
}

// full reports whether no further piece goes into the room that is free.
func (s *barSearch) full(left, p []int, free int64) bool {
	for i, n := range left {
		if n > p[i] && s.take[i] <= free {
			return false
		}
	}
	return true
}

func none(counts []int) bool {
	for _, n := range counts {
		if n > 0 {
			return false
		}
	}
	return true
}

// bound is a cost that finishing from a state can't fall below: the room that
// the bars left in the shop can't give has to be bought.
func (s *barSearch) bound(left []int, shop int) cost {
	need, length := s.total(left), s.lengthOf(left)
	for _, st := range s.shop[shop:] {
		need -= st.room
		length -= st.room
	}
	return cost{bought: s.coverCost(need), fromBought: max(0, length)}
}
