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

// block is a box between two corners.
func block(x0, y0, z0, x1, y1, z1 float64) (sdf.SDF3, error) {
	b, err := sdf.Box3D(v3.Vec{X: x1 - x0, Y: y1 - y0, Z: z1 - z0}, 0)
	if err != nil {
		return nil, err
	}
	return sdf.Transform3D(b, sdf.Translate3d(v3.Vec{X: (x0 + x1) / 2, Y: (y0 + y1) / 2, Z: (z0 + z1) / 2})), nil
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

func (s FootSpec) shape() (shape, error) {
	t, x := s.ThicknessMM(), s.WidthMM/2
	upright, err := block(-x, 0, 0, x, s.HeightMM, t)
	if err != nil {
		return shape{}, err
	}
	base, err := block(-x, 0, 0, x, t, s.BaseMM)
	if err != nil {
		return shape{}, err
	}
	solid := sdf.Union3D(upright, base)
	// gussets: triangles in y and z, at 45 degrees where the height allows
	k := min(s.HeightMM, s.BaseMM) - t
	gusset, err := sdf.Polygon2D([]v2.Vec{{X: t - 0.5, Y: t - 0.5}, {X: t + k, Y: t - 0.5}, {X: t + k, Y: t}, {X: t, Y: t + k}, {X: t - 0.5, Y: t + k}})
	if err != nil {
		return shape{}, err
	}
	// planar x goes to z, y stays, the extrusion runs along x
	turn := sdf.RotateY(-math.Pi / 2)
	w := s.wall()
	for _, g := range []float64{-x, x - w} {
		solid = sdf.Union3D(solid, along(gusset, -g-w, -g, turn))
	}
	screw, err := sdf.Cylinder3D(4*s.BaseMM, s.PlateHoleMM/2, 0)
	if err != nil {
		return shape{}, err
	}
	solid = sdf.Difference3D(solid, sdf.Transform3D(screw, sdf.Translate3d(v3.Vec{Y: s.PlateHoleY})))
	drop, err := teardrop(s.MountHoleMM / 2)
	if err != nil {
		return shape{}, err
	}
	at := sdf.Translate3d(v3.Vec{Z: (s.BaseMM + t) / 2}).Mul(sdf.RotateX(math.Pi / 2))
	return shape{sdf.Difference3D(solid, along(drop, -2*t, 2*t, at)), 0.65}, nil
}

// roofAngle is how far a printed roof leans from upright, rad: a little under 45
// degrees, for the surface is meshed with some error.
const roofAngle = 42 * math.Pi / 180

// teardrop is a round hole with a steep roof towards +y, which prints
// without support when it lies level.
func teardrop(r float64) (sdf.SDF2, error) {
	c, err := sdf.Circle2D(r)
	if err != nil {
		return nil, err
	}
	sin, cos := math.Sincos(roofAngle)
	roof, err := sdf.Polygon2D([]v2.Vec{{X: 0, Y: 0}, {X: r * cos, Y: r * sin}, {X: 0, Y: r / sin}, {X: -r * cos, Y: r * sin}})
	if err != nil {
		return nil, err
	}
	return sdf.Union2D(c, roof), nil
}
