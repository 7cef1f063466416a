package compare

import (
	"fmt"
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// pitchLeast is the least distance of hole centres in hole diameters: EN 1993-1-8
// table 3.3, p1 >= 2.2 d0.
const pitchLeast = 2.2

// edgeLeast is the least distance of a hole centre to an edge in hole diameters:
// EN 1993-1-8 table 3.3, e1 >= 1.2 d0.
const edgeLeast = 1.2

// holeAllow is how far a hole may lie from where it is wanted: what is left of
// the rod's play in the new fixture when the old hole was made as far off as its
// shop allows.
func (c *comparer) holeAllow() float64 {
	play := (c.now.Rods.Hole - c.now.Rods.Thread.Major).MM() / 2
	return math.Max(0, play-math.Max(c.old.Tolerances.HolePosition.MM(), c.now.Tolerances.HolePosition.MM()))
}

// flat compares parts cut from sheet: plates, separators, liners, link bars.
func (c *comparer) flat(was, is *parts.Part) Row {
	if d := math.Abs(was.Flat.ThicknessMM - is.Flat.ThicknessMM); d > rounding {
		return Row{Action: Make, Why: fmt.Sprintf("%.2f mm thick instead of %.2f mm", is.Flat.ThicknessMM, was.Flat.ThicknessMM)}
	}
	if is.Flat.Grain && was.Flat.GrainAlongX != is.Flat.GrainAlongX {
		return Row{Action: Make, Why: "the grain runs the other way"}
	}
	size := min(c.old.Tolerances.PlateSize, c.now.Tolerances.PlateSize).MM()
	proof, sameOutline := outlineProof(was.Flat.Profile, is.Flat.Profile, size)
	if sameOutline {
		return c.sameOutline(was, is, proof)
	}
	return c.cutDown(was, is)
}

// sameOutline keeps the part, or drills it again.
func (c *comparer) sameOutline(was, is *parts.Part, proof []Proof) Row {
	h := c.matchHoles(was.Flat.Profile, is.Flat.Profile, geom.Vec2{})
	slots, same := slotProof(was.Flat.Profile, is.Flat.Profile, min(c.old.Tolerances.PlateSize, c.now.Tolerances.PlateSize).MM())
	switch {
	case !same && len(was.Flat.Profile.Slots) > 0:
		return Row{Action: Make, Why: "its slots lie elsewhere"}
	case h.problem != "":
		return Row{Action: Make, Why: h.problem}
	case !same:
		return Row{Action: Recut, Why: "slots to cut" + also(h)}
	case len(h.todo) > 0:
		return Row{Action: Redrill, Why: h.words()}
	}
	return Row{Action: Keep, Why: "the same outline and holes", Proof: append(append(proof, slots...), h.proof...)}
}

// cutDown looks for a place in the old part that the new one fits, with its holes
// on or clear of the old ones.
func (c *comparer) cutDown(was, is *parts.Part) Row {
	if len(was.Flat.Profile.Slots) > 0 {
		return Row{Action: Make, Why: "another outline, and the old part has slots"}
	}
	problem := "the old part is too small to cut it from"
	for _, at := range offsets(was.Flat.Profile, is.Flat.Profile) {
		moved := is.Flat.Profile.Moved(at)
		if !holdsBox(was.Flat.Profile, moved) {
			continue
		}
		h := c.matchHoles(was.Flat.Profile, moved, at)
		if h.problem == "" {
			why := fmt.Sprintf("cut %s down to %s", boxText(was), boxText(is))
			if at != (geom.Vec2{}) {
				why += fmt.Sprintf(", %.1f mm across and %.1f mm up from its middle", at.X, at.Y)
			}
			return Row{Action: Recut, Why: why + also(h)}
		}
		problem = "it could be cut down, but " + h.problem
	}
	return Row{Action: Make, Why: problem}
}

func boxText(p *parts.Part) string { return fmt.Sprintf("%.1f x %.1f mm", p.SizeMM[0], p.SizeMM[1]) }

// holes is how the new holes lie on the old part.
type holes struct {
	proof   []Proof
	todo    []string // holes to drill or widen
	problem string
}

func (h holes) words() string {
	if len(h.todo) == 1 {
		return "drill again: " + h.todo[0]
	}
	return fmt.Sprintf("drill %d holes again, first %s", len(h.todo), h.todo[0])
}

func also(h holes) string {
	if len(h.todo) == 0 {
		return "; its holes serve"
	}
	return "; " + h.words()
}

// matchHoles compares the round holes of the new profile, already at its place
// on the old part, with the old ones. at only words the places.
func (c *comparer) matchHoles(was, is geom.Profile, at geom.Vec2) (h holes) {
	used := make([]bool, len(was.Circles))
	for k, n := range is.Circles {
		m, d := nearestCircle(was.Circles, n.C, used)
		allow := c.holeAllow()
		switch {
		case m >= 0 && d <= allow+rounding && math.Abs(was.Circles[m].R-n.R) <= rounding:
			used[m] = true
			h.proof = append(h.proof, Proof{fmt.Sprintf("hole %d off its place", k+1), d, 0, allow},
				Proof{fmt.Sprintf("hole %d", k+1), 2 * was.Circles[m].R, 2 * n.R, 0})
		case m >= 0 && d+was.Circles[m].R <= n.R+rounding:
			used[m] = true // the old hole lies within the new one
			h.todo = append(h.todo, fmt.Sprintf("widen hole %d to %.2f mm", k+1, 2*n.R))
		default:
			p := n.C.Sub(at)
			h.todo = append(h.todo, fmt.Sprintf("a hole of %.2f mm at %.1f, %.1f mm from the middle", 2*n.R, p.X, p.Y))
			if why := c.blocked(was, n); why != "" && h.problem == "" {
				h.problem = why
			}
		}
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

// blocked says what keeps a new hole from being drilled in the old part: an old
// hole too near to leave a ligament, or under the washer's seat.
func (c *comparer) blocked(was geom.Profile, n geom.Circle) string {
	for k, o := range was.Circles {
		d := o.C.Dist(n.C)
		if left, need := d-o.R-n.R, (pitchLeast-1)*2*math.Max(o.R, n.R); left < need-rounding {
			return fmt.Sprintf("a new hole would leave %.1f mm to old hole %d; %.1f mm are needed", math.Max(left, 0), k+1, need)
		}
		if seat := c.now.Washer.Outer.MM() / 2; c.now.Stiffener == nil && d < seat+o.R {
			return fmt.Sprintf("old hole %d would lie under a washer", k+1)
		}
	}
	for _, s := range was.Slots {
		if left := s.DistTo(n.C) - n.R; left < (pitchLeast-1)*2*n.R {
			return fmt.Sprintf("a new hole would leave %.1f mm to a slot", math.Max(left, 0))
		}
	}
	if e := was.Outer.DistTo(n.C); e < edgeLeast*2*n.R-rounding {
		return fmt.Sprintf("a new hole would lie %.1f mm from the edge; %.1f mm are needed", e, edgeLeast*2*n.R)
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
	worst := 0.0
	for k := range p {
		worst = math.Max(worst, math.Max(p[k].A.Dist(q[k].A), p[k].At(0.5).Dist(q[k].At(0.5))))
	}
	return worst
}

// offsets are the places tried for a new part on an old one: middle on middle,
// each old hole on each new one, and flush with each corner.
func offsets(was, is geom.Profile) []geom.Vec2 {
	a, b := was.Bounds(), is.Bounds()
	out := []geom.Vec2{{}, a.Min.Sub(b.Min), a.Max.Sub(b.Max),
		{X: a.Min.X - b.Min.X, Y: a.Max.Y - b.Max.Y}, {X: a.Max.X - b.Max.X, Y: a.Min.Y - b.Min.Y}}
	for _, o := range was.Circles {
		for _, n := range is.Circles {
			out = append(out, o.C.Sub(n.C))
		}
	}
	return out
}

// holdsBox says whether the old part holds the new one's outline wherever it is
// flattened to; old holes inside are the holes' business.
func holdsBox(was, is geom.Profile) bool {
	for _, p := range is.Outer.Flatten(0.01) {
		if was.Outer.DistTo(p) < -rounding {
			return false
		}
	}
	return true
}
