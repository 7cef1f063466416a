package wiring

import "math"

// The bar materials.
const (
	Copper    = "copper"
	Aluminium = "aluminium"
)

// Conductor is a metal for links.
type Conductor struct {
	// OhmM is the resistivity at 20 C in ohm metres.
	OhmM float64
	// PerK is the temperature coefficient of resistance at 20 C.
	PerK        float64
	DensityGCM3 float64
	// Emissivity of a bare, lightly tarnished surface; from memory of handbook
	// ranges, unverified. A plated bar is taken as bare.
	Emissivity float64
}

// conductors: copper is the international annealed copper standard, 58 MS/m (IEC 60028);
// aluminium is hard-drawn wire (IEC 60889, resistivity from memory). Densities are
// handbook values.
var conductors = map[string]Conductor{
	Copper:    {OhmM: 1.7241e-8, PerK: 0.00393, DensityGCM3: 8.89, Emissivity: 0.15},
	Aluminium: {OhmM: 2.8264e-8, PerK: 0.00403, DensityGCM3: 2.703, Emissivity: 0.10},
}

// Resistivity returns rho(T) = rho20 (1 + a (T - 20)), ohm metres.
func (c Conductor) Resistivity(celsius float64) float64 {
	return c.OhmM * (1 + c.PerK*(celsius-20))
}

// BarOhm returns the resistance of a straight bar, R = rho L / A, with lengths
// in millimetres.
func (c Conductor) BarOhm(lengthMM, widthMM, thicknessMM, celsius float64) float64 {
	return c.Resistivity(celsius) * (lengthMM / 1000) / (widthMM * thicknessMM / 1e6)
}

// LinkOhm returns the resistance of a link from terminal to terminal at 20 C:
// the bar between its hole centres, all layers side by side, or the cable, and
// the two joints.
func (l *Layout) LinkOhm(k Link, t Turns) float64 {
	return linkOhmAt(l, k, t, 20)
}

func linkOhmAt(l *Layout, k Link, t Turns, celsius float64) float64 {
	c := conductors[l.in.Bar.Material]
	area := l.in.Bar.WidthMM * l.in.Bar.ThicknessMM * float64(k.layers())
	if k.Cable {
		c = conductors[Copper]
		area = max(k.CableMM2, cableSections[0])
	}
	metal := c.BarOhm(wayMM(l, k, t), area, 1, celsius)
	return math.Max(leastLinkOhm, metal+2*l.in.ContactMicroOhm*1e-6)
}

// cableSections are the conductor sections of IEC 60228 in use here, mm2 (from
// memory, unverified).
var cableSections = []float64{4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240}

// cableAmpsPerMM2 is the current density of short insulated jumpers: common
// practice, no source.
const cableAmpsPerMM2 = 4.0

// cableLeastMM2 is the smallest jumper: it must stand the short current by which
// cells of slightly unlike voltage even out when they are joined. Common
// practice, no source.
const cableLeastMM2 = 10.0

// cableFor returns the smallest section that carries a current, or the largest.
func cableFor(amps float64) float64 {
	for _, a := range cableSections {
		if a >= cableLeastMM2 && a*cableAmpsPerMM2 >= amps {
			return a
		}
	}
	return cableSections[len(cableSections)-1]
}

// cableSlack is the length of a cable over the straight distance of its
// terminals: it must arch over what it crosses. Common practice, no source.
const cableSlack = 1.3

// wayMM is the length of metal between the two terminals of a link.
func wayMM(l *Layout, k Link, t Turns) float64 {
	d := l.Position(k.A, t).Dist(l.Position(k.B, t))
	if k.Cable {
		d *= cableSlack
	}
	return d
}
