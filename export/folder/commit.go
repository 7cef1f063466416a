package folder

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// commit swaps the filled stage in. A missing output folder is made by one
// rename. One that holds only our files is exchanged as a whole. Where somebody
// else's files are, or where the output is the folder we stand in, files are
// moved one by one so that nobody else's is touched, with a record to undo it.
func (w *writer) commit(st *stage, target string, was earlier, plan Plan) error {
	var err error
	switch {
	case !was.exists:
		if err = w.do("place", func() error { return os.Rename(st.new(""), target) }); err != nil {
			return err
		}
	case len(was.foreign) == 0 && !holdsWorkingFolder(target):
		err = w.swapWhole(st, target)
		if err == nil {
			rescue(st, target, was.own)
		}
		if errors.Is(err, errKeepFolder) {
			err = w.swapFiles(st, target, was, plan)
		}
	default:
		err = w.swapFiles(st, target, was, plan)
	}
	syncFolder(target)
	syncFolder(filepath.Dir(target))
	return err
}

// do runs one step of a swap, unless a test makes it fail first.
func (w *writer) do(what string, f func() error) error {
	if w.step != nil {
		if err := w.step(what); err != nil {
			return err
		}
	}
	return f()
}

// holdsWorkingFolder reports whether the process stands in dir or below it: its
// folder must not be replaced under the user's shell.
func holdsWorkingFolder(dir string) bool {
	wd, err := os.Getwd()
	if err != nil {
		return false
	}
	if real, err := filepath.EvalSymlinks(wd); err == nil {
		wd = real
	}
	rel, err := filepath.Rel(dir, wd)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

// errKeepFolder says that the folder itself can't be replaced (it is where a
// disk is mounted, say), but its files may be.
var errKeepFolder = errors.New("the folder itself can't be replaced")

// swapWhole exchanges the output folder for the new one, in one step where the
// system can, else by two renames.
func (w *writer) swapWhole(st *stage, target string) error {
	info, err := os.Stat(target)
	if err != nil {
		return err
	}
	if err := os.Chmod(st.new(""), info.Mode().Perm()); err != nil {
		return err
	}
	err = w.do("exchange", func() error { return exchange(st.new(""), target) })
	if err == nil {
		return nil // new/ now holds the old files, and goes with the stage
	}
	if err := w.do("take away", func() error { return os.Rename(target, st.old("")) }); err != nil {
		return errKeepFolder
	}
	if err := w.do("place", func() error { return os.Rename(st.new(""), target) }); err != nil {
		if back := os.Rename(st.old(""), target); back != nil {
			return fmt.Errorf("%w: earlier output is in %s: %w", ErrStuck, st.old(""), errors.Join(err, back))
		}
		return err
	}
	return nil
}

// rescue moves files that somebody put into the old folder between our look at
// it and the exchange into the new one. It never replaces a file; what can't be
// moved stays where it is only as long as the stage does.
func rescue(st *stage, target string, own []string) {
	for _, root := range []string{st.new(""), st.old("")} {
		_ = filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() {
				return nil
			}
			rel, err := filepath.Rel(root, path)
			name := filepath.ToSlash(rel)
			if err == nil && name != ListName && !slices.Contains(own, name) {
				_ = place(path, inside(target, name))
			}
			return nil
		})
	}
}

// undo records a file by file swap: what is taken to old/ and what comes from
// new/.
type undo struct {
	Old []string `json:"old"`
	New []string `json:"new"`
}

// swapFiles moves our old files out and the new ones in, the list last. When a
// step fails everything is moved back.
func (w *writer) swapFiles(st *stage, target string, was earlier, plan Plan) error {
	u := undo{Old: slices.Clone(was.own)}
	for _, a := range plan.Artifacts {
		u.New = append(u.New, a.Name)
	}
	if was.listed {
		u.Old = append(u.Old, ListName)
	}
	u.New = append(u.New, ListName)
	if err := st.record(u); err != nil {
		return err
	}
	err := w.moveAll(u, target, st)
	if err == nil {
		err = w.do("settle", func() error { return os.Remove(st.undoPath()) })
	}
	if err != nil {
		if back := st.rollBack(target); back != nil {
			return fmt.Errorf("%w: earlier output is in %s: %w", ErrStuck, st.root, errors.Join(err, back))
		}
		return err
	}
	removeEmpty(target, u.Old)
	return nil
}

func (w *writer) moveAll(u undo, target string, st *stage) error {
	for _, name := range u.Old {
		err := w.do("take away "+name, func() error { return move(inside(target, name), st.old(name)) })
		if err != nil {
			return err
		}
	}
	for _, name := range u.New {
		err := w.do("place "+name, func() error { return place(st.new(name), inside(target, name)) })
		if err != nil {
			return err
		}
	}
	return nil
}

func inside(target, name string) string { return filepath.Join(target, filepath.FromSlash(name)) }

// move renames, making the folders it needs.
func move(from, to string) error {
	if err := os.MkdirAll(filepath.Dir(to), 0o777); err != nil {
		return err
	}
	return os.Rename(from, to)
}

// place moves a new file in, but never over a file that has turned up since the
// folder was looked at.
func place(from, to string) error {
	if _, err := os.Lstat(to); err == nil {
		return fmt.Errorf("%w: %s appeared while we wrote", ErrForeign, to)
	}
	return move(from, to)
}

// record writes the undo record and flushes it.
func (s *stage) record(u undo) error {
	b, err := json.Marshal(u)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(s.undoPath(), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	if err == nil {
		err = f.Sync()
	}
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	syncFolder(s.root)
	return err
}

// rollBack puts the output folder back as it was before a swap that did not
// end. Where a file lies tells how far the swap had come: a new file that has
// left new/ is in the output and goes; an old file that is in old/ returns.
func (s *stage) rollBack(target string) error {
	if _, err := os.Stat(target); errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(s.old("")); err == nil {
			return os.Rename(s.old(""), target) // between the two renames of a whole swap
		}
	}
	b, err := os.ReadFile(s.undoPath())
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	var u undo
	if err := json.Unmarshal(b, &u); err != nil {
		return nil // cut off while it was written: no file had moved yet
	}
	return s.moveBack(u, target)
}

func (s *stage) moveBack(u undo, target string) error {
	var errs []error
	for _, name := range u.New {
		if CheckName(name) != nil && name != ListName || exists(s.new(name)) {
			continue
		}
		if !exists(s.old(name)) && slices.Contains(u.Old, name) {
			continue // the old file has not been taken away
		}
		if err := os.Remove(inside(target, name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			errs = append(errs, err)
		}
	}
	removeEmpty(target, u.New)
	for _, name := range u.Old {
		if (CheckName(name) == nil || name == ListName) && exists(s.old(name)) {
			errs = append(errs, move(s.old(name), inside(target, name)))
		}
	}
	return errors.Join(errs...)
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// removeEmpty removes the folders of the named files where they are empty now.
func removeEmpty(target string, names []string) {
	for _, name := range names {
		for i := len(name) - 1; i > 0; i-- {
			if name[i] == '/' && os.Remove(inside(target, name[:i])) != nil {
				break
			}
		}
	}
}
