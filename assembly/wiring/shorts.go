package wiring

import (
	"fmt"
	"strings"
)

// shortFaults finds the cells whose own terminals are joined and the loops
// whose cell voltages do not cancel, from the links alone: it does not know
// what is intended.
func (l *Layout) shortFaults(s State) []Fault {
	var out []Fault
	n := netsOf(l.Cells(), s.Links)
	for slot := range l.Cells() {
		if n.find(2*slot) != n.find(2*slot+1) {
			continue
		}
		way := wayBetween(l.Cells(), s.Links, 2*slot, 2*slot+1)
		out = append(out, Fault{Kind: FaultShort, Cells: []int{slot}, Links: way,
			Text: fmt.Sprintf("cell %s is shorted by %s", l.CellName(slot), l.linkNames(way, s.Turns))})
	}
	return append(out, l.loopFaults(s, n)...)
}

func (l *Layout) linkNames(links []Link, t Turns) string {
	names := make([]string, len(links))
	for i, k := range links {
		names[i] = l.LinkName(k, t)
	}
	return strings.Join(names, ", ")
}

// loopFaults gives every net a level, one cell apart across each cell, and
// names the cells where two ways to a net disagree.
func (l *Layout) loopFaults(s State, n *nets) []Fault {
	level := make(map[int]int)
	var out []Fault
	for start := range 2 * l.Cells() {
		root := n.find(start)
		if _, ok := level[root]; ok {
			continue
		}
		level[root] = 0
		out = append(out, l.levelFrom(s, n, root, level)...)
	}
	return out
}

func (l *Layout) levelFrom(s State, n *nets, root int, level map[int]int) []Fault {
	var out []Fault
	queue := []int{root}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		for slot := range l.Cells() {
			minus, plus := n.find(s.Turns.At(slot, Minus).node()), n.find(s.Turns.At(slot, Plus).node())
			if minus == plus || (at != minus && at != plus) {
				continue
			}
			other, want := plus, level[at]+1
			if at == plus {
				other, want = minus, level[at]-1
			}
			if have, ok := level[other]; !ok {
				level[other] = want
				queue = append(queue, other)
			} else if have != want && at < other {
				out = append(out, Fault{Kind: FaultLoop, Cells: []int{slot},
					Text: fmt.Sprintf("cell %s closes a loop whose voltages do not cancel: %d cells drive a current through the links",
						l.CellName(slot), abs(have-want))})
			}
		}
	}
	return out
}

func abs(i int) int {
	if i < 0 {
		return -i
	}
	return i
}

// wayBetween returns the links of a shortest way from one node to another.
func wayBetween(cells int, links []Link, from, to int) []Link {
	via := make([]int, 2*cells)
	for i := range via {
		via[i] = -1
	}
	seen := make([]bool, 2*cells)
	seen[from] = true
	queue := []int{from}
	for len(queue) > 0 && !seen[to] {
		at := queue[0]
		queue = queue[1:]
		for i, k := range links {
			next := k.A.node()
			if next == at {
				next = k.B.node()
			} else if k.B.node() != at {
				continue
			}
			if !seen[next] {
				seen[next], via[next] = true, i
				queue = append(queue, next)
			}
		}
	}
	var out []Link
	for at := to; at != from && via[at] >= 0; {
		k := links[via[at]]
		out = append([]Link{k}, out...)
		if k.A.node() == at {
			at = k.B.node()
		} else {
			at = k.A.node()
		}
	}
	return out
}
