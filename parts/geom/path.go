package geom

import (
	"fmt"
	"math"
	"slices"
)

// Edges returns the edges in order; edge i leaves vertex i.
func (p Path) Edges() []Edge {
	es := make([]Edge, len(p))
	for i, v := range p {
		es[i] = NewEdge(v.P, p[(i+1)%len(p)].P, v.Bulge)
	}
	return es
}

// Area returns the signed area, mm²: positive when counter-clockwise. A chord
// polygon by the shoelace formula, plus R²/2·(sweep - sin sweep) for each arc.
func (p Path) Area() float64 {
	var a float64
	for _, e := range p.Edges() {
		a += e.A.Cross(e.B) / 2
		if e.Arc {
			a += e.R * e.R / 2 * (e.Sweep - math.Sin(e.Sweep))
		}
	}
	return a
}

// Bounds returns the exact box of the path, arc extremes included.
func (p Path) Bounds() Box2 {
	b := EmptyBox2()
	for _, e := range p.Edges() {
		b = b.Union(e.Bounds())
	}
	return b
}

// CCW reports whether the path runs counter-clockwise.
func (p Path) CCW() bool { return p.Area() > 0 }

// Reversed returns the same outline run the other way.
func (p Path) Reversed() Path {
	n := len(p)
	r := make(Path, n)
	for i := range p {
		// vertex n-1-i, left by the edge that used to enter it
		r[i] = Vertex{p[n-1-i].P, -p[(2*n-2-i)%n].Bulge}
	}
	return r
}

// Oriented returns the path, reversed if needed, running counter-clockwise or
// clockwise as asked.
func (p Path) Oriented(ccw bool) Path {
	if p.CCW() == ccw {
		return p
	}
	return p.Reversed()
}

// Moved returns the path moved by v.
func (p Path) Moved(v Vec2) Path {
	q := slices.Clone(p)
	for i := range q {
		q[i].P = q[i].P.Add(v)
	}
	return q
}

// Turned returns the path turned about the origin by the angle, rad.
func (p Path) Turned(angle float64) Path {
	s, c := sincosExact(angle)
	q := slices.Clone(p)
	for i, v := range q {
		q[i].P = Vec2{c*v.P.X - s*v.P.Y, s*v.P.X + c*v.P.Y}
	}
	return q
}

// MirroredY returns the path with y negated and the direction restored.
func (p Path) MirroredY() Path {
	q := slices.Clone(p)
	for i, v := range q {
		q[i] = Vertex{Vec2{v.P.X, -v.P.Y}, -v.Bulge}
	}
	return q.Reversed()
}

// Flatten returns the vertices of a polygon whose sides keep within chordErr,
// mm, of the path; its vertices lie on the path.
func (p Path) Flatten(chordErr float64) []Vec2 {
	var pts []Vec2
	for _, e := range p.Edges() {
		pts = e.appendChords(pts, chordErr)
	}
	return pts
}

// Flatten returns a counter-clockwise polygon with its vertices on the circle.
func (c Circle) Flatten(chordErr float64) []Vec2 {
	return circleEdge(c).appendChords(nil, chordErr)
}

// Path returns the circle as two counter-clockwise half circles.
func (c Circle) Path() Path {
	r := Vec2{X: c.R}
	return Path{{c.C.Add(r), 1}, {c.C.Sub(r), 1}}
}

// Area returns the area, mm².
func (c Circle) Area() float64 { return math.Pi * c.R * c.R }

// Validate reports a path that is not finite, has edges shorter than MinSize,
// arcs of a full turn, encloses nothing, or crosses or touches itself.
func (p Path) Validate() error {
	if len(p) < 2 {
		return ErrTooFew
	}
	for i, v := range p {
		if !v.P.Finite() || math.IsNaN(v.Bulge) {
			return fmt.Errorf("vertex %d at (%g, %g): %w", i, v.P.X, v.P.Y, ErrNotFinite)
		}
		if math.Abs(v.Bulge) > 1e6 {
			return fmt.Errorf("vertex %d: %w", i, ErrBulge)
		}
	}
	es := p.Edges()
	for i, e := range es {
		if e.A.Dist(e.B) < MinSize {
			return fmt.Errorf("edge %d at (%g, %g): %w", i, e.A.X, e.A.Y, ErrShortEdge)
		}
		if !e.Bounds().finite() {
			return fmt.Errorf("edge %d: %w", i, ErrNotFinite)
		}
	}
	return checkSimple(es)
}

func (b Box2) finite() bool { return b.Min.Finite() && b.Max.Finite() }

// checkSimple reports edges of one path that meet anywhere but in shared
// vertices, and paths that enclose no area.
func checkSimple(es []Edge) error {
	n := len(es)
	for i := range es {
		for j := i + 1; j < n; j++ {
			if edgesMeet(es, i, j) {
				return fmt.Errorf("edges %d and %d: %w", i, j, ErrCrossing)
			}
		}
	}
	if a := math.Abs(PathOf(es).Area()); a < MinSize*MinSize {
		return fmt.Errorf("enclosed area %g mm²: %w", a, ErrCrossing)
	}
	return nil
}

// edgesMeet reports whether edges i < j of one path meet anywhere but in the
// vertices they share by being neighbours.
func edgesMeet(es []Edge, i, j int) bool {
	n := len(es)
	a, b := es[i], es[j]
	after, before := j == i+1, i == 0 && j == n-1
	if !after && !before {
		return a.Bounds().Dist(b.Bounds()) < MinLigament && edgeDist(a, b).d < MinLigament
	}
	if foldsBack(es, i, j, after, before) {
		return true
	}
	for _, p := range crossings(a, b) {
		shared := after && p.Dist(a.B) < MinSize || before && p.Dist(a.A) < MinSize
		if !shared {
			return true
		}
	}
	return false
}

// foldsBack reports whether neighbouring edges leave their shared vertex along
// the same line and on the same side, enclosing nothing between them.
func foldsBack(es []Edge, i, j int, after, before bool) bool {
	a, b := es[i], es[j]
	fold := func(in, out Edge) bool {
		back, fwd := in.Tangent(1).Mul(-1), out.Tangent(0)
		if back.Dot(fwd) < 0 || math.Abs(back.Cross(fwd)) > 1e-9 {
			return false
		}
		return curvature(in.reversed()) == curvature(out)
	}
	return after && fold(a, b) || before && fold(b, a)
}

// curvature is the signed curvature of an edge, 1/mm.
func curvature(e Edge) float64 {
	if !e.Arc {
		return 0
	}
	return math.Copysign(1/e.R, e.Sweep)
}

// PathOf returns the closed path of edges that follow each other.
func PathOf(es []Edge) Path {
	p := make(Path, len(es))
	for i, e := range es {
		p[i] = Vertex{e.A, e.Bulge()}
	}
	return p
}
