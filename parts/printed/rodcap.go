package printed

import (
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// RodCapSpec describes the cap on a sawn rod end: mouth at z = 0, bore up to
// DepthMM, the axis on z.
type RodCapSpec struct {
	parts.Label
	Printer
	RodMM   float64 // the thread's major diameter
	DepthMM float64 // of the bore round the rod
	// A skirt goes over the nut where little thread stands out of it: the nut's
	// size across corners and the skirt's length, which is then the first part of
	// the cap; zero for none.
	CornersMM, SkirtMM float64
}

// ribGap is what three ribs in the bore leave to the rod, mm: threads come
// smaller than their nominal diameter, prints larger, and the ribs hold.
const ribGap = 0.05

// boreGap is what the bore leaves round the rod between the ribs, mm.
func (s RodCapSpec) boreGap() float64 { return ribGap + max(0.8, s.FitMM) }

// OuterMM is the cap's diameter.
func (s RodCapSpec) OuterMM() float64 {
	return max(s.RodMM+2*(s.boreGap()+s.wall()), s.CornersMM+2*(s.FitMM+s.wall()))
}

// LengthMM is the cap's length.
func (s RodCapSpec) LengthMM() float64 { return s.SkirtMM + s.DepthMM + s.wall() }

// RodCap builds a rod cap: a closed end chamfered at 45 degrees, on which it is
// printed, a mouth with a lead-in, and three ribs in the bore.
func RodCap(s RodCapSpec) (parts.Part, error) {
	spans := []span{{"rod", s.RodMM, 2, 100}, {"depth", s.DepthMM, 1, 300}}
	if s.SkirtMM != 0 || s.CornersMM != 0 {
		spans = append(spans, span{"nut across corners", s.CornersMM, s.RodMM, 200}, span{"skirt", s.SkirtMM, 1, 200})
	}
	err := s.checked(s.ID, spans...)
	if err != nil {
		return parts.Part{}, err
	}
	return s.meshed(s.Label, parts.KindCap, ringMesh(s.rings()))
}

// capSizes are the cap's radii and lengths, mm.
type capSizes struct {
	outer, bore, skirt float64 // radii
	lead               float64 // lead-in at the mouth, at 45 degrees
	chamfer            float64 // of the closed end along the axis
	tip, ribWidth      float64 // the ribs' tips from the axis, and the width of their feet
	ribs, end, length  float64 // heights: where the ribs begin, bore's end, whole
}

func (s RodCapSpec) sizes() capSizes {
	c := capSizes{outer: s.OuterMM() / 2, bore: s.RodMM/2 + s.boreGap(), lead: min(0.6, s.wall()/3),
		tip: s.RodMM/2 + ribGap, ribWidth: max(min(1.6, s.RodMM/4), ribShare*s.MinWallMM), end: s.SkirtMM + s.DepthMM, length: s.LengthMM()}
	if s.SkirtMM > 0 {
		c.skirt = s.CornersMM/2 + s.FitMM
	}
	c.chamfer = min(c.outer/3, s.wall())
	c.ribs = s.SkirtMM + c.lead
	return c
}

// ribShare is the width of a rib's foot over the printer's thinnest wall, so that it
// is no thinner at its tip.
const ribShare = 1.2

// rings go from the bore's end along the ribs to the mouth, and outside back to
// the closed end.
func (s RodCapSpec) rings() []ring {
	c := s.sizes()
	at := c.angles()
	ribbed := func(z float64) ring { return c.ribbed(at, z) }
	out := []ring{round(at, 0, c.end), ribbed(c.end), ribbed(c.ribs), round(at, c.bore, c.ribs)}
	mouth := c.bore
	if c.skirt > c.bore {
		mouth = c.skirt
		out = append(out, round(at, c.bore, s.SkirtMM), round(at, c.skirt, s.SkirtMM), round(at, c.skirt, c.lead))
	}
	return append(out, round(at, mouth+c.lead, 0), round(at, c.outer-c.lead, 0), round(at, c.outer, c.lead),
		round(at, c.outer, c.length-c.chamfer), round(at, c.outer-c.chamfer*math.Tan(roofAngle), c.length), round(at, 0, c.length))
}

// angles are the points' directions, rad: those of each rib, then evenly on to
// the next, so close that no chord strays by more than capChord.
func (c capSizes) angles() []float64 {
	const third = 2 * math.Pi / 3
	foot := c.ribFoot()
	free := third - 2*foot
	n := int(math.Ceil(free / (2 * math.Acos(1-capChord/c.outer))))
	var out []float64
	for rib := range 3 {
		at := float64(rib) * third
		out = append(out, at-foot, at-foot/3, at+foot/3, at+foot)
		for k := 1; k < n; k++ {
			out = append(out, at+foot+free*float64(k)/float64(n))
		}
	}
	return out
}

// capChord is how far the caps' chords stray from their circles, mm.
const capChord = 0.02

// ribTaper is the tips' half angle as a part of the feet's: ribs narrow inward.
const ribTaper = 0.7

// ribbed is the bore's circle with the ribs' tips moved in.
func (c capSizes) ribbed(at []float64, z float64) ring {
	out := round(at, c.bore, z)
	half := ribTaper * c.ribFoot()
	for rib := range 3 {
		for k, t := range [2]float64{-half, half} {
			out[rib*len(at)/3+1+k] = geom.Polar(c.tip/math.Cos(half), t+2*math.Pi/3*float64(rib)).V3(z)
		}
	}
	return out
}

// ribFoot is half the angle that a rib covers on the bore, rad.
func (c capSizes) ribFoot() float64 { return math.Asin(c.ribWidth / 2 / c.bore) }
