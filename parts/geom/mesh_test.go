package geom

import (
	"math"
	"testing"
)

// A coarse mesh keeps within its chord error and is closed, and only the fine one keeps
// the volume: chords of a circle of radius r lose 1 - sin(a)/a of it, a the angle of one.
func TestCoarse(t *testing.T) {
	const r, chord = 8.0, 0.04
	s := solid(t)(Cylinder(r, 0, 10))
	fine, err := s.Mesh(chord)
	if err != nil {
		t.Fatal(err)
	}
	coarse, err := s.Coarse(chord)
	if err != nil {
		t.Fatal(err)
	}
	if err := coarse.Check(); err != nil || len(coarse.Triangles)*3 > len(fine.Triangles)*2 {
		t.Errorf("%v; %d triangles coarse, %d fine", err, len(coarse.Triangles), len(fine.Triangles))
	}
	a := 2 * math.Acos(1-chord/r)
	for what, c := range map[string]struct{ m, most float64 }{"coarse": {coarse.Volume(), 1 - math.Sin(a)/a}, "fine": {fine.Volume(), VolumeErr}} {
		if lost := 1 - c.m/s.Volume(); lost < 0 || lost > c.most*1.001 {
			t.Errorf("%s: %.5f of the volume lost, at most %.5f", what, lost, c.most)
		}
	}
}
