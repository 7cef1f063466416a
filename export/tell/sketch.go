package tell

import (
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/export/page"
	"clampwright/export/views"
	"clampwright/params/number"
	"clampwright/parts/geom"
)

// sketch draws the two things a check lies between, in the view that shows them
// largest, with the place marked. Nil when they are not two things of the
// assembly or its tools.
func sketch(j *job.Job, v *views.Views, c finding.Finding) *page.Sketch {
	if c.Verdict == finding.Pass || c.At == nil || len(c.Between) < 2 {
		return nil
	}
	a, b := thing(j, c.Between[0]), thing(j, c.Between[1])
	if a == nil || b == nil {
		return nil
	}
	var best *page.Sketch
	size := 0.0
	for _, side := range []struct {
		name string
		look views.Look
	}{{"seen from the front, along the stack", views.Front}, {"seen from the right", views.Side}, {"seen from above", views.Top}} {
		s, s2 := sketchIn(j, v, side.look, a, b), 0.0
		if s == nil {
			continue
		}
		if s2 = extent(s); best == nil || s2 < size {
			at, _ := side.look(*c.At)
			s.Caption = strings.Join(things(c.Between), " and ") + ", " + side.name
			s.Points = []page.SketchPoint{{At: at, Label: number.Trim(c.Have, 2) + " " + c.Unit}}
			best, size = s, s2
		}
	}
	return best
}

// thing is an instance or a tool by its name.
func thing(j *job.Job, id string) *assembly.Instance {
	for i := range j.Assembly.Instances {
		if j.Assembly.Instances[i].ID == id {
			return &j.Assembly.Instances[i]
		}
	}
	for i := range j.Assembly.Tools {
		if j.Assembly.Tools[i].ID == id {
			return &j.Assembly.Tools[i].Instance
		}
	}
	return nil
}

func sketchIn(j *job.Job, v *views.Views, look views.Look, a, b *assembly.Instance) *page.Sketch {
	s := &page.Sketch{}
	for i, in := range []*assembly.Instance{a, b} {
		out := v.Silhouette(in, look)
		if len(out) < 3 {
			return nil
		}
		var line page.Polyline
		for _, v := range out {
			line = append(line, v.P)
		}
		s.Shapes = append(s.Shapes, page.SketchShape{Label: things([]string{in.ID})[0], Role: []page.Role{page.First, page.Second}[i], Outlines: []page.Polyline{line}})
	}
	return s
}

// extent is the longer side of a sketch's box, mm.
func extent(s *page.Sketch) float64 {
	first := s.Shapes[0].Outlines[0][0]
	lo, hi := first, first
	for _, sh := range s.Shapes {
		for _, p := range sh.Outlines[0] {
			lo = geom.Vec2{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
			hi = geom.Vec2{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
		}
	}
	return max(hi.X-lo.X, hi.Y-lo.Y)
}
