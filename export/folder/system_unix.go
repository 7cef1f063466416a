//go:build linux || darwin

package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"syscall"
)

// isFull reports a full disk or an exhausted quota.
func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

// isDenied reports a missing right or a disk that can't be written.
func isDenied(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}

// isOtherDisk reports a step between two disks, or on a folder where one is
// mounted.
func isOtherDisk(err error) bool {
	return errors.Is(err, syscall.EXDEV) || errors.Is(err, syscall.EBUSY)
}

// lock takes an exclusive lock that ends with the process and returns at once,
// ErrBusy when another process has it.
func lock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return ErrBusy
	}
	return err
}

func stat(info fs.FileInfo) *syscall.Stat_t {
	s, _ := info.Sys().(*syscall.Stat_t)
	return s
}

// onOneDisk reports whether two files or folders are on the same file system.
func onOneDisk(a, b fs.FileInfo) bool { return stat(a).Dev == stat(b).Dev }

func sameOwner(a, b fs.FileInfo) bool {
	return stat(a).Uid == stat(b).Uid && stat(a).Gid == stat(b).Gid
}

// keepOwner gives path the group of another file, and its owner where that is
// allowed.
func keepOwner(path string, other fs.FileInfo) error {
	uid, gid := int(stat(other).Uid), int(stat(other).Gid)
	if os.Lchown(path, uid, gid) == nil || os.Lchown(path, -1, gid) == nil {
		return nil
	}
	return fmt.Errorf("%w: the group of %s (number %d) is not one of yours and can't be kept", fs.ErrPermission, other.Name(), gid)
}

// newName names the finished folder after itself: when another folder stands
// under the name, the two have been exchanged.
func newName(info fs.FileInfo) string { return fmt.Sprint(newPrefix, stat(info).Ino) }
