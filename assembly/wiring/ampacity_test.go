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
