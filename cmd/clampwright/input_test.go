//go:build unix

package main

import (
	"bytes"
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

func TestReadFile(t *testing.T) {
	defer func(was time.Duration) { mostWait = was }(mostWait)
	mostWait = 200 * time.Millisecond
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	writeFile(t, at("full"), strings.Repeat("x", mostInput))
	writeFile(t, at("over"), strings.Repeat("x", mostInput+1))
	for _, name := range []string{"silent", "slow", "short", "endless"} {
		if err := syscall.Mkfifo(at(name), 0o600); err != nil {
			t.Skip("skipped: no pipes here")
		}
	}
	pour := func(name string, pause time.Duration, times int) {
		f, err := os.OpenFile(at(name), os.O_WRONLY, 0)
		for range times {
			if err == nil {
				_, err = f.WriteString(strings.Repeat("y", 1<<10))
				time.Sleep(pause)
			}
		}
		f.Close()
	}
	go pour("slow", 50*time.Millisecond, 8)
	go pour("short", 0, 2)
	go pour("endless", 0, 1<<20)
	for _, c := range []struct {
		name, says string
		bytes      int
	}{
		{at("full"), "", mostInput},
		{at("short"), "", 2 << 10},
		{at("over"), "holds more than the 4194304 bytes", 0},
		{at("endless"), "holds more than the 4194304 bytes", 0},
		{at("silent"), "silent has not come to its end within 200ms", 0},
		{at("slow"), "slow has not come to its end within 200ms", 0},
		{"/dev/zero", "/dev/zero is a device, not a file", 0},
		{os.DevNull, "is a device, not a file", 0},
		{dir, "is a folder, not a file", 0},
		{at("none"), "no such file", 0},
	} {
		text, err := readFile(context.Background(), c.name)
		if c.says == "" && (err != nil || len(text) != c.bytes) || c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%s: %d bytes, %v", c.name, len(text), err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	mostWait = time.Minute
	time.AfterFunc(50*time.Millisecond, cancel)
	if _, err := readFile(ctx, at("silent")); !errors.Is(err, context.Canceled) {
		t.Errorf("told to stop: %v", err)
	}
}

// The first signal ends a run that waits for its input.
func TestInterruptedWhileReading(t *testing.T) {
	fifo := filepath.Join(t.TempDir(), "pack.yaml")
	if err := syscall.Mkfifo(fifo, 0o600); err != nil {
		t.Skip("skipped: no pipes here")
	}
	var stderr bytes.Buffer
	cmd := program("check", fifo)
	cmd.Stderr = &stderr
	if took, code := signalled(t, cmd, 300*time.Millisecond, os.Interrupt); took > 2*time.Second || code != exitFailed || !strings.Contains(stderr.String(), "interrupted; nothing was changed") {
		t.Errorf("ended %v after the signal with %d: %s", took, code, stderr.String())
	}
}

// commands that take a while, the last nearly all of it with parsing.
func longCommands(t *testing.T, dir string) [][]string {
	t.Helper()
	example, fouled := filepath.Join(examplesDir, "four-cell-offcut.yaml"), filepath.Join(examplesDir, "fouled-on-purpose.yaml")
	text, err := os.ReadFile(example)
	if err != nil {
		t.Fatal(err)
	}
	large := filepath.Join(dir, "large.yaml") // settled a hundred times, then refused
	writeFile(t, large, strings.Replace(string(text), "cells: 4", "cells: 256", 1)+"variants:\n"+strings.Repeat("  - {name: same, cells: 256, rows: 8, series: 256}\n", 100))
	return [][]string{{"make", "--out", filepath.Join(dir, "out"), example}, {"size", example}, {"mend", fouled}, {"check", large}}
}

// The second signal ends a run within 0.2 s, whatever it is at; the next one finds all
// in order. A moment at which the machine was slow is tried again.
func TestInterruptedTwice(t *testing.T) {
	dir := t.TempDir()
	all := longCommands(t, dir)
	random := rand.New(rand.NewPCG(1, 2))
	for _, args := range all {
		met := 0
		for range 10 {
			after := time.Duration(20+random.IntN(600)) * time.Millisecond
			took := time.Minute
			for i := 0; i < 5 && took > 200*time.Millisecond; i++ {
				var code int
				took, code = signalled(t, program(args...), after, os.Interrupt, os.Interrupt)
				if code < 0 || code == exitFailed {
					met++
				}
			}
			if took > 200*time.Millisecond {
				t.Errorf("%s ended %v after the second signal, sent at %v", args[0], took, after)
			}
		}
		if t.Logf("%s: %d of 10 runs were still at work", args[0], met); met < 5 {
			t.Errorf("%s ends too soon to be interrupted", args[0])
		}
	}
	if text, err := program(all[0]...).CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, text)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// The first signal asks: what is at work then comes to its end and says that nothing
// was changed.
func TestInterruptedOnce(t *testing.T) {
	dir := t.TempDir()
	for _, args := range longCommands(t, dir)[:3] {
		var stderr bytes.Buffer
		took, code := time.Duration(0), -1
		for after := 250 * time.Millisecond; code == -1 && after < 5*time.Second; after *= 2 { // a slow machine may not be listening yet
			stderr.Reset()
			cmd := program(args...)
			cmd.Stderr = &stderr
			took, code = signalled(t, cmd, after, os.Interrupt)
		}
		if took > 5*time.Second || code != exitFailed || !strings.Contains(stderr.String(), "interrupted; nothing was changed") {
			t.Errorf("%s ended %v after the signal with %d: %s", args[0], took, code, stderr.String())
		}
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "*out*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}
