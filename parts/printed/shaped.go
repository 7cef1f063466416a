package printed

import (
	"math"

	"github.com/deadsy/sdfx/sdf"
	v2 "github.com/deadsy/sdfx/vec/v2"
	v3 "github.com/deadsy/sdfx/vec/v3"

	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed/field"
)

// shape is a solid given by its distance function.
type shape struct {
	sdf  sdf.SDF3
	cell float64 // size of a cell to mesh it with, mm
}

// at evaluates the distance.
func (s shape) at(p geom.Vec3) float64 { return s.sdf.Evaluate(v3.Vec{X: p.X, Y: p.Y, Z: p.Z}) }

func (s shape) box() geom.Box3 {
	b := s.sdf.BoundingBox()
	return geom.Box3{Min: geom.Vec3{X: b.Min.X, Y: b.Min.Y, Z: b.Min.Z}, Max: geom.Vec3{X: b.Max.X, Y: b.Max.Y, Z: b.Max.Z}}
}

func (s shape) mesh() (geom.Mesh, field.Figures, error) {
	return field.Mesh(s.at, field.Options{Box: s.box(), Cell: s.cell, Deviation: deviationMM})
}

// shaped builds a part from a distance function.
func (p Printer) shaped(l parts.Label, k parts.Kind, s shape) (parts.Part, error) {
	m, _, err := s.mesh()
	if err != nil {
		return parts.Part{}, &parts.Error{Part: l.ID, What: "surface", Err: err}
	}
	return p.meshed(l, k, m)
}

// meshed builds a part from its surface.
func (p Printer) meshed(l parts.Label, k parts.Kind, m geom.Mesh) (parts.Part, error) {
	solid, err := geom.FromMesh(m)
	if err != nil {
		return parts.Part{}, &parts.Error{Part: l.ID, What: "surface", Err: err}
	}
	return p.finish(l, k, solid, 0)
}

// builder makes solids and keeps the first error.
type builder struct{ err error }

func (b *builder) note(err error) {
	if b.err == nil {
		b.err = err
	}
}

// block is a box between two corners.
func (b *builder) block(x0, y0, z0, x1, y1, z1 float64) sdf.SDF3 {
	s, err := sdf.Box3D(v3.Vec{X: x1 - x0, Y: y1 - y0, Z: z1 - z0}, 0)
	b.note(err)
	return sdf.Transform3D(s, sdf.Translate3d(v3.Vec{X: (x0 + x1) / 2, Y: (y0 + y1) / 2, Z: (z0 + z1) / 2}))
}

// cylinder stands on both sides of the plane z = 0, its axis on z.
func (b *builder) cylinder(height, radius float64) sdf.SDF3 {
	s, err := sdf.Cylinder3D(height, radius, 0)
	b.note(err)
	return s
}

// along extrudes a planar shape in x and y from z0 to z1, then places it by m.
func along(s sdf.SDF2, z0, z1 float64, m sdf.M44) sdf.SDF3 {
	e := sdf.Transform3D(sdf.Extrude3D(s, z1-z0), sdf.Translate3d(v3.Vec{Z: (z0 + z1) / 2}))
	return sdf.Transform3D(e, m)
}

// FootSpec describes a foot: an upright that lies on a plate's outer face, a base
// that stands out from it with a mounting hole, and a gusset on each side. Part
// coordinates: x across with 0 at the middle, y up from the base's underside at
// 0, z outward from the plate's face at 0.
type FootSpec struct {
	parts.Label
	Printer
	WidthMM, HeightMM, BaseMM float64 // across, up, and out from the plate
	PlateHoleMM, PlateHoleY   float64 // diameter and height of the screw to the plate
	MountHoleMM               float64
}

// ThicknessMM is the thickness of upright and base.
func (s FootSpec) ThicknessMM() float64 { return max(4, s.wall()) }

// Foot builds a foot.
func Foot(s FootSpec) (parts.Part, error) {
	t := s.ThicknessMM()
	err := s.checked(s.ID, span{"width", s.WidthMM, s.MountHoleMM + 4*s.wall(), 500}, span{"height", s.HeightMM, t + s.PlateHoleMM, 500},
		span{"base", s.BaseMM, t + s.MountHoleMM + 2*s.wall(), 500}, span{"plate hole", s.PlateHoleMM, 1, 50}, span{"mounting hole", s.MountHoleMM, 1, 50},
		span{"height of the plate hole", s.PlateHoleY, t + s.PlateHoleMM/2, s.HeightMM - s.PlateHoleMM/2 - 1})
	if err != nil {
		return parts.Part{}, err
	}
	sh, err := s.shape()
	if err != nil {
		return parts.Part{}, &parts.Error{Part: s.ID, What: "shape", Err: err}
	}
	p, err := s.shaped(s.Label, parts.KindFoot, sh)
	p.Holes = []parts.Hole{{ID: "H1", C: geom.Vec2{Y: s.PlateHoleY}, DiaMM: s.PlateHoleMM, For: "screw to the plate"}}
	return p, err
}

// footFillet is the radius between upright and base, where a foot would break,
// mm.
const footFillet = 3.0

// shape joins upright and base, reaching too far on all outer sides, with a
// fillet, adds a gusset on each side and takes from the box of the foot what lies
// outside; then the holes.
func (s FootSpec) shape() (shape, error) {
	t, x, w := s.ThicknessMM(), s.WidthMM/2, s.wall()
	far := 2 * max(s.HeightMM, s.BaseMM, s.WidthMM)
	var b builder
	angle := sdf.Union3D(b.block(-far, -far, -far, far, far, t), b.block(-far, -far, -far, far, t, far))
	if u, ok := angle.(*sdf.UnionSDF3); ok {
		u.SetMin(sdf.RoundMin(footFillet))
	}
	k := min(s.HeightMM, s.BaseMM) - t // the gussets' legs
	sides := sdf.Union3D(b.block(-far, -far, -far, w-x, far, far), b.block(x-w, -far, -far, far, far, far))
	gussets := sdf.Cut3D(sides, v3.Vec{Y: t + k, Z: t}, v3.Vec{Y: -1, Z: -1})
	solid := sdf.Intersect3D(b.block(-x, 0, 0, x, s.HeightMM, s.BaseMM), sdf.Union3D(angle, gussets))
	screw := sdf.Transform3D(b.cylinder(4*s.BaseMM, s.PlateHoleMM/2), sdf.Translate3d(v3.Vec{Y: s.PlateHoleY}))
	level := sdf.Translate3d(v3.Vec{Z: (s.BaseMM + t) / 2}).Mul(sdf.RotateX(math.Pi / 2))
	mount := along(b.teardrop(s.MountHoleMM/2), -2*t, 2*t, level)
	if b.err != nil {
		return shape{}, b.err
	}
	return shape{sdf.Difference3D(solid, sdf.Union3D(screw, mount)), footCell * w}, nil
}

// footCell is the size of the cells in which feet are meshed, in gussets: a cell
// sees one of a gusset's faces only, and the holes bend little within one.
const footCell = 0.31

// roofAngle is how far a printed roof leans from upright, rad: a little under 45
// degrees, for the surface is meshed with some error.
const roofAngle = 42 * math.Pi / 180

// teardrop is a round hole with a steep roof towards +y, which prints
// without support when it lies level.
func (b *builder) teardrop(r float64) sdf.SDF2 {
	c, err := sdf.Circle2D(r)
	b.note(err)
	sin, cos := math.Sincos(roofAngle)
	// the roof's two flanks cut a box that reaches from the flanks' feet to the tip
	roof := sdf.Transform2D(sdf.Box2D(v2.Vec{X: 2 * r * cos, Y: r/sin - r*sin}, 0), sdf.Translate2d(v2.Vec{Y: (r/sin + r*sin) / 2}))
	for _, side := range []float64{-1, 1} {
		roof = sdf.Cut2D(roof, v2.Vec{Y: r / sin}, v2.Vec{X: sin, Y: -side * cos}) // what lies right of the line stays
	}
	return sdf.Union2D(c, roof)
}
