package nest

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"clampwright/assembly"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Machining is how all that is cut from sheet is machined. The outside faces of the
// parts are up; the zero point of a sheet is its lower left corner.
type Machining struct {
	Machine params.Machine
	ToolMM  float64         // the cutter's diameter or the beam's kerf; 0 by hand
	Parts   map[string][]Op // by ID, in the part's own coordinates
	Sheets  []Machined      // as the layouts
	Hand    map[string]bool // by ID: what the machine does not cut
}

// On is what a part is made on: hand tools, for what is not cut from sheet too.
func (m Machining) On(p *parts.Part) params.Machine {
	if m.Parts[p.ID] == nil || m.Hand[p.ID] {
		return params.HandTools
	}
	return m.Machine
}

// ByDrill are the holes of a part that are drilled, by hand or as the tool can't enter.
func (m Machining) ByDrill(p *parts.Part) (out []parts.Hole) {
	ops := m.Parts[p.ID]
	for _, h := range p.Holes {
		drill := func(op Op) bool { return op.Kind == Drill && op.Circle.C.Dist(h.C) < geom.MinSize }
		if ops == nil || slices.ContainsFunc(ops, drill) {
			out = append(out, h)
		}
	}
	return out
}

// Tool is the tool's name; empty by hand.
func (m Machining) Tool() string {
	return map[params.Machine]string{params.Router: "cutter", params.Laser: "beam"}[m.Machine]
}

// Machined is one sheet.
type Machined struct {
	SheetLayout
	Ops   []Op        // in order: no outline before all that is inside
	Holds []geom.Box2 // where clamps or screws may hold it; none for a beam
	Hand  bool        // the machine does not cut what it is of
}

// Op is one run of the tool.
type Op struct {
	Kind         OpKind
	Piece        int         // of its sheet's Placed
	Circle, Tool geom.Circle // of a hole: as drawn, and where the tool's middle runs
	Drawn, Path  geom.Path   // of all else, closed; what narrow places split is drawn once
	Start        geom.Vec2   // where the tool goes down, in waste where there is room
	Tabs         []geom.Vec2 // middles, on the drawn edge
}

// OpKind is a kind of operation.
type OpKind string

// The kinds, in the order in which they are run. By hand holes are drilled and the rest
// is sawn on the line.
const (
	Drill   OpKind = "drill"   // what the tool can't enter is drilled, or opened ...
	ByHand  OpKind = "by hand" // ... with saw and file where it is not round
	Hole    OpKind = "hole"
	Slot    OpKind = "slot" // with two round ends
	Inside  OpKind = "inside"
	Outside OpKind = "outside"
	Kept    OpKind = "edges stay" // the sheet is the part already, but for its corners
)

var kinds = []OpKind{Drill, ByHand, Hole, Slot, Inside, Outside, Kept}

// Sizes of machining, mm: common practice, no source. A tab is TabMM wide and at most
// tabHigh high; edges over longMM have two. A cutter goes ThroughMM into the board. A
// sheet is held down in squares of HoldMM.
const (
	TabMM, tabHigh = 6.0, 3.0
	longMM         = 300.0
	ThroughMM      = 0.5
	HoldMM         = 30.0
)

// TabHighMM is how high tabs are: half the sheet where it is thin.
func TabHighMM(thick float64) float64 { return min(tabHigh, thick/2) }

// inOrder puts operations in the order in which they are run.
func inOrder(ops []Op) []Op {
	slices.SortStableFunc(ops, func(a, b Op) int { return cmp.Compare(slices.Index(kinds, a.Kind), slices.Index(kinds, b.Kind)) })
	return ops
}

// machine plans how the parts on a fixture's sheets are machined.
func machine(a *assembly.Assembly, sheets SheetPlan) (Machining, error) {
	profiles, hand := map[string]geom.Profile{}, map[string]bool{}
	for _, l := range a.PartsList() {
		if l.Part.Make == parts.MakeSheet && !l.Part.Joined {
			profiles[l.Part.ID], hand[l.Part.ID] = l.Part.Flat.Profile, byHand(a.Fixture, l.Part)
		}
	}
	m, tool := a.Fixture.Machine()
	return MachineSheets(m, tool, profiles, sheets, hand)
}

// byHand says of a part of sheet that no machine cuts it: a pad, which a knife cuts, and
// what a beam only chars.
func byHand(f *params.Fixture, p *parts.Part) bool {
	m, _ := f.Machine()
	mat, _ := f.Tables.Material(p.Material)
	return p.Soft || m.For(mat) != m
}

// Of is the machining as it is of one sheet: by hand where the machine does not cut it.
func (m Machining) Of(s Machined) Machining {
	if s.Hand {
		m.Machine, m.ToolMM = params.HandTools, 0
	}
	return m
}

// MachineSheets plans how profiles, by ID, are machined where they lie on sheets; those
// in hand by hand.
func MachineSheets(by params.Machine, toolMM float64, profiles map[string]geom.Profile, sheets SheetPlan, hand map[string]bool) (Machining, error) {
	m := Machining{Machine: by, ToolMM: toolMM, Parts: map[string][]Op{}, Hand: hand}
	for _, id := range slices.Sorted(maps.Keys(profiles)) {
		width := toolMM
		if hand[id] {
			width = 0
		}
		ops, err := Operations(profiles[id], width)
		if err != nil {
			return m, fmt.Errorf("%s: %w", id, err)
		}
		m.Parts[id] = ops
	}
	for _, l := range sheets.Layouts {
		s := Machined{SheetLayout: l}
		for i, p := range l.Placed {
			s.Hand = hand[p.ID]
			for _, op := range m.Parts[p.ID] {
				op.Piece = i
				if op.Kind == Outside && toolMM > 0 && !s.Hand && p.WidthMM >= l.Sheet.Width.MM()-FitMM && p.HeightMM >= l.Sheet.Height.MM()-FitMM {
					op = Op{Kind: Kept, Piece: i, Drawn: op.Drawn, Path: op.Drawn, Start: op.Drawn.Bounds().Center()}
				}
				s.Ops = append(s.Ops, op.At(SpotOf(p, profiles[p.ID])))
			}
		}
		s.Ops = inOrder(s.Ops)
		if m.Machine == params.Router && !s.Hand {
			s.anchor(m.ToolMM)
			s.Holds = s.holds(m.ToolMM)
		}
		m.Sheets = append(m.Sheets, s)
	}
	return m, nil
}

// Spot maps a part's own coordinates to its sheet.
type Spot struct {
	turned bool
	shift  geom.Vec2
}

// SpotOf puts the lower left corner of the part's box where the placement says.
func SpotOf(p Placement, profile geom.Profile) Spot {
	s := Spot{turned: p.Turned}
	if p.Turned {
		profile = profile.Turned(math.Pi / 2)
	}
	s.shift = p.At.Sub(profile.Bounds().Min)
	return s
}

// Point is where a point of the part lies.
func (s Spot) Point(v geom.Vec2) geom.Vec2 {
	if s.turned {
		v = v.Perp()
	}
	return v.Add(s.shift)
}

func (s Spot) path(p geom.Path) geom.Path {
	out := slices.Clone(p)
	for i := range out {
		out[i].P = s.Point(out[i].P)
	}
	return out
}

// At is the operation on the sheet.
func (op Op) At(s Spot) Op {
	op.Drawn, op.Path, op.Start = s.path(op.Drawn), s.path(op.Path), s.Point(op.Start)
	op.Circle.C, op.Tool.C = s.Point(op.Circle.C), s.Point(op.Tool.C)
	op.Tabs = slices.Clone(op.Tabs)
	for i := range op.Tabs {
		op.Tabs[i] = s.Point(op.Tabs[i])
	}
	return op
}

// Done are the operations on a piece of a part: as it lies, of the first there is.
func (m Machining) Done(id string) (ops []Op) {
	for _, s := range m.Sheets {
		i := slices.IndexFunc(s.Placed, func(p Placement) bool { return p.ID == id })
		for _, op := range s.Ops {
			if op.Piece == i {
				ops = append(ops, op)
			}
		}
		if i >= 0 {
			return ops
		}
	}
	return m.Parts[id]
}

// Swept is the box of what the tool sweeps, lead-in and all; empty where it does not run.
func (op Op) Swept(toolMM float64) geom.Box2 {
	box := geom.EmptyBox2()
	if op.Kind == Hole {
		return geom.Box2{Min: op.Tool.C, Max: op.Tool.C}.Grown(op.Tool.R + toolMM/2)
	}
	for _, run := range op.Runs(toolMM) {
		box = box.Add(run[0].P).Union(op.Path.Bounds())
	}
	return box.Grown(toolMM / 2)
}

// BoxOf is the box of a piece where it lies.
func (l SheetLayout) BoxOf(piece int) geom.Box2 {
	p := l.Placed[piece]
	return geom.Box2{Min: p.At, Max: p.At.Add(geom.Vec2{X: p.WidthMM, Y: p.HeightMM})}
}

// holds are the squares nearest to the four corners of the sheet that no tool sweeps.
func (s Machined) holds(toolMM float64) (out []geom.Box2) {
	size := geom.Vec2{X: s.Sheet.Width.MM(), Y: s.Sheet.Height.MM()}
	var swept []geom.Box2
	for _, op := range s.Ops {
		swept = append(swept, op.Swept(toolMM))
	}
	free := func(b geom.Box2) bool {
		return !slices.ContainsFunc(swept, func(o geom.Box2) bool { return o.Dist(b) < webMM }) && !slices.ContainsFunc(out, func(o geom.Box2) bool { return o.Dist(b) < HoldMM })
	}
	for _, corner := range []geom.Vec2{{}, {X: size.X}, {Y: size.Y}, size} {
		best, near := geom.Box2{}, math.Inf(1)
		for x := 0.0; x <= size.X-HoldMM; x += HoldMM / 3 {
			for y := 0.0; y <= size.Y-HoldMM; y += HoldMM / 3 {
				b := geom.Box2{Min: geom.Vec2{X: x, Y: y}, Max: geom.Vec2{X: x + HoldMM, Y: y + HoldMM}}
				if d := b.Center().Dist(corner); d < near && free(b) {
					best, near = b, d
				}
			}
		}
		if !math.IsInf(near, 1) {
			out = append(out, best)
		}
	}
	return out
}
