package wiring

import "math"

// Ampacity is one row of a table of continuous currents.
type Ampacity struct {
	WidthMM, ThicknessMM float64
	Amps                 float64
}

// BareCopper35to65 are the continuous currents of one bare flat copper bar on
// edge, 35 C air, bar at 65 C: DIN 43671, from memory, unverified. They serve as
// a second opinion beside BarAmps.
var BareCopper35to65 = []Ampacity{
	{12, 2, 108}, {15, 2, 128}, {15, 3, 162}, {20, 2, 162}, {20, 3, 204},
	{20, 5, 274}, {20, 10, 427}, {25, 3, 245}, {25, 5, 327}, {30, 3, 285},
	{30, 5, 379}, {30, 10, 573}, {40, 5, 482}, {40, 10, 715},
}

// TableAmps returns the table's current of a bare copper bar, and false for a
// size the table does not hold.
func TableAmps(widthMM, thicknessMM float64) (float64, bool) {
	for _, a := range BareCopper35to65 {
		if a.WidthMM == widthMM && a.ThicknessMM == thicknessMM {
			return a.Amps, true
		}
	}
	return 0, false
}

const stefanBoltzmann = 5.670374419e-8 // W/(m2 K4)

// heatFlux returns the heat given off by a bar's surface in still air, W/m2:
// laminar free convection at a vertical face h = 1.42 (dT/L)^(1/4) with L the
// width in metres (simplified air formula of heat transfer textbooks, from
// memory), and radiation e s (T^4 - Ta^4).
func heatFlux(celsius, ambientC, widthMM, emissivity float64) float64 {
	dT := celsius - ambientC
	if dT <= 0 {
		return 0
	}
	conv := 1.42 * math.Pow(dT/(widthMM/1000), 0.25) * dT
	t, a := celsius+273.15, ambientC+273.15
	return conv + emissivity*stefanBoltzmann*(t*t*t*t-a*a*a*a)
}

// BarAmps estimates the continuous current that brings a bar to a temperature:
// I^2 rho(T)/A = q(T) 2(w+t) per length. It leaves out the heat of the
// joints and what flows into the terminals, which is more up to 800 A, so a short link runs
// cooler than this.
func (c Conductor) BarAmps(widthMM, thicknessMM, ambientC, celsius float64) float64 {
	area := widthMM * thicknessMM / 1e6
	perimeter := 2 * (widthMM + thicknessMM) / 1000
	heat := heatFlux(celsius, ambientC, widthMM, c.Emissivity) * perimeter
	return math.Sqrt(heat * area / c.Resistivity(celsius))
}

// BarCelsius estimates the temperature of a bar at a current by bisection of
// BarAmps; the result stops at 300 C, where the formula has lost its meaning.
func (c Conductor) BarCelsius(widthMM, thicknessMM, ambientC, amps float64) float64 {
	low, high := ambientC, 300.0
	for range 60 {
		mid := (low + high) / 2
		if c.BarAmps(widthMM, thicknessMM, ambientC, mid) < amps {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// HeatClass sorts a link by its estimated temperature at the rated current.
type HeatClass string

// The heat classes, by rise over the ambient air.
const (
	Cool   HeatClass = "cool"    // up to 10 K: a hand notices nothing
	Warm   HeatClass = "warm"    // up to 30 K: the rise of the bar tables
	Hot    HeatClass = "hot"     // above 30 K, still below the limit
	TooHot HeatClass = "too hot" // above the limit
)

// heatClass returns the class of a temperature.
func heatClass(celsius, ambientC, limitC float64) HeatClass {
	switch rise := celsius - ambientC; {
	case celsius > limitC:
		return TooHot
	case rise <= 10:
		return Cool
	case rise <= 30:
		return Warm
	}
	return Hot
}

// layersFor returns the least number of stacked bars that carries a current
// below the temperature limit, at most MaxLayers. Where
// the bar is copper and the table holds its size, the table's current (for a
// rise of 30 K, scaled by the square root of the rise allowed) must not be
// exceeded by a single layer either.
func (in Input) layersFor(amps float64) int {
	c := conductors[in.Bar.Material]
	for n := 1; n <= in.Bar.MaxLayers; n++ {
		if n == 1 && in.overTable(amps) {
			continue
		}
		if c.BarAmps(in.Bar.WidthMM, in.Bar.ThicknessMM*float64(n), in.AmbientC, in.LimitC) >= amps {
			return n
		}
	}
	return in.Bar.MaxLayers
}

func (in Input) overTable(amps float64) bool {
	if in.Bar.Material != Copper {
		return false
	}
	table, ok := TableAmps(in.Bar.WidthMM, in.Bar.ThicknessMM)
	return ok && amps > table*math.Sqrt((in.LimitC-in.AmbientC)/30)
}
