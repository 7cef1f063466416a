package work

import (
	"math"
	"slices"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/params"
	"clampwright/params/unit"
)

// stages is the number of equal parts in which the turns are made, so that the
// plates stay parallel.
const stages = 4

// evenMM is how far the distances of the plates at the rods may differ, mm: common
// practice, no source.
const evenMM = 0.5

// settingPhase brings the nuts to where the force is right.
func settingPhase(m *maker) Phase {
	p := Phase{Kind: Setting, Charge: m.f.Clamp.StorageCharge, Steps: []Step{snugStep(m)}}
	if !SnugIsAll(m.f, m.Clamp) {
		p = p.with(forceStep(m))
	}
	if m.f.JamNut != nil {
		p = p.with(Step{Kind: LockNuts, Uses: m.lots(nil, assembly.RoleJamNut), Tools: []Tool{m.spanner(), m.spanner()}})
	}
	if !SnugIsAll(m.f, m.Clamp) {
		p = p.with(measuredStep(m))
	}
	return p
}

// SnugIsAll says that there is nothing to set past snug: the cells are only held,
// or the turns left are fewer than a hand can set.
func SnugIsAll(f *params.Fixture, c *clamp.Result) bool {
	return f.Cell.Compression == params.CompressNone || c.Setting.SnugIsEnough()
}

// padsOut is by how much pads stand further out with the nuts finger tight than as set.
func padsOut(m *maker) float64 {
	set := m.f.Cell.ForceTarget
	rows := float64(m.f.Pack.Rows)
	snug := clamp.Input{Rods: make([]clamp.Rod, len(m.f.Ties()))}.SnugTotalN(rows*set.N()) / rows
	return (m.f.PadsGive(set) - m.f.PadsGive(unit.Force(snug))).MM()
}

// snugStep is where the turns are counted from, found in a way that the nut allows.
func snugStep(m *maker) Step {
	n := &Nuts{Order: crosswise(m), DragNMM: m.f.Nut.DragMax.NMM(), EvenMM: evenMM, Held: m.held(), Enough: SnugIsAll(m.f, m.Clamp)}
	n.Grease = m.Torque && !n.Enough
	s := Step{Kind: Snug, Facts: n, Tools: []Tool{{Kind: Calliper}}}
	gap := 2*m.Assembly.Placement.Ends[assembly.Front].Plate.Inner + padsOut(m)
	s.Readings = append([]Reading{{What: PlateGap, When: AtSnug, Rods: Rods{IDs: n.Order, All: true}, Low: gap, High: gap, Nominal: !m.f.Pack.Measured, Record: true}}, m.springReadings(AtSnug)...)
	if n.DragNMM <= 0 {
		return s
	}
	s.Risks = []Risk{{Kind: ToolAtCells}}
	n.Hold, n.BareMM = m.hold()
	s.Tools = append(s.Tools, m.spanner(), m.spanner())
	if n.Hold == HoldMiddle || n.Hold == HoldBared {
		s.Tools[2] = m.pliers()
	}
	return s
}

// hold is how a rod is kept from turning with a nut that drags, and what a sleeve
// pushed to the back bares, mm.
func (m *maker) hold() (Hold, float64) {
	p := m.f.Tools.Pliers
	switch {
	case p.JawThickness <= 0 || p.JawWidth <= 0:
		return HoldSpanner, 0
	case m.f.Sleeve == nil:
		return HoldMiddle, 0
	}
	bare := 2*m.Assembly.Placement.Ends[assembly.Front].Plate.Inner - m.Assembly.SleeveLength()
	for _, c := range m.Assembly.Of(assembly.RoleEndCap) {
		bare -= c.Part.SizeMM[2] / 2 // a cap at each end; half the gap is at each
	}
	if bare < p.JawWidth.MM() {
		return HoldNoRoom, bare
	}
	return HoldBared, bare
}

// springReadings are the springs' heights to be written down: of one where all carry
// alike, else of every rod's, whose mean stands for as much force.
func (m *maker) springReadings(when When) []Reading {
	if m.f.Spring == nil {
		return nil
	}
	return []Reading{{What: SpringHeight, When: when, Rods: Rods{IDs: crosswise(m), All: true}, Record: true, Mean: len(m.Clamp.Setting.Groups()) > 1}}
}

// forceStep turns the nuts from snug to the force, in stages.
func forceStep(m *maker) Step {
	f := &Forcing{Stages: stages, Weighed: m.Weigh, Torque: m.Torque}
	s := Step{Kind: SetForce, Facts: f, Tools: []Tool{{Kind: Pen}, {Kind: Goggles}, m.spanner(), m.spanner()}, Risks: wrench(m)}
	if m.Torque {
		s.Tools, s.Risks = []Tool{{Kind: Pen}, {Kind: Goggles}, {Kind: Wrench}, m.spanner()}, nil
		for k := 1; k <= stages; k++ {
			for _, g := range m.Clamp.Setting.Groups() {
				part := float64(k) / stages
				s.Sets = append(s.Sets, Value{What: TorqueTo, Rods: m.rods(g.Rods), Stage: k, Value: part * GreasedNMM(m.f, g.ForceN), ForceN: part * g.ForceN})
			}
		}
		return s
	}
	for k := 1; k <= stages; k++ {
		for _, g := range m.Clamp.Setting.Groups() {
			s.Sets = append(s.Sets, Value{What: TurnsTo, Rods: m.rods(g.Rods), Stage: k, Value: g.Turns * float64(k) / stages})
		}
	}
	if m.Clamp.Setting.SpringFree <= 0 {
		return s
	}
	s.Sets = append(s.Sets, Heights(m.Assembly, m.Clamp)...)
	s.Tools = append(s.Tools, Tool{Kind: Calliper})
	f.NoGauge = m.f.Prints.Gauges
	for _, g := range m.bought("spring-gauge") {
		f.Gauge, f.NoGauge = g.Part, false
		f.GoMM, f.NoGoMM = m.Assembly.GaugeHeights()
		f.Fits = fits(m.Clamp.Setting.SpringMM, 2*m.f.Washer.Thickness.MM(), f.GoMM, f.NoGoMM)
		s.Uses = append(s.Uses, g)
	}
	return s
}

// GreasedNMM is the torque that gives a rod a force, threads and faces greased, N·mm:
// T = K d F, K the least of the band of friction.
func GreasedNMM(f *params.Fixture, forceN float64) float64 {
	return f.Clamp.FrictionLow * f.Rods.Thread.Major.MM() * forceN
}

// fits says whether every spring, set right, passes a gauge for heights from least
// to most, mm, the two washers included.
func fits(s clamp.Span, under, most, least float64) bool {
	return s.Least+under >= least && s.Greatest+under <= most
}

// wrench is why a torque wrench is not the way.
func wrench(m *maker) []Risk {
	s := m.Clamp.Setting
	switch drag := s.DragNMM.Greatest; {
	case s.WrenchOK:
		return nil
	case drag > s.ClampNMM.Least:
		return []Risk{{Kind: DragHides, Value: drag, Span: s.ClampNMM}}
	}
	return []Risk{{Kind: TorqueWide, Span: s.TorqueNMM}}
}

// Heights are the height and the force of each group's springs when set.
func Heights(a *assembly.Assembly, c *clamp.Result) []Value {
	var out []Value
	for _, g := range c.Setting.Groups() {
		out = append(out, Value{What: HeightTo, Rods: RodsOf(a, g.Rods), Value: g.SpringMM, ForceN: g.ForceN, FreeMM: c.Setting.SpringFree})
	}
	return out
}

func (m *maker) rods(index []int) Rods { return RodsOf(m.Assembly, index) }

// RodsOf are the rods of the given indices, in the order of the mechanics: level by
// level from below.
func RodsOf(a *assembly.Assembly, index []int) Rods {
	columns, levels := len(a.Placement.Columns), len(a.Placement.Levels)
	out := Rods{All: len(index) == columns*levels, Levels: levels}
	for _, i := range index {
		out.IDs = append(out.IDs, a.RodAt(i%columns, i/columns).ID)
		for l := range levels {
			if levels < 2 || !slices.Contains(index, l*columns+i%columns) {
				out.Levels = 0
			}
		}
	}
	return out
}

// crosswise names all rods, each after the one across from it, the middle columns
// first.
func crosswise(m *maker) []string {
	var out []string
	for _, c := range facing(len(m.f.Rods.Columns)) {
		for _, l := range facing(len(m.f.Rods.Levels)) {
			for _, at := range [][2]int{{c[0], l[0]}, {c[1], l[1]}, {c[1], l[0]}, {c[0], l[1]}} {
				if id := m.Assembly.RodAt(at[0], at[1]).ID; !slices.Contains(out, id) {
					out = append(out, id)
				}
			}
		}
	}
	return out
}

// facing pairs the places of a row of n with those across, from the middle out.
func facing(n int) [][2]int {
	var out [][2]int
	for i := (n - 1) / 2; i >= 0; i-- {
		out = append(out, [2]int{i, n - 1 - i})
	}
	return out
}

// measuredStep are the readings that tell how stiff these cells are; with locked nuts
// they hardly do.
func measuredStep(m *maker) Step {
	s := Step{Kind: MeasureStack, Tools: []Tool{{Kind: Calliper}, m.spanner()}, Facts: &Nuts{EvenMM: evenMM, Bench: m.f.Spring != nil},
		Readings: append([]Reading{{What: PlateGap, When: AtSet, Rods: Rods{IDs: crosswise(m), All: true}, Record: true}}, m.springReadings(AtSet)...)}
	if m.Gate > 0 {
		s.Readings = append(s.Readings, Reading{What: PlatesCloser, When: AtSet, Low: m.Gate, Record: true})
	}
	for _, e := range []assembly.End{assembly.Front, assembly.Back} {
		out := m.Assembly.Placement.Ends[e].Protrusion()
		s.Readings = append(s.Readings, Reading{What: RodOut, End: e, Low: out, High: out})
	}
	return s
}

// gated are the risks of a charge to a part of full, before the reading that it waits for.
func gated(m *maker, to float64) []Risk {
	if m.Gate <= 0 || to <= m.f.Clamp.StorageCharge {
		return nil
	}
	return []Risk{{Kind: GateShut, Value: m.Gate}}
}

// coveringPhase is done before the first link makes the pack live.
func coveringPhase(m *maker) Phase {
	return Phase{Kind: Covering, Steps: []Step{
		{Kind: CoverEnds, Uses: m.lots(nil, assembly.RoleRodCap), Tools: []Tool{{Kind: Tape}}},
		{Kind: CoverNear, Tools: []Tool{{Kind: Tape}}, Uses: m.bought("cover-")}}}
}

// lookFullStep looks at the clamp where it is loaded most, without touching it: every plan
// has all cells full at once.
func lookFullStep(m *maker) Step {
	f := &Full{Held: m.held()}
	s := Step{Kind: LookFull, Facts: f, Risks: []Risk{{Kind: Swelling}, {Kind: NutAtFull}}}
	if f.Held {
		return s
	}
	full := m.state("full")
	if f.Reckoned = full != nil; !f.Reckoned {
		return s
	}
	s.Readings = []Reading{{What: ForceAll, When: AtFull, Low: full.ForceN, High: full.ForceN}}
	if f.Springs = len(full.SpringMM) > 0; f.Springs {
		s.Tools = []Tool{{Kind: Calliper}}
		s.Readings = append(append(s.Readings, m.heights(AtFull, full.SpringMM)...), m.heights(AtLimit, springsAt(m, m.f.Cell.ForceLimit*unit.Force(m.f.Pack.Rows)))...)
		return s
	}
	s.Tools = []Tool{{Kind: Edge}, {Kind: Calliper}}
	if set := m.state("as tightened"); set != nil {
		f.SetBow = &set.DeflectionMM
	}
	s.Readings = append(append(s.Readings, Reading{What: PlatesBow, When: AtFull, Low: full.DeflectionMM, High: full.DeflectionMM}), m.parted(full)...)
	return s
}

// heights are one spring height for each group of rods, mm is those of all rods in
// the order of the mechanics.
func (m *maker) heights(when When, mm []float64) []Reading {
	var out []Reading
	for _, g := range m.Clamp.Setting.Groups() {
		r := Reading{What: SpringHeight, When: when, Rods: m.rods(g.Rods), Low: math.Inf(1), High: math.Inf(-1)}
		for _, i := range g.Rods {
			r.Low, r.High = min(r.Low, mm[i]), max(r.High, mm[i])
		}
		out = append(out, r)
	}
	return out
}

// readsMM is what two readings of a calliper from plate to plate tell apart, mm:
// common practice, no source.
const readsMM = 0.05

// parted are how much farther apart the plates are in a state than when set, beside
// the rods; up to readsMM where it is no more.
func (m *maker) parted(state *clamp.State) []Reading {
	var out []Reading
	for _, g := range m.Clamp.Setting.Groups() {
		gap := 0.0
		for _, i := range g.Rods {
			r := m.Clamp.Setting.PerRod[i]
			gap += (state.RodForceN[i] - r.ForceN) * r.GapPerN / float64(len(g.Rods))
		}
		r := Reading{What: PlatesParted, When: AtFull, Rods: m.rods(g.Rods), Low: gap, High: gap}
		if gap < readsMM {
			r.Low, r.High = 0, readsMM
		}
		out = append(out, r)
	}
	return out
}

// springsAt is how high the spring of each rod is when all rods carry a force, shared as
// when set, mm.
func springsAt(m *maker, force unit.Force) []float64 {
	sum := 0.0
	for _, r := range m.Clamp.Setting.PerRod {
		sum += r.ForceN
	}
	var out []float64
	for _, r := range m.Clamp.Setting.PerRod {
		out = append(out, m.f.Spring.HeightAt(force*unit.Force(r.ForceN/sum)).MM())
	}
	return out
}

// state is a computed state by its name; nil when not computed.
func (m *maker) state(name string) *clamp.State {
	for i := range m.Clamp.States {
		if m.Clamp.States[i].Name == name {
			return &m.Clamp.States[i]
		}
	}
	return nil
}
