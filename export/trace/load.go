package trace

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"clampwright/export/folder"
	"clampwright/export/mark"
)

// File is one file that came back.
type File struct {
	Name    string // as it was given, or below the folder that was
	Data    []byte
	Listed  string // SHA-256 in the list of the folder; empty without
	Missing bool   // in the list, not in the folder
}

// Bounds of what is read: a folder from the shop is small.
const (
	mostBytes = 64 << 20
	mostFiles = 10_000
)

// Load reads files and folders. The run is that of the first folder's report; empty
// where none has one.
func Load(paths []string) (files []File, run mark.Mark, err error) {
	for _, p := range paths {
		info, err := os.Stat(p)
		var in []File
		switch {
		case err != nil:
		case !info.IsDir():
			in, err = read(nil, p, p, info)
		default:
			if in, err = loadFolder(p); run.Input == "" {
				run = reported(in)
			}
		}
		if err != nil {
			return nil, run, err
		}
		files = append(files, in...)
	}
	return files, run, nil
}

func loadFolder(dir string) (files []File, err error) {
	listed, err := folder.Listed(dir)
	if err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	err = filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || e.Name() == folder.ListName {
			return err
		}
		rel, err := filepath.Rel(dir, p)
		if err != nil {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		name := filepath.ToSlash(rel)
		if files, err = read(files, name, p, info); err == nil {
			seen[name], files[len(files)-1].Listed = true, listed[name]
		}
		return err
	})
	for name, hash := range listed {
		if !seen[name] {
			files = append(files, File{Name: name, Listed: hash, Missing: true})
		}
	}
	slices.SortFunc(files, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return files, err
}

// read appends a file. What can't be one of ours, as a link, a pipe or a file beyond
// any that this program writes, is not opened.
func read(files []File, name, p string, info fs.FileInfo) ([]File, error) {
	if len(files) == mostFiles {
		return nil, fmt.Errorf("more than %d files; name the folder that came back", mostFiles)
	}
	f := File{Name: name}
	if info.Mode().IsRegular() && info.Size() <= mostBytes {
		var err error
		if f.Data, err = os.ReadFile(p); err != nil {
			return nil, err
		}
	}
	return append(files, f), nil
}

// reported is the run that the report among the files is of.
func reported(files []File) mark.Mark {
	var r struct {
		Fixture string
		Input   string `json:"input_sha256"`
		Verdict string
		Version int `json:"program_version"`
	}
	for _, f := range files {
		if f.Name == "report.json" && json.Unmarshal(f.Data, &r) == nil {
			return mark.New(r.Version, r.Input, r.Verdict, r.Fixture)
		}
	}
	return mark.Mark{}
}
