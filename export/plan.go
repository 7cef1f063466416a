package export

import (
	"bytes"
	"io"

	"clampwright/export/folder"
	"clampwright/export/page"
	"clampwright/export/shop"
)

// Options of one run.
type Options struct {
	Program string // name and version, for the foot of the page
	Cut     bool   // write what reaches a machine or a drill: cut, print, model, paper, drawings

	// Elsewhere, when not nil, takes every file that report and build sheet list,
	// with the part it is of (empty: of the fixture), and returns the name to list
	// it by.
	Elsewhere func(part, name string, encode func(io.Writer) error) (string, error)
}

// Plan lists every artifact of the job. Files that reach a machine are left out
// unless o.Cut is set. It fails when an artifact can't be made.
func (j *Job) Plan(o Options) (folder.Plan, error) {
	var plan folder.Plan
	files := map[string][]string{} // of each part
	var listed []page.File
	if o.Cut {
		for _, f := range shop.Files(j.Job, j.views) {
			name, err := f.Name, error(nil)
			if o.Elsewhere == nil {
				plan.Add(name, f.Encode)
			} else if name, err = o.Elsewhere(f.Part, name, f.Encode); err != nil {
				return folder.Plan{}, err
			}
			if f.Part != "" {
				files[f.Part] = append(files[f.Part], name)
			}
			listed = append(listed, page.File{Name: name, What: f.What})
		}
	}
	plan.Add("parts.csv", j.encodeParts)
	plan.Add("cuts.csv", j.encodeCuts)
	plan.Add("report.json", j.encodeReport(files))
	plan.Add("build-sheet.html", func(w io.Writer) error { return page.Encode(w, j.sheet(o, listed)) })
	return plan, nil
}

// ReportJSON is the report alone, as 'make' writes it but without file names and
// sealed.
func (j *Job) ReportJSON() ([]byte, error) {
	r := j.Report(nil)
	r.Digest = folder.Unsealed
	var b bytes.Buffer
	err := encodeJSON(&b, r)
	return folder.Seal(b.Bytes()), err
}
