package main

import (
	"context"
	"os"

	"clampwright/export/folder"
)

// mayWrite refuses, before any work, a file that could not be written after it, and
// in any case one of the files that are read.
func mayWrite(to string, inputs ...string) error {
	if to == "" || to == "-" {
		return nil
	}
	there, err := os.Stat(to)
	for _, name := range inputs {
		if info, inErr := os.Stat(name); err == nil && inErr == nil && os.SameFile(there, info) {
			return &outcome{exitFailed, to + " is the parameter file itself; it was left alone"}
		}
	}
	if err := folder.Free(to); err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	return nil
}

// saveFile writes the one file that a command is asked for.
func saveFile(ctx context.Context, to string, text []byte) error {
	if err := folder.WriteFile(ctx, to, text); err != nil {
		return &outcome{exitFailed, err.Error()}
	}
	return nil
}
