package geom

// Body is a solid at a place. Bodies of one solid share all that is computed
// for distances.
type Body struct {
	Solid Solid
	Frame Frame
}

// NewBody places a solid; f must be orthonormal and right-handed.
func NewBody(s Solid, f Frame) Body { return Body{s, f} }

// Relation says how two bodies lie to each other.
type Relation int

// The relations.
const (
	Apart       Relation = iota // a gap of more than TouchTol
	Touching                    // in contact within TouchTol
	Interfering                 // sharing more than TouchTol of depth
)

// Gap is the result of a distance query between bodies a and b.
type Gap struct {
	Relation Relation
	// MM is the least distance between the true solids, mm, when Apart or
	// Touching (exact to 0.01 mm); when Interfering it is minus the length of the
	// shortest move of b along ±x, ±y or ±z that clears a.
	MM float64
	// OnA and OnB are points of closest approach; when Interfering, a point that
	// both share.
	OnA, OnB Vec3
	// Push is the unit direction of that shortest move of b.
	Push Vec3
	// Bound is set when MM is only a lower bound of the distance, because it is
	// beyond what was asked for.
	Bound bool
}

// PairGap is the gap between bodies I < J of a list.
type PairGap struct {
	I, J int
	Gap
}

type pieceSet struct{}
