package folder

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
)

// earlier is what the output folder holds before a run. Folders that hold, or will
// hold, files of ours are looked into; others are foreign as a whole.
type earlier struct {
	dir     string
	exists  bool
	listed  listed
	own     map[string]fs.FileInfo // what of ours is there, with the folders it stands in
	edited  []string               // files of ours whose content is not what we wrote
	foreign []string               // topmost entries that are not ours; folders end in '/'
	blocked []string               // those that stand where the plan wants to write

	folders map[string]bool
	wanted  map[string]bool // files and folders of the plan, in small letters: to some systems case is nothing
}

// scan looks at dir and refuses a plan that would have to replace something
// that is not ours.
func scan(dir string, plan Plan) (*earlier, error) {
	e := &earlier{dir: dir, own: map[string]fs.FileInfo{}, folders: map[string]bool{}, wanted: map[string]bool{}}
	info, err := os.Stat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return e, nil
	}
	if err == nil && !info.IsDir() {
		err = fmt.Errorf("%w: %s", ErrNotFolder, dir)
	}
	if err == nil {
		e.listed, err = readList(dir)
	}
	if err != nil {
		return nil, err
	}
	e.exists, e.own[""] = true, info
	for name := range e.listed {
		foldersOf(name, func(f string) { e.folders[f] = true })
	}
	for _, a := range plan.Artifacts {
		e.wanted[strings.ToLower(a.Name)] = true
		foldersOf(a.Name, func(f string) { e.folders[f], e.wanted[strings.ToLower(f)] = true, true })
	}
	if err = e.walk(""); err == nil && len(e.blocked) > 0 {
		err = fmt.Errorf("%w: %s (not written by this program; move it or choose another folder)", ErrForeign, strings.Join(e.blocked, ", "))
	}
	return e, err
}

// foldersOf tells the folders that a name stands in.
func foldersOf(name string, tell func(string)) {
	for i, c := range name {
		if c == '/' {
			tell(name[:i])
		}
	}
}

func (e *earlier) walk(below string) error {
	entries, err := os.ReadDir(inside(e.dir, below))
	for _, f := range entries {
		info, infoErr := f.Info()
		if err = errors.Join(err, infoErr); err == nil {
			err = e.entry(strings.TrimPrefix(below+"/"+f.Name(), "/"), info)
		}
	}
	return err
}

func (e *earlier) entry(name string, info fs.FileInfo) error {
	_, ours := e.listed[name]
	switch {
	case name == ListName:
	case info.IsDir() && !onOneDisk(info, e.own[""]):
		return fmt.Errorf("%w: a disk is mounted at %s", ErrPlace, inside(e.dir, name))
	case info.IsDir() && e.folders[name]:
		e.own[name] = info
		return e.walk(name)
	case ours && info.Mode().IsRegular():
		e.own[name] = info
		written, err := e.listed.wrote(e.dir, name)
		if err == nil && !written {
			e.edited = append(e.edited, name)
		}
		return err
	default:
		if e.wanted[strings.ToLower(name)] {
			e.blocked = append(e.blocked, name)
		}
		if info.IsDir() {
			name += "/"
		}
		e.foreign = append(e.foreign, name)
	}
	return nil
}

func fileHash(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, f)
	return hex.EncodeToString(h.Sum(nil)), err
}
