//go:build linux || darwin || freebsd || netbsd || openbsd

package folder

import (
	"errors"
	"os"
	"syscall"
)

// isFull reports a full disk or an exhausted quota.
func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

// isReadOnly reports a file system that can't be written.
func isReadOnly(err error) bool { return errors.Is(err, syscall.EROFS) }

// lock takes an exclusive lock on an open folder and returns at once; held is
// true when another process has the lock.
func lock(f *os.File) (held bool, err error) {
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return true, nil
	}
	return false, err
}

// syncFolder flushes the names in a folder to disk. File systems that can't are
// not an error.
func syncFolder(path string) {
	if f, err := os.Open(path); err == nil {
		_ = f.Sync()
		_ = f.Close()
	}
}

// onOtherDisk reports whether two folders that exist are on different file
// systems.
func onOtherDisk(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	if errX != nil || errY != nil {
		return false
	}
	s, okS := x.Sys().(*syscall.Stat_t)
	t, okT := y.Sys().(*syscall.Stat_t)
	return okS && okT && s.Dev != t.Dev
}
