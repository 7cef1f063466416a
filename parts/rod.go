package parts

import (
	"clampwright/params/catalog"
	"clampwright/parts/geom"
)

// RodSpec describes a length of threaded rod, its axis on z from 0 to LengthMM.
// The solid is the cylinder of the major diameter: what must clear holes and
// cells. The mass is that of the cylinder whose diameter is the basic pitch
// diameter d2 = d - 0.649519·P (ISO 68-1, ASME B1.1: 3/8·√3·P), which a
// symmetrical thread fills as far as it leaves it empty.
type RodSpec struct {
	Label
	Material Material
	MajorMM  float64
	MinorMM  float64 // root diameter of the thread; zero if not known
	PitchMM  float64 // zero for plain rod
	LengthMM float64
}

// Rod builds a threaded rod.
func Rod(s RodSpec) (Part, error) {
	if s.Name == "" {
		s.Name = "threaded rod"
	}
	err := s.check(s.Material, positive("major diameter", s.MajorMM), positive("length", s.LengthMM),
		size{"pitch", s.PitchMM, 0, s.MajorMM / 2, "a thread is finer than its radius"},
		size{"minor diameter", s.MinorMM, 0, s.MajorMM, "no more than the major diameter"})
	if err != nil {
		return Part{}, err
	}
	solid, err := geom.Cylinder(s.MajorMM/2, 0, s.LengthMM)
	if err != nil {
		return Part{}, &Error{s.ID, "rod", err}
	}
	p := s.part(KindRod, MakeRod, s.Material, solid, [3]float64{s.LengthMM, s.MajorMM, s.MajorMM})
	d2 := catalog.PitchDia(s.MajorMM, s.PitchMM)
	p.MassG *= d2 * d2 / (s.MajorMM * s.MajorMM)
	return p, nil
}
