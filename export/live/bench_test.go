package live

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// BenchmarkAnswer changes a value of the first example as the page does, and tells the
// medians of the time to the first answer with numbers, maps and picture, and to the
// full verdict, ms.
func BenchmarkAnswer(b *testing.B) {
	text, err := os.ReadFile("../../examples/four-cell-offcut.yaml")
	if err != nil {
		b.Fatal(err)
	}
	file := filepath.Join(b.TempDir(), "pack.yaml")
	if err := os.WriteFile(file, text, 0o644); err != nil {
		b.Fatal(err)
	}
	s, err := Open(Options{File: file, Say: func(string) {}})
	if err != nil {
		b.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	go func() { _ = s.Serve(ctx) }()
	count := -1
	wait := func(until func(update) bool) {
		for {
			var u update
			if u, count = s.s.since(count); until(u) {
				return
			}
			time.Sleep(time.Millisecond)
		}
	}
	done := func(u update) bool { return u.Phase == judged }
	var first, full []float64
	for n := 0; b.Loop(); n++ {
		b.StopTimer()
		wait(func(u update) bool { _, steps := u.Pieces["steps"]; return steps })
		b.StartTimer()
		start := time.Now()
		if err := s.s.edit(ctx, "", change("plates.thickness", fmt.Sprintf("%d mm", 15+n%8))); err != nil {
			b.Fatal(err)
		}
		wait(func(u update) bool { _, maps := u.Pieces["clamp"]; return u.Phase == computing && maps || done(u) })
		first = append(first, time.Since(start).Seconds()*1000)
		wait(done)
		full = append(full, time.Since(start).Seconds()*1000)
	}
	for _, m := range []struct {
		name string
		all  []float64
	}{{"first-ms", first}, {"judged-ms", full}} {
		slices.Sort(m.all)
		b.ReportMetric(m.all[len(m.all)/2], m.name)
	}
}
