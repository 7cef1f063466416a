package printed

import (
	"math"

	"clampwright/parts/geom"
)

// ring is one closed line of a surface that goes round the z axis,
// counter-clockwise seen from above. All rings of a surface have as many points.
type ring []geom.Vec3

// slimmest is how many times longer than wide the faces between two rings may
// be: well under the hundred from which a triangle is a sliver.
const slimmest = 50.0

// ringMesh joins each ring to the next. The first and the last must be on the
// axis, the first in the solid's hollow, the last on its outside: then the faces
// look outward. Points that a ring shares with the one before are one vertex, so
// rings may meet along a part of their length.
func ringMesh(rings []ring) geom.Mesh {
	var m geom.Mesh
	var was, is []int32
	for i, r := range stretched(rings) {
		was, is = is, make([]int32, len(r))
		for k, p := range r {
			switch {
			case i > 0 && p == m.Vertices[was[k]]:
				is[k] = was[k]
			case k > 0 && p == r[k-1]:
				is[k] = is[k-1]
			default:
				is[k] = int32(len(m.Vertices))
				m.Vertices = append(m.Vertices, p)
			}
		}
		if i > 0 {
			strip(&m, was, is)
		}
	}
	return m
}

// strip adds the faces between two rings, leaving out those of no width, each
// four-sided one cut along its shorter diagonal.
func strip(m *geom.Mesh, lo, hi []int32) {
	add := func(a, b, c int32) {
		if a != b && b != c && c != a {
			m.Triangles = append(m.Triangles, geom.Triangle{a, b, c})
		}
	}
	for k := range lo {
		n := (k + 1) % len(lo)
		a, b, c, d := lo[k], lo[n], hi[n], hi[k]
		if m.Vertices[a].Dist(m.Vertices[c]) <= m.Vertices[b].Dist(m.Vertices[d]) {
			add(a, b, c)
			add(a, c, d)
		} else {
			add(a, b, d)
			add(b, c, d)
		}
	}
}

// stretched puts further rings between two where the faces would be slivers.
func stretched(rings []ring) []ring {
	out := rings[:1:1]
	for i := 1; i < len(rings); i++ {
		a, b := rings[i-1], rings[i]
		n := 1
		for k := range a {
			long := a[k].Dist(b[k])
			wide := max(a[k].Dist(a[(k+1)%len(a)]), b[k].Dist(b[(k+1)%len(b)]))
			if long > slimmest*wide && wide > 0 {
				n = max(n, int(math.Ceil(long/(slimmest*wide))))
			}
		}
		for j := 1; j < n; j++ {
			between := make(ring, len(a))
			for k := range a {
				between[k] = a[k].Lerp(b[k], float64(j)/float64(n))
			}
			out = append(out, between)
		}
		out = append(out, b)
	}
	return out
}
