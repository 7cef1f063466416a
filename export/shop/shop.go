// Package shop makes the files that reach a machine, a drill or a bench: outlines to
// cut, parts to print, models, paper templates and drawings.
package shop

import (
	"cmp"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"clampwright/assembly/job"
	"clampwright/export/dxf"
	"clampwright/export/mark"
	"clampwright/export/mesh"
	"clampwright/export/sheets"
	"clampwright/export/views"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed"
)

// ChordErrorMM is how far a mesh's chords may lie inside a round surface in the
// STL files, mm.
const ChordErrorMM = 0.01

// File is one file to make.
type File struct {
	Part       string // the id of the part it is of; empty: of the fixture
	Name, What string // what says in words what it is
	Encode     func(io.Writer) error
}

// planned is a file before it has its mark.
type planned struct {
	part, name, what string
	encode           func(io.Writer, mark.Mark) error
}

// OwnFile says whether a part's file shows the part and nothing of the fixture round
// it.
func OwnFile(name string) bool {
	dir, _, _ := strings.Cut(name, "/")
	return dir == "cut" || dir == "print" || dir == "model" || dir == "step"
}

// Files are all files of a job, in a fixed order, each with its mark and sealed. What
// shows parts alone is marked by the name of the family: variants share it.
func Files(j *job.Job, v *views.Views, m mark.Mark, family string) (out []File) {
	d := draughtsman{j, v}
	marks := map[string]string{}
	for _, l := range j.Assembly.PartsList() {
		marks[l.Part.ID] = l.Part.Mark
	}
	for _, p := range slices.Concat(cuts(j), models(j, v), steps(j), d.papers(), d.drawings()) {
		of := m.Of(cmp.Or(marks[p.part], p.part, strings.TrimSuffix(path.Base(p.name), path.Ext(p.name))))
		if OwnFile(p.name) && (p.part != "" || strings.HasPrefix(p.name, "cut/")) {
			of.Fixture = family
		}
		out = append(out, File{p.part, p.name, p.what, mark.Sealed(func(w io.Writer) error { return p.encode(w, of) })})
	}
	return out
}

// models plans an STL for every part, and one of the whole.
func models(j *job.Job, v *views.Views) (out []planned) {
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		if p.Solid.Empty() || p.Make == parts.MakeOwn {
			continue
		}
		dir := "model/"
		if p.Make == parts.MakePrint {
			dir = "print/"
			out = append(out, planned{p.ID, dir + p.ID + ".3mf", p.Name + ", to print", func(w io.Writer, m mark.Mark) error {
				shape, err := partMesh(p)
				if err != nil {
					return err
				}
				return mesh.Encode3MF(w, p.Name, m.Line()+"\n"+words.Upper(printed.Advice(p))+".", mesh.Body{Name: p.Name, Mesh: shape})
			}})
		}
		out = append(out, planned{p.ID, dir + p.ID + ".stl", p.Name, func(w io.Writer, m mark.Mark) error {
			shape, err := partMesh(p)
			if err != nil {
				return err
			}
			return mesh.EncodeSTL(w, m.Within(mesh.NameBytes), shape)
		}})
	}
	return append(out, planned{"", "model/assembly.stl", "the whole fixture with its cells", func(w io.Writer, m mark.Mark) error { return assemblySTL(w, j, v, m) }})
}

// partMesh is a part's fine mesh: as it lies on the printer's bed, or as modelled.
func partMesh(p *parts.Part) (geom.Mesh, error) {
	m, err := p.Solid.Mesh(ChordErrorMM)
	if err == nil && p.Print != nil {
		m = m.Transform(p.Print.Lie)
	}
	return m, err
}

// assemblySTL writes every instance at its place, each a body of its own.
func assemblySTL(w io.Writer, j *job.Job, v *views.Views, m mark.Mark) error {
	coarse, err := v.Meshes()
	if err != nil {
		return err
	}
	var bodies []geom.Mesh
	for i := range j.Assembly.Instances {
		in := &j.Assembly.Instances[i]
		bodies = append(bodies, coarse[in.Part].Transform(in.Frame))
	}
	return mesh.EncodeSTL(w, m.Within(mesh.NameBytes), bodies...)
}

// cuts plans a DXF for every distinct part that is cut from sheet, for every link and for
// every nested sheet: by the edges that are left and, where it is asked for, all that a
// machine cuts again by the middle of its tool.
func cuts(j *job.Job) (out []planned) {
	flats, m, mm := j.Assembly.Flats(), j.Nest.Machining, number.Length.Text(j.Nest.Machining.ToolMM)
	tool := fmt.Sprintf("%s-%smm", m.Tool(), mm)
	file := func(part, id, what string, d func(middle bool) dxf.Drawing, machined bool) {
		for _, middle := range []bool{false, true} {
			name := "cut/" + id + ".dxf"
			if middle && !(machined && j.Fixture.Stock.Compensate) {
				return
			}
			if middle {
				name, what = fmt.Sprintf("cut/compensated-%s/%s-%[1]s.dxf", tool, id), fmt.Sprintf("%s, path of the middle of a %s of %s mm", what, m.Tool(), mm)
			}
			out = append(out, planned{part, name, what, func(w io.Writer, k mark.Mark) error {
				x := d(middle)
				for i, t := range x.Notes.Texts { // the machine reads millimetres
					x.Notes.Texts[i].Value = j.Fixture.Style.SayBoth(t.Value)
				}
				return dxf.Encode(w, noted(x, k))
			}})
		}
	}
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		if p.Flat == nil || p.Joined || p.Make == parts.MakeBuy || p.Make != parts.MakeSheet && p.Kind != parts.KindLink {
			continue
		}
		file(p.ID, p.ID, p.Name+", outline 1:1", func(middle bool) dxf.Drawing { return sheets.Part(m, p, middle) }, m.On(p) != params.HandTools)
	}
	for _, s := range m.Sheets {
		file("", fmt.Sprintf("sheet-%d", s.Number), fmt.Sprintf("sheet %d, %s, with its parts", s.Number, s.Sheet.Material), func(middle bool) dxf.Drawing {
			return sheets.Drawing(m.Of(s), s, flats, middle)
		}, !s.Hand)
	}
	return out
}
