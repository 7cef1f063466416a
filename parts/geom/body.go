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
func (b Body) Bounds() Box3 { return b.Frame.box(b.Solid.Bounds()) }

// Moved returns the body moved by v.
func (b Body) Moved(v Vec3) Body { return Body{b.Solid, b.Frame.Moved(v)} }

// Relation says how two bodies lie to each other.
type Relation int

// The relations.
const (
	Apart       Relation = iota // a gap of more than TouchTol
	Touching                    // in contact, or nearly: within TouchTol
	Interfering                 // sharing more than TouchTol of depth
)

// String returns the relation in a word.
func (r Relation) String() string {
	return [...]string{"apart", "touching", "interfering"}[r]
}

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

// Distance returns the gap between two bodies, both exact and complete.
func Distance(a, b Body) (Gap, error) { return DistanceWithin(a, b, math.Inf(1)) }

// DistanceWithin is Distance for those who care only for gaps up to within, mm:
// beyond it, the gap may be reported as a lower bound, no less than within.
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

// ClearMove returns the least move of b along dir, a unit vector, at which b no
// longer shares space with a: zero when it shares none now.
func ClearMove(a, b Body, dir Vec3) (float64, error) {
	if a.Solid.Empty() || b.Solid.Empty() {
		return 0, nil
	}
	if err := firstError(a.Frame.Check(), b.Frame.Check()); err != nil {
		return 0, err
	}
	if !dir.Finite() || dir == (Vec3{}) {
		return 0, ErrNotFinite
	}
	q := newQuery(a, b)
	return q.exit(a.Frame.DirToLocal(dir.Unit()), math.Inf(1))
}
