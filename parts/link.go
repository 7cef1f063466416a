package parts

import (
	"math"

	"clampwright/parts/geom"
)

// LinkSpec describes a link bar between two terminals: a round hole at the
// origin and a slot whose middle lies at (HolesMM, OffsetMM), seen from above,
// z from 0 to ThicknessMM. With OffsetMM the bar jogs sideways by it at 45°
// half way along.
type LinkSpec struct {
	Label
	Material    Material
	HolesMM     float64 // along x, hole centre to slot middle
	OffsetMM    float64 // along y; zero for a straight bar
	WidthMM     float64
	ThicknessMM float64
	HoleMM      float64 // diameter of the hole, width of the slot
	TravelMM    float64 // distance of the slot's end centres; zero: a second round hole
	EndMM       float64 // hole centre, or slot's outer end centre, to the bar's end
	// Screws are the holes at either end, in line about its middle; 0 is one. ScrewStep goes
	// from one to the next.
	Screws         int
	ScrewStep      geom.Vec2
	CornerRadiusMM float64
}

// LinkBar builds a link bar.
func LinkBar(s LinkSpec) (Part, error) {
	if s.Name == "" {
		s.Name = "link bar"
	}
	err := s.check(s.Material, positive("hole distance", s.HolesMM), positive("width", s.WidthMM), positive("thickness", s.ThicknessMM),
		size{"hole", s.HoleMM, 0.01, s.WidthMM - 0.01, "less than the bar's width"},
		size{"slot travel", s.TravelMM, 0, 2 * s.HolesMM, "the slot must stay clear of the hole"},
		size{"end distance", s.EndMM, s.HoleMM/2 + 0.01, longest, "more than half the hole"},
		size{"corner radius", s.CornerRadiusMM, 0, s.WidthMM / 2, "no more than half the width"},
		size{"offset", math.Abs(s.OffsetMM), 0, s.HolesMM, "a jog at 45° must fit between the holes"})
	if err != nil {
		return Part{}, err
	}
	outer, err := s.Outline()
	if err != nil {
		return Part{}, &Error{s.ID, "outline", err}
	}
	p := geom.Profile{Outer: outer}
	var near, far []Hole
	for i := range max(1, s.Screws) {
		at := s.ScrewStep.Mul(float64(i) - float64(max(1, s.Screws)-1)/2)
		mid := at.Add(geom.Vec2{X: s.HolesMM, Y: s.OffsetMM})
		near = append(near, Hole{C: at, DiaMM: s.HoleMM, For: "terminal"})
		if s.TravelMM < geom.MinSize {
			far = append(far, Hole{C: mid, DiaMM: s.HoleMM, For: "terminal"})
			continue
		}
		half := geom.Vec2{X: s.TravelMM / 2}
		slot, err := geom.Obround(mid.Sub(half), mid.Add(half), s.HoleMM)
		if err != nil {
			return Part{}, &Error{s.ID, "slot", err}
		}
		p.Slots = append(p.Slots, slot.Reversed())
	}
	holes := numbered(near, far)
	p.Circles = circles(holes)
	if err := s.checkHoles(outer, holes); err != nil {
		return Part{}, err
	}
	out, err := s.flatPart(KindLink, s.Material, p, s.ThicknessMM, holes)
	return out, err
}

// Strip builds a strip of a bar's outline, without holes, that is welded on elsewhere.
func Strip(s LinkSpec) (Part, error) {
	outer, err := s.Outline()
	if err != nil {
		return Part{}, &Error{s.ID, "outline", err}
	}
	p, err := s.flatPart(KindStrip, s.Material, geom.Profile{Outer: outer}, s.ThicknessMM, nil)
	p.Make, p.Flat = MakeOwn, nil
	return p, err
}

// Outline is the bar: its centre line runs along x, jogs at 45° round the
// middle of the hole distance, and runs on along x.
func (s LinkSpec) Outline() (geom.Path, error) {
	x0, x1 := -s.EndMM, s.HolesMM+s.TravelMM/2+s.EndMM
	if s.OffsetMM == 0 {
		return geom.RoundedRect(geom.Vec2{X: (x0 + x1) / 2}, x1-x0, s.WidthMM, s.CornerRadiusMM)
	}
	o, h := math.Abs(s.OffsetMM), s.WidthMM/2
	m := h * math.Tan(math.Pi/8) // mitre of the jog's corners along x
	a, b := s.HolesMM/2-o/2, s.HolesMM/2+o/2
	p := s.rounded(geom.Path{
		at(x0, -h), at(a+m, -h), at(b+m, o-h), at(x1, o-h), at(x1, o+h), at(b-m, o+h), at(a-m, h), at(x0, h),
	})
	if s.OffsetMM < 0 {
		p = p.MirroredY()
	}
	return p, nil
}

func at(x, y float64) geom.Vertex { return geom.Vertex{P: geom.Vec2{X: x, Y: y}} }

// rounded replaces the four square corners of the jogged bar, its vertices 0, 3,
// 4 and 7, by arcs.
func (s LinkSpec) rounded(p geom.Path) geom.Path {
	if s.CornerRadiusMM < geom.MinSize {
		return p
	}
	var q geom.Path
	n := len(p)
	for i, v := range p {
		if i != 0 && i != 3 && i != 4 && i != 7 {
			q = append(q, v)
			continue
		}
		in := p[(i+n-1)%n].P.Sub(v.P).Unit().Mul(s.CornerRadiusMM)
		out := p[(i+1)%n].P.Sub(v.P).Unit().Mul(s.CornerRadiusMM)
		q = append(q, geom.Vertex{P: v.P.Add(in), Bulge: math.Sqrt2 - 1})
		q = append(q, geom.Vertex{P: v.P.Add(out)})
	}
	return q.WithoutShort()
}
