package main

import (
	"errors"
	"os"
	"path/filepath"

	"clampwright/assembly/wiring"
	"clampwright/export"
	"clampwright/params"
	"clampwright/params/diag"
)

// recordInputs reads the measurements of the cells that the parameter file
// names, beside that file; nothing when it names none. What is wrong with them
// is printed with its place.
func recordInputs(ui *console, name string, f *params.Fixture) ([]export.Input, error) {
	file := f.Electrical.CellRecords
	if file == "" {
		return nil, nil
	}
	if !filepath.IsAbs(file) {
		file = filepath.Join(filepath.Dir(name), file)
	}
	text, err := os.Open(file)
	if err != nil {
		at := f.Origin("electrical.records").Range
		var l diag.List
		l.Errorf(at, "the cell records can't be read: %v", errors.Unwrap(err))
		ui.diagnostics(l, name, nil)
		return nil, &outcome{exitInput, ""}
	}
	defer text.Close()
	records, diags := wiring.ParseRecords(file, text)
	if len(diags) > 0 {
		source, _ := os.ReadFile(file)
		ui.diagnostics(diags, file, source)
	}
	if diags.HasErrors() {
		return nil, &outcome{exitInput, ""}
	}
	return []export.Input{export.WithRecords(records)}, nil
}
