package geom

import (
	"fmt"
	"math"
)

// PairGap is the gap between bodies I < J of a list.
type PairGap struct {
	I, J int
	Gap
}

// AllPairs visits every pair of bodies with its gap, in the order of their indices.
// Pairs further apart than within, mm, are given by a lower bound. A pair of the same
// two solids in the same position to each other as an earlier pair, to a nanometre,
// takes over its result.
func AllPairs(bodies []Body, within float64, visit func(PairGap)) error {
	boxes := make([]Box3, len(bodies))
	for i, b := range bodies {
		if !b.Solid.Empty() {
			if err := b.Frame.Check(); err != nil {
				return fmt.Errorf("body %d: %w", i, err)
			}
			boxes[i] = b.Bounds()
		}
	}
	memo := map[pairKey]Gap{}
	for i := range bodies {
		for j := i + 1; j < len(bodies); j++ {
			g, err := memoGap(memo, &bodies[i], &bodies[j], boxes[i].Dist(boxes[j]), within)
			if err != nil {
				return err
			}
			visit(PairGap{i, j, g})
		}
	}
	return nil
}

// pairKey is two solids and their position to each other, rounded, and how the
// world's axes lie to the first.
type pairKey struct {
	a, b     *brep
	rel, dir [12]int64
}

func newPairKey(a, b Body) pairKey {
	return pairKey{a.Solid.b, b.Solid.b, rounded(a.Frame.Inverse().Mul(b.Frame)), rounded(Frame{X: a.Frame.X, Y: a.Frame.Y, Z: a.Frame.Z})}
}

func rounded(f Frame) (r [12]int64) {
	const unit = 1e-6 // a nanometre; as a direction, a nanometre per millimetre
	for i, v := range [4]Vec3{f.O, f.X, f.Y, f.Z} {
		r[3*i], r[3*i+1], r[3*i+2] = int64(math.Round(v.X/unit)), int64(math.Round(v.Y/unit)), int64(math.Round(v.Z/unit))
	}
	return r
}

func memoGap(memo map[pairKey]Gap, a, b *Body, lower, within float64) (Gap, error) {
	if lower > within || a.Solid.Empty() || b.Solid.Empty() {
		return Gap{MM: lower, Bound: true}, nil
	}
	k := newPairKey(*a, *b)
	g, ok := memo[k]
	if !ok {
		var err error
		if g, err = DistanceWithin(*a, *b, within); err != nil {
			return Gap{}, err
		}
		g.OnA, g.OnB = a.Frame.ToLocal(g.OnA), a.Frame.ToLocal(g.OnB)
		memo[k] = g
	}
	g.OnA, g.OnB = a.Frame.Point(g.OnA), a.Frame.Point(g.OnB)
	return g, nil
}
