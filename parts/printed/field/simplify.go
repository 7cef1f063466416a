package field

import (
	"slices"

	"clampwright/parts/geom"
)

// simplify collapses edges onto one of their ends, flattest first (quadric
// error: Garland, Heckbert 1997), as long as the triangles that change stay
// within the deviation of the field, keep their side and their shape.
func simplify(f Func, m geom.Mesh, deviation float64) geom.Mesh {
	s := newSimplifier(f, m, 0.6*deviation)
	for len(s.queue) > 0 {
		e := s.queue.pop()
		if s.dead[e.from] || s.dead[e.to] || s.age[e.from] != e.ageFrom || s.age[e.to] != e.ageTo {
			continue
		}
		if s.allowed(e) {
			s.do(e)
		}
	}
	return s.result()
}

// simplifier holds a mesh while it changes.
type simplifier struct {
	f        Func
	most     float64
	v        []geom.Vec3
	tris     []geom.Triangle
	gone     []bool    // triangles
	dead     []bool    // vertices
	age      []int32   // changes of a vertex's quadric
	around   [][]int32 // triangles at a vertex
	quadrics []quadric
	queue    collapses
}

// collapse is moving one vertex of an edge onto the other.
type collapse struct {
	cost           float64
	from, to       int32
	ageFrom, ageTo int32
}

// less puts the cheapest collapse first; no two live ones are equal in all three.
func (c *collapse) less(d *collapse) bool {
	if c.cost != d.cost {
		return c.cost < d.cost
	}
	if c.from != d.from {
		return c.from < d.from
	}
	return c.to < d.to
}

// collapses is a binary heap, the cheapest on top. The library's heap boxes each
// entry and swaps through an interface, which was a fifth of a part's time.
type collapses []collapse

func (c *collapses) push(x collapse) {
	h := append(*c, x)
	i := len(h) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !x.less(&h[up]) {
			break
		}
		h[i], i = h[up], up
	}
	h[i] = x
	*c = h
}

func (c *collapses) pop() collapse {
	h := *c
	top, last := h[0], len(h)-1
	h[0] = h[last]
	h = h[:last]
	h.sink(0)
	*c = h
	return top
}

// sink moves entry i down to its place.
func (c collapses) sink(i int) {
	if i >= len(c) {
		return
	}
	x := c[i]
	for {
		k := 2*i + 1
		if k >= len(c) {
			break
		}
		if k+1 < len(c) && c[k+1].less(&c[k]) {
			k++
		}
		if !c[k].less(&x) {
			break
		}
		c[i], i = c[k], k
	}
	c[i] = x
}

// order makes a heap of entries in any order.
func (c collapses) order() {
	for i := len(c)/2 - 1; i >= 0; i-- {
		c.sink(i)
	}
}

// quadric sums squared distances to planes n·x = d, weighted.
type quadric struct {
	xx, xy, xz, yy, yz, zz, x, y, z, c float64
	w                                  float64
}

func (q *quadric) plane(n geom.Vec3, d, w float64) {
	q.xx += w * n.X * n.X
	q.xy += w * n.X * n.Y
	q.xz += w * n.X * n.Z
	q.yy += w * n.Y * n.Y
	q.yz += w * n.Y * n.Z
	q.zz += w * n.Z * n.Z
	q.x -= w * n.X * d
	q.y -= w * n.Y * d
	q.z -= w * n.Z * d
	q.c += w * d * d
	q.w += w
}

func (q *quadric) add(r quadric) {
	q.xx, q.xy, q.xz = q.xx+r.xx, q.xy+r.xy, q.xz+r.xz
	q.yy, q.yz, q.zz = q.yy+r.yy, q.yz+r.yz, q.zz+r.zz
	q.x, q.y, q.z, q.c, q.w = q.x+r.x, q.y+r.y, q.z+r.z, q.c+r.c, q.w+r.w
}

// at is the mean square distance of p to the planes, mm².
func (q *quadric) at(p geom.Vec3) float64 {
	e := q.xx*p.X*p.X + q.yy*p.Y*p.Y + q.zz*p.Z*p.Z + 2*(q.xy*p.X*p.Y+q.xz*p.X*p.Z+q.yz*p.Y*p.Z) +
		2*(q.x*p.X+q.y*p.Y+q.z*p.Z) + q.c
	return max(0, e) / q.w
}

func newSimplifier(f Func, m geom.Mesh, most float64) *simplifier {
	n := len(m.Vertices)
	s := &simplifier{f: f, most: most, v: m.Vertices, tris: slices.Clone(m.Triangles), gone: make([]bool, len(m.Triangles)),
		dead: make([]bool, n), age: make([]int32, n), around: make([][]int32, n), quadrics: make([]quadric, n)}
	for i, t := range s.tris {
		a, b, c := s.v[t[0]], s.v[t[1]], s.v[t[2]]
		x := b.Sub(a).Cross(c.Sub(a))
		u := x.Unit()
		for _, v := range t {
			s.around[v] = append(s.around[v], int32(i))
			s.quadrics[v].plane(u, u.Dot(a), x.Len()+1e-12)
		}
	}
	for _, t := range s.tris {
		for k := range 3 {
			if a, b := t[k], t[(k+1)%3]; a < b {
				s.offer(a, b)
			}
		}
	}
	s.queue.order()
	return s
}

// offer queues both collapses of an edge without regard to the heap's order.
func (s *simplifier) offer(a, b int32) {
	for _, c := range [2]collapse{s.collapse(a, b), s.collapse(b, a)} {
		if c.cost <= s.most*s.most {
			s.queue = append(s.queue, c)
		}
	}
}

func (s *simplifier) collapse(from, to int32) collapse {
	d := s.v[from].Dist(s.v[to])
	cost := s.quadrics[from].at(s.v[to]) + 1e-12*d*d // among flat ones, short edges first
	return collapse{cost, from, to, s.age[from], s.age[to]}
}

// turned is the least cosine between a triangle's normal before and after.
const turned = 0.7

// noArea is twice the area below which a triangle has no side to keep, mm².
const noArea = 1e-9

// shape is the aspect above which no new triangle is made, unless the triangle
// was worse before.
const shape = 40

// inPlane is the cost below which a vertex moves in the planes of its triangles,
// mm²: the surface they cover stays the same to 0.1 µm, so the field need not be
// asked.
const inPlane = 1e-8

// allowed checks a collapse on every triangle it changes.
func (s *simplifier) allowed(e collapse) bool {
	if e.cost > s.most*s.most || !s.closed(e.from, e.to) {
		return false
	}
	to := s.v[e.to]
	worst, was := 0.0, 0.0
	for _, i := range s.around[e.from] {
		t := s.tris[i]
		if t[0] == e.to || t[1] == e.to || t[2] == e.to {
			continue
		}
		a, b, c := s.v[t[0]], s.v[t[1]], s.v[t[2]]
		old := b.Sub(a).Cross(c.Sub(a))
		was = max(was, aspect(a, b, c))
		a, b, c = s.moved(t, e, to)
		now := b.Sub(a).Cross(c.Sub(a))
		if old.Len() > noArea && now.Unit().Dot(old.Unit()) < turned {
			return false
		}
		worst = max(worst, aspect(a, b, c))
	}
	if worst > shape && worst > was {
		return false
	}
	if e.cost < inPlane {
		return true
	}
	for _, i := range s.around[e.from] {
		if t := s.tris[i]; t[0] != e.to && t[1] != e.to && t[2] != e.to {
			a, b, c := s.moved(t, e, to)
			if strayAt(samples[3:7], s.f, a, b, c, s.most) > s.most {
				return false
			}
		}
	}
	return true
}

// moved returns the corners of a triangle after the collapse.
func (s *simplifier) moved(t geom.Triangle, e collapse, to geom.Vec3) (a, b, c geom.Vec3) {
	p := [3]geom.Vec3{s.v[t[0]], s.v[t[1]], s.v[t[2]]}
	for k := range 3 {
		if t[k] == e.from {
			p[k] = to
		}
	}
	return p[0], p[1], p[2]
}

// closed reports whether the surface stays one after the collapse: the two ends
// share exactly the two vertices across the edge, and no triangle pair folds.
func (s *simplifier) closed(a, b int32) bool {
	na, nb := s.ring(a), s.ring(b)
	common := 0
	for _, v := range na {
		if slices.Contains(nb, v) {
			common++
		}
	}
	return common == 2 && len(na)+len(nb)-4 > 3
}

// ring lists the neighbours of a vertex.
func (s *simplifier) ring(v int32) []int32 {
	var out []int32
	for _, i := range s.around[v] {
		for _, w := range s.tris[i] {
			if w != v && !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
	}
	return out
}

// do moves from onto to.
func (s *simplifier) do(e collapse) {
	s.dead[e.from] = true
	s.quadrics[e.to].add(s.quadrics[e.from])
	for _, i := range s.around[e.from] {
		t := &s.tris[i]
		if t[0] == e.to || t[1] == e.to || t[2] == e.to {
			s.gone[i] = true
			for _, v := range t {
				s.around[v] = without(s.around[v], i)
			}
			continue
		}
		for k := range 3 {
			if t[k] == e.from {
				t[k] = e.to
			}
		}
		s.around[e.to] = append(s.around[e.to], i)
	}
	s.age[e.to]++ // its quadric changed, and with it the cost of its edges
	for _, w := range s.ring(e.to) {
		for _, c := range [2]collapse{s.collapse(e.to, w), s.collapse(w, e.to)} {
			if c.cost <= s.most*s.most {
				s.queue.push(c)
			}
		}
	}
}

// without removes a value from a list, keeping the order. The list is not
// shared.
func without(list []int32, x int32) []int32 {
	out := make([]int32, 0, len(list))
	for _, v := range list {
		if v != x {
			out = append(out, v)
		}
	}
	return out
}

// result numbers what is left anew.
func (s *simplifier) result() geom.Mesh {
	var m geom.Mesh
	at := make([]int32, len(s.v))
	for i := range at {
		at[i] = -1
	}
	for i, t := range s.tris {
		if s.gone[i] {
			continue
		}
		var u geom.Triangle
		for k, v := range t {
			if at[v] < 0 {
				at[v] = int32(len(m.Vertices))
				m.Vertices = append(m.Vertices, s.v[v])
			}
			u[k] = at[v]
		}
		m.Triangles = append(m.Triangles, u)
	}
	return m
}
