// Package trace tells of files that come back from the shop which run each is of: by
// the mark in it, its seal, and the list and the report that lie beside it. That they
// agree says nothing of a part's safety.
package trace

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"

	"clampwright/export/mark"
)

// State is what is found of one file.
type State string

// The states. Only the first needs no look.
const (
	Agrees      State = "agrees"       // mark and digest agree
	Edited      State = "edited"       // changed since this program wrote it
	Missing     State = "missing"      // listed and not there
	Foreign     State = "foreign"      // no mark, in no list or not by what it holds
	OtherRun    State = "other run"    // whole, of another input
	NotReleased State = "not released" // whole, made over a failing check
	Otherwise   State = "otherwise"    // whole, this program would make it otherwise
)

// Row is one file with what is found of it.
type Row struct {
	Name  string
	Mark  mark.Mark // empty where the file has none
	State State
	Note  string // what to know besides; may be empty
	opens bool   // as a list of this program, which has no mark
}

// Remake makes every file of the parameter file at hand anew, marked with a version.
type Remake func(version int) (map[string][]byte, error)

// Ours says by what a file holds whether this program can have made it: a list can have
// been put there by anybody.
type Ours func(name string, content []byte) bool

// Files judges files against a run: theirs by majority where run is empty. Without
// remake nothing is said of what this program would make.
func Files(files []File, run mark.Mark, ours Ours, remake Remake) (mark.Mark, []Row, error) {
	rows := make([]Row, len(files))
	count := map[mark.Mark]int{}
	for i, f := range files {
		rows[i] = f.row(ours)
		if m := rows[i].Mark.Of(""); m.Input != "" && m.Fixture != "" {
			count[m]++
		}
	}
	if run.Input == "" {
		for _, r := range rows { // the first of those that most files are of
			if m := r.Mark.Of(""); count[m] > count[run] {
				run = m
			}
		}
	}
	of := 0 // version that the files were made by
	for _, r := range rows {
		of = cmp.Or(of, r.Mark.Version)
	}
	made := map[int]map[string][]byte{}
	for i := range rows {
		r := &rows[i]
		list := r.Mark.Input == "" && (files[i].Listed != "" || r.opens) // no mark in it: only by what is made again
		if list && r.opens && remake != nil {
			r.State, r.Note = Agrees, ""
		}
		if r.State != Agrees || r.Mark.Input == "" && (!list || remake == nil) {
			continue
		}
		v := cmp.Or(r.Mark.Version, of, mark.Version())
		if !list {
			r.against(run)
		}
		if remake != nil && (r.State != OtherRun || r.Mark.Fixture == run.Fixture) {
			if made[v] == nil {
				var err error
				if made[v], err = remake(v); err != nil {
					return run, nil, err
				}
			}
			r.remade(files[i], made[v])
		} else if v != mark.Version() {
			r.add("made by version %d of the program, this is %d; with --params FILE it says what would change", v, mark.Version())
		}
	}
	return run, rows, nil
}

func (r *Row) add(format string, args ...any) {
	r.Note = strings.TrimPrefix(r.Note+"; "+fmt.Sprintf(format, args...), "; ")
}

// row is what a file and its line in the list say by themselves.
func (f File) row(ours Ours) Row {
	r := Row{Name: f.Name, State: Agrees}
	m, sealed, marked := mark.Find(f.Data)
	r.Mark = m
	listed := f.Listed == fmt.Sprintf("%x", sha256.Sum256(f.Data))
	switch {
	case f.Missing:
		r.State = Missing
	case marked && !sealed:
		r.State = Edited
		if _, plain, _ := mark.Find(bytes.ReplaceAll(f.Data, []byte("\r\n"), []byte("\n"))); plain {
			r.add("only the ends of its lines were changed")
		}
	case !marked && f.Listed == "":
		if r.State = Foreign; ours(f.Name, f.Data) {
			r.opens = true
			r.add("begins as a list of this program; whose, only the folder that it was in can tell, or --params FILE")
		}
	case !marked && listed && !ours(f.Name, f.Data):
		r.State = Foreign
		r.add("the folder's list names it, but this program makes no such file")
	case f.Listed != "" && !listed && !marked:
		r.State = Edited
	case f.Listed != "" && !listed:
		r.add("whole, but not the file that the folder's list names")
		r.State = OtherRun
	}
	return r
}

// against compares a whole file's mark with the run.
func (r *Row) against(run mark.Mark) {
	switch {
	case r.Mark.Input != run.Input:
		r.State = OtherRun
		r.add("of %s, input %s", cmp.Or(r.Mark.Fixture, "another fixture"), r.Mark.Input)
	case !r.Mark.Released():
		r.State = NotReleased
		r.add("made over a failing check")
	}
}

// remade compares a file with what this program would make in its place.
func (r *Row) remade(f File, files map[string][]byte) {
	var best []byte
	for _, name := range slices.Sorted(maps.Keys(files)) {
		m, _, _ := mark.Find(files[name])
		switch {
		case bytes.Equal(files[name], f.Data):
			return
		case path.Base(name) == path.Base(f.Name) && (best == nil || strings.HasSuffix(f.Name, name)),
			best == nil && path.Ext(name) == path.Ext(f.Name) && m.Part == r.Mark.Part:
			best = files[name]
		}
	}
	if r.State == Agrees {
		r.State = Otherwise
	}
	if best == nil {
		r.add("this program makes no such file")
		return
	}
	if m, _, _ := mark.Find(best); m.Verdict != r.Mark.Verdict {
		r.add("the verdict was %s and is %s", r.Mark.Verdict, m.Verdict)
	}
	was, is := facts(f.Name, f.Data), facts(f.Name, best)
	switch {
	case was == is && was != "" && r.State == OtherRun: // its mark differs in any case
		r.add("made of the parameters as they are now it has the same: %s", was)
	case was != is:
		r.add("this program makes it otherwise: %s becomes %s", was, is)
	case was != "":
		r.add("this program makes it otherwise, still with %s", was)
	default:
		r.add("this program makes it otherwise")
	}
}
