package folder

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
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
// and gives every folder and file of ours the group and mode it had. It returns the
// names under which edited files are kept.
func (s *stage) carryAll(was *earlier) (kept []string, err error) {
	at := map[string]string{}
	for _, name := range was.foreign {
		at[name] = name
	}
	for _, name := range was.edited {
		at[name] = free(name, func(free string) bool { return exists(inside(s.target, free)) || exists(inside(s.build, free)) })
		kept = append(kept, at[name])
	}
	for _, name := range slices.Sorted(maps.Keys(at)) {
		if err == nil {
			err = s.carry(inside(s.target, name), inside(s.build, at[name]))
		}
	}
	for _, name := range slices.Backward(slices.Sorted(maps.Keys(was.own))) { // what is in a folder before it
		if path := inside(s.build, name); err == nil && exists(path) {
			err = s.like(path, was.own[name])
		}
	}
	s.syncFolder(s.build)
	return kept, err
}

// free is the first name that is not taken under which a file that was edited may be
// kept.
func free(name string, taken func(string) bool) string {
	free := name + editedMark
	for i := 2; taken(free); i++ {
		free = fmt.Sprintf("%s%s-%d", name, editedMark, i)
	}
	return free
}

// exists reports whether something is there, a link that leads nowhere included.
func exists(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR)
}

// carry gives what is not ours a second name in the new folder, so that it is neither
// copied nor missing at any moment; where files can have one name only, they are
// copied.
func (s *stage) carry(from, to string) error {
	info, err := os.Lstat(from)
	if errors.Is(err, fs.ErrNotExist) {
		return nil // gone since we looked
	}
	if s.carried++; s.carried > mostCarried {
		err = fmt.Errorf("%w: it holds more than %d files and folders that this program did not write", ErrPlace, mostCarried)
	}
	if err = cmp.Or(err, s.ctx.Err()); err == nil {
		err = s.mkdirAll(filepath.Dir(to))
	}
	switch {
	case err != nil:
		return err
	case info.IsDir():
		return s.carryFolder(from, to, info)
	case info.Mode()&fs.ModeSymlink != 0:
		return s.do("symlink", to, func() error {
			leads, err := os.Readlink(from)
			if err == nil {
				err = os.Symlink(leads, to)
			}
			return err
		})
	}
	err = s.link(from, to)
	if err == nil || errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrExist) || isOtherDisk(err) || !info.Mode().IsRegular() {
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
	if err == nil {
		err = s.syncFile(to)
	}
	return s.alike(to, info, err)
}

func (s *stage) carryFolder(from, to string, info fs.FileInfo) error {
	entries, err := os.ReadDir(from)
	if err == nil {
		err = s.mkdir(to, 0o700)
	}
	for _, e := range entries {
		if err == nil {
			err = s.carry(filepath.Join(from, e.Name()), filepath.Join(to, e.Name()))
		}
	}
	s.syncFolder(to)
	return s.alike(to, info, err)
}

// alike gives a copy the rights and the time of what it is of.
func (s *stage) alike(path string, other fs.FileInfo, err error) error {
	if err == nil {
		err = s.like(path, other)
	}
	if err != nil {
		return err
	}
	return s.do("times", path, func() error { return os.Chtimes(path, other.ModTime(), other.ModTime()) })
}
