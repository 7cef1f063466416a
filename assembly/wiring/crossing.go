package wiring

import (
	"slices"

	"clampwright/parts/geom"
)

func (l *Layout) edgeOf(k Link, t Turns) geom.Edge {
	return geom.NewEdge(l.Position(k.A, t), l.Position(k.B, t), 0)
}

// edgeGap returns the least distance between two straight edges, 0 where they cross.
func edgeGap(e, f geom.Edge) float64 {
	if geom.SegmentsCross(e.A, e.B, f.A, f.B) {
		return 0
	}
	return min(e.Dist(f.A), e.Dist(f.B), f.Dist(e.A), f.Dist(e.B))
}

// clashes are the places of a state where bars would lie on each other or on a terminal,
// of unlike potential, in plan view: the links that meet there. Ends are taken round.
func (l *Layout) clashes(s State) (out [][]Link) {
	n := netsOf(l.Cells(), s.Links)
	for i, k := range s.Links {
		e := l.edgeOf(k, s.Turns)
		for _, o := range s.Links[i+1:] {
			if n.find(k.A.node()) != n.find(o.A.node()) && edgeGap(e, l.edgeOf(o, s.Turns)) <= l.in.Bar.WidthMM {
				out = append(out, []Link{k, o})
			}
		}
		for node := range 2 * l.Cells() {
			if n.find(node) != n.find(k.A.node()) && e.Dist(l.Position(postOf(node), s.Turns)) <= (l.in.Bar.WidthMM+l.in.PadDiaMM)/2 {
				out = append(out, []Link{k})
			}
		}
	}
	return out
}

// insulated returns the links with every one that clashes made an insulated cable.
func (l *Layout) insulated(s State) []Link {
	cable := map[[2]int]bool{}
	for _, k := range slices.Concat(l.clashes(s)...) {
		cable[k.key()] = true
	}
	out := slices.Clone(s.Links)
	for i, k := range out {
		out[i].Cable = cable[k.key()]
	}
	return out
}
