// Package shop makes the files that reach a machine, a drill or a bench: outlines to
// cut, parts to print, models, paper templates and drawings.
package shop

import (
	"fmt"
	"io"
	"slices"

	"clampwright/assembly/job"
	"clampwright/export/dxf"
	"clampwright/export/mesh"
	"clampwright/export/sheets"
	"clampwright/export/views"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
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

// Files are all files of a job, in a fixed order.
func Files(j *job.Job, v *views.Views) []File {
	d := draughtsman{j, v}
	return slices.Concat(flats(j), models(j, v), steps(j), d.papers(), d.drawings(), nested(j))
}

// flats plans a DXF for every distinct part cut from sheet, and for the drilled
// leg of every angle.
func flats(j *job.Job) (out []File) {
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		if p.Flat == nil || p.Make == parts.MakeBuy || p.Make != parts.MakeSheet && p.Kind != parts.KindLink {
			continue
		}
		out = append(out, File{p.ID, "cut/" + p.ID + ".dxf", p.Name + ", outline 1:1", func(w io.Writer) error { return dxf.Encode(w, dxf.FromFlat(*p.Flat, p.Holes)) }})
	}
	return out
}

// models plans an STL for every part, and one of the whole.
func models(j *job.Job, v *views.Views) (out []File) {
	for _, l := range j.Assembly.PartsList() {
		p := l.Part
		if p.Solid.Empty() || p.Make == parts.MakeOwn {
			continue
		}
		dir := "model/"
		if p.Make == parts.MakePrint {
			dir = "print/"
			out = append(out, File{p.ID, dir + p.ID + ".3mf", p.Name + ", to print", func(w io.Writer) error {
				m, err := partMesh(p)
				if err != nil {
					return err
				}
				return mesh.Encode3MF(w, p.Name, mesh.Body{Name: p.Name, Mesh: m})
			}})
		}
		out = append(out, File{p.ID, dir + p.ID + ".stl", p.Name, func(w io.Writer) error {
			m, err := partMesh(p)
			if err != nil {
				return err
			}
			return mesh.EncodeSTL(w, p.ID, m)
		}})
	}
	return append(out, File{"", "model/assembly.stl", "the whole fixture with its cells", func(w io.Writer) error { return assemblySTL(w, j, v) }})
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
func assemblySTL(w io.Writer, j *job.Job, v *views.Views) error {
	coarse, err := v.Meshes()
	if err != nil {
		return err
	}
	var bodies []geom.Mesh
	for i := range j.Assembly.Instances {
		in := &j.Assembly.Instances[i]
		bodies = append(bodies, coarse[in.Part].Transform(in.Frame))
	}
	return mesh.EncodeSTL(w, j.Fixture.Name, bodies...)
}

// nested plans a DXF for every nested sheet.
func nested(j *job.Job) (out []File) {
	flats := j.Assembly.Flats()
	for _, l := range j.Nest.Sheets.Layouts {
		name := fmt.Sprintf("cut/sheet-%d.dxf", l.Number)
		out = append(out, File{"", name, fmt.Sprintf("sheet %d, %s, with its parts", l.Number, l.Sheet.Material), func(w io.Writer) error {
			d, err := sheets.Drawing(l, flats, toolWidth(j.Fixture))
			if err != nil {
				return err
			}
			return dxf.Encode(w, d)
		}})
	}
	return out
}

// toolWidth is by what the outlines of nested sheets are compensated, mm.
func toolWidth(f *params.Fixture) float64 {
	if !f.Stock.Compensate {
		return 0
	}
	if w := f.Stock.BeamKerf.MM(); w > 0 {
		return w
	}
	return f.Tools.Cutter.MM()
}
