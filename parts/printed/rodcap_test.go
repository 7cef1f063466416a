package printed

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/deadsy/sdfx/sdf"
	v2 "github.com/deadsy/sdfx/vec/v2"

	"clampwright/parts/geom"
	"clampwright/parts/printed/field"
)

// shape is the cap as a distance function, written down apart from its rings.
func (s RodCapSpec) shape() (shape, error) {
	r, b, l := s.OuterMM()/2, s.RodMM/2+s.boreGap(), s.LengthMM()
	c, lead := min(r/3, s.wall()), min(0.6, s.wall()/3)
	body, err := turned(0, 0, r-lead, 0, r, lead, r, l-c, r-c*math.Tan(roofAngle), l, 0, l)
	if err != nil {
		return shape{}, err
	}
	bore, err := s.hollow(b, lead)
	if err != nil {
		return shape{}, err
	}
	out := sdf.Difference3D(body, bore)
	tip, w := s.RodMM/2+ribGap, max(min(1.6, s.RodMM/4), 1.2*s.MinWallMM)/2
	half := ribTaper * math.Asin(w/b)
	foot := math.Sqrt(b*b - w*w)
	flat, err := sdf.Polygon2D([]v2.Vec{{X: tip, Y: -tip * math.Tan(half)}, {X: foot, Y: -w}, {X: foot + s.wall()/2, Y: -w},
		{X: foot + s.wall()/2, Y: w}, {X: foot, Y: w}, {X: tip, Y: tip * math.Tan(half)}})
	if err != nil {
		return shape{}, err
	}
	for i := range 3 {
		rib := along(flat, s.SkirtMM+lead, s.SkirtMM+s.DepthMM+s.wall()/2, sdf.RotateZ(2*math.Pi*float64(i)/3))
		out = sdf.Union3D(out, rib)
	}
	return shape{out, 0.55}, nil
}

// hollow is the bore: a lead-in, the skirt's bore where there is one, and the
// rod's of radius b.
func (s RodCapSpec) hollow(b, lead float64) (sdf.SDF3, error) {
	end := s.SkirtMM + s.DepthMM
	if s.SkirtMM == 0 {
		return turned(0, -1, b+lead+1, -1, b, lead, b, end, 0, end)
	}
	k := s.CornersMM/2 + s.FitMM
	return turned(0, -1, k+lead+1, -1, k, lead, k, s.SkirtMM, b, s.SkirtMM, b, end, 0, end)
}

// turned revolves a polygon r, z, r, z, ... about the z axis.
func turned(rz ...float64) (sdf.SDF3, error) {
	var vs []v2.Vec
	for i := 0; i+1 < len(rz); i += 2 {
		vs = append(vs, v2.Vec{X: rz[i], Y: rz[i+1]})
	}
	p, err := sdf.Polygon2D(vs)
	if err != nil {
		return nil, err
	}
	return sdf.Revolve3D(p)
}

// TestRodCapAgainstField lays the caps' surfaces over the distance functions of
// the library sdfx, both ways: the surface strays nowhere from the field, and
// encloses what the field does, counted by points.
func TestRodCapAgainstField(t *testing.T) {
	for _, s := range []RodCapSpec{
		{label("rod-cap", "C1"), printer(), 8, 14, 0, 0}, {label("nut-cap", "C2"), printer(), 8, 3, 15, 6.8},
		{label("thin", "C3"), printer(), 4, 38, 0, 0}, {label("thick", "C4"), printer(), 20, 8, 0, 0},
	} {
		sh, err := s.shape()
		if err != nil {
			t.Fatal(err)
		}
		p, err := RodCap(s)
		if err != nil {
			t.Fatal(s.ID, err)
		}
		m, _ := p.Solid.Mesh(chordMM)
		if d := field.Deviation(sh.at, m); d > 0.03 {
			t.Errorf("%s strays %g mm from the field", s.ID, d)
		}
		if v, w := p.Solid.Volume(), counted(sh); math.Abs(v/w-1) > 0.03 {
			t.Errorf("%s: %g mm³, the field holds %g", s.ID, v, w)
		}
	}
}

// TestFootAgainstField compares the foot's mesh with the distance function it was
// made from, and with what it should hold by hand: plates less holes, two gussets,
// and the fillet r²(1 - π/4) wide between them.
func TestFootAgainstField(t *testing.T) {
	s := FootSpec{label("foot", "F1"), printer(), 24, 24, 30, 6.6, 14, 6.6}
	sh, err := s.shape()
	if err != nil {
		t.Fatal(err)
	}
	p, err := Foot(s)
	if err != nil {
		t.Fatal(err)
	}
	m, _ := p.Solid.Mesh(chordMM)
	if d := field.Deviation(sh.at, m); d > 0.05 {
		t.Errorf("strays %g mm from the field", d)
	}
	const th, wall, k, r = 4.0, 2.4, 20.0, 3.3
	roof := r * r * (1/math.Tan(roofAngle) - (math.Pi/2 - roofAngle)) // of the teardrop beyond its circle
	want := 24*24*th + 24*26*th + 2*wall*k*k/2 + (24-2*wall)*footFillet*footFillet*(1-math.Pi/4) - th*(2*math.Pi*r*r+roof)
	if got := p.Solid.Volume(); math.Abs(got/want-1) > 0.005 {
		t.Errorf("%g mm³, by hand %g", got, want)
	}
}

// counted is the volume of a field by counting points strewn in its box, mm³.
func counted(s shape) float64 {
	const points = 25000
	b, in := s.box(), 0
	r := rand.New(rand.NewPCG(7, 11))
	for range points {
		d := b.Size()
		p := b.Min.Add(geom.Vec3{X: d.X * r.Float64(), Y: d.Y * r.Float64(), Z: d.Z * r.Float64()})
		if s.at(p) < 0 {
			in++
		}
	}
	d := b.Size()
	return d.X * d.Y * d.Z * float64(in) / points
}
