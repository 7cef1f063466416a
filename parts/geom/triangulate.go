package geom

import (
	"cmp"
	"fmt"
	"slices"
)

// Triangulate flattens the profile to chordErr, mm, and returns its points and
// counter-clockwise triangles that cover it, using every point and adding none:
// V + 2·holes - 2 of them. Ear clipping with exact predicates, then flips
// towards the Delaunay triangulation to be rid of slivers.
func (p Profile) Triangulate(chordErr float64) ([]Vec2, []Triangle, error) {
	var loops [][]Vec2
	loops = append(loops, p.Outer.Oriented(true).Flatten(chordErr))
	for _, s := range p.Slots {
		loops = append(loops, s.Oriented(false).Flatten(chordErr))
	}
	for _, c := range p.Circles {
		l := c.Flatten(chordErr)
		slices.Reverse(l)
		loops = append(loops, l)
	}
	return triangulate(loops)
}

// triangulate covers the polygon loops[0], counter-clockwise, less the holes
// loops[1:], clockwise.
func triangulate(loops [][]Vec2) ([]Vec2, []Triangle, error) {
	r := newRing(loops)
	if err := r.bridgeHoles(loops); err != nil {
		return nil, nil, err
	}
	tris, err := r.clip()
	if err != nil {
		return nil, nil, err
	}
	flipToDelaunay(r.pts, tris, loops)
	return r.pts, tris, nil
}

// ring is the polygon being clipped: a circular list of nodes, several of which
// may stand on one point once bridges to holes are in.
type ring struct {
	pts  []Vec2
	node []node
	head int
	grid *pointGrid
}

type node struct {
	pt         int32
	prev, next int
	gone       bool
}

func newRing(loops [][]Vec2) *ring {
	r := &ring{}
	for _, l := range loops {
		r.pts = append(r.pts, l...)
	}
	r.addLoop(0, len(loops[0]))
	return r
}

// addLoop adds nodes for points first..first+n-1 as a closed chain of their own.
func (r *ring) addLoop(first, n int) int {
	base := len(r.node)
	for i := 0; i < n; i++ {
		r.node = append(r.node, node{int32(first + i), base + (i+n-1)%n, base + (i+1)%n, false})
	}
	return base
}

func (r *ring) at(i int) Vec2 { return r.pts[r.node[i].pt] }

func (r *ring) cone(i int, p Vec2) bool {
	n := r.node[i]
	return inCone(r.at(n.prev), r.at(i), r.at(n.next), p)
}

// hole is a hole waiting to be bridged.
type hole struct{ first, n, right int }

// bridgeHoles joins the holes to the outer boundary, rightmost first: each by
// its rightmost point to a visible point further right, so that no hole still
// waiting can be in the way.
func (r *ring) bridgeHoles(loops [][]Vec2) error {
	var hs []hole
	first := len(loops[0])
	for _, l := range loops[1:] {
		h := hole{first, len(l), first}
		for i := range l {
			p, q := r.pts[first+i], r.pts[h.right]
			if p.X > q.X || p.X == q.X && p.Y < q.Y {
				h.right = first + i
			}
		}
		hs = append(hs, h)
		first += len(l)
	}
	slices.SortStableFunc(hs, func(a, b hole) int { return cmp.Compare(r.pts[b.right].X, r.pts[a.right].X) })
	for _, h := range hs {
		if err := r.bridge(h); err != nil {
			return err
		}
	}
	return nil
}

func (r *ring) bridge(h hole) error {
	m := r.pts[h.right]
	v, ok := r.visible(m)
	if !ok {
		return fmt.Errorf("no way from the hole at (%g, %g) to its outline: %w", m.X, m.Y, ErrHoleOutside)
	}
	base := r.addLoop(h.first, h.n)
	w := base + h.right - h.first
	// v -> w ... w' -> v' -> old next of v
	v2, w2 := len(r.node), len(r.node)+1
	r.node = append(r.node, node{r.node[v].pt, w2, r.node[v].next, false}, node{r.node[w].pt, r.node[w].prev, v2, false})
	r.node[r.node[v].next].prev = v2
	r.node[r.node[w].prev].next = w2
	r.node[v].next, r.node[w].prev = w, v
	return nil
}

// visible returns the nearest node strictly right of m that m can see.
func (r *ring) visible(m Vec2) (int, bool) {
	type cand struct {
		d float64
		i int
	}
	var cs []cand
	for i := range r.node {
		if d := r.at(i).Sub(m); d.X > 0 {
			cs = append(cs, cand{d.Dot(d), i})
		}
	}
	slices.SortStableFunc(cs, func(a, b cand) int { return cmp.Compare(a.d, b.d) })
	for _, c := range cs {
		if r.cone(c.i, m) && !r.blocked(m, c.i) {
			return c.i, true
		}
	}
	return 0, false
}

// blocked reports whether an edge of the ring meets the open segment from m to
// node v.
func (r *ring) blocked(m Vec2, v int) bool {
	q, pt := r.at(v), r.node[v].pt
	for i, n := range r.node {
		if n.pt == pt || r.node[n.next].pt == pt {
			continue
		}
		if segmentsMeet(m, q, r.at(i), r.at(n.next)) {
			return true
		}
	}
	return false
}

// clip cuts ears until a triangle is left.
func (r *ring) clip() ([]Triangle, error) {
	r.indexReflex()
	left := len(r.node)
	tris := make([]Triangle, 0, left-2)
	for i, misses := 0, 0; left > 3; {
		n := r.node[i]
		if !r.isEar(i) {
			i = n.next
			if misses++; misses > left {
				return nil, fmt.Errorf("no ear among %d vertices: %w", left, ErrCrossing)
			}
			continue
		}
		tris = append(tris, Triangle{r.node[n.prev].pt, n.pt, r.node[n.next].pt})
		r.node[n.prev].next, r.node[n.next].prev = n.next, n.prev
		r.node[i].gone = true
		left--
		misses = 0
		i = r.node[n.next].next // every other vertex: fewer fans
		r.head = i
	}
	n := r.node[r.head]
	last := Triangle{r.node[n.prev].pt, n.pt, r.node[n.next].pt}
	if orient(r.pts[last[0]], r.pts[last[1]], r.pts[last[2]]) <= 0 {
		return nil, fmt.Errorf("last triangle is flat: %w", ErrCrossing)
	}
	return append(tris, last), nil
}

// isEar reports whether the triangle at node i may be cut off: it turns left,
// its base is a diagonal, and no other point lies in it. It is enough to look
// at points where the boundary does not turn left.
func (r *ring) isEar(i int) bool {
	n := r.node[i]
	a, b, c := r.at(n.prev), r.at(i), r.at(n.next)
	if orient(a, b, c) <= 0 || !r.cone(n.prev, c) || !r.cone(n.next, a) {
		return false
	}
	pa, pb, pc := r.node[n.prev].pt, n.pt, r.node[n.next].pt
	box := EmptyBox2().Add(a).Add(b).Add(c)
	return !r.grid.any(box, func(j int) bool {
		m := r.node[j]
		return !m.gone && m.pt != pa && m.pt != pb && m.pt != pc && inTriangle(a, b, c, r.pts[m.pt])
	})
}

func (r *ring) indexReflex() {
	b := EmptyBox2()
	for _, p := range r.pts {
		b = b.Add(p)
	}
	r.grid = newPointGrid(b, len(r.node))
	for i, n := range r.node {
		if orient(r.at(n.prev), r.at(i), r.at(n.next)) <= 0 {
			r.grid.add(r.at(i), i)
		}
	}
}
