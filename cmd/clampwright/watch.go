package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"time"

	"github.com/fsnotify/fsnotify"

	"clampwright/export"
	"clampwright/export/compare"
)

// settleTime is how long a file must be left alone before it is read: editors
// write in several steps.
const settleTime = 150 * time.Millisecond

// watch makes the file now and after every save, a line for each run saying what
// changed, until ctx ends. A run that fails says why and the watch goes on.
func watch(ctx context.Context, ui *console, name, out string, anyway bool) error {
	saves, stop, err := savesOf(name)
	if err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	defer stop()
	ui.say("watching %s; press Ctrl-C to end", name)
	last := rerun(ctx, ui, name, out, anyway, nil)
	for {
		select {
		case <-ctx.Done():
			return nil
		case err := <-saves.Errors:
			return &outcome{exitFailed, err.Error()}
		case e := <-saves.Events:
			if !settled(ctx, saves, e, name) {
				continue
			}
			last = rerun(ctx, ui, name, out, anyway, last)
		}
	}
}

// savesOf watches the folder of a file: editors that save by renaming put another
// file in its place, which a watch on the file itself would lose.
func savesOf(name string) (*fsnotify.Watcher, func(), error) {
	if _, err := os.Stat(name); err != nil {
		return nil, nil, errors.New(readError(name, err))
	}
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, nil, err
	}
	if err := w.Add(filepath.Dir(name)); err != nil {
		w.Close()
		return nil, nil, err
	}
	return w, func() { w.Close() }, nil
}

// settled waits until the file has been left alone; false for events on others.
func settled(ctx context.Context, w *fsnotify.Watcher, e fsnotify.Event, name string) bool {
	ours := func(e fsnotify.Event) bool {
		return filepath.Base(e.Name) == filepath.Base(name) && e.Has(fsnotify.Write|fsnotify.Create|fsnotify.Rename)
	}
	if !ours(e) {
		return false
	}
	quiet := time.NewTimer(settleTime)
	defer quiet.Stop()
	for {
		select {
		case <-ctx.Done():
			return false
		case more := <-w.Events:
			if ours(more) {
				quiet.Reset(settleTime)
			}
		case <-quiet.C:
			return true
		}
	}
}

// rerun makes the file once and says in one line what changed since last. It
// returns the job to compare the next one with.
func rerun(ctx context.Context, ui *console, name, out string, anyway bool, last *export.Job) *export.Job {
	job, res, batch, err := makeJob(ctx, ui, name, out, anyway)
	if err != nil {
		var o *outcome
		if ctx.Err() == nil && (!errors.As(err, &o) || o.text != "") {
			ui.fail(err.Error())
		}
		return last
	}
	change := "first run"
	if last != nil {
		change = compare.Compare(last, job).Line()
	}
	variants := ""
	if batch != nil {
		variants = ", with variants"
	}
	ui.say("%s  %d files%s; %s; %s", time.Now().Format("15:04:05"), len(res.Written), variants, change, job.Sentence())
	return job
}
