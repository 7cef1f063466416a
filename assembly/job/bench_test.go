package job

import (
	"context"
	"os"
	"testing"

	"clampwright/params"
)

// BenchmarkCompute is what check does, without words: everything computed of a file.
func BenchmarkCompute(b *testing.B) {
	for _, name := range []string{"four-cell-offcut", "sixteen-cell-two-rows", "three-cell-ribs"} {
		text, err := os.ReadFile("../../examples/" + name + ".yaml")
		if err != nil {
			b.Fatal(err)
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				f, diags := params.Load(name, text)
				if f == nil {
					b.Fatal(diags)
				}
				if _, err := Compute(context.Background(), f, func(string) {}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
