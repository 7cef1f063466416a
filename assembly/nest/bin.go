package nest

import (
	"math"

	"clampwright/params"
	"clampwright/parts/geom"
)

// bin is one sheet being filled. It keeps the largest free rectangles, which may
// overlap each other (the maximal rectangles method); every part takes its box
// and the gap beyond it to the right and above, and the free area is as much
// larger, so that the gap at the far rim is not asked for.
type bin struct {
	sheet       params.SheetStock
	gap, margin float64
	tool        float64   // width of a machine's, mm
	size        geom.Vec2 // free width and height, gap included
	free        []rect
	taken       []rect // of a sheet with old holes
}

// rect is a rectangle inside the margin.
type rect struct{ x, y, w, h float64 }

// roundMM forgives rounding when a part just fits.
const roundMM = 1e-6

func newBin(sh params.SheetStock, job SheetJob) *bin {
	gap := job.GapMM
	size := geom.Vec2{X: sh.Width.MM() - 2*job.MarginMM + gap, Y: sh.Height.MM() - 2*job.MarginMM + gap}
	b := &bin{sheet: sh, gap: gap, margin: job.MarginMM, tool: job.ToolMM, size: size}
	if size.X > gap && size.Y > gap {
		b.free = []rect{{0, 0, size.X, size.Y}}
	}
	return b
}

// rules are the rules of choosing among free places: least left over along the
// shorter side, least area left over, lowest, leftmost. The smaller score wins.
var rules = []func(f rect, w, h float64) (float64, float64){
	func(f rect, w, h float64) (float64, float64) { return min(f.w-w, f.h-h), max(f.w-w, f.h-h) },
	func(f rect, w, h float64) (float64, float64) { return f.w*f.h - w*h, min(f.w-w, f.h-h) },
	func(f rect, w, h float64) (float64, float64) { return f.y + h, f.x },
	func(f rect, w, h float64) (float64, float64) { return f.x + w, f.y },
}

// place puts a part where the rule says, if there is a place for it.
func (b *bin) place(it FlatItem, rule int) (Placement, bool) {
	if len(b.sheet.Holes) > 0 {
		return b.over(it)
	}
	first, second := math.Inf(1), math.Inf(1)
	var spot rect
	var best Placement
	for _, turned := range []bool{false, true} {
		if turned && it.WidthMM == it.HeightMM || !b.allowed(it, turned) {
			continue
		}
		w, h := it.WidthMM, it.HeightMM
		if turned {
			w, h = h, w
		}
		keepX, keepY := b.keeps(it, w, h)
		takeW, takeH := w+b.gap, h+b.gap
		if keepX {
			takeW = b.size.X
		}
		if keepY {
			takeH = b.size.Y
		}
		for _, f := range b.free {
			if takeW > f.w+roundMM || takeH > f.h+roundMM {
				continue
			}
			s1, s2 := rules[rule](f, takeW, takeH)
			if s1 < first || s1 == first && s2 < second {
				first, second = s1, s2
				spot = rect{f.x, f.y, takeW, takeH}
				best = Placement{ID: it.ID, At: b.origin(f, w, h, keepX, keepY), WidthMM: w, HeightMM: h, Turned: turned}
			}
		}
	}
	if math.IsInf(first, 1) {
		return Placement{}, false
	}
	b.occupy(spot)
	return best, true
}

// allowed reports whether the part is cut from the sheet and may lie turned or
// upright: with a grain, the
// one of the part must run along that of the sheet.
func (b *bin) allowed(it FlatItem, turned bool) bool {
	if !it.Grain || !it.from(b.sheet) {
		return it.from(b.sheet)
	}
	return turned == (it.GrainAlongX != b.sheet.GrainAlongX)
}

// keeps says along which sides a part keeps the edges of its sheet, which are not cut: by
// hand where it is as long as the sheet. A machine's tool would run off the sheet at the
// ends of the other cuts; to it only what is as large as its part both ways is that
// part, but for what is inside.
func (b *bin) keeps(it FlatItem, w, h float64) (x, y bool) {
	x, y = math.Abs(w-b.sheet.Width.MM()) <= FitMM, math.Abs(h-b.sheet.Height.MM()) <= FitMM
	if b.tool > 0 && !it.byHand {
		return x && y, x && y
	}
	return x, y
}

// origin is the lower left corner of a part in a free rectangle: in the middle where the
// edges stay.
func (b *bin) origin(f rect, w, h float64, keepX, keepY bool) geom.Vec2 {
	at := geom.Vec2{X: b.margin + f.x, Y: b.margin + f.y}
	if keepX {
		at.X = (b.sheet.Width.MM() - w) / 2
	}
	if keepY {
		at.Y = (b.sheet.Height.MM() - h) / 2
	}
	return at
}

// occupy takes a rectangle out of the free ones. Those it does not meet stay the
// largest; of the pieces of the others, those inside another one go.
func (b *bin) occupy(r rect) {
	var kept, pieces []rect
	for _, f := range b.free {
		if f.meets(r) {
			pieces = f.without(r, pieces)
		} else {
			kept = append(kept, f)
		}
	}
	whole := len(kept)
	for i, f := range pieces {
		if !f.insideAny(kept[:whole]) && !f.within(pieces, i) {
			kept = append(kept, f)
		}
	}
	b.free = kept
}

func (f rect) meets(r rect) bool {
	return r.x < f.x+f.w-roundMM && r.x+r.w > f.x+roundMM && r.y < f.y+f.h-roundMM && r.y+r.h > f.y+roundMM
}

// without appends the largest rectangles of f that do not meet r, which f does.
func (f rect) without(r rect, out []rect) []rect {
	if w := r.x - f.x; w > roundMM {
		out = append(out, rect{f.x, f.y, w, f.h})
	}
	if w := f.x + f.w - r.x - r.w; w > roundMM {
		out = append(out, rect{r.x + r.w, f.y, w, f.h})
	}
	if h := r.y - f.y; h > roundMM {
		out = append(out, rect{f.x, f.y, f.w, h})
	}
	if h := f.y + f.h - r.y - r.h; h > roundMM {
		out = append(out, rect{f.x, r.y + r.h, f.w, h})
	}
	return out
}

func (f rect) inside(o rect) bool {
	return o.x <= f.x && o.y <= f.y && o.x+o.w >= f.x+f.w && o.y+o.h >= f.y+f.h
}

func (f rect) insideAny(all []rect) bool {
	for _, o := range all {
		if f.inside(o) {
			return true
		}
	}
	return false
}

// within reports whether another rectangle of the list holds f; of two that are
// the same the first stays.
func (f rect) within(all []rect, i int) bool {
	for j, o := range all {
		if j != i && f.inside(o) && (o != f || j < i) {
			return true
		}
	}
	return false
}
