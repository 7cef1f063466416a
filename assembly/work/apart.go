package work

import "clampwright/assembly/wiring"

// Apart is the way back: what is not opened at all, and how the finished pack comes
// apart and together again with one cell replaced. Stopped half way it starts with the
// first step that has something to take off. None without a proven plan; what is welded
// does not come apart.
func Apart(in Input) Order {
	m := &maker{in, in.Assembly.Fixture, in.Assembly.Bill()}
	if m.Plan == nil || !m.Proven {
		return nil
	}
	final, _ := m.Plan.State(wiring.StateFinal)
	q := m.Layout.QuantitiesOf(final, m.Plan.Figures[len(m.Plan.Figures)-1])
	shut := Step{Kind: KeepShut, Facts: &Shut{PackV: q.FullV, KWh: q.KWh, Welded: m.f.Cell.Welded}}
	p := Phase{Kind: TakingApart}
	for _, s := range m.Plan.Apart(m.Layout) {
		state, _ := m.Plan.State(s.State)
		p.Steps = append(p.Steps, m.wire(s, state))
	}
	if len(p.Steps) == 0 {
		return Order{{Kind: LeftShut, Steps: []Step{shut}}}
	}
	return Order{{Kind: LeftShut, Steps: []Step{shut}}, p}
}

// slack is what the clamp holds when it is opened.
func (m *maker) slack() *Slack {
	s := &Slack{Stages: stages}
	free := m.Clamp.Setting.SpringFree
	for _, r := range m.Clamp.Setting.PerRod {
		s.ForceN += r.ForceN
		give := r.ForceN * r.GapPerN
		if free > 0 {
			give = free - r.SpringMM
		}
		s.EnergyJ += r.ForceN * give / 2000
	}
	return s
}
