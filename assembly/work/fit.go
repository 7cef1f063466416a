package work

import (
	"math"
	"slices"

	"clampwright/assembly"
	"clampwright/assembly/wiring"
	"clampwright/params/unit"
)

// fittingPhase puts the clamp together round the cells, from the back to the front, in
// the order in which every part still goes on.
func fittingPhase(m *maker) Phase {
	c := m.f.Clamp
	p := Phase{Kind: Fitting, Charge: c.SetCharge, TempC: float64(c.AssemblyTemp), Pack: &m.f.Pack}
	if m.f.Plate.Feet != nil {
		p.Steps = append(p.Steps, feetStep(m))
	}
	if m.f.Plate.TieSlots {
		p.Steps = append(p.Steps, Step{Kind: ThreadTies, Tools: []Tool{{Kind: Ties}}})
	}
	if m.f.Spring != nil {
		p.Steps = append(p.Steps, springsStep(m))
	}
	p.Steps = append(p.Steps, backEndStep(m))
	if on := append(m.lots(at(assembly.Back), assembly.RoleEndCap), m.lots(nil, assembly.RoleSleeve)...); len(on) > 0 {
		p.Steps = append(p.Steps, Step{Kind: SlipOn, Uses: on})
	}
	return p.with(Step{Kind: CapCells, Uses: m.bought("cap-terminal")}, cellsInStep(m), frontEndStep(m), Step{Kind: Square, Facts: m.play(), Tools: append(raisers(m), Tool{Kind: Block})})
}

func (p Phase) with(s ...Step) Phase {
	p.Steps = append(p.Steps, s...)
	return p
}

// feet, or brackets of the builder's own, are screwed on first, while a screw's head
// can still be held.
func feetStep(m *maker) Step {
	return Step{Kind: ScrewFeet, Facts: &Feet{HoleMM: m.f.Plate.Feet.HoleDia.MM()}, Tools: []Tool{{Kind: Spanner}},
		Uses: append(m.lots(nil, assembly.RoleFoot), m.bought("foot-")...)}
}

// springsStep are put together before they go on: how many, at which end, and which
// way round.
func springsStep(m *maker) Step {
	s, f := m.f.Spring, m.f
	facts := &Springs{BothEnds: s.BothEnds, Disc: s.Disc != nil, Parallel: s.Parallel, Series: s.Series, Bushed: s.BushOuter > 0, Stock: m.Assembly.Of(assembly.RoleSpring)[0].Part.Stock}
	if s.Disc != nil {
		facts.WideFirst = f.Washer.Outer >= s.Disc.Outer // else the washer carries the narrow rim only
	}
	free := s.FreeHeight.MM()
	var tools []Tool
	if m.Weigh {
		facts.WeighN, tools = m.Clamp.Setting.RodN.Greatest, []Tool{{Kind: Scale}, {Kind: Calliper}}
	}
	return Step{Kind: SortSprings, Tools: tools, Uses: append(m.loose(assembly.RoleSpring), m.bought("spring-bush")...), Facts: facts, Readings: []Reading{{What: SpringHeight, When: Free, Low: free, High: free}}}
}

// levelMM is how far the plates' lower edges may be off the cells' underside and
// stand on the same board, mm: less than strips are made in.
const levelMM = 0.05

// raise is by how much the plates end above the cells, below 0 by how much under
// them, as packing can be had: to the nearest 64th of an inch or tenth of a
// millimetre, and never nothing.
func raise(m *maker) float64 {
	b := m.f.Plate.Bottom.MM()
	if math.Abs(b) <= levelMM {
		return 0
	}
	const inch64 = unit.MMPerInch / 64
	thick := max(0.1, math.Abs(b))
	if m.f.Style.Unit == unit.Inch {
		thick = max(1, math.Round(math.Abs(b)/inch64)) * inch64
	}
	return math.Copysign(thick, b)
}

// raisers are the strips or the board that plates and cells stand on.
func raisers(m *maker) []Tool {
	out := []Tool{{Kind: Board}}
	switch r := raise(m); {
	case r > 0:
		out = append(out, Tool{Kind: Strips, SizeMM: r})
	case r < 0:
		out = append(out, Tool{Kind: Raiser, SizeMM: -r})
	}
	return out
}

// face is an end of the clamp with what is put on from the plate outward.
func (m *maker) face(e assembly.End) *Face {
	out := &Face{End: e, Drags: m.f.Nut.DragMax > 0, RaiseMM: raise(m)}
	if s := m.f.Stiffener; s != nil {
		out.Inward = slices.Equal(s.StandingUp, []bool{true, false})
		for level, up := range s.StandingUp {
			in := m.Assembly.StiffenerAt(e, level)
			out.Angles = append(out.Angles, Angle{in.ID, in.Part, up})
		}
	}
	for i := range m.Assembly.Instances {
		in := &m.Assembly.Instances[i]
		if in.End == e && in.Column == 0 && in.Level == 0 && slices.Contains(onRods, in.Role) {
			out.Stack = append(out.Stack, in.Part)
		}
	}
	return out
}

// onRods is what sits on each rod at an end, up to the nut.
var onRods = []assembly.Role{assembly.RoleWasher, assembly.RoleSpring, assembly.RoleNut}

// backEndStep is the plate that the stack is built against, with all that is outside
// of it.
func backEndStep(m *maker) Step {
	uses := append(m.lots(at(assembly.Back), append([]assembly.Role{assembly.RolePlate, assembly.RoleStiffener}, onRods...)...), m.lots(nil, assembly.RoleRod)...)
	ends, long := m.Assembly.Placement.Ends[assembly.Back], m.f.Rods.Length.MM()
	out := ends.RodEnd - ends.Nut.Outer
	s := Step{Kind: BuildBack, Uses: uses, Facts: m.face(assembly.Back), Tools: append(raisers(m), m.spanner(), Tool{Kind: Calliper}),
		Readings: []Reading{{What: RodOut, End: assembly.Back, Low: out, High: out}, {What: RodLength, Low: long, High: long}}}
	if m.f.Nut.DragMax > 0 {
		s.Tools = append(s.Tools, m.pliers())
	}
	return s
}

func (m *maker) spanner() Tool { return Tool{Kind: Spanner, SizeMM: m.f.Nut.Flats.MM()} }
func (m *maker) pliers() Tool  { return Tool{Kind: Pliers, SizeMM: m.f.Tools.Pliers.JawWidth.MM()} }

// cellsInStep stands the cells in with what lies between them and the plates.
func cellsInStep(m *maker) Step {
	facts, stack := m.cells(), m.f.Pack.StackLength.MM()
	for slot, side := range firstTurns(m) {
		if side == wiring.Right {
			facts.Right = append(facts.Right, slot)
		} else {
			facts.Left = append(facts.Left, slot)
		}
	}
	facts.Frame = m.f.Separator != nil && m.f.Separator.Pattern == "frame"
	s := Step{Kind: StandCells, Facts: facts, Tools: raisers(m),
		Uses:     m.lots(nil, assembly.RoleCell, assembly.RoleFiller, assembly.RoleLiner, assembly.RoleSeparator, assembly.RoleGuard),
		Readings: []Reading{{What: StackLength, Low: stack, High: stack, Nominal: !m.f.Pack.Measured}}}
	if plate := m.f.Plate.Material; plate.Conducts {
		s.Risks = []Risk{{Kind: WrapAlone, Material: plate.Name}}
		if m.f.Liner != nil {
			s.Risks[0].Kind = LinersAlone
		}
	}
	if m.f.Cell.CaseLive {
		s.Risks = append(s.Risks, Risk{Kind: LiveCases})
	}
	return s
}

// firstTurns is how the cells stand when they go into the clamp; none without a plan.
func firstTurns(m *maker) wiring.Turns {
	if m.Plan == nil {
		return nil
	}
	for _, s := range m.Plan.Steps {
		if s.Action == wiring.Stack {
			state, _ := m.Plan.State(s.State)
			return state.Turns
		}
	}
	return nil
}

// frontEndStep closes the clamp.
func frontEndStep(m *maker) Step {
	return Step{Kind: CloseFront, Facts: m.face(assembly.Front), Risks: []Risk{{Kind: ToolOnCells}}, Tools: raisers(m),
		Uses: m.lots(at(assembly.Front), append([]assembly.Role{assembly.RoleEndCap, assembly.RolePlate, assembly.RoleStiffener}, onRods...)...)}
}
