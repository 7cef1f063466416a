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

// boxGap is the distance of an edge and the straight from c to d along x or along y, the
// greater: they are no nearer to each other.
func boxGap(e geom.Edge, c, d geom.Vec2) float64 {
	x := max(min(e.A.X, e.B.X)-max(c.X, d.X), min(c.X, d.X)-max(e.A.X, e.B.X))
	return max(x, min(e.A.Y, e.B.Y)-max(c.Y, d.Y), min(c.Y, d.Y)-max(e.A.Y, e.B.Y))
}

// clashes are the places of a state where bars would lie on each other or on a terminal,
// in plan view: the links that meet there. Bars of one net may cross, but none lies over
// a terminal that is not its own: it would not lie flat. Ends are taken round.
func (l *Layout) clashes(s State) (out [][]Link) {
	n, at := netsOf(l.Cells(), s.Links), l.positions(s.Turns)
	wide, reach := l.in.Bar.WidthMM, (l.in.Bar.WidthMM+l.in.PadDiaMM)/2
	for i, k := range s.Links {
		e := l.edgeOf(k, s.Turns)
		for _, o := range s.Links[i+1:] {
			if boxGap(e, at[o.A.node()], at[o.B.node()]) <= wide && n.find(k.A.node()) != n.find(o.A.node()) && edgeGap(e, l.edgeOf(o, s.Turns)) <= wide {
				out = append(out, []Link{k, o})
			}
		}
		for node, p := range at {
			if boxGap(e, p, p) <= reach && !k.on(postOf(node)) && e.Dist(p) <= reach {
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
