package nest

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// freeMM is how much wider than the tool a hole must be, mm: a cutter that
// plunges on the spot makes a hole, but neither round nor to size. Common
// practice, no source. A beam needs no such room.
const freeMM = 0.2

// beamMM is the width up to which a tool is taken for a beam that plunges
// anywhere: laser kerfs are below half a millimetre.
const beamMM = 0.6

// ErrSplit is an outline that falls apart when it is offset.
var ErrSplit = errors.New("the outline falls apart")

// Operations are what is done to a profile with a tool of the given width (a cutter's
// diameter or a beam's kerf, mm; 0 by hand) so that the profile is left as drawn, in
// order: what is inside first. The middle of the tool runs on their paths.
func Operations(p geom.Profile, widthMM float64) ([]Op, error) {
	if !(widthMM >= 0 && widthMM <= 2*maxOffsetMM) {
		return nil, fmt.Errorf("tool width %g mm: want 0 to %d", widthMM, 2*maxOffsetMM)
	}
	if err := p.Validate(); err != nil {
		return nil, err
	}
	var out []Op
	for _, h := range p.Circles {
		out = append(out, hole(h, widthMM))
	}
	round := parts.Slots(&parts.Flat{Profile: p})
	for i, s := range p.Slots {
		kind := Inside
		for _, r := range round {
			if r.ID == parts.SlotID(i) {
				kind = Slot
			}
		}
		ops, err := opening(kind, s, widthMM/2)
		if err != nil {
			return nil, err
		}
		out = append(out, ops...)
	}
	outer, err := outside(p.Outer, widthMM/2)
	if err != nil {
		return nil, fmt.Errorf("outline: %w", err)
	}
	return inOrder(append(out, outer)), nil
}

// hole is a round hole: drilled where the tool can't enter.
func hole(h geom.Circle, widthMM float64) Op {
	least := widthMM + freeMM
	if widthMM <= beamMM {
		least = widthMM + 2*geom.MinSize
	}
	if widthMM == 0 || 2*h.R < least {
		return Op{Kind: Drill, Circle: h, Tool: h, Start: h.C}
	}
	return Op{Kind: Hole, Circle: h, Tool: geom.Circle{C: h.C, R: h.R - widthMM/2}, Start: h.C}
}

// opening is what is cut out inside, in as many pieces as the tool is kept to by
// narrow places; what it can't enter is opened by hand.
func opening(kind OpKind, s geom.Path, r float64) ([]Op, error) {
	loops, err := Offset(s, r)
	if errors.Is(err, ErrVanishes) {
		return []Op{{Kind: ByHand, Drawn: s, Path: s, Start: s.Bounds().Center()}}, nil
	}
	if err != nil {
		return nil, err
	}
	var out []Op
	for i, l := range loops {
		if l.CCW() {
			return nil, fmt.Errorf("slot: %w", ErrSplit)
		}
		op := Op{Kind: kind}
		op.Path, op.Start = leadIn(l, r)
		if i == 0 {
			op.Drawn = s
		}
		out = append(out, op)
	}
	return out, nil
}

// outside is the outline, held by tabs.
func outside(p geom.Path, r float64) (Op, error) {
	loops, err := Offset(p, r)
	if err != nil {
		return Op{}, err
	}
	op := Op{Kind: Outside, Drawn: p, Tabs: tabs(p, 2*r)}
	for _, l := range loops {
		if l.CCW() && op.Path != nil {
			return Op{}, ErrSplit
		}
		if l.CCW() {
			op.Path, op.Start = leadIn(l, r)
		}
	}
	if op.Path == nil {
		return Op{}, ErrVanishes
	}
	return op, nil
}

// leadMM is how far from its path a tool goes down, mm: half the web that is left to the
// neighbour.
const leadMM = webMM / 2

// leadIn has a path begin a quarter along its longest straight edge, and gives the point
// from where a tool with a radius leads in.
func leadIn(l geom.Path, r float64) (geom.Path, geom.Vec2) {
	es := l.Edges()
	if r == 0 {
		return l, l[0].P
	}
	best, long := -1, 0.0
	for i, e := range es {
		if d := e.A.Dist(e.B); !e.Arc && d > long {
			best, long = i, d
		}
	}
	if best >= 0 {
		from := es[best].At(0.25)
		es = append(slices.Concat(es[best:], es[:best]), geom.NewEdge(es[best].A, from, 0))
		es[0] = geom.NewEdge(from, es[0].B, 0)
	}
	return geom.PathOf(es), waste(es[0], es)
}

// waste is where the tool goes down before an edge of its path: beside it in what falls
// away, or on it where that leaves no room.
func waste(e geom.Edge, path []geom.Edge) geom.Vec2 {
	if beside := e.A.Add(right(e.Tangent(0)).Mul(leadMM)); distance(beside, path) > leadMM-joinMM {
		return beside
	}
	return e.A
}

// Runs are the ways of the tool's middle, open and in order: each goes down in waste,
// leads in and ends at a tab, the last where the first began. Of holes, and of what is
// opened by hand, there are none.
func (op Op) Runs(toolMM float64) (out []geom.Path) {
	if op.Kind == Drill || op.Kind == ByHand || op.Kind == Kept {
		return nil
	}
	path := op.Path.Edges()
	var run []geom.Edge
	end := func() {
		if len(run) > 0 {
			p := geom.PathOf(append(run, geom.Edge{A: run[len(run)-1].B}))
			if down := waste(run[0], path); toolMM > 0 && down != run[0].A {
				p = slices.Insert(p, 0, geom.Vertex{P: down})
			}
			out = append(out, p)
		}
		run = nil
	}
	for _, e := range path {
		for _, part := range split(e, op.gaps(e, toolMM)) {
			if op.onTab(part.At(0.5), toolMM) {
				end()
				continue
			}
			run = append(run, part)
		}
	}
	end()
	return out
}

// reach is how far a tab keeps the middle of the tool from its own.
func reach(toolMM float64) float64 { return math.Hypot(toolMM/2, (TabMM+toolMM)/2) }

// onTab says whether the tool at a place would cut into a tab.
func (op Op) onTab(at geom.Vec2, toolMM float64) bool {
	return slices.ContainsFunc(op.Tabs, func(tab geom.Vec2) bool { return tab.Dist(at) < reach(toolMM) })
}

// gaps are the fractions of an edge where tabs begin and end.
func (op Op) gaps(e geom.Edge, toolMM float64) (cuts []float64) {
	for _, tab := range op.Tabs {
		for _, q := range geom.Meetings(e, geom.Circle{C: tab, R: reach(toolMM)}.Path().Edges()[0]) {
			cuts = addCut(cuts, e, q)
		}
	}
	return cuts
}
