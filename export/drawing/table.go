package drawing

import (
	"math"

	"clampwright/parts/geom"
)

// Table is a ruled table with an optional title line above it and an optional
// head.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
	// Right lists the columns set flush right: numbers.
	Right map[int]bool
}

const (
	rowMM     = 4.6
	cellPadMM = 1.2
)

// widths are the column widths that hold every cell.
func (t *Table) widths() []float64 {
	n := len(t.Head)
	for _, r := range t.Rows {
		n = max(n, len(r))
	}
	w := make([]float64, n)
	for i, h := range t.Head {
		w[i] = TextWidth(h, Bold, smallTextMM)
	}
	for _, r := range t.Rows {
		for i := range w {
			if i < len(r) {
				w[i] = math.Max(w[i], TextWidth(r[i], Regular, textMM))
			}
		}
	}
	for i := range w {
		w[i] += 2 * cellPadMM
	}
	return w
}

// fold sets rows beyond the given number beside the first ones.
func (t *Table) fold(rows int) *Table {
	blocks := (len(t.Rows) + rows - 1) / rows
	if blocks < 2 {
		return t
	}
	rows = (len(t.Rows) + blocks - 1) / blocks
	cols, f := len(t.Head), &Table{Title: t.Title, Right: map[int]bool{}}
	for b := 0; b < blocks; b++ {
		f.Head = append(f.Head, t.Head...)
		for c := range cols {
			f.Right[b*cols+c] = t.Right[c]
		}
	}
	for r := range rows {
		row := make([]string, 0, blocks*cols)
		for i := r; i < len(t.Rows); i += rows {
			row = append(row, t.Rows[i]...)
		}
		f.Rows = append(f.Rows, row)
	}
	return f
}

// Size is the table's width and height, mm.
func (t *Table) Size() (w, h float64) {
	for _, c := range t.widths() {
		w += c
	}
	h = float64(len(t.Rows)+t.heads()) * rowMM
	if t.Title != "" {
		w = math.Max(w, TextWidth(t.Title, Bold, textMM))
		h += rowMM
	}
	return w, h
}

// heads is the number of head rows.
func (t *Table) heads() int {
	if len(t.Head) > 0 {
		return 1
	}
	return 0
}

// Draw places the table with its upper left corner at p.
func (t *Table) Draw(p geom.Vec2) []Item {
	var out []Item
	if t.Title != "" {
		out = append(out, Text{At: pt(p.X, p.Y-rowMM+1.3), S: t.Title, Height: textMM, Face: Bold})
		p.Y -= rowMM
	}
	cols := t.widths()
	total := 0.0
	for _, c := range cols {
		total += c
	}
	bottom := p.Y - float64(len(t.Rows)+t.heads())*rowMM
	x := p.X
	for i, c := range cols {
		out = append(out, t.column(i, x, p.Y, c)...)
		if i > 0 {
			out = append(out, Line{pt(x, p.Y), pt(x, bottom), Thin})
		}
		x += c
	}
	for r := 1; r < len(t.Rows)+t.heads(); r++ {
		pen := Thin
		if r > t.heads() {
			pen = Hair
		}
		y := p.Y - float64(r)*rowMM
		out = append(out, Line{pt(p.X, y), pt(p.X+total, y), pen})
	}
	return append(out, box(p.X, bottom, total, p.Y-bottom, Thin))
}

func (t *Table) column(i int, x, top, w float64) []Item {
	place := func(row int, s string, h float64, f Face) Item {
		y := top - (float64(row)+0.5)*rowMM
		if t.Right[i] {
			return Text{At: pt(x+w-cellPadMM, y), S: s, Height: h, Face: f, Anchor: RightMid}
		}
		return Text{At: pt(x+cellPadMM, y), S: s, Height: h, Face: f, Anchor: LeftMid}
	}
	var out []Item
	if i < len(t.Head) {
		out = append(out, place(0, t.Head[i], smallTextMM, Bold))
	}
	for r, row := range t.Rows {
		if i < len(row) && row[i] != "" {
			out = append(out, place(r+t.heads(), row[i], textMM, Regular))
		}
	}
	return out
}

// box is a rectangle of lines.
func box(x, y, w, h float64, pen Pen) Item {
	return Chain{Path: rectPath(x, y, w, h), Closed: true, Pen: pen}
}

func rectPath(x, y, w, h float64) geom.Path {
	return geom.Path{{P: pt(x, y)}, {P: pt(x+w, y)}, {P: pt(x+w, y+h)}, {P: pt(x, y+h)}}
}

// paragraph sets lines of text below each other, the first one's capitals
// touching y from below, and returns the y under the last.
func paragraph(x, y float64, lines []string, face Face, h float64) ([]Item, float64) {
	var out []Item
	for _, l := range lines {
		out = append(out, Text{At: pt(x, y), S: l, Height: h, Face: face, Anchor: LeftHigh})
		y -= h * 1.6
	}
	return out, y
}
