package wiring

import (
	"math"
	"testing"
)

// Of many rows the few ways that are tried hold the best of all: no other choice of a
// side for each row has shorter links, nor as short ones with fewer cells to turn.
func TestWaysOfManyRows(t *testing.T) {
	for _, c := range []struct{ perRow, rows, series, parallel int }{{4, 4, 16, 1}, {2, 4, 4, 2}, {3, 5, 15, 1}, {2, 6, 6, 2}} {
		l := mustLayout(t, pack(c.perRow, c.rows, c.series, c.parallel))
		o := l.Final()
		got, _ := oneWay(l, o.Path, o.Turns)
		cost, turned := weighed(l, o, got)
		for choice := range 1 << c.rows {
			w := make(Turns, l.Cells())
			for slot := range w {
				w[slot] = map[bool]Side{true: Left, false: Right}[choice>>l.Row(slot)&1 == 1]
			}
			if k, n := weighed(l, o, w); k < cost-lengthTolMM || math.Abs(k-cost) <= lengthTolMM && n < turned {
				t.Errorf("%v: way %b costs %.1f with %d turned, the one taken %.1f with %d", c, choice, k, n, cost, turned)
				break
			}
		}
	}
}

// weighed is the length of the links of one way and the cells turned after it.
func weighed(l *Layout, o Order, t Turns) (cost float64, turned int) {
	for _, k := range joinPoles(l, o.Path, t) {
		cost += linkCost(l, k.A, k.B, l.positions(t))
	}
	for slot, side := range o.Turns {
		if side != t[slot] {
			turned++
		}
	}
	return cost, turned
}
