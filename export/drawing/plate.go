package drawing

import (
	"fmt"
	"math"

	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Room for dimensions round a view, mm on the sheet.
const (
	firstDimMM = 8.0  // view to the first dimension line
	viewGapMM  = 22.0 // between neighbouring views
)

// plate draws a flat part: front view with running dimensions from the lower
// left corner, edge view at its right (third angle), hole and drill tables.
func (p PartSheet) plate() (*content, error) {
	f := p.Part.Flat
	b := f.Profile.Outer.Bounds()
	holes := sortedHoles(p.Part)
	c := &content{most: Scale{2, 1}}
	c.views = func(k float64, _ geom.Vec2) []Item {
		v := plateView{p: p, k: k, b: b, holes: holes}
		return v.draw()
	}
	if len(holes) > 0 {
		c.column = append(c.column, p.holeTable(holes, b.Min, true))
		if p.Machine != params.Router && p.Machine != params.Laser {
			c.column = append(c.column, p.drillTable(holes, parts.Slots(f)...))
		}
		if t := useTable(holes); t != nil {
			c.column = append(c.column, t)
		}
		c.notes = p.shopNotes(seenFrom(p.Part)+" "+datumWords(p.Part), holes)
	} else {
		c.notes = []string{fmt.Sprintf("Break sharp edges by %s.", p.Units.Words(0.5))}
	}
	if t := p.slotTable(b.Min); t != nil {
		c.column = append(c.column, t)
	}
	if f.Grain {
		dir := "upright"
		if f.GrainAlongX {
			dir = "across the width"
		}
		c.notes = append(c.notes, "Face grain runs "+dir+".")
	}
	return c, nil
}

// seenFrom says which face the view shows.
func seenFrom(p *parts.Part) string {
	if p.Kind == parts.KindLink {
		return "Either face."
	}
	return "Seen from outside."
}

// datumWords says where the coordinates start.
func datumWords(p *parts.Part) string {
	if p.Kind == parts.KindLink {
		return "Datum: left end and lower edge, at the two origin circles."
	}
	return "Datum: lower left corner, at the two origin circles."
}

// slotTable lists openings that are not round, by middle and overall size.
func (p PartSheet) slotTable(datum geom.Vec2) *Table {
	t := &Table{Title: "Slots: middle and overall size", Head: []string{"Slot", "X", "Y", "Wide", "High"},
		Right: map[int]bool{1: true, 2: true, 3: true, 4: true}}
	for i, s := range p.Part.Flat.Profile.Slots {
		b := s.Bounds()
		t.Rows = append(t.Rows, []string{parts.SlotID(i),
			p.Units.Coord((b.Min.X+b.Max.X)/2 - datum.X), p.Units.Coord((b.Min.Y+b.Max.Y)/2 - datum.Y),
			p.Units.Coord(width(b)), p.Units.Coord(height(b))})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

// plateView draws one flat part at scale k with its lower left corner at the
// origin of the sheet.
type plateView struct {
	p     PartSheet
	k     float64
	b     geom.Box2
	holes []parts.Hole
}

func (v *plateView) at(m geom.Vec2) geom.Vec2 { return m.Sub(v.b.Min).Mul(v.k) }

func (v *plateView) path(p geom.Path) geom.Path {
	out := make(geom.Path, len(p))
	for i, q := range p {
		out[i] = geom.Vertex{P: v.at(q.P), Bulge: q.Bulge}
	}
	return out
}

func (v *plateView) draw() []Item {
	w, h := width(v.b)*v.k, height(v.b)*v.k
	u := v.p.Units
	out := v.outline()
	out = append(out, DimAlong(pt(0, h), pt(w, h), h+firstDimMM, false, u.Dim(width(v.b)))...)
	out = append(out, DimAlong(pt(w, 0), pt(w, h), w+firstDimMM, true, u.Dim(height(v.b)))...)
	out = append(out, v.running()...)
	out = append(out, v.corners()...)
	out = append(out, v.edge(w+firstDimMM+viewGapMM/2+4, h)...)
	return append(out, v.labels(out)...)
}

// outline is the part as seen: edges, holes, axes, scribed marks.
func (v *plateView) outline() []Item {
	prof := v.p.Part.Flat.Profile
	out := []Item{Chain{Path: v.path(prof.Outer), Closed: true, Pen: Visible}}
	for _, s := range prof.Slots {
		out = append(out, Chain{Path: v.path(s), Closed: true, Pen: Visible})
	}
	out = append(out, v.slotAxes()...)
	for _, h := range v.holes {
		out = append(out, Circle{C: v.at(h.C), R: h.DiaMM / 2 * v.k, Pen: Visible})
		out = append(out, CentreCross(v.at(h.C), h.DiaMM/2*v.k, crossOverMM)...)
	}
	for _, m := range v.p.Part.Flat.Marks {
		if m.Text == "" {
			out = append(out, Line{v.at(m.At), v.at(m.To), Thin})
			continue
		}
		out = append(out, Text{At: v.at(m.At), S: m.Text, Height: math.Max(m.HeightMM*v.k, captionMM)})
	}
	return out
}

// slotAxes are the centre lines of the openings: the axis and a cross line at
// each round end, or a cross in the middle of other shapes.
func (v *plateView) slotAxes() []Item {
	var out []Item
	round := map[string]bool{}
	for _, s := range parts.Slots(v.p.Part.Flat) {
		round[s.ID] = true
		a, b, r := v.at(s.Ends[0]), v.at(s.Ends[1]), s.DiaMM/2*v.k+crossOverMM
		along := math.Atan2(b.Y-a.Y, b.X-a.X)
		out = append(out, Line{polar(a, r, along+math.Pi), polar(b, r, along), Centre})
		for _, c := range []geom.Vec2{a, b} {
			out = append(out, Line{polar(c, r, along+math.Pi/2), polar(c, r, along-math.Pi/2), Centre})
		}
	}
	for i, s := range v.p.Part.Flat.Profile.Slots {
		if round[parts.SlotID(i)] {
			continue
		}
		b := v.path(s).Bounds().Grown(crossOverMM)
		m := b.Min.Add(b.Max).Mul(0.5)
		out = append(out, Line{pt(b.Min.X, m.Y), pt(b.Max.X, m.Y), Centre}, Line{pt(m.X, b.Min.Y), pt(m.X, b.Max.Y), Centre})
	}
	return out
}

// running are the positions of holes and of the slots' round ends from the datum corner, below and at the left.
func (v *plateView) running() []Item {
	if len(v.holes) == 0 {
		return nil
	}
	var xs, ys []Stop
	holes := v.holes
	for _, s := range parts.Slots(v.p.Part.Flat) {
		holes = append(holes[:len(holes):len(holes)], s.AsHoles()...)
	}
	for _, h := range uniqueAlong(holes, byX) {
		c := v.at(h.C)
		xs = append(xs, Stop{pt(c.X, c.Y-h.DiaMM/2*v.k-crossOverMM), v.p.Units.Dim(h.C.X - v.b.Min.X)})
	}
	for _, h := range uniqueAlong(holes, byY) {
		c := v.at(h.C)
		ys = append(ys, Stop{pt(c.X-h.DiaMM/2*v.k-crossOverMM, c.Y), v.p.Units.Dim(h.C.Y - v.b.Min.Y)})
	}
	out := DimRunning(pt(0, 0), xs, -firstDimMM, false)
	return append(out, DimRunning(pt(0, 0), ys, -firstDimMM, true)...)
}

// corners notes the corner radius, once per size, at the corner lowest right.
func (v *plateView) corners() []Item {
	type group struct {
		r, n float64
		best Arc
	}
	var groups []group
next:
	for _, e := range (Chain{Path: v.p.Part.Flat.Profile.Outer, Closed: true}).Edges() {
		a, ok := e.(Arc)
		if !ok || a.Sweep <= 0 {
			continue
		}
		for i := range groups {
			if g := &groups[i]; math.Abs(g.r-a.R) < 0.005 {
				g.n++
				if a.C.X-a.C.Y > g.best.C.X-g.best.C.Y {
					g.best = a
				}
				continue next
			}
		}
		groups = append(groups, group{a.R, 1, a})
	}
	var out []Item
	for i, g := range groups {
		prefix := ""
		if g.n > 1 {
			prefix = fmt.Sprintf("%.0f× ", g.n)
		}
		mid, c := g.best.Start+g.best.Sweep/2, v.at(g.best.C)
		reach, foot := 7.0, -6-6*float64(i) // the note stands clear below the view
		if s := math.Sin(mid); s < -0.3 {
			reach = (foot-c.Y)/s - g.r*v.k
		}
		out = append(out, DimRadius(c, g.r*v.k, mid, reach, prefix, v.p.Units.Dim(g.r))...)
	}
	return out
}

// edge is the view from the right: thickness, with the holes hidden.
func (v *plateView) edge(x, h float64) []Item {
	t := v.p.Part.Flat.ThicknessMM * v.k
	out := []Item{box(x, 0, t, h, Visible)}
	for _, o := range uniqueAlong(v.holes, byY) {
		y, r := v.at(o.C).Y, o.DiaMM/2*v.k
		out = append(out, Line{pt(x, y-r), pt(x+t, y-r), Hidden}, Line{pt(x, y+r), pt(x+t, y+r), Hidden},
			Line{pt(x-crossOverMM, y), pt(x+t+crossOverMM, y), Centre})
	}
	return append(out, DimAlong(pt(x, h), pt(x+t, h), h+firstDimMM, false, v.p.Units.Dim(v.p.Part.Flat.ThicknessMM))...)
}

// labels names the holes and slots in free spots.
func (v *plateView) labels(drawn []Item) []Item {
	pl := newPlacer(drawn, geom.Box2{Max: v.b.Max.Sub(v.b.Min).Mul(v.k)}.Grown(firstDimMM-2))
	var out []Item
	for _, h := range v.holes {
		for _, t := range pl.near(v.at(h.C), h.DiaMM/2*v.k, []string{h.ID}, Bold, textMM) {
			out = append(out, t)
		}
	}
	for i, s := range v.p.Part.Flat.Profile.Slots {
		b := s.Bounds()
		c := v.at(b.Min.Add(b.Max).Mul(0.5))
		for _, t := range pl.near(c, math.Min(width(b), height(b))/2*v.k, []string{parts.SlotID(i)}, Bold, textMM) {
			out = append(out, t)
		}
	}
	return out
}
