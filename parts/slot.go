package parts

import (
	"fmt"
	"math"

	"clampwright/parts/geom"
)

// Slot is an opening with two round ends: a hole drawn out between them.
type Slot struct {
	ID    string
	Ends  [2]geom.Vec2 // middles of the round ends, the left one first
	DiaMM float64
}

// Slots are the openings of a flat that have two equal round ends, named in the
// order of the flat.
func Slots(f *Flat) []Slot {
	var out []Slot
	for i, path := range f.Profile.Slots {
		var ends []geom.Edge
		for _, e := range path.Edges() {
			if e.Arc && math.Abs(math.Abs(e.Sweep)-math.Pi) < 1e-3 {
				ends = append(ends, e)
			}
		}
		if len(ends) == 2 && math.Abs(ends[0].R-ends[1].R) < 1e-3 {
			s := Slot{SlotID(i), [2]geom.Vec2{ends[0].C, ends[1].C}, 2 * ends[0].R}
			if s.Ends[0].X > s.Ends[1].X {
				s.Ends[0], s.Ends[1] = s.Ends[1], s.Ends[0]
			}
			out = append(out, s)
		}
	}
	return out
}

// SlotID names the opening of a flat with the given index; parts of their own, as
// separators are, have marks that begin with S.
func SlotID(i int) string { return fmt.Sprintf("SL%d", i+1) }

// LongMM is the slot's overall length, mm.
func (s Slot) LongMM() float64 { return s.Ends[0].Dist(s.Ends[1]) + s.DiaMM }

// Apart says whether both ends can be drilled: a drill put down within its own
// width of a hole runs into that hole (common practice, no source).
func (s Slot) Apart() bool { return s.LongMM()-s.DiaMM > 1.1*s.DiaMM }

// AsHoles are the slot's two ends as holes to be drilled.
func (s Slot) AsHoles() []Hole {
	return []Hole{{ID: s.ID, C: s.Ends[0], DiaMM: s.DiaMM}, {ID: s.ID, C: s.Ends[1], DiaMM: s.DiaMM}}
}
