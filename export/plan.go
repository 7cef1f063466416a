package export

import (
	"bytes"
	"fmt"
	"io"

	"clampwright/export/dxf"
	"clampwright/export/folder"
	"clampwright/export/mesh"
	"clampwright/export/page"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// ChordErrorMM is how far a mesh's chords may lie inside a round surface in the
// STL files, mm.
const ChordErrorMM = 0.01

// assemblyChordMM is the same for the picture on the page and for
// assembly.stl, which nobody cuts or prints.
const assemblyChordMM = 0.1

// Options of one run.
type Options struct {
	InputName string // the parameter file, as the user named it
	Program   string // name and version, for the foot of the page
	Cut       bool   // write what reaches a machine or a drill: cut, print, model, paper, drawings

	// Elsewhere, when not nil, takes every file that report and build sheet list,
	// with the part it is of (empty: of the fixture), and returns the name to list
	// it by.
	Elsewhere func(part, name string, encode func(io.Writer) error) (string, error)
}

// Plan lists every artifact of the job. Files that reach a machine are left out
// unless o.Cut is set. It fails when an artifact can't be made.
func (j *Job) Plan(o Options) (folder.Plan, error) {
	b := &planner{job: j, options: o, files: map[string][]string{}}
	if o.Cut {
		steps := []func() error{b.flats, b.models, b.papers, b.drawings, b.sheets}
		for _, step := range steps {
			if err := step(); err != nil {
				return folder.Plan{}, err
			}
		}
	}
	if b.err != nil {
		return folder.Plan{}, b.err
	}
	b.plan.Add("parts.csv", j.encodeParts)
	b.plan.Add("cuts.csv", j.encodeCuts)
	b.plan.Add("report.json", j.encodeReport(b.files))
	b.plan.Add("build-sheet.html", func(w io.Writer) error { return page.Encode(w, b.sheet()) })
	return b.plan, nil
}

// ReportJSON is the report alone, as 'make' writes it but without file names.
func (j *Job) ReportJSON() ([]byte, error) {
	var b bytes.Buffer
	err := j.encodeReport(nil)(&b)
	return b.Bytes(), err
}

// planner collects the artifacts of one run.
type planner struct {
	job     *Job
	options Options
	plan    folder.Plan
	files   map[string][]string // part id -> files
	listed  []page.File
	err     error // of the first file that could not be put elsewhere
}

// add plans one file of a part; what says in words what it is, once per kind.
func (b *planner) add(part, name, what string, encode func(io.Writer) error) {
	if e := b.options.Elsewhere; e != nil {
		at, err := e(part, name, encode)
		if err != nil && b.err == nil {
			b.err = err
		}
		name = at
	} else {
		b.plan.Add(name, encode)
	}
	if part != "" {
		b.files[part] = append(b.files[part], name)
	}
	b.listed = append(b.listed, page.File{Name: name, What: what})
}

// flats plans a DXF for every distinct part cut from sheet, and for the drilled
// leg of every angle.
func (b *planner) flats() error {
	for _, l := range b.job.Assembly.PartsList() {
		p := l.Part
		if p.Flat == nil || p.Make != parts.MakeSheet && p.Kind != parts.KindLink {
			continue
		}
		b.add(p.ID, "cut/"+p.ID+".dxf", p.Name+", outline 1:1", func(w io.Writer) error { return dxf.Encode(w, dxf.FromFlat(*p.Flat, p.Holes)) })
	}
	return nil
}

// models plans an STL for every part, and one of the whole.
func (b *planner) models() error {
	for _, l := range b.job.Assembly.PartsList() {
		p := l.Part
		if p.Solid.Empty() || p.Make == parts.MakeOwn {
			continue
		}
		dir := "model/"
		if p.Make == parts.MakePrint {
			dir = "print/"
			b.add(p.ID, dir+p.ID+".3mf", p.Name+", to print", func(w io.Writer) error {
				m, err := partMesh(p)
				if err != nil {
					return err
				}
				return mesh.Encode3MF(w, p.Name, mesh.Body{Name: p.Name, Mesh: m})
			})
		}
		b.add(p.ID, dir+p.ID+".stl", p.Name, func(w io.Writer) error {
			m, err := partMesh(p)
			if err != nil {
				return err
			}
			return mesh.EncodeSTL(w, p.ID, m)
		})
	}
	b.add("", "model/assembly.stl", "the whole fixture with its cells", b.assemblySTL)
	return nil
}

// partMesh is a part's fine mesh: as it lies on the printer's bed, or as modelled.
func partMesh(p *parts.Part) (geom.Mesh, error) {
	m, err := p.Solid.Mesh(ChordErrorMM)
	if err == nil && p.Print != nil {
		m = placed(m, p.Print.Lie)
	}
	return m, err
}

// assemblySTL writes every instance at its place, each a body of its own.
func (b *planner) assemblySTL(w io.Writer) error {
	shared, err := b.job.meshes()
	if err != nil {
		return err
	}
	var bodies []geom.Mesh
	for i := range b.job.Assembly.Instances {
		in := &b.job.Assembly.Instances[i]
		bodies = append(bodies, placed(shared[in.Part], in.Frame))
	}
	return mesh.EncodeSTL(w, b.job.Fixture.Name, bodies...)
}

// meshes are the coarse meshes of the distinct parts, made once.
func (j *Job) meshes() (map[*parts.Part]geom.Mesh, error) {
	j.meshOnce.Do(func() {
		j.coarse = map[*parts.Part]geom.Mesh{}
		for _, p := range j.Assembly.Parts {
			m, err := p.Solid.Mesh(assemblyChordMM)
			if err != nil {
				j.meshErr = fmt.Errorf("mesh of %s: %w", p.ID, err)
				return
			}
			j.coarse[p] = m
		}
	})
	return j.coarse, j.meshErr
}

func placed(m geom.Mesh, f geom.Frame) geom.Mesh {
	out := geom.Mesh{Vertices: make([]geom.Vec3, len(m.Vertices)), Triangles: m.Triangles}
	for i, v := range m.Vertices {
		out.Vertices[i] = f.Point(v)
	}
	return out
}
