package compare

import (
	"fmt"
	"math"

	"clampwright/assembly/nest"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// leftOver judges the holes of the old part that the new one does not use, and
// drops those that go with the offcut. wanted is the new part at its place on the
// old one.
func (c *comparer) leftOver(was, wanted geom.Profile, unused []int, is *parts.Part) (left []geom.Circle, problem string) {
	var of []int
	for _, k := range unused {
		if o := was.Circles[k]; wanted.Outer.DistTo(o.C) > -o.R-rounding {
			left, of = append(left, o), append(of, k)
		}
	}
	at := wanted.Bounds().Min.Sub(is.Flat.Profile.Bounds().Min)
	room := nest.RoomOf(c.now, is).Moved(func(p geom.Profile) geom.Profile { return p.Moved(at) })
	if k, s := room.Spoilt(left, was.Outer.DistTo); k >= 0 {
		problem = c.disturbs(fmt.Sprintf("old hole %d of %s", of[k]+1, c.mm(2*left[k].R)), s, is.Kind)
	}
	return left, problem
}

// disturbs says how a left-over hole spoils the new part.
func (c *comparer) disturbs(name string, s nest.Spoilt, kind parts.Kind) string {
	have, need := c.mm(math.Max(s.HaveMM, 0)), c.mm(s.NeedMM)
	switch s.Harm {
	case nest.CutThrough:
		return "the new edge would cut through " + name
	case nest.NearEdge:
		return fmt.Sprintf("%s would lie %s from the new edge; %s are needed", name, have, need)
	case nest.NearHole:
		if s.HaveMM < offCut {
			return fmt.Sprintf("%s would run into hole %d", name, s.At+1)
		}
		return fmt.Sprintf("%s would be left over %s from hole %d; %s are needed", name, have, s.At+1, need)
	case nest.UnderWasher:
		return fmt.Sprintf("%s would lie under or beside the washer of hole %d", name, s.At+1)
	case nest.NearSlot:
		return fmt.Sprintf("%s would be left over %s from slot %d; %s are needed", name, have, s.At+1, need)
	}
	switch kind {
	case parts.KindPlate:
		return name + " would be left over where the plate presses or bends, and weaken it"
	case parts.KindStiffener:
		return name + " would be left over between the rods, where the angle bends, and weaken it"
	case parts.KindLink:
		return name + " would be left over and narrow the bar for the current"
	}
	return name + " would be left over in it"
}

// leftWords counts left-over holes: "2 holes of 9.00 mm are left over".
func (c *comparer) leftWords(left []geom.Circle) string {
	if len(left) == 0 {
		return ""
	}
	same := true
	for _, o := range left {
		same = same && math.Abs(o.R-left[0].R) <= rounding
	}
	switch {
	case len(left) == 1:
		return fmt.Sprintf("; 1 hole of %s is left over, clear of all that is new", c.mm(2*left[0].R))
	case same:
		return fmt.Sprintf("; %d holes of %s are left over, clear of all that is new", len(left), c.mm(2*left[0].R))
	}
	return fmt.Sprintf("; %d holes of several sizes are left over, clear of all that is new", len(left))
}
