package field

import (
	"errors"
	"math"
	"testing"
	"time"

	"github.com/deadsy/sdfx/sdf"
	v2 "github.com/deadsy/sdfx/vec/v2"
	v3 "github.com/deadsy/sdfx/vec/v3"

	"clampwright/parts/geom"
)

// of takes an sdfx solid.
func of(s sdf.SDF3) Func {
	return func(p geom.Vec3) float64 { return s.Evaluate(v3.Vec{X: p.X, Y: p.Y, Z: p.Z}) }
}

func box(s sdf.SDF3) geom.Box3 {
	b := s.BoundingBox()
	return geom.Box3{Min: geom.Vec3{X: b.Min.X, Y: b.Min.Y, Z: b.Min.Z}, Max: geom.Vec3{X: b.Max.X, Y: b.Max.Y, Z: b.Max.Z}}
}

func must(s sdf.SDF3, err error) sdf.SDF3 {
	if err != nil {
		panic(err)
	}
	return s
}

func TestSolids(t *testing.T) {
	block := must(sdf.Box3D(v3.Vec{X: 20, Y: 14, Z: 9}, 0))
	bore := must(sdf.Cylinder3D(30, 4, 0))
	cone := must(sdf.Cone3D(3, 4, 7, 0))
	turned := sdf.Transform3D(block, sdf.RotateZ(0.4).Mul(sdf.RotateX(0.7)))
	for _, c := range []struct {
		name   string
		s      sdf.SDF3
		volume float64
	}{
		{"block", block, 20 * 14 * 9},
		{"turned block", turned, 20 * 14 * 9},
		{"ball", must(sdf.Sphere3D(8)), 4. / 3 * math.Pi * 512},
		{"bored block", sdf.Difference3D(block, bore), 20*14*9 - math.Pi*16*9},
		{"tube", sdf.Difference3D(must(sdf.Cylinder3D(20, 6, 0)), must(sdf.Cylinder3D(30, 4.4, 0))), math.Pi * 20 * (36 - 4.4*4.4)},
		{"cone", cone, math.Pi * 3 / 3 * (16 + 28 + 49)},
	} {
		start := time.Now()
		m, fig, err := Mesh(of(c.s), Options{Box: box(c.s), Cell: 0.6, Deviation: 0.05})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if v := m.Volume(); math.Abs(v/c.volume-1) > 0.01 { // chords lie inside
			t.Errorf("%s: volume %g, want %g", c.name, v, c.volume)
		}
		if fig.SliverShare > 0.01 || fig.DeviationMM > 0.05 {
			t.Errorf("%s: %+v", c.name, fig)
		}
		t.Logf("%-13s %6d triangles of %6d, %.4f mm, %v", c.name, len(m.Triangles), fig.Raw, fig.DeviationMM, time.Since(start).Round(time.Millisecond))
	}
}

// TestCornersStaySharp asks for every corner of a turned block.
func TestCornersStaySharp(t *testing.T) {
	turn := sdf.RotateZ(0.4).Mul(sdf.RotateX(0.7))
	s := sdf.Transform3D(must(sdf.Box3D(v3.Vec{X: 20, Y: 14, Z: 9}, 0)), turn)
	m, _, err := Mesh(of(s), Options{Box: box(s), Cell: 0.6, Deviation: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	for i := range 8 {
		c := turn.MulPosition(v3.Vec{X: 20 * (float64(i&1) - 0.5), Y: 14 * (float64(i>>1&1) - 0.5), Z: 9 * (float64(i>>2) - 0.5)})
		d := math.Inf(1)
		for _, v := range m.Vertices {
			d = min(d, v.Dist(geom.Vec3{X: c.X, Y: c.Y, Z: c.Z}))
		}
		if d > 0.001 {
			t.Errorf("corner %d is %g mm off", i, d)
		}
	}
}

func TestThinPlateAndSame(t *testing.T) {
	p := sdf.Extrude3D(sdf.Box2D(v2.Vec{X: 40, Y: 30}, 3), 1.2)
	o := Options{Box: box(p), Cell: 0.6, Deviation: 0.05}
	a, _, err := Mesh(of(p), o)
	if err != nil {
		t.Fatal(err)
	}
	b, _, _ := Mesh(of(p), o)
	if len(a.Triangles) != len(b.Triangles) || a.Triangles[7] != b.Triangles[7] || a.Vertices[9] != b.Vertices[9] {
		t.Error("two runs differ")
	}
}

func TestRefusals(t *testing.T) {
	ball := func(p geom.Vec3) float64 { return p.Len() - 1 }
	unit := geom.Box3{Min: geom.Vec3{X: -1, Y: -1, Z: -1}, Max: geom.Vec3{X: 1, Y: 1, Z: 1}}
	for name, o := range map[string]Options{
		"no cell": {unit, 0, 1}, "NaN": {unit, math.NaN(), 1}, "tiny cells": {unit, 1e-5, 1}, "no box": {geom.Box3{}, 1, 1},
		"no deviation": {unit, 0.5, 0}, "infinite": {unit, math.Inf(1), 1},
	} {
		if _, _, err := Mesh(ball, o); !errors.Is(err, ErrOptions) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, _, err := Mesh(func(geom.Vec3) float64 { return 1 }, Options{unit, 0.2, 0.05}); !errors.Is(err, ErrNothing) {
		t.Error("empty:", err)
	}
	if _, _, err := Mesh(func(geom.Vec3) float64 { return math.NaN() }, Options{unit, 0.2, 0.05}); err == nil {
		t.Error("NaN field: no error")
	}
}
