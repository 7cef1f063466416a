package main

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"

	"clampwright/params"
)

// opener opens what a parameter file names: beside that file or, where it came
// through a pipe, below the working folder. seen gets the places of what was opened.
func (c *console) opener(ctx context.Context, name string, seen *[]string) params.Opener {
	return func(file string) ([]byte, error) {
		path := file
		if !filepath.IsAbs(file) {
			path = filepath.Join(folderOf(name), file)
		}
		*seen = append(*seen, path)
		text, err := readFile(ctx, path)
		c.source(file, text)
		return text, reason(err)
	}
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
