package compare

import (
	"fmt"
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// seatRim is what a washer's seat needs round it to a hole, mm: as far as a
// washer must lie inside an edge in plastic and wood.
const seatRim = 2

// leftOver judges the holes of the old part that the new one does not use, and
// drops those that go with the offcut. wanted is the new part at its place on the
// old one.
func (c *comparer) leftOver(was, wanted geom.Profile, unused []int, is *parts.Part) (left []geom.Circle, problem string) {
	for _, k := range unused {
		o := was.Circles[k]
		in := wanted.Outer.DistTo(o.C)
		if in <= -o.R-rounding {
			continue
		}
		left = append(left, o)
		if problem == "" {
			problem = c.disturbs(k, o, was, wanted, is)
		}
	}
	return left, problem
}

// disturbs says why a left-over hole spoils the new part; empty when it does not.
func (c *comparer) disturbs(k int, o geom.Circle, was, wanted geom.Profile, is *parts.Part) string {
	name := fmt.Sprintf("old hole %d of %s", k+1, c.mm(2*o.R))
	in, need := wanted.Outer.DistTo(o.C), edgeLeast*2*o.R
	switch {
	case in < o.R-rounding:
		return "the new edge would cut through " + name
	case in < need-rounding && in < was.Outer.DistTo(o.C)-rounding:
		return fmt.Sprintf("%s would lie %s from the new edge; %s are needed", name, c.mm(in), c.mm(need))
	case is.Kind == parts.KindStiffener && betweenColumns(o, wanted):
		return name + " would be left over between the rods, where the angle bends, and weaken it"
	case is.Kind == parts.KindLink:
		return name + " would be left over and narrow the bar for the current"
	}
	return c.crowds(name, o, wanted, is)
}

// betweenColumns says whether a hole reaches into the span between the outer rods.
func betweenColumns(o geom.Circle, wanted geom.Profile) bool {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, n := range wanted.Circles {
		lo, hi = math.Min(lo, n.C.X), math.Max(hi, n.C.X)
	}
	return o.C.X+o.R > lo && o.C.X-o.R < hi
}

// crowds says whether a left-over hole lies too near to a new hole, its washer or
// a new slot.
func (c *comparer) crowds(name string, o geom.Circle, wanted geom.Profile, is *parts.Part) string {
	for k, n := range wanted.Circles {
		d := o.C.Dist(n.C)
		if left, need := d-o.R-n.R, (pitchLeast-1)*2*math.Max(o.R, n.R); left < need-rounding {
			return fmt.Sprintf("%s would be left over %s from hole %d; %s are needed", name, c.mm(math.Max(left, 0)), k+1, c.mm(need))
		}
		if seat := c.seat(is, k); seat > 0 && d-o.R < seat+seatRim-rounding {
			return fmt.Sprintf("%s would lie under or beside the washer of hole %d", name, k+1)
		}
	}
	for k, s := range wanted.Slots {
		if left, need := -s.DistTo(o.C)-o.R, (pitchLeast-1)*2*o.R; left < need-rounding {
			return fmt.Sprintf("%s would be left over %s from slot %d; %s are needed", name, c.mm(math.Max(left, 0)), k+1, c.mm(need))
		}
	}
	return ""
}

// seat is the radius of the washer on hole k of a part, 0 where none sits: plates
// with angles carry their washers on the angles.
func (c *comparer) seat(is *parts.Part, k int) float64 {
	onPlate := is.Kind == parts.KindPlate && c.now.Stiffener == nil
	if !onPlate && is.Kind != parts.KindStiffener || k >= len(is.Holes) || is.Holes[k].For == parts.ForMounting {
		return 0
	}
	return c.now.Washer.Outer.MM() / 2
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
