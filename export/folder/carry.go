package folder

import (
	"context"
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

// carrier takes what is not ours along from one folder into another: files by a
// second name, so that they are neither copied nor missing at any moment, or,
// where files can have one name only, as copies.
type carrier struct {
	disk
	ctx  context.Context
	left int
}

// carryAll takes the foreign entries and the edited files along and gives every
// folder and file of ours the group and mode it had. It returns the names under
// which edited files are kept.
func (s *stage) carryAll(ctx context.Context, dir string, was *earlier) (kept []string, err error) {
	c := &carrier{s.disk, ctx, mostCarried}
	for _, name := range was.foreign {
		if err := c.carry(inside(s.target, name), inside(dir, name)); err != nil {
			return nil, err
		}
	}
	for _, name := range was.edited {
		free := free(name, dir, s.target)
		if err := c.carry(inside(s.target, name), inside(dir, free)); err != nil {
			return nil, err
		}
		kept = append(kept, free)
	}
	for _, name := range slices.Backward(slices.Sorted(maps.Keys(was.own))) { // what is in a folder before it
		if err := s.like(inside(dir, name), was.own[name]); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
	}
	s.syncFolder(dir)
	return kept, nil
}

// free is the name under which an edited file is kept: one that stands in none of
// the folders.
func free(name string, dirs ...string) string {
	for i := 1; ; i++ {
		free := keptName(name, i)
		if !slices.ContainsFunc(dirs, func(dir string) bool { return exists(inside(dir, free)) }) {
			return free
		}
	}
}

func keptName(name string, i int) string {
	if i == 1 {
		return name + editedMark
	}
	return fmt.Sprintf("%s%s-%d", name, editedMark, i)
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR)
}

func (c *carrier) carry(from, to string) error {
	info, err := os.Lstat(from)
	if errors.Is(err, fs.ErrNotExist) {
		return nil // gone since we looked
	}
	if c.left--; c.left < 0 {
		err = fmt.Errorf("%w: it holds more than %d files and folders that this program did not write", ErrPlace, mostCarried)
	}
	if err = errors.Join(err, c.ctx.Err()); err != nil {
		return err
	}
	if err := c.mkdirAll(filepath.Dir(to)); err != nil {
		return err
	}
	switch {
	case info.IsDir():
		return c.carryFolder(from, to, info)
	case info.Mode()&fs.ModeSymlink != 0:
		leads, err := os.Readlink(from)
		if err != nil {
			return err
		}
		return c.symlink(leads, to)
	}
	err = c.link(from, to)
	if err == nil || errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrExist) || isOtherDisk(err) || !info.Mode().IsRegular() {
		return err
	}
	return c.copy(from, to, info)
}

func (c *carrier) carryFolder(from, to string, info fs.FileInfo) error {
	entries, err := os.ReadDir(from)
	if err != nil {
		return err
	}
	if err := c.mkdir(to, 0o700); err != nil {
		return err
	}
	for _, e := range entries {
		if err := c.carry(filepath.Join(from, e.Name()), filepath.Join(to, e.Name())); err != nil {
			return err
		}
	}
	c.syncFolder(to)
	return errors.Join(c.like(to, info), c.chtimes(to, info.ModTime()))
}

func (c *carrier) copy(from, to string, info fs.FileInfo) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := c.create(to)
	if err != nil {
		return err
	}
	_, err = io.Copy(&countingWriter{ctx: c.ctx, w: out}, in)
	if err = errors.Join(err, out.Close()); err == nil {
		err = c.syncFile(to)
	}
	return errors.Join(err, c.like(to, info), c.chtimes(to, info.ModTime()))
}
