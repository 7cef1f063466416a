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

const watched = `fixture: watched
cell: {model: 54x174x200, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 900 kgf}
pack: {cells: 2}
plates: {material: birch plywood, thickness: 18}
springs: {disc: 20x10.2x1.1, series: 10}
`

// A watch makes the file, makes it again on every save with a line of what
// changed, lives through a file that is wrong, and ends when told.
func TestWatch(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "pack.yaml")
	save := func(text string) {
		// As editors do: write beside, then rename over.
		if err := os.WriteFile(name+".new", []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.Rename(name+".new", name); err != nil {
			t.Fatal(err)
		}
	}
	save(watched)
	var out, errs lockedBuffer
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	done := make(chan error, 1)
	go func() {
		done <- watch(ctx, &console{out: &out, err: &errs}, name, filepath.Join(dir, "out"), false)
	}()
	await := func(b *lockedBuffer, want string, times int) {
		t.Helper()
		for range 6000 {
			if strings.Count(b.String(), want) >= times {
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
		t.Fatalf("no %q in\n%s\n%s", want, out.String(), errs.String())
	}
	await(&out, "first run", 1)
	save(watched + "# the same again\n")
	await(&out, "every part is kept", 1)
	save(watched + "nonsense: 1\n")
	await(&errs, "unknown key", 1)
	save(strings.Replace(watched, "thickness: 18", "thickness: 15", 1))
	await(&out, "to make", 1)
	stop()
	if err := <-done; err != nil {
		t.Error(err)
	}
	if n := strings.Count(strings.TrimSpace(out.String()), "\n"); n != 3 {
		t.Errorf("%d lines after the first:\n%s", n, out.String())
	}
}
