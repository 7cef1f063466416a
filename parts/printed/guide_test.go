package printed

import (
	"math"
	"testing"

	"clampwright/parts/geom"
)

// TestMarksAreWhole places marks on guides of many sizes and asks that every
// groove lies on the guide's face: off the bores, the notch, the root fillet's
// rabbet and the edges; and that none is left out where there is room.
func TestMarksAreWhole(t *testing.T) {
	none := 0
	for x := 8.0; x < 40; x += 4.5 {
		for y := 8.0; y < 40; y += 3.5 {
			for _, root := range []float64{0, 3, 5} {
				hole := GuideHole{X: x, Y: y + root, BoreMM: 2.1}
				face := box(0, root, x+1.05+AroundMM, y+root+1.05+AroundMM)
				c, h := markPlace([]GuideHole{hole}, "DA1", face)
				if h == 0 {
					none++
					continue
				}
				for _, g := range lettering("DA1", c, h, false) {
					for _, v := range g {
						in := v.P.X > 0.5 && v.P.Y > root+0.5 && v.P.X < face.Max.X-0.5 && v.P.Y < face.Max.Y-0.5
						if !in || v.P.Dist(geom.Vec2{X: hole.X, Y: hole.Y}) < hole.BoreMM/2+0.4 || v.P.Len() < notchMM+0.4 {
							t.Fatalf("hole at %g %g, root %g: a groove at %v", x, y, root, v.P)
						}
					}
				}
			}
		}
	}
	if none > 0 {
		t.Errorf("%d guides bear no mark", none)
	}
}

// TestGuideServesBothHands asks that guides are even about the middle of their
// slabs, marks included: turned over, each serves the other hand.
func TestGuideServesBothHands(t *testing.T) {
	for _, s := range samples() {
		if s.name != "corner-guide" && s.name != "angle-guide" {
			continue
		}
		ps, err := s.build()
		if err != nil {
			t.Fatal(err)
		}
		b := ps[0].Solid.Bounds()
		if d := b.Min.Z + b.Max.Z - SlabMM; d > 1e-9 || d < -1e-9 {
			t.Errorf("%s is not even about the middle of its slab", s.name)
		}
		m, _ := ps[0].Solid.Mesh(chordMM)
		// Upright at least the face that lies on the work, and the mark in it, would hang over.
		over, want := ps[0].Print.UprightMM2, overhang(m, geom.World().Moved(geom.Vec3{Z: -b.Min.Z}))
		if face := levelArea(m, 0) + levelArea(m, markDepth); face < 100 || over < face-1e-6*face || math.Abs(over-want) > 1e-6*want {
			t.Errorf("%s: %g mm² hang over upright, want %g", s.name, over, want)
		}
		for _, level := range []float64{0, -fenceMM} {
			other := SlabMM - level
			lower, upper := levelArea(m, level), levelArea(m, other)
			if lower < 10 || lower-upper > 1e-6*lower+0.5 || upper-lower > 1e-6*lower+0.5 {
				t.Errorf("%s: %g mm² at %g mm, %g at %g", s.name, lower, level, upper, other)
			}
		}
	}
}

// levelArea is the area of the faces that lie at a height, mm².
func levelArea(m geom.Mesh, z float64) float64 {
	area := 0.0
	for _, q := range m.Triangles {
		a, b, c := m.Vertices[q[0]], m.Vertices[q[1]], m.Vertices[q[2]]
		if max(a.Z, b.Z, c.Z) < z+1e-6 && min(a.Z, b.Z, c.Z) > z-1e-6 {
			area += b.Sub(a).Cross(c.Sub(a)).Len() / 2
		}
	}
	return area
}
