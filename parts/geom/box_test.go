package geom

import (
	"math"
	"testing"
)

// Every side of a box counts as inside it, a hair beyond does not.
func TestBoxesHoldTheirSides(t *testing.T) {
	b2, b3 := Box2{Vec2{1, 2}, Vec2{4, 6}}, Box3{Vec3{1, 2, 3}, Vec3{4, 6, 8}}
	const hair = 1e-9
	for _, x := range []struct {
		p  Vec3
		in bool
	}{
		{Vec3{1, 4, 5}, true}, {Vec3{1 - hair, 4, 5}, false}, {Vec3{4, 4, 5}, true}, {Vec3{4 + hair, 4, 5}, false},
		{Vec3{2, 2, 5}, true}, {Vec3{2, 2 - hair, 5}, false}, {Vec3{2, 6, 5}, true}, {Vec3{2, 6 + hair, 5}, false},
		{Vec3{2, 4, 3}, true}, {Vec3{2, 4, 3 - hair}, false}, {Vec3{2, 4, 8}, true}, {Vec3{2, 4, 8 + hair}, false},
	} {
		if b3.Contains(x.p) != x.in {
			t.Errorf("%v in the box: %v", x.p, !x.in)
		}
		if flat := x.p.Z >= 3 && x.p.Z <= 8; flat && b2.Contains(x.p.XY()) != x.in {
			t.Errorf("%v in the rectangle: %v", x.p.XY(), !x.in)
		}
	}
}

func TestBoxSizes(t *testing.T) {
	b2, b3 := Box2{Vec2{1, 2}, Vec2{4, 6}}, Box3{Vec3{1, 2, 3}, Vec3{4, 6, 8}}
	if b2.Size() != (Vec2{3, 4}) || b2.Center() != (Vec2{2.5, 4}) || b3.Size() != (Vec3{3, 4, 5}) || b3.Center() != (Vec3{2.5, 4, 5.5}) {
		t.Errorf("%v %v %v %v", b2.Size(), b2.Center(), b3.Size(), b3.Center())
	}
	if g := b2.Grown(0.5); g != (Box2{Vec2{0.5, 1.5}, Vec2{4.5, 6.5}}) {
		t.Error(g)
	}
	if g := b3.Grown(0.5); g != (Box3{Vec3{0.5, 1.5, 2.5}, Vec3{4.5, 6.5, 8.5}}) {
		t.Error(g)
	}
	if b := BoxOf(Vec2{4, 2}, Vec2{1, 6}); b != b2 {
		t.Error(b)
	}
	if b := BoxOf(); b.Contains(Vec2{}) || b.Min.X < b.Max.X {
		t.Error(b)
	}
}

// The gap of two boxes along each axis either way, and across corners.
func TestBoxDistance(t *testing.T) {
	b := Box3{Vec3{}, Vec3{2, 2, 2}}
	for _, x := range []struct {
		off  Vec3
		want float64
	}{
		{Vec3{}, 0}, {Vec3{2, 0, 0}, 0}, {Vec3{5, 0, 0}, 3}, {Vec3{-5, 0, 0}, 3}, {Vec3{0, 6, 0}, 4}, {Vec3{0, -6, 0}, 4},
		{Vec3{0, 0, 7}, 5}, {Vec3{0, 0, -7}, 5}, {Vec3{5, 6, 0}, 5}, {Vec3{3, 4, 4}, 3}, {Vec3{-3, -4, -4}, 3},
	} {
		c := Box3{b.Min.Add(x.off), b.Max.Add(x.off)}
		near(t, "boxes", b.Dist(c), x.want, 1e-15)
		if x.off.Z == 0 {
			near(t, "rectangles", Box2{Max: Vec2{2, 2}}.Dist(Box2{c.Min.XY(), c.Max.XY()}), x.want, 1e-15)
		}
	}
}

// The box of a placed box: about its own, and tight for quarter turns.
func TestPlacedBox(t *testing.T) {
	b := Box3{Vec3{1, 2, 3}, Vec3{4, 6, 8}}
	for _, x := range []struct {
		f    Frame
		want Box3
	}{
		{World(), b},
		{At(Vec3{10, 20, 30}), Box3{Vec3{11, 22, 33}, Vec3{14, 26, 38}}},
		{World().Turned(math.Pi / 2), Box3{Vec3{-6, 1, 3}, Vec3{-2, 4, 8}}},
		{lying(Vec3{}), Box3{Vec3{3, 1, 2}, Vec3{8, 4, 6}}},
		{Frame{Vec3{}, Vec3{0, 0, -1}, Vec3{0, 1, 0}, Vec3{1, 0, 0}}, Box3{Vec3{3, 2, -4}, Vec3{8, 6, -1}}},
	} {
		g := x.f.Box(b)
		nearVec(t, "min", g.Min, x.want.Min, 1e-12)
		nearVec(t, "max", g.Max, x.want.Max, 1e-12)
	}
	s := math.Sqrt2 / 2
	turned := Frame{Vec3{}, Vec3{s, s, 0}, Vec3{-s, s, 0}, Vec3{Z: 1}}.Box(Box3{Vec3{-1, -1, -1}, Vec3{1, 1, 1}})
	nearVec(t, "eighth of a turn", turned.Max, Vec3{math.Sqrt2, math.Sqrt2, 1}, 1e-12)
}
