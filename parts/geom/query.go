package geom

import (
	"cmp"
	"math"
	"slices"
)

// query works out the gap between two bodies in the coordinates of a's solid.
type query struct {
	a, b  Body
	f     Frame // takes b's solid to a's
	pairs []*piecePair
}

// piecePair is one piece of each.
type piecePair struct {
	a, b  *finePiece
	box   Box3 // b's, in a's coordinates
	lower float64
	f     Frame
	kin   kinship
	par   *parallel
	cross func() *crossed
}

// kinship says how the two prisms of a pair lie.
type kinship int

const (
	unknown kinship = iota
	parallelAxes
	crossedAxes
	strangers // oblique, or no prisms
)

func newQuery(a, b Body) *query {
	q := &query{a: a, b: b, f: a.Frame.Inverse().Mul(b.Frame)}
	for _, x := range a.Solid.finePieces() {
		for _, y := range b.Solid.finePieces() {
			box := q.f.Box(y.bounds)
			q.pairs = append(q.pairs, &piecePair{a: x, b: y, box: box, lower: x.bounds.Dist(box), f: q.f})
		}
	}
	slices.SortStableFunc(q.pairs, func(x, y *piecePair) int { return cmp.Compare(x.lower, y.lower) })
	return q
}

// relate finds out, once, how the pair's prisms lie.
func (p *piecePair) relate() kinship {
	if p.kin != unknown {
		return p.kin
	}
	p.kin = strangers
	if x, ok := asParallel(p.a, p.b, p.f); ok {
		p.kin, p.par = parallelAxes, x
	} else if x, ok := asCrossed(p.a, p.b, p.f); ok {
		p.kin, p.cross = crossedAxes, x
	}
	return p.kin
}

// trees returns both meshes.
func (p *piecePair) trees() (*tree, *tree, error) {
	a, err := p.a.meshTree()
	if err != nil {
		return nil, nil, err
	}
	b, err := p.b.meshTree()
	return a, b, err
}

// near returns the closest points of the pair, with zero distance when the two
// overlap; d is infinite when it is limit or more.
func (p *piecePair) near(limit float64) (near3, error) {
	if p.relate() == parallelAxes {
		return p.par.near(), nil
	}
	a, b, err := p.trees()
	if err != nil {
		return near3{}, err
	}
	n := a.near(b, p.f, limit)
	if n.d > 0 && p.lower == 0 {
		if at, ok := a.nested(b, p.f); ok {
			return near3{0, at, at}, nil
		}
	}
	return n, nil
}

// gap finds the least distance over all pairs of pieces; when it is nothing,
// it asks how deep the bodies are in each other.
func (q *query) gap(within float64) (Gap, error) {
	best := near3{d: math.Nextafter(within, math.Inf(1))}
	found := false
	for _, p := range q.pairs {
		if p.lower >= best.d {
			break
		}
		n, err := p.near(best.d)
		if err != nil {
			return Gap{}, err
		}
		if n.d < best.d {
			best, found = n, true
		}
	}
	if !found {
		return Gap{MM: within, Bound: true}, nil
	}
	g := Gap{MM: best.d, OnA: q.a.Frame.Point(best.p), OnB: q.a.Frame.Point(best.q)}
	if best.d > crossing {
		if best.d <= TouchTol {
			g.Relation = Touching
		}
		return g, nil
	}
	return q.depth(g)
}

// axes are the directions a body may be pushed in.
var axes = [6]Vec3{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {Z: 1}, {Z: -1}}

// depth looks for the shortest move along a world axis that parts the bodies.
// Directions in which the boxes part soonest are tried first, for what they give
// bounds the search in the others.
func (q *query) depth(g Gap) (Gap, error) {
	dirs := axes
	ba, bb := q.a.Bounds(), q.b.Bounds()
	slices.SortStableFunc(dirs[:], func(x, y Vec3) int {
		return cmp.Compare(math.Round(boxExit(ba, bb, x)/Weld), math.Round(boxExit(ba, bb, y)/Weld))
	})
	best := math.Inf(1)
	for _, d := range dirs {
		t, err := q.exit(q.a.Frame.DirToLocal(d), best)
		if err != nil {
			return Gap{}, err
		}
		if t < best {
			best, g.Push = t, d
		}
		if best <= TouchTol {
			g.Relation, g.MM, g.Push = Touching, 0, Vec3{}
			return g, nil
		}
	}
	g.Relation, g.MM = Interfering, -best
	return g, nil
}

// exit returns the least move of b along dir that parts the bodies, or infinity
// when it is limit or more. A piece left behind may meet the next one, so it
// goes round until no pair overlaps.
func (q *query) exit(dir Vec3, limit float64) (float64, error) {
	t := 0.0
	for changed := true; changed; {
		changed = false
		for _, p := range q.pairs {
			u, err := p.exit(dir, t, limit)
			if err != nil {
				return 0, err
			}
			if u >= limit {
				return math.Inf(1), nil
			}
			if u > t+crossing {
				t, changed = u, true
			}
		}
	}
	return t, nil
}

// exit returns the least move >= t of the pair's b along dir at which the two
// do not overlap.
func (p *piecePair) exit(dir Vec3, t, limit float64) (float64, error) {
	v := dir.Mul(t)
	if p.a.bounds.Dist(Box3{p.box.Min.Add(v), p.box.Max.Add(v)}) > 0 {
		return t, nil
	}
	switch p.relate() {
	case parallelAxes:
		return exitAt(p.par.overlaps(dir), t), nil
	case crossedAxes:
		if is, ok := p.cross().overlaps(dir); ok {
			return exitAt(is, t), nil
		}
	}
	return p.meshExit(dir, t, limit)
}

// meshExit halves the range between an overlapping and a free move down to
// depthStep.
func (p *piecePair) meshExit(dir Vec3, t, limit float64) (float64, error) {
	a, b, err := p.trees()
	if err != nil {
		return 0, err
	}
	meets := func(t float64) bool {
		_, hit := a.overlaps(b, p.f.Moved(dir.Mul(t)), pierceTol)
		return hit
	}
	if !meets(t) {
		return t, nil
	}
	hi := boxExit(p.a.bounds, p.box, dir)
	if limit < hi {
		if meets(limit) {
			return limit, nil
		}
		hi = limit
	}
	for lo := t; hi-lo > depthStep; {
		if m := (lo + hi) / 2; meets(m) {
			lo = m
		} else {
			hi = m
		}
	}
	return hi, nil
}

// boxExit returns the move of box b along dir that parts it from box a.
func boxExit(a, b Box3, dir Vec3) float64 {
	t := math.Inf(1)
	try := func(a0, a1, b0, b1, d float64) {
		switch {
		case d > parallelErr:
			t = min(t, (a1-b0)/d)
		case d < -parallelErr:
			t = min(t, (a0-b1)/d)
		}
	}
	try(a.Min.X, a.Max.X, b.Min.X, b.Max.X, dir.X)
	try(a.Min.Y, a.Max.Y, b.Min.Y, b.Max.Y, dir.Y)
	try(a.Min.Z, a.Max.Z, b.Min.Z, b.Max.Z, dir.Z)
	return max(0, t)
}
