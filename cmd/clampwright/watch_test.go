package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// lockedBuffer is written by the watch and read by the test.
type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

const watchedFile = `fixture: watched
cell: {model: 54x174x200, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 900 kgf, case: insulated}
pack: {cells: 2}
plates: {material: birch plywood, thickness: 18}
springs: {disc: 20x10.2x1.1, series: 10}
variants:
  - {name: three, cells: 3}
`

// watching is a watch on a file of a test.
type watching struct {
	t         *testing.T
	name      string
	out, errs lockedBuffer
	stop      func()
	done      chan error
}

func startWatch(t *testing.T, text string) *watching {
	dir := t.TempDir()
	w := &watching{t: t, name: filepath.Join(dir, "below", "pack.yaml"), done: make(chan error, 1)}
	w.save(w.name, text)
	ctx, stop := context.WithCancel(context.Background())
	w.stop = stop
	go func() {
		w.done <- watch(ctx, &console{out: &w.out, err: &w.errs}, w.name, filepath.Join(dir, "out"), false)
	}()
	return w
}

// save does as editors do: it writes beside, then renames over.
func (w *watching) save(name, text string) {
	w.t.Helper()
	err := os.MkdirAll(filepath.Dir(name), 0o777)
	if err == nil {
		err = os.WriteFile(name+".new", []byte(text), 0o644)
	}
	if err == nil {
		err = os.Rename(name+".new", name)
	}
	if err != nil {
		w.t.Fatal(err)
	}
}

// await waits for the nth line of a buffer and returns it.
func (w *watching) await(b *lockedBuffer, n int) string {
	w.t.Helper()
	for range 6000 {
		if lines := strings.Split(b.String(), "\n"); len(lines) > n {
			return lines[n-1]
		}
		time.Sleep(20 * time.Millisecond)
	}
	w.t.Fatalf("no line %d in\n%s\n%s", n, w.out.String(), w.errs.String())
	return ""
}

// A watch makes the file, makes it again on every save with one line of what
// changed, lives through a file that is wrong or gone, and ends when told.
func TestWatch(t *testing.T) {
	w := startWatch(t, watchedFile)
	defer w.stop()
	says := func(line string, words ...string) {
		t.Helper()
		for _, word := range words {
			if !strings.Contains(line, word) {
				t.Errorf("no %q in %q", word, line)
			}
		}
	}
	says(w.await(&w.out, 1), "watching")
	says(w.await(&w.out, 2), "first run", "with 1 variant;")
	w.save(w.name, watchedFile+"# the same again\n")
	says(w.await(&w.out, 3), "every part is kept")
	w.save(w.name, strings.Replace(watchedFile, "cells: 2}", "cells: two, nonsense: 1}", 1))
	says(w.await(&w.errs, 1), "pack.yaml:3:15: error: pack.cells", `"two"`)
	says(w.await(&w.errs, 2), `pack.yaml:3:20: error: unknown key "nonsense" in pack`)
	w.save(w.name, strings.NewReplacer("thickness: 18", "thickness: 15", "cells: 3", "cells: 4").Replace(watchedFile))
	says(w.await(&w.out, 4), "plates.thickness: 18 -> 15", "variants[0].cells: 3 -> 4", "to make", "end plate", "variants changed: three")
	if err := os.Remove(w.name); err != nil {
		t.Fatal(err)
	}
	says(w.await(&w.errs, 3), "was deleted")
	w.save(w.name, watchedFile)
	says(w.await(&w.out, 5), "plates.thickness: 15 -> 18")
	w.stop()
	if err := <-w.done; err != nil {
		t.Error(err)
	}
	if n, m := strings.Count(w.out.String(), "\n"), strings.Count(w.errs.String(), "\n"); n != 5 || m != 3 {
		t.Errorf("%d and %d lines:\n%s\n%s", n, m, w.out.String(), w.errs.String())
	}
}

// A watch sees the records saved, and lives through the folder of the file being
// removed and made anew.
func TestWatchRecordsAndFolder(t *testing.T) {
	text := "fixture: pair\ncell: {model: 36x130x200, case: insulated, force: 200 kgf, force_tolerance: 60 kgf, force_limit: 600 kgf}\n" +
		"pack: {cells: 2}\nplates: {material: birch plywood, thickness: 15}\nelectrical: {series: 2, records: cells.csv}\n"
	records := "serial,capacity_ah,resistance_mohm,voltage_v,centre_mm,edge_left_mm,edge_right_mm\nA,104.1,0.401,3.298,36.1,35.9,35.9\nB,103.6,0.405,3.297,36.1,35.9,35.9\n"
	w := startWatch(t, text)
	defer w.stop()
	cells := filepath.Join(filepath.Dir(w.name), "cells.csv")
	if line := w.await(&w.errs, 1); !strings.Contains(line, "cells.csv can't be read") {
		t.Error(line)
	}
	w.save(cells, records)
	if line := w.await(&w.out, 2); !strings.Contains(line, "first run") {
		t.Error(line)
	}
	w.save(cells, strings.Replace(records, "104.1", "104.2", 1))
	w.await(&w.out, 3)
	if err := os.RemoveAll(filepath.Dir(w.name)); err != nil {
		t.Fatal(err)
	}
	if line := w.await(&w.errs, 2); !strings.Contains(line, "was deleted") {
		t.Error(line)
	}
	w.save(cells, records)
	w.save(w.name, text)
	if line := w.await(&w.out, 4); !strings.Contains(line, "every part is kept") {
		t.Error(line)
	}
}

// A watch that can't look any more says so and ends.
func TestWatchEnds(t *testing.T) {
	w := startWatch(t, watchedFile)
	defer w.stop()
	w.await(&w.out, 2)
	if err := os.RemoveAll(filepath.Dir(w.name)); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("below", filepath.Dir(w.name)); err != nil {
		t.Skip("skipped: no links here")
	}
	select {
	case err := <-w.done:
		if err == nil || !strings.Contains(err.Error(), "the watch has ended: ") {
			t.Error(err)
		}
	case <-time.After(time.Minute):
		t.Error("it goes on")
	}
}
