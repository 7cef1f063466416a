package clamp

import "math"

// DiscSpring is one conical disc spring without contact flats.
type DiscSpring struct {
	OuterMM     float64 `json:"outer_mm"`        // De
	InnerMM     float64 `json:"inner_mm"`        // Di
	ThicknessMM float64 `json:"thickness_mm"`    // t
	ConeMM      float64 `json:"cone_height_mm"`  // h0 = l0 - t
	EMPa        float64 `json:"e_mpa,omitempty"` // default 206 000
	Nu          float64 `json:"nu,omitempty"`    // default 0.3
}

// Force returns force (N) and rate (N/mm) of one disc at deflection s (mm),
// after Almen and Laszlo as in EN 16984 (formerly DIN 2092):
//
//	F = 4E/(1-mu²) t⁴/(K1 De²) (s/t) [(h0/t - s/t)(h0/t - s/2t) + 1]
//	K1 = 1/pi ((d-1)/d)² / ((d+1)/(d-1) - 2/ln d),  d = De/Di
//
// It holds for d 1.75 to 2.5, h0/t 0.4 to 1.3 and De/t 16 to 40 and leaves
// friction out.
func (d DiscSpring) Force(s float64) (f, rate float64) {
	e, nu := d.EMPa, d.Nu
	if e == 0 {
		e = 206000
	}
	if nu == 0 {
		nu = 0.3
	}
	t := d.ThicknessMM
	c := 4 * e / (1 - nu*nu) * math.Pow(t, 4) / (d.k1() * d.OuterMM * d.OuterMM)
	a, x := d.ConeMM/t, s/t
	f = c * x * ((a-x)*(a-x/2) + 1)
	rate = c / t * (a*a + 1 - 3*a*x + 1.5*x*x)
	return f, rate
}

func (d DiscSpring) k1() float64 {
	r := d.OuterMM / d.InnerMM
	q := (r - 1) / r
	return q * q / math.Pi / ((r+1)/(r-1) - 2/math.Log(r))
}

// FreeHeight returns l0 = h0 + t.
func (d DiscSpring) FreeHeight() float64 { return d.ConeMM + d.ThicknessMM }
