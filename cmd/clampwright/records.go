package main

import (
	"errors"
	"os"
	"path/filepath"

	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/params/diag"
)

// recordInputs reads the measurements of the cells that the parameter file
// names, beside that file; nothing when it names none. What is wrong with them
// is printed with its place.
func recordInputs(ui *console, name string, text []byte, f *params.Fixture) ([]job.Input, error) {
	file := f.Electrical.CellRecords
	if file == "" {
		return nil, nil
	}
	if !filepath.IsAbs(file) {
		file = filepath.Join(filepath.Dir(name), file)
	}
	r, err := os.Open(file)
	if err != nil {
		at := f.Origin("electrical.records").Range
		var l diag.List
		l.Errorf(at, "the cell records %s can't be read: %v", file, errors.Unwrap(err))
		ui.diagnostics(l, name, text)
		return nil, &outcome{exitInput, ""}
	}
	defer r.Close()
	records, diags := wiring.ParseRecords(file, r)
	if len(diags) > 0 {
		source, _ := os.ReadFile(file)
		ui.diagnostics(diags, file, source)
	}
	if diags.HasErrors() {
		return nil, &outcome{exitInput, ""}
	}
	return []job.Input{job.WithRecords(records)}, nil
}
