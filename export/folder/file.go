package folder

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"clampwright/export/mark"
)

// mostSealed bounds what is read to see whether it is sealed.
const mostSealed = 64 << 20

// Free reports whether WriteFile may write to a name: nothing is there, or a sealed
// file that nobody has changed.
func Free(name string) error {
	if !exists(name) {
		return nil
	}
	info, err := os.Stat(name)
	if err == nil && info.Mode().IsRegular() && info.Size() <= mostSealed {
		if old, readErr := os.ReadFile(name); readErr == nil && mark.IsSealed(old) {
			return nil
		}
	}
	return fmt.Errorf("%s is there already; it was left alone, as only what this program wrote and nobody has changed is replaced", name)
}

// WriteFile writes one file: made beside its place, flushed, and put there in one
// step. It replaces only what Free allows.
func WriteFile(ctx context.Context, name string, text []byte) error {
	return disk{}.writeFile(ctx, name, text, Free)
}

// ErrChanged: a file that was to be replaced is not as it was read.
var ErrChanged = errors.New("it has been changed meanwhile")

// Replace puts a text in the place of a file that holds was, as WriteFile does; with
// ErrChanged, and the file left alone, where it holds anything else.
func Replace(ctx context.Context, name string, was, text []byte) error {
	return disk{}.writeFile(ctx, name, text, func(name string) error {
		now, err := os.ReadFile(name)
		if err == nil && !bytes.Equal(now, was) {
			err = ErrChanged
		}
		return err
	})
}

// writeFile writes where free says that it may.
func (d disk) writeFile(ctx context.Context, name string, text []byte, free func(name string) error) (err error) {
	defer func() { err = failed(name, err) }()
	target, err := filepath.Abs(name)
	if real, linkErr := filepath.EvalSymlinks(target); linkErr == nil {
		target = real
	}
	target = d.find(target)
	if err = cmp.Or(free(target), err); err != nil {
		return err
	}
	s, err := begin(ctx, d, target)
	if err != nil {
		return err
	}
	defer s.end()
	made := inside(s.build, "file")
	_, err = s.make(s.build, Artifact{"file", Bytes(text)})
	if err = cmp.Or(err, s.syncFile(made)); err != nil {
		return err
	}
	defer s.syncFolder(filepath.Dir(target))
	if info, err := os.Stat(target); err == nil { // what has been put there meanwhile is looked at again
		if err := cmp.Or(free(target), s.like(made, info, false)); err != nil {
			return err
		}
	} else if err := s.link(made, target); err == nil || errors.Is(err, fs.ErrExist) {
		return err // a link never replaces
	}
	return s.rename(made, target)
}
