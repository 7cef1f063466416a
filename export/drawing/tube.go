package drawing

import (
	"fmt"

	"clampwright/parts/geom"
)

// tube draws a piece of tube: side view with the bore hidden, end view with both
// diameters.
func (p PartSheet) tube() (*content, error) {
	t := p.Tube
	c := &content{most: Scale{2, 1}}
	c.views = func(k float64, room geom.Vec2) []Item { return p.tubeViews(k, room.X) }
	c.notes = []string{"Saw square. Deburr both ends, inside and outside: it must slide over the rod."}
	c.column = []*Table{{Title: "Tube", Rows: [][]string{
		{"Outside", p.Units.Words(t.OuterMM)}, {"Bore", p.Units.Words(t.InnerMM)},
		{"Cut length", p.Units.Words(t.LengthMM)}, {"Quantity", fmt.Sprint(p.Quantity)},
	}}}
	return c, nil
}

func (p PartSheet) tubeViews(k, room float64) []Item {
	t := p.Tube
	axis := newBarAxis(t.LengthMM, k, room-2*viewGapMM-t.OuterMM*k-10, nil)
	ro, ri, end := t.OuterMM/2*k, t.InnerMM/2*k, axis.x(t.LengthMM)
	var out []Item
	for _, s := range []float64{-1, 1} {
		out = append(out, axis.along(0, t.LengthMM, s*ro, Visible)...)
		out = append(out, axis.along(0, t.LengthMM, s*ri, Hidden)...)
	}
	for _, x := range []float64{0, end} {
		out = append(out, Line{pt(x, -ro), pt(x, ro), Visible})
	}
	out = append(out, axis.ends(-ro, ro)...)
	out = append(out, Line{pt(-3, 0), pt(end+3, 0), Centre})
	out = append(out, DimAlong(pt(0, -ro), pt(end, -ro), -ro-firstDimMM, false, p.Units.Dim(t.LengthMM))...)
	c := pt(end+viewGapMM+ro, 0)
	out = append(out, Circle{C: c, R: ro, Pen: Visible}, Circle{C: c, R: ri, Pen: Visible})
	out = append(out, CentreCross(c, ro, crossOverMM)...)
	out = append(out, DimDiameter(c, ro, tubeLeader, firstDimMM, "", p.Units.Dim(t.OuterMM))...)
	return append(out, DimDiameter(c, ri, -tubeLeader, ro-ri+firstDimMM, "", p.Units.Dim(t.InnerMM))...)
}

// tubeLeader is the direction of the leader to a tube's outside, rad.
const tubeLeader = 0.7
