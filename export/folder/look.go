package folder

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// entry is a file or folder of an output. It is ours when this program wrote it, or
// writes into it, and edited when it is no longer as it was written, or not ours by its
// content.
type entry struct {
	name         string // below the output, with slashes; "" is the output itself
	info         fs.FileInfo
	ours, edited bool
}

func (e entry) foreign() bool { return !e.ours || e.edited }

// look lists what is in an output, a folder before what is in it.
func (d disk) look(dir string, listed map[string]string, plan Contents) (all []entry, err error) {
	folders := map[string]bool{"": true}
	for name := range listed {
		foldersOf(name, folders)
	}
	for _, a := range plan.Artifacts {
		foldersOf(a.Name, folders)
	}
	err = filepath.WalkDir(dir, func(path string, f fs.DirEntry, err error) error {
		e := entry{name: strings.Trim(filepath.ToSlash(path[len(dir):]), "/")}
		if err == nil {
			e.info, err = f.Info()
		}
		if errors.Is(err, fs.ErrNotExist) {
			return nil // gone meanwhile
		}
		if err != nil {
			return err
		}
		hash, ours := listed[e.name]
		switch {
		case e.info.IsDir() && all != nil && !onOneDisk(e.info, all[0].info):
			return fmt.Errorf("%w: a disk is mounted at %s", ErrPlace, path)
		case e.info.IsDir():
			e.ours = folders[e.name]
		case ours && e.info.Mode().IsRegular():
			var now string
			now, err = fingerprint(path)
			e.ours, e.edited = true, now != hash || err == nil && !d.wrote(path, e.name)
		default:
			e.ours = e.name == ListName
		}
		all = append(all, e)
		return err
	})
	return all, err
}

// wrote says by its content whether this program can have written a file.
func (d disk) wrote(path, name string) bool {
	if d.ours == nil {
		return true
	}
	content, err := os.ReadFile(path)
	return err == nil && d.ours(name, content)
}

// foldersOf adds the folders that a name stands in.
func foldersOf(name string, to map[string]bool) {
	for i, c := range name {
		if c == '/' {
			to[name[:i]] = true
		}
	}
}

// scan looks at what stands at the output and refuses a plan that would have to replace
// something that is not ours. It also returns the topmost foreign entries.
func (s *stage) scan(plan Contents) (all []entry, foreign []string, err error) {
	listed, err := Listed(s.target)
	if err == nil {
		all, err = s.look(s.target, listed, plan)
	}
	wanted := map[string]bool{} // in small letters: to some systems case is nothing
	for _, a := range plan.Artifacts {
		name := strings.ToLower(a.Name)
		wanted[name] = true
		foldersOf(name, wanted)
	}
	var blocked []string
	top, carried := "/", 0
	for _, e := range all {
		if e.foreign() {
			carried++
		}
		if e.ours || strings.HasPrefix(e.name, top) {
			continue
		}
		if wanted[strings.ToLower(e.name)] {
			blocked = append(blocked, e.name)
		}
		if e.info.IsDir() {
			e.name += "/"
			top = e.name
		}
		foreign = append(foreign, e.name)
	}
	switch {
	case err != nil:
	case len(blocked) > 0:
		err = fmt.Errorf("%w: %s (not written by this program; move it or choose another folder)", ErrForeign, strings.Join(blocked, ", "))
	case carried > mostCarried:
		err = fmt.Errorf("%w: it holds more than %d files and folders that this program did not write", ErrPlace, mostCarried)
	}
	return all, foreign, err
}

// fingerprint is the SHA-256 of a file, where a link leads, "" of anything else.
func fingerprint(path string) (string, error) {
	if leads, err := os.Readlink(path); err == nil {
		return "-> " + leads, nil
	}
	info, err := os.Lstat(path)
	if err != nil || !info.Mode().IsRegular() {
		return "", err
	}
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, f)
	return hex.EncodeToString(h.Sum(nil)), err
}

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
}

// maxListBytes bounds what is read as a list.
const maxListBytes = 16 << 20

// Listed is the SHA-256 of every file that the list of a folder names; empty where
// there is no list. Names that we could not have written are refused, so that a planted
// list can't make us touch files elsewhere.
func Listed(dir string) (map[string]string, error) {
	path := filepath.Join(dir, ListName)
	info, err := os.Lstat(path)
	out := map[string]string{}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return out, nil
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular() || info.Size() > maxListBytes:
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
	for _, f := range l.Files {
		if err := CheckName(f.Name); err != nil {
			return nil, fmt.Errorf("%w: %s: %w", ErrList, path, err)
		}
		out[f.Name] = f.SHA256
	}
	return out, nil
}
