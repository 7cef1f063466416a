package printed

import (
	"testing"
	"time"

	"github.com/deadsy/sdfx/render"

	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed/field"
)

// cubesCells are the resolutions tried, in cells along the longest side.
var cubesCells = []int{50, 100, 200, 400}

// cubesAsked is of how many triangles one is compared with the field: the rest
// could only make marching cubes look worse.
const cubesAsked = 16

// cubes meshes a shape by marching cubes in cells of one size, finer until the
// mesh strays no further from the field than wanted, or the last resolution is
// reached.
func cubes(s shape, wanted float64) (triangles, cells int, stray, ms float64) {
	for _, n := range cubesCells {
		start := time.Now()
		ts := render.ToTriangles(s.sdf, render.NewMarchingCubesOctree(n))
		ms = time.Since(start).Seconds() * 1e3
		var m geom.Mesh
		for i, t := range ts {
			for _, v := range t {
				m.Vertices = append(m.Vertices, geom.Vec3{X: v.X, Y: v.Y, Z: v.Z})
			}
			if i%cubesAsked == 0 {
				m.Triangles = append(m.Triangles, geom.Triangle{int32(3 * i), int32(3*i + 1), int32(3*i + 2)})
			}
		}
		triangles, cells, stray = len(ts), n, field.Deviation(s.at, m)
		if stray <= wanted {
			break
		}
	}
	return triangles, cells, stray, ms
}

// BenchmarkShapedAgainstCubes measures both ways to a mesh of each shaped part in
// one run: triangles, bytes of binary STL, deviation from the distance function.
// It fails unless ours has a tenth of the triangles at no more deviation.
func BenchmarkShapedAgainstCubes(b *testing.B) {
	p := printer()
	bare := RodCapSpec{label("rod-cap", "C1"), p, 8, 14, 0, 0}
	nut := RodCapSpec{label("nut-cap", "C2"), p, 8, 3, 15, 6.8}
	foot := FootSpec{label("foot", "F1"), p, 24, 24, 30, 6.6, 14, 6.6}
	for _, c := range []struct {
		name  string
		make  func() (parts.Part, error)
		shape func() (shape, error)
	}{
		{"rod-cap", func() (parts.Part, error) { return RodCap(bare) }, bare.shape},
		{"nut-cap", func() (parts.Part, error) { return RodCap(nut) }, nut.shape},
		{"foot", func() (parts.Part, error) { return Foot(foot) }, foot.shape},
	} {
		b.Run(c.name, func(b *testing.B) {
			s, err := c.shape()
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				start := time.Now()
				part, err := c.make()
				if err != nil {
					b.Fatal(err)
				}
				ms := time.Since(start).Seconds() * 1e3
				m, _ := part.Solid.Mesh(chordMM)
				strays := field.Deviation(s.at, m)
				n, cells, stray, cubesMS := cubes(s, 0.05)
				b.ReportMetric(float64(len(m.Triangles)), "ours-triangles")
				b.ReportMetric(float64(84+50*len(m.Triangles)), "ours-bytes")
				b.ReportMetric(strays, "ours-mm")
				b.ReportMetric(ms, "ours-ms")
				b.ReportMetric(float64(n), "cubes-triangles")
				b.ReportMetric(float64(84+50*n), "cubes-bytes")
				b.ReportMetric(stray, "cubes-mm")
				b.ReportMetric(cubesMS, "cubes-ms")
				b.ReportMetric(float64(cells), "cubes-cells")
				if 10*len(m.Triangles) > n || strays > max(0.05, stray) {
					b.Errorf("%d triangles at %g mm, marching cubes %d at %g mm", len(m.Triangles), strays, n, stray)
				}
			}
		})
	}
}

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
