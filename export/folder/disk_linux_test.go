package folder

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// tinyDisk mounts a file system of 64 KiB, or skips.
func tinyDisk(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if os.Geteuid() != 0 {
		t.Skip("skipped: only root may mount a small disk")
	}
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skipf("skipped: can't mount a small disk: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, 0) })
	return dir
}

func init() {
	layouts["other disk"] = func(t *testing.T, parent string) string {
		disk := tinyDisk(t)
		mustWrite(t, filepath.Join(disk, "out"), first)
		put(t, filepath.Join(disk, "out", "mine"), "x")
		if err := os.Symlink(filepath.Join(disk, "out"), filepath.Join(parent, "out")); err != nil {
			t.Fatal(err)
		}
		return filepath.Join(parent, "out")
	}
	layouts["read-only parent"] = func(t *testing.T, parent string) string {
		dir := filepath.Join(unwritable(t, func(parent string) {
			mustWrite(t, filepath.Join(parent, "out"), first)
			put(t, filepath.Join(parent, "out", "mine"), "x")
		}), "out")
		return dir
	}
}

func TestFullDisk(t *testing.T) {
	disk := tinyDisk(t)
	dir := filepath.Join(disk, "out")
	mustWrite(t, dir, map[string]string{"report.json": "{1}"})
	before := snapshot(t, disk)
	var p Contents // of one file: of two written at once either may be the one without room
	p.Add("big.stl", func(w io.Writer) error {
		_, err := w.Write(bytes.Repeat([]byte("x"), 200<<10))
		return err
	})
	_, err := Write(context.Background(), dir, p)
	if !errors.Is(err, ErrNoRoom) || !errors.Is(err, syscall.ENOSPC) {
		t.Errorf("got %v", err)
	}
	if want := "no room left on the disk: big.stl; nothing was changed"; err != nil && !strings.HasSuffix(err.Error(), want) {
		t.Errorf("got %q, want %q", err, want)
	}
	sameState(t, "after", snapshot(t, disk), before)
}

// TestMountedOutput writes where a disk is mounted, as containers have it, and
// where one is mounted below: neither can be exchanged.
func TestMountedOutput(t *testing.T) {
	disk := tinyDisk(t)
	put(t, filepath.Join(disk, "mine"), "x")
	for _, dir := range []string{disk, filepath.Dir(disk)} {
		if _, err := Write(context.Background(), dir, planOf(second)); !errors.Is(err, ErrPlace) || !strings.Contains(err.Error(), "a disk is mounted at "+disk) {
			t.Errorf("got %v", err)
		}
	}
	sameState(t, "after", snapshot(t, disk), map[string]string{"./": "", "mine": "x"})
	mustWrite(t, filepath.Join(disk, "out"), second)
}

// TestRightsAreKept: group, owner, mode and times of what stays are as they were.
func TestRightsAreKept(t *testing.T) {
	dir := layouts["with foreign files"](t, t.TempDir())
	when := time.Date(2020, 1, 2, 3, 4, 5, 0, time.UTC)
	rights := map[string]fs.FileMode{"": 0o775 | fs.ModeSetgid, "cut": 0o750, "mine": 0o640, "photos": 0o555 | fs.ModeSetgid, "report.json": 0o664}
	group := os.Getgid()
	if os.Geteuid() == 0 {
		group = 12345
	}
	for name, mode := range rights {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.Lchown(path, -1, group), os.Chmod(path, mode), os.Chtimes(path, when, when)); err != nil {
			t.Fatal(err)
		}
	}
	for _, missing := range []map[string]bool{nil, {"link": true}} {
		if _, err := (&fault{missing: missing}).disk().write(context.Background(), dir, planOf(second)); err != nil {
			t.Fatal(err)
		}
		for name, mode := range rights {
			info, err := os.Stat(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			if got := info.Mode() &^ fs.ModeDir; got != mode || int(stat(info).Gid) != group {
				t.Errorf("%q: %v of group %d, want %v", name, got, stat(info).Gid, mode)
			}
			if (name == "mine" || name == "photos") && !info.ModTime().Equal(when) {
				t.Errorf("%s: %v", name, info.ModTime())
			}
		}
		if info, err := os.Stat(filepath.Join(dir, "model")); err != nil || int(stat(info).Gid) != group {
			t.Errorf("a new folder is not of the group: %v", err)
		}
	}
}

// unwritable makes a folder in which nothing can be made, also for root, or
// skips.
func unwritable(t *testing.T, before func(dir string)) string {
	t.Helper()
	dir := t.TempDir()
	before(dir)
	if os.Geteuid() != 0 {
		if err := os.Chmod(dir, 0o555); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = os.Chmod(dir, 0o755) })
		return dir
	}
	if out, err := exec.Command("chattr", "+i", dir).CombinedOutput(); err != nil {
		t.Skipf("skipped: root writes everywhere and chattr failed: %s", out)
	}
	t.Cleanup(func() { _ = exec.Command("chattr", "-i", dir).Run() })
	return dir
}

func TestUnwritableParent(t *testing.T) {
	parent := unwritable(t, func(string) {})
	for _, dir := range []string{filepath.Join(parent, "out"), filepath.Join(parent, "a", "out")} {
		_, err := Write(context.Background(), dir, planOf(first))
		if !errors.Is(err, ErrPermission) {
			t.Errorf("got %v", err)
		} else if !strings.Contains(err.Error(), "no permission: "+parent) || strings.Contains(err.Error(), stageMark) || filepath.Dir(dir) == parent && !strings.Contains(err.Error(), whyParent) {
			t.Errorf("message: %v", err)
		}
	}
}
