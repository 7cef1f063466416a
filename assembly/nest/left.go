package nest

import (
	"math"
	"slices"

	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// SeatRim is what a washer's seat needs round it to a hole, mm: as far as a washer must
// lie inside an edge in plastic and wood. Common practice, no source.
const SeatRim = 2

// What the mechanics leave out in the firm area of a plate: a hole of slightMM, as screws
// of up to 6 mm are left out of a section of wood (EN 1995-1-1, 5.2, from memory), and
// such holes together by firmShare of the area's shorter side, a judgement: so much the
// stiffness falls at most.
const (
	slightMM  = 5.0
	firmShare = 0.05
)

// Room is where old holes may stay in a new part.
type Room struct {
	profile geom.Profile
	seatMM  []float64   // round each of its holes: the washer's radius and rim; 0 for none
	firm    []geom.Path // where it presses, bends, insulates or leads current
	slight  float64     // diameter of a hole that counts for nothing there, mm
	most    float64     // radius of an old hole elsewhere, mm
}

// Harm is how an old hole that stays spoils a part.
type Harm int

// The harms; those with a measure say what is left and what is needed.
const (
	Harmless    Harm = iota
	CutThrough       // by the new edge
	NearEdge         // the new one
	Weakens          // it lies where the part must be whole
	NearHole         // a new one
	UnderWasher      // of a new hole
	NearSlot         // a new one
)

// Spoilt is the harm of an old hole: by which of the new holes or slots, and measures, mm.
type Spoilt struct {
	Harm           Harm
	At             int
	HaveMM, NeedMM float64
}

// RoomOf is where old holes may stay in a flat part, or one drilled in a leg. Of a plate,
// the cells' faces and the seats of its angles are firm, without angles all between its
// outer rods; of an angle what lies between these; of all else the whole.
func RoomOf(f *params.Fixture, p *parts.Part) Room {
	r := Room{profile: p.Flat.Profile, most: math.Inf(1)}
	box, lo, hi := r.profile.Bounds(), math.Inf(1), math.Inf(-1)
	for k, n := range r.profile.Circles {
		seat := 0.0
		if (p.Kind == parts.KindStiffener || f.Stiffener == nil && p.Kind == parts.KindPlate) && (k >= len(p.Holes) || p.Holes[k].For != parts.ForMounting) {
			seat = f.Washer.Outer.MM()/2 + SeatRim
		}
		r.seatMM, lo, hi = append(r.seatMM, seat), min(lo, n.C.X), max(hi, n.C.X)
	}
	bends := []geom.Path{geom.Rect(geom.Vec2{X: lo, Y: box.Min.Y}, geom.Vec2{X: hi, Y: box.Max.Y})}
	switch {
	case p.Kind == parts.KindPlate && f.Stiffener != nil:
		r.slight, r.most, r.firm = slightMM, f.Rods.Hole.MM()/2, firmPlate(f, box.Min)
	case p.Kind != parts.KindPlate && p.Kind != parts.KindStiffener:
		r.firm = []geom.Path{r.profile.Outer}
	case lo < hi:
		r.firm = bends
		if p.Kind == parts.KindPlate {
			r.slight = slightMM
		}
	}
	return r
}

// firmPlate is the faces that press on a plate and the seats of its angles, on a profile
// whose lower left corner is given.
func firmPlate(f *params.Fixture, corner geom.Vec2) (out []geom.Path) {
	on := func(x0, y0, x1, y1 float64) {
		move := geom.Vec2{X: corner.X + f.Plate.Width.MM()/2, Y: corner.Y - f.Plate.Bottom.MM()}
		out = append(out, geom.Rect(geom.Vec2{X: x0, Y: y0}.Add(move), geom.Vec2{X: x1, Y: y1}.Add(move)))
	}
	for _, x := range f.Pack.RowX {
		on(x.MM()-f.Cell.Width.MM()/2, 0, x.MM()+f.Cell.Width.MM()/2, f.Cell.Height.MM())
	}
	s := f.Stiffener
	for i, y := range f.Rods.Levels {
		heel, toe := s.Gauge, s.Gauge-s.DrilledLeg
		if !s.StandingUp[i] {
			heel, toe = -heel, -toe
		}
		on(-s.Length.MM()/2, (y + min(heel, toe)).MM(), s.Length.MM()/2, (y + max(heel, toe)).MM())
	}
	return out
}

// Moved is the room of the part at another place.
func (r Room) Moved(by func(geom.Profile) geom.Profile) Room {
	r.firm = by(geom.Profile{Outer: r.profile.Outer, Slots: r.firm}).Slots
	r.profile = by(r.profile)
	return r
}

// Spoilt is the first of the old holes that may not stay; -1 for none. Holes that lie
// wholly beyond the edge go with the offcut. Near an edge that was there already a hole
// may stay: inOld says how far inside the old one it lies.
func (r Room) Spoilt(old []geom.Circle, inOld func(geom.Vec2) float64) (k int, s Spoilt) {
	slight := 0.0
	for k, o := range old {
		in := r.profile.Outer.DistTo(o.C)
		if in <= -o.R-roundMM {
			continue
		}
		if s := r.spoilt(o, in, inOld(o.C)); s.Harm != Harmless {
			return k, s
		}
		for _, z := range r.firm {
			if size := z.Bounds().Size(); z.DistTo(o.C) > -o.R {
				if slight += 2 * o.R; slight > firmShare*min(size.X, size.Y) {
					return k, Spoilt{Harm: Weakens}
				}
			}
		}
	}
	return -1, Spoilt{}
}

func (r Room) spoilt(o geom.Circle, in, was float64) Spoilt {
	need := parts.EdgeLeast * 2 * o.R
	firm := slices.ContainsFunc(r.firm, func(z geom.Path) bool { return z.DistTo(o.C) > -o.R })
	switch {
	case in < o.R-roundMM:
		return Spoilt{Harm: CutThrough}
	case in < min(need, was)-roundMM:
		return Spoilt{NearEdge, 0, in, need}
	case firm && 2*o.R > r.slight+roundMM || o.R > r.most+roundMM:
		return Spoilt{Harm: Weakens}
	}
	for k, n := range r.profile.Circles {
		d := o.C.Dist(n.C)
		if left, need := d-o.R-n.R, (parts.PitchLeast-1)*2*max(o.R, n.R); left < need-roundMM {
			return Spoilt{NearHole, k, left, need}
		}
		if d-o.R < r.seatMM[k]-roundMM && r.seatMM[k] > 0 {
			return Spoilt{Harm: UnderWasher, At: k}
		}
	}
	for k, s := range r.profile.Slots { // outside the slot: negative
		if left, need := -s.DistTo(o.C)-o.R, (parts.PitchLeast-1)*2*o.R; left < need-roundMM {
			return Spoilt{NearSlot, k, left, need}
		}
	}
	return Spoilt{}
}
