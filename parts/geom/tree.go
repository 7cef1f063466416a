package geom

import (
	"cmp"
	"math"
	"slices"
)

// tree is a mesh in a hierarchy of boxes.
type tree struct {
	tris  []tri
	nodes []treeNode
}

// treeNode holds triangles first..first+n-1, or for n = 0 two children.
type treeNode struct {
	box         Box3
	first, n    int32
	left, right int32
}

const leafSize = 4 // few enough that the box test is not wasted

func newTree(m Mesh) *tree {
	t := &tree{tris: make([]tri, len(m.Triangles))}
	for i := range m.Triangles {
		t.tris[i][0], t.tris[i][1], t.tris[i][2] = m.corners(i)
	}
	t.build(0, len(t.tris))
	return t
}

// build makes the node for a range of triangles, splitting at the median of
// the box's longest axis.
func (t *tree) build(first, end int) int32 {
	b := EmptyBox3()
	mid := EmptyBox3()
	for _, x := range t.tris[first:end] {
		b = b.Union(x.box())
		mid = mid.Add(x.box().Center())
	}
	id := int32(len(t.nodes))
	t.nodes = append(t.nodes, treeNode{box: b, first: int32(first), n: int32(end - first)})
	if end-first <= leafSize {
		return id
	}
	axis := longest(mid.Size())
	slices.SortStableFunc(t.tris[first:end], func(x, y tri) int {
		return cmp.Compare(axis(x.box().Center()), axis(y.box().Center()))
	})
	h := (first + end) / 2
	l, r := t.build(first, h), t.build(h, end)
	n := &t.nodes[id]
	n.left, n.right, n.n = l, r, 0
	return id
}

// longest returns the coordinate in which the size is greatest.
func longest(s Vec3) func(Vec3) float64 {
	switch {
	case s.X >= s.Y && s.X >= s.Z:
		return func(v Vec3) float64 { return v.X }
	case s.Y >= s.Z:
		return func(v Vec3) float64 { return v.Y }
	}
	return func(v Vec3) float64 { return v.Z }
}

// box takes a box through the frame.
func (f Frame) box(b Box3) Box3 {
	c, h := f.Point(b.Center()), b.Size().Mul(0.5)
	d := Vec3{
		math.Abs(f.X.X)*h.X + math.Abs(f.Y.X)*h.Y + math.Abs(f.Z.X)*h.Z,
		math.Abs(f.X.Y)*h.X + math.Abs(f.Y.Y)*h.Y + math.Abs(f.Z.Y)*h.Z,
		math.Abs(f.X.Z)*h.X + math.Abs(f.Y.Z)*h.Y + math.Abs(f.Z.Z)*h.Z,
	}
	return Box3{c.Sub(d), c.Add(d)}
}

func (f Frame) tri(t tri) tri { return tri{f.Point(t[0]), f.Point(t[1]), f.Point(t[2])} }

// walk visits pairs of leaf triangles of a and b (seen through f) whose boxes
// are closer than limit(), nearest boxes first, until visit returns false.
type walk struct {
	a, b  *tree
	f     Frame
	limit func() float64
	visit func(x, y tri) bool
}

func (w *walk) run() { w.pair(0, 0, w.f.box(w.b.nodes[0].box)) }

func (w *walk) pair(i, j int32, bj Box3) bool {
	x, y := &w.a.nodes[i], &w.b.nodes[j]
	if x.box.Dist(bj) > w.limit() {
		return true
	}
	if x.n > 0 && y.n > 0 {
		return w.leaves(x, y)
	}
	if y.n > 0 || x.n == 0 && volumeish(x.box) >= volumeish(bj) {
		l, r := x.left, x.right
		if w.a.nodes[r].box.dist2(bj) < w.a.nodes[l].box.dist2(bj) {
			l, r = r, l
		}
		return w.pair(l, j, bj) && w.pair(r, j, bj)
	}
	l, r := y.left, y.right
	bl, br := w.f.box(w.b.nodes[l].box), w.f.box(w.b.nodes[r].box)
	if br.dist2(x.box) < bl.dist2(x.box) {
		l, r, bl, br = r, l, br, bl
	}
	return w.pair(i, l, bl) && w.pair(i, r, br)
}

// volumeish orders boxes by size, flat ones included.
func volumeish(b Box3) float64 {
	s := b.Size()
	return s.Dot(s)
}

func (w *walk) leaves(x, y *treeNode) bool {
	for _, q := range w.b.tris[y.first : y.first+y.n] {
		q = w.f.tri(q)
		qb := q.box()
		for _, p := range w.a.tris[x.first : x.first+x.n] {
			if p.box().Dist(qb) <= w.limit() && !w.visit(p, q) {
				return false
			}
		}
	}
	return true
}

// near returns the closest points of two meshes closer than limit, in a's
// coordinates; d is infinite when there are none.
func (t *tree) near(b *tree, f Frame, limit float64) near3 {
	n := near3{d: limit}
	found := false
	w := walk{t, b, f, func() float64 { return n.d }, func(x, y tri) bool {
		d := n.d
		n.triNear(x, y)
		found = found || n.d < d
		return n.d > 0
	}}
	w.run()
	if !found {
		return far3()
	}
	return n
}

// overlaps returns a point shared by the interiors of two closed meshes: an
// edge of one passes through a triangle of the other by more than tol, or one
// holds the other.
func (t *tree) overlaps(b *tree, f Frame, tol float64) (Vec3, bool) {
	var at Vec3
	hit := false
	w := walk{t, b, f, func() float64 { return 0 }, func(x, y tri) bool {
		at, hit = pierced(x, y, tol)
		return !hit
	}}
	w.run()
	if hit {
		return at, true
	}
	if p := b.inner(); t.contains(f.Point(p)) {
		return f.Point(p), true
	}
	if p := t.inner(); b.contains(f.Inverse().Point(p)) {
		return p, true
	}
	return Vec3{}, false
}

// inner returns a point just inside the surface, under its first triangle.
func (t *tree) inner() Vec3 {
	x := t.tris[0]
	c := x[0].Add(x[1]).Add(x[2]).Mul(1.0 / 3)
	return c.Sub(x.normal().Unit().Mul(MinSize / 2))
}

// contains reports whether p lies inside the closed mesh: the solid angle all
// triangles subtend is 4π inside, 0 outside (van Oosterom & Strackee, 1983).
func (t *tree) contains(p Vec3) bool {
	if !t.nodes[0].box.Contains(p) {
		return false
	}
	var w float64
	for _, x := range t.tris {
		a, b, c := x[0].Sub(p), x[1].Sub(p), x[2].Sub(p)
		la, lb, lc := a.Len(), b.Len(), c.Len()
		w += math.Atan2(a.Dot(b.Cross(c)), la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb)
	}
	return w > math.Pi // twice the half angles: full is 2π
}
