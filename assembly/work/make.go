package work

import (
	"math"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/assembly/nest"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/parts"
)

// Input is what the order of work follows from.
type Input struct {
	Assembly *assembly.Assembly
	Clamp    *clamp.Result
	Nest     *nest.Nesting
	Layout   *wiring.Layout
	Plan     *wiring.Plan // nil where the wiring could not be planned
	Proven   bool
	Serials  []string   // of the cells on record, by place
	Weigh    bool       // one spring of every rod, for the height to set
	Torque   bool       // the nuts are set by torque
	Gate     float64    // mm that the plates must come closer from snug to as set before the cells are charged above storage charge; 0: no gate
	Serve    [2]float64 // forces of all rods outside which a yearly reading has the clamp set again; zeros: not read
}

type maker struct {
	Input
	f    *params.Fixture
	bill []assembly.PartLine
}

// Of is the order of work with a fixture's parts and figures.
func Of(in Input) Order {
	m := &maker{in, in.Assembly.Fixture, in.Assembly.Bill()}
	out := Order{gettingPhase(m), checkingPhase(m), makingPhase(m), fittingPhase(m), settingPhase(m), coveringPhase(m)}
	out = append(append(out, m.charging()...), afterwardsPhase(m))
	m.bare(out)
	return out
}

// lots are the instances of groups, sorted by part and end.
func (m *maker) lots(keep func(*assembly.Instance) bool, groups ...assembly.Role) []Lot {
	var out []Lot
	for _, g := range groups {
		for _, in := range m.Assembly.Of(g) {
			if keep != nil && !keep(in) {
				continue
			}
			k := slices.IndexFunc(out, func(l Lot) bool { return l.Part == in.Part && l.Group == g && l.End == in.End })
			if k < 0 {
				k = len(out)
				out = append(out, Lot{Part: in.Part, Group: g, End: in.End})
			}
			out[k].Count++
			out[k].At = append(out[k].At, in.ID)
		}
	}
	return out
}

// loose are lots of groups that are handled and not yet put in their places.
func (m *maker) loose(groups ...assembly.Role) []Lot {
	out := m.lots(nil, groups...)
	for i := range out {
		out[i].At = nil
	}
	return out
}

// at keeps the instances of one end.
func at(e assembly.End) func(*assembly.Instance) bool {
	return func(in *assembly.Instance) bool { return in.End == e }
}

func (m *maker) has(g assembly.Role) bool { return len(m.Assembly.Of(g)) > 0 }

// held says that the cells are held, not pressed.
func (m *maker) held() bool { return m.f.Cell.Compression == params.CompressNone }

// bought are the pieces of bill lines whose part's id begins so: small fixings, and
// printed aids.
func (m *maker) bought(prefixes ...string) []Lot {
	var out []Lot
	for _, prefix := range prefixes {
		for _, l := range m.bill {
			if strings.HasPrefix(l.Part.ID, prefix) {
				out = append(out, Lot{Part: l.Part, Count: l.Pieces})
			}
		}
	}
	return out
}

// gettingPhase is what is bought and printed before anything is cut.
func gettingPhase(m *maker) Phase {
	buy, out := Step{Kind: Buy}, Step{Kind: Print, Tools: []Tool{{Kind: BedPrint}}}
	for _, l := range m.bill {
		switch lot := (Lot{Part: l.Part, Count: l.Pieces}); l.Part.Make {
		case parts.MakeBuy, parts.MakeOwn:
			buy.Makes = append(buy.Makes, lot)
		case parts.MakePrint:
			out.Makes = append(out.Makes, lot)
		}
	}
	if len(out.Makes) == 0 {
		return Phase{Kind: Getting, Steps: []Step{buy}}
	}
	return Phase{Kind: Getting, Steps: []Step{buy, out}}
}

// cells are the cells with their places.
func (m *maker) cells() *Cells { return &Cells{Pack: &m.f.Pack, Serials: m.Serials} }

// checkingPhase is what is done with the cells before anything is cut to them: where the
// stack is reckoned from nominal thicknesses, these are added up.
func checkingPhase(m *maker) Phase {
	facts := m.cells()
	facts.Unknown = m.f.Cell.Unknown()
	s := Step{Kind: CheckCells, Facts: facts, Tools: []Tool{{Kind: Calliper}, {Kind: Edge}, {Kind: Meter}, {Kind: Pen}},
		Uses: append(m.loose(assembly.RoleCell), m.bought("bulge-feeler")...), Risks: []Risk{{Kind: Swelling}}}
	if c := m.f.Cell; !c.Welded && c.StudHeight == 0 && c.ThreadDepth == 0 {
		s.Tools = append(s.Tools, Tool{Kind: Probe})
	}
	if p := m.f.Pack; !p.Measured {
		for row := range p.Rows {
			n := float64(p.CellsIn(row))
			sum, slack := n*m.f.Cell.Thickness.MM(), n*m.f.Cell.ThicknessTol.MM()
			s.Readings = append(s.Readings, Reading{What: RowSum, Row: row, Low: sum - slack, High: sum + slack, Record: true})
		}
	}
	return Phase{Kind: Checking, Steps: []Step{s}}
}

// makingPhase is the work on sheet, bar and rod.
func makingPhase(m *maker) Phase {
	p := Phase{Kind: Making}
	for _, c := range m.Nest.Cuts {
		p.Steps = append(p.Steps, cutStep(m, c))
	}
	drill := func(sheets bool) {
		for _, l := range m.Assembly.PartsList() {
			if sheets == (l.Part.Kind == parts.KindPlySheet) && l.Part.Flat != nil && l.Part.Make != parts.MakePrint && len(m.Nest.Machining.ByDrill(l.Part)) > 0 {
				p.Steps = append(p.Steps, drillStep(m, l))
			}
		}
	}
	if m.f.Plate.Laminate != nil { // plates are drilled when their sheets are joined
		drill(true)
		p.Steps = append(p.Steps, joining(m))
	}
	drill(false)
	through := []assembly.Role{assembly.RolePlate, assembly.RoleStiffener, assembly.RoleEndCap, assembly.RoleRod, assembly.RoleSleeve}
	p.Steps = append(p.Steps, Step{Kind: Deburr, Tools: []Tool{{Kind: Deburrer}, {Kind: File}}, Facts: &Nuts{DragNMM: m.f.Nut.DragMax.NMM()}},
		Step{Kind: DryFit, Uses: m.loose(through...), Facts: m.play()})
	return p
}

// pilotShare is a pilot hole's diameter in wood or plastic beside its screw's: common
// practice, no source.
const pilotShare = 0.7

// joining makes plates of their sheets.
func joining(m *maker) Step {
	screw := m.f.Plate.Laminate.Screw.MM()
	pilot := m.bits(pilotShare * screw)[0]
	s := Step{Kind: Join, Makes: m.loose(assembly.RolePlate), Tools: []Tool{{Kind: Turner, SizeMM: screw}, {Kind: Board}, {Kind: Weights}, pilot},
		Facts: &Joining{m.f.Plate.Laminate, m.Assembly.Sheets(), len(m.Assembly.SheetScrews()), len(m.Assembly.Of(assembly.RolePlate)), pilot}}
	for _, l := range m.Assembly.Sheets() {
		s.Uses = append(s.Uses, Lot{Part: l.Part, Count: 2 * len(l.Of)})
	}
	s.Uses = append(s.Uses, m.bought("sheet-")...)
	return s
}

func (m *maker) play() *Play {
	p := &Play{RaiseMM: raise(m), Sleeves: m.has(assembly.RoleSleeve)}
	if p.Sleeves {
		p.SleeveMM = 2 * m.f.Sleeve.EndGap.MM()
	}
	return p
}

// cutStep cleans a rod's thread with a nut that has no drag of its own.
func cutStep(m *maker, c nest.Cut) Step {
	facts := &Cut{Cut: c, CleansThread: m.f.Nut.DragMax <= 0, Machine: m.Nest.Machining.On(c.Part), ToolMM: m.Nest.Machining.ToolMM, Compensated: m.f.Stock.Compensate, Ops: m.Nest.Machining.Done(c.Part.ID)}
	s := Step{Kind: CutPart, Makes: []Lot{{Part: c.Part, Count: c.Quantity}}, Tools: []Tool{{Kind: Saw}}, Facts: facts}
	if c.Part.Soft {
		s.Tools[0].Kind = Knife
	}
	if c.Part.Make == parts.MakeRod {
		s.Uses = m.bought("cleaning-nut")
	}
	if facts.Machine != params.HandTools {
		s.Tools = []Tool{{Kind: ToolKind(facts.Machine), SizeMM: facts.ToolMM}}
	}
	if mat, ok := m.f.Tables.Material(c.Part.Material); ok && mat.Dust == "glass" {
		s.Risks, s.Tools = []Risk{{Kind: GlassDust}}, append(s.Tools, Tool{Kind: Mask})
	}
	return s
}

// drillStep is how a part that is drilled by hand gets its holes.
func drillStep(m *maker, l assembly.PartLine) Step {
	p := l.Part
	d := &Drilling{Line: l, Machine: m.Nest.Machining.On(p)}
	if d.Machine == params.HandTools {
		d.Slots = parts.Slots(p.Flat)
	}
	s := Step{Kind: Drill, Uses: []Lot{{Part: p, Count: l.Quantity}}, Tools: []Tool{{Kind: Goggles}}, Facts: d}
	switch p.Kind {
	case parts.KindPlySheet:
		d.Together = l.Quantity > 1
	case parts.KindPlate:
		d.Together = l.Quantity > 1
		m.guide(&s, "plate-guide")
	case parts.KindStiffener:
		d.Together = l.Quantity > 1 && Mirrored(p.Holes)
		m.guide(&s, "angle-guide")
	}
	if d.Together {
		s.Tools = append(s.Tools, Tool{Kind: Clamps})
	}
	for _, h := range m.Nest.Machining.ByDrill(p) {
		alike := func(o Holes) bool { return o.For == h.For && o.DiaMM == h.DiaMM && o.PilotMM == h.PilotMM }
		if k := slices.IndexFunc(d.Holes, alike); k >= 0 {
			d.Holes[k].IDs = append(d.Holes[k].IDs, h.ID)
			continue
		}
		bits := m.bits(parts.DrillSteps(h.PilotMM, h.DiaMM)...)
		d.Holes = append(d.Holes, Holes{h, []string{h.ID}, bits})
		s.Tools = append(s.Tools, bits...)
	}
	for _, slot := range d.Slots {
		d.SlotBits = append(d.SlotBits, m.bits(slot.DiaMM)...)
	}
	s.Tools = append(s.Tools, d.SlotBits...)
	return s
}

// bits are the drills to take for holes.
func (m *maker) bits(mm ...float64) []Tool {
	var out []Tool
	for _, size := range mm {
		t := Tool{Kind: Bit, SizeMM: size}
		if d, ok := m.f.Tools.Drill(size); ok {
			t.Bit = d
		}
		out = append(out, t)
	}
	return out
}

// Mirrored says whether holes lie alike on both sides of the part's middle.
func Mirrored(holes []parts.Hole) bool {
	for _, h := range holes {
		if !slices.ContainsFunc(holes, func(o parts.Hole) bool { return math.Hypot(o.C.X+h.C.X, o.C.Y-h.C.Y) < sameHoleMM }) {
			return false
		}
	}
	return true
}

// sameHoleMM is how far two holes may lie apart and be one, mm: rounding only.
const sameHoleMM = 1e-3

// guide adds the printed guides of a kind to a step, with the corners they serve.
func (m *maker) guide(s *Step, id string) {
	d := s.Facts.(*Drilling)
	for _, a := range m.Assembly.Aids {
		if strings.HasPrefix(a.ID, id) {
			d.Guides = append(d.Guides, Guide{a.Part, assembly.CornersOf(m.Assembly, a.Part, d.Line.Part)})
		}
	}
	if len(d.Guides) > 0 {
		d.BushMM = m.f.Prints.Bushing.MM()
		s.Uses = append(s.Uses, m.bought(id)...)
	}
}
