package folder

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// ListName is the file in the output folder that names the files we wrote.
const ListName = ".clampwright"

// listNote is for the person who opens the list.
const listNote = "These files are output: the next run replaces or removes them. Rename a file to keep a change made by hand."

// list is the content of ListName.
type list struct {
	Note  string     `json:"note"`
	Files []listFile `json:"files"`
}

// listFile is one written file with the hash of what was written.
type listFile struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Bytes  int64  `json:"bytes"`
}

// encode returns the list as indented JSON, sorted by name.
func (l list) encode() ([]byte, error) {
	slices.SortFunc(l.Files, func(a, b listFile) int { return strings.Compare(a.Name, b.Name) })
	l.Note = listNote
	b, err := json.MarshalIndent(l, "", " ")
	return append(b, '\n'), err
}

// maxListBytes bounds what is read as a list.
const maxListBytes = 16 << 20

// readList reads the list of dir; a missing one is empty. Names that we could
// not have written are refused, so that a planted list can't make us touch
// files elsewhere.
func readList(dir string) (list, error) {
	path := filepath.Join(dir, ListName)
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return list{}, nil
	}
	if err != nil {
		return list{}, err
	}
	if !info.Mode().IsRegular() || info.Size() > maxListBytes {
		return list{}, fmt.Errorf("%w: %s is not such a list", ErrList, path)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return list{}, err
	}
	var l list
	dec := json.NewDecoder(bytes.NewReader(b))
	if err := dec.Decode(&l); err != nil {
		return list{}, fmt.Errorf("%w: %s: %w; choose another folder, or empty this one", ErrList, path, err)
	}
	for _, f := range l.Files {
		if err := CheckName(f.Name); err != nil {
			return list{}, fmt.Errorf("%w: %s: %w", ErrList, path, err)
		}
	}
	return l, nil
}
