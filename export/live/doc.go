// Package live serves the bench page of one parameter file on this machine: the bench
// card in which every value can be typed anew. The file on disk is the only state: each
// change is params.Set on its text, written aside and swapped in, and what an editor
// saves appears. A first, coarse answer comes at once and is no verdict; the full
// judgement follows, and a newer change ends the work on an older one.
//
// bench.go keeps the file and its history, compute.go answers, pieces.go and marks.go
// fill the page, server.go lets in who may, events.go tells every browser, phone.go
// takes readings from elsewhere.
package live

import (
	"context"

	"clampwright/params"
)

// Options of one run.
type Options struct {
	// File is the parameter file; empty to begin with questions, and write one into
	// Folder.
	File, Folder string
	Port         int // of this machine; 0 for any that is free
	// Starter writes the first file, with changes made in it.
	Starter func(context.Context, params.StarterOptions, []params.Change) ([]byte, error)
	// Make writes the folder of files as the command does, of the text that the file
	// held when it was judged, and says what was written.
	Make func(ctx context.Context, file string, text []byte) (string, error)
	// Say prints a line where the program was started.
	Say func(string)
}
