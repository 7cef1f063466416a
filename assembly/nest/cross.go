package nest

import (
	"math"
	"slices"

	"clampwright/parts/geom"
)

// splitAll cuts the edges at every point where two of them meet.
func splitAll(es []geom.Edge) []geom.Edge {
	cuts := make([][]float64, len(es))
	for i := range es {
		for j := i + 1; j < len(es); j++ {
			for _, q := range meetings(es[i], es[j]) {
				cuts[i] = addCut(cuts[i], es[i], q)
				cuts[j] = addCut(cuts[j], es[j], q)
			}
		}
	}
	var out []geom.Edge
	for i, e := range es {
		out = append(out, split(e, cuts[i])...)
	}
	return out
}

// addCut adds the fraction of the way along e at which q lies, if it does.
func addCut(cuts []float64, e geom.Edge, q geom.Vec2) []float64 {
	if q.Dist(e.A) <= joinMM || q.Dist(e.B) <= joinMM {
		return cuts
	}
	t, on := e.Param(q)
	if !on || e.At(t).Dist(q) > joinMM {
		return cuts
	}
	return append(cuts, t)
}

// split cuts an edge at the given fractions.
func split(e geom.Edge, cuts []float64) []geom.Edge {
	slices.Sort(cuts)
	var out []geom.Edge
	from, at := e.A, 0.0
	for _, t := range append(cuts, 1) {
		to := e.At(t)
		if to.Dist(from) <= joinMM && t < 1 {
			continue
		}
		out = append(out, piece(e, from, to, t-at))
		from, at = to, t
	}
	return out
}

// piece is the part of e between two of its points that covers the given
// fraction of it.
func piece(e geom.Edge, a, b geom.Vec2, share float64) geom.Edge {
	return geom.NewEdge(a, b, math.Tan(e.Sweep*share/4))
}

// meetings are the points of the lines or circles of two edges that may lie on
// both, and the ends of each that may lie on the other.
func meetings(a, b geom.Edge) []geom.Vec2 {
	if a.Bounds().Dist(b.Bounds()) > joinMM {
		return nil
	}
	var on []geom.Vec2
	for _, q := range geom.Meetings(a, b) {
		if a.Dist(q) <= joinMM && b.Dist(q) <= joinMM {
			on = append(on, q)
		}
	}
	return append(on, a.A, a.B, b.A, b.B)
}
