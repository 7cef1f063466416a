package work

import (
	"slices"

	"clampwright/assembly"
	"clampwright/assembly/wiring"
	"clampwright/parts"
)

// charging is the way from the clamped cells to the finished pack.
func (m *maker) charging() []Phase {
	if m.Plan == nil || !m.Proven {
		return []Phase{{Kind: Unproven}}
	}
	return m.wiring()
}

// wiring are the plan's own steps, a phase for every state. Putting the cells in and
// closing the clamp the first time are told by the clamp's own phases. The look at
// the clamp at full charge is added where it belongs.
func (m *maker) wiring() []Phase {
	var out []Phase
	stacked, closed, linked := false, false, false
	for _, s := range m.Plan.Steps {
		switch {
		case s.Action == wiring.Stack && !stacked:
			stacked = true
			continue
		case s.Action == wiring.Close && !closed:
			closed = true
			continue
		}
		state, _ := m.Plan.State(s.State)
		linked = linked || s.Action == wiring.Fit
		p := Phase{Kind: Balancing, State: state.Name}
		switch {
		case s.State == wiring.StateFinal && m.Plan.ID == wiring.Single && !linked:
			p.State = "each cell by itself"
		case s.State == wiring.StateFinal && m.Layout.Input().Series == 1:
			p = Phase{Kind: Finishing}
		case s.State == wiring.StateFinal:
			p = Phase{Kind: Linking}
		case m.Layout.Cells() == 1:
			p = Phase{Kind: FirstCharge}
		}
		if n := len(out); n == 0 || out[n-1].Kind != p.Kind || out[n-1].State != p.State {
			out = append(out, p)
		}
		last := &out[len(out)-1]
		last.Steps = append(last.Steps, m.wire(s, state))
		if (s.Action == wiring.Charge || s.Action == wiring.TopUp) && s.ToCharge >= 1 && closed {
			last.Steps = append(last.Steps, lookFullStep(m))
		}
	}
	return out
}

// wireRisks is what may go wrong in the plan's actions.
var wireRisks = map[wiring.Action][]RiskKind{
	wiring.Close: {Uncovered}, wiring.Open: {OpenedFull}, wiring.TurnCells: {LiftedBare}, wiring.Swap: {LiftedBare}, wiring.Fit: {TwoBare}, wiring.Remove: {Connected}, wiring.Sense: {TwoBare},
	wiring.Match: {StrayJoined}, wiring.Charge: {WrongVolts, Unwatched}, wiring.TopUp: {WrongVolts, Unwatched}, wiring.Discharge: {HotLoad},
}

// wireTools is what the plan's actions are done with.
var wireTools = map[wiring.Action][]ToolKind{
	wiring.Close: {Spanner, Spanner, Calliper}, wiring.Open: {Spanner, Spanner}, wiring.Swap: {Meter, Supply, Load}, wiring.Fit: {Driver, Meter, TestLead, Pad}, wiring.Remove: {Driver, Meter}, wiring.Measure: {Meter}, wiring.Sense: {Driver, Meter},
	wiring.Match: {Supply, Load, Meter}, wiring.Charge: {Supply, Meter}, wiring.TopUp: {Supply, Meter}, wiring.Discharge: {Load, Meter},
}

// wire is a step of the plan in one of its states.
func (m *maker) wire(s wiring.Step, state wiring.State) Step {
	in := m.Layout.Input()
	w := &Wired{Step: s, Layout: m.Layout, TorqueNMM: m.f.Cell.TerminalTorque.NMM()}
	out := Step{Kind: Wire, Facts: w}
	tools, risks := wireTools[s.Action], wireRisks[s.Action]
	if in.Welded && (s.Action == wiring.Fit || s.Action == wiring.Sense) {
		tools, risks = []ToolKind{Meter, TestLead}, []RiskKind{WeldedOn}
	}
	for _, k := range tools {
		t := Tool{Kind: k}
		if k == Spanner {
			t = m.spanner()
		}
		out.Tools = append(out.Tools, t)
	}
	for _, k := range risks {
		out.Risks = append(out.Risks, Risk{Kind: k})
	}
	if s.Action == wiring.Charge || s.Action == wiring.TopUp {
		out.Risks = append(gated(m, s.ToCharge), out.Risks...)
	}
	if s.Band.HighV > 0 {
		out.Readings = []Reading{{What: Volts, Low: s.Band.LowV, High: s.Band.HighV}}
	}
	switch s.Action {
	case wiring.Fit, wiring.Remove:
		if !in.Welded {
			out.Uses = m.links(s)
		}
		if slices.ContainsFunc(s.Before, func(b wiring.Before) bool { return b.Fused }) {
			out.Tools = append(out.Tools, Tool{Kind: FusedLead})
		}
	case wiring.Close:
		c := m.f.Clamp
		w.Again = &Again{Held: m.held(), JamNuts: m.f.JamNut != nil, NewNuts: m.f.Nut.DragMax > 0, Was: c.SetCharge, Now: c.StorageCharge}
		out.Readings = append(out.Readings, m.againHeights(w.Again)...)
	case wiring.Open:
		w.Slack = m.slack()
	case wiring.Charge, wiring.Discharge, wiring.TopUp:
		out.Sets = []Value{{What: ChargeTo, Places: slices.Concat(state.Places...), Value: s.ToCharge}}
	}
	switch s.Action {
	case wiring.Charge:
		out.Sets = append(out.Sets, Value{What: VoltsTo, Value: state.VoltageOf(in.Volts.Full)})
	case wiring.TopUp:
		out.Sets = append(out.Sets, Value{What: VoltsTo, Value: in.Volts.Full})
	}
	if s.Amps > 0 {
		out.Sets = append(out.Sets, Value{What: AmpsTo, Value: s.Amps})
	}
	out.Uses = append(out.Uses, m.fixings(s)...)
	if s.Action == wiring.Fit && s.State == wiring.StateFinal {
		m.last(&out)
	}
	return out
}

// last adds the voltage of the finished pack.
func (m *maker) last(s *Step) {
	in := m.Layout.Input()
	if v := in.Volts.Full * float64(in.Series); v > wiring.ShockV {
		s.Risks = append(s.Risks, Risk{Kind: ShockAndArc, Value: v})
		s.Tools = append(s.Tools, Tool{Kind: Insulated})
	}
}

// links are the bars and cables of a step by their part, each with the bars that
// stay in the finished pack.
func (m *maker) links(s wiring.Step) []Lot {
	var out []Lot
	for _, k := range s.Links {
		spec, _ := m.Layout.SpecFor(k, s.Turns, m.Plan.Specs)
		part := m.linkPart(spec.Mark)
		i := slices.IndexFunc(out, func(l Lot) bool { return l.Part == part })
		if i < 0 {
			i = len(out)
			out = append(out, Lot{Part: part, Group: assembly.RoleLink})
		}
		out[i].Count += wiring.Pieces([]wiring.Link{k})
		out[i].At = append(out[i].At, k.ID)
	}
	return out
}

// linkPart is the part of a kind of link.
func (m *maker) linkPart(mark string) *parts.Part {
	for _, l := range m.bill {
		if l.Part.Kind == parts.KindLink && l.Part.Mark == mark {
			return l.Part
		}
	}
	return nil
}

// fixings hold the links or the lugs of a step, or what stays when links come off: what
// the joints ask for as they are left.
func (m *maker) fixings(s wiring.Step) []Lot {
	if m.f.Cell.Welded {
		return nil
	}
	n, at := map[string]int{}, map[string][]string{}
	use := func(id string, pieces int, p wiring.Post) {
		if on := m.terminal(p); !slices.Contains(at[id], on) {
			n[id], at[id] = n[id]+pieces, append(at[id], on)
		}
	}
	joints := slices.Clone(s.Lugs)
	for _, b := range s.Before {
		joints = append(joints, b.After[:]...)
	}
	for _, j := range joints {
		if len(j.Lies) == 0 {
			continue
		}
		here := map[string]int{}
		for _, j := range j.Each() {
			k := j.Screw(m.Layout)
			here[assembly.Screw{LongMM: k.LongMM, GripMM: k.GripMM}.ID(m.f.Cell.StudHeight > 0)]++
			here["terminal-washer"] += 1 + j.Packing
			here["terminal-lock-washer"]++
			for _, x := range j.Lies {
				if x.Link == "" {
					here[assembly.SpacerID(x.MM)]++
				}
			}
		}
		for id, pieces := range here {
			use(id, pieces, j.Post)
		}
	}
	var out []Lot
	for _, l := range m.bought("terminal-") {
		if l.Count, l.At = n[l.Part.ID], at[l.Part.ID]; l.Count > 0 {
			out = append(out, l)
		}
	}
	return out
}

// terminals are the instances that a step works on: at its links, its lugs, or the
// take-offs.
func (m *maker) terminals(s wiring.Step, state wiring.State, mains bool) []string {
	var posts []wiring.Post
	for _, k := range s.Links {
		posts = append(posts, k.A, k.B)
	}
	for _, j := range s.Lugs {
		posts = append(posts, j.Post)
	}
	if mains {
		posts = append(posts, state.Mains.Minus, state.Mains.Plus)
	}
	var out []string
	for _, p := range posts {
		if id := m.terminal(p); !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

func (m *maker) terminal(p wiring.Post) string {
	n := m.f.Pack.PerRow
	return m.Assembly.TerminalID(assembly.TerminalAt{Row: p.Slot / n, Index: p.Slot % n, Side: int(p.Side)})
}

// againHeights are the springs' heights where the cells have grown since the first
// setting.
func (m *maker) againHeights(a *Again) []Reading {
	state := m.state("storage charge")
	if a.Held || a.Now == a.Was || state == nil || len(state.SpringMM) == 0 {
		return nil
	}
	return []Reading{{What: SpringHeight, When: AtStore, Low: slices.Min(state.SpringMM), High: slices.Max(state.SpringMM)}}
}

// bare says for every step from the cells' standing in the clamp on what is bare:
// all metal until it is covered, then the terminals worked on and the fitted bars.
func (m *maker) bare(o Order) {
	all := m.metal()
	var fitted []string
	for i := range o {
		for k := range o[i].Steps {
			s := &o[i].Steps[k]
			switch w, wired := s.Facts.(*Wired); {
			case wired:
				s.Bare = m.bareWired(w, &fitted)
			case o[i].Kind == Setting || o[i].Kind == Covering || s.Kind == StandCells || s.Kind == CloseFront || s.Kind == Square:
				s.Bare = slices.Clone(all)
			case len(fitted) > 0:
				s.Bare = []Bare{{Links, slices.Clone(fitted)}}
			}
		}
		if o[i].Kind == Covering {
			o[i].Steps[0].Bare = slices.DeleteFunc(o[i].Steps[0].Bare, func(b Bare) bool { return b.What != RodEnds })
			o[i].Steps[1].Bare = slices.DeleteFunc(o[i].Steps[1].Bare, func(b Bare) bool { return b.What == RodEnds })
			all = nil
		}
	}
}

// metal is what conducts near the terminals before it is covered, and the sawn ends.
func (m *maker) metal() []Bare {
	ids := func(g ...assembly.Role) []string {
		var out []string
		for _, l := range m.lots(nil, g...) {
			out = append(out, l.At...)
		}
		return out
	}
	var out []Bare
	if m.f.Plate.Material.Conducts {
		out = append(out, Bare{Plates, ids(assembly.RolePlate)})
	}
	if s := m.f.Stiffener; s != nil && s.Material.Conducts {
		var top []string
		for _, e := range []assembly.End{assembly.Front, assembly.Back} {
			top = append(top, m.Assembly.StiffenerAt(e, len(s.StandingUp)-1).ID)
		}
		out = append(out, Bare{Angles, top})
	}
	return append(out, Bare{NutsBare, ids(assembly.RoleNut, assembly.RoleJamNut, assembly.RoleWasher)}, Bare{RodEnds, ids(assembly.RoleRod)})
}

// bareWired keeps track of the fitted bars and says what is bare beside them.
func (m *maker) bareWired(w *Wired, fitted *[]string) []Bare {
	state, _ := m.Plan.State(w.State)
	for _, k := range w.Links {
		*fitted = slices.DeleteFunc(*fitted, func(id string) bool { return id == k.ID })
		if w.Action == wiring.Fit && !k.Cable {
			*fitted = append(*fitted, k.ID)
		}
	}
	var out []Bare
	if len(*fitted) > 0 {
		out = []Bare{{Links, slices.Clone(*fitted)}}
	}
	worked := w.Action == wiring.Charge || w.Action == wiring.Discharge || w.Action == wiring.Measure && w.Band.HighV > 0
	if on := m.terminals(w.Step, state, worked); len(on) > 0 {
		out = append(out, Bare{Terminals, on})
	}
	return out
}
