//go:build unix

package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
)

// No file that is made names a place of the machine it was made on, also where the
// parameter file names its table of readings by its whole path and is itself named so.
func TestNoPlaceOfTheMachine(t *testing.T) {
	dir := t.TempDir()
	text, err := os.ReadFile(filepath.Join(examplesDir, "eight-cell-plywood.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	table := filepath.Join(dir, "cells-eight.csv")
	records, err := os.ReadFile(filepath.Join(examplesDir, "cells-eight.csv"))
	if err == nil {
		err = os.WriteFile(table, records, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	whole := bytes.Replace(text, []byte("records: cells-eight.csv"), []byte("records: "+table), 1)
	if bytes.Equal(whole, text) {
		t.Fatal("the example names no table")
	}
	file, out := filepath.Join(dir, "pack.yaml"), filepath.Join(dir, "out")
	if err := os.WriteFile(file, whole, 0o600); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	if code := run(context.Background(), []string{"clampwright", "make", "--anyway", "--out", out, file}, &console{out: &said, err: &said, width: 80}); code != exitDone && code != exitFouled {
		t.Fatalf("exit code %d\n%s", code, said.String())
	}
	for name, text := range contents(t, out) {
		if bytes.Contains(text, []byte(dir)) {
			t.Errorf("%s names %s", name, dir)
		}
	}
}
