package folder

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
)

// What can go wrong, for errors.Is. Whatever is returned, the output is as it
// was before, unless the error is ErrStuck.
var (
	ErrName       = errors.New("bad artifact name")
	ErrNotFolder  = errors.New("not a folder")
	ErrForeign    = errors.New("a file of yours is in the way")
	ErrBusy       = errors.New("another run is writing to the same place")
	ErrNoRoom     = errors.New("no room left on the disk")
	ErrPermission = errors.New("no permission")
	ErrCancelled  = errors.New("interrupted")
	ErrList       = errors.New("the list of earlier output can't be read")
	ErrEncode     = errors.New("can't make the file")
	ErrPlace      = errors.New("the output folder is always exchanged as a whole, and this one can't be")
	// ErrStuck: a swap failed half-way and could not be undone at once. The
	// next run undoes it; the message names the folder that holds the rest.
	ErrStuck = errors.New("the swap failed and could not be undone")
)

// whyParent says why the right to write in the output folder is not enough.
const whyParent = "; new output is made there and put in the place of the old in one step, so it has to be writable too"

// failure is an error with words of its own.
type failure struct {
	error
	text string
}

func (f *failure) Error() string { return f.text }
func (f *failure) Unwrap() error { return f.error }

// failed says what could not be written, why, and that nothing was changed; the
// error is of the kind above that tells the user most.
func failed(target string, err error) error {
	if err == nil {
		return nil
	}
	where, kind := kindOf(err)
	text := err.Error()
	if kind != nil {
		text = strings.TrimSuffix(kind.Error()+": "+where, ": ")
	}
	if !errors.Is(err, ErrStuck) {
		text += "; nothing was changed"
	}
	return &failure{errors.Join(err, kind), "write " + target + ": " + text}
}

// kindOf is what the trouble is with, and the kind of an error of the system.
func kindOf(err error) (where string, kind error) {
	path := err.Error()
	if one, ok := errors.AsType[*fs.PathError](err); ok {
		path = one.Path
	} else if two, ok := errors.AsType[*os.LinkError](err); ok {
		path = two.New
	}
	// The folder in which new output is made means nothing to the user: a file in it
	// is told by its own name, and trouble with it by the folder it stands in.
	before, rest, inStage := strings.Cut(path, stageMark)
	if inStage {
		path = filepath.Dir(before)
	}
	switch {
	case errors.Is(err, context.Canceled):
		return "", ErrCancelled
	case isFull(err):
		_, file, _ := strings.Cut(rest, buildName+string(filepath.Separator))
		return file, ErrNoRoom
	case errors.Is(err, syscall.ENOTDIR), errors.Is(err, fs.ErrNotExist):
		return path, ErrNotFolder
	case isOtherDisk(err):
		return "a disk is mounted in it", ErrPlace
	case isDenied(err):
		if inStage {
			path += whyParent
		}
		return path, ErrPermission
	}
	return "", nil
}
