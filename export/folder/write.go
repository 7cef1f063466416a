package folder

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
)

// Result says what a run did. Names are relative to the folder, with slashes,
// sorted.
type Result struct {
	Written []string
	Removed []string // files of an earlier run that are no longer made
	Edited  []string // earlier output changed by hand since, as it is kept, and what was saved there meanwhile
	Foreign []string // entries that are not ours, left alone; folders end in '/'
}

// Write makes every artifact of plan and puts them into dir, which is created
// with its parents when missing and followed when it is a symbolic link; one that
// can't be exchanged as a whole is refused (ErrPlace). Where the system has no exchange
// in one step the earlier output is moved aside first; a run killed in between is put
// in order by the next. When ctx ends before the swap, the run stops.
//
// A file written by an earlier run that somebody has edited since, and a listed one
// that is not ours by its content, is kept as NAME.edited. A file that is not in our
// list stays as it is; if it stands where an artifact must go, nothing is written
// (ErrForeign).
func Write(ctx context.Context, dir string, plan Contents) (Result, error) {
	return disk{ours: plan.Ours}.write(ctx, dir, plan)
}

func (d disk) write(ctx context.Context, dir string, plan Contents) (res Result, err error) {
	target, err := resolve(dir)
	if err = cmp.Or(plan.check(), ctx.Err(), err); err != nil {
		return res, failed(dir, err)
	}
	var made []string // parents, the innermost first
	for up := filepath.Dir(target); !exists(up) && filepath.Dir(up) != up; up = filepath.Dir(up) {
		made = append(made, up)
	}
	if err = d.mkdirAll(filepath.Dir(target)); err == nil {
		if res, err = d.run(ctx, target, plan); err == nil {
			return res, nil
		}
	}
	for _, p := range made {
		_ = d.remove(p) // those that are empty
	}
	return Result{}, failed(dir, err)
}

// run makes the new folder and swaps it in.
func (d disk) run(ctx context.Context, target string, plan Contents) (Result, error) {
	s, err := begin(ctx, d, target)
	if err != nil {
		return Result{}, err
	}
	res, err := s.swap(plan)
	if endErr := s.end(); errors.Is(endErr, ErrStuck) {
		err = errors.Join(endErr, err)
	}
	res.Edited = append(res.Edited, s.saved...)
	slices.Sort(res.Edited)
	return res, err
}

func (s *stage) swap(plan Contents) (res Result, err error) {
	all, foreign, err := s.scan(plan)
	if err == nil && all != nil {
		err = s.like(s.build, all[0].info, false)
	}
	res.Foreign = foreign
	if err == nil {
		res.Written, err = s.fill(plan)
	}
	if err == nil {
		err = s.carryAll(all, &res)
	}
	if err = cmp.Or(err, s.ctx.Err()); err == nil {
		err = s.place(all != nil)
	}
	return res, err
}

// place puts the finished folder at the output. What stood there is left in the
// stage.
func (s *stage) place(exists bool) error {
	info, err := os.Lstat(s.build)
	if err != nil {
		return err
	}
	whole := s.path(newName(info))
	if err := s.rename(s.build, whole); err != nil {
		return err
	}
	_ = filepath.WalkDir(whole, func(path string, f fs.DirEntry, err error) error {
		if err == nil && f.IsDir() {
			s.syncFolder(path)
		}
		return nil
	})
	s.syncFolder(s.root)
	defer s.syncFolder(filepath.Dir(s.target))
	if exists {
		if s.do("exchange", s.target, func(target string) error { return exchange(whole, target) }) == nil {
			return nil
		}
		if err := s.rename(s.target, s.path(oldName)); err != nil {
			return err
		}
	}
	return s.rename(whole, s.target)
}

// resolve returns the absolute folder that dir stands for, links followed. It
// refuses one that can't be exchanged as a whole.
func resolve(dir string) (target string, err error) {
	if dir == "" {
		return "", fmt.Errorf("%w: the name is empty", ErrNotFolder)
	}
	if target, err = filepath.Abs(dir); err != nil {
		return "", err
	}
	if leads, err := os.Readlink(target); err == nil {
		if !filepath.IsAbs(leads) {
			leads = filepath.Join(filepath.Dir(target), leads)
		}
		if target, err = filepath.EvalSymlinks(leads); err != nil {
			target = leads // a run killed in its swap may have left it so
			if !exists(stageOf(leads)) {
				return "", fmt.Errorf("%w: the link %s leads nowhere", ErrNotFolder, dir)
			}
		}
	}
	info, err := os.Stat(target)
	if err != nil {
		return target, nil // not there yet, or told when its parents are made
	}
	parent, err := os.Stat(filepath.Dir(target))
	switch below := filepath.Join(dir, "out"); {
	case err != nil:
		return "", err
	case !info.IsDir():
		return "", fmt.Errorf("%w: %s", ErrNotFolder, target)
	case filepath.Dir(target) == target:
		return "", fmt.Errorf("%w: %s is the root of the disk; name a folder in it", ErrNotFolder, target)
	case !onOneDisk(info, parent):
		return "", fmt.Errorf("%w: a disk is mounted at %s, so it can't be exchanged; choose a folder in it, such as %s", ErrPlace, target, below)
	case standsIn(info):
		return "", fmt.Errorf("%w: you stand in %s and would be left in the old one; choose a folder in it, such as %s", ErrPlace, target, below)
	case runtime.GOOS != "windows" && info.Mode().Perm()&0o300 != 0o300:
		return "", fmt.Errorf("%w: %s is kept from being written (its mode is %v)", fs.ErrPermission, target, info.Mode().Perm())
	}
	return target, nil
}

// standsIn reports whether the process stands in a folder or below it.
func standsIn(info fs.FileInfo) bool {
	root, _ := os.Stat(string(filepath.Separator))
	for up := "."; ; up = filepath.Join("..", up) {
		if there, err := os.Stat(up); err != nil || os.SameFile(there, info) || os.SameFile(there, root) {
			return err == nil && os.SameFile(there, info)
		}
	}
}
