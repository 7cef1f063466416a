package inputs

import (
	"math"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/params"
)

// Handbook beams of unit width: sheets loose on each other bend as n of h, E n h^3/12, and
// bear n h^2/6; one piece E (n h)^3/12 and (n h)^2/6; any part of the shear lies between.
// The modulus and strength told are of a plate as thick, whose stiffness is E t^3/12 and
// whose section modulus t^2/6.
func TestLaminatedBetweenItsBounds(t *testing.T) {
	const e, s, h = 9000.0, 40.0, 6.0
	for _, n := range []int{2, 3, 5} {
		thick := float64(n) * h
		at := func(g float64) clamp.Plate {
			p := clamp.Plate{ThicknessMM: thick, ExMPa: e, Nu: 0.2, StrengthXMPa: s}
			laminated(&p, &params.Laminate{Sheets: n, Sheet: h, Efficiency: g})
			return p
		}
		near := func(what string, got, want float64) {
			t.Helper()
			if math.Abs(got/want-1) > 1e-12 {
				t.Errorf("%d sheets, %s: %g, want %g", n, what, got, want)
			}
		}
		loose, whole := at(0), at(1)
		near("loose, stiffness", loose.ExMPa*thick*thick*thick/12, e*float64(n)*h*h*h/12)
		near("loose, moment", loose.StrengthXMPa*thick*thick/6, s*float64(n)*h*h/6)
		near("loose, twist", loose.GxyMPa, e/2.4/float64(n*n))
		near("one piece, modulus", whole.ExMPa, e)
		near("one piece, strength", whole.StrengthXMPa, s)
		near("one piece, twist", whole.GxyMPa, e/2.4)
		for g := 0.1; g < 1; g += 0.1 {
			p := at(g)
			if !(p.ExMPa > loose.ExMPa && p.ExMPa < whole.ExMPa && p.StrengthXMPa > loose.StrengthXMPa && p.StrengthXMPa < whole.StrengthXMPa) {
				t.Errorf("%d sheets, %g of the shear: %g and %g MPa are not between the bounds", n, g, p.ExMPa, p.StrengthXMPa)
			}
		}
	}
}

// Three crossed sheets as one piece: the outer two bear (1 - 1/27) of the stiffness along
// their grain and the middle one 1/27, by parallel axes; the sheet that first reaches its
// strength at the common curvature decides.
func TestLaminatedCrossed(t *testing.T) {
	const along, across, strong, weak = 12000.0, 4000.0, 48.0, 30.0
	p := clamp.Plate{ThicknessMM: 18, ExMPa: along, EyMPa: across, GxyMPa: 600, Nu: 0.1, StrengthXMPa: strong, StrengthYMPa: weak}
	laminated(&p, &params.Laminate{Sheets: 3, Sheet: 6, Crossed: true, Efficiency: 1})
	ex, ey := along*26/27+across/27, across*26/27+along/27
	for _, c := range []struct{ got, want float64 }{
		{p.ExMPa, ex}, {p.EyMPa, ey}, {p.GxyMPa, 600},
		{p.StrengthXMPa, ex * math.Min(strong/(along*9), weak/(across*3)) * 9},
		{p.StrengthYMPa, ey * math.Min(weak/(across*9), strong/(along*3)) * 9},
	} {
		if math.Abs(c.got/c.want-1) > 1e-12 {
			t.Errorf("%g, want %g", c.got, c.want)
		}
	}
}
