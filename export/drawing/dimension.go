package drawing

import (
	"math"
	"sort"

	"clampwright/parts/geom"
)

// Proportions of dimensions, mm on the sheet. Arrow heads are closed, filled,
// about 15 degrees; extension lines pass the dimension line by eight line
// widths (ISO 129-1, from memory).
const (
	textMM      = 2.5
	smallTextMM = 2.0
	arrowMM     = 2.5
	arrowHalfMM = arrowMM * 0.13
	overshootMM = 8 * narrowMM
	textGapMM   = 0.9 // dimension line to the foot of its figure
	tailMM      = 5.0 // line beyond outside arrows
	originMM    = 1.5 // radius of the origin circle of running dimensions
)

// Arrow is a filled arrow head with its tip at p, pointing along angle.
func Arrow(p geom.Vec2, angle float64) Item {
	s, c := math.Sincos(angle)
	back := func(side float64) geom.Vec2 {
		return pt(p.X-arrowMM*c-side*arrowHalfMM*s, p.Y-arrowMM*s+side*arrowHalfMM*c)
	}
	return Chain{Path: geom.Path{{P: p}, {P: back(1)}, {P: back(-1)}}, Closed: true, Fill: Black, Bare: true}
}

// DimAlong is a dimension of the distance of a and b measured along x, with its
// line at height y, or along y with its line at x = pos when upright. Extension
// lines run from a and b. Figures stand above the line, read from below or from
// the right (ISO 129-1). When there is no room between the arrows they go
// outside, the figure beyond the arrow at b.
func DimAlong(a, b geom.Vec2, pos float64, upright bool, text string) []Item {
	if upright {
		return turnItems(DimAlong(pt(a.Y, -a.X), pt(b.Y, -b.X), -pos, false, text))
	}
	reversed := a.X > b.X
	if reversed {
		a, b = b, a
	}
	out := []Item{extension(a, pos), extension(b, pos)}
	l, r := pt(a.X, pos), pt(b.X, pos)
	gap, need := b.X-a.X, TextWidth(text, Regular, textMM)
	if gap >= need+2*arrowMM+1 {
		return append(out, Line{l, r, Thin}, Arrow(l, math.Pi), Arrow(r, 0),
			Text{At: pt((a.X+b.X)/2, pos+textGapMM), S: text, Height: textMM, Anchor: MidLow})
	}
	if gap >= need+1 && gap >= 2*arrowMM {
		return append(out, Line{l, r, Thin}, Arrow(l, math.Pi), Arrow(r, 0),
			Text{At: pt((a.X+b.X)/2, pos+textGapMM), S: text, Height: textMM, Anchor: MidLow})
	}
	if reversed {
		return append(out, Line{pt(a.X-tailMM-need, pos), pt(b.X+tailMM, pos), Thin}, Arrow(l, 0), Arrow(r, math.Pi),
			Text{At: pt(a.X-tailMM, pos+textGapMM), S: text, Height: textMM, Anchor: RightLow})
	}
	end := pt(b.X+tailMM+need, pos)
	return append(out, Line{pt(a.X-tailMM, pos), end, Thin}, Arrow(l, 0), Arrow(r, math.Pi),
		Text{At: pt(b.X+tailMM, pos+textGapMM), S: text, Height: textMM})
}

// extension is the extension line from a feature to a dimension line at
// height y.
func extension(p geom.Vec2, y float64) Item {
	dir := 1.0
	if y < p.Y {
		dir = -1
	}
	return Line{pt(p.X, p.Y+dir*overshootMM/2), pt(p.X, y+dir*overshootMM), Thin}
}

// turnItems turns items a quarter counter-clockwise about the origin.
func turnItems(items []Item) []Item {
	rot := func(p geom.Vec2) geom.Vec2 { return pt(-p.Y, p.X) }
	out := make([]Item, len(items))
	for i, it := range items {
		switch it := it.(type) {
		case Line:
			it.A, it.B = rot(it.A), rot(it.B)
			out[i] = it
		case Arc:
			it.C, it.Start = rot(it.C), it.Start+math.Pi/2
			out[i] = it
		case Circle:
			it.C = rot(it.C)
			out[i] = it
		case Chain:
			p := make(geom.Path, len(it.Path))
			for k, v := range it.Path {
				p[k] = geom.Vertex{P: rot(v.P), Bulge: v.Bulge}
			}
			it.Path = p
			out[i] = it
		case Text:
			it.At, it.Angle = rot(it.At), it.Angle+math.Pi/2
			out[i] = upright(it)
		default:
			out[i] = it
		}
	}
	return out
}

// upright turns text that would stand on its head by half a turn, keeping its
// place.
func upright(t Text) Text {
	if t.Angle < math.Pi-1e-9 || t.Angle > 1.5*math.Pi-1e-9 {
		return t
	}
	t.Angle -= math.Pi
	along, across := t.Anchor/3, t.Anchor%3
	t.Anchor = (2-along)*3 + (2 - across)
	return t
}

// Stop is one value of a running dimension: the feature it measures and its
// figure.
type Stop struct {
	At   geom.Vec2 // the extension line starts here
	Text string
}

// DimRunning is a superimposed running dimension along x (along y when
// upright) from a common origin: the origin carries a small circle, every stop
// an arrow and its figure along the extension line (ISO 129-1). pos is the
// sheet y (or x) of the dimension line; figures stand beyond it, spread so that
// they never touch.
func DimRunning(origin geom.Vec2, stops []Stop, pos float64, upright bool) []Item {
	if upright {
		turned := make([]Stop, len(stops))
		for i, s := range stops {
			turned[i] = Stop{pt(s.At.Y, -s.At.X), s.Text}
		}
		return turnItems(DimRunning(pt(origin.Y, -origin.X), turned, -pos, false))
	}
	stops = append([]Stop{}, stops...)
	sort.SliceStable(stops, func(i, j int) bool { return stops[i].At.X < stops[j].At.X })
	dir := -1.0
	if pos > origin.Y {
		dir = 1
	}
	all := append([]Stop{{origin, "0"}}, stops...)
	at := spread(all, textMM*1.5)
	out := []Item{Circle{C: pt(origin.X, pos), R: originMM, Pen: Thin, Fill: White}}
	from := origin.X
	for i, s := range all {
		out = append(out, runningFigure(s, at[i], pos, dir)...)
		if i == 0 {
			continue
		}
		d, tip := 0.0, pt(s.At.X, pos)
		if s.At.X < origin.X {
			d = math.Pi
		}
		if i == 1 {
			from = origin.X + math.Copysign(originMM, s.At.X-origin.X)
		}
		out = append(out, Line{pt(from, pos), tip, Thin}, Arrow(tip, d))
		from = s.At.X
	}
	return out
}

// runningFigure draws one extension line, jogged to where its figure stands.
func runningFigure(s Stop, x, pos, dir float64) []Item {
	const jog = 3.0
	knee := pt(s.At.X, pos+dir*overshootMM)
	out := []Item{Line{pt(s.At.X, s.At.Y+dir*overshootMM/2), knee, Thin}}
	foot := pt(x, knee.Y)
	if x != s.At.X {
		foot = pt(x, knee.Y+dir*jog)
		out = append(out, Line{knee, foot, Thin})
	}
	anchor := RightMid
	if dir > 0 {
		anchor = LeftMid
	}
	return append(out, Text{At: pt(foot.X, foot.Y+dir*0.8), S: s.Text, Height: textMM, Anchor: anchor, Angle: math.Pi / 2})
}

// spread moves figures of ascending stops apart to the given pitch, as little
// as possible: overlapping neighbours form groups centred on their mean.
func spread(stops []Stop, pitch float64) []float64 {
	type group struct {
		sum float64
		n   int
	}
	var groups []group
	low := func(g group) float64 { return g.sum/float64(g.n) - pitch*float64(g.n-1)/2 }
	for _, s := range stops {
		groups = append(groups, group{s.At.X, 1})
		for len(groups) > 1 {
			a, b := groups[len(groups)-2], groups[len(groups)-1]
			if low(a)+pitch*float64(a.n) <= low(b)+1e-9 {
				break
			}
			groups = append(groups[:len(groups)-2], group{a.sum + b.sum, a.n + b.n})
		}
	}
	var at []float64
	for _, g := range groups {
		for i := 0; i < g.n; i++ {
			at = append(at, low(g)+pitch*float64(i))
		}
	}
	for i, s := range stops {
		if i < len(at) && math.Abs(at[i]-s.At.X) < 1e-9 {
			at[i] = s.At.X
		}
	}
	return at
}

// Leader is a note on a leader line: an arrow at the feature, an elbow, a short
// shoulder under the first line. Text goes right of the elbow, or left of it
// when the elbow lies left of the feature.
func Leader(tip, elbow geom.Vec2, lines ...string) []Item {
	dir, anchor := 1.0, LeftLow
	if elbow.X < tip.X {
		dir, anchor = -1, RightLow
	}
	w := 0.0
	for _, l := range lines {
		w = math.Max(w, TextWidth(l, Regular, textMM))
	}
	out := []Item{
		Line{tip, elbow, Thin}, Line{elbow, pt(elbow.X+dir*(w+1), elbow.Y), Thin},
		Arrow(tip, math.Atan2(tip.Y-elbow.Y, tip.X-elbow.X)),
	}
	for i, l := range lines {
		y := elbow.Y + textGapMM
		if i > 0 {
			y = elbow.Y - float64(i)*textMM*1.5 - 0.2
		}
		out = append(out, Text{At: pt(elbow.X+dir*0.5, y), S: l, Height: textMM, Anchor: anchor})
	}
	return out
}

// DimRadius is a radius on a leader from the arc, at the given direction from
// its centre; prefix counts equal features ("4× ").
func DimRadius(c geom.Vec2, r, angle, reach float64, prefix, text string) []Item {
	return Leader(polar(c, r, angle), polar(c, r+reach, angle), prefix+"R "+text)
}

// DimDiameter is a diameter on a leader to the circle.
func DimDiameter(c geom.Vec2, r, angle, reach float64, prefix, text string) []Item {
	return Leader(polar(c, r, angle), polar(c, r+reach, angle), prefix+"Ø "+text)
}

// CentreCross marks a hole: two axes that pass the circle by over mm.
func CentreCross(c geom.Vec2, r, over float64) []Item {
	a := r + over
	return []Item{Line{pt(c.X-a, c.Y), pt(c.X+a, c.Y), Centre}, Line{pt(c.X, c.Y-a), pt(c.X, c.Y+a), Centre}}
}

const balloonMM = 4.0 // radius of an item balloon

// Balloon is a part reference (ISO 6433, from memory): a circled item number on
// a leader that ends in a dot on the part.
func Balloon(tip, centre geom.Vec2, number string) []Item {
	a := math.Atan2(tip.Y-centre.Y, tip.X-centre.X)
	return []Item{
		Line{polar(centre, balloonMM, a), tip, Thin},
		Circle{C: tip, R: 0.6, Fill: Black, Bare: true},
		Circle{C: centre, R: balloonMM, Pen: Thin, Fill: White},
		Text{At: centre, S: number, Height: 3.5, Face: Bold, Anchor: MidMid},
	}
}
