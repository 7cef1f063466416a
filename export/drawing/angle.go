package drawing

import (
	"fmt"
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// angle draws a drilled angle: the drilled leg seen from outside, the standing
// leg seen along the plate, and the end with the section's sizes.
func (p PartSheet) angle() (*content, error) {
	a := p.Angle
	b := p.Part.Flat.Profile.Outer.Bounds()
	holes := sortedHoles(p.Part)
	c := &content{most: Scale{1, 1}}
	c.views = func(k float64, room geom.Vec2) []Item { return newAngleView(p, k, room.X, b, holes).draw() }
	end := "below"
	if a.HeelHigh {
		end = "above"
	}
	c.notes = p.shopNotes("Seen from outside, standing leg "+end+". Datum: left end and heel, at the origin circle.", holes)
	if len(holes) == 0 {
		c.notes = c.notes[:1]
		return c, nil
	}
	c.column = []*Table{p.holeTable(holes, a.Datum(b), false), p.drillTable(holes)}
	if t := useTable(holes); t != nil {
		c.column = append(c.column, t)
	}
	return c, nil
}

// angleView draws the views at scale k: the drilled leg with its lower left
// corner at the origin, the standing leg above or below it.
type angleView struct {
	p       PartSheet
	a       *AngleShape
	k       float64
	b       geom.Box2
	length  float64
	holes   []parts.Hole
	axis    barAxis
	heel    float64 // sheet y of the heel in the front view
	in      float64 // direction from the heel into the drilled leg, +1 up
	leg     float64 // drawn drilled leg
	standY  float64 // sheet y of the plate side in the view of the standing leg
	standUp float64 // direction from there to its tip
}

func newAngleView(p PartSheet, k, room float64, b geom.Box2, holes []parts.Hole) *angleView {
	v := &angleView{p: p, a: p.Angle, k: k, b: b, length: width(b), holes: holes, leg: p.Angle.DrilledLegMM * k}
	var busy [][2]float64
	for _, h := range holes {
		m := h.C.X - b.Min.X
		busy = append(busy, [2]float64{m - h.DiaMM/2 - crossOverMM/k - 1, m + h.DiaMM/2 + crossOverMM/k + 1})
	}
	busy = append(busy, [2]float64{0, v.a.ChamferMM}, [2]float64{v.length - v.a.ChamferMM, v.length})
	stand := v.a.StandingLegMM * k
	beside := viewGapMM + p.Angle.StandingLegMM*math.Max(k, 1) + 2*(firstDimMM+overshootMM+textMM) + 4
	v.axis = newBarAxis(v.length, k, room-beside, busy)
	gap := firstDimMM + 6
	if v.a.HeelHigh {
		// seen from above, third angle: above the front view, tip nearest to it
		v.heel, v.in = v.leg, -1
		v.standY, v.standUp = v.leg+gap+stand, -1
		return v
	}
	v.heel, v.in = 0, 1
	v.standY, v.standUp = -gap-stand, 1
	return v
}

func (v *angleView) draw() []Item {
	out := v.front()
	out = append(out, v.standing()...)
	out = append(out, v.dims()...)
	out = append(out, v.end()...)
	return append(out, v.labels(out)...)
}

// yOf is the sheet y of a point of the flat.
func (v *angleView) yOf(h parts.Hole) float64 { return (h.C.Y - v.b.Min.Y) * v.k }
func (v *angleView) xOf(h parts.Hole) float64 { return v.axis.x(h.C.X - v.b.Min.X) }

// front is the drilled leg from outside; the tip of the standing leg shows as a
// strip along the heel.
func (v *angleView) front() []Item {
	var out []Item
	for _, y := range []float64{0, v.leg} {
		out = append(out, v.axis.along(0, v.length, y, Visible)...)
	}
	out = append(out, v.axis.along(0, v.length, v.heel+v.in*v.a.ThicknessMM*v.k, Visible)...)
	for _, m := range []float64{0, v.length} {
		out = append(out, Line{pt(v.axis.x(m), 0), pt(v.axis.x(m), v.leg), Visible})
	}
	out = append(out, v.axis.ends(0, v.leg)...)
	for _, h := range v.holes {
		c, r := pt(v.xOf(h), v.yOf(h)), h.DiaMM/2*v.k
		out = append(out, Circle{C: c, R: r, Pen: Visible})
		out = append(out, CentreCross(c, r, crossOverMM)...)
	}
	return out
}

// standing is the standing leg seen flat: its outline with end chamfers, the
// drilled leg's thickness and the holes hidden behind it.
func (v *angleView) standing() []Item {
	stand, ch, y, d := v.a.StandingLegMM*v.k, v.a.ChamferMM, v.standY, v.standUp
	tip := y + d*stand
	var out []Item
	out = append(out, v.axis.along(0, v.length, y, Visible)...)
	out = append(out, v.axis.along(ch, v.length-ch, tip, Visible)...)
	for _, e := range [][2]float64{{0, ch}, {v.length, v.length - ch}} {
		x, xc := v.axis.x(e[0]), v.axis.x(e[1])
		out = append(out, Line{pt(x, y), pt(x, tip-d*ch*v.k), Visible})
		if ch > 0 {
			out = append(out, Line{pt(x, tip-d*ch*v.k), pt(xc, tip), Visible})
		}
	}
	t := y + d*v.a.ThicknessMM*v.k
	out = append(out, v.axis.along(0, v.length, t, Hidden)...)
	for _, h := range uniqueAlong(v.holes, byX) {
		x, r := v.xOf(h), h.DiaMM/2*v.k
		out = append(out, Line{pt(x-r, y), pt(x-r, t), Hidden}, Line{pt(x+r, y), pt(x+r, t), Hidden},
			Line{pt(x, y-d*crossOverMM), pt(x, t+d*crossOverMM), Centre})
	}
	return append(out, v.axis.ends(math.Min(y, tip), math.Max(y, tip))...)
}

// dims are the hole positions and the overall length on the far side of the
// standing leg's view, and the gauge of the holes at the left.
func (v *angleView) dims() []Item {
	u, right := v.p.Units, v.axis.x(v.length)
	far, away := v.leg, 1.0 // the side of the drilled leg away from the heel
	if v.a.HeelHigh {
		far, away = 0, -1
	}
	var stops []Stop
	for _, h := range uniqueAlong(v.holes, byX) {
		y := v.yOf(h) + away*(h.DiaMM/2*v.k+crossOverMM)
		stops = append(stops, Stop{pt(v.xOf(h), y), u.Dim(h.C.X - v.b.Min.X)})
	}
	var out []Item
	if len(stops) > 0 {
		out = append(out, DimRunning(pt(0, far), stops, far+away*firstDimMM, false)...)
	}
	outer := v.standY - v.standUp*firstDimMM
	out = append(out, DimAlong(pt(0, v.standY), pt(right, v.standY), outer, false, u.Dim(v.length))...)
	if ch := v.a.ChamferMM; ch > 0 {
		tip := v.standY + v.standUp*v.a.StandingLegMM*v.k
		p := pt(v.axis.x(v.length-ch/2), tip-v.standUp*ch*v.k/2)
		out = append(out, Leader(p, p.Add(pt(7, -v.standUp*6)), fmt.Sprintf("2× %s × 45°", u.Dim(ch)))...)
	}
	return append(out, v.gauges()...)
}

// gauges are the distances of the hole rows from the heel.
func (v *angleView) gauges() []Item {
	var out []Item
	pos := -firstDimMM
	for _, h := range uniqueAlong(v.holes, byY) {
		y := v.yOf(h)
		out = append(out, DimAlong(pt(0, v.heel), pt(v.xOf(h)-h.DiaMM/2*v.k-crossOverMM, y), pos, true,
			v.p.Units.Dim(math.Abs(y-v.heel)/v.k))...)
		pos -= firstDimMM
	}
	return out
}

// end is the view from the right: the section with leg sizes, never smaller
// than true size, beside the heel. The outside of the fixture is at its left.
func (v *angleView) end() []Item {
	u, a := v.p.Units, v.a
	k := math.Max(v.k, 1)
	x1 := v.axis.x(v.length) + viewGapMM + a.StandingLegMM*k // plate side
	at := func(out, in float64) geom.Vec2 { return pt(x1-out*k, v.heel+v.in*in*k) }
	tip := v.heel + v.in*a.DrilledLegMM*k
	out := []Item{Chain{Path: sectionPath(a, at), Closed: true, Pen: Visible}}
	out = append(out, DimAlong(at(0, 0), at(a.StandingLegMM, 0), v.heel-v.in*firstDimMM, false, u.Dim(a.StandingLegMM))...)
	out = append(out, DimAlong(at(0, 0), at(0, a.DrilledLegMM), x1+firstDimMM+4, true, u.Dim(a.DrilledLegMM))...)
	out = append(out, DimAlong(at(0, a.DrilledLegMM), at(a.ThicknessMM, a.DrilledLegMM), tip+v.in*firstDimMM, false, u.Dim(a.ThicknessMM))...)
	if k != v.k {
		name := "End view, scale " + Scale{k, 1}.String()
		y := math.Min(v.heel-v.in*firstDimMM, tip+v.in*firstDimMM) - 5
		out = append(out, Text{At: pt(x1-a.StandingLegMM*k/2, y), S: name, Height: textMM, Face: Bold, Anchor: MidHigh})
	}
	return out
}

// sectionPath is the angle's outline through a mapping of (outward from the
// plate, inward from the heel). Root and toe radii become arcs; the mapping may
// mirror, so their bulges are signed by its handedness.
func sectionPath(a *AngleShape, at func(out, in float64) geom.Vec2) geom.Path {
	x, y := at(1, 0).Sub(at(0, 0)), at(0, 1).Sub(at(0, 0))
	hand := 1.0
	if x.X*y.Y-x.Y*y.X < 0 {
		hand = -1
	}
	q := math.Tan(math.Pi/8) * hand // quarter circle
	s, d, t, r, e := a.StandingLegMM, a.DrilledLegMM, a.ThicknessMM, a.RootMM, math.Min(a.ToeMM, a.ThicknessMM)
	p := geom.Path{{P: at(0, 0)}}
	p = append(p, geom.Vertex{P: at(s, 0)})
	p = appendCorner(p, at(s, t-e), at(s-e, t), e, q)
	p = appendCorner(p, at(t+r, t), at(t, t+r), r, -q)
	p = appendCorner(p, at(t, d-e), at(t-e, d), e, q)
	return append(p, geom.Vertex{P: at(0, d)})
}

// appendCorner adds a rounded corner, or a sharp one when r is zero.
func appendCorner(p geom.Path, from, to geom.Vec2, r, bulge float64) geom.Path {
	if r <= 0 {
		return append(p, geom.Vertex{P: to})
	}
	return append(p, geom.Vertex{P: from, Bulge: bulge}, geom.Vertex{P: to})
}

func (v *angleView) labels(drawn []Item) []Item {
	pl := newPlacer(drawn, geom.Box2{Min: pt(0, -firstDimMM+1), Max: pt(v.axis.x(v.length), v.leg+firstDimMM-1)})
	var out []Item
	for _, h := range v.holes {
		for _, t := range pl.near(pt(v.xOf(h), v.yOf(h)), h.DiaMM/2*v.k, []string{h.ID}, Bold, textMM) {
			out = append(out, t)
		}
	}
	return out
}
