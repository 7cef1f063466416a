package printed

import (
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
)

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
		span{"height of the plate hole", s.PlateHoleY, t + s.PlateHoleMM/2 + footStep, s.HeightMM - s.PlateHoleMM/2 - 1})
	if err != nil {
		return parts.Part{}, err
	}
	solid, err := s.bracket().Solid()
	if err != nil {
		return parts.Part{}, &parts.Error{Part: s.ID, What: "shape", Err: err}
	}
	p, err := s.finish(s.Label, parts.KindFoot, solid, 0)
	p.Holes = []parts.Hole{{ID: "H1", C: geom.Vec2{Y: s.PlateHoleY}, DiaMM: s.PlateHoleMM, For: "screw to the plate"}}
	return p, err
}

// footFillet is the radius between upright and base, where a foot would break, as far as
// the holes leave it room, and footStep how far gussets end short of the edges, mm.
const footFillet, footStep = 3.0, 0.5

func (s FootSpec) bracket() geom.Bracket {
	t := s.ThicknessMM()
	room := min(s.PlateHoleY-s.PlateHoleMM/2-t, (s.BaseMM-t-s.MountHoleMM)/2) - footStep/2
	return geom.Bracket{Width: s.WidthMM, Height: s.HeightMM, Depth: s.BaseMM, T: t, Root: min(footFillet, room), Gusset: s.wall(),
		Leg: min(s.HeightMM, s.BaseMM) - t - footStep, Screw: geom.Circle{C: geom.Vec2{Y: s.PlateHoleY}, R: s.PlateHoleMM / 2},
		Mount: teardrop(geom.Vec2{Y: (s.BaseMM + t) / 2}, s.MountHoleMM/2)}
}

// roofAngle is how far a printed roof leans from upright, rad: a little under 45
// degrees.
const roofAngle = 42 * math.Pi / 180

// teardrop is a round hole with a steep roof towards +y, which prints without support
// when it lies level.
func teardrop(c geom.Vec2, r float64) geom.Path {
	at := geom.Polar(r, roofAngle)
	sweep := math.Pi + 2*roofAngle // round below, from one foot of the roof to the other
	return geom.Path{{P: c.Add(geom.Vec2{X: -at.X, Y: at.Y}), Bulge: math.Tan(sweep / 4)}, {P: c.Add(at)}, {P: c.Add(geom.Vec2{Y: r / at.Y * r})}}
}
