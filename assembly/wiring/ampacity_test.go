package wiring

import (
	"math"
	"testing"
)

// The rows are DIN 43671 from memory, so this is a loose check of the estimate:
// within 15 % for every single bare bar, 35 C air, 65 C bar.
func TestBarAmpsAgainstTable(t *testing.T) {
	cu := conductors[Copper]
	for _, row := range BareCopper35to65 {
		got := cu.BarAmps(row.WidthMM, row.ThicknessMM, 35, 65)
		if d := got/row.Amps - 1; math.Abs(d) > 0.15 {
			t.Errorf("%vx%v: %.0f A, table %.0f A (%+.0f %%)", row.WidthMM, row.ThicknessMM, got, row.Amps, 100*d)
		}
	}
}

func TestBarCelsiusInvertsBarAmps(t *testing.T) {
	for _, name := range []string{Copper, Aluminium} {
		c := conductors[name]
		for celsius := 36.0; celsius < 120; celsius += 7 {
			a := c.BarAmps(20, 3, 35, celsius)
			near(t, name, c.BarCelsius(20, 3, 35, a), celsius, 1e-6)
		}
		if c.BarAmps(20, 3, 35, 35) != 0 {
			t.Error("a bar at ambient temperature gives off no heat")
		}
	}
}

// Heat given off equals heat made: I^2 R per metre against the flux over the
// surface.
func TestBarHeatBalance(t *testing.T) {
	cu := conductors[Copper]
	a := cu.BarAmps(25, 3, 30, 70)
	made := a * a * cu.BarOhm(1000, 25, 3, 70)
	off := heatFlux(70, 30, 25, cu.Emissivity) * 2 * (0.025 + 0.003)
	near(t, "watts per metre", made, off, 1e-9*off)
}

// The heat of the joints is left out of a link's temperature, and so is the cooling into
// the terminals, which takes it and more: a bar of which every 2 mm is followed, its ends on
// terminals that give their heat to cells at the temperature of the air through 5 K/W, clean
// joints at both, is nowhere hotter than the estimate, for every bar of the table at the
// current of its limit, up to 800 A: with more the terminals get hotter than the bars. (The thermal resistance of a terminal is our own judgement: a post of
// 14 mm aluminium, 20 mm long, has 0.6 K/W, the foils behind it some more; no source.)
func TestJointHeatIsCooledByTheTerminals(t *testing.T) {
	const air, limit, joint, sink = 35.0, 85.0, 15e-6, 5.0
	cu := conductors[Copper]
	for _, row := range BareCopper35to65 {
		for _, long := range []float64{30, 73, 150} {
			a := cu.BarAmps(row.WidthMM, row.ThicknessMM, air, limit)
			if a > 800 {
				continue
			}
			if got := hottestOf(cu, row.WidthMM, row.ThicknessMM, long, a, air, joint, sink); got > limit {
				t.Errorf("%v x %v, %v mm: %.1f C", row.WidthMM, row.ThicknessMM, long, got)
			}
			if got := hottestOf(cu, row.WidthMM, row.ThicknessMM, 5000, a, air, joint, sink); math.Abs(got-limit) > 0.5 && long == 30 {
				t.Errorf("%v x %v, as long as the estimate takes it: %.1f C", row.WidthMM, row.ThicknessMM, got)
			}
		}
	}
}

// hottestOf is the greatest temperature along a bar between two like terminals: half of it
// in slices, each with its heat made, given off and led on (copper, 390 W/(m K)).
func hottestOf(c Conductor, width, thick, long, amps, air, joint, sink float64) (most float64) {
	const slices = 60
	area, dx := width*thick/1e6, long/2000/slices
	lead, skin := 390*area/dx, 2*(width+thick)/1000*dx
	at := make([]float64, slices+1) // 0 is the terminal
	for i := range at {
		at[i] = air
	}
	for range 200 { // the tridiagonal system, with what depends on temperature from before
		p, q := make([]float64, slices+1), make([]float64, slices+1)
		p[0], q[0] = lead/(1/sink+lead), (amps*amps*joint+air/sink)/(1/sink+lead)
		for i := 1; i <= slices; i++ {
			off, rise := heatFlux(at[i], air, width, c.Emissivity)*skin, max(1e-6, at[i]-air)
			made, on := amps*amps*c.Resistivity(at[i])*dx/area, lead
			if i == slices { // nothing flows through the middle
				on = 0
			}
			d := lead*(1-p[i-1]) + on + off/rise
			p[i], q[i] = on/d, (made+lead*q[i-1]+off/rise*air)/d
		}
		next := 0.0
		for i := slices; i >= 0; i-- {
			next = p[i]*next + q[i]
			at[i] = (at[i] + next) / 2
		}
	}
	for _, x := range at {
		most = max(most, x)
	}
	return most
}

func TestLayersRiseWithCurrent(t *testing.T) {
	in := mustLayout(t, pack(4, 1, 4, 1)).Input()
	last := 0
	for _, a := range []float64{10, 100, 160, 170, 250, 320} {
		n := in.layersFor(a)
		if n < last {
			t.Errorf("%v A: %d layers", a, n)
		}
		c := conductors[in.Bar.Material]
		if c.BarAmps(20, 2*float64(n), in.AmbientC, in.LimitC) < a {
			t.Errorf("%v A: %d layers get too hot", a, n)
		}
		last = n
	}
	if n := in.layersFor(162.5); n != 2 {
		t.Errorf("above the table's 162 A a 20x2 bar is doubled, got %d", n)
	}
	if n := in.layersFor(5000); n != in.Bar.MaxLayers {
		t.Errorf("5000 A on %d bars", n)
	}
}

func TestHeatClass(t *testing.T) {
	for _, c := range []struct {
		celsius float64
		want    HeatClass
	}{{35, Cool}, {45, Cool}, {46, Warm}, {65, Warm}, {66, Hot}, {90, Hot}, {91, TooHot}} {
		if got := heatClass(c.celsius, 35, 90); got != c.want {
			t.Errorf("%v C is %s, want %s", c.celsius, got, c.want)
		}
	}
	if got := heatClass(70, 35, 65); got != TooHot {
		t.Errorf("above the limit: %s", got)
	}
}

// Heat of a bar's surface worked out by hand: 1.42 (40/0.02)^(1/4) 40 = 379.8 by the air,
// and 0.3 x 5.6704e-8 (333.15^4 - 293.15^4) = 83.9 by radiation; none to warmer air.
func TestHeatFluxByHand(t *testing.T) {
	if got := heatFlux(60, 20, 20, 0.3); math.Abs(got-463.8) > 0.2 {
		t.Errorf("%.1f W/m2, by hand 463.8", got)
	}
	if got := heatFlux(20, 20, 20, 0.3) + heatFlux(10, 20, 20, 0.3); got != 0 {
		t.Errorf("%g W/m2 from a cold bar", got)
	}
}
