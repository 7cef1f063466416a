package nest

import (
	"math"

	"clampwright/parts/geom"
)

// chain joins pieces end to start into closed paths; pieces that lead nowhere
// are left out. Where several pieces leave a point, the one that turns most to
// the left is taken, so that curves that touch in a point stay apart.
func chain(pieces []geom.Edge) []geom.Path {
	used := make([]bool, len(pieces))
	var out []geom.Path
	for i := range pieces {
		if used[i] {
			continue
		}
		if loop := follow(pieces, used, i); loop != nil {
			if p := simplify(loop); len(p) >= 2 && math.Abs(p.Area()) > geom.MinSize*geom.MinSize && p.Validate() == nil {
				out = append(out, p)
			}
		}
	}
	return out
}

// follow walks from piece i until it comes back to its start, and marks what it
// walked over.
func follow(pieces []geom.Edge, used []bool, i int) []geom.Edge {
	start := pieces[i].A
	var loop []geom.Edge
	for {
		used[i] = true
		loop = append(loop, pieces[i])
		if len(loop) > 1 || pieces[i].Arc {
			if pieces[i].B.Dist(start) <= 2*joinMM {
				return loop
			}
		}
		next := successor(pieces, used, i)
		if next < 0 {
			return nil
		}
		i = next
	}
}

// successor is the unused piece that begins where piece i ends, or -1.
func successor(pieces []geom.Edge, used []bool, i int) int {
	best, bestTurn := -1, math.Inf(-1)
	for j, e := range pieces {
		if used[j] || e.A.Dist(pieces[i].B) > 2*joinMM {
			continue
		}
		if turn := turnAt(pieces[i], e); turn > bestTurn {
			best, bestTurn = j, turn
		}
	}
	return best
}

// simplify joins neighbouring pieces of the same line or circle, drops those
// shorter than a path may have, and closes the gaps of rounding.
func simplify(loop []geom.Edge) geom.Path {
	var es []geom.Edge
	for _, e := range loop {
		if e.A.Dist(e.B) < geom.MinSize && math.Abs(e.Sweep) < math.Pi {
			continue
		}
		if n := len(es); n > 0 && continues(es[n-1], e) {
			es[n-1] = join(es[n-1], e)
			continue
		}
		es = append(es, e)
	}
	if n := len(es); n > 2 && continues(es[n-1], es[0]) {
		es[0] = join(es[n-1], es[0])
		es = es[:n-1]
	}
	return geom.PathOf(es)
}

// maxJoinedSweep keeps joined arcs well below the full turn that one edge can't
// hold.
const maxJoinedSweep = 1.5 * math.Pi

func continues(a, b geom.Edge) bool {
	if a.Arc != b.Arc {
		return false
	}
	if !a.Arc {
		return math.Abs(turnAt(a, b)) < 1e-9
	}
	return a.C.Dist(b.C) < joinMM && math.Abs(a.R-b.R) < joinMM && a.Sweep*b.Sweep > 0 &&
		math.Abs(a.Sweep+b.Sweep) < maxJoinedSweep
}

func join(a, b geom.Edge) geom.Edge {
	if !a.Arc {
		return geom.NewEdge(a.A, b.B, 0)
	}
	return geom.NewEdge(a.A, b.B, math.Tan((a.Sweep+b.Sweep)/4))
}
