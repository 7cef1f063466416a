package printed

import (
	"testing"

	"clampwright/parts"
)

// BenchmarkParts times every part of the samples: each must be made in a second.
func BenchmarkParts(b *testing.B) {
	for _, s := range samples() {
		b.Run(s.name, func(b *testing.B) {
			var ps []parts.Part
			for b.Loop() {
				var err error
				if ps, err = s.build(); err != nil {
					b.Fatal(err)
				}
			}
			each := b.Elapsed().Seconds() / float64(b.N) / float64(len(ps))
			b.ReportMetric(each*1e3, "ms/part")
			if each > 1 {
				b.Errorf("%.2f s a part", each)
			}
		})
	}
}
