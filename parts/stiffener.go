package parts

import (
	"errors"
	"fmt"

	"clampwright/parts/geom"
)

// StiffenerSpec describes a length of angle drilled through one leg.
//
// Part coordinates: length along x, centred. The drilled leg's plate-side face
// lies on z = 0, its other face on z = ThicknessMM, and the standing leg reaches
// outward to z = StandingLegMM. The hole centres lie on y = 0. With StandingUp
// the standing leg is above the holes: the heel is at y = +GaugeMM and the
// drilled leg reaches down from there; else the heel is at y = -GaugeMM. The
// flat is the drilled leg in the same x and y.
type StiffenerSpec struct {
	Label
	Material      Material
	DrilledLegMM  float64
	StandingLegMM float64
	ThicknessMM   float64
	RootMM, ToeMM float64 // fillet radii; zero for sharp extrusions
	LengthMM      float64
	GaugeMM       float64 // heel to hole centres
	Holes         []Hole  // C.X along the length; C.Y must be zero
	StandingUp    bool
	ChamferMM     float64 // 45° off the standing leg's ends, zero for none
}

// Stiffener builds a drilled angle. A hole that is not clear of the root fillet,
// the leg's edge or the ends is a geom.HoleError.
func Stiffener(s StiffenerSpec) (Part, error) {
	if s.Name == "" {
		s.Name = "angle stiffener"
	}
	err := s.check(s.Material, positive("length", s.LengthMM), positive("drilled leg", s.DrilledLegMM),
		positive("standing leg", s.StandingLegMM), positive("leg thickness", s.ThicknessMM),
		size{"gauge", s.GaugeMM, 0, s.DrilledLegMM, "holes lie on the drilled leg"})
	if err != nil {
		return Part{}, err
	}
	holes := numbered(s.Holes)
	solid, err := s.angle(holes)
	if err != nil {
		return Part{}, err
	}
	p := s.part(KindStiffener, MakeBar, s.Material, solid, [3]float64{s.LengthMM, s.DrilledLegMM, s.StandingLegMM})
	p.Holes = holes
	p.Flat = &Flat{Profile: s.flat(holes), ThicknessMM: s.ThicknessMM, Grain: true, GrainAlongX: true}
	return p, nil
}

// side is +1 with the standing leg up.
func (s StiffenerSpec) side() float64 {
	if s.StandingUp {
		return 1
	}
	return -1
}

// angle builds the solid about the heel and turns it into part coordinates.
func (s StiffenerSpec) angle(holes []Hole) (geom.Solid, error) {
	a := geom.Angle{LegA: s.DrilledLegMM, LegB: s.StandingLegMM, T: s.ThicknessMM,
		Root: s.RootMM, Toe: s.ToeMM, Length: s.LengthMM, ChamferB: s.ChamferMM}
	for _, h := range holes {
		if h.C.Y != 0 {
			return geom.Solid{}, &Error{s.ID, "hole " + h.ID, fmt.Errorf("lies %g mm off the gauge line", h.C.Y)}
		}
		a.Holes = append(a.Holes, geom.AngleHole{ID: h.ID, X: -s.side() * h.C.X, Y: s.GaugeMM, R: h.DiaMM / 2})
	}
	solid, err := a.Solid()
	if err != nil {
		what := "section"
		if he := new(geom.HoleError); errors.As(err, &he) {
			what = "hole " + he.Hole
		}
		return geom.Solid{}, &Error{s.ID, what, err}
	}
	f := geom.At(geom.Vec3{Y: s.side() * s.GaugeMM})
	if s.StandingUp {
		f.X, f.Y = f.X.Mul(-1), f.Y.Mul(-1)
	}
	return solid.Transform(f), nil
}

// flat is the drilled leg seen from outside.
func (s StiffenerSpec) flat(holes []Hole) geom.Profile {
	h := geom.Vec2{X: s.LengthMM / 2, Y: s.GaugeMM}
	tip := geom.Vec2{X: s.LengthMM / 2, Y: s.GaugeMM - s.DrilledLegMM}
	lo, hi := geom.Vec2{X: -h.X, Y: tip.Y}, h
	if !s.StandingUp {
		lo, hi = geom.Vec2{X: -h.X, Y: -h.Y}, geom.Vec2{X: h.X, Y: -tip.Y}
	}
	return geom.Profile{Outer: geom.Rect(lo, hi), Circles: circles(holes)}
}
