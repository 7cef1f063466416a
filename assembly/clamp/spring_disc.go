package clamp

import "clampwright/params/catalog"

// DiscSpring is one conical disc spring without contact flats.
type DiscSpring struct {
	OuterMM     float64 `json:"outer_mm"`            // De
	InnerMM     float64 `json:"inner_mm"`            // Di
	ThicknessMM float64 `json:"thickness_mm"`        // t
	ConeMM      float64 `json:"cone_height_mm"`      // h0 = l0 - t
	WorkMM      float64 `json:"stroke_mm,omitempty"` // greatest deflection in use; 0: all of it
	EMPa        float64 `json:"e_mpa,omitempty"`     // default 206 000
	Nu          float64 `json:"nu,omitempty"`        // default 0.3
}

// Force returns force (N) and rate (N/mm) of one disc at deflection s (mm); see
// catalog.AlmenLaszlo for the formula and where it holds.
func (d DiscSpring) Force(s float64) (f, rate float64) {
	e, nu := d.EMPa, d.Nu
	if e == 0 {
		e = 206000
	}
	if nu == 0 {
		nu = 0.3
	}
	return catalog.AlmenLaszlo(d.OuterMM, d.InnerMM, d.ThicknessMM, d.ConeMM, e, nu, s)
}

// FreeHeight returns l0 = h0 + t.
func (d DiscSpring) FreeHeight() float64 { return d.ConeMM + d.ThicknessMM }
