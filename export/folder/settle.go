package folder

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// settler empties a folder that has stood at the output.
type settler struct {
	*stage
	from     string
	was, now listed // of the folder and of the output
}

// settle empties a folder that has stood at the output: what this program wrote
// goes, and so does what was carried over. What the user has put there or changed
// since moves into the output.
func (s *stage) settle(from string) error {
	e := &settler{stage: s, from: from}
	e.was, _ = readList(from) // without a list nothing is known to be ours, and all is kept
	e.now, _ = readList(s.target)
	err := e.empty("")
	for i := 0; i < 3 && errors.Is(err, fs.ErrExist); i++ { // somebody is still writing there
		err = e.empty("")
	}
	return err
}

func (e *settler) empty(below string) error {
	dir := inside(e.from, below)
	info, err := os.Lstat(dir)
	if err == nil && info.Mode().Perm()&0o700 != 0o700 {
		err = e.do("mode", dir, func() error { return os.Chmod(dir, 0o700) })
	}
	entries, readErr := os.ReadDir(dir)
	err = errors.Join(err, readErr)
	for _, f := range entries {
		name := strings.TrimPrefix(below+"/"+f.Name(), "/")
		switch {
		case f.IsDir():
			err = errors.Join(err, e.empty(name))
		case name != ListName: // it goes last: a run killed here still knows what is ours
			err = errors.Join(err, e.giveUp(name))
		}
	}
	if err == nil && below == "" && exists(inside(dir, ListName)) {
		err = e.remove(inside(dir, ListName))
	}
	if err != nil {
		return err
	}
	return e.remove(dir)
}

// giveUp removes a file that this program wrote or that is in the output too, and
// moves any other there: under its name where that is free, else the one saved
// last gets the name and the other is kept beside it.
func (e *settler) giveUp(name string) error {
	path := inside(e.from, name)
	place := inside(e.target, name)
	done, err := e.was.wrote(e.from, name)
	done = done || same(path, place)
	beside := free(name, func(free string) bool {
		done = done || same(path, inside(e.target, free))
		return exists(inside(e.target, free))
	})
	switch {
	case err != nil:
		return err
	case done:
		return e.remove(path)
	}
	_, wasOurs := e.was[name]
	_, isOurs := e.now[name]
	if wasOurs || isOurs || !later(path, place) {
		place, name = inside(e.target, beside), beside
	} else if exists(place) {
		if err := e.rename(place, inside(e.target, beside)); err != nil {
			return err
		}
	}
	e.saved = append(e.saved, name)
	if err := e.mkdirAll(filepath.Dir(place)); err != nil {
		return err
	}
	return e.rename(path, place)
}

// later reports whether the file a was saved after b, or b is not there at all.
func later(a, b string) bool {
	x, errX := os.Lstat(a)
	y, errY := os.Lstat(b)
	return errors.Is(errY, fs.ErrNotExist) || errX == nil && errY == nil && !y.IsDir() && x.ModTime().After(y.ModTime())
}

// same reports whether two names are of one file, or of two alike.
func same(a, b string) bool {
	x, errX := os.Lstat(a)
	y, errY := os.Lstat(b)
	if errX != nil || errY != nil || x.Mode().Type() != y.Mode().Type() {
		return false
	}
	switch {
	case os.SameFile(x, y):
		return true
	case x.Mode()&fs.ModeSymlink != 0:
		leadsX, errX := os.Readlink(a)
		leadsY, errY := os.Readlink(b)
		return errX == nil && errY == nil && leadsX == leadsY
	case x.Mode().IsRegular() && x.Size() == y.Size():
		hashX, errX := fileHash(a)
		hashY, errY := fileHash(b)
		return errX == nil && errY == nil && hashX == hashY
	}
	return false
}
