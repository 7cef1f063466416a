package folder

import (
	"errors"
	"io/fs"
	"os"
)

// disk makes every change of a name on the disk. Tests set step, which is called
// before each change and can refuse it, and hold, which saves them the flushing.
type disk struct {
	step func(call, path string) error
	hold bool
}

func (d disk) do(call, path string, change func() error) error {
	if d.step != nil {
		if err := d.step(call, path); err != nil {
			return &fs.PathError{Op: call, Path: path, Err: err}
		}
	}
	return change()
}

func (d disk) mkdir(path string, mode fs.FileMode) error {
	return d.do("mkdir", path, func() error { return os.Mkdir(path, mode) })
}

func (d disk) mkdirAll(path string) error {
	return d.do("mkdir", path, func() error { return os.MkdirAll(path, 0o777) })
}

// create opens a file that must not be there yet.
func (d disk) create(path string) (f *os.File, err error) {
	err = d.do("create", path, func() error {
		f, err = os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		return err
	})
	return f, err
}

func (d disk) link(from, to string) error {
	return d.do("link", to, func() error { return os.Link(from, to) })
}

func (d disk) rename(from, to string) error {
	return d.do("rename", to, func() error { return os.Rename(from, to) })
}

func (d disk) remove(path string) error {
	return d.do("remove", path, func() error { return os.Remove(path) })
}

// specialMode is what of a mode is kept beside reading and writing.
const specialMode = fs.ModeSetuid | fs.ModeSetgid | fs.ModeSticky

// like gives path the owner, group and mode of another file or folder.
func (d disk) like(path string, other fs.FileInfo) error {
	now, err := os.Lstat(path)
	if err != nil || sameOwner(now, other) && now.Mode() == other.Mode() {
		return err
	}
	if err := d.do("owner", path, func() error { return keepOwner(path, other) }); err != nil {
		return err
	}
	return d.do("mode", path, func() error { return os.Chmod(path, other.Mode()&(fs.ModePerm|specialMode)) })
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
	err = f.Sync()
	return errors.Join(err, f.Close())
}

func (d disk) syncFile(path string) error { return d.sync(path, os.O_RDWR) }

func (d disk) syncFolder(path string) { _ = d.sync(path, os.O_RDONLY) }
