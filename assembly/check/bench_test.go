package check

import (
	"fmt"
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/internal/sample"
	"clampwright/parts/geom"
)

// BenchmarkAllPairsTwoRows computes every pair distance of sixteen cells in two
// rows with all their hardware; parts are built outside the clock.
func BenchmarkAllPairsTwoRows(b *testing.B) {
	a, err := assembly.Build(sample.TwoRows())
	if err != nil {
		b.Fatal(err)
	}
	bodies := make([]geom.Body, len(a.Instances))
	for i := range a.Instances {
		bodies[i] = a.Instances[i].Body()
	}
	for _, within := range []float64{chainReach, math.Inf(1)} {
		b.Run(fmt.Sprintf("within=%g", within), func(b *testing.B) {
			b.ReportMetric(float64(len(bodies)*(len(bodies)-1)/2), "pairs")
			for b.Loop() {
				if err := geom.AllPairs(bodies, within, func(geom.PairGap) {}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkRun runs every rule on four cells and on sixteen.
func BenchmarkRun(b *testing.B) {
	b.Run("four", func(b *testing.B) { benchRun(b, false) })
	b.Run("sixteen", func(b *testing.B) { benchRun(b, true) })
}

func benchRun(b *testing.B, two bool) {
	f := sample.FourCells()
	if two {
		f = sample.TwoRows()
	}
	for b.Loop() {
		a, err := assembly.Build(f)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := Judge(a); err != nil {
			b.Fatal(err)
		}
	}
}
