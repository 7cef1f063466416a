package folder

import (
	"errors"
	"io/fs"
	"os"
)

// disk makes every change of a name on the disk. Tests set step, which is called
// before each change and can refuse it, at, which finds the name that a system without
// case has a path under, and hold, which saves them the flushing.
type disk struct {
	step func(call, path string) error
	at   func(path string) string
	hold bool
	ours func(name string, content []byte) bool // Plan.Ours
}

func (d disk) find(path string) string {
	if d.at != nil {
		return d.at(path)
	}
	return path
}

func (d disk) exists(path string) bool { return exists(d.find(path)) }

func (d disk) do(call, path string, change func(path string) error) error {
	path = d.find(path)
	if d.step != nil {
		if err := d.step(call, path); err != nil {
			return &fs.PathError{Op: call, Path: path, Err: err}
		}
	}
	return change(path)
}

func (d disk) mkdir(path string, mode fs.FileMode) error {
	return d.do("mkdir", path, func(path string) error { return os.Mkdir(path, mode) })
}

func (d disk) mkdirAll(path string) error {
	return d.do("mkdir", path, func(path string) error { return os.MkdirAll(path, 0o777) })
}

// open makes a file; with os.O_EXCL it must not be there yet.
func (d disk) open(path string, flag int, mode fs.FileMode) (f *os.File, err error) {
	err = d.do("create", path, func(path string) error {
		f, err = os.OpenFile(path, os.O_RDWR|os.O_CREATE|flag, mode)
		return err
	})
	return f, err
}

func (d disk) link(from, to string) error {
	return d.do("link", to, func(to string) error { return os.Link(from, to) })
}

func (d disk) rename(from, to string) error {
	return d.do("rename", to, func(to string) error { return os.Rename(from, to) })
}

func (d disk) remove(path string) error { return d.do("remove", path, os.Remove) }

// like gives path the owner, group and mode of another file or folder, and its time
// where it is a copy.
func (d disk) like(path string, other fs.FileInfo, copied bool) error {
	now, err := os.Lstat(path)
	if err == nil && !(sameOwner(now, other) && now.Mode() == other.Mode()) {
		const kept = fs.ModePerm | fs.ModeSetuid | fs.ModeSetgid | fs.ModeSticky
		if err = d.do("owner", path, func(path string) error { return keepOwner(path, other) }); err == nil {
			err = d.do("mode", path, func(path string) error { return os.Chmod(path, other.Mode()&kept) })
		}
	}
	if err != nil || !copied {
		return err
	}
	return d.do("times", path, func(path string) error { return os.Chtimes(path, other.ModTime(), other.ModTime()) })
}

// sync flushes a file or, where the system can, the names in a folder.
func (d disk) sync(path string, flag int) error {
	if d.hold {
		return nil
	}
	f, err := os.OpenFile(path, flag, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

func (d disk) syncFile(path string) error { return d.sync(path, os.O_RDWR) }

func (d disk) syncFolder(path string) { _ = d.sync(path, os.O_RDONLY) }
