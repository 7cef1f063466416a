package check

import "clampwright/parts/geom"

// corner is an inside corner of an outline: where the material wraps round the
// tool. Radius is zero for a sharp corner.
type corner struct {
	at     geom.Vec2
	radius float64
}

// sharpTurn is the sine of the smallest turn between two edges that counts as
// a corner: below it they are tangent up to rounding.
const sharpTurn = 1e-6

// innerCorners returns the inside corners of a boundary that runs with the
// material on its left: arcs that bend right, and vertices that turn right.
func innerCorners(p geom.Path) []corner {
	es := p.Edges()
	var all []corner
	for i, e := range es {
		if e.Arc && e.Sweep < 0 {
			all = append(all, corner{e.At(0.5), e.R})
		}
		next := es[(i+1)%len(es)]
		if e.Tangent(1).Cross(next.Tangent(0)) < -sharpTurn {
			all = append(all, corner{e.B, 0})
		}
	}
	return all
}
