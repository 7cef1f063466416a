package drawing

import (
	"fmt"
	"math"

	"clampwright/parts"
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
func Slots(f *parts.Flat) []Slot {
	var out []Slot
	for i, path := range f.Profile.Slots {
		var ends []Arc
		for _, e := range (Chain{Path: path, Closed: true}).Edges() {
			if a, ok := e.(Arc); ok && math.Abs(math.Abs(a.Sweep)-math.Pi) < 1e-3 {
				ends = append(ends, a)
			}
		}
		if len(ends) == 2 && math.Abs(ends[0].R-ends[1].R) < 1e-3 {
			s := Slot{slotID(i), [2]geom.Vec2{ends[0].C, ends[1].C}, 2 * ends[0].R}
			if s.Ends[0].X > s.Ends[1].X {
				s.Ends[0], s.Ends[1] = s.Ends[1], s.Ends[0]
			}
			out = append(out, s)
		}
	}
	return out
}

// slotID names the opening of a flat with the given index; parts of their own, as
// separators are, have marks that begin with S.
func slotID(i int) string { return fmt.Sprintf("SL%d", i+1) }

// middle is the slot's middle.
func (s Slot) middle() geom.Vec2 { return s.Ends[0].Add(s.Ends[1]).Mul(0.5) }

// long is the slot's overall length.
func (s Slot) long() float64 {
	d := s.Ends[1].Sub(s.Ends[0])
	return math.Hypot(d.X, d.Y) + s.DiaMM
}

// apart says whether both ends can be drilled: a drill put down within its own
// width of a hole runs into that hole (common practice, no source).
func (s Slot) apart() bool { return s.long()-s.DiaMM > 1.1*s.DiaMM }

// HowToDrill says in words how slots are opened; empty without any.
func HowToDrill(slots []Slot) string {
	near, far := false, false
	for _, s := range slots {
		near, far = near || !s.apart(), far || s.apart()
	}
	switch {
	case near && far:
		return "Long slots: drill both ends, then saw or file the web out. Short slots: drill one end, then file to the other."
	case near:
		return "Slots: drill one end, then file to the other."
	case far:
		return "Slots: drill both ends, then saw or file the web out."
	}
	return ""
}

// asHoles are the slot's two ends as holes to be drilled.
func (s Slot) asHoles() []parts.Hole {
	return []parts.Hole{{ID: s.ID, C: s.Ends[0], DiaMM: s.DiaMM}, {ID: s.ID, C: s.Ends[1], DiaMM: s.DiaMM}}
}
