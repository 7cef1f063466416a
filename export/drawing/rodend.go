package drawing

import (
	"fmt"
	"math"

	"clampwright/params/words"
	"clampwright/parts/geom"
)

// LayerKind is how a layer looks in the section.
type LayerKind string

// The kinds of layer. Parts cut through are hatched; washers, nuts and the rod
// are shown whole, as ISO 128-3 asks of standard parts (from memory).
const (
	LayerCut    LayerKind = "cut"    // plate, liner, cell: cut through, with a clearance hole
	LayerAngle  LayerKind = "angle"  // cut through, with its standing leg
	LayerWasher LayerKind = "washer" // whole
	LayerSpring LayerKind = "spring" // coned discs, or the turns of a coil
	LayerNut    LayerKind = "nut"    // whole hexagon, seen across corners
)

// Layer is one thing on the rod, from the inside outwards. Sizes in mm.
type Layer struct {
	Item, Name  string
	Kind        LayerKind
	ThicknessMM float64
	// HighMM and LowMM are its reach above and below the rod's axis; washers,
	// springs and nuts use HighMM as their radius on both sides.
	HighMM, LowMM float64
	HoleMM        float64 // hole of cut layers, bore of springs
	// BrokenHigh and BrokenLow say that the part goes on beyond its reach.
	BrokenHigh, BrokenLow bool
	// StandMM is the outside length of an angle's standing leg, from the face
	// on the plate; it stands at the high side when StandHigh, else at the low.
	StandMM, RootMM float64
	StandHigh       bool
	Discs           int     // discs in a spring stack, turns of a coil
	WireMM          float64 // height of a coil's wire along the rod; 0: discs
	HatchDeg        float64 // 45 or 135
}

// RodEnd is the section through one end of a rod.
type RodEnd struct {
	Name             string // "front end"; empty: one rod end
	Item             string // of the rod itself
	Layers           []Layer
	MajorMM, MinorMM float64 // thread
	InsideMM         float64 // length of rod shown before the first layer
	BeyondMM         float64 // thread beyond the last layer
}

// layerTable lists the order of the layers with their thickness, a column for
// each end. The last end's layers are among the first's.
func layerTable(ends []RodEnd, u Units) *Table {
	t := &Table{Title: "On the rod, from the cells outwards", Head: []string{"Item", "Layer"}, Right: map[int]bool{}}
	beyond := []string{"", "thread standing out"}
	for i, r := range ends {
		head := "Thick"
		if r.Name != "" {
			head = words.Upper(r.Name)
		}
		t.Right[len(t.Head)] = true
		t.Head, beyond = append(t.Head, head), append(beyond, u.Dim(r.BeyondMM))
		row := 0
		for _, l := range r.Layers {
			if i == 0 {
				t.Rows = append(t.Rows, []string{l.Item, l.Name})
			}
			for t.Rows[row][1] != l.Name && row+1 < len(t.Rows) {
				t.Rows[row] = append(t.Rows[row], "")
				row++
			}
			t.Rows[row] = append(t.Rows[row], u.Dim(l.ThicknessMM))
			row++
		}
		for ; row < len(t.Rows); row++ {
			t.Rows[row] = append(t.Rows[row], "")
		}
	}
	t.Rows = append(t.Rows, beyond)
	return t
}

// Room the section needs besides itself, mm: rod ends, balloons and the name.
const (
	sectionBesideMM = 8.0
	sectionAboveMM  = 26.0
)

// draw shows the section, its rod axis along x, at the largest standard scale
// that keeps it within its room; never below 1:1, to stay legible.
func (r RodEnd) draw(room geom.Vec2) []Item {
	length, high, low := r.InsideMM+r.BeyondMM, r.MajorMM, r.MajorMM
	for _, l := range r.Layers {
		length += l.ThicknessMM
		high, low = math.Max(high, l.high()), math.Max(low, l.low())
	}
	for i, l := range r.Layers {
		length = math.Max(length, r.InsideMM+r.start(i)+l.StandMM)
	}
	s, ok := scaleFor(length, high+low, room.X-sectionBesideMM, room.Y-sectionAboveMM, Scale{2, 1})
	if !ok || s.Factor() < 1 {
		s = Scale{1, 1}
	}
	k := s.Factor()
	out := r.rodItems(k)
	x := r.InsideMM
	var keys []BalloonAt
	if r.Item != "" {
		keys = append(keys, BalloonAt{r.Item, pt(r.InsideMM/3, r.MinorMM/4)})
	}
	for _, l := range r.Layers {
		out = append(out, l.draw(x*k, k, r)...)
		keys = append(keys, BalloonAt{l.Item, pt(x+l.ThicknessMM/2, l.grip(r.MajorMM))})
		x += l.ThicknessMM
	}
	out = append(out, Line{pt(-3, 0), pt((x+r.BeyondMM)*k+3, 0), Centre})
	at := func(p geom.Vec2) geom.Vec2 { return p.Mul(k) }
	out = append(out, balloonRow(keys, at, high*k+10)...)
	return append(out, Text{At: pt(length*k/2, -low*k-4-waveMM), S: fmt.Sprintf("Section through %s, scale %v", r.title(), s), Height: textMM, Face: Bold, Anchor: MidHigh})
}

// title says which end the section shows.
func (r RodEnd) title() string {
	if r.Name == "" {
		return "one rod end"
	}
	return "a rod's " + r.Name
}

// start is where layer i begins, measured from the first layer.
func (r RodEnd) start(i int) float64 {
	x := 0.0
	for _, l := range r.Layers[:i] {
		x += l.ThicknessMM
	}
	return x
}

func (l Layer) high() float64 { return l.HighMM }

func (l Layer) low() float64 {
	if l.Kind == LayerCut || l.Kind == LayerAngle {
		return l.LowMM
	}
	return l.HighMM
}

// grip is the height above the axis at which a balloon's leader ends: inside
// the layer, off the rod.
func (l Layer) grip(major float64) float64 {
	inner := major / 2
	if l.HoleMM > 0 {
		inner = l.HoleMM / 2
	}
	return (math.Max(inner, 0) + l.HighMM) / 2
}

// rodItems is the rod itself: shown whole, thread root thin.
func (r RodEnd) rodItems(k float64) []Item {
	end := r.InsideMM + r.start(len(r.Layers)) + r.BeyondMM
	ro, ri, ch := r.MajorMM/2*k, r.MinorMM/2*k, (r.MajorMM-r.MinorMM)/2
	e, ec := end*k, (end-ch)*k
	var out []Item
	for _, s := range []float64{-1, 1} {
		out = append(out, Line{pt(0, s*ro), pt(ec, s*ro), Visible}, Line{pt(0, s*ri), pt(e, s*ri), Thin}, Line{pt(ec, s*ro), pt(e, s*ri), Visible})
	}
	out = append(out, Line{pt(e, -ri), pt(e, ri), Visible}, Line{pt(ec, -ro), pt(ec, ro), Visible})
	return append(out, wave(pt(0, -ro), pt(0, ro)))
}

// waveMM is how far a break line swings to each side at most.
const waveMM = 2.0

// wave is a freehand break line between two points.
func wave(a, b geom.Vec2) Item {
	return Chain{Pen: Thin, Path: append(wavePath(a, b), geom.Vertex{P: b})}
}

// wavePath is the break line's path up to, not including, its end. The rise of
// an arc is half its chord times its bulge.
func wavePath(a, b geom.Vec2) geom.Path {
	m, l := a.Add(b).Mul(0.5), math.Hypot(b.X-a.X, b.Y-a.Y)
	q := math.Min(0.35, 4*waveMM/math.Max(l, 1e-9))
	return geom.Path{{P: a, Bulge: q}, {P: m, Bulge: -q}}
}

// draw shows one layer whose inner face is at sheet x.
func (l Layer) draw(x, k float64, r RodEnd) []Item {
	t, h := l.ThicknessMM*k, l.HighMM*k
	switch l.Kind {
	case LayerCut:
		return l.cut(x, k, geom.Path{})
	case LayerAngle:
		return l.cut(x, k, l.legPath(x, k))
	case LayerSpring:
		return l.spring(x, k)
	case LayerNut:
		out := []Item{Chain{Path: rectPath(x, -h, t, 2*h), Closed: true, Pen: Visible, Fill: White}}
		for _, s := range []float64{-0.5, 0.5} {
			out = append(out, Line{pt(x, s*h), pt(x+t, s*h), Visible})
		}
		return out
	}
	return []Item{Chain{Path: rectPath(x, -h, t, 2*h), Closed: true, Pen: Visible, Fill: White}}
}

// cut is a hatched layer on both sides of its clearance hole; leg replaces the
// side of the standing leg when it is not empty.
func (l Layer) cut(x, k float64, leg geom.Path) []Item {
	t, hole := l.ThicknessMM*k, l.HoleMM/2*k
	high, low := rectPath(x, hole, t, l.HighMM*k-hole), rectPath(x, -l.LowMM*k, t, l.LowMM*k-hole)
	if len(leg) > 0 && l.StandHigh {
		high = leg
	} else if len(leg) > 0 {
		low = leg
	}
	var out []Item
	for i, p := range []geom.Path{high, low} {
		far, near := l.HighMM*k, hole
		if i == 1 {
			far, near = -l.LowMM*k, -hole
		}
		if broken := (i == 0 && l.BrokenHigh) || (i == 1 && l.BrokenLow); !broken {
			out = append(out, Hatch([]geom.Path{p}, hatchMM, l.HatchDeg*math.Pi/180)...)
			out = append(out, Chain{Path: p, Closed: true, Pen: Visible})
			continue
		}
		out = append(out, brokenCut(x, t, near, far, l.HatchDeg)...)
	}
	for _, s := range []float64{-1, 1} { // edges of the hole behind the rod
		out = append(out, Line{pt(x, s*hole), pt(x+t, s*hole), Visible})
	}
	return out
}

// hatchMM is the pitch of section lines.
const hatchMM = 2.2

// brokenCut is a hatched strip from near to far that goes on beyond far.
func brokenCut(x, t, near, far, hatchDeg float64) []Item {
	a, b := pt(x, far), pt(x+t, far)
	ring := append(wavePath(a, b), geom.Vertex{P: b}, geom.Vertex{P: pt(x+t, near)}, geom.Vertex{P: pt(x, near)})
	out := Hatch([]geom.Path{ring}, hatchMM, hatchDeg*math.Pi/180)
	return append(out, Line{pt(x, near), a, Visible}, Line{pt(x+t, near), b, Visible}, Line{pt(x, near), pt(x+t, near), Visible}, wave(a, b))
}

// legPath is the part of an angle's section on the side of its standing leg,
// from the hole outwards, counter-clockwise.
func (l Layer) legPath(x, k float64) geom.Path {
	t, hole, s := l.ThicknessMM*k, l.HoleMM/2*k, l.StandMM*k
	r := math.Min(l.RootMM*k, math.Max(0, s-t))
	q := math.Tan(math.Pi / 8)
	if l.StandHigh {
		h := l.HighMM * k
		p := geom.Path{{P: pt(x, hole)}, {P: pt(x+t, hole)}}
		p = appendCorner(p, pt(x+t, h-t-r), pt(x+t+r, h-t), r, -q)
		return append(p, geom.Vertex{P: pt(x+s, h-t)}, geom.Vertex{P: pt(x+s, h)}, geom.Vertex{P: pt(x, h)})
	}
	h := -l.LowMM * k
	p := geom.Path{{P: pt(x+t, -hole)}, {P: pt(x, -hole)}, {P: pt(x, h)}, {P: pt(x+s, h)}, {P: pt(x+s, h+t)}}
	return appendCorner(p, pt(x+t+r, h+t), pt(x+t, h+t+r), r, -q)
}

// spring is a stack of coned discs in section, facing each other in turn, or a coil cut
// along the rod: its turns, those below half a turn on.
func (l Layer) spring(x, k float64) []Item {
	n := min(max(l.Discs, 1), 40)
	step, inner, h := l.ThicknessMM*k/float64(n), l.HoleMM/2*k, l.HighMM*k
	if l.WireMM > 0 {
		return coil(x, l.ThicknessMM*k, inner, h, l.WireMM*k, n)
	}
	var out []Item
	for i := 0; i < n; i++ {
		a, b := x+step*float64(i), x+step*float64(i+1)
		if i%2 == 1 {
			a, b = b, a
		}
		for _, s := range []float64{-1, 1} {
			out = append(out, Line{pt(a, s*inner), pt(b, s*h), Visible})
		}
	}
	return out
}

// coil shows n turns over the length l as the sections of their wire; the rod hides what
// lies behind.
func coil(x, l, inner, outer, wire float64, n int) (out []Item) {
	pitch := (l - wire) / float64(max(n-1, 1))
	for half := range 2*n - 1 {
		low := inner
		if half%2 == 1 {
			low = -outer
		}
		out = append(out, Chain{Path: rectPath(x+float64(half)*pitch/2, low, wire, outer-inner), Closed: true, Pen: Visible, Fill: White})
	}
	return out
}
