package parts

import (
	"clampwright/parts/geom"
)

// PlateSpec describes an end plate. Coordinates are those of the flat: seen
// from outside the fixture, x right, y up, origin at the plate's middle. The
// solid has its inner face, against the cells, on z = 0 and its outer face on
// z = ThicknessMM, so z points outward.
type PlateSpec struct {
	Label
	Material       Material
	WidthMM        float64
	HeightMM       float64
	ThicknessMM    float64
	CornerRadiusMM float64

	RodHoles   []Hole
	Lightening []Hole
	FootHoles  []Hole
	Slots      []SlotSpec

	// EngraveMark puts the part mark and an UP arrow on the flat, where there is
	// room clear of holes; MarkHeightMM is the letter height, zero for a tenth of
	// the shorter side within 4 to 12 mm.
	EngraveMark  bool
	Joined       bool
	MarkHeightMM float64
	// Grain and GrainAlongX are as in Flat.
	Grain, GrainAlongX bool
}

// SlotSpec is a slot with round ends, for cable ties or lifting: A and B are
// its end centres.
type SlotSpec struct {
	ID      string
	A, B    geom.Vec2
	WidthMM float64
}

// EndPlate builds an end plate.
func EndPlate(s PlateSpec) (Part, error) {
	if s.Name == "" {
		s.Name = "end plate"
	}
	err := s.check(s.Material, positive("width", s.WidthMM), positive("height", s.HeightMM),
		positive("thickness", s.ThicknessMM),
		size{"corner radius", s.CornerRadiusMM, 0, min(s.WidthMM, s.HeightMM) / 2, "no more than half the shorter side"},
		size{"mark height", s.MarkHeightMM, 0, 100, ""})
	if err != nil {
		return Part{}, err
	}
	outer, err := geom.RoundedRect(geom.Vec2{}, s.WidthMM, s.HeightMM, s.CornerRadiusMM)
	if err != nil {
		return Part{}, &Error{s.ID, "outline", err}
	}
	holes := numbered(s.RodHoles, s.Lightening, s.FootHoles)
	if err := s.checkHoles(outer, holes); err != nil {
		return Part{}, err
	}
	slots, err := s.slots(outer, holes)
	if err != nil {
		return Part{}, err
	}
	prof := geom.Profile{Outer: outer, Slots: slots, Circles: circles(holes)}
	p, err := s.flatPart(KindPlate, s.Material, prof, s.ThicknessMM, holes)
	if err != nil {
		return Part{}, err
	}
	p.Flat.Grain, p.Flat.GrainAlongX, p.Joined = s.Grain, s.GrainAlongX, s.Joined
	if s.EngraveMark {
		p.Flat.Marks = plateMarks(p.Flat.Profile, s.Mark, s.markHeight())
	}
	return p, nil
}

// slots are the slots' paths; one that breaks out of the outline or into a hole is a
// geom.HoleError.
func (s PlateSpec) slots(outer geom.Path, holes []Hole) (out []geom.Path, err error) {
	for i, sl := range s.Slots {
		id := sl.ID
		if id == "" {
			id = SlotID(i)
		}
		p, err := geom.Obround(sl.A, sl.B, sl.WidthMM)
		if err != nil {
			return nil, &Error{s.ID, "slot " + id, err}
		}
		clear := func(have, other float64, where, from string) {
			if need := sl.WidthMM/2 + other + geom.MinLigament; err == nil && !(have >= need) {
				err = &Error{s.ID, "slot " + id, &geom.HoleError{Hole: id, Where: where, NeedMM: need, HaveMM: have, MeasuredFrom: from}}
			}
		}
		clear(min(outer.DistTo(sl.A), outer.DistTo(sl.B)), 0, "edge", "edge")
		for _, h := range holes {
			clear(geom.Edge{A: sl.A, B: sl.B}.Dist(h.C), h.DiaMM/2, "hole "+h.ID, "hole's centre")
		}
		if err != nil {
			return nil, err
		}
		out = append(out, p.Reversed())
	}
	return out, nil
}

func (s PlateSpec) markHeight() float64 {
	if s.MarkHeightMM > 0 {
		return s.MarkHeightMM
	}
	return max(4, min(12, min(s.WidthMM, s.HeightMM)/10))
}
