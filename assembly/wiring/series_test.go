package wiring

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// Chargers and loads are set to what links and cells are proven for in the state: the
// pack's charger raises the state's current, the others are turned down to it.
func TestSeriesCurrents(t *testing.T) {
	for _, c := range []struct {
		name                          string
		board, charger, load          float64
		state, chargeA, topA, drawA   float64
		chargeHours, topHours, drawHs float64
	}{
		{"as given", 20, 20, 20, 140, 20, 20, 20, 280 * 0.55 / 20, 8 * (28.0/20 + 0.5), 280 * 0.6 / 20},
		{"the pack's current", 140, 140, 140, 140, 140, 50, 140, 280 * 0.55 / 140, 8 * (28.0/50 + 0.5), 280 * 0.6 / 140},
		{"one ampere more", 141, 142, 142, 141, 141, 50, 141, 280 * 0.55 / 141, 8 * (28.0/50 + 0.5), 280 * 0.6 / 141},
		{"a charger for one cell made for many", 20, 300, 400, 140, 20, 50, 140, 280 * 0.55 / 20, 8 * (28.0/50 + 0.5), 280 * 0.6 / 140},
	} {
		in := pack(8, 1, 8, 1)
		in.BoardA, in.ChargerA, in.DischargerA = c.board, c.charger, c.load
		_, p := planOf(t, in, InSeries)
		near(t, c.name+": state", p.States[0].CurrentA, c.state, 1e-9)
		for action, want := range map[Action][2]float64{Charge: {c.chargeA, c.chargeHours}, TopUp: {c.topA, c.topHours}, Discharge: {c.drawA, c.drawHs}} {
			i := slices.IndexFunc(p.Steps, func(s Step) bool { return s.Action == action })
			near(t, c.name+": amps of "+string(action), p.Steps[i].Amps, want[0], 1e-9)
			near(t, c.name+": hours of "+string(action), p.Steps[i].Hours, want[1], 1e-9)
		}
	}
}

// Every cell by itself, by hand: 4 of 280 Ah from half full at 40 A, then 60 % of each out at
// 40 or 100 A, no more than a cell bears; clips to 50 A, lugs above; by its own measure where
// cells are measured.
func TestEachCellByItself(t *testing.T) {
	for _, c := range []struct {
		load, limit, stud, amps float64
		lugs                    int
		want                    string
	}{
		{40, 140, 0, 40, 0, " Turn a screw into each terminal by hand, a few turns, for its insulated clips."},
		{50, 140, 20, 50, 0, " Its insulated clips go on the studs."},
		{50.1, 140, 20, 50.1, 8, " Screw its lugs on."},
		{100, 60, 20, 60, 8, " Screw its lugs on."},
	} {
		in := pack(4, 1, 4, 1)
		in.ArrivalCharge, in.ChargerA, in.DischargerA, in.CellLimitA, in.StudHeightMM = 0.5, 40, c.load, c.limit, c.stud
		l, p := planOf(t, in, Single)
		up, down := p.Steps[3], p.Steps[4]
		near(t, "up", up.Hours, 4*280*0.5/40, 1e-9)
		near(t, "down", down.Hours, 4*280*0.6/c.amps, 1e-9)
		near(t, "amps", down.Amps, c.amps, 1e-9)
		if up.Action != TopUp || !up.Alone || !down.Alone || len(up.Lugs) != 0 || len(down.Lugs) != c.lugs || !strings.Contains(down.Text, c.want) || !strings.Contains(down.Text, "counted 168 Ah") {
			t.Errorf("%v A: %d lugs, %s", c.load, len(down.Lugs), down.Text)
		}
		moments, _ := Walk(l, p)
		full := moments[len(moments)-1]
		full.Links, full.Sensed, full.Charge = nil, false, slices.Repeat([]float64{1}, 4)
		if s := p.Renewal(l, full, 0).Steps; s[0].Action != Discharge || !s[0].Alone || s[1].Action != Open || math.Abs(s[1].Gate.CountedAh-168) > 1e-9 {
			t.Errorf("full and not linked: %+v", s[:2])
		}
		l = WithCells(l, slices.Repeat([]Record{{CapacityAh: 270, MilliOhm: 0.2}}, 4))
		for _, p := range mustPlans(t, l) {
			if p.ID == Single && !strings.Contains(p.Steps[4].Text, "counted 60 % of its measured capacity") {
				t.Error(p.Steps[4].Text)
			}
		}
	}
}

// Cells that come nearly full are not charged in series at all, and never for less than
// no time.
func TestSeriesFromNearlyFull(t *testing.T) {
	for arrival, want := range map[float64]float64{0.90: 280 * 0.05 / 20, 0.95: 0, 0.97: 0} {
		in := pack(4, 1, 4, 1)
		in.BoardA, in.ArrivalCharge = 20, arrival
		_, p := planOf(t, in, InSeries)
		near(t, "hours", p.Steps[slices.IndexFunc(p.Steps, func(s Step) bool { return s.Action == Charge })].Hours, want, 1e-9)
	}
}

// Drawn in series, every place gives the same: so much that the largest is not left above
// storage charge.
func TestSeriesDrawsByTheLargestPlace(t *testing.T) {
	in := pack(4, 1, 2, 2)
	in.BoardA = 20
	l := mustLayout(t, in)
	cells := make([]Record, 4)
	for i := range cells {
		cells[i] = Record{CapacityAh: 270 + 10*float64(i), MilliOhm: 0.25}
	}
	l = WithCells(l, cells)
	for _, p := range mustPlans(t, l) {
		if p.ID != InSeries {
			continue
		}
		for _, s := range p.Steps {
			if s.Action == Discharge {
				near(t, "hours", s.Hours, (290+300)*0.6/s.Amps, 1e-9)
			}
		}
	}
}

// Cells do not rest at the voltage named, but somewhere in its band, those in series each
// elsewhere: what is done right is not stopped all the same, and no slip gets through,
// however many are in series.
func TestReadingsAtTrueVoltages(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 9))
	for _, in := range []Input{pack(4, 1, 4, 1), pack(16, 1, 8, 2), pack(9, 1, 3, 3), pack(8, 2, 16, 1), pack(24, 1, 24, 1), pack(16, 2, 32, 1), pack(32, 2, 64, 1)} {
		in.BoardA = 20
		l := mustLayout(t, in)
		band := l.RestBand(1)
		for _, p := range mustPlans(t, l) {
			for _, v := range []float64{band.LowV, band.HighV, 0} {
				cellV := slices.Repeat([]float64{v}, l.Cells())
				if v == 0 {
					v = band.LowV + (band.HighV-band.LowV)*r.Float64()
					for _, place := range l.Finished().Places {
						if p.ID == InSeries { // not joined with the others
							v = band.LowV + (band.HighV-band.LowV)*r.Float64()
						}
						for _, slot := range place {
							cellV[slot] = v + (2*r.Float64()-1)*plateauV/2
						}
					}
				}
				if k := stopped(l, p, cellV); k != nil {
					t.Errorf("%d in series, plan %s, %.2f V: %s is stopped", in.Series, p.ID, v, k.ID)
				}
				for _, s := range slipsAt(l, p, cellV) {
					if s.By == Unseen || s.ShortV > 2*nothingV && s.By != ByReading {
						t.Errorf("%d in series, plan %s, %.2f V: %s of %s in step %d at %v is %s", in.Series, p.ID, v, s.Kind, s.Link.ID, s.Step, s.At, s.By)
					}
				}
			}
		}
	}
}

// stopped is a link that is right and that its readings stop all the same.
func stopped(l *Layout, p Plan, cellV []float64) *Link {
	var fitted []Link
	s := &slips{l: l}
	for _, step := range p.Steps {
		state, _ := p.State(step.State)
		s.turns = state.Turns
		for i, k := range step.Links {
			fitted = without(fitted, k)
			if step.Action == Remove {
				continue
			}
			if s.seen(levelsOf(s.turns, cellV, fitted), step.Before[i].Checks, k) {
				return &k
			}
			fitted = append(fitted, k)
		}
	}
	return nil
}
