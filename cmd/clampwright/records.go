package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"

	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/params/diag"
)

// recordInputs reads the measurements of the cells that the parameter file
// names, beside that file; nothing when it names none. What is wrong with them
// is printed with its place.
func recordInputs(ctx context.Context, ui *console, name string, text []byte, f *params.Fixture) ([]job.Input, error) {
	file := recordsFile(name, f)
	if file == "" {
		return nil, nil
	}
	source, err := readFile(ctx, file)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		at := f.Origin("electrical.records").Range
		var l diag.List
		l.Errorf(at, "the cell records %s can't be read: %v", file, reason(err))
		ui.diagnostics(l, name, text)
		return nil, &outcome{exitInput, ""}
	}
	records, diags := wiring.ParseRecords(file, bytes.NewReader(source))
	ui.diagnostics(diags, file, source)
	if diags.HasErrors() {
		return nil, &outcome{exitInput, ""}
	}
	return []job.Input{job.WithRecords(records)}, nil
}

// recordsFile is the file of the cell records, beside the parameter file or, where
// that came through a pipe, below the working folder; empty when none is named.
func recordsFile(name string, f *params.Fixture) string {
	file := f.Electrical.CellRecords
	if file == "" || filepath.IsAbs(file) {
		return file
	}
	return filepath.Join(folderOf(name), file)
}

// folderOf is the folder that a parameter file stands in.
func folderOf(name string) string {
	if dir := filepath.Dir(name); !strings.HasPrefix(dir, "/dev/") && !strings.HasPrefix(dir, "/proc/") {
		return dir
	}
	return "."
}

// reason is an error without the name of the file it is about.
func reason(err error) error {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Err
	}
	return err
}
