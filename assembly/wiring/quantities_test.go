package wiring

import (
	"fmt"
	"slices"
	"testing"
)

// By hand for four cells of 280 Ah in series in a row and for two rows of two places of
// two cells.
func TestQuantities(t *testing.T) {
	for _, c := range []struct {
		in               Input
		volts            [3]float64
		kWh, born, short float64
		sense            []float64
		sensors          []int
	}{
		{pack(4, 1, 4, 1), [3]float64{10, 12.8, 14.6}, 4 * 280 * 3.2 / 1000, 140, 14.6 / 0.00125, []float64{200, 330, 280, 470, 420}, []int{2, 0}},
		{pack(2, 2, 2, 2), [3]float64{5, 6.4, 7.3}, 4 * 280 * 3.2 / 1000, 280, 0, nil, []int{1, 3, 0}},
	} {
		l := mustLayout(t, c.in)
		p := mustPlans(t, l)[1]
		s, _ := p.State(StateFinal)
		f := p.Figures[len(p.Figures)-1]
		q := l.QuantitiesOf(s, f)
		near(t, "least", q.LeastV, c.volts[0], 1e-9)
		near(t, "nominal", q.NominalV, c.volts[1], 1e-9)
		near(t, "full", q.FullV, c.volts[2], 1e-9)
		near(t, "energy", q.KWh, c.kWh, 1e-9)
		near(t, "born", q.BornA, c.born, 0.02*c.born)
		if c.short > 0 {
			near(t, "short", q.ShortA, c.short, 0.2*c.short)
		}
		if fmt.Sprint(q.Sensors) != fmt.Sprint(c.sensors) {
			t.Errorf("sensors in %v, want %v", q.Sensors, c.sensors)
		}
		if len(q.Sense) != c.in.Series+1 || q.Sense[0].At != s.Mains.Minus || q.Sense[c.in.Series].At != s.Mains.Plus {
			t.Errorf("sense leads %v", q.Sense)
		}
		lv := levelsOf(s.Turns, slices.Repeat([]float64{1}, l.Cells()), s.Links)
		for i, x := range q.Sense {
			near(t, "level of a lead", lv.between(s.Mains.Minus, x.At), float64(i), 1e-9)
			if c.sense != nil {
				near(t, "lead", x.LengthMM, c.sense[i], 1e-9)
			}
		}
	}
}

// Room for a lug ends at a neighbour's pad or at a bar, whichever is nearer.
func TestRoomForLugs(t *testing.T) {
	l := mustLayout(t, pack(4, 1, 4, 1))
	s := l.Finished()
	near(t, "to a pad", roomAt(l, s, s.Mains.Minus), 73-11, 1e-9)
	wide := pack(4, 1, 4, 1)
	wide.Bar.WidthMM = 30
	l = mustLayout(t, wide)
	near(t, "to a bar", roomAt(l, s, Post{0, s.Mains.Minus.Side}), 73-15, 1e-9)
}
