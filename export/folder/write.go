package folder

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// Result says what a run did. Names are relative to the folder, with slashes,
// sorted.
type Result struct {
	Written []string
	Removed []string // files of an earlier run that are no longer made
	Edited  []string // earlier output changed by hand since, as it is kept
	Foreign []string // entries that are not ours, left alone; folders end in '/'
}

// Write makes every artifact of plan and puts them into dir, which is created
// with its parents when missing and followed when it is a symbolic link.
//
// The whole folder is made anew beside dir, with what others have put there, and
// exchanged with it in one step: at every moment dir is the earlier output or the
// new one. Where the system has no such step the earlier output is moved aside
// first; a run killed in between is put in order by the next. When ctx ends
// before the swap, the run stops; the swap itself is not interrupted.
//
// A file written by an earlier run that somebody has edited since is kept as
// NAME.edited. A file that is not in our list stays as it is; if it stands where an
// artifact must go, nothing is written (ErrForeign). A folder that can't be
// exchanged as a whole is refused (ErrPlace).
func Write(ctx context.Context, dir string, plan Plan) (Result, error) {
	return disk{}.write(ctx, dir, plan)
}

func (d disk) write(ctx context.Context, dir string, plan Plan) (Result, error) {
	target, err := resolve(dir)
	if err = cmp.Or(plan.check(), ctx.Err(), err); err != nil {
		return Result{}, failed(dir, err)
	}
	parent := filepath.Dir(target)
	parents := missing(parent)
	var res Result
	if err = d.mkdirAll(parent); err == nil {
		res, err = d.run(ctx, target, plan)
	}
	if err == nil {
		return res, nil
	}
	for _, p := range parents {
		_ = d.remove(p) // those that are empty
	}
	return Result{}, failed(dir, err)
}

// run makes the new folder and swaps it in.
func (d disk) run(ctx context.Context, target string, plan Plan) (Result, error) {
	s, err := begin(ctx, d, target)
	if err != nil {
		return Result{}, err
	}
	res, err := s.swap(plan)
	if endErr := s.end(); errors.Is(endErr, ErrStuck) {
		err = errors.Join(endErr, err)
	}
	for _, name := range s.saved {
		if strings.Contains(name, editedMark) {
			res.Edited = append(res.Edited, name)
		} else {
			res.Foreign = append(res.Foreign, name)
		}
	}
	slices.Sort(res.Edited)
	slices.Sort(res.Foreign)
	res.Foreign = slices.Compact(res.Foreign)
	return res, err
}

func (s *stage) swap(plan Plan) (Result, error) {
	was, err := scan(s.target, plan)
	if err != nil {
		return Result{}, err
	}
	res := Result{Foreign: was.foreign}
	if was.exists {
		err = s.like(s.build, was.own[""])
	}
	if err == nil {
		err = s.fill(plan)
	}
	if err == nil {
		res.Edited, err = s.carryAll(was)
	}
	if err = cmp.Or(err, s.ctx.Err()); err == nil {
		err = s.place(was.exists)
	}
	for _, a := range plan.Artifacts {
		res.Written = append(res.Written, a.Name)
	}
	slices.Sort(res.Written)
	for _, name := range slices.Sorted(maps.Keys(was.own)) {
		if _, still := slices.BinarySearch(res.Written, name); !still && !was.own[name].IsDir() {
			res.Removed = append(res.Removed, name)
		}
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
	s.syncFolder(s.root)
	defer s.syncFolder(filepath.Dir(s.target))
	if exists {
		if s.do("exchange", s.target, func() error { return exchange(whole, s.target) }) == nil {
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
		if target, err = filepath.EvalSymlinks(leads); err != nil && !exists(stageOf(leads)) {
			return "", fmt.Errorf("%w: the link %s leads nowhere", ErrNotFolder, dir)
		} else if err != nil {
			target = leads // a run killed in its swap has left it so
		}
	}
	info, err := os.Stat(target)
	if err != nil {
		return target, nil // not there yet, or told when its parents are made
	}
	parent, err := os.Stat(filepath.Dir(target))
	switch below := filepath.Join(dir, "out"); {
	case err != nil || !info.IsDir():
		return target, nil
	case filepath.Dir(target) == target:
		return "", fmt.Errorf("%w: %s is the root of the disk; name a folder in it", ErrNotFolder, target)
	case !onOneDisk(info, parent):
		return "", fmt.Errorf("%w: a disk is mounted at %s, so it can't be exchanged; choose a folder in it, such as %s", ErrPlace, target, below)
	case holdsWorkingFolder(target):
		return "", fmt.Errorf("%w: you stand in %s and would be left in the old one; choose a folder in it, such as %s", ErrPlace, target, below)
	case runtime.GOOS != "windows" && info.Mode().Perm()&0o300 != 0o300:
		return "", fmt.Errorf("%w: %s is kept from being written (its mode is %v)", fs.ErrPermission, target, info.Mode().Perm())
	}
	return target, nil
}

// holdsWorkingFolder reports whether the process stands in dir or below it.
func holdsWorkingFolder(dir string) bool {
	wd, err := os.Getwd()
	if err != nil {
		return false
	}
	if real, err := filepath.EvalSymlinks(wd); err == nil {
		wd = real
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	rel, err := filepath.Rel(dir, wd)
	return err == nil && filepath.IsLocal(rel)
}

// missing are the folders from dir upwards that are not there, innermost first.
func missing(dir string) (out []string) {
	for ; !exists(dir) && filepath.Dir(dir) != dir; dir = filepath.Dir(dir) {
		out = append(out, dir)
	}
	return out
}
