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
	w := &watching{t: t, name: filepath.Join(dir, "pack.yaml"), done: make(chan error, 1)}
	w.save(text)
	ctx, stop := context.WithCancel(context.Background())
	w.stop = stop
	go func() {
		w.done <- watch(ctx, &console{out: &w.out, err: &w.errs}, w.name, filepath.Join(dir, "out"), false)
	}()
	return w
}

// save does as editors do: it writes beside, then renames over.
func (w *watching) save(text string) {
	w.t.Helper()
	if err := os.WriteFile(w.name+".new", []byte(text), 0o644); err != nil {
		w.t.Fatal(err)
	}
	if err := os.Rename(w.name+".new", w.name); err != nil {
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
	w.save(watchedFile + "# the same again\n")
	says(w.await(&w.out, 3), "every part is kept")
	w.save(strings.Replace(watchedFile, "cells: 2}", "cells: two, nonsense: 1}", 1))
	says(w.await(&w.errs, 1), "pack.yaml:3:15: error: pack.cells", `"two"`)
	says(w.await(&w.errs, 2), `pack.yaml:3:20: error: unknown key "nonsense" in pack`)
	w.save(strings.NewReplacer("thickness: 18", "thickness: 15", "cells: 3", "cells: 4").Replace(watchedFile))
	says(w.await(&w.out, 4), "plates.thickness: 18 -> 15", "variants[0].cells: 3 -> 4", "to make", "end plate", "variants changed: three")
	if err := os.Remove(w.name); err != nil {
		t.Fatal(err)
	}
	says(w.await(&w.errs, 3), "was deleted")
	w.save(watchedFile)
	says(w.await(&w.out, 5), "plates.thickness: 15 -> 18")
	w.stop()
	if err := <-w.done; err != nil {
		t.Error(err)
	}
	if n, m := strings.Count(w.out.String(), "\n"), strings.Count(w.errs.String(), "\n"); n != 5 || m != 3 {
		t.Errorf("%d and %d lines:\n%s\n%s", n, m, w.out.String(), w.errs.String())
	}
}
