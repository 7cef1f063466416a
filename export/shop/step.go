package shop

import (
	"io"

	"clampwright/assembly/job"
	"clampwright/export/mark"
	"clampwright/export/page"
	"clampwright/export/step"
	"clampwright/export/views"
	"clampwright/parts"
)

// steps plans a STEP file for every part that is made, and one of the whole.
func steps(j *job.Job) (out []planned) {
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		if p.Solid.Empty() || p.Make == parts.MakeOwn || p.Make == parts.MakeBuy {
			continue
		}
		name := "step/" + p.ID + ".step"
		what := p.Name + ", exact solid"
		if p.Make == parts.MakePrint {
			what = p.Name + ", solid of flat facets"
		}
		out = append(out, planned{p.ID, name, what, func(w io.Writer, m mark.Mark) error {
			return step.Encode(w, step.Model{Name: p.Name, File: p.ID + ".step", About: []string{m.Line()}, By: m.Program(), Shapes: []step.Shape{shapeOf(j, p)}})
		}})
	}
	return append(out, planned{"", "step/assembly.step", "the whole fixture with its cells, as products in their places", func(w io.Writer, m mark.Mark) error {
		return step.Encode(w, assemblySTEP(j, m))
	}})
}

// shapeOf is a part in the colour of its kind.
func shapeOf(j *job.Job, p *parts.Part) step.Shape {
	class := page.Printed
	for i := range j.Assembly.Instances {
		if in := &j.Assembly.Instances[i]; in.Part == p {
			class = views.Class(in.Role)
			break
		}
	}
	name := p.Name
	if p.Mark != "" {
		name += " " + p.Mark
	}
	return step.Shape{Name: name, Solid: p.Solid, Colour: page.Colour(class)}
}

// assemblySTEP is every instance at its place, each distinct part once.
func assemblySTEP(j *job.Job, of mark.Mark) step.Model {
	m := step.Model{Name: j.Fixture.Plain, File: "assembly.step", About: []string{of.Line()}, By: of.Program()}
	at := map[*parts.Part]int{}
	for i := range j.Assembly.Instances {
		in := &j.Assembly.Instances[i]
		k, ok := at[in.Part]
		if !ok {
			k = len(m.Shapes)
			at[in.Part] = k
			m.Shapes = append(m.Shapes, shapeOf(j, in.Part))
		}
		m.Places = append(m.Places, step.Place{Name: in.ID, Shape: k, Frame: in.Frame})
	}
	return m
}
