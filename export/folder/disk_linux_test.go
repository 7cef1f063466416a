package folder

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
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

func TestFullDisk(t *testing.T) {
	disk := tinyDisk(t)
	dir := filepath.Join(disk, "out")
	mustWrite(t, dir, map[string]string{"report.json": "{1}"})
	before := snapshot(t, disk)
	p := planOf(map[string]string{"report.json": "{2}"})
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

// TestMountedOutput writes into a folder where a disk is mounted, as containers
// have it: it can't be replaced, so its files are swapped one by one.
func TestMountedOutput(t *testing.T) {
	disk := tinyDisk(t)
	mustWrite(t, disk, first)
	put(t, filepath.Join(disk, "mine"), "x")
	r := mustWrite(t, disk, second)
	if len(r.Foreign) != 1 || r.Foreign[0] != "mine" {
		t.Errorf("Foreign = %v", r.Foreign)
	}
	clean := filepath.Join(t.TempDir(), "out")
	mustWrite(t, clean, second)
	put(t, filepath.Join(clean, "mine"), "x")
	sameState(t, "after", snapshot(t, disk), snapshot(t, clean))
	p := planOf(first)
	p.Add("big", Bytes(bytes.Repeat([]byte("x"), 200<<10)))
	if _, err := Write(context.Background(), disk, p); !errors.Is(err, ErrNoRoom) {
		t.Errorf("got %v", err)
	}
	sameState(t, "after a full disk", snapshot(t, disk), snapshot(t, clean))
}

// unwritable makes a folder in which nothing can be made, also for root, or
// skips.
func unwritable(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
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
	parent := unwritable(t)
	for _, dir := range []string{filepath.Join(parent, "out"), filepath.Join(parent, "a", "out")} {
		_, err := Write(context.Background(), dir, planOf(first))
		if !errors.Is(err, ErrPermission) {
			t.Errorf("got %v", err)
		} else if !strings.Contains(err.Error(), "no permission: "+parent) || strings.Contains(err.Error(), stageMark) {
			t.Errorf("message: %v", err)
		}
	}
}
