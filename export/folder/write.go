package folder

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"
)

// Result says what a run did. Names are relative to the folder, with slashes,
// sorted.
type Result struct {
	Written []string
	Removed []string // files of an earlier run that are no longer made
	Edited  []string // earlier output changed by hand since, now replaced or removed
	Foreign []string // entries that are not ours, left alone; folders end in '/'
}

// Write makes every artifact of plan and puts them into dir, which is created
// with its parents when missing and followed when it is a symbolic link.
//
// Either all of the plan is in dir afterwards and earlier output that is no
// longer made is gone, or the error says why and dir is as it was. When ctx ends
// before the swap, the run stops; the swap itself is not interrupted. A run
// killed outright during the swap is undone by the next run.
//
// A file written by an earlier run counts as output even if somebody has edited
// it since: it is replaced or removed, and named in Result.Edited. A file that
// is not in our list is never touched; if it stands where an artifact must go,
// nothing is written (ErrForeign).
func Write(ctx context.Context, dir string, plan Plan) (Result, error) {
	return (&writer{}).write(ctx, dir, plan)
}

// writer is one run. Tests set step, which is called before each rename of a swap
// and can make it fail, and hold, which saves them the flushing to disk.
type writer struct {
	step func(what string) error
	hold bool
}

func (w *writer) write(ctx context.Context, dir string, plan Plan) (Result, error) {
	if err := plan.check(); err != nil {
		return Result{}, classify(dir, "", err)
	}
	if err := ctx.Err(); err != nil {
		return Result{}, classify(dir, "", err)
	}
	target, made, err := resolve(dir)
	if err != nil {
		return Result{}, classify(dir, "", err)
	}
	res, err := w.run(ctx, dir, target, plan)
	if err != nil {
		removeFolders(made)
		return Result{}, classify(dir, "", err)
	}
	return res, nil
}

// run stages, fills and commits; the stage is removed whatever happens, unless
// it holds what an undo still needs.
func (w *writer) run(ctx context.Context, dir, target string, plan Plan) (Result, error) {
	st, err := begin(target)
	if err != nil {
		return Result{}, err
	}
	st.hold = w.hold
	was, err := scan(target, plan)
	if err == nil {
		err = st.fill(ctx, dir, plan)
	}
	if err == nil {
		err = ctx.Err()
	}
	if err == nil {
		err = w.commit(st, target, was, plan)
	}
	if errors.Is(err, ErrStuck) {
		return Result{}, err
	}
	if removeErr := st.remove(); err == nil && removeErr != nil {
		err = nil // the output is complete; the next run removes the rest
	}
	if err != nil {
		return Result{}, err
	}
	return result(was, plan), nil
}

func result(was earlier, plan Plan) Result {
	r := Result{Edited: was.edited, Foreign: was.foreign}
	for _, a := range plan.Artifacts {
		r.Written = append(r.Written, a.Name)
	}
	slices.Sort(r.Written)
	for _, name := range was.own {
		if _, still := slices.BinarySearch(r.Written, name); !still {
			r.Removed = append(r.Removed, name)
		}
	}
	return r
}

// resolve returns the absolute folder that dir stands for, links followed, and
// the parents it had to make, outermost first.
func resolve(dir string) (target string, made []string, err error) {
	if dir == "" {
		return "", nil, fmt.Errorf("%w: the name is empty", ErrNotFolder)
	}
	target, err = filepath.Abs(dir)
	if err != nil {
		return "", nil, err
	}
	if info, statErr := os.Lstat(target); statErr == nil && info.Mode()&fs.ModeSymlink != 0 {
		if target, err = filepath.EvalSymlinks(target); err != nil {
			return "", nil, fmt.Errorf("%w: the link %s leads nowhere", ErrNotFolder, dir)
		}
	}
	parent := filepath.Dir(target)
	if parent == target {
		return "", nil, fmt.Errorf("%w: %s is the root of the disk; name a folder in it", ErrNotFolder, target)
	}
	made, err = makeParents(parent)
	return target, made, err
}

// makeParents makes the missing folders down to parent and returns them.
func makeParents(parent string) ([]string, error) {
	var missing []string
	for p := parent; ; p = filepath.Dir(p) {
		info, err := os.Stat(p)
		if err == nil && !info.IsDir() {
			return nil, fmt.Errorf("%w: %s", ErrNotFolder, p)
		}
		if err == nil || p == filepath.Dir(p) {
			break
		}
		if !errors.Is(err, fs.ErrNotExist) {
			if errors.Is(err, syscall.ENOTDIR) {
				continue // a file stands higher up: the loop comes to it
			}
			return nil, err
		}
		missing = append(missing, p)
	}
	slices.Reverse(missing)
	for i, p := range missing {
		if err := os.Mkdir(p, 0o777); err != nil {
			removeFolders(missing[:i])
			return nil, err
		}
	}
	return missing, nil
}

// removeFolders removes empty folders, innermost first; others stay.
func removeFolders(made []string) {
	for i := len(made) - 1; i >= 0; i-- {
		_ = os.Remove(made[i])
	}
}
