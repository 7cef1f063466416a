package nest

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"clampwright/parts/geom"
)

// Tolerances of offsetting, mm.
const (
	// joinMM is the distance within which two ends are one point: rounding of
	// intersections leaves 1e-10 at most for parts of a metre.
	joinMM = 1e-6
	// clearMM is by how much a point of an offset may be closer to the path than
	// the offset: rounding again, far below what anybody can cut.
	clearMM = 1e-5
	// maxOffsetMM bounds the offset; cutters are millimetres wide.
	maxOffsetMM = 1000
	// mitreTurn is the sharpest outer corner of two straight edges that stays a
	// corner, rad: a right angle, with room for rounding. Sharper ones would
	// send the tool far out and get an arc about the corner instead.
	mitreTurn = math.Pi/2 + 1e-6
)

// ErrVanishes is an offset that leaves nothing: the opening is smaller than the
// tool.
var ErrVanishes = errors.New("nothing is left after the offset")

// Offset returns the closed curves at distance d (mm) to the right of a path:
// with the convention that material lies on the left, a positive d leads away
// from the material and a negative one into it. Straight edges stay straight
// and arcs stay arcs about the same centre. At an outer corner of two straight
// edges of up to a right angle the lines are prolonged to a corner; at others an
// arc about the corner joins them. Where the path is too narrow for the offset,
// the curve is cut short there and may fall into several.
//
// Every edge is offset on its own, all are cut at their intersections, and the
// pieces that keep the distance from the whole path are joined again.
func Offset(p geom.Path, d float64) ([]geom.Path, error) { return offset(p, d, mitreTurn) }

// offset is Offset with the sharpest turn that is prolonged to a corner; zero
// gives the curve that the rim of a disc rolling along the path draws.
func offset(p geom.Path, d, maxMitre float64) ([]geom.Path, error) {
	if err := p.Validate(); err != nil {
		return nil, fmt.Errorf("offset: %w", err)
	}
	if !(math.Abs(d) <= maxOffsetMM) {
		return nil, fmt.Errorf("offset by %g mm: want at most %d", d, maxOffsetMM)
	}
	if math.Abs(d) < joinMM {
		return []geom.Path{slices.Clone(p)}, nil
	}
	source := p.Edges()
	var kept []geom.Edge
	for _, e := range splitAll(rawOffset(source, d, maxMitre)) {
		if distance(e.At(0.5), source) >= math.Abs(d)-clearMM {
			kept = append(kept, e)
		}
	}
	loops := chain(kept)
	if len(loops) == 0 {
		return nil, ErrVanishes
	}
	return loops, nil
}

// rawOffset offsets each edge on its own and adds the joins of outer corners.
func rawOffset(es []geom.Edge, d, maxMitre float64) []geom.Edge {
	n := len(es)
	moved := make([]geom.Edge, n)
	there := make([]bool, n)
	for i, e := range es {
		moved[i], there[i] = offsetEdge(e, d)
	}
	var joins []geom.Edge
	for i := range es {
		j := (i + 1) % n
		turn := turnAt(es[i], es[j])
		if turn*d <= 0 || math.Abs(turn) < 1e-9 {
			continue // the moved edges meet or overlap
		}
		if !es[i].Arc && !es[j].Arc && math.Abs(turn) <= maxMitre {
			corner := mitre(es[i], es[j], d)
			moved[i].B, moved[j].A = corner, corner
			continue
		}
		v := es[i].B
		a := v.Add(right(es[i].Tangent(1)).Mul(d))
		b := v.Add(right(es[j].Tangent(0)).Mul(d))
		joins = append(joins, geom.NewEdge(a, b, math.Tan(turn/4)))
	}
	var out []geom.Edge
	for i, e := range moved {
		if there[i] && e.A.Dist(e.B) > joinMM {
			out = append(out, e)
		}
	}
	return append(out, joins...)
}

// offsetEdge moves one edge to its right; an arc about a centre on that side may
// vanish.
func offsetEdge(e geom.Edge, d float64) (geom.Edge, bool) {
	if !e.Arc {
		v := right(e.Tangent(0)).Mul(d)
		return geom.NewEdge(e.A.Add(v), e.B.Add(v), 0), true
	}
	r := e.R + math.Copysign(d, e.Sweep*d)
	if r <= joinMM {
		return e, false
	}
	k := r / e.R
	a := e.C.Add(e.A.Sub(e.C).Mul(k))
	b := e.C.Add(e.B.Sub(e.C).Mul(k))
	return geom.NewEdge(a, b, e.Bulge()), true
}

// right is the direction to the right of a direction of travel.
func right(t geom.Vec2) geom.Vec2 { return t.Perp().Mul(-1) }

// turnAt is the change of direction from one edge to the next, rad, positive to
// the left, in (-π, π].
func turnAt(a, b geom.Edge) float64 {
	u, v := a.Tangent(1), b.Tangent(0)
	turn := math.Atan2(u.Cross(v), u.Dot(v))
	if turn < -math.Pi+1e-9 {
		turn = math.Pi
	}
	return turn
}

// mitre is where the lines of two straight edges meet after the move: along the
// half angle, at d/cos(turn/2) from the corner.
func mitre(a, b geom.Edge, d float64) geom.Vec2 {
	half := right(a.Tangent(1)).Add(right(b.Tangent(0)))
	return a.B.Add(half.Mul(2 * d / half.Dot(half)))
}

// distance is the least distance from q to the edges.
func distance(q geom.Vec2, es []geom.Edge) float64 {
	least := math.Inf(1)
	for _, e := range es {
		least = min(least, e.Dist(q))
	}
	return least
}
