package wiring

import (
	"math"
	"slices"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// Bar is the form of one bar, from which it is drawn and cut.
func (sp LinkSpec) Bar() parts.LinkSpec {
	return parts.LinkSpec{HolesMM: sp.RunMM, OffsetMM: sp.JogMM, WidthMM: sp.WidthMM, ThicknessMM: sp.ThicknessMM,
		HoleMM: sp.RoundMM, Screws: sp.Screws, ScrewStep: sp.ScrewStep, TravelMM: sp.TravelMM, EndMM: sp.EndMM, CornerRadiusMM: sp.CornerRadiusMM}
}

// metal is a bare bar as it lies on its terminals, in plan view, from end to end.
type metal struct {
	link Link
	pts  []geom.Vec2
	box  geom.Box2
}

// roundMM is how far the sides of a bar's corners lie within their arcs.
const roundMM = 0.05

// metalOf lays a link's bar: its x runs along the greater way between the terminals as
// nearly as its jog allows. A form that cannot be made is refused where the part is.
func metalOf(l *Layout, k Link, t Turns) metal {
	k.Cable = false
	sp := specOf(l, k, t)
	path, err := sp.Bar().Outline()
	from := l.Position(k.A, t)
	v := l.Position(k.B, t).Sub(from)
	if err != nil || v == (geom.Vec2{}) {
		return metal{link: k, box: spot(from)}
	}
	axis := along(v)
	side, x := math.Copysign(1, v.Cross(axis)), barX(v, axis, sp.JogMM)
	m := metal{k, path.Flatten(roundMM), spot(from)}
	for i, p := range m.pts {
		q := from.Add(x.Mul(p.X)).Add(beside(x).Mul(side * p.Y))
		m.pts[i], m.box = q, m.box.Add(q)
	}
	return m
}

// along is the axis of the greater way.
func along(v geom.Vec2) geom.Vec2 {
	if math.Abs(v.Y) >= math.Abs(v.X) {
		return geom.Vec2{Y: math.Copysign(1, v.Y)}
	}
	return geom.Vec2{X: math.Copysign(1, v.X)}
}

// barX is the way of a bar's centre line from one terminal towards another that is v away,
// along an axis as nearly as the jog allows.
func barX(v, axis geom.Vec2, jog float64) geom.Vec2 {
	d := v.Len()
	return v.Mul(math.Sqrt(max(0, d*d-jog*jog))).Sub(beside(v).Mul(math.Copysign(jog, v.Cross(axis)))).Mul(1 / (d * d))
}

// beside is a quarter turn.
func beside(v geom.Vec2) geom.Vec2 { return geom.Vec2{X: v.Y, Y: -v.X} }

// metalsOf are the bars of some links that are no cables.
func metalsOf(l *Layout, s State) (out []metal) {
	for _, k := range s.Links {
		if !k.Cable {
			out = append(out, metalOf(l, k, s.Turns))
		}
	}
	return out
}

// to is the distance of a bar and a point, 0 inside.
func (m metal) to(p geom.Vec2) float64 {
	if len(m.pts) == 0 || geom.InPolygon(m.pts, p) {
		return 0
	}
	return geom.PolygonDist(m.pts, p)
}

// apart is the distance of two bars, 0 where they lie on each other.
func (m metal) apart(o metal) float64 {
	least := math.Inf(1)
	for i, a := range m.pts {
		for k, c := range o.pts {
			if geom.SegmentsCross(a, m.pts[(i+1)%len(m.pts)], c, o.pts[(k+1)%len(o.pts)]) {
				return 0
			}
		}
		least = min(least, o.to(a))
	}
	for _, c := range o.pts {
		least = min(least, m.to(c))
	}
	return least
}

// spot is a point as a box.
func spot(p geom.Vec2) geom.Box2 { return geom.Box2{Min: p, Max: p} }

// clashesIn are the places of a state where bars would lie on each other or on a terminal,
// in plan view: the links that meet there. Bars of one net may cross, but none lies over
// a terminal that is not its own: it would not lie flat.
func clashesIn(l *Layout, s State) (out [][]Link) {
	n, at, bars := netsOf(l.Cells(), s.Links), l.positions(s.Turns), make([]metal, len(s.Links))
	for i, k := range s.Links {
		bars[i] = metalOf(l, k, s.Turns)
	}
	for i, k := range s.Links {
		for j := i + 1; j < len(bars); j++ {
			if o := s.Links[j]; bars[i].box.Dist(bars[j].box) <= 0 && n.find(k.A.node()) != n.find(o.A.node()) && bars[i].apart(bars[j]) <= 0 {
				out = append(out, []Link{k, o})
			}
		}
		for node, p := range at {
			pad := l.Pad(postOf(node), s.Turns) / 2
			over := func(p geom.Vec2) bool { return bars[i].box.Dist(spot(p)) <= pad && bars[i].to(p) <= pad }
			if !k.on(postOf(node)) && slices.ContainsFunc(l.in.screwsAt(p), over) {
				out = append(out, []Link{k})
			}
		}
	}
	return out
}

// insulatedLinks returns the links with every one that clashes made an insulated cable.
func insulatedLinks(l *Layout, s State) []Link {
	cable := map[[2]int]bool{}
	for _, k := range slices.Concat(clashesIn(l, s)...) {
		cable[k.key()] = true
	}
	out := slices.Clone(s.Links)
	for i, k := range out {
		out[i].Cable = cable[k.key()]
	}
	return out
}
