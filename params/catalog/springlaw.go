package catalog

import (
	"math"

	"clampwright/params/unit"
)

// steelE and steelNu are the modulus (MPa) and Poisson's ratio that the disc
// spring tables are made with (EN 16984).
const steelE, steelNu = 206000, 0.3

// AlmenLaszlo is the force (N) and the rate (N/mm) of one conical disc spring
// without contact flats at deflection s, as in EN 16984 (formerly DIN 2092):
//
//	F = 4E/(1-ν²) · t⁴/(K1·De²) · (s/t) · [(h0/t - s/t)(h0/t - s/2t) + 1]
//	K1 = (1/π) · ((δ-1)/δ)² / ((δ+1)/(δ-1) - 2/ln δ),  δ = De/Di
//
// Lengths (outer De, inner Di, thickness t, cone height h0, deflection s) are mm,
// the modulus MPa. Valid for δ 1.75 to 2.5, h0/t 0.4 to 1.3 and De/t 16 to 40;
// friction is left out.
func AlmenLaszlo(outer, inner, thickness, cone, modulus, poisson, s float64) (force, rate float64) {
	t := thickness
	c := 4 * modulus / (1 - poisson*poisson) * math.Pow(t, 4) / (DiscK1(outer/inner) * outer * outer)
	a, x := cone/t, s/t
	return c * x * ((a-x)*(a-x/2) + 1), c / t * (a*a + 1 - 3*a*x + 1.5*x*x)
}

// DiscK1 is the factor K1 of EN 16984 for a ratio of diameters De/Di.
func DiscK1(ratio float64) float64 {
	q := (ratio - 1) / ratio
	return q * q / math.Pi / ((ratio+1)/(ratio-1) - 2/math.Log(ratio))
}

// ForceAt is the force of one disc spring at deflection s (AlmenLaszlo).
func (d DiscSpring) ForceAt(s unit.Length) unit.Force {
	f, _ := AlmenLaszlo(float64(d.Outer), float64(d.Inner), float64(d.T), float64(d.H0), steelE, steelNu, float64(s))
	return unit.Force(f)
}

// forceOver is by how much the middle of what a disc spring may carry lies over its
// listed force, and half the width of that band, by thickness, mm: +25 and -7.5 % below
// 1.25 mm, +15 and -7.5 % to 3 mm, +10 and -5 % above (EN 16983).
func (d DiscSpring) forceOver() (middle, half float64) {
	switch {
	case d.T < 1.25:
		return 0.0875, 0.1625
	case d.T <= 3:
		return 0.0375, 0.1125
	}
	return 0.025, 0.075
}

// Modulus is that with which the formula gives the middle of what the disc may carry,
// MPa: what heights are aimed with.
func (d DiscSpring) Modulus() float64 {
	over, _ := d.forceOver()
	return steelE * (1 + over)
}

// ForceSpread is half the width of the band of its force about that middle, as a part.
func (d DiscSpring) ForceSpread() float64 {
	over, half := d.forceOver()
	return half / (1 + over)
}

// DeflectionAt is the deflection of one disc spring in the middle of its tolerance under
// force, found by halving between 0 and h0; h0 (flat) when the force is more than that.
func (d DiscSpring) DeflectionAt(force unit.Force) unit.Length {
	lo, hi := unit.Length(0), d.H0
	for range 60 {
		mid := (lo + hi) / 2
		if d.ForceAt(mid)*unit.Force(d.Modulus()/steelE) < force {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// Rate is the stiffness of a helical compression spring, N/mm: G·d⁴/(8·n·D³)
// (EN 13906-1), or as given; 0 when neither is known.
func (c CoilSpring) Rate() unit.Stiffness {
	switch {
	case c.Given > 0:
		return unit.Stiffness(c.Given)
	case !(c.Active > 0) || !(c.Mean > 0):
		return 0
	}
	return unit.Stiffness(float64(c.Shear) * math.Pow(float64(c.Wire), 4) / (8 * c.Active * math.Pow(float64(c.Mean), 3)))
}
