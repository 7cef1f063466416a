package geom

import (
	"errors"
	"math"
	"testing"
)

func testAngle() Angle {
	return Angle{LegA: 31.75, LegB: 25, T: 3.175, Root: 4, Toe: 2, Length: 200,
		Holes: []AngleHole{{"H1", -90, 17, 4.5}, {"H2", 90, 17, 4.5}, {"H3", 0, 20, 3}}}
}

// angleArea is the section by hand: two legs, plus the root's spandrel, less
// one spandrel at each toe.
func angleArea(a Angle) float64 {
	spandrel := 1 - math.Pi/4
	return a.T*(a.LegA+a.LegB-a.T) + spandrel*(a.Root*a.Root-2*a.Toe*a.Toe)
}

func TestAngleVolume(t *testing.T) {
	a := testAngle()
	s := solid(t)(a.Solid())
	want := angleArea(a)*a.Length - math.Pi*a.T*(2*4.5*4.5+9)
	near(t, "volume", s.Volume(), want, 1e-7)
	checkMesh(t, s, 0.01)
	b := s.Bounds()
	nearVec(t, "min", b.Min, Vec3{-100, 0, 0}, 1e-12)
	nearVec(t, "max", b.Max, Vec3{100, 31.75, 25}, 1e-12)
}

// Rolled steel 30 x 30 x 3: A = 1.74 cm², from memory of the EN 10056-1 table
// (root 5, toe 2.5), so only loosely.
func TestAngleSectionTable(t *testing.T) {
	p, err := LProfile(30, 30, 3, 5, 2.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area", p.Area(), 174, 1.5)
	f := Profile{Outer: p}
	ix, iy, ixy := secondMoments(f)
	near(t, "Ix = Iy", ix, iy, 1e-6)
	near(t, "Ix", ix, 14000, 600) // 1.40 cm⁴, from memory, loose
	if ixy >= 0 {
		t.Errorf("Ixy = %g, want negative for this hand", ixy)
	}
}

// Second moments of a rectangle and a circle in closed form.
func TestSecondMoments(t *testing.T) {
	r := Profile{Outer: Rect(Vec2{3, 4}, Vec2{13, 24})}
	ix, iy, ixy := secondMoments(r)
	near(t, "Ix", ix, 10*8000/12., 1e-8)
	near(t, "Iy", iy, 20*1000/12., 1e-8)
	near(t, "Ixy", ixy, 0, 1e-8)
	c := Profile{Outer: Circle{Vec2{5, -7}, 4}.Path(), Circles: []Circle{{Vec2{5, -7}, 2}}}
	ix, iy, _ = secondMoments(c)
	near(t, "ring Ix", ix, math.Pi/4*(256-16), 1e-9)
	near(t, "ring Iy", iy, math.Pi/4*(256-16), 1e-9)
}

func TestAngleChamfer(t *testing.T) {
	for _, toe := range []float64{0, 2, 3.175} {
		for _, holes := range []int{0, 3} {
			a := testAngle()
			a.Toe, a.Holes, a.ChamferB = toe, a.Holes[:holes], 10
			cut := a
			cut.ChamferB = 0
			s, full := solid(t)(a.Solid()), solid(t)(cut.Solid())
			// each end loses the prism over the triangle, less what the toe had gone
			lost := a.T * 50
			lost -= toeLoss(toe, 10)
			near(t, "chamfer volume", full.Volume()-s.Volume(), 2*lost, 1e-5)
			checkMesh(t, s, 0.01)
		}
	}
}

// toeLoss is the volume between a 45° cut of depth c and the missing corner of
// radius r, by numbers.
func toeLoss(r, c float64) float64 {
	const n = 200000
	var v float64
	for i := 0; i < n; i++ {
		h := (float64(i) + 0.5) / n * r // below the tip
		w := r - math.Sqrt(r*r-(r-h)*(r-h))
		v += w * (c - h) * r / n
	}
	return v
}

// The holes really go through: a rod's worth of space is free.
func TestAngleHolesGoThrough(t *testing.T) {
	s := solid(t)(testAngle().Solid())
	rod := solid(t)(Cylinder(4, -50, 50))
	g := dist(t, NewBody(s, World()), NewBody(rod, At(Vec3{90, 17, 0})))
	near(t, "radial gap", g.MM, 0.5, 1e-9)
}

func TestAngleHoleErrors(t *testing.T) {
	for where, h := range map[string]AngleHole{
		"root fillet":      {"H9", 0, 11.5, 4.5},
		"toe fillet":       {"H9", 0, 26, 4.5},
		"end of the angle": {"H9", 97, 17, 4.5},
	} {
		a := testAngle()
		a.Holes = []AngleHole{h}
		_, err := a.Solid()
		var he *HoleError
		if !errors.As(err, &he) || he.Where != where || he.Hole != "H9" || !(he.NeedMM > he.HaveMM) {
			t.Errorf("%s: %v", where, err)
		}
	}
	a := testAngle()
	a.Holes = []AngleHole{{"H1", 0, 17, 4}, {"H2", 7, 17, 4}}
	if _, err := a.Solid(); !errors.Is(err, ErrHoleOutside) {
		t.Errorf("overlapping holes: %v", err)
	}
	a.Holes = []AngleHole{{"H1", 0, 11.676, 4.5}} // 3.175 + 4 + 4.5 + a micrometre
	if _, err := a.Solid(); err != nil {
		t.Errorf("hole that just clears the fillet: %v", err)
	}
}
