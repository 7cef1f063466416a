package wiring

import (
	"slices"
	"strings"
	"testing"
)

// What the proof of the order of work refuses, on both sides of its limits: charge over
// storage charge, a link with the clamp open, cells at unlike charge.
func TestSequenceLimits(t *testing.T) {
	store := pack(8, 1, 8, 1).StorageCharge
	drawn := func(to float64) func(*Plan) {
		return func(p *Plan) {
			for i := range p.Steps {
				if p.Steps[i].Action == Discharge {
					p.Steps[i].ToCharge = to
				}
			}
		}
	}
	stacked := func(to float64) func(*Plan) { return func(p *Plan) { p.Steps[0].ToCharge = to } }
	unlike := func(by float64) func(*Plan) {
		return func(p *Plan) {
			charge := slices.Repeat([]float64{store}, 8)
			charge[3] -= by
			p.From = &Moment{Closed: true, Turns: p.States[0].Turns, Charge: charge}
			p.Steps = p.Steps[2:] // stacked and closed
		}
	}
	for _, c := range []struct {
		name  string
		plan  PlanID
		spoil func(*Plan)
		want  string
	}{
		{"drawn to storage charge", Cross, drawn(store + 0.5*chargeTol), ""},
		{"drawn to a little more", Cross, drawn(store + 2*chargeTol), "joins cells in series at 40 % charge"},
		{"ten percent over", Cross, drawn(store + 0.1), "joins cells in series at 50 % charge"},
		{"opened at storage charge", Turn, drawn(store + 0.5*chargeTol), ""},
		{"opened ten percent over", Turn, drawn(store + 0.1), "the clamp is opened with cell 1 at 50 % charge"},
		{"stacked at storage charge", Cross, stacked(store + 0.5*chargeTol), ""},
		{"stacked ten percent over", Cross, stacked(store + 0.1), "handled outside the clamp"},
		{"linked in the open clamp", Cross, func(p *Plan) { p.Steps = drop(p.Steps, Close, 0) }, "(1- to 2-) is fitted with the clamp open"},
		{"alike", Cross, unlike(0.5 * chargeTol), ""},
		{"lower by a little", Cross, unlike(2 * chargeTol), "joins cells at unlike charge"},
		{"higher by a little", Cross, unlike(-2 * chargeTol), "joins cells at unlike charge"},
	} {
		l, p := planOf(t, pack(8, 1, 8, 1), c.plan)
		p.Steps = slices.Clone(p.Steps)
		c.spoil(&p)
		faults := sequenceFaults(l, p)
		told := slices.ContainsFunc(faults, func(f Fault) bool { return c.want != "" && strings.Contains(f.Text, c.want) })
		if told != (c.want != "") || c.want == "" && len(faults) > 0 {
			t.Errorf("%s: %v", c.name, faults)
		}
	}
}

// The clamp is opened by what the load has counted, or by the knee under load: never by a
// resting voltage, which hardly tells the charge below nine tenths. Eight cells of 280 Ah
// that hang together give 0.6 of eight times as much.
func TestGateBeforeOpening(t *testing.T) {
	for _, c := range []struct {
		nominal, least     float64
		load               float64
		counted, under, by float64
	}{
		{3.2, 2.5, 100, 1344, 3.0, 12.5},
		{3.2, 3.1, 100, 1344, 3.1, 12.5}, // no lower than the least
		{3.2, 2.5, 2000, 1344, 3.0, 140}, // no more than one cell bears
	} {
		in := pack(8, 1, 8, 1)
		in.Volts.Nominal, in.Volts.Least, in.DischargerA = c.nominal, c.least, c.load
		_, p := planOf(t, in, Turn)
		for _, s := range p.Steps {
			if s.Action != Open {
				continue
			}
			near(t, "counted", s.Gate.CountedAh, c.counted, 1e-9)
			near(t, "under", s.Gate.UnderV, c.under, 1e-9)
			near(t, "load", s.Gate.LoadA, c.by, 1e-9)
			if !strings.Contains(s.Text, "A resting voltage is no proof") || strings.Contains(s.Text, "rests") {
				t.Errorf("gate: %s", s.Text)
			}
		}
	}
}

// The lead that bridges the gap before a link is closed lets little through at any
// voltage that is told: half a watt, and milliamperes.
func TestTestLeadBearsThePack(t *testing.T) {
	for _, volts := range []float64{3.65, ShockV, 60} {
		if w := volts * volts / (1000 * LeadKOhm); w > 0.5 {
			t.Errorf("%v V: %v W", volts, w)
		}
	}
	if text := fitText(3.3, true); !strings.Contains(text, "10 kiloohm, 0.5 W") {
		t.Error(text)
	}
}

// The bridge that gives most is among those told, however many gaps are smaller: the
// mains of a pack in two rows, further apart than neighbours.
func TestWorstBridgeIsAmongTheExposures(t *testing.T) {
	in := pack(8, 2, 16, 1)
	in.RowGapMM = 60
	l, s := finalOf(t, in)
	all, err := l.Exposures(s, 150)
	if err != nil {
		t.Fatal(err)
	}
	most := slices.MaxFunc(all, func(a, b Exposure) int { return int(1000 * (a.Volts - b.Volts)) })
	if !slices.Contains([]Post{most.A, most.B}, s.Mains.Minus) || !slices.Contains([]Post{most.A, most.B}, s.Mains.Plus) || most.GapMM <= all[0].GapMM {
		t.Errorf("nearest %v, worst %v", all[0], most)
	}
	near(t, "volts", most.Volts, 16*3.65, 1e-9)
}
