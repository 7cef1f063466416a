package compare

import (
	"fmt"
	"math"
	"strings"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts/geom"
)

// mm words a length for the new file's user.
func (c *comparer) mm(v float64) string { return lengthWords(c.now.Style, v) }

// lengthWords writes millimetres, or the fraction of an inch with the millimetres
// beside it; a difference too small for the fraction stands in millimetres only.
func lengthWords(s params.Style, v float64) string {
	text := fmt.Sprintf("%.2f mm", v)
	if s.Unit != unit.Inch {
		return text
	}
	l := unit.Length(v)
	if math.Abs(v) > rounding && l.Fraction(s.Denominator) == "0" {
		return text
	}
	return fmt.Sprintf("%s in (%s)", l.Fraction(s.Denominator), text)
}

// pairWords words two lengths to be set side by side: where they would read as the
// same fraction though they differ, with decimals of an inch.
func pairWords(s params.Style, a, b float64) (string, string) {
	p, q := unit.Length(a), unit.Length(b)
	if s.Unit != unit.Inch || math.Abs(a-b) <= offCut || p.Fraction(s.Denominator) != q.Fraction(s.Denominator) {
		return lengthWords(s, a), lengthWords(s, b)
	}
	return fmt.Sprintf("%.3f in (%.2f mm)", p.Inches(), a), fmt.Sprintf("%.3f in (%.2f mm)", q.Inches(), b)
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
