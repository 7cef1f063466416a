// Package export plans the files of a job: what the workshop cuts, prints and reads,
// written by package folder, all or nothing. It computes nothing.
package export

import (
	"bytes"
	"io"
	"path"
	"strings"
	"sync"

	"clampwright/assembly/job"
	"clampwright/export/folder"
	"clampwright/export/lists"
	"clampwright/export/mark"
	"clampwright/export/page"
	"clampwright/export/report"
	"clampwright/export/shop"
	"clampwright/export/tell"
	"clampwright/export/views"
	"clampwright/params/words"
)

// Options of one run.
type Options struct {
	Version int    // the program's: mark.Version
	Fixture string // name in the marks of files that variants share; empty: the job's own
	Cut     bool   // write what reaches a machine or a drill: cut, print, model, paper, drawings

	// Elsewhere, when not nil, takes every file that report and build sheet list,
	// with the part it is of (empty: of the fixture), and returns the name to list
	// it by. Report and documents are then not sealed yet: whoever puts other names
	// in seals them.
	Elsewhere func(part, name string, encode func(io.Writer) error) (string, error)
}

// Plan lists every artifact of the job. Files that reach a machine are left out
// unless o.Cut is set. It fails when an artifact can't be made.
func Plan(j *job.Job, o Options) (folder.Contents, error) {
	v := views.New(j.Assembly)
	m := mark.New(o.Version, j.Fixture.InputSHA256, string(j.Verdict()), j.Fixture.Plain)
	plan, sealed := folder.Contents{Ours: Ours}, mark.Sealed
	if o.Elsewhere != nil {
		sealed = func(encode func(io.Writer) error) func(io.Writer) error { return encode }
	}
	files := map[string][]string{} // of each part
	var listed []page.File
	var cut folder.Contents // begun last: the documents take longest
	if o.Cut {
		for _, f := range shop.Files(j, v, m, words.First(o.Fixture, j.Fixture.Plain)) {
			name, err := f.Name, error(nil)
			if o.Elsewhere == nil {
				cut.Add(name, f.Encode)
			} else if name, err = o.Elsewhere(f.Part, name, f.Encode); err != nil {
				return folder.Contents{}, err
			}
			if f.Part != "" {
				files[f.Part] = append(files[f.Part], name)
			}
			listed = append(listed, page.File{Name: name, What: f.What})
		}
	}
	sheet := sync.OnceValue(func() page.Documents { return tell.Sheet(j, v, m.Program(), listed) })
	for _, d := range page.Docs {
		plan.Add(string(d.Doc), sealed(func(w io.Writer) error {
			s := sheet()
			s.Mark = m.Of(strings.TrimSuffix(string(d.Doc), path.Ext(string(d.Doc)))).Line()
			return page.Encode(w, s, d.Doc)
		}))
	}
	plan.Add("parts.csv", func(w io.Writer) error { return lists.Parts(w, j) })
	plan.Add("cuts.csv", func(w io.Writer) error { return lists.Cuts(w, j) })
	plan.Add("report.json", sealed(func(w io.Writer) error { return report.Encode(w, j, o.Version, files) }))
	plan.Artifacts = append(plan.Artifacts, cut.Artifacts...)
	return plan, nil
}

// openings are what the files without a seal begin with.
var openings = map[string]string{
	"parts.csv":   "mark,part,kind,quantity,",
	"cuts.csv":    "mark,part,quantity,cut,",
	"summary.csv": strings.Join(SummaryHead, ","),
}

// Ours says by its content whether a file is one that this program makes.
func Ours(name string, content []byte) bool {
	opening := openings[path.Base(name)]
	return opening != "" && bytes.HasPrefix(content, []byte(opening)) || mark.IsSealed(content)
}
