package drawing

import (
	"fmt"
	"math"

	"clampwright/parts/geom"
)

// rod draws a threaded rod: side view with the thread as thin root lines, end
// view with a three-quarter root circle (ISO 6410-1, from memory).
func (p PartSheet) rod() (*content, error) {
	r := p.Rod
	c := &content{most: Scale{2, 1}}
	c.views = func(k float64, room geom.Vec2) []Item { return p.rodViews(k, room.X) }
	c.notes = []string{
		"Saw square. Run a plain nut on before sawing, none of the clamp's own, and take it off over the cut: it clears the thread.",
		fmt.Sprintf("Chamfer both ends to the thread root, about %s × 45°.", p.Units.Words(chamferOf(r))),
		"No burr may stand above the thread.",
	}
	c.column = []*Table{{Title: "Rod", Rows: [][]string{
		{"Thread", r.Thread}, {"Cut length", p.Units.Words(r.LengthMM)}, {"Quantity", fmt.Sprint(p.Quantity)},
	}}}
	return c, nil
}

// chamferOf is the end chamfer that reaches the thread root, mm.
func chamferOf(r *RodShape) float64 { return (r.MajorMM - r.MinorMM) / 2 }

func (p PartSheet) rodViews(k, room float64) []Item {
	r, ch := p.Rod, chamferOf(p.Rod)
	axis := newBarAxis(r.LengthMM, k, room-viewGapMM-r.MajorMM*k-10, [][2]float64{{0, 2 * ch}, {r.LengthMM - 2*ch, r.LengthMM}})
	ro, ri, end := r.MajorMM/2*k, r.MinorMM/2*k, axis.x(r.LengthMM)
	var out []Item
	for _, s := range []float64{-1, 1} {
		out = append(out, axis.along(ch, r.LengthMM-ch, s*ro, Visible)...)
		out = append(out, axis.along(0, r.LengthMM, s*ri, Thin)...)
		out = append(out, Line{pt(0, s*ri), pt(axis.x(ch), s*ro), Visible}, Line{pt(end, s*ri), pt(axis.x(r.LengthMM-ch), s*ro), Visible})
	}
	for _, m := range []float64{0, r.LengthMM} {
		out = append(out, Line{pt(axis.x(m), -ri), pt(axis.x(m), ri), Visible})
	}
	for _, m := range []float64{ch, r.LengthMM - ch} {
		out = append(out, Line{pt(axis.x(m), -ro), pt(axis.x(m), ro), Visible})
	}
	out = append(out, axis.ends(-ro, ro)...)
	out = append(out, Line{pt(-3, 0), pt(end+3, 0), Centre})
	out = append(out, DimAlong(pt(0, -ri), pt(end, -ri), -ro-firstDimMM-2, false, p.Units.Dim(r.LengthMM))...)
	out = append(out, Leader(pt(end*0.12, ro), pt(end*0.12+6, ro+9), r.Thread)...)
	return append(out, rodEnd(pt(end+viewGapMM+ro, 0), ro, ri)...)
}

func rodEnd(c geom.Vec2, ro, ri float64) []Item {
	out := []Item{Circle{C: c, R: ro, Pen: Visible}, Arc{c, ri, math.Pi / 12, 1.5 * math.Pi, Thin}}
	return append(out, CentreCross(c, ro, crossOverMM)...)
}
