package folder

import (
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
const listNote = "These files are output: the next run replaces or removes them. One that was changed by hand since is kept as NAME" + editedMark + "."

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

// listed is what a list says: the hash of every file written, by name.
type listed map[string]string

// Listed is the SHA-256 of every file that the list of a folder names; empty where
// there is no list.
func Listed(dir string) (map[string]string, error) { return readList(dir) }

// readList reads the list of dir; a missing one is empty. Names that we could
// not have written are refused, so that a planted list can't make us touch
// files elsewhere.
func readList(dir string) (listed, error) {
	path := filepath.Join(dir, ListName)
	info, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > maxListBytes {
		return nil, fmt.Errorf("%w: %s is not such a list", ErrList, path)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	var l list
	if err := json.Unmarshal(b, &l); err != nil {
		return nil, fmt.Errorf("%w: %s: %w; choose another folder, or empty this one", ErrList, path, err)
	}
	out := listed{}
	for _, f := range l.Files {
		if err := CheckName(f.Name); err != nil {
			return nil, fmt.Errorf("%w: %s: %w", ErrList, path, err)
		}
		out[f.Name] = f.SHA256
	}
	return out, nil
}

// wrote reports whether the file below dir is as this program wrote it: being
// listed is not enough to be ours.
func (l listed) wrote(dir, name string) (bool, error) {
	hash, ok := l[name]
	if !ok {
		return false, nil
	}
	path := inside(dir, name)
	if info, err := os.Lstat(path); err != nil || !info.Mode().IsRegular() {
		return false, err
	}
	got, err := fileHash(path)
	return got == hash, err
}
