package drawing

import (
	"fmt"
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// Template is a 1:1 paper pattern of a flat part or of a drilled angle.
type Template struct {
	Part     *parts.Part
	Quantity int
	Units    Units
	Paper    Paper
	Fixture  string
	// Drill names the nearest drill the user owns; nil: the size itself.
	Drill func(mm float64) string
	// Angle makes a template that wraps round the heel.
	Angle *AngleShape
	// Fitted says how an angle stands in the fixture, level by level, in words.
	Fitted string
}

// FileName is the name of the template's file: part and paper.
func (t Template) FileName() string {
	id, paper := "part", t.Paper
	if t.Part != nil {
		id = t.Part.ID
	}
	if paper.Name == "" {
		paper = A4
	}
	return id + "-" + paper.Name + ".pdf"
}

// figure is the pattern at true size, in its own coordinates.
type figure struct {
	box   geom.Box2
	lines []Item
	holes []parts.Hole // in figure coordinates
	slots []parts.Slot
	// words to be put near points, on the page that owns the point
	words []figureWords
	datum geom.Vec2 // where the coordinates of the drawing start
	arrow bool      // an UP arrow on every page
	how   string    // one line that says how to lay the pattern on
}

type figureWords struct {
	at    geom.Vec2
	lines []string
	size  float64
	dir   int // preferred direction, sixteenths of a turn
}

// Pages lays the template out on as many pages as it takes. It errors when the
// part has no flat outline and when the part
// is too large for the paper.
func (t Template) Pages() ([]Sheet, error) {
	if t.Part == nil || t.Part.Flat == nil {
		return nil, fmt.Errorf("drawing: a template needs a part with a flat outline")
	}
	t.Units = t.Units.orDefault()
	if t.Drill == nil {
		t.Drill = t.Units.Words
	}
	if t.Paper.W == 0 {
		t.Paper = A4
	}
	b := t.Part.Flat.Profile.Outer.Bounds()
	f, err := t.figure(b)
	if err != nil {
		return nil, fmt.Errorf("drawing: template of %q: %w", t.Part.ID, err)
	}
	var points []geom.Vec2
	for _, h := range f.holes {
		points = append(points, h.C)
	}
	for _, s := range f.slots {
		points = append(points, s.Ends[0], s.Ends[1])
	}
	tl, err := newTiling(t.Paper, f.box, points)
	if err != nil {
		return nil, err
	}
	var out []Sheet
	for r := tl.rows - 1; r >= 0; r-- {
		for c := 0; c < tl.cols; c++ {
			out = append(out, t.page(f, &tl, c, r))
		}
	}
	return out, nil
}

func (t Template) figure(b geom.Box2) (*figure, error) {
	if t.Angle != nil {
		return t.angleFigure(b)
	}
	return t.plateFigure(b), nil
}

// plateFigure is the outline as seen from outside, UP upwards. A link bar has
// neither an outside nor a bottom.
func (t Template) plateFigure(b geom.Box2) *figure {
	prof := t.Part.Flat.Profile
	f := &figure{box: b, datum: b.Min, holes: sortedHoles(t.Part), slots: parts.Slots(t.Part.Flat)}
	f.lines = append(f.lines, Chain{Path: prof.Outer, Closed: true, Pen: Thin})
	for _, s := range prof.Slots {
		f.lines = append(f.lines, Chain{Path: s, Closed: true, Pen: Thin})
	}
	if t.Part.Kind == parts.KindLink {
		f.how = "Lay the outline on the bar, either face up, its long edges on the bar's. The slot takes tolerances while the bar is fitted."
		return f
	}
	mid := (b.Min.X + b.Max.X) / 2
	f.arrow = true
	f.how = "Lay the outline on the outside face: BOTTOM on the lower edge of the part, left and right as seen from outside."
	f.words = []figureWords{
		{pt(mid, b.Min.Y), []string{"BOTTOM EDGE"}, 2.5, 4},
		{pt(mid, b.Max.Y), []string{"top edge"}, 2.5, 12},
	}
	return f
}

// angleFigure unfolds both outer faces at the heel: the standing leg below the
// fold line, the drilled leg above it. The printed side faces away from the
// metal, so the drilled leg is seen from the plate: against the flat, which is
// seen from outside, x is mirrored; with the heel at the top the sheet is
// turned by half a turn as well, which mirrors x back.
func (t Template) angleFigure(b geom.Box2) (*figure, error) {
	a, length := t.Angle, width(b)
	if math.Abs(height(b)-a.DrilledLegMM) > 0.05 {
		return nil, fmt.Errorf("the flat is %.2f mm high, the drilled leg %.2f mm", height(b), a.DrilledLegMM)
	}
	s, d := a.StandingLegMM, a.DrilledLegMM
	f := &figure{box: geom.Box2{Max: pt(length, s+d)}}
	f.lines = append(f.lines, Chain{Path: wrapOutline(length, s, d, a.ChamferMM), Closed: true, Pen: Thin},
		Line{pt(0, s), pt(length, s), Fold})
	for _, h := range sortedHoles(t.Part) {
		if a.HeelHigh {
			h.C = pt(h.C.X-b.Min.X, s+b.Max.Y-h.C.Y)
		} else {
			h.C = pt(b.Max.X-h.C.X, s+h.C.Y-b.Min.Y)
		}
		f.holes = append(f.holes, h)
	}
	left, right, way := 0.0, length, "up"
	if !a.HeelHigh {
		left, right, way = length, 0.0, "down"
	}
	f.datum = pt(left, s)
	f.how = "Fold on the line, wrap round the heel outside the metal, printed side out."
	if t.Fitted != "" {
		f.how += " Fitted: " + t.Fitted + "."
	}
	f.words = []figureWords{
		{pt(length/2, s+d), []string{"DRILLED LEG: this face lies on the plate"}, 2.5, 12},
		{pt(length/2, s), []string{"FOLD on the heel, the outer corner"}, 2.5, 4},
		{pt(length/2, 0), []string{"STANDING LEG: points away from the plate"}, 2.5, 4},
		{pt(left, s*0.45), []string{"saw here: LEFT end,", "standing leg " + way}, 2.5, inward(left)},
		{pt(right, s*0.45), []string{"saw here: RIGHT end,", "standing leg " + way}, 2.5, inward(right)},
	}
	return f, nil
}

// inward is the direction from an end of the bar, at 0 or beyond, to its middle.
func inward(end float64) int {
	if end == 0 {
		return 0
	}
	return 8
}

// wrapOutline is the unfolded outline with the chamfers on the standing leg's
// free corners.
func wrapOutline(length, s, d, chamfer float64) geom.Path {
	if !(chamfer > 0) || chamfer >= s || 2*chamfer >= length {
		return rectPath(0, 0, length, s+d)
	}
	return geom.Path{{P: pt(chamfer, 0)}, {P: pt(length-chamfer, 0)}, {P: pt(length, chamfer)}, {P: pt(length, s+d)},
		{P: pt(0, s+d)}, {P: pt(0, chamfer)}}
}
