package printed

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/deadsy/sdfx/render"
	"github.com/deadsy/sdfx/sdf"
	v2 "github.com/deadsy/sdfx/vec/v2"
	v3 "github.com/deadsy/sdfx/vec/v3"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// asked are barycentric weights at which a triangle is compared with a distance function.
var asked = [...][3]float64{
	{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0.5, 0.5, 0}, {0, 0.5, 0.5}, {0.5, 0, 0.5}, {1. / 3, 1. / 3, 1. / 3},
	{0.75, 0.25, 0}, {0.25, 0.75, 0}, {0, 0.75, 0.25}, {0, 0.25, 0.75}, {0.75, 0, 0.25}, {0.25, 0, 0.75},
}

func at(s sdf.SDF3, p geom.Vec3) float64 { return s.Evaluate(v3.Vec{X: p.X, Y: p.Y, Z: p.Z}) }

// deviation is the largest value of a distance function on a mesh, mm.
func deviation(s sdf.SDF3, m geom.Mesh) (worst float64) {
	for _, t := range m.Triangles {
		for _, w := range asked {
			p := m.Vertices[t[0]].Mul(w[0]).Add(m.Vertices[t[1]].Mul(w[1])).Add(m.Vertices[t[2]].Mul(w[2]))
			worst = max(worst, math.Abs(at(s, p)))
		}
	}
	return worst
}

// slivers is the share of triangles whose longest edge is over a hundred times the
// altitude on it.
func slivers(m geom.Mesh) float64 {
	n := 0
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		l := max(a.Dist(b), b.Dist(c), c.Dist(a))
		if l*l > 100*b.Sub(a).Cross(c.Sub(a)).Len() {
			n++
		}
	}
	return float64(n) / float64(len(m.Triangles))
}

// counted is the volume of a field by counting points strewn in its box, mm³.
func counted(s sdf.SDF3) float64 {
	const points = 25000
	b, in := s.BoundingBox(), 0
	r := rand.New(rand.NewPCG(7, 11))
	d := b.Size()
	for range points {
		if s.Evaluate(v3.Vec{X: b.Min.X + d.X*r.Float64(), Y: b.Min.Y + d.Y*r.Float64(), Z: b.Min.Z + d.Z*r.Float64()}) < 0 {
			in++
		}
	}
	return d.X * d.Y * d.Z * float64(in) / points
}

func caps() []RodCapSpec {
	thin := printer()
	thin.MinWallMM, thin.FitMM = 0.3, 1.5
	return []RodCapSpec{
		{label("rod-cap", "C1"), printer(), 8, 14, 0, 0}, {label("nut-cap", "C2"), printer(), 8, 3, 15, 6.8},
		{label("thin", "C3"), printer(), 4, 38, 0, 0}, {label("thick", "C4"), printer(), 20, 8, 0, 0}, {label("loose", "C5"), thin, 3, 6, 0, 0},
		{label("short", "C6"), printer(), 8, 1, 0, 0},
	}
}

// The caps' surfaces stray nowhere from their distance functions, and enclose what these
// do, counted by points; corners and edges are kept: some vertex lies on each.
func TestRodCapAgainstField(t *testing.T) {
	for _, s := range caps() {
		c := s.sizes()
		f, err := c.shape()
		if err != nil {
			t.Fatal(err)
		}
		p, err := RodCap(s)
		if err != nil {
			t.Fatal(s.ID, err)
		}
		m, _ := p.Solid.Mesh(chordMM)
		if d := deviation(f, m); d > 0.05 {
			t.Errorf("%s strays %g mm from the field", s.ID, d)
		}
		if v, w := p.Solid.Volume(), counted(f); math.Abs(v/w-1) > 0.03 {
			t.Errorf("%s: %g mm³, the field holds %g", s.ID, v, w)
		}
		edges := [][2]float64{{c.outer - c.lead, 0}, {c.outer, c.lead}, {c.outer, c.length - c.chamfer}, {max(c.bore, c.skirt) + c.lead, 0}, {max(c.bore, c.skirt), c.lead}, {c.tip, (c.ribs + c.rib + c.end) / 2}}
		if c.ribs+c.rib > c.end { // too short for a whole rib
			edges = edges[:len(edges)-1]
		}
		if c.step > 0 {
			edges = append(edges, [2]float64{c.skirt, c.step}, [2]float64{c.bore, c.step})
		}
		for _, e := range edges {
			near := math.Inf(1)
			for _, tr := range m.Triangles {
				for k := range tr {
					a, b := m.Vertices[tr[k]], m.Vertices[tr[(k+1)%3]]
					u := 0.0
					if a.Z != b.Z {
						u = max(0, min(1, (e[1]-a.Z)/(b.Z-a.Z)))
					}
					q := a.Lerp(b, u)
					near = min(near, math.Hypot(math.Hypot(q.X, q.Y)-e[0], q.Z-e[1]))
				}
			}
			if near > 0.001 {
				t.Errorf("%s: the edge at radius %g, height %g is lost by %g mm", s.ID, e[0], e[1], near)
			}
		}
	}
}

// footField is the foot as a distance function, put together apart from its faces.
func footField(s FootSpec) (sdf.SDF3, error) {
	k := s.bracket()
	x, far := k.Width/2, 2*max(k.Height, k.Depth, k.Width)
	var failed error
	block := func(x0, y0, z0, x1, y1, z1 float64) sdf.SDF3 {
		b, err := sdf.Box3D(v3.Vec{X: x1 - x0, Y: y1 - y0, Z: z1 - z0}, 0)
		if err != nil {
			failed = err
		}
		return sdf.Transform3D(b, sdf.Translate3d(v3.Vec{X: (x0 + x1) / 2, Y: (y0 + y1) / 2, Z: (z0 + z1) / 2}))
	}
	angle := sdf.Union3D(block(-far, -far, -far, far, far, k.T), block(-far, -far, -far, far, k.T, far))
	angle.(*sdf.UnionSDF3).SetMin(sdf.RoundMin(k.Root))
	sides := sdf.Union3D(block(-far, -far, -far, k.Gusset-x, far, far), block(x-k.Gusset, -far, -far, far, far, far))
	gussets := sdf.Cut3D(sides, v3.Vec{Y: k.T + k.Leg, Z: k.T}, v3.Vec{Y: -1, Z: -1})
	solid := sdf.Intersect3D(block(-x, 0, 0, x, k.Height, k.Depth), sdf.Union3D(angle, gussets))
	pin, err := sdf.Cylinder3D(4*k.Depth, k.Screw.R, 0)
	if err != nil {
		return nil, err
	}
	r, at := s.MountHoleMM/2, (s.BaseMM+k.T)/2
	circle, err := sdf.Circle2D(r)
	if err != nil {
		return nil, err
	}
	sin, cos := math.Sincos(roofAngle)
	roof, err := sdf.Polygon2D([]v2.Vec{{X: -r * cos, Y: r * sin}, {X: r * cos, Y: r * sin}, {X: 0, Y: r / sin}})
	if err != nil {
		return nil, err
	}
	mount := sdf.Transform3D(sdf.Extrude3D(sdf.Union2D(circle, roof), 4*k.T), sdf.Translate3d(v3.Vec{Z: at}).Mul(sdf.RotateX(math.Pi/2)))
	screw := sdf.Transform3D(pin, sdf.Translate3d(v3.Vec{Y: s.PlateHoleY}))
	return sdf.Difference3D(solid, sdf.Union3D(screw, mount)), failed
}

// The foot's exact faces keep to the distance function of the same foot, and hold what
// it should by hand: plates less holes, two gussets, and the fillet r²(1 - π/4) wide
// between them.
func TestFootAgainstField(t *testing.T) {
	for _, s := range []FootSpec{{label("foot", "F1"), printer(), 24, 24, 30, 6.6, 14, 6.6}, {label("low", "F2"), printer(), 30, 19, 22, 5, 8, 8}, {label("square", "F3"), printer(), 20, 26, 26, 4, 7, 4}} {
		f, err := footField(s)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Foot(s)
		if err != nil {
			t.Fatal(err)
		}
		m, _ := p.Solid.Mesh(chordMM)
		if d := deviation(f, m); d > 0.015 {
			t.Errorf("%s strays %g mm from the field", s.ID, d)
		}
		k := s.bracket()
		r := s.MountHoleMM / 2
		roof := r * r * (1/math.Tan(roofAngle) - (math.Pi/2 - roofAngle)) // of the teardrop beyond its circle
		want := k.T*k.Width*(k.Height+k.Depth-k.T) + k.Gusset*k.Leg*k.Leg + (k.Width-2*k.Gusset)*k.Root*k.Root*(1-math.Pi/4) - k.T*(math.Pi*(k.Screw.R*k.Screw.R+r*r)+roof)
		if got := p.Solid.Volume(); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s: %g mm³, by hand %g", s.ID, got, want)
		}
	}
}

// BenchmarkShapedAgainstCubes measures both ways to a mesh of each cap in one run. It
// fails unless ours has a tenth of the triangles that marching cubes need at no more
// deviation.
func BenchmarkShapedAgainstCubes(b *testing.B) {
	for _, s := range caps()[:2] {
		b.Run(s.ID, func(b *testing.B) {
			f, err := s.sizes().shape()
			if err != nil {
				b.Fatal(err)
			}
			var part parts.Part
			for b.Loop() {
				if part, err = RodCap(s); err != nil {
					b.Fatal(err)
				}
			}
			m, _ := part.Solid.Mesh(chordMM)
			strays, n, stray := deviation(f, m), 0, 0.0
			for _, cells := range []int{50, 100, 200, 400} {
				var c geom.Mesh
				ts := render.ToTriangles(f, render.NewMarchingCubesOctree(cells))
				for i, t := range ts {
					for _, v := range t {
						c.Vertices = append(c.Vertices, geom.Vec3{X: v.X, Y: v.Y, Z: v.Z})
					}
					if i%16 == 0 { // the rest could only make marching cubes look worse
						c.Triangles = append(c.Triangles, geom.Triangle{int32(3 * i), int32(3*i + 1), int32(3*i + 2)})
					}
				}
				if n, stray = len(ts), deviation(f, c); stray <= 0.05 {
					break
				}
			}
			b.ReportMetric(float64(len(m.Triangles)), "ours-triangles")
			b.ReportMetric(strays, "ours-mm")
			b.ReportMetric(float64(n), "cubes-triangles")
			b.ReportMetric(stray, "cubes-mm")
			if 10*len(m.Triangles) > n || strays > max(0.05, stray) {
				b.Errorf("%d triangles at %g mm, marching cubes %d at %g mm", len(m.Triangles), strays, n, stray)
			}
		})
	}
}
