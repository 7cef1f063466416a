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
	}
	return s, err
}

// hold makes the folder and locks it.
func (s *stage) hold() error {
	if err := s.mkdir(s.root, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	if info, err := os.Lstat(s.root); err == nil && !info.IsDir() {
		return fmt.Errorf("%w: %s stands where the new output is made", ErrForeign, s.root)
	}
	f, err := s.open(s.path(lockName), 0, 0o600)
	if err != nil {
		return err
	}
	err = lock(f)
	mine, _ := f.Stat()
	there, _ := os.Stat(f.Name())
	if err == nil && !os.SameFile(mine, there) {
		err = ErrBusy // it has just ended, and its lock with it
	}
	if s.lock = f; err != nil {
		_ = f.Close()
	}
	return err
}

// recover puts in order what a run has left here, whether it was killed, failed
// or has done its swap: an output on its way out returns if nothing stands in its
// place, a new one on its way in goes, and one that has stood at the output gives
// up what is the user's.
func (s *stage) recover() error {
	if !s.exists(s.target) && s.exists(s.path(oldName)) {
		if err := s.rename(s.path(oldName), s.target); err != nil {
			return fmt.Errorf("%w: the earlier output is in %s: %w", ErrStuck, s.path(oldName), err)
		}
	}
	entries, err := os.ReadDir(s.root)
	for _, e := range entries {
		info, infoErr := e.Info()
		switch path := s.path(e.Name()); {
		case infoErr != nil || !info.IsDir():
			err = errors.Join(err, infoErr)
		case e.Name() == buildName || e.Name() == newName(info):
			err = errors.Join(err, s.do("remove all", path, os.RemoveAll))
		case e.Name() == oldName || strings.HasPrefix(e.Name(), newPrefix):
			err = errors.Join(err, s.settle(path))
		}
	}
	return err
}

// end leaves nothing of the run behind but what could not be put in order, which
// the next run does. The file of the lock goes before the lock: who waits for it sees
// that it is no longer the one under its name. Where an open file can't be removed, it
// goes last.
func (s *stage) end() error {
	err := s.recover()
	lockErr := s.remove(s.lock.Name())
	if _ = s.lock.Close(); lockErr != nil {
		_ = s.remove(s.lock.Name())
	}
	_ = s.remove(s.root)
	return err
}
