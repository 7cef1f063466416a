//go:build !(linux || darwin || freebsd || netbsd || openbsd)

package folder

import (
	"errors"
	"os"
	"strings"
	"syscall"
	"time"
)

// Error numbers of a full disk on systems without the POSIX ones.
const (
	errorHandleDiskFull = syscall.Errno(39)
	errorDiskFull       = syscall.Errno(112)
)

// isFull reports a full disk.
func isFull(err error) bool {
	return errors.Is(err, errorDiskFull) || errors.Is(err, errorHandleDiskFull)
}

// isReadOnly reports a file system that can't be written.
func isReadOnly(error) bool { return false }

// staleAfter is the age at which a temporary folder counts as left behind.
const staleAfter = time.Hour

// lock can't ask the system here: a temporary folder younger than an hour counts
// as in use by another run, any other folder as free.
func lock(f *os.File) (held bool, err error) {
	if !strings.Contains(f.Name(), stageMark) {
		return false, nil
	}
	info, err := f.Stat()
	if err != nil {
		return false, err
	}
	return time.Since(info.ModTime()) < staleAfter, nil
}

// syncFolder does nothing: names can't be flushed here.
func syncFolder(string) {}

// onOtherDisk is not asked here.
func onOtherDisk(string, string) bool { return false }
