package drawing

import (
	"fmt"
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// page draws page (c, r) of a template.
func (t Template) page(f *figure, tl *tiling, c, r int) Sheet {
	s := Sheet{Title: fmt.Sprintf("%s %s, page %s", t.Part.Mark, t.Part.Name, tl.name(c, r)), W: tl.pageW, H: tl.pageH}
	d := tl.toPage(c, r)
	win := moved(tl.window(c, r), d)
	s.Add(glueStrips(tl, c, r, win)...)
	s.Add(Clip{win, Shift(f.within(tl.window(c, r)), d)})
	s.Add(seams(tl, c, r, win)...)
	core := moved(tl.core(c, r), d)
	p := newPlacer(s.Items, core.Grown(-1.5))
	p.reserve(seamWords(tl, c, r, win, p), &s)
	for _, h := range f.holes {
		if tl.owns(c, r, h.C) {
			p.reserve(p.near(h.C.Add(d), h.DiaMM/2+1.5, t.holeWords(h), Regular, textMM), &s)
		}
	}
	for _, sl := range f.slots {
		if m := sl.Ends[0].Add(sl.Ends[1]).Mul(0.5); tl.owns(c, r, m) {
			p.reserve(p.near(m.Add(d), sl.LongMM()/2+1.5, t.slotWords(sl), Regular, textMM), &s)
		}
	}
	if tl.owns(c, r, f.datum) {
		s.Add(Circle{C: f.datum.Add(d), R: originMM, Pen: Thin})
		p.reserve(p.near(f.datum.Add(d), originMM, []string{"datum 0, 0"}, Bold, textMM), &s)
	}
	for _, w := range f.words {
		if at, ok := visiblePoint(f, tl, c, r, w.at); ok {
			p.reserve(p.near(at.Add(d), 0.7, w.lines, Bold, w.size, w.dir), &s)
		}
	}
	if f.arrow {
		s.Add(p.arrow(common(core, moved(f.box, d)))...)
	}
	s.Add(t.strip(f, tl, c, r)...)
	return s
}

func moved(b geom.Box2, d geom.Vec2) geom.Box2 {
	return geom.Box2{Min: b.Min.Add(d), Max: b.Max.Add(d)}
}

// within are the figure's lines and hole marks that a window shows.
func (f *figure) within(win geom.Box2) []Item {
	var out []Item
	for _, it := range f.lines {
		if meet(it.bounds().Grown(1), win, 0) {
			out = append(out, it)
		}
	}
	for _, h := range f.holes {
		marks := holeMarks(h)
		if meet(Bounds(marks), win, 0) {
			out = append(out, marks...)
		}
	}
	for _, s := range f.slots {
		if marks := slotMarks(s); meet(Bounds(marks), win, 0) {
			out = append(out, marks...)
		}
	}
	return out
}

// holeMarks are the hole, the pilot, and a fine cross through the centre that
// passes the hole.
func holeMarks(h parts.Hole) []Item {
	r := h.DiaMM / 2
	a := r + 4
	out := []Item{
		Circle{C: h.C, R: r, Pen: Thin},
		Line{pt(h.C.X-a, h.C.Y), pt(h.C.X+a, h.C.Y), Hair}, Line{pt(h.C.X, h.C.Y-a), pt(h.C.X, h.C.Y+a), Hair},
	}
	if h.PilotMM > 0 && h.PilotMM < h.DiaMM {
		out = append(out, Circle{C: h.C, R: h.PilotMM / 2, Pen: Hair})
	}
	return out
}

// slotMarks are fine crosses through both round ends.
func slotMarks(s parts.Slot) []Item {
	var out []Item
	for _, c := range s.Ends {
		a := s.DiaMM/2 + 4
		out = append(out, Line{pt(c.X-a, c.Y), pt(c.X+a, c.Y), Hair}, Line{pt(c.X, c.Y-a), pt(c.X, c.Y+a), Hair})
	}
	return out
}

// slotWords says in words how a slot is made.
func (t Template) slotWords(s parts.Slot) []string {
	first := fmt.Sprintf("%s: slot %s long", s.ID, t.Units.Words(s.LongMM()))
	if s.Apart() {
		return []string{first, "drill both ends " + t.Drill(s.DiaMM) + ", file out between"}
	}
	return []string{first, "drill one end " + t.Drill(s.DiaMM) + ", file to the other"}
}

// holeWords says in words how a hole is made.
func (t Template) holeWords(h parts.Hole) []string {
	steps := parts.DrillSteps(h.PilotMM, h.DiaMM)
	if len(steps) == 1 {
		return []string{h.ID + ": drill " + t.Drill(h.DiaMM)}
	}
	out := []string{h.ID + ": pilot " + t.Drill(steps[0])}
	for _, mm := range steps[1:] {
		out = append(out, "then "+t.Drill(mm))
	}
	return out
}

// visiblePoint returns the point itself when the page owns it. For points in
// the middle of an edge that runs over several pages, every page that shows the
// edge gets the words at the middle of what it shows.
func visiblePoint(f *figure, tl *tiling, c, r int, at geom.Vec2) (geom.Vec2, bool) {
	if tl.owns(c, r, at) {
		return at, true
	}
	mid := (f.box.Min.X + f.box.Max.X) / 2
	if tl.cols == 1 || math.Abs(at.X-mid) > 1e-9 {
		return at, false
	}
	core := tl.core(c, r)
	lo, hi := math.Max(core.Min.X, f.box.Min.X), math.Min(core.Max.X, f.box.Max.X)
	at.X = (lo + hi) / 2
	onEdge := at.Y == f.box.Min.Y || at.Y == f.box.Max.Y || !f.arrow
	return at, onEdge && hi-lo > 40 && tl.owns(c, r, at)
}

// reserve adds texts to the sheet; the placer already knows them.
func (p *placer) reserve(texts []Text, s *Sheet) {
	for _, t := range texts {
		s.Add(t)
	}
}

// glueStrips tint what the next pages will cover.
func glueStrips(tl *tiling, c, r int, win geom.Box2) []Item {
	var out []Item
	if c+1 < tl.cols {
		out = append(out, tint(geom.Box2{Min: pt(win.Max.X-overlapMM, win.Min.Y), Max: win.Max}))
	}
	if r+1 < tl.rows {
		out = append(out, tint(geom.Box2{Min: pt(win.Min.X, win.Max.Y-overlapMM), Max: win.Max}))
	}
	return out
}

func tint(b geom.Box2) Item {
	return Chain{Path: rectPath(b.Min.X, b.Min.Y, width(b), height(b)), Closed: true, Fill: Grey, Bare: true}
}

// seams draws corner crop marks, the lines to cut along, the lines where the
// neighbours' cut edges will lie, and diamonds that must close across a seam.
func seams(tl *tiling, c, r int, win geom.Box2) []Item {
	out := cropMarks(win)
	upright := func(x float64, pen Pen) {
		out = append(out, Line{pt(x, win.Min.Y), pt(x, win.Max.Y), pen})
		for _, f := range []float64{0.12, 0.88} {
			out = append(out, diamond(pt(x, win.Min.Y+f*height(win))))
		}
	}
	level := func(y float64, pen Pen) {
		out = append(out, Line{pt(win.Min.X, y), pt(win.Max.X, y), pen})
		for _, f := range []float64{0.12, 0.88} {
			out = append(out, diamond(pt(win.Min.X+f*width(win), y)))
		}
	}
	if c > 0 {
		upright(win.Min.X, Hidden)
	}
	if c+1 < tl.cols {
		upright(win.Max.X-overlapMM, Hair)
	}
	if r > 0 {
		level(win.Min.Y, Hidden)
	}
	if r+1 < tl.rows {
		level(win.Max.Y-overlapMM, Hair)
	}
	return out
}

func diamond(c geom.Vec2) Item {
	const a = 2.5
	return Chain{Path: geom.Path{{P: pt(c.X-a, c.Y)}, {P: pt(c.X, c.Y-a)}, {P: pt(c.X+a, c.Y)}, {P: pt(c.X, c.Y+a)}}, Closed: true, Pen: Thin}
}

// cropMarks are short corner lines just outside the window, which may fall on
// the unprinted edge, and inside it, which never does.
func cropMarks(win geom.Box2) []Item {
	const l = 5.0
	var out []Item
	for _, x := range []float64{win.Min.X, win.Max.X} {
		for _, y := range []float64{win.Min.Y, win.Max.Y} {
			dx, dy := l, l
			if x == win.Max.X {
				dx = -l
			}
			if y == win.Max.Y {
				dy = -l
			}
			out = append(out, Line{pt(x, y), pt(x+dx, y), Thin}, Line{pt(x, y), pt(x, y+dy), Thin})
		}
	}
	return out
}

// seamWords says at each seam what to do, in a free spot along it.
func seamWords(tl *tiling, c, r int, win geom.Box2, p *placer) []Text {
	var out []Text
	put := func(box geom.Box2, upright bool, words string) {
		if t, ok := p.along(box, upright, words); ok {
			out = append(out, t)
		}
	}
	if c > 0 {
		put(geom.Box2{Min: win.Min, Max: pt(win.Min.X+4.5, win.Max.Y)}, true, "cut along this line, lay on page "+tl.name(c-1, r))
	}
	if c+1 < tl.cols {
		put(geom.Box2{Min: pt(win.Max.X-overlapMM, win.Min.Y), Max: win.Max}, true, "glue: page "+tl.name(c+1, r)+" goes over this strip")
	}
	if r > 0 {
		put(geom.Box2{Min: win.Min, Max: pt(win.Max.X, win.Min.Y+4.5)}, false, "cut along this line, lay on page "+tl.name(c, r-1))
	}
	if r+1 < tl.rows {
		put(geom.Box2{Min: pt(win.Min.X, win.Max.Y-overlapMM), Max: win.Max}, false, "glue: page "+tl.name(c, r+1)+" goes over this strip")
	}
	return out
}

// along finds a free spot for words inside a long box.
func (p *placer) along(b geom.Box2, upright bool, words string) (Text, bool) {
	keep := p.within
	p.within = b
	defer func() { p.within = keep }()
	for _, across := range []float64{0.5, 0.3, 0.7} {
		for k := 0; k < 60; k++ {
			f := 0.5 + float64((k+1)/2)/62*float64(1-2*(k%2))
			at := pt(b.Min.X+f*width(b), b.Min.Y+across*height(b))
			t := Text{At: at, S: words, Height: smallTextMM, Anchor: MidMid}
			if upright {
				t.At, t.Angle = pt(b.Min.X+across*width(b), b.Min.Y+f*height(b)), math.Pi/2
			}
			if p.free(t, 0.3) {
				p.take([]Text{t})
				return t, true
			}
		}
	}
	return Text{}, false
}
