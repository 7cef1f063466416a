package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"syscall"
	"time"

	"clampwright/assembly/finding"
	"clampwright/export"
	"clampwright/export/compare"
	"clampwright/export/tell"
	"clampwright/params"
)

// pollTime is how often the files are looked at, settleTime how long they must have
// been left alone before they are read: editors write in several steps. Looking
// misses nothing when folders are removed and made anew, when many things happen
// at once, or on disks that tell of no change.
const (
	pollTime   = 100 * time.Millisecond
	settleTime = 200 * time.Millisecond
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
		if err := w.wait(ctx); err != nil {
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

	records string      // the file of the cell records; empty without
	seen    [2]sighting // of the file and the records, before they were read

	in   input // of the last run that was written
	last made
}

// sighting is what a look at a file tells: another one of either is another save.
type sighting struct {
	info fs.FileInfo // nil: not there
}

func (s sighting) same(o sighting) bool {
	a, b := s.info, o.info
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}

func sight(name string) (s sighting, err error) {
	if name != "" {
		s.info, err = os.Stat(name)
	}
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
		return sighting{}, nil
	}
	return s, err
}

func (w *watched) look() (now [2]sighting, err error) {
	for i, name := range []string{w.name, w.records} {
		s, sightErr := sight(name)
		now[i], err = s, errors.Join(err, sightErr)
	}
	return now, err
}

// wait returns when the files are others than those seen and have been left alone,
// or when ctx has ended.
func (w *watched) wait(ctx context.Context) error {
	tick := time.NewTicker(pollTime)
	defer tick.Stop()
	last, since := w.seen, time.Now()
	for ctx.Err() == nil {
		select {
		case <-ctx.Done():
		case <-tick.C:
		}
		now, err := w.look()
		if err != nil {
			return err
		}
		if !now[0].same(last[0]) || !now[1].same(last[1]) {
			last, since = now, time.Now()
		}
		if changed := !now[0].same(w.seen[0]) || !now[1].same(w.seen[1]); changed && time.Since(since) >= settleTime {
			return nil
		}
	}
	return nil
}

// rerun makes the file once and says in one line what changed since the last run,
// or why it could not be made.
func (w *watched) rerun(ctx context.Context) {
	w.seen, _ = w.look()
	if w.seen[0].info == nil {
		if !w.gone {
			w.ui.fail(w.name + " was deleted; what was made stays, and it is made again when the file is back")
		}
		w.gone = true
		return
	}
	w.gone = false
	in, err := readAll(ctx, w.ui, w.name)
	w.records = in.beside
	w.seen[1], _ = sight(w.records)
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
		change = w.changes(in, m)
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
func (w *watched) changes(in input, m made) string {
	var words []string
	if values := params.Changed(w.in.text, in.text); len(values) > 0 {
		words = append(words, few(values, fewValues))
	}
	report := compare.Compare(w.last.job, m.job)
	words = append(words, report.Line()+partWords(report))
	if names := changedVariants(w.last.batch, m.batch); len(names) > 0 {
		words = append(words, "variants changed: "+few(names, fewParts))
	}
	return strings.Join(words, "; ")
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
