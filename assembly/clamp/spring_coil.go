package clamp

import "math"

// CoilSpring is one helical compression spring, of round wire unless its rate is given.
type CoilSpring struct {
	WireMM   float64 `json:"wire_mm"`
	MeanMM   float64 `json:"mean_diameter_mm"`
	Active   float64 `json:"active_coils"`
	FreeMM   float64 `json:"free_mm"`
	SolidMM  float64 `json:"solid_mm"`
	WorkMM   float64 `json:"stroke_mm,omitempty"` // greatest deflection in use; 0: all of it
	GMPa     float64 `json:"g_mpa"`
	RateNMM  float64 `json:"rate_n_per_mm,omitempty"` // measured or from a catalogue; 0: computed
	ShearMPa float64 `json:"shear_mpa,omitempty"`     // allowable shear stress; 0: not checked
}

// Rate returns k = G d⁴ / (8 n D³) in N/mm (EN 13906-1), or the given rate.
func (c CoilSpring) Rate() float64 {
	if c.RateNMM > 0 {
		return c.RateNMM
	}
	return c.GMPa * math.Pow(c.WireMM, 4) / (8 * c.Active * math.Pow(c.MeanMM, 3))
}

// Shear returns the greatest shear stress at force f: with Wahl's factor, that of round
// wire,
//
//	tau = Kw 8 F D / (pi d³),  Kw = (4c-1)/(4c-4) + 0.615/c,  c = D/d
//
// and no less than what the energy asks of a spring whose rate is given, as solid wire
// stores at most tau²/(4 G) in its volume, here that of the spring when solid:
//
//	tau = sqrt(4 G (F²/2k) / (pi D d Ls))
func (c CoilSpring) Shear(f float64) float64 {
	i := c.MeanMM / c.WireMM
	wahl := (4*i-1)/(4*i-4) + 0.615/i
	tau := wahl * 8 * f * c.MeanMM / (math.Pi * math.Pow(c.WireMM, 3))
	if volume := math.Pi * c.MeanMM * c.WireMM * c.SolidMM; c.RateNMM > 0 && volume > 0 {
		tau = math.Max(tau, math.Sqrt(4*orElse(c.GMPa, steelShearMPa)*f*f/2/c.RateNMM/volume))
	}
	return tau
}

// steelShearMPa is the shear modulus of spring steel (EN 13906-1).
const steelShearMPa = 81500
