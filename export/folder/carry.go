package folder

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"
)

// editedMark ends the name under which a file of ours is kept that somebody has
// changed.
const editedMark = ".edited"

// mostCarried is how many files and folders of the user an output folder may
// hold: it is for output, and a folder with more than that was meant by mistake.
const mostCarried = 10_000

// carryAll takes the foreign entries and the edited files along into the new folder
// and gives every folder and file of ours the group and mode it had.
func (s *stage) carryAll(all []entry, res *Result) (err error) {
	for _, e := range all {
		to := e.name
		switch {
		case e.edited:
			to, _ = s.free(e.name, "")
			res.Edited = append(res.Edited, to)
		case e.ours && !e.info.IsDir() && !s.exists(inside(s.build, e.name)):
			res.Removed = append(res.Removed, e.name)
		}
		if e.foreign() && err == nil {
			err = s.carry(inside(s.target, e.name), inside(s.build, to), e.info)
		}
	}
	for _, e := range slices.Backward(all) { // what is in a folder before it
		path, folder := inside(s.build, e.name), e.info.IsDir()
		if err == nil && (e.ours || folder) && s.exists(path) {
			err = s.like(path, e.info, folder && !e.ours)
		}
	}
	return err
}

// free is the first name that is not taken under which a file that was edited may be
// kept; kept says whether what is at path is kept under such a name already.
func (s *stage) free(name, path string) (free string, kept bool) {
	free = name + editedMark
	for i := 2; s.exists(inside(s.target, free)) || s.exists(inside(s.build, free)); i++ {
		kept = kept || same(path, inside(s.target, free))
		free = fmt.Sprintf("%s%s-%d", name, editedMark, i)
	}
	return free, kept
}

// exists reports whether something is there, a link that leads nowhere included.
func exists(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR)
}

// carry gives what is not ours a second name in the new folder, so that it is neither
// copied nor missing at any moment; where files can have one name only, they are
// copied.
func (s *stage) carry(from, to string, info fs.FileInfo) error {
	switch err := cmp.Or(s.ctx.Err(), s.mkdirAll(filepath.Dir(to))); {
	case err != nil:
		return err
	case info.IsDir():
		return s.mkdir(to, 0o700)
	case info.Mode()&fs.ModeSymlink != 0:
		leads, err := os.Readlink(from)
		if err != nil {
			return err
		}
		return s.do("symlink", to, func(to string) error { return os.Symlink(leads, to) })
	}
	switch err := s.link(from, to); {
	case errors.Is(err, fs.ErrNotExist):
		return nil // gone since we looked
	case err == nil || errors.Is(err, fs.ErrExist) || isOtherDisk(err) || !info.Mode().IsRegular():
		return err
	}
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	_, err = s.make(filepath.Dir(to), Artifact{filepath.Base(to), func(w io.Writer) error {
		_, err := io.Copy(w, in)
		return err
	}})
	return cmp.Or(err, s.syncFile(to), s.like(to, info, true))
}

// settle empties a folder that has stood at the output: what this program wrote
// goes, and so does what was carried over. What the user has put there or changed
// since moves into the output.
func (s *stage) settle(from string) (err error) {
	was, _ := Listed(from) // without a list nothing is known to be ours, and all is kept
	now, _ := Listed(s.target)
	for range 4 {
		if err = s.empty(from, was, now); !errors.Is(err, fs.ErrExist) {
			break // else somebody is still writing there
		}
	}
	return err
}

func (s *stage) empty(from string, was, now map[string]string) error {
	all, err := s.look(from, was, Contents{})
	for _, e := range all {
		if err == nil && e.info.IsDir() && e.info.Mode().Perm()&0o700 != 0o700 {
			err = s.do("mode", inside(from, e.name), func(path string) error { return os.Chmod(path, 0o700) })
		}
	}
	for _, e := range slices.Backward(all) { // the list after all that it names: a run killed here still knows what is ours
		path := inside(from, e.name)
		_, ours := now[e.name]
		switch {
		case err != nil:
		case e.info.IsDir() || !e.foreign():
			err = s.remove(path)
		default:
			err = s.giveUp(path, e.name, e.ours || ours)
		}
	}
	return err
}

// giveUp removes a file that is in the output too, and moves any other there: under
// its name where that is free and the name not one of ours, else the one saved last
// gets the name and the other is kept beside it.
func (s *stage) giveUp(path, name string, ours bool) error {
	place := s.find(inside(s.target, name))
	beside, kept := s.free(name, path)
	switch {
	case kept || same(path, place):
		return s.remove(path)
	case ours || !later(path, place):
		place, name = inside(s.target, beside), beside
	case exists(place):
		if err := s.rename(place, inside(s.target, beside)); err != nil {
			return err
		}
	}
	s.saved = append(s.saved, name)
	if err := s.mkdirAll(filepath.Dir(place)); err != nil {
		return err
	}
	return s.rename(path, place)
}

// later reports whether the file a was saved after b, or b is not there at all.
func later(a, b string) bool {
	x, errX := os.Lstat(a)
	y, errY := os.Lstat(b)
	return errors.Is(errY, fs.ErrNotExist) || errX == nil && errY == nil && !y.IsDir() && x.ModTime().After(y.ModTime())
}

// same reports whether two names are of one file, or of two alike.
func same(a, b string) bool {
	x, _ := os.Lstat(a)
	y, _ := os.Lstat(b)
	if os.SameFile(x, y) {
		return true
	}
	p, errP := fingerprint(a)
	q, errQ := fingerprint(b)
	return errP == nil && errQ == nil && p == q && p != ""
}
