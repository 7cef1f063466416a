package dxf

import (
	"clampwright/parts"
	"clampwright/parts/geom"
)

// FromFlat draws one flat part at 1:1: its profile on the cut layers, its marks
// on MARK. Holes that are drilled but not in the profile (a stiffener's, for
// example) are added to HOLES; those that are in it are not drawn twice.
func FromFlat(f parts.Flat, holes []parts.Hole) Drawing {
	var d Drawing
	d.AddProfile(f.Profile)
	for _, h := range holes {
		c := geom.Circle{C: h.C, R: h.DiaMM / 2}
		if !hasHole(d.Holes, c) {
			d.Holes = append(d.Holes, c)
		}
	}
	d.Marks.AddMarks(f.Marks)
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

// AddMarks adds the marks of a part, lettering with its base line at the mark's
// point.
func (s *Scribe) AddMarks(marks []parts.Mark) {
	for _, m := range marks {
		if m.Text == "" {
			s.Lines = append(s.Lines, Line{m.At, m.To})
			continue
		}
		s.Texts = append(s.Texts, Text{Value: m.Text, At: m.At, HeightMM: m.HeightMM})
	}
}
