package shop

import (
	"math"

	"clampwright/export/drawing"
	"clampwright/export/dxf"
	"clampwright/export/mark"
	"clampwright/parts/geom"
)

const (
	markMM   = 2.0 // height of the mark's words
	marginMM = 7.2 // their foot above the paper's edge: what printers reach, outside frames
	// acrossOf is how much of the diagonal the words across a face that is not
	// released take, and advance a letter's width of its height.
	acrossOf, advance = 0.8, 0.9
)

// noted puts the mark into a drawing: as its comment, as words on NOTE within the
// outlines, and across the face of what is not released.
func noted(d dxf.Drawing, m mark.Mark) dxf.Drawing {
	d.About = m.Line()
	box := geom.EmptyBox2()
	for _, o := range d.Outlines {
		box = box.Union(o.Bounds())
	}
	if len(d.Outlines) == 0 { // a sheet that is its part already: between its corners
		for _, t := range d.Notes.Texts {
			box = box.Add(t.At)
		}
	}
	words := m.Words()
	wide, long := box.Size(), advance*float64(len([]rune(words)))
	high := max(0.1, min(markMM, wide.X/(long+2), wide.Y/3))
	d.Notes.Texts = append(d.Notes.Texts, dxf.Text{Value: words, At: box.Min.Add(geom.Vec2{X: high, Y: high}), HeightMM: high})
	if !m.Released() {
		d.Notes.Texts = append(d.Notes.Texts, dxf.Text{Value: mark.NotReleased, At: box.Center(), Turn: wide.Angle(), Centred: true,
			HeightMM: acrossOf * wide.Len() / advance / float64(len(mark.NotReleased))})
	}
	return d
}

// stamped puts the mark's words into the lower margin of sheets, and in open
// strokes, which hide nothing, across the face of what is not released.
func stamped(sheets []drawing.Sheet, m mark.Mark) []drawing.Sheet {
	for i := range sheets {
		s := &sheets[i]
		s.Items = append([]drawing.Item{}, s.Items...) // the sheet's own may be shared
		s.Add(drawing.Text{At: geom.Vec2{X: 2 * marginMM, Y: marginMM}, S: m.Words(), Height: markMM})
		if m.Released() {
			continue
		}
		page := geom.Vec2{X: s.W, Y: s.H}
		high := acrossOf * page.Len() / advance / float64(len(mark.NotReleased))
		sin, cos := math.Sincos(page.Angle())
		middle := geom.Vec2{X: -acrossOf * page.Len() / 2, Y: -high / 2}
		for _, p := range dxf.Lettering(mark.NotReleased, middle, high) {
			for k, v := range p {
				p[k].P = page.Mul(0.5).Add(geom.Vec2{X: cos*v.P.X - sin*v.P.Y, Y: sin*v.P.X + cos*v.P.Y})
			}
			s.Add(drawing.Chain{Path: p, Pen: drawing.Visible})
		}
	}
	return sheets
}
