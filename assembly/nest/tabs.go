package nest

import (
	"slices"

	"clampwright/parts/geom"
)

// tabs are the middles of the tabs: one on every straight edge that is long enough, two
// on a long one. None on a round end, where it could not be filed flush.
func tabs(p geom.Path, widthMM float64) (out []geom.Vec2) {
	if widthMM <= beamMM {
		return nil
	}
	for _, e := range p.Edges() {
		switch d := e.A.Dist(e.B); {
		case e.Arc || d < TabMM+2*widthMM:
		case d > longMM:
			out = append(out, e.At(0.2), e.At(0.8))
		default:
			out = append(out, e.At(0.5))
		}
	}
	return out
}

// anchor keeps of a sheet's tabs those that hold: what lies beyond the cut must stay. On
// the sheet's own edge nothing does. Where the cut round a neighbour takes it away, the
// neighbour gets a tab across from it, or there is none.
func (s *Machined) anchor(toolMM float64) {
	sheet := geom.Box2{Max: geom.Vec2{X: s.Sheet.Width.MM(), Y: s.Sheet.Height.MM()}}
	across := map[int][]geom.Vec2{}
	for i := range s.Ops {
		s.Ops[i].Tabs = slices.DeleteFunc(s.Ops[i].Tabs, func(tab geom.Vec2) bool {
			root := beyond(s.Ops[i].Drawn, tab, toolMM+webMM/2)
			if !sheet.Contains(root) {
				return true
			}
			mates := map[int]geom.Vec2{}
			for k, o := range s.Ops {
				if reach := toolMM + (webMM+TabMM)/2.0; k != i && o.Kind == Outside && s.BoxOf(o.Piece).Grown(reach).Contains(root) && -o.Drawn.DistTo(root) < reach {
					mate, ok := opposite(o.Drawn, tab)
					if !ok {
						return true
					}
					mates[k] = mate
				}
			}
			for k, mate := range mates {
				across[k] = append(across[k], mate)
			}
			return false
		})
	}
	for k, mates := range across {
		for _, m := range mates {
			if op := &s.Ops[k]; !slices.ContainsFunc(op.Tabs, func(t geom.Vec2) bool { return t.Dist(m) < geom.MinSize }) {
				op.Tabs = append(op.Tabs, m)
			}
		}
	}
}

// beyond is the point that lies off a straight edge of an outline, from a point on it.
func beyond(p geom.Path, on geom.Vec2, by float64) geom.Vec2 {
	for _, e := range p.Edges() {
		if !e.Arc && e.Dist(on) < geom.MinSize {
			return on.Add(right(e.Tangent(0)).Mul(by))
		}
	}
	return on
}

// opposite is the place of a tab on a straight edge of an outline across from a point,
// with half a tab of the edge on both sides.
func opposite(p geom.Path, from geom.Vec2) (geom.Vec2, bool) {
	for _, e := range p.Edges() {
		at := e.Nearest(from)
		if !e.Arc && -p.DistTo(from)+geom.MinSize > at.Dist(from) && min(at.Dist(e.A), at.Dist(e.B)) >= TabMM/2 {
			return at, true
		}
	}
	return geom.Vec2{}, false
}
