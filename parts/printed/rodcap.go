package printed

import (
	"math"
	"slices"

	"github.com/deadsy/sdfx/sdf"
	v2 "github.com/deadsy/sdfx/vec/v2"
	v3 "github.com/deadsy/sdfx/vec/v3"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// RodCapSpec describes the cap on a sawn rod end: mouth at z = 0, bore up to
// DepthMM, the axis on z.
type RodCapSpec struct {
	parts.Label
	Printer
	RodMM   float64 // the thread's major diameter
	DepthMM float64 // of the bore round the rod
	// A skirt goes over the nut where little thread stands out of it: the nut's
	// size across corners and the skirt's length, which is then the first part of
	// the cap; zero for none.
	CornersMM, SkirtMM float64
}

// ribGap is what three ribs in the bore leave to the rod, mm: threads come
// smaller than their nominal diameter, prints larger, and the ribs hold.
const ribGap = 0.05

// boreGap is what the bore leaves round the rod between the ribs, mm.
func (s RodCapSpec) boreGap() float64 { return ribGap + max(0.8, s.FitMM) }

// OuterMM is the cap's diameter.
func (s RodCapSpec) OuterMM() float64 {
	return max(s.RodMM+2*(s.boreGap()+s.wall()), s.CornersMM+2*(s.FitMM+s.wall()))
}

// LengthMM is the cap's length.
func (s RodCapSpec) LengthMM() float64 { return s.SkirtMM + s.DepthMM + s.wall() }

// RodCap builds a rod cap: a closed end chamfered at 45 degrees, on which it is
// printed, a mouth with a lead-in, and three round ribs in the bore, blended into it and
// rounded where the rod enters.
func RodCap(s RodCapSpec) (parts.Part, error) {
	spans := []span{{"rod", s.RodMM, 2, 100}, {"depth", s.DepthMM, 1, 300}}
	if s.SkirtMM != 0 || s.CornersMM != 0 {
		spans = append(spans, span{"nut across corners", s.CornersMM, s.RodMM, 200}, span{"skirt", s.SkirtMM, 1, 200})
	}
	err := s.checked(s.ID, spans...)
	if err != nil {
		return parts.Part{}, err
	}
	c := s.sizes()
	f, err := c.shape()
	if err != nil {
		return parts.Part{}, &parts.Error{Part: s.ID, What: "shape", Err: err}
	}
	solid, err := geom.FromMesh(ringMesh(c.rings(f)))
	if err != nil {
		return parts.Part{}, &parts.Error{Part: s.ID, What: "surface", Err: err}
	}
	return s.finish(s.Label, parts.KindCap, solid, 0)
}

// capSizes are the cap's radii and lengths, mm.
type capSizes struct {
	outer, bore, skirt float64 // radii
	lead               float64 // lead-in at the mouth, at 45 degrees
	chamfer            float64 // of the closed end along the axis
	tip, rib, blend    float64 // the ribs' tips from the axis, their radius, and that of their roots
	ribs, end, length  float64 // heights: where the ribs begin, bore's end, whole
	step               float64 // the skirt's end
}

func (s RodCapSpec) sizes() capSizes {
	c := capSizes{outer: s.OuterMM() / 2, bore: s.RodMM/2 + s.boreGap(), lead: min(0.6, s.wall()/3), tip: s.RodMM/2 + ribGap,
		step: s.SkirtMM, end: s.SkirtMM + s.DepthMM, length: s.LengthMM(), chamfer: s.wall()}
	if s.SkirtMM > 0 {
		c.skirt = s.CornersMM/2 + s.FitMM
	}
	c.rib = max(min(0.8, s.RodMM/8), ribShare*s.MinWallMM/2, c.bore-c.tip)
	c.blend = min((c.bore-c.tip)/2, s.wall()/4)
	c.chamfer = min(c.outer/3, c.chamfer)
	c.ribs = c.step + min(c.lead+c.blend, s.DepthMM/3)
	return c
}

// ribShare is the width of a rib over the printer's thinnest wall.
const ribShare = 1.2

// shape is the cap as a distance function.
func (c capSizes) shape() (sdf.SDF3, error) {
	var b builder
	foot := c.outer - c.chamfer*math.Tan(roofAngle)
	body := b.revolved(0, 0, c.outer-c.lead, 0, c.outer, c.lead, c.outer, c.length-c.chamfer, foot, c.length, 0, c.length)
	floor := b.revolved(0, c.end, c.outer, c.end, c.outer, c.length-c.chamfer, foot, c.length, 0, c.length)
	hollow := b.revolved(0, -1, c.bore+c.lead+1, -1, c.bore, c.lead, c.bore, c.length+1, 0, c.length+1)
	if c.step > 0 {
		hollow = b.revolved(0, -1, c.skirt+c.lead+1, -1, c.skirt, c.lead, c.skirt, c.step, c.bore, c.step, c.bore, c.length+1, 0, c.length+1)
	}
	top, deep, wide := c.end+2*c.rib, (c.end+c.length)/2, (c.bore+c.outer)/2 // ribs end within the walls
	within := b.revolved(0, 0, wide, 0, wide, deep, 0, deep)
	rib, err := sdf.Capsule3D(top-c.ribs, c.rib)
	b.note(err)
	if b.err != nil {
		return nil, b.err
	}
	rib = sdf.Transform3D(rib, sdf.Translate3d(v3.Vec{X: c.tip + c.rib, Z: (top + c.ribs) / 2}))
	ribs := sdf.Intersect3D(sdf.RotateUnion3D(rib, capRibs, sdf.RotateZ(2*math.Pi/capRibs)), within)
	ribbed := sdf.Union3D(sdf.Difference3D(body, hollow), ribs)
	ribbed.(*sdf.UnionSDF3).SetMin(sdf.RoundMin(c.blend))
	return sdf.Union3D(ribbed, floor), nil
}

// capRibs is how many ribs hold the rod.
const capRibs = 3

// rings go from the bore's end along the ribs to the mouth, and outside back to the
// closed end.
func (c capSizes) rings(f sdf.SDF3) []ring {
	t := turned{f: f, fold: capRibs}
	wall := (max(c.bore, c.skirt) + c.outer) / 2 // a radius within the wall
	inner := func(z, beside float64) level { return level{z: z, beside: beside, in: wall} }
	outer := func(z, beside float64) level { return level{z: z, beside: beside, out: c.outer + 1, in: c.bore / 2} }
	t.look(inner(c.end, -hair), deviationMM)
	in := []level{inner(c.end, -hair)}
	for _, z := range []float64{c.ribs + c.rib, c.ribs} {
		if z < c.end-deviationMM && z > c.step+c.lead+deviationMM {
			in = append(in, inner(z, 0))
		}
	}
	if c.step > 0 {
		in = append(in, inner(c.step, hair), inner(c.step, -hair))
	}
	in = append(in, inner(c.lead, 0))
	out := []level{outer(0, hair), outer(c.lead, 0), outer(c.length-c.chamfer, 0), outer(c.length, -hair)}
	out[0].in, out[1].in, out[2].in = wall, wall, wall
	rings := append([]ring{t.axis(c.end)}, t.rings(deviationMM, append(in, inner(0, hair))...)...)
	return append(append(rings, t.rings(deviationMM, out...)...), t.axis(c.length))
}

// builder makes shapes and keeps the first error.
type builder struct{ err error }

func (b *builder) note(err error) {
	if b.err == nil {
		b.err = err
	}
}

// revolved turns a polygon r, z, r, z, ... about the z axis. The library takes no point
// twice, and an edge on the axis for part of the surface: it is put beyond.
func (b *builder) revolved(rz ...float64) sdf.SDF3 {
	var vs []v2.Vec
	for i := 0; i < len(rz); i += 2 {
		v := v2.Vec{X: rz[i], Y: rz[i+1]}
		if v.X == 0 {
			v.X = -1
		}
		vs = append(vs, v)
	}
	p, err := sdf.Polygon2D(slices.CompactFunc(vs, func(a, b v2.Vec) bool { return a.Equals(b, geom.MinSize) }))
	b.note(err)
	s, err := sdf.Revolve3D(p)
	b.note(err)
	return s
}
