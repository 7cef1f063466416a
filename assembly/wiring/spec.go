package wiring

import (
	"cmp"
	"fmt"
	"math"

	"clampwright/params/number"
	"clampwright/parts/geom"
)

// LinkShape is the plan form of a link.
type LinkShape string

// The forms. A straight bar runs along the stack or across it; an offset bar has
// a sideways jog so that its ends stay parallel to the stack; a diagonal bar is a
// straight piece laid at an angle; a cable is insulated and flexible.
const (
	Straight LinkShape = "straight"
	Offset   LinkShape = "offset"
	Diagonal LinkShape = "diagonal"
	Cable    LinkShape = "cable"
)

// offsetMost is the greatest jog of an offset bar, in bar widths; beyond it the
// bar is laid diagonally. Common practice, no source.
const offsetMost = 2.0

// LinkSpec is one kind of link to be made: all a part generator needs.
type LinkSpec struct {
	Mark     string // "K1"
	Shape    LinkShape
	Material string
	Plated   bool
	// WidthMM and ThicknessMM are those of one bar; LengthMM its cut length (an
	// offset bar is cut from its developed length). For a cable LengthMM is the
	// length between the lug holes and SectionMM2 its copper.
	WidthMM, ThicknessMM, LengthMM float64
	SectionMM2                     float64
	// DXMM and DZMM are the offsets of the two terminals at nominal pitch, both
	// positive.
	DXMM, DZMM float64
	// HolesMM is the distance from the round hole's centre to the slot's centre.
	// RunMM and JogMM are the same along the bar and across it: JogMM is 0 for
	// all but offset bars.
	HolesMM, RunMM, JogMM float64
	// RoundMM is the diameter of the round hole and the width of the slot;
	// SlotMM the slot's overall length, TravelMM its length between end centres.
	RoundMM, SlotMM, TravelMM float64
	// NearestMM and FarthestMM are the terminal distances the slot must take.
	NearestMM, FarthestMM float64
	// EndMM is from the middle of the holes, or of the slots' outer end centres, to the end.
	EndMM, CornerRadiusMM float64
	// Screws is the number of holes, and of slots; ScrewStep goes from one to the next, along
	// the bar and across it.
	Screws    int
	ScrewStep geom.Vec2
	// Layers is the greatest number of bars on one joint, Links the number of
	// links fitted at the same time, Bars the number of pieces to make.
	Layers, Links, Bars int
	MassG               float64 // one bar
	// GrownMM is how far the terminals move apart after tightening, GrownMostMM
	// what a rigid bar may pass on of it; SlotMostMM is the longest travel that
	// leaves enough of the contact face.
	GrownMM, GrownMostMM, SlotMostMM float64
	// Braided says that the link is braided or laminated: bought, its flat ends with
	// round holes FlatMM apart when stretched, bowed up in between when fitted.
	// FlexibleWhy is why a rigid bar would not do there; empty: it would.
	Braided     bool
	FlatMM      float64
	FlexibleWhy string
	// Warnings on the bar itself.
	Warnings []string
	// States are the states that use it.
	States []string
}

// span is how the distance of two terminals can vary.
type span struct {
	nominal, nearest, farthest float64
	grown                      float64 // growth of the distance after tightening
	dx, dz                     float64
	pads                       [2]float64 // at both ends
}

// spanOf computes the distances that a link's slot must take while the link is
// fitted: the stack pitch and the row distance each within their tolerance (added
// up over the pitches between, the worst case), both drilled holes, and the growth
// of the cells, since a link may be slackened and tightened again on grown ones.
func spanOf(l *Layout, k Link, t Turns) span {
	a, b := l.Position(k.A, t), l.Position(k.B, t)
	g := l.in.Growth
	n := math.Abs(float64(k.A.Slot%l.in.CellsPerRow - k.B.Slot%l.in.CellsPerRow))
	s := span{dx: math.Abs(b.X - a.X), dz: math.Abs(b.Y - a.Y)}
	s.pads = [2]float64{l.Pad(k.A, t), l.Pad(k.B, t)}
	tx := 0.0
	if l.Row(k.A.Slot) != l.Row(k.B.Slot) {
		tx = g.RowTolMM
	}
	tz := n * g.PitchTolMM
	s.nominal = math.Hypot(s.dx, s.dz)
	s.grown = math.Hypot(s.dx, s.dz+n*g.PerCellMM) - s.nominal
	s.nearest = math.Hypot(max(0, s.dx-tx), max(0, s.dz-tz)) - 2*g.HoleTolMM
	s.farthest = math.Hypot(s.dx+tx, s.dz+tz+n*g.PerCellMM) + 2*g.HoleTolMM
	s.nearest = max(0, s.nearest)
	return s
}

// SpecOf describes a link, its mark left out.
func (l *Layout) SpecOf(k Link, t Turns) LinkSpec { return specOf(l, k, t) }

// GrownMM is how far the terminals of a link move apart after it is fitted.
func (l *Layout) GrownMM(k Link, t Turns) float64 { return spanOf(l, k, t).grown }

// shapeOf picks the form from the terminal offsets.
func (in Input) shapeOf(k Link, s span) LinkShape {
	jog, run, long := s.dx, s.dz, in.screwsLong().Y
	if s.dx > s.dz {
		jog, run, long = s.dz, s.dx, in.screwsLong().X
	}
	switch {
	case k.Cable:
		return Cable
	case jog < lengthTolMM:
		return Straight
	case jog <= offsetMost*in.Bar.WidthMM && run-jog >= max(s.pads[0], s.pads[1])+long:
		return Offset // its jog begins beside the pads
	}
	return Diagonal
}

// endDistance returns the distance from a hole's centre to the bar's end: the
// user's, or the greater of one and a half holes (EN 1993-1-8 table 3.3 asks 1.2
// for round holes and 1.5 for slots) and half the width.
func (in Input) endDistance() float64 {
	if in.Bar.EndMM > 0 {
		return in.Bar.EndMM
	}
	return max(1.5*in.HoleDiaMM, in.Bar.WidthMM/2)
}

// specOf describes one link; counts and mark are filled in by Specs.
func specOf(l *Layout, k Link, t Turns) LinkSpec {
	in, s := l.in, spanOf(l, k, t)
	sp := LinkSpec{Shape: in.shapeOf(k, s), DXMM: s.dx, DZMM: s.dz,
		NearestMM: s.nearest, FarthestMM: s.farthest, Layers: k.layers(), RoundMM: in.HoleDiaMM}
	if k.Cable {
		sp.Material, sp.SectionMM2 = Copper, k.CableMM2
		sp.LengthMM = math.Ceil(cableSlack*s.farthest/5) * 5
		sp.Layers = 1
		return sp
	}
	sp.Material, sp.Plated = in.Bar.Material, in.Bar.Plated
	sp.WidthMM, sp.ThicknessMM = in.Bar.WidthMM, in.Bar.ThicknessMM
	sp.slot(s)
	sp.SlotMM = sp.RoundMM + sp.TravelMM
	sp.screws(l, k, t)
	sp.EndMM, sp.CornerRadiusMM = in.endDistance()+sp.screwsLong().X/2, in.Bar.CornerRadiusMM
	sp.LengthMM = sp.barLength()
	sp.flexible(in, s)
	sp.braid(in, s)
	sp.MassG = sp.mass()
	sp.warn(in)
	return sp
}

// screws lays the screws of a terminal along the bar.
func (sp *LinkSpec) screws(l *Layout, k Link, t Turns) {
	sp.Screws = l.in.Screws
	if v := l.Position(k.B, t).Sub(l.Position(k.A, t)); sp.Screws > 1 && v != (geom.Vec2{}) {
		x := barX(v, along(v), sp.JogMM)
		sp.ScrewStep = geom.Vec2{X: l.in.ScrewStep.Dot(x), Y: l.in.ScrewStep.Dot(beside(x))}
	}
}

// screwsLong is from the first hole of one end to its last, along the bar and across it.
func (sp LinkSpec) screwsLong() geom.Vec2 {
	return geom.Vec2{X: math.Abs(sp.ScrewStep.X), Y: math.Abs(sp.ScrewStep.Y)}.Mul(float64(max(sp.Screws, 1) - 1))
}

// braid makes the link a braided one where the user asks for it, or leaves the form
// open and a rigid bar would not do. Its copper and its pressed ends are those of the
// bar it replaces (common practice, no source); stretched it reaches the farthest
// that the terminals may stand apart.
func (sp *LinkSpec) braid(in Input, s span) {
	if in.Form == RigidBar || in.Form == "" && sp.FlexibleWhy == "" {
		return
	}
	sp.Braided, sp.FlatMM = true, math.Ceil(s.farthest)
	if sp.Shape == Offset {
		sp.Shape = Diagonal
	}
	sp.JogMM, sp.TravelMM, sp.RunMM, sp.HolesMM, sp.SlotMM = 0, 0, s.nominal, s.nominal, sp.RoundMM
	sp.LengthMM = sp.FlatMM + 2*sp.EndMM
}

// slot sets where the slot lies and how far it travels. The slot runs along the
// bar, so at a jog of o a terminal at distance d stands sqrt(d^2 - o^2) along it:
// the bar turns about its round hole until the slot meets the terminal.
func (sp *LinkSpec) slot(s span) {
	near, far := s.nearest, s.farthest
	if sp.Shape == Offset {
		sp.JogMM = min(s.dx, s.dz)
		along := func(d float64) float64 { return math.Sqrt(max(0, d*d-sp.JogMM*sp.JogMM)) }
		near, far = along(near), along(far)
	}
	sp.TravelMM, sp.RunMM = far-near, (far+near)/2
	sp.HolesMM = math.Hypot(sp.RunMM, sp.JogMM)
}

// barLength is the cut length. An offset bar jogs at 45 degrees, so it needs
// (sqrt 2 - 1) of the jog more than its run.
func (sp LinkSpec) barLength() float64 {
	return sp.RunMM + (math.Sqrt2-1)*sp.JogMM + sp.TravelMM/2 + 2*sp.EndMM
}

// mass is that of one bar, less hole and slot, corner rounding included.
func (sp LinkSpec) mass() float64 {
	hole := math.Pi / 4 * sp.RoundMM * sp.RoundMM
	slot := hole + sp.TravelMM*sp.RoundMM
	corners := (4 - math.Pi) * sp.CornerRadiusMM * sp.CornerRadiusMM
	area := sp.LengthMM*sp.WidthMM - float64(max(sp.Screws, 1))*(hole+slot) - corners
	return max(0, area) * sp.ThicknessMM * conductors[sp.Material].DensityGCM3 / 1000
}

// contactShare is the part of the terminal's contact area that a slot may take
// away: common practice, no source.
const contactShare = 0.25

// slotMost returns the longest travel of a slot on the smaller of both pads: either end
// may be turned to either.
func (in Input) slotMost(pads [2]float64) float64 {
	d, pad := in.HoleDiaMM, min(pads[0], pads[1])
	return contactShare * math.Pi / 4 * (pad*pad - d*d) / d
}

func (sp *LinkSpec) flexible(in Input, s span) {
	sp.GrownMM, sp.GrownMostMM, sp.SlotMostMM = s.grown, in.Growth.RigidMM, max(0, in.slotMost(s.pads))
	if sp.TravelMM > sp.SlotMostMM {
		sp.FlexibleWhy = fmt.Sprintf("the slot must travel %s; more than %s takes a quarter of the contact face away",
			mm(sp.TravelMM), mm(sp.SlotMostMM))
		return
	}
	if step := sp.screwsLong().X; step > 0 && step/float64(sp.Screws-1) < sp.TravelMM+2*sp.RoundMM-1e-9 {
		sp.FlexibleWhy = "the slots for the screws of one terminal would run into each other"
		return
	}
	if s.grown > in.Growth.RigidMM {
		sp.FlexibleWhy = fmt.Sprintf("the terminals move %s apart after tightening; the slot takes tolerances while the link is fitted, but a tightened joint does not slide, and a rigid bar may pass on %s",
			number.Trim(s.grown, 2)+" mm", number.Trim(in.Growth.RigidMM, 2)+" mm")
	}
}

func (sp *LinkSpec) warn(in Input) {
	if need := 2*1.2*sp.RoundMM + sp.screwsLong().Y; sp.WidthMM < need {
		sp.Warnings = append(sp.Warnings, fmt.Sprintf("the bar is %s wide; its hole wants %s (1.2 holes to each edge, EN 1993-1-8)",
			mm(sp.WidthMM), mm(need)))
	}
	if end := sp.EndMM - sp.screwsLong().X/2; end < 1.2*sp.RoundMM {
		sp.Warnings = append(sp.Warnings, fmt.Sprintf("the end distance %s is below 1.2 holes (%s)", mm(end), mm(1.2*sp.RoundMM)))
	}
	if inner := sp.HolesMM - sp.RoundMM - sp.TravelMM/2 - sp.screwsLong().X; !sp.Braided && inner < sp.RoundMM {
		sp.Warnings = append(sp.Warnings, "hole and slot are less than one hole apart")
	}
}

// specKey tells kinds of link apart.
func (sp LinkSpec) key() string {
	r := func(v float64) float64 { return math.Round(v/lengthTolMM) * lengthTolMM }
	return fmt.Sprintf("%.2f %s %s %t %.2f %.2f %.2f %.2f %.2f %.0f", r(sp.ScrewStep.X*sp.ScrewStep.Y), sp.Shape, sp.Material, sp.Braided, r(sp.DXMM), r(sp.DZMM),
		r(sp.NearestMM), r(sp.FarthestMM), sp.LengthMM, sp.SectionMM2)
}

// Specs returns the kinds of link that a list of states needs. Links taken off
// in one state are used again in the next, so a kind counts as often as the
// state that needs it most.
func (l *Layout) Specs(states []State) []LinkSpec {
	at := map[string]int{}
	var out []LinkSpec
	if l.in.Welded {
		return nil
	}
	for _, s := range states {
		links, bars := map[int]int{}, map[int]int{}
		for _, k := range s.Links {
			sp := specOf(l, k, s.Turns)
			key := sp.key()
			i, ok := at[key]
			if !ok {
				i = len(out)
				at[key] = i
				sp.Mark = fmt.Sprintf("K%d", i+1)
				out = append(out, sp)
			}
			out[i].Layers, out[i].SlotMostMM = max(out[i].Layers, k.layers()), min(out[i].SlotMostMM, sp.SlotMostMM)
			out[i].FlexibleWhy = cmp.Or(out[i].FlexibleWhy, sp.FlexibleWhy)
			links[i]++
			bars[i] += sp.Layers
		}
		for i := range out {
			if links[i] > 0 {
				out[i].States = append(out[i].States, s.ID)
			}
			out[i].Links = max(out[i].Links, links[i])
			out[i].Bars = max(out[i].Bars, bars[i])
		}
	}
	return out
}

// SpecFor finds the kind of a link among those of Specs.
func (l *Layout) SpecFor(k Link, t Turns, specs []LinkSpec) (LinkSpec, bool) {
	key := specOf(l, k, t).key()
	for _, sp := range specs {
		if sp.key() == key {
			return sp, true
		}
	}
	return LinkSpec{}, false
}
