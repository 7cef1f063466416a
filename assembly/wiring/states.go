package wiring

import (
	"math"
	"slices"
)

// balanceState is all given slots in parallel, to be charged and then discharged.
func balanceState(l *Layout, id, name string, slots []int, t Turns) State {
	return State{ID: id, Name: name, Turns: slices.Clone(t), Places: [][]int{slots},
		Charge: 1, CurrentA: -max(l.in.ChargerA, l.in.DischargerA)}
}

// turnStates: balance one way.
func turnStates(l *Layout, p *Plan, final State) error {
	slots := slices.Concat(final.Places...)
	t, links := oneWay(l, slots, final.Turns)
	return buildState(l, p, balanceState(l, StateBalance, "all cells in parallel, one way round", slots, t), links)
}

// allWays is the most rows for which every choice of a side for each row is tried.
const allWays = 3

// ways are the choices of a side for each row, a bit for each row whose plus is on the
// left: all of them, or of many rows those alike, those turn about, and the one that
// turns fewest cells, since what two neighbours cost is alike for all rows.
func ways(l *Layout, final Turns) (out []int) {
	if l.in.Rows <= allWays {
		for choice := range 1 << l.in.Rows {
			out = append(out, choice)
		}
		return out
	}
	left := make([]int, l.in.Rows) // cells more that end with their plus on the left
	for slot, side := range final {
		left[l.Row(slot)] += map[Side]int{Left: 1, Right: -1}[side]
	}
	all, every, fewest := 1<<l.in.Rows-1, 0, 0
	for row := range l.in.Rows {
		every |= row % 2 << row
		if left[row] > 0 {
			fewest |= 1 << row
		}
	}
	return []int{0, all, every, all &^ every, fewest}
}

// oneWay stands all cells of a row the same way: of the choices row by row, the
// one with the shortest parallel links, then the fewest cells to turn later.
func oneWay(l *Layout, slots []int, final Turns) (best Turns, links []Link) {
	leastCost, leastTurned := math.Inf(1), 0
	for _, choice := range ways(l, final) {
		t := make(Turns, l.Cells())
		turned := 0
		for slot := range t {
			t[slot] = Right
			if choice>>l.Row(slot)&1 == 1 {
				t[slot] = Left
			}
			if t[slot] != final[slot] {
				turned++
			}
		}
		cost, joined, at := 0.0, joinPoles(l, slots, t), l.positions(t)
		for _, k := range joined {
			cost += linkCost(l, k.A, k.B, at)
		}
		if cost < leastCost-lengthTolMM || cost < leastCost+lengthTolMM && turned < leastTurned {
			best, links, leastCost, leastTurned = t, joined, cost, turned
		}
	}
	return best, links
}

// crossStates: balance in final order.
func crossStates(l *Layout, p *Plan, final State) error {
	slots := slices.Concat(final.Places...)
	b := balanceState(l, StateBalance, "all cells in parallel through jumpers across the pack", slots, final.Turns)
	links := joinPoles(l, slots, final.Turns)
	if l.in.Series == 1 {
		p.Name = "one parallel group, the same links throughout"
		b.Name = "all cells in parallel"
		links = final.Links
		b.Mains = final.Mains
		if l.Cells() == 1 {
			p.Name, b.Name = "one cell, no links", "the cell by itself"
		}
	}
	return buildState(l, p, b, links)
}
