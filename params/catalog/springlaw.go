package catalog

import (
	"math"

	"clampwright/params/unit"
)

// steelE and steelNu are the modulus (MPa) and Poisson's ratio that the disc
// spring tables are made with (EN 16984).
const steelE, steelNu = 206000, 0.3

// ForceAt is the force of one disc spring, N, at deflection s after Almen and
// László, as in EN 16984 (formerly DIN 2092):
//
//	F = 4E/(1-ν²) · t⁴/(K1·De²) · (s/t) · [(h0/t - s/t)(h0/t - s/2t) + 1]
//	K1 = (1/π) · ((δ-1)/δ)² / ((δ+1)/(δ-1) - 2/ln δ),  δ = De/Di
//
// Valid for δ 1.75 to 2.5, h0/t 0.4 to 1.3 and De/t 16 to 40.
func (d DiscSpring) ForceAt(s unit.Length) unit.Force {
	t, h, de := float64(d.T), float64(d.H0), float64(d.Outer)
	delta := de / float64(d.Inner)
	k1 := math.Pow((delta-1)/delta, 2) / ((delta+1)/(delta-1) - 2/math.Log(delta)) / math.Pi
	x := float64(s)
	f := 4 * steelE / (1 - steelNu*steelNu) * math.Pow(t, 4) / (k1 * de * de) * (x / t)
	return unit.Force(f * ((h/t-x/t)*(h/t-x/(2*t)) + 1))
}

// DeflectionAt is the deflection of one disc spring under force, found by
// halving between 0 and h0; h0 (flat) when the force is more than that.
func (d DiscSpring) DeflectionAt(force unit.Force) unit.Length {
	lo, hi := unit.Length(0), d.H0
	for range 60 {
		mid := (lo + hi) / 2
		if d.ForceAt(mid) < force {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// Rate is the stiffness of a helical compression spring, N/mm: G·d⁴/(8·n·D³)
// (EN 13906-1).
func (c CoilSpring) Rate() unit.Stiffness {
	return unit.Stiffness(float64(c.Shear) * math.Pow(float64(c.Wire), 4) / (8 * c.Active * math.Pow(float64(c.Mean), 3)))
}
