package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// BenchmarkExamples checks and makes the examples whose time is promised.
func BenchmarkExamples(b *testing.B) {
	for _, name := range []string{"four-cell-offcut", "sixteen-cell-two-rows", "three-cell-ribs"} {
		file := filepath.Join("../../examples", name+".yaml")
		for _, args := range [][]string{{"check", "--quiet", file}, {"make", "--quiet", "--out", filepath.Join(b.TempDir(), "out"), file}} {
			b.Run(args[0]+"/"+name, func(b *testing.B) {
				for b.Loop() {
					if code := run(context.Background(), append([]string{"clampwright"}, args...), &console{out: io.Discard, err: os.Stderr}); code != 0 {
						b.Fatal(code)
					}
				}
			})
		}
	}
}

// BenchmarkSize searches for the sixteen cells in two rows: more than 20,000
// candidates.
func BenchmarkSize(b *testing.B) {
	for b.Loop() {
		if code := run(context.Background(), []string{"clampwright", "size", "--quiet", "../../examples/sixteen-cell-two-rows.yaml"}, &console{out: io.Discard, err: os.Stderr}); code != 0 && code != exitFouled {
			b.Fatal(code)
		}
	}
}

// BenchmarkHundredVariants makes seven cell models in fourteen counts, and two more,
// beside the base fixture.
func BenchmarkHundredVariants(b *testing.B) {
	var text strings.Builder
	text.WriteString("fixture: many\ncell: {model: 54x174x200, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 900 kgf}\n" +
		"pack: {cells: 4}\nplates: {material: birch plywood, thickness: 18}\nsprings: {ends: one}\nseparators: {material: fr4, thickness: 0.5}\nvariants:\n")
	for _, model := range []string{"72x174x201", "72x174x207", "54x174x200", "50x160x118", "36x130x200", "32x173x115", "27x148x95"} {
		for n := 2; n <= 15; n++ {
			fmt.Fprintf(&text, "  - {name: m%s-%d, model: %s, cells: %d}\n", model, n, model, n)
		}
	}
	text.WriteString("  - {name: long-16, cells: 16}\n  - {name: long-18, cells: 18}\n")
	dir := b.TempDir()
	file := filepath.Join(dir, "many.yaml")
	if err := os.WriteFile(file, []byte(text.String()), 0o666); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		out := &console{out: io.Discard, err: os.Stderr}
		if code := run(context.Background(), []string{"clampwright", "make", "--quiet", "--out", filepath.Join(dir, "out"), file}, out); code != 0 && code != exitFouled {
			b.Fatal(code)
		}
	}
}

// largePack is a parameter file of two rows of small cells, sixteen groups in series.
func largePack(cells int) string {
	return fmt.Sprintf("fixture: big\ncell: {model: 27x148x95, force: 100 kgf, case: insulated}\npack: {cells: %d, rows: 2}\n"+
		"plates: {material: 6061-T6, thickness: 10, height: 81}\nstiffeners: none\nrods: {thread: M10}\nsprings: {}\n"+
		"liners: {material: fr4, thickness: 1}\nstock: {rods: [{length: 6 m}], sheets: [{material: copper, thickness: 2, width: 1000, height: 1000}]}\n"+
		"electrical: {series: 16, parallel: %d, current: 100}\n", cells, cells/16)
}

// BenchmarkLargePack checks packs of two sizes: what it costs must not rise faster than
// the square of the count.
func BenchmarkLargePack(b *testing.B) {
	for _, cells := range []int{64, 128, 256} {
		file := filepath.Join(b.TempDir(), "big.yaml")
		if err := os.WriteFile(file, []byte(largePack(cells)), 0o666); err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprint(cells), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if code := run(context.Background(), []string{"clampwright", "check", "--lines", file}, &console{out: io.Discard, err: os.Stderr}); code != 0 && code != exitFouled {
					b.Fatal(code)
				}
			}
		})
	}
}
