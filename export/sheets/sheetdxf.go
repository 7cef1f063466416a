package sheets

import (
	"fmt"
	"math"

	"clampwright/assembly/nest"
	"clampwright/export/dxf"
	"clampwright/params/number"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Sizes of what is noted on a sheet, mm.
const (
	noteHeight = 8
	crossArm   = 2 // least arm of the cross at a hole to be drilled
)

// Drawing draws a sheet with its parts as they are cut. flats gives the parts by
// their ID. With a tool width above zero the outlines are moved by half of it,
// so that the middle of the tool runs on them; holes that it can't enter become
// crosses on MARK, other openings are drawn there. The sheet's own outline and
// name are on NOTE, its lower left corner is the origin.
func Drawing(l nest.SheetLayout, flats map[string]parts.Flat, toolMM float64) (dxf.Drawing, error) {
	var d dxf.Drawing
	for _, p := range l.Placed {
		f, ok := flats[p.ID]
		if !ok {
			return dxf.Drawing{}, fmt.Errorf("sheet %d: no flat part %s", l.Number, p.ID)
		}
		cut, err := Compensate(f.Profile, toolMM)
		if err != nil {
			return dxf.Drawing{}, fmt.Errorf("sheet %d, %s: %w", l.Number, p.ID, err)
		}
		newSpot(p, f.Profile).draw(&d, cut, f.Marks)
	}
	s := l.Sheet
	d.Notes.Paths = append(d.Notes.Paths, geom.Rect(geom.Vec2{}, geom.Vec2{X: s.Width.MM(), Y: s.Height.MM()}))
	d.Notes.Texts = append(d.Notes.Texts, dxf.Text{
		Value: fmt.Sprintf("sheet %d: %s %s mm, %s x %s mm", l.Number, s.Material,
			number.Length.Text(s.Thickness.MM()), number.Length.Text(s.Width.MM()), number.Length.Text(s.Height.MM())),
		At: geom.Vec2{Y: s.Height.MM() + noteHeight}, HeightMM: noteHeight,
	})
	return d, nil
}

// spot maps a part's own coordinates to the sheet.
type spot struct {
	turned bool
	shift  geom.Vec2
}

// newSpot puts the lower left corner of the part's box where the placement says.
func newSpot(p nest.Placement, profile geom.Profile) spot {
	s := spot{turned: p.Turned}
	if p.Turned {
		profile = profile.Turned(math.Pi / 2)
	}
	s.shift = p.At.Sub(profile.Bounds().Min)
	return s
}

func (s spot) point(v geom.Vec2) geom.Vec2 {
	if s.turned {
		v = v.Perp()
	}
	return v.Add(s.shift)
}

func (s spot) path(p geom.Path) geom.Path {
	if s.turned {
		p = p.Turned(math.Pi / 2)
	}
	return p.Moved(s.shift)
}

func (s spot) draw(d *dxf.Drawing, cut Cut, marks []parts.Mark) {
	d.Outlines = append(d.Outlines, s.path(cut.Profile.Outer))
	for _, p := range cut.Profile.Slots {
		d.Slots = append(d.Slots, s.path(p))
	}
	for _, c := range cut.Profile.Circles {
		d.Holes = append(d.Holes, geom.Circle{C: s.point(c.C), R: c.R})
	}
	for _, c := range cut.Drill {
		d.Marks.Lines = append(d.Marks.Lines, dxf.Cross(s.point(c.C), max(crossArm, c.R))...)
	}
	for _, p := range cut.ByHand {
		d.Marks.Paths = append(d.Marks.Paths, s.path(p))
	}
	d.Marks.AddMarks(marks, s.point)
}
