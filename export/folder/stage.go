package folder

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// stageMark ends the name of the folder beside the output in which a run works:
// .NAME.clampwright
const stageMark = ".clampwright"

// What stands in that folder: the lock of the run that is alive; what it is
// making; the same when it is whole, under its newName; and, where two folders can't
// be exchanged in one step, the earlier output on its way out.
const (
	lockName  = "lock"
	buildName = "build"
	newPrefix = "new-"
	oldName   = "old"
)

// stage is the folder beside the output in which one run works.
type stage struct {
	disk
	ctx                 context.Context
	root, build, target string // build is the folder in root that becomes the output
	lock                *os.File
	carried             int
	saved               []string // what the user had put into the earlier output meanwhile
}

func stageOf(target string) string {
	return filepath.Join(filepath.Dir(target), "."+filepath.Base(target)+stageMark)
}

func (s *stage) path(name string) string { return filepath.Join(s.root, name) }

// inside is the path of a file of the output below a folder.
func inside(dir, name string) string { return filepath.Join(dir, filepath.FromSlash(name)) }

// begin takes the folder beside target for this run, ErrBusy when a run that is
// alive has it, and settles what a killed one has left there.
func begin(ctx context.Context, d disk, target string) (*stage, error) {
	s := &stage{disk: d, ctx: ctx, root: stageOf(target), target: target}
	s.build = s.path(buildName)
	if err := s.hold(); err != nil {
		return nil, err
	}
	err := s.recover()
	if err == nil {
		err = s.mkdir(s.build, 0o777)
	}
	if err != nil {
		_ = s.end()
		return nil, err
	}
	return s, nil
}

// hold makes the folder and locks it.
func (s *stage) hold() error {
	for range 100 {
		if err := s.mkdir(s.root, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
		if info, err := os.Lstat(s.root); err == nil && !info.IsDir() {
			return fmt.Errorf("%w: %s stands where the new output is made", ErrForeign, s.root)
		}
		err := s.do("create", s.path(lockName), func() (err error) {
			s.lock, err = os.OpenFile(s.path(lockName), os.O_RDWR|os.O_CREATE, 0o600)
			return err
		})
		if errors.Is(err, fs.ErrNotExist) {
			continue // the run before has just removed it
		}
		if err != nil {
			return err
		}
		if held, err := lock(s.lock); err != nil || held {
			_ = s.lock.Close()
			if held {
				return ErrBusy
			}
			return err
		}
		mine, err := s.lock.Stat()
		there, thereErr := os.Stat(s.path(lockName))
		if err == nil && thereErr == nil && os.SameFile(mine, there) {
			return nil
		}
		_ = s.lock.Close()
	}
	return ErrBusy
}

// recover puts in order what a run has left here, whether it was killed, failed
// or has done its swap: an output on its way out returns if nothing stands in its
// place, a new one on its way in goes, and one that has stood at the output gives
// up what is the user's.
func (s *stage) recover() error {
	if !exists(s.target) && exists(s.path(oldName)) {
		if err := s.rename(s.path(oldName), s.target); err != nil {
			return fmt.Errorf("%w: the earlier output is in %s: %w", ErrStuck, s.path(oldName), err)
		}
	}
	entries, err := os.ReadDir(s.root)
	for _, e := range entries {
		err = errors.Join(err, s.tidy(e))
	}
	return err
}

func (s *stage) tidy(e fs.DirEntry) error {
	info, err := e.Info()
	if err != nil || !info.IsDir() {
		return err
	}
	path := s.path(e.Name())
	switch name := e.Name(); {
	case name == buildName || name == newName(info):
		return s.do("remove all", path, func() error { return os.RemoveAll(path) })
	case name == oldName || strings.HasPrefix(name, newPrefix):
		return s.settle(path)
	}
	return nil
}

// end leaves nothing of the run behind but what could not be put in order, which
// the next run does.
func (s *stage) end() error {
	err := s.recover()
	s.removeLock()
	return err
}
