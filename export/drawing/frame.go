package drawing

import (
	"fmt"
	"math"

	"clampwright/parts/geom"
)

// Title is what the data fields of a sheet say (the fields follow ISO 7200,
// from memory; the arrangement is our own). Empty fields stay blank.
type Title struct {
	Title     string // "End plate"
	Mark      string // "P1"
	Kind      string // "part drawing", "assembly"
	Fixture   string // what it belongs to
	Number    string // document number: "end-plate"
	Print     string // fingerprint of the input the sheet was made from
	Quantity  string
	Material  string // material and stock
	Mass      string
	Tolerance string // general tolerances in words
	Scale     string
	Units     string
	Sheet     int
	Sheets    int
}

const (
	bindMM     = 20.0 // margin on the filing edge
	marginMM   = 10.0
	titleWMM   = 160.0
	titleRowMM = 10.0
	titleTopMM = 12.0 // the row with the name
	captionMM  = 1.8
)

// frameBox is the inside of the border of a sheet lying on its side.
func frameBox(w, h float64) geom.Box2 {
	return geom.Box2{Min: pt(bindMM, marginMM), Max: pt(w-marginMM, h-marginMM)}
}

// field is one cell of the title block.
type field struct {
	caption, value string
	width, size    float64
	face           Face
}

// titleBlock draws the data fields with their lower right corner at p and
// returns their height.
func titleBlock(p geom.Vec2, t *Title) ([]Item, float64) {
	rows := [][]field{
		{{"Belongs to", t.Fixture, 62, 2.5, Regular}, {"Document", t.Number, 42, 2.5, Regular},
			{"Input", short(t.Print), 28, 2.5, Regular}, {"Sheet", fmt.Sprintf("%d of %d", t.Sheet, t.Sheets), 28, 2.5, Regular}},
		{{"Unless noted otherwise", t.Tolerance, 104, 2.5, Regular}, {"Dimensions in", t.Units, 28, 2.5, Regular},
			{"Scale", t.Scale, 28, 3.5, Bold}},
		{{"Material and stock", t.Material, 104, 2.5, Regular}, {"Mass each", t.Mass, 28, 2.5, Regular},
			{"Third-angle view", "", 28, 2.5, Regular}},
		{{t.Kind, t.Title, 104, 5, Bold}, {"Mark", t.Mark, 28, 5, Bold}, {"Quantity", t.Quantity, 28, 5, Bold}},
	}
	var out []Item
	y := p.Y
	for i, row := range rows {
		x, h := p.X-titleWMM, titleRowMM
		if i == len(rows)-1 {
			h = titleTopMM
		}
		for _, f := range row {
			out = append(out, box(x, y, f.width, h, Thin))
			out = append(out, fieldText(x, y, h, f)...)
			x += f.width
		}
		y += h
	}
	out = append(out, projectionSign(pt(p.X-14, p.Y+2*titleRowMM+3.6))...)
	out = append(out, box(p.X-titleWMM, p.Y, titleWMM, y-p.Y, Visible))
	return out, y - p.Y
}

func fieldText(x, y, high float64, f field) []Item {
	out := []Item{Text{At: pt(x+1, y+high-0.9), S: f.caption, Height: captionMM, Anchor: LeftHigh}}
	if f.value == "" {
		return out
	}
	room := f.width - 2
	h := Fit(f.value, f.face, f.size, room)
	if TextWidth(f.value, f.face, h) > room && f.size <= 2.5 {
		if lines := Wrap(f.value, f.face, captionMM, room); len(lines) == 2 {
			return append(out, Text{At: pt(x+1, y+3.6), S: lines[0], Height: captionMM, Face: f.face},
				Text{At: pt(x+1, y+0.9), S: lines[1], Height: captionMM, Face: f.face})
		}
	}
	return append(out, Text{At: pt(x+1, y+math.Max(1.4, 0.44*h)), S: ellipsis(f.value, f.face, h, room), Height: h, Face: f.face})
}

// ellipsis shortens text to a width.
func ellipsis(s string, face Face, h, room float64) string {
	r := []rune(s)
	for len(r) > 1 && TextWidth(string(r), face, h) > room {
		r = r[:len(r)-1]
		s = string(r) + "..."
		if TextWidth(s, face, h) <= room {
			return s
		}
	}
	return s
}

// short keeps the first ten signs of a fingerprint.
func short(s string) string {
	if len(s) > 10 {
		return s[:10]
	}
	return s
}

// projectionSign is the symbol of third-angle projection: the truncated cone's
// end view left of its side view (ISO 128-3, from memory).
func projectionSign(c geom.Vec2) []Item {
	l, r := pt(c.X-4.5, c.Y), pt(c.X+4.5, c.Y)
	side := geom.Path{{P: pt(r.X-3.5, r.Y-1.2)}, {P: pt(r.X+3.5, r.Y-2.4)}, {P: pt(r.X+3.5, r.Y+2.4)}, {P: pt(r.X-3.5, r.Y+1.2)}}
	return []Item{
		Circle{C: l, R: 2.4, Pen: Thin}, Circle{C: l, R: 1.2, Pen: Thin},
		Chain{Path: side, Closed: true, Pen: Thin},
		Line{pt(r.X-4.5, c.Y), pt(r.X+4.5, c.Y), Hair},
		Line{pt(l.X-3.2, c.Y), pt(l.X+3.2, c.Y), Hair}, Line{pt(l.X, c.Y-2.8), pt(l.X, c.Y+2.8), Hair},
	}
}

// content is what a sheet shows before it has a size.
type content struct {
	title Title
	// views draws the main views at a scale, round any origin; room is the
	// space they may take, for views that can be interrupted.
	views func(scale float64, room geom.Vec2) []Item
	// good is the length of views, mm, from which the small sheet will do even
	// below 1:2.
	good float64
	// most is the largest scale to use.
	most Scale
	// column holds tables stacked at the right, notes the text lower left.
	column []*Table
	notes  []string
}

// layout is one way to place a content.
type layout struct {
	paper   Paper
	scale   Scale
	view    geom.Box2 // bounds of the drawn views
	room    geom.Box2
	columnW float64
	notes   []string // wrapped
	notesH  float64
	fits    bool
}

const (
	blockGapMM = 6.0
	goodViewMM = 150.0 // a view this long is large enough for the small sheet
)

// compose sets the content on the user's paper, or on the next larger one when
// that shows it better, at the largest standard scale that fits; on a larger one
// still only when it fits on none of these. It errors when nothing fits.
func compose(c *content, paper Paper) (Sheet, error) {
	best := plan(c, paper)
	if big := plan(c, paper.larger()); !best.fits || (big.fits && best.scale.Factor() < 0.5 &&
		big.scale.Factor() > best.scale.Factor() && math.Max(width(best.view), height(best.view)) < math.Max(c.good, goodViewMM)) {
		best = big
	}
	for p := best.paper; !best.fits && p.larger() != p; {
		p = p.larger()
		best = plan(c, p)
	}
	if !best.fits {
		return Sheet{}, fmt.Errorf("drawing: %q does not fit on %s", c.title.Title, best.paper.Name)
	}
	return render(c, &best), nil
}

func plan(c *content, paper Paper) layout {
	l := layout{paper: paper}
	frame := frameBox(paper.H, paper.W) // lying
	colH := 0.0
	for i, t := range c.column {
		w, h := t.Size()
		l.columnW = math.Max(l.columnW, w)
		colH += h
		if i > 0 {
			colH += blockGapMM
		}
	}
	titleH := 3*titleRowMM + titleTopMM
	noteW := width(frame) - titleWMM - 2*3
	for i, n := range c.notes {
		for k, line := range Wrap(n, Regular, smallTextMM, noteW-4) {
			if k == 0 {
				line = fmt.Sprintf("%d  %s", i+1, line)
			} else {
				line = "    " + line
			}
			l.notes = append(l.notes, line)
		}
	}
	l.notesH = float64(len(l.notes))*smallTextMM*1.6 + 6
	bottom := math.Max(titleH, l.notesH)
	l.room = geom.Box2{Min: pt(frame.Min.X+4, frame.Min.Y+bottom+4), Max: pt(frame.Max.X-4, frame.Max.Y-4)}
	if l.columnW > 0 {
		l.room.Max.X -= l.columnW + blockGapMM
	}
	if colH > height(l.room) || width(l.room) < 20 {
		return l
	}
	for _, s := range Scales {
		if s.Factor() > c.most.Factor() {
			continue
		}
		b := Bounds(c.views(s.Factor(), pt(width(l.room), height(l.room))))
		if width(b) <= width(l.room) && height(b) <= height(l.room) {
			l.scale, l.view, l.fits = s, b, true
			return l
		}
	}
	return l
}

// render draws the planned sheet.
func render(c *content, l *layout) Sheet {
	s := Sheet{Title: c.title.Title, W: l.paper.H, H: l.paper.W}
	frame := frameBox(s.W, s.H)
	s.Add(box(frame.Min.X, frame.Min.Y, width(frame), height(frame), Border))
	t := c.title
	t.Scale = l.scale.String()
	if t.Sheets == 0 {
		t.Sheet, t.Sheets = 1, 1
	}
	block, titleH := titleBlock(pt(frame.Max.X, frame.Min.Y), &t)
	s.Add(block...)
	if len(l.notes) > 0 {
		y := frame.Min.Y + math.Max(titleH, l.notesH) - 2
		s.Add(Text{At: pt(frame.Min.X+3, y), S: "Notes", Height: textMM, Face: Bold, Anchor: LeftHigh})
		text, _ := paragraph(frame.Min.X+3, y-4.4, l.notes, Regular, smallTextMM)
		s.Add(text...)
	}
	y := l.room.Max.Y
	for _, tb := range c.column {
		_, h := tb.Size()
		s.Add(tb.Draw(pt(frame.Max.X-4-l.columnW, y))...)
		y -= h + blockGapMM
	}
	mid := l.room.Min.Add(l.room.Max).Mul(0.5)
	centre := l.view.Min.Add(l.view.Max).Mul(0.5)
	s.Add(Shift(c.views(l.scale.Factor(), pt(width(l.room), height(l.room))), mid.Sub(centre))...)
	return s
}
