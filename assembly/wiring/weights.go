package wiring

// Weights are what handling costs when plans are compared: minutes of work, and
// minutes that stand for risk or for a poorer result. All are our own judgement
// (common practice, no source) and can be set.
type Weights struct {
	LinkMinutes    float64 // fit or take off one link; default 2
	OpeningMinutes float64 // slacken, open, close and set the clamp again; default 60
	TurnMinutes    float64 // lift out and turn one cell; default 3
	// CrossingMinutes stands for minding one place where links of unlike
	// potential cross, each time it is set up; default 10.
	CrossingMinutes float64
	// BalanceMinutes stands for every further balance: another charger session,
	// and groups that are even only as far as the charger repeats; default 30.
	BalanceMinutes float64
	// VentMinutes stands for a temporary link over a vent; default 2.
	VentMinutes float64
}

func (w Weights) filled() Weights {
	set := func(p *float64, v float64) {
		if *p == 0 {
			*p = v
		}
	}
	set(&w.LinkMinutes, 2)
	set(&w.OpeningMinutes, 60)
	set(&w.TurnMinutes, 3)
	set(&w.CrossingMinutes, 10)
	set(&w.BalanceMinutes, 30)
	set(&w.VentMinutes, 2)
	return w
}

func (w Weights) problems() []Problem {
	var c checker
	for _, f := range []struct {
		name string
		v    float64
	}{{"LinkMinutes", w.LinkMinutes}, {"OpeningMinutes", w.OpeningMinutes}, {"TurnMinutes", w.TurnMinutes},
		{"CrossingMinutes", w.CrossingMinutes}, {"BalanceMinutes", w.BalanceMinutes}, {"VentMinutes", w.VentMinutes}} {
		c.within("Weights."+f.name, f.v, 0, 10000)
	}
	return c.problems
}
