package wiring

import (
	"strings"
	"testing"
)

// By hand: four cells of 0.25 milliohm joined through jumpers of 10 mm2, 40 A: the
// difference drives 40 A through 0.25 + 0.25/3 milliohm and two links, and 10 mV
// are allowed. Where cells and links resist little, cells are held closer.
func TestJoinLimit(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.DischargerA = in.ChargerA
	l, p := planOf(t, in, Cross)
	s, _ := p.State(StateBalance)
	j := l.JoinLimit(s)
	link := 1.0
	for _, k := range s.Links {
		link = min(link, l.LinkOhm(k, s.Turns))
	}
	near(t, "links carry", j.LinkA, 40, 0)
	near(t, "difference by current", j.CurrentV, 40*(0.00025*4/3+2*link), 0.001)
	near(t, "allowed", j.AllowedV, 0.010, 0)

	in = pack(4, 1, 4, 1)
	in.DischargerA = in.ChargerA
	in.CellMilliOhm, in.ContactMicroOhm, in.CellLimitA = 0.02, 1, 10
	l, p = planOf(t, in, Cross)
	s, _ = p.State(StateBalance)
	if j := l.JoinLimit(s); j.LinkA != 10 || j.AllowedV != j.CurrentV || j.AllowedV >= 0.010 {
		t.Errorf("little resistance: %+v", j)
	}
}

// Bars carry more than jumpers, so the cell's own limit or the bar's decides.
func TestJoinLimitOfBars(t *testing.T) {
	in := pack(4, 1, 1, 4)
	in.CellLimitA = 1000
	l, p := planOf(t, in, Cross)
	s, _ := p.State(StateBalance)
	k := s.Links[0]
	c := conductors[in.Bar.Material]
	want := c.BarAmps(in.Bar.WidthMM, in.Bar.ThicknessMM*float64(k.layers()), l.Input().AmbientC, l.Input().LimitC)
	if k.Cable || want <= 40 {
		t.Fatalf("%+v carries %v A: no bar", k, want)
	}
	near(t, "bar carries", l.JoinLimit(s).LinkA, want, 1e-9)
}

// The bands by hand: 3.29 V a cell, 0.1 below and 0.05 above.
func TestSeriesText(t *testing.T) {
	for _, c := range []struct {
		perRow, series, parallel int
		want                     []string
		overlap                  bool
	}{
		{16, 16, 1, []string{"left out reads 47.85 to 50.1 V", "turned round 44.66 to 46.76 V"}, false},
		{2, 2, 1, []string{"left out reads 3.19 to 3.34 V", "turned round about 0 V"}, false},
		{8, 4, 2, []string{"One place left out"}, false},
		{30, 30, 1, []string{"read every cell by itself too"}, true},
	} {
		l := mustLayout(t, pack(c.perRow, 1, c.series, c.parallel))
		got := seriesText(l, c.series)
		for _, w := range c.want {
			if !strings.Contains(got, w) {
				t.Errorf("%d in series: %q is not in %q", c.series, w, got)
			}
		}
		if strings.Contains(got, "overlap") != c.overlap {
			t.Errorf("%d in series: %q", c.series, got)
		}
	}
}

// A band never leaves what a cell may have.
func TestRestBandStaysWithinTheCell(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.Volts = Voltages{Nominal: 3.28, Full: 3.31, Storage: 3.3, Least: 3.25}
	l := mustLayout(t, in)
	if b := l.RestBand(1); b != (VoltBand{3.25, 3.31}) {
		t.Errorf("%+v", b)
	}
	near(t, "least under load", leastLoadV(l), 3.25, 0)
}

// The jumpers of a balance carry whichever is greater, charge or discharge.
func TestJumpersCarryTheDischarge(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.ChargerA, in.DischargerA = 10, 100
	_, p := planOf(t, in, Cross)
	s, _ := p.State(StateBalance)
	for _, k := range s.Links {
		if k.Cable && cableAmpsPerMM2*k.CableMM2 < 50 {
			t.Errorf("%s has %v mm2", k.ID, k.CableMM2)
		}
	}
}
