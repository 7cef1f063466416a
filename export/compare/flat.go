package compare

import (
	"fmt"
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
)

const pitchLeast, edgeLeast = parts.PitchLeast, parts.EdgeLeast

// holeAllow is how far a hole may lie from where it is wanted: what is left of
// the rod's play in the new fixture when the old hole was made as far off as its
// shop allows.
func (c *comparer) holeAllow(k parts.Kind) float64 {
	if k == parts.KindLink { // sits on studs, not on rods
		return 0
	}
	play := (c.now.Rods.Hole - c.now.Rods.Thread.Major).MM() / 2
	return math.Max(offCut, play-math.Max(c.old.Tolerances.HolePosition.MM(), c.now.Tolerances.HolePosition.MM()))
}

// flat compares parts cut from sheet: plates, separators, liners, link bars. A plate
// that does not serve as it stands may do so upside down.
func (c *comparer) flat(was, is *parts.Part) Row {
	r := c.upright(was, is)
	if is.Kind != parts.KindPlate || r.Action == Keep {
		return r
	}
	turned, flat := *was, *was.Flat
	flat.Profile = flat.Profile.Turned(math.Pi)
	turned.Flat = &flat
	if t := c.upright(&turned, is); t.Action == Keep {
		t.Why, t.turned = t.Why+", turned upside down: its mark and arrow point down", true
		return t
	}
	return r
}

func (c *comparer) upright(was, is *parts.Part) Row {
	thick := Proof{"thickness", was.Flat.ThicknessMM, is.Flat.ThicknessMM, c.sheetAllow(was, is)}
	if !thick.holds() {
		is, was := c.mm(thick.NewMM), c.mm(thick.OldMM)
		return Row{Action: Make, Why: fmt.Sprintf("%s thick instead of %s", is, was)}
	}
	if is.Flat.Grain && was.Flat.GrainAlongX != is.Flat.GrainAlongX {
		return Row{Action: Make, Why: "the grain runs the other way"}
	}
	size := min(c.old.Tolerances.PlateSize, c.now.Tolerances.PlateSize).MM()
	proof, sameOutline := outlineProof(was.Flat.Profile, is.Flat.Profile, size)
	if sameOutline {
		return c.sameOutline(was, is, append(proof, thick))
	}
	return c.cutDown(was, is)
}

// sheetAllow is how far the thickness of two sheets of the same nominal size may
// lie apart; bars are measured for their current, printed parts to their file.
func (c *comparer) sheetAllow(was, is *parts.Part) float64 {
	if is.Make != parts.MakeSheet || is.Kind == parts.KindLink {
		return 0
	}
	return min(c.old.Tolerances.SheetShare, c.now.Tolerances.SheetShare) * min(was.Flat.ThicknessMM, is.Flat.ThicknessMM)
}

// sameOutline keeps the part, or drills it again.
func (c *comparer) sameOutline(was, is *parts.Part, proof []Proof) Row {
	h := c.matchHoles(was.Flat.Profile, is.Flat.Profile, geom.Vec2{}, is)
	slots, same := slotProof(was.Flat.Profile, is.Flat.Profile, min(c.old.Tolerances.PlateSize, c.now.Tolerances.PlateSize).MM())
	switch {
	case !same && len(was.Flat.Profile.Slots) > 0:
		return Row{Action: Make, Why: "its slots lie elsewhere"}
	case h.problem != "":
		return Row{Action: Make, Why: h.problem}
	case !same:
		return Row{Action: Recut, Why: "slots to cut" + also(h), left: h.left}
	case len(h.todo) > 0:
		return Row{Action: Redrill, Why: h.words() + h.note, left: h.left}
	}
	return Row{Action: Keep, Why: "the same outline and holes" + h.note, Proof: append(append(proof, slots...), h.proof...), left: h.left}
}

// cutDown looks for the place in the old part that the new one fits with the
// fewest holes to drill, all on or clear of the old ones.
func (c *comparer) cutDown(was, is *parts.Part) Row {
	if len(was.Flat.Profile.Slots) > 0 {
		return Row{Action: Make, Why: "another outline, and the old part has slots"}
	}
	problem, best, drill := "the old part is too small to cut it from", Row{}, math.MaxInt
	for _, at := range offsets(was.Flat.Profile, is.Flat.Profile) {
		moved := is.Flat.Profile.Moved(at)
		if !holds(was.Flat.Profile, moved) {
			continue
		}
		h := c.matchHoles(was.Flat.Profile, moved, at, is)
		switch {
		case h.problem != "":
			problem = "it could be cut down, but " + h.problem
		case len(h.todo) < drill:
			best, drill = Row{Action: Recut, Why: c.cutWords(was, is, moved) + also(h), at: at, left: h.left}, len(h.todo)
		}
	}
	if best.Action != "" {
		return best
	}
	return Row{Action: Make, Why: problem}
}

// cutWords tells the cuts that leave the new part, moved to its place on the old.
func (c *comparer) cutWords(was, is *parts.Part, moved geom.Profile) string {
	off := c.takeOff(was.Flat.Profile.Bounds(), moved.Bounds())
	if off == "" {
		return c.corners(moved.Outer)
	}
	return fmt.Sprintf("cut to %s x %s: %s, seen from outside", c.mm(is.SizeMM[0]), c.mm(is.SizeMM[1]), off)
}

// holes is how the new holes lie on the old part.
type holes struct {
	proof   []Proof
	todo    []string // holes to drill or widen
	problem string
	left    []geom.Circle // old holes without use that stay in the part
	note    string        // tells them
}

func (h holes) words() string {
	if len(h.todo) == 1 {
		return "drill again: " + h.todo[0]
	}
	return fmt.Sprintf("drill %d holes again, first %s", len(h.todo), h.todo[0])
}

func also(h holes) string {
	if len(h.todo) == 0 {
		return "; its holes serve" + h.note
	}
	return "; " + h.words() + h.note
}

// matchHoles compares the round holes of the new profile, already at its place
// on the old part, with the old ones, and judges those left over. at only words the
// places.
func (c *comparer) matchHoles(was, is geom.Profile, at geom.Vec2, part *parts.Part) (h holes) {
	used := make([]bool, len(was.Circles))
	for k, n := range is.Circles {
		m, d := nearestCircle(was.Circles, n.C, used)
		allow := c.holeAllow(part.Kind)
		switch {
		case m >= 0 && d <= allow+rounding && math.Abs(was.Circles[m].R-n.R) <= rounding:
			used[m] = true
			h.proof = append(h.proof, Proof{fmt.Sprintf("hole %d off its place", k+1), d, 0, allow},
				Proof{fmt.Sprintf("hole %d", k+1), 2 * was.Circles[m].R, 2 * n.R, 0})
		case m >= 0 && d+was.Circles[m].R <= n.R+rounding:
			used[m] = true // the old hole lies within the new one
			h.todo = append(h.todo, fmt.Sprintf("widen hole %d to %s", k+1, c.mm(2*n.R)))
		default:
			p := n.C.Sub(at)
			h.todo = append(h.todo, fmt.Sprintf("a hole of %s, %s", c.mm(2*n.R), c.fromMiddle(p)))
			if why := c.blocked(was, n); why != "" && h.problem == "" {
				h.problem = why
			}
		}
	}
	var unused []int
	for k := range used {
		if !used[k] {
			unused = append(unused, k)
		}
	}
	left, problem := c.leftOver(was, is, unused, part)
	h.left, h.note = left, c.leftWords(left)
	if h.problem == "" {
		h.problem = problem
	}
	return h
}

// nearestCircle is the nearest unused circle, -1 when there is none.
func nearestCircle(list []geom.Circle, at geom.Vec2, used []bool) (best int, d float64) {
	best, d = -1, math.Inf(1)
	for k, c := range list {
		if e := c.C.Dist(at); !used[k] && e < d {
			best, d = k, e
		}
	}
	return best, d
}

// blocked says what keeps a new hole from being drilled in the old part: a slot too near
// to leave a ligament, or the edge.
func (c *comparer) blocked(was geom.Profile, n geom.Circle) string {
	for _, s := range was.Slots {
		if left, need := -s.DistTo(n.C)-n.R, (pitchLeast-1)*2*n.R; left < need-rounding { // outside the slot: negative
			return fmt.Sprintf("a new hole would leave %s to a slot; %s are needed", c.mm(math.Max(left, 0)), c.mm(need))
		}
	}
	if e := was.Outer.DistTo(n.C); e < edgeLeast*2*n.R-rounding {
		return fmt.Sprintf("a new hole would lie %s from the edge; %s are needed", c.mm(e), c.mm(edgeLeast*2*n.R))
	}
	return ""
}

// outlineProof compares two outlines edge by edge.
func outlineProof(was, is geom.Profile, allow float64) ([]Proof, bool) {
	a, b := was.Bounds(), is.Bounds()
	proof := []Proof{
		{"width", a.Size().X, b.Size().X, allow}, {"height", a.Size().Y, b.Size().Y, allow},
		{"corners off their place", pathsApart(was.Outer, is.Outer), 0, allow},
	}
	ok, _ := allHold(proof)
	return proof, ok
}

// slotProof compares the slots in order.
func slotProof(was, is geom.Profile, allow float64) ([]Proof, bool) {
	if len(was.Slots) != len(is.Slots) {
		return nil, false
	}
	var proof []Proof
	for k := range was.Slots {
		proof = append(proof, Proof{fmt.Sprintf("slot %d off its place", k+1), pathsApart(was.Slots[k], is.Slots[k]), 0, allow})
	}
	ok, _ := allHold(proof)
	return proof, ok
}

// pathsApart is how far corresponding corners, arc middles and radii of two paths
// are apart; infinite when they have another number of edges.
func pathsApart(a, b geom.Path) float64 {
	p, q := a.Edges(), b.Edges()
	if len(p) != len(q) {
		return 1e9
	}
	best := math.Inf(1) // wherever the path begins
	for shift := range p {
		worst := 0.0
		for k := range p {
			o := q[(k+shift)%len(q)]
			worst = math.Max(worst, math.Max(p[k].A.Dist(o.A), p[k].At(0.5).Dist(o.At(0.5))))
		}
		best = math.Min(best, worst)
	}
	return best
}

// offsets are the places tried for a new part on an old one: middle on middle,
// flush with each edge and corner, and each new hole on each old one.
func offsets(was, is geom.Profile) []geom.Vec2 {
	a, b := was.Bounds(), is.Bounds()
	out := []geom.Vec2{{}, {X: a.Min.X - b.Min.X}, {X: a.Max.X - b.Max.X}, {Y: a.Min.Y - b.Min.Y}, {Y: a.Max.Y - b.Max.Y},
		a.Min.Sub(b.Min), a.Max.Sub(b.Max),
		{X: a.Min.X - b.Min.X, Y: a.Max.Y - b.Max.Y}, {X: a.Max.X - b.Max.X, Y: a.Min.Y - b.Min.Y}}
	for _, o := range was.Circles {
		for _, n := range is.Circles {
			out = append(out, o.C.Sub(n.C))
		}
	}
	return out
}

// holds says whether the old part holds the new one's outline wherever it is
// flattened to; old holes inside are the holes' business.
func holds(was, is geom.Profile) bool {
	for _, p := range is.Outer.Flatten(0.01) {
		if was.Outer.DistTo(p) < -rounding {
			return false
		}
	}
	return true
}
