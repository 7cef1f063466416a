package geom

import (
	"fmt"
	"math"
)

// Bounds returns the exact box of the outer boundary.
func (p Profile) Bounds() Box2 { return p.Outer.Bounds() }

// Moved returns the profile moved by v.
func (p Profile) Moved(v Vec2) Profile {
	return p.mapped(func(q Path) Path { return q.Moved(v) }, func(c Vec2) Vec2 { return c.Add(v) })
}

// Turned returns the profile turned about the origin by the angle, rad.
func (p Profile) Turned(angle float64) Profile {
	s, c := sincosExact(angle)
	return p.mapped(func(q Path) Path { return q.Turned(angle) },
		func(v Vec2) Vec2 { return Vec2{c*v.X - s*v.Y, s*v.X + c*v.Y} })
}

// MirroredY returns the profile with y negated: the same face seen from behind.
func (p Profile) MirroredY() Profile {
	return p.mapped(Path.MirroredY, func(c Vec2) Vec2 { return Vec2{c.X, -c.Y} })
}

func (p Profile) mapped(path func(Path) Path, point func(Vec2) Vec2) Profile {
	q := Profile{Outer: path(p.Outer)}
	for _, s := range p.Slots {
		q.Slots = append(q.Slots, path(s))
	}
	for _, c := range p.Circles {
		q.Circles = append(q.Circles, Circle{point(c.C), c.R})
	}
	return q
}

// Normalized returns the profile with the outer boundary counter-clockwise and
// slots clockwise.
func (p Profile) Normalized() Profile {
	q := Profile{Outer: p.Outer.Oriented(true), Circles: p.Circles}
	for _, s := range p.Slots {
		q.Slots = append(q.Slots, s.Oriented(false))
	}
	return q
}

// loops returns the boundaries as edges: outer, slots, circles.
func (p Profile) loops() [][]Edge {
	ls := [][]Edge{p.Outer.Edges()}
	for _, s := range p.Slots {
		ls = append(ls, s.Edges())
	}
	for _, c := range p.Circles {
		ls = append(ls, []Edge{circleEdge(c)})
	}
	return ls
}

// Contains reports whether q lies in the profile: inside the outer boundary and
// in no hole. Points on a boundary may go either way.
func (p Profile) Contains(q Vec2) bool {
	if !p.Outer.Contains(q) {
		return false
	}
	for _, s := range p.Slots {
		if s.Contains(q) {
			return false
		}
	}
	for _, c := range p.Circles {
		if q.Dist(c.C) < c.R {
			return false
		}
	}
	return true
}

// Contains reports whether q lies inside the path, whichever way it runs:
// inside the chord polygon, toggled by each segment between chord and arc that
// holds q.
func (p Path) Contains(q Vec2) bool {
	return loopHolds(p.Edges(), q)
}

// Validate reports a profile that cannot be cut: paths that are not simple,
// boundaries running the wrong way, holes outside the outline, touching it or
// one another (closer than MinLigament).
func (p Profile) Validate() error {
	if err := p.Outer.Validate(); err != nil {
		return fmt.Errorf("outline: %w", err)
	}
	if !p.Outer.CCW() {
		return fmt.Errorf("outline: %w", ErrOrientation)
	}
	for i, s := range p.Slots {
		if err := s.Validate(); err != nil {
			return fmt.Errorf("slot %d: %w", i+1, err)
		}
		if s.CCW() {
			return fmt.Errorf("slot %d: %w", i+1, ErrOrientation)
		}
	}
	for i, c := range p.Circles {
		if err := c.Validate(); err != nil {
			return fmt.Errorf("hole %d: %w", i+1, err)
		}
	}
	return p.validateHoles()
}

// Validate reports a circle that is not finite or has no size.
func (c Circle) Validate() error {
	if !c.C.Finite() {
		return ErrNotFinite
	}
	return checkSize("radius", c.R, MinSize, MaxSize, "")
}

func (p Profile) validateHoles() error {
	ls := p.loops()
	boxes := make([]Box2, len(ls))
	for i, l := range ls {
		boxes[i] = loopBounds(l)
	}
	for i := 1; i < len(ls); i++ {
		if loopDist(ls[0], ls[i]) < MinLigament || !p.Outer.Contains(ls[i][0].A) {
			return fmt.Errorf("%s: %w", p.holeName(i), ErrHoleOutside)
		}
		for j := 1; j < i; j++ {
			if boxes[i].Dist(boxes[j]) < MinLigament && loopsOverlap(ls[i], ls[j]) {
				return fmt.Errorf("%s and %s: %w", p.holeName(j), p.holeName(i), ErrHolesTouch)
			}
		}
	}
	return nil
}

// holeName names loop i of loops.
func (p Profile) holeName(i int) string {
	if i <= len(p.Slots) {
		return fmt.Sprintf("slot %d", i)
	}
	return fmt.Sprintf("hole %d", i-len(p.Slots))
}

func loopBounds(l []Edge) Box2 {
	b := EmptyBox2()
	for _, e := range l {
		b = b.Union(e.Bounds())
	}
	return b
}

// loopsOverlap reports whether two closed loops touch or one holds the other.
func loopsOverlap(a, b []Edge) bool {
	return loopDist(a, b) < MinLigament || loopHolds(a, b[0].A) || loopHolds(b, a[0].A)
}

// loopHolds reports whether q lies inside a loop.
func loopHolds(l []Edge, q Vec2) bool {
	if len(l) == 1 {
		return q.Dist(l[0].C) < l[0].R
	}
	in := false
	for _, e := range l {
		if upright(e.A, e.B, q) {
			in = !in
		}
		if e.Arc && q.Dist(e.C) < e.R && leftOf(e.A, e.B, q) != (e.Sweep > 0) {
			in = !in
		}
	}
	return in
}

// gap returns the least distance between different boundaries, and between
// edges of one boundary that are not neighbours: how far chords may stray
// before the flattened profile could cross itself.
func (p Profile) gap() float64 {
	ls := p.loops()
	g := math.Inf(1)
	for i, a := range ls {
		for _, b := range ls[:i] {
			g = min(g, loopDist(a, b))
		}
		for j := range a {
			for k := j + 2; k < len(a) && (j > 0 || k < len(a)-1); k++ {
				g = min(g, edgeDist(a[j], a[k]).d)
			}
		}
	}
	return g
}

// DistTo returns how far inside the path the point lies, mm: the distance to
// the boundary, negative outside.
func (p Path) DistTo(q Vec2) float64 {
	d := math.Inf(1)
	for _, e := range p.Edges() {
		d = min(d, e.Dist(q))
	}
	if !p.Contains(q) {
		return -d
	}
	return d
}

// HoldsRect reports whether the w x h rectangle about c lies in the profile
// without touching a boundary.
func (p Profile) HoldsRect(c Vec2, w, h float64) bool {
	if !(w > MinSize && h > MinSize) || !p.Contains(c) {
		return false
	}
	r := RectAt(c, w, h).Edges()
	rb := loopBounds(r)
	for _, l := range p.loops() {
		if loopHolds(r, l[0].A) {
			return false
		}
		if loopBounds(l).Dist(rb) < MinLigament && loopDist(r, l) < MinLigament {
			return false
		}
	}
	return true
}
