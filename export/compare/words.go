package compare

import (
	"math"
	"strings"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts/geom"
)

// mm words a length for the new file's user.
func (c *comparer) mm(v float64) string { return exact(c.now.Style, v) }

// exact writes a length as a rule has it, or where no fraction holds it as a calliper reads:
// a thousandth of an inch, a hundredth of a millimetre.
func exact(s params.Style, mm float64) string {
	if s.Unit == unit.Inch && unit.Length(mm).FractionHolds(s.Denominator) {
		return s.Length(mm)
	}
	return s.Spring(mm)
}

// takeOff words what is cut off an old outline, edge by edge as seen from outside.
func (c *comparer) takeOff(was, wanted geom.Box2) string {
	var words []string
	for _, e := range []struct {
		mm   float64
		edge string
	}{
		{wanted.Min.X - was.Min.X, "left edge"}, {was.Max.X - wanted.Max.X, "right edge"},
		{was.Max.Y - wanted.Max.Y, "upper edge"}, {wanted.Min.Y - was.Min.Y, "lower edge"},
	} {
		if e.mm > offCut {
			words = append(words, c.mm(e.mm)+" off the "+e.edge)
		}
	}
	return strings.Join(words, ", ")
}

// offCut is the least that is worth telling to cut off, mm: what is written as
// 0.00 is no cut.
const offCut = 0.005

// corners words an outline that differs only within the same size.
func (c *comparer) corners(wanted geom.Path) string {
	r, same := 0.0, true
	for _, e := range wanted.Edges() {
		if e.Arc {
			same = same && (r == 0 || math.Abs(e.R-r) <= rounding)
			r = e.R
		}
	}
	if r > 0 && same {
		return "round the corners to a radius of " + c.mm(r)
	}
	return "cut the corners to the new outline; the size stays"
}

// sawOff words what is sawn off the ends of a bar that lies as seen from outside.
func (c *comparer) sawOff(left, right float64) string {
	var words []string
	if left > offCut {
		words = append(words, c.mm(left)+" off the left end")
	}
	if right > offCut {
		words = append(words, c.mm(right)+" off the right end")
	}
	return "saw " + strings.Join(words, " and ") + ", seen from outside with the standing leg up"
}

// fromMiddle words a place on a part, seen from outside.
func (c *comparer) fromMiddle(p geom.Vec2) string {
	var words []string
	for _, d := range []struct {
		mm          float64
		minus, plus string
	}{{p.X, "left of", "right of"}, {p.Y, "below", "above"}} {
		switch {
		case d.mm > offCut:
			words = append(words, c.mm(d.mm)+" "+d.plus)
		case d.mm < -offCut:
			words = append(words, c.mm(-d.mm)+" "+d.minus)
		}
	}
	if len(words) == 0 {
		return "in the middle"
	}
	return strings.Join(words, " and ") + " the middle, seen from outside"
}
