package dxf

import (
	"clampwright/parts"
	"clampwright/parts/geom"
)

// FromFlat draws one flat part at 1:1, the lower left corner of its box at the
// origin, from where drawings and hole tables measure: its profile on the cut
// layers, its marks on MARK, lettering as strokes. Holes that are drilled but not in the profile (a stiffener's, for
// example) are added to HOLES; those that are in it are not drawn twice.
func FromFlat(f parts.Flat, holes []parts.Hole) Drawing {
	var d Drawing
	datum := f.Profile.Bounds().Min.Mul(-1)
	d.AddProfile(f.Profile.Moved(datum))
	for _, h := range holes {
		c := geom.Circle{C: h.C.Add(datum), R: h.DiaMM / 2}
		if !hasHole(d.Holes, c) {
			d.Holes = append(d.Holes, c)
		}
	}
	d.Marks.AddMarks(f.Marks, func(v geom.Vec2) geom.Vec2 { return v.Add(datum) })
	return d
}

// hasHole reports whether a hole about the same centre is there already,
// whatever its radius: two concentric holes are one.
func hasHole(cs []geom.Circle, c geom.Circle) bool {
	for _, o := range cs {
		if o.C.Dist(c.C) < sameMM {
			return true
		}
	}
	return false
}

// AddMarks adds the marks of a part as strokes, each point where place puts it.
func (s *Scribe) AddMarks(marks []parts.Mark, place func(geom.Vec2) geom.Vec2) {
	for _, m := range marks {
		if m.Text == "" {
			s.Lines = append(s.Lines, Line{place(m.At), place(m.To)})
			continue
		}
		for _, stroke := range Lettering(m.Text, m.At, m.HeightMM) {
			for i := range stroke {
				stroke[i].P = place(stroke[i].P)
			}
			s.Strokes = append(s.Strokes, stroke)
		}
	}
}
