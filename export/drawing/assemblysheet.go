package drawing

import (
	"fmt"
	"math"
	"sort"

	"clampwright/parts/geom"
)

// AssemblySheet is what the assembly drawing needs: plain shapes in mm, no
// knowledge of how they came about.
type AssemblySheet struct {
	Fixture, Print string
	Units          Units
	Paper          Paper
	Tolerance      string
	Mass           string
	// Front looks along the stack (x to the right, y up); Side looks at the
	// stack from its right, the stack running across (third angle).
	Front, Side AssemblyView
	// RodEnds are the sections through a rod's ends, from the cells outwards: one
	// where both ends are alike.
	RodEnds []RodEnd
	// Parts is the parts list, in order of item numbers. Loose are the tools and
	// what is taken off again: not part of the assembly, without numbers.
	Parts, Loose []ListRow
	Notes        []string
	// Sheet of Sheets in the set; zero: 1 of 1.
	Sheet, Sheets int
}

// AssemblyView is one view of the whole fixture at true size.
type AssemblyView struct {
	Name     string
	Shapes   []Shape
	Balloons []BalloonAt
	// Along and Up are positions dimensioned from the origin point, below the view
	// and at its left, true mm in the view's coordinates. Without them the overall
	// size stands there.
	Origin    geom.Vec2
	Along, Up []float64
	// Spans are stretches along x that are dimensioned above the overall length.
	Spans [][2]float64
	// NoHeight leaves out the overall height, where another view gives it.
	NoHeight bool
	// Axes are crossed: the rods.
	Axes []geom.Vec2
}

// Shape is one closed outline of a view. Later shapes hide earlier ones when
// they are Solid.
type Shape struct {
	Outline geom.Path
	Pen     Pen
	Solid   bool
	// Item keys the shape to the parts list. When shapes carry items, every item
	// gets one balloon, in the view that shows it best, at a spot that nothing
	// nearer covers; AssemblyView.Balloons is then not used.
	Item string
	// HatchDeg hatches the inside when HatchPitchMM (on the sheet) is positive.
	HatchDeg, HatchPitchMM float64
}

// BalloonAt keys a point of a view to an item of the parts list.
type BalloonAt struct {
	Item string
	At   geom.Vec2
}

// ListRow is one item of the parts list.
type ListRow struct {
	Item, Name, Mark, Material string
	Quantity                   int
}

// goodAssemblyMM: assemblies go on the larger sheet unless they nearly fill
// the small one.
const goodAssemblyMM = 230.0

// Draw lays the assembly out on one sheet. It errors when there is nothing to
// show and when it cannot be fitted on the largest paper.
func (a AssemblySheet) Draw() (Sheet, error) {
	a.Units = a.Units.orDefault()
	if a.Paper.W == 0 {
		a.Paper = A4
	}
	if len(a.Front.Shapes) == 0 || len(a.Side.Shapes) == 0 {
		return Sheet{}, fmt.Errorf("drawing: the assembly needs a front and a side view")
	}
	a.keyShapes()
	var s Sheet
	var err error
	for _, rows := range listRows {
		if s, err = compose(a.content(rows), a.Paper); err == nil {
			break
		}
	}
	return s, err
}

// listRows are the lengths at which lists are folded, tried in this order: a list
// stands whole where it fits the sheet.
var listRows = []int{100, 24, 20, 16, 12}

// content is what the sheet holds, its lists folded after the given rows.
func (a AssemblySheet) content(rows int) *content {
	c := &content{most: Scale{1, 1}, good: goodAssemblyMM, notes: a.Notes, views: a.views, column: []*Table{a.partsTable().fold(rows)}}
	if len(a.Loose) > 0 {
		c.column = append(c.column, a.looseTable().fold(rows))
	}
	if len(a.RodEnds) > 0 {
		c.column = append(c.column, layerTable(a.RodEnds, a.Units))
	}
	c.title = Title{Title: "Assembly", Kind: "Assembly drawing", Fixture: a.Fixture, Number: "assembly", Print: a.Print,
		Quantity: "1", Material: "see parts list", Mass: a.Mass, Tolerance: a.Tolerance, Units: a.Units.Name,
		Sheet: a.Sheet, Sheets: a.Sheets}
	return c
}

func (a AssemblySheet) partsTable() *Table {
	t := &Table{Title: "Parts", Head: []string{"Item", "No.", "Part", "Mark", "Material or trade name"}, Right: map[int]bool{1: true}}
	for _, r := range a.Parts {
		t.Rows = append(t.Rows, []string{r.Item, fmt.Sprint(r.Quantity), r.Name, r.Mark, r.Material})
	}
	return t
}

func (a AssemblySheet) looseTable() *Table {
	t := &Table{Title: "Not shown: tools, what is taken off again, small fixings", Head: []string{"No.", "Part", "Mark", "Material or trade name"}, Right: map[int]bool{0: true}}
	for _, r := range a.Loose {
		t.Rows = append(t.Rows, []string{fmt.Sprint(r.Quantity), r.Name, r.Mark, r.Material})
	}
	return t
}

// views sets the front view, the side view at its right, and the sections under
// them, at their own scale.
func (a AssemblySheet) views(k float64, room geom.Vec2) []Item {
	front := a.Front.draw(k, a.Units)
	fb := Bounds(front)
	side := a.Side.draw(k, a.Units)
	sb := Bounds(side)
	out := append(front, Shift(side, pt(fb.Max.X-sb.Min.X+blockGapMM, 0))...)
	if len(a.RodEnds) == 0 {
		return out
	}
	all := Bounds(out)
	share := (room.X+blockGapMM)/float64(len(a.RodEnds)) - blockGapMM
	var sections []Item
	for _, r := range a.RodEnds {
		s := r.draw(pt(share, room.Y-height(all)-blockGapMM))
		if len(sections) > 0 {
			s = Shift(s, pt(Bounds(sections).Max.X+blockGapMM-Bounds(s).Min.X, 0))
		}
		sections = append(sections, s...)
	}
	cb := Bounds(sections)
	return append(out, Shift(sections, pt((all.Min.X+all.Max.X-cb.Min.X-cb.Max.X)/2, all.Min.Y-cb.Max.Y-blockGapMM))...)
}

// draw puts the view's lower left corner at the sheet's origin, with sizes below
// and at the left, balloons above, its name below.
func (v AssemblyView) draw(k float64, u Units) []Item {
	b := geom.EmptyBox2()
	for _, s := range v.Shapes {
		b = b.Union(s.Outline.Bounds())
	}
	at := func(m geom.Vec2) geom.Vec2 { return m.Sub(b.Min).Mul(k) }
	var out []Item
	for _, s := range v.Shapes {
		out = append(out, s.draw(at)...)
	}
	w, h := width(b)*k, height(b)*k
	for _, a := range v.Axes {
		out = append(out, CentreCross(at(a), crossOverMM, crossOverMM)...)
	}
	dims := v.dims(b, k, u)
	out = append(out, dims...)
	if v.Name != "" {
		out = append(out, Text{At: pt(w/2, Bounds(dims).Min.Y-2), S: v.Name, Height: textMM, Face: Bold, Anchor: MidHigh})
	}
	return append(out, balloonRow(v.Balloons, at, h+10)...)
}

// dims are the sizes of a view whose box is b, drawn from the sheet's origin.
func (v AssemblyView) dims(b geom.Box2, k float64, u Units) []Item {
	w, h := width(b)*k, height(b)*k
	var out []Item
	below := -firstDimMM
	for _, s := range v.Spans {
		from, to := (s[0]-b.Min.X)*k, (s[1]-b.Min.X)*k
		out = append(out, DimAlong(pt(from, 0), pt(to, 0), below, false, u.Dim(s[1]-s[0]))...)
		below -= firstDimMM
	}
	if len(v.Along) > 0 {
		var stops []Stop
		for _, x := range v.Along {
			stops = append(stops, Stop{pt((x-b.Min.X)*k, 0), u.Dim(x - v.Origin.X)})
		}
		out = append(out, DimRunning(pt((v.Origin.X-b.Min.X)*k, 0), stops, below, false)...)
	} else {
		out = append(out, DimAlong(pt(0, 0), pt(w, 0), below, false, u.Dim(width(b)))...)
	}
	switch {
	case len(v.Up) > 0:
		var stops []Stop
		for _, y := range v.Up {
			stops = append(stops, Stop{pt(0, (y-b.Min.Y)*k), u.Dim(y - v.Origin.Y)})
		}
		out = append(out, DimRunning(pt(0, (v.Origin.Y-b.Min.Y)*k), stops, -firstDimMM, true)...)
	case !v.NoHeight:
		out = append(out, DimAlong(pt(0, 0), pt(0, h), -firstDimMM, true, u.Dim(height(b)))...)
	}
	return out
}

func (s Shape) draw(at func(geom.Vec2) geom.Vec2) []Item {
	p := make(geom.Path, len(s.Outline))
	for i, q := range s.Outline {
		p[i] = geom.Vertex{P: at(q.P), Bulge: q.Bulge}
	}
	c := Chain{Path: p, Closed: true, Pen: s.Pen}
	if s.Solid {
		c.Fill = White
	}
	return append([]Item{c}, Hatch([]geom.Path{p}, s.HatchPitchMM, s.HatchDeg*math.Pi/180)...)
}

// balloonRow stands balloons in one row at height y, in the order of what they
// point at, so that leaders do not cross more than they must.
func balloonRow(list []BalloonAt, at func(geom.Vec2) geom.Vec2, y float64) []Item {
	list = append([]BalloonAt{}, list...)
	sort.SliceStable(list, func(i, j int) bool { return at(list[i].At).X < at(list[j].At).X })
	stops := make([]Stop, len(list))
	for i, b := range list {
		stops[i] = Stop{At: at(b.At)}
	}
	var out []Item
	for i, x := range spread(stops, 2*balloonMM+2) {
		out = append(out, Balloon(stops[i].At, pt(x, y), list[i].Item)...)
	}
	return out
}
