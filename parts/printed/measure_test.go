package printed

import (
	"math"
	"testing"

	"clampwright/parts/geom"
)

// overhang is the area of a mesh that hangs over by more than 45 degrees when
// placed on the bed by lie, mm².
func overhang(m geom.Mesh, lie geom.Frame) float64 {
	area := 0.0
	for _, t := range m.Triangles {
		a, b, c := lie.Point(m.Vertices[t[0]]), lie.Point(m.Vertices[t[1]]), lie.Point(m.Vertices[t[2]])
		n := b.Sub(a).Cross(c.Sub(a))
		if l := n.Len(); n.Z < -steep*l && max(a.Z, b.Z, c.Z) > onBed {
			area += l / 2
		}
	}
	return area
}

// TestMeasuresAgainstTwins measures overhang and walls of every sample a second
// way: each side's overhang on the mesh turned that way, and walls by asking
// every triangle.
func TestMeasuresAgainstTwins(t *testing.T) {
	for _, s := range samples() {
		if s.name != "ribs" && s.name != "rod-cap" && s.name != "feeler" && s.name != "end-cap" {
			continue
		}
		ps, err := s.build()
		if err != nil {
			t.Fatal(err)
		}
		m, _ := ps[0].Solid.Mesh(chordMM)
		got := overhangs(m, m.Bounds())
		for i, f := range sides {
			f = f.Moved(geom.Vec3{Z: -m.Transform(f).Bounds().Min.Z})
			if want := overhang(m, f); math.Abs(got[i]-want) > 1e-6*(1+want) {
				t.Errorf("%s on side %d: %g mm² hang over, want %g", s.name, i, got[i], want)
			}
		}
		if w := overhang(m, ps[0].Print.Lie); math.Abs(w-ps[0].Print.SteepMM2) > 1e-6*(1+w) {
			t.Errorf("%s as it lies: %g mm², want %g", s.name, ps[0].Print.SteepMM2, w)
		}
		r := newRays(m)
		for i := 0; i < len(m.Triangles); i += 37 {
			q := m.Triangles[i]
			a, b, c := m.Vertices[q[0]], m.Vertices[q[1]], m.Vertices[q[2]]
			mid, d := a.Add(b).Add(c).Mul(1./3), b.Sub(a).Cross(c.Sub(a)).Unit().Mul(-1)
			want, turned := math.Inf(1), false
			for _, u := range m.Triangles {
				if l, cos := hit(mid, d, m.Vertices[u[0]], m.Vertices[u[1]], m.Vertices[u[2]]); cos > 1e-6 && l > 1e-6 && l < want {
					want, turned = l, cos > facing
				}
			}
			if !turned {
				want = math.Inf(1)
			}
			if got := r.through(mid, d, math.Inf(1)); math.Abs(got-want) > 1e-9 && got != want {
				t.Errorf("%s: wall of %g mm from triangle %d, want %g", s.name, got, i, want)
			}
		}
	}
}
