package folder

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/windows"
)

// isFull reports a full disk.
func isFull(err error) bool {
	return errors.Is(err, windows.ERROR_DISK_FULL) || errors.Is(err, windows.ERROR_HANDLE_DISK_FULL)
}

// isDenied reports a missing right or a disk that can't be written.
func isDenied(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, windows.ERROR_WRITE_PROTECT)
}

// isOtherDisk reports a step between two disks.
func isOtherDisk(err error) bool { return errors.Is(err, windows.ERROR_NOT_SAME_DEVICE) }

// lock takes an exclusive lock that ends with the process and returns at once,
// ErrBusy when another process has it.
func lock(f *os.File) error {
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &windows.Overlapped{})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return ErrBusy
	}
	return err
}

// Rights come with the folder here, and a disk mounted in a folder is a link.
func onOneDisk(fs.FileInfo, fs.FileInfo) bool { return true }
func sameOwner(fs.FileInfo, fs.FileInfo) bool { return true }
func keepOwner(string, fs.FileInfo) error     { return nil }

// newName is the name of the finished folder. It is never exchanged here.
func newName(fs.FileInfo) string { return newPrefix }

// exchange is not offered by this system.
func exchange(string, string) error { return errors.ErrUnsupported }
