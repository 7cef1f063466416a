package parts

import (
	"fmt"

	"clampwright/parts/geom"
)

// NutSpec describes a hexagon nut, its axis on z from 0 to HeightMM, two of its
// corners on the x axis. BoreMM is the diameter of the bore as drawn: the
// thread's major diameter when nut and rod shall touch and not interfere.
type NutSpec struct {
	Label
	Material      Material
	AcrossFlatsMM float64
	BoreMM        float64
	HeightMM      float64
	MassG         float64 // from the catalogue; zero: from the volume
}

// Nut builds a nut.
func Nut(s NutSpec) (Part, error) {
	err := s.check(s.Material, positive("width across flats", s.AcrossFlatsMM), positive("height", s.HeightMM),
		size{"bore", s.BoreMM, 0.01, s.AcrossFlatsMM - 0.01, "less than the width across flats"}, size{"mass", s.MassG, 0, inf, ""})
	if err != nil {
		return Part{}, err
	}
	solid, err := geom.HexPrism(s.AcrossFlatsMM, s.BoreMM/2, 0, s.HeightMM)
	if err != nil {
		return Part{}, &Error{s.ID, "nut", err}
	}
	b := solid.Bounds().Size()
	return s.bought(KindNut, "hexagon nut", s.Material, solid, [3]float64{b.X, b.Y, s.HeightMM}, s.MassG), nil
}

// RingSpec describes a washer, sleeve or the envelope of a spring: a tube with
// its axis on z from 0 to LengthMM.
type RingSpec struct {
	Label
	Material         Material
	OuterMM, InnerMM float64 // diameters
	LengthMM         float64
	MassG            float64 // zero: from the volume
}

// Washer builds a plain washer.
func Washer(s RingSpec) (Part, error) {
	return ring(s, KindWasher, "washer", MakeBuy)
}

// Spring builds the envelope of a spring or a stack of disc springs at the
// length given: the tube it stays within. Without MassG its mass is zero, for
// the envelope's volume says nothing about it.
func Spring(s RingSpec) (Part, error) {
	mass := s.MassG
	p, err := ring(s, KindSpring, "spring", MakeBuy)
	p.MassG = mass
	return p, err
}

// Sleeve builds an insulating sleeve, cut from tube.
func Sleeve(s RingSpec) (Part, error) {
	return ring(s, KindSleeve, "rod sleeve", MakeBar)
}

func ring(s RingSpec, k Kind, name string, mk Make) (Part, error) {
	err := s.check(s.Material, positive("outer diameter", s.OuterMM), positive("length", s.LengthMM),
		size{"inner diameter", s.InnerMM, 0.01, s.OuterMM - 0.01, "less than the outer diameter"}, size{"mass", s.MassG, 0, inf, ""})
	if err != nil {
		return Part{}, err
	}
	solid, err := geom.Tube(s.OuterMM/2, s.InnerMM/2, 0, s.LengthMM)
	if err != nil {
		return Part{}, &Error{s.ID, name, err}
	}
	p := s.bought(k, name, s.Material, solid, [3]float64{s.LengthMM, s.OuterMM, s.OuterMM}, s.MassG)
	p.Make = mk
	return p, nil
}

// bought fills in a part that is bought, with its catalogue mass when known.
func (l Label) bought(k Kind, name string, m Material, s geom.Solid, sizeMM [3]float64, massG float64) Part {
	if l.Name == "" {
		l.Name = name
	}
	p := l.part(k, MakeBuy, m, s, sizeMM)
	if massG > 0 {
		p.MassG = massG
	}
	return p
}

// CellSpec describes a cell's case or one of its terminals. The case stands on
// y = 0, its width along x and centred, its thickness along z from 0.
type CellSpec struct {
	Label
	WidthMM, HeightMM, ThicknessMM float64
	MassG                          float64
	CaseLive                       bool // the case may stand at a cell potential
}

// CellCase builds a cell's case.
func CellCase(s CellSpec) (Part, error) {
	err := s.check(Material{}, positive("width", s.WidthMM), positive("height", s.HeightMM),
		positive("thickness", s.ThicknessMM), size{"mass", s.MassG, 0, inf, ""})
	if err != nil {
		return Part{}, err
	}
	solid, err := geom.Box(geom.Vec3{X: -s.WidthMM / 2}, geom.Vec3{X: s.WidthMM / 2, Y: s.HeightMM, Z: s.ThicknessMM})
	if err != nil {
		return Part{}, &Error{s.ID, "case", err}
	}
	m := Material{Name: "cell", Conducts: s.CaseLive}
	p := s.bought(KindCell, "cell", m, solid, [3]float64{s.WidthMM, s.HeightMM, s.ThicknessMM}, s.MassG)
	p.Make = MakeOwn
	return p, nil
}

// TerminalSpec describes a terminal: a pad and, on it, a stud or none. Its foot
// is on y = 0 with the axis along +y, so that it stands on a case.
type TerminalSpec struct {
	Label
	PadMM, PadHeightMM   float64 // diameter and height
	StudMM, StudHeightMM float64 // zero: a tapped hole, not modelled
}

// Terminal builds the pad and stud of a terminal as separate parts, for each has
// a simple exact shape; the stud's is the second and missing without one.
func Terminal(s TerminalSpec) ([]Part, error) {
	err := s.check(Material{}, positive("pad diameter", s.PadMM), positive("pad height", s.PadHeightMM),
		size{"stud diameter", s.StudMM, 0, s.PadMM, "no more than the pad"}, size{"stud height", s.StudHeightMM, 0, longest, ""})
	if err != nil {
		return nil, err
	}
	var ps []Part
	add := func(id string, d, y0, y1 float64) error {
		solid, err := geom.Cylinder(d/2, y0, y1)
		if err != nil {
			return &Error{id, "terminal", err}
		}
		up := geom.Frame{X: geom.Vec3{X: 1}, Y: geom.Vec3{Z: -1}, Z: geom.Vec3{Y: 1}}
		l := s.Label
		l.ID = id
		p := l.part(KindCell, MakeOwn, Material{Name: "cell", Conducts: true}, solid.Transform(up), [3]float64{d, y1 - y0, d})
		ps = append(ps, p)
		return nil
	}
	if err := add(s.ID, s.PadMM, 0, s.PadHeightMM); err != nil {
		return nil, err
	}
	if s.StudMM > 0 && s.StudHeightMM > 0 {
		if err := add(fmt.Sprint(s.ID, "-stud"), s.StudMM, s.PadHeightMM, s.PadHeightMM+s.StudHeightMM); err != nil {
			return nil, err
		}
	}
	return ps, nil
}
