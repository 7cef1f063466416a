package work

import (
	"clampwright/assembly"
	"clampwright/params/unit"
)

// afterwardsPhase looks after the finished pack.
func afterwardsPhase(m *maker) Phase {
	p := Phase{Kind: Afterwards}.with(recheckStep(m))
	if m.f.Plate.TieSlots {
		p = p.with(Step{Kind: TieLeads})
	}
	if feet := m.f.Plate.Feet; feet != nil {
		p = p.with(Step{Kind: FixPack, Facts: &Feet{HoleMM: feet.HoleDia.MM()}, Uses: append(m.loose(assembly.RoleFoot), m.bought("ground-")...)})
	}
	return p
}

// littleCreep is the share of the force that may creep away before the nuts are
// worth a turn: about what half a flat of error in setting makes.
const littleCreep = 0.03

// recheckStep is when to look after the nuts again and how far to turn them: what
// creep takes, never the whole setting again.
func recheckStep(m *maker) Step {
	l := &Late{Charge: m.f.Clamp.StorageCharge, Held: m.held(), RodCaps: m.has(assembly.RoleRodCap)}
	s := Step{Kind: Recheck, Facts: l, Tools: []Tool{m.spanner()}, Risks: []Risk{{Kind: NutAtFull}}}
	if l.Held {
		return s
	}
	for _, when := range []When{Hour, Month} {
		if left := forceLeft(m, "after "+string(when)); left > 0 {
			s.Readings = append(s.Readings, Reading{What: ForceLeft, When: when, Low: left, High: left})
		}
	}
	if m.Serve[1] > 0 && m.f.Spring == nil {
		l.Creep = ByReading
		return s
	}
	if l.Yearly = m.Serve[1] > 0; l.Yearly {
		s.Readings = append(append(s.Readings, m.heights(Taller, springsAt(m, unit.Force(m.Serve[0])))...), m.heights(Shorter, springsAt(m, unit.Force(m.Serve[1])))...)
		s.Tools = append(s.Tools, Tool{Kind: Calliper})
	}
	late := forceLeft(m, "after "+string(Month))
	switch {
	case late <= 0 || late > 1-littleCreep:
		l.Creep = LeaveBe
	case m.Clamp.Setting.SpringFree > 0:
		l.Creep = ByHeight
		if store := m.state("storage charge"); store != nil && len(store.SpringMM) > 0 { // the cells have grown since the setting
			s.Readings = append(s.Readings, m.heights(AtStore, store.SpringMM)...)
		} else {
			s.Sets = Heights(m.Assembly, m.Clamp)
		}
	default:
		l.Creep = ByTurns
		for _, g := range m.Clamp.Setting.Groups() {
			s.Sets = append(s.Sets, Value{What: TurnsTo, Rods: m.rods(g.Rods), Value: g.Turns * (1 - late)})
		}
	}
	return s
}

// forceLeft is a state's force over that as tightened, 0 when not computed.
func forceLeft(m *maker, name string) float64 {
	first, then := m.state("as tightened"), m.state(name)
	if first == nil || then == nil || first.ForceN <= 0 {
		return 0
	}
	return then.ForceN / first.ForceN
}
