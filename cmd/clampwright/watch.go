package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"clampwright/assembly/finding"
	"clampwright/export"
	"clampwright/export/compare"
	"clampwright/export/live"
	"clampwright/export/tell"
	"clampwright/params"
)

// watch makes the file now and after every save of it or of the records it names, a
// line for each run saying what changed, until ctx ends. A run that fails says why
// and the watch goes on; files that can't be looked at end it.
func watch(ctx context.Context, ui *console, name, out string, anyway bool) error {
	info, err := os.Stat(name)
	switch {
	case err != nil:
		_, err = readInput(ctx, name)
		return err
	case !info.Mode().IsRegular():
		return &outcome{exitInput, name + " can't be watched: it is no file that is saved again"}
	}
	ui.say("watching %s; press Ctrl-C to end", name)
	ui.terse = true
	w := &watched{ui: ui, name: name, out: out, anyway: anyway}
	for {
		w.rerun(ctx)
		if err := w.files.Wait(ctx); err != nil {
			return &outcome{exitFailed, "the watch has ended: " + err.Error()}
		}
		if ctx.Err() != nil {
			return nil
		}
	}
}

// watched is a file under watch and what its last run made.
type watched struct {
	ui        *console
	name, out string
	anyway    bool
	gone      bool // the file was deleted, and that was said

	files live.Watch // the file and the readings it names

	in   input // of the last run that was written
	last made
}

// rerun makes the file once and says in one line what changed since the last run,
// or why it could not be made.
func (w *watched) rerun(ctx context.Context) {
	if !w.files.See(0, w.name) {
		if !w.gone {
			w.ui.fail(w.name + " was deleted; what was made stays, and it is made again when the file is back")
		}
		w.gone = true
		return
	}
	w.gone = false
	in, err := readAll(ctx, w.ui, w.name)
	for i, name := range append(in.beside, "", "")[:2] { // none is no file
		w.files.See(1+i, name)
	}
	var m made
	if err == nil {
		m, err = makeJob(ctx, w.ui, in, w.out, w.anyway)
	}
	if err != nil {
		var o *outcome
		if ctx.Err() == nil && (!errors.As(err, &o) || o.text != "") {
			w.ui.fail(err.Error())
		}
		return
	}
	change := "first run"
	if w.last.job != nil {
		if change, err = w.changes(in, m); err != nil {
			w.ui.fail(err.Error())
			return
		}
	}
	w.ui.say("%s  %d files%s; %s; %s", time.Now().Format("15:04:05"), len(m.res.Written), variantWords(m.batch), change, tell.Sentence(m.job))
	w.in, w.last = in, m
}

// Names and values that a line of the watch holds before it counts.
const (
	fewValues = 3
	fewParts  = 4
)

// changes says what differs from the last run: values of the file, parts, and
// variants.
func (w *watched) changes(in input, m made) (string, error) {
	var words []string
	if values := params.Changed(w.in.text, in.text); len(values) > 0 {
		words = append(words, few(values, fewValues))
	}
	report, err := compare.Judged(w.last.job, m.job)
	words = append(words, report.Line()+partWords(report))
	if names := changedVariants(w.last.batch, m.batch); len(names) > 0 {
		words = append(words, "variants changed: "+few(names, fewParts))
	}
	return strings.Join(words, "; "), err
}

// partWords names the parts that are not kept, each once, with their marks where
// these say more than the name.
func partWords(r *compare.Report) string {
	var names []string
	for _, row := range r.Rows {
		name := row.Name
		mark := row.New
		if mark == "" {
			mark = row.Old
		}
		if mark != "" && !strings.Contains(name, strings.ReplaceAll(mark, "-", " ")) {
			name += " " + mark
		}
		if row.Action != compare.Keep && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " (" + few(names, fewParts) + ")"
}

// changedVariants names the variants whose summary differs, that are new or that
// are gone.
func changedVariants(was, is *export.Batch) []string {
	old, now := summaries(was), summaries(is)
	var names []string
	for name, row := range now {
		if old[name] != row {
			names = append(names, name)
		}
	}
	for name := range old {
		if now[name] == "" {
			names = append(names, name+" (gone)")
		}
	}
	slices.Sort(names)
	return names
}

func summaries(b *export.Batch) map[string]string {
	out := map[string]string{}
	if b == nil {
		return out
	}
	_, rows := b.Rows()
	for _, r := range rows {
		out[r[0]] = strings.Join(r, "\t")
	}
	return out
}

// variantWords says how many variants were made, and which fail.
func variantWords(b *export.Batch) string {
	if b == nil {
		return ""
	}
	_, rows := b.Rows()
	var fails []string
	for _, r := range rows {
		if r[1] == string(finding.Fail) {
			fails = append(fails, r[0])
		}
	}
	s := fmt.Sprintf(" with %d variants", len(rows))
	if len(rows) == 1 {
		s = " with 1 variant"
	}
	if len(fails) > 0 {
		s += ", failing: " + few(fails, fewParts)
	}
	return s
}
