package parts

import (
	"math"
	"math/rand"
	"testing"
	"time"

	"clampwright/parts/geom"

	"github.com/deadsy/sdfx/render"
	"github.com/deadsy/sdfx/sdf"
	v3 "github.com/deadsy/sdfx/vec/v3"
)

// The second opinion: the same parts put together from the boxes and cylinders
// of a library of distance functions (github.com/deadsy/sdfx), without any of
// our own code. Its box, cylinder and union are exact outside; a difference is
// only a lower bound of the distance, but its sign is right.

func sdfBox(t testing.TB, lo, hi v3.Vec) sdf.SDF3 {
	b, err := sdf.Box3D(hi.Sub(lo), 0)
	if err != nil {
		t.Fatal(err)
	}
	return sdf.Transform3D(b, sdf.Translate3d(lo.Add(hi).MulScalar(0.5)))
}

// sdfPin is a cylinder along z.
func sdfPin(t testing.TB, x, y, z0, z1, r float64) sdf.SDF3 {
	c, err := sdf.Cylinder3D(z1-z0, r, 0)
	if err != nil {
		t.Fatal(err)
	}
	return sdf.Transform3D(c, sdf.Translate3d(v3.Vec{X: x, Y: y, Z: (z0 + z1) / 2}))
}

// sdfBar is a cylinder along x, centred.
func sdfBar(t testing.TB, length, y, z, r float64) sdf.SDF3 {
	c, err := sdf.Cylinder3D(length, r, 0)
	if err != nil {
		t.Fatal(err)
	}
	m := sdf.Translate3d(v3.Vec{Y: y, Z: z}).Mul(sdf.RotateY(math.Pi / 2))
	return sdf.Transform3D(c, m)
}

func sdfPlate(t testing.TB, s PlateSpec) sdf.SDF3 {
	x, y := s.WidthMM/2, s.HeightMM/2
	b := sdfBox(t, v3.Vec{X: -x, Y: -y}, v3.Vec{X: x, Y: y, Z: s.ThicknessMM})
	for _, h := range s.RodHoles {
		b = sdf.Difference3D(b, sdfPin(t, h.C.X, h.C.Y, -50, 50, h.DiaMM/2))
	}
	return b
}

// sdfStiffener is an angle with the standing leg up: two boxes, a box with a
// cylinder taken out for the root, the toes cut by what a cylinder leaves of a
// box, holes drilled.
func sdfStiffener(t testing.TB, s StiffenerSpec) sdf.SDF3 {
	l, th, g := s.LengthMM/2, s.ThicknessMM, s.GaugeMM
	box := func(y0, y1, z0, z1 float64) sdf.SDF3 {
		return sdfBox(t, v3.Vec{X: -l, Y: g - y1, Z: z0}, v3.Vec{X: l, Y: g - y0, Z: z1})
	}
	bar := func(y, z, r float64) sdf.SDF3 { return sdfBar(t, 4*l, g-y, z, r) }
	b := sdf.Union3D(box(0, s.DrilledLegMM, 0, th), box(0, th, 0, s.StandingLegMM))
	if r := s.RootMM; r > 0 {
		b = sdf.Union3D(b, sdf.Difference3D(box(th/2, th+r, th/2, th+r), bar(th+r, th+r, r)))
	}
	if r := s.ToeMM; r > 0 {
		a, d := s.DrilledLegMM, s.StandingLegMM
		b = sdf.Difference3D(b, sdf.Difference3D(box(a-r, a+1, th-r, th+1), bar(a-r, th-r, r)))
		b = sdf.Difference3D(b, sdf.Difference3D(box(th-r, th+1, d-r, d+1), bar(th-r, d-r, r)))
	}
	for _, h := range s.Holes {
		b = sdf.Difference3D(b, sdfPin(t, h.C.X, 0, -50, 50, h.DiaMM/2))
	}
	return b
}

// speck is half the size of the block that stands for a point, mm, and off how
// far from the point its distance may come out.
const speck, off = geom.MinLigament, 2 * geom.MinLigament

// gap is the distance of the solid from a speck at p, 0 or less where they meet.
func gap(t *testing.T, s, at geom.Solid, p geom.Vec3) float64 {
	t.Helper()
	g, err := geom.DistanceWithin(geom.NewBody(s, geom.World()), geom.NewBody(at, geom.At(p)), math.Inf(1))
	if err != nil {
		t.Fatal(err)
	}
	return g.MM
}

// compare checks sign and distance at random points in and round the part: the
// library's value must never exceed the true distance, and where it is exact
// the two must be equal.
func compare(t *testing.T, s geom.Solid, f sdf.SDF3, exact func(p geom.Vec3) bool) {
	t.Helper()
	r := rand.New(rand.NewSource(21))
	b := s.Bounds().Grown(4)
	at, err := geom.Box(geom.Vec3{X: -speck, Y: -speck, Z: -speck}, geom.Vec3{X: speck, Y: speck, Z: speck})
	if err != nil {
		t.Fatal(err)
	}
	in, out, equal := 0, 0, 0
	for i := 0; i < 20000; i++ {
		d := b.Size()
		p := b.Min.Add(geom.Vec3{X: d.X * r.Float64(), Y: d.Y * r.Float64(), Z: d.Z * r.Float64()})
		want, got := f.Evaluate(v3.Vec{X: p.X, Y: p.Y, Z: p.Z}), gap(t, s, at, p)
		switch {
		case math.Abs(want) < off:
			continue
		case want < 0:
			in++
			if got > 0 {
				t.Fatalf("%v is inside by %g, but %g away", p, -want, got)
			}
		default:
			out++
			if got <= 0 || got < want-off {
				t.Fatalf("%v is outside by %g or more, but %g away", p, want, got)
			}
			if exact(p) {
				equal++
				near(t, "distance", got, want, off)
			}
		}
	}
	if in < 500 || out < 500 || equal < 300 {
		t.Errorf("%d inside, %d outside, %d exact: not much of a test", in, out, equal)
	}
}

func TestPlateSecondOpinion(t *testing.T) {
	s := plateSpec()
	s.CornerRadiusMM, s.Slots, s.EngraveMark = 0, nil, false
	s.RodHoles[0].DiaMM, s.RodHoles[3].DiaMM = 22, 18
	p := made(t)(EndPlate(s))
	compare(t, p.Solid, sdfPlate(t, s), func(p geom.Vec3) bool {
		// beside the plate's height or off its outline's far sides a hole plays no
		// part; within its thickness the distance to a hole's wall is exact
		inZ := p.Z > 0 && p.Z < s.ThicknessMM
		return inZ || math.Abs(p.X) > s.WidthMM/2 || math.Abs(p.Y) > s.HeightMM/2
	})
}

func TestStiffenerSecondOpinion(t *testing.T) {
	for _, sharp := range []bool{true, false} {
		s := stiffenerSpec(true)
		if sharp {
			s.RootMM, s.ToeMM = 0, 0
		}
		p := made(t)(Stiffener(s))
		compare(t, p.Solid, sdfStiffener(t, s), func(p geom.Vec3) bool {
			return p.Z < 0 && math.Abs(p.X) < 80 || sharp && math.Abs(p.X) > s.LengthMM/2 // no hole near
		})
	}
}

func TestHardwareSecondOpinion(t *testing.T) {
	rod := made(t)(Rod(RodSpec{Label{ID: "rod"}, steel, 8, 0, 1.25, 30}))
	compare(t, rod.Solid, sdfPin(t, 0, 0, 0, 30, 4), func(geom.Vec3) bool { return true })
	w := made(t)(Washer(RingSpec{Label{ID: "washer"}, steel, 16, 8.4, 3, 0}))
	ring := sdf.Difference3D(sdfPin(t, 0, 0, 0, 3, 8), sdfPin(t, 0, 0, -9, 9, 4.2))
	compare(t, w.Solid, ring, func(p geom.Vec3) bool { return p.Z > 0 && p.Z < 3 })
	cell := made(t)(CellCase(CellSpec{Label: Label{ID: "cell"}, WidthMM: 17, HeightMM: 20, ThicknessMM: 7}))
	compare(t, cell.Solid, sdfBox(t, v3.Vec{X: -8.5}, v3.Vec{X: 8.5, Y: 20, Z: 7}), func(geom.Vec3) bool { return true })
}

// meshError is how far a mesh of the plate misses it: the worst of its overall
// sizes, of the nearest vertex to each of its eight corners, and of the vertices
// in the middle half of the thickness near a hole, from the hole's wall.
func meshError(s PlateSpec, vs []geom.Vec3) float64 {
	b := geom.EmptyBox3()
	for _, v := range vs {
		b = b.Add(v)
	}
	size := b.Size().Sub(geom.Vec3{X: s.WidthMM, Y: s.HeightMM, Z: s.ThicknessMM})
	worst := max(math.Abs(size.X), math.Abs(size.Y), math.Abs(size.Z))
	for i := range 8 {
		c := geom.Vec3{X: s.WidthMM * (float64(i&1) - 0.5), Y: s.HeightMM * (float64(i>>1&1) - 0.5), Z: s.ThicknessMM * float64(i>>2)}
		d := math.Inf(1)
		for _, v := range vs {
			d = min(d, v.Dist(c))
		}
		worst = max(worst, d)
	}
	return worst
}

// BenchmarkPlateMesh measures both ways to a mesh of the same plate in one run,
// and fails when ours is not 50 times smaller and faster and the truer.
func BenchmarkPlateMesh(b *testing.B) {
	s := plateSpec()
	s.CornerRadiusMM, s.Slots, s.EngraveMark = 0, nil, false
	p, err := EndPlate(s)
	if err != nil {
		b.Fatal(err)
	}
	f := sdfPlate(b, s)
	for b.Loop() {
		start := time.Now()
		m, err := p.Solid.Mesh(0.01)
		if err != nil {
			b.Fatal(err)
		}
		ours := time.Since(start)
		start = time.Now()
		cubes := render.ToTriangles(f, render.NewMarchingCubesUniform(200))
		theirs := time.Since(start)
		var vs []geom.Vec3
		for _, t := range cubes {
			for _, v := range t {
				vs = append(vs, geom.Vec3{X: v.X, Y: v.Y, Z: v.Z})
			}
		}
		report(b, "triangles", float64(len(m.Triangles)), float64(len(cubes)), 50)
		report(b, "ms", ours.Seconds()*1e3, theirs.Seconds()*1e3, 50)
		// our chords stray by 0.01 mm where theirs were not even asked
		report(b, "error-mm", max(0.01, meshError(s, m.Vertices)), meshError(s, vs), 1)
	}
}

func report(b *testing.B, what string, ours, theirs, ratio float64) {
	b.ReportMetric(ours, "ours-"+what)
	b.ReportMetric(theirs, "cubes-"+what)
	if ours*ratio > theirs {
		b.Errorf("%s: ours %g, marching cubes %g: not %g times better", what, ours, theirs, ratio)
	}
}
