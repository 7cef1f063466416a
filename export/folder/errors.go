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

// What can go wrong, for errors.Is. Whatever is returned, the output folder is
// as it was before, unless the error is ErrStuck.
var (
	ErrName       = errors.New("bad artifact name")
	ErrNotFolder  = errors.New("not a folder")
	ErrForeign    = errors.New("a file of yours is in the way")
	ErrBusy       = errors.New("another run is writing to the same folder")
	ErrNoRoom     = errors.New("no room left on the disk")
	ErrPermission = errors.New("no permission")
	ErrCancelled  = errors.New("interrupted")
	ErrList       = errors.New("the list of earlier output can't be read")
	ErrEncode     = errors.New("can't make the file")
	// ErrStuck: a swap failed half-way and could not be undone at once. The
	// next run undoes it; the message names the folder that holds the rest.
	ErrStuck = errors.New("the swap failed and could not be undone")
)

// Error is a failed write. It unwraps to one of the errors above, where one
// fits, and to the cause.
type Error struct {
	Folder string // output folder as given
	Path   string // file or folder the trouble is with; may be empty
	Kind   error  // one of ErrCancelled, ErrNoRoom, ErrPermission, or nil
	Cause  error
}

// Error says what failed, with what, and that nothing was changed.
func (e *Error) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "write %s: ", e.Folder)
	if e.Kind != nil {
		b.WriteString(e.Kind.Error())
	}
	if e.Path != "" {
		fmt.Fprintf(&b, ": %s", e.Path)
	}
	if e.Cause != nil && e.Kind == nil {
		if e.Path != "" {
			b.WriteString(": ")
		}
		b.WriteString(e.Cause.Error())
	}
	if !errors.Is(e.Cause, ErrStuck) {
		b.WriteString("; nothing was changed")
	}
	return b.String()
}

// Unwrap returns the kind and the cause.
func (e *Error) Unwrap() []error {
	var out []error
	for _, err := range []error{e.Kind, e.Cause} {
		if err != nil {
			out = append(out, err)
		}
	}
	return out
}

// classify wraps err with the kind that tells the user most.
func classify(dir, path string, err error) error {
	var known *Error
	if err == nil || errors.As(err, &known) {
		return err
	}
	e := &Error{Folder: dir, Cause: err}
	for _, k := range []error{ErrName, ErrNotFolder, ErrForeign, ErrBusy, ErrList, ErrStuck} {
		if errors.Is(err, k) {
			return e
		}
	}
	switch {
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		e.Kind = ErrCancelled
	case isFull(err):
		e.Kind, e.Path = ErrNoRoom, path
	case errors.Is(err, fs.ErrPermission), isReadOnly(err):
		e.Kind, e.Path = ErrPermission, outsideOfStage(err)
	}
	return e
}

// outsideOfStage is the path an error is about; for one in a temporary folder,
// which means nothing to the user, the folder that one stands in.
func outsideOfStage(err error) string {
	var one *fs.PathError
	var two *os.LinkError
	path := ""
	if errors.As(err, &one) {
		path = one.Path
	} else if errors.As(err, &two) {
		path = two.New
	}
	for strings.Contains(path, stageMark) {
		path = filepath.Dir(path)
	}
	return path
}
