package geom

import "math"

// Body is a solid at a place. Bodies of one solid share all that is computed
// for distances, so place a repeated part by NewBody and not by Transform.
type Body struct {
	Solid Solid
	Frame Frame
}

// NewBody places a solid; f must be orthonormal and right-handed.
func NewBody(s Solid, f Frame) Body { return Body{s, f} }

// Bounds returns a box round the placed body: exact when the frame's axes are
// along the world's, else the box of the solid's turned box.
func (b Body) Bounds() Box3 { return b.Frame.Box(b.Solid.Bounds()) }

// Relation says how two bodies lie to each other.
type Relation int

// The relations.
const (
	Apart       Relation = iota // a gap of more than TouchTol
	Touching                    // in contact, or nearly: within TouchTol
	Interfering                 // sharing more than TouchTol of depth
)

// Gap is the result of a distance query between bodies a and b.
type Gap struct {
	Relation Relation
	// MM is the least distance between the true solids, mm, when Apart or
	// Touching (exact to 0.01 mm); when Interfering it is minus the length of the
	// shortest move of b along ±x, ±y or ±z of the world that clears a.
	MM float64
	// OnA and OnB are points of closest approach; when Interfering, both are a
	// point that the bodies share.
	OnA, OnB Vec3
	// Push is the unit direction of that shortest move of b.
	Push Vec3
	// Bound is set when MM is only a lower bound of the distance, because it is
	// beyond what was asked for. OnA and OnB are then not set.
	Bound bool
}

// DistanceWithin returns the gap between two bodies. Beyond within, mm, it may be
// a lower bound, no less than within; else it is exact and complete.
func DistanceWithin(a, b Body, within float64) (Gap, error) {
	if a.Solid.Empty() || b.Solid.Empty() {
		return Gap{MM: math.Inf(1), Bound: true}, nil
	}
	if err := firstError(a.Frame.Check(), b.Frame.Check()); err != nil {
		return Gap{}, err
	}
	if lb := a.Bounds().Dist(b.Bounds()); lb > within {
		return Gap{MM: lb, Bound: true}, nil
	}
	return newQuery(a, b).gap(within)
}
