package geom

import (
	"cmp"
	"math"
	"slices"
)

// tree is a mesh in a hierarchy of boxes.
type tree struct {
	tris  []tri
	boxes []Box3
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
	b := treeBuilder{tris: make([]tri, len(m.Triangles)), order: make([]int32, len(m.Triangles))}
	for i := range m.Triangles {
		b.tris[i][0], b.tris[i][1], b.tris[i][2] = m.corners(i)
		b.order[i] = int32(i)
		b.boxes = append(b.boxes, b.tris[i].box())
		b.mids = append(b.mids, b.boxes[i].Center())
	}
	b.build(0, len(b.tris))
	t := &tree{nodes: b.nodes}
	for _, i := range b.order {
		t.tris, t.boxes = append(t.tris, b.tris[i]), append(t.boxes, b.boxes[i])
	}
	return t
}

// treeBuilder sorts triangles by their number.
type treeBuilder struct {
	tris  []tri
	boxes []Box3
	mids  []Vec3
	order []int32
	nodes []treeNode
}

// build makes the node for a range of triangles, splitting at the median of
// the longest axis along which their middles lie.
func (t *treeBuilder) build(first, end int) int32 {
	b, mid := EmptyBox3(), EmptyBox3()
	for _, i := range t.order[first:end] {
		b = b.Union(t.boxes[i])
		mid = mid.Add(t.mids[i])
	}
	id := int32(len(t.nodes))
	t.nodes = append(t.nodes, treeNode{box: b, first: int32(first), n: int32(end - first)})
	if end-first <= leafSize {
		return id
	}
	axis := longest(mid.Size())
	slices.SortFunc(t.order[first:end], func(x, y int32) int {
		return cmp.Or(cmp.Compare(axis(t.mids[x]), axis(t.mids[y])), cmp.Compare(x, y))
	})
	h := (first + end) / 2
	l, r := t.build(first, h), t.build(h, end)
	n := &t.nodes[id]
	n.left, n.right, n.n = l, r, 0
	return id
}

// longest returns the coordinate in which the size is greatest.
func longest(s Vec3) func(Vec3) float64 {
	axes := []func(Vec3) float64{func(v Vec3) float64 { return v.X }, func(v Vec3) float64 { return v.Y }, func(v Vec3) float64 { return v.Z }}
	return slices.MaxFunc(axes, func(a, b func(Vec3) float64) int { return cmp.Compare(a(s), b(s)) })
}

// Box returns the box, along the outer axes, round a box placed by the frame.
func (f Frame) Box(b Box3) Box3 {
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
// are closer than limit(), nearest boxes first, until visit returns false; it is
// told when the triangles' boxes are apart.
type walk struct {
	a, b  *tree
	f     Frame
	limit func() float64
	visit func(x, y tri, apart bool) bool
}

func (w *walk) run() { w.pair(0, 0, w.f.Box(w.b.nodes[0].box)) }

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
	bl, br := w.f.Box(w.b.nodes[l].box), w.f.Box(w.b.nodes[r].box)
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
	for j := y.first; j < y.first+y.n; j++ {
		qb := w.f.Box(w.b.boxes[j])
		if x.box.Dist(qb) > w.limit() {
			continue
		}
		q := w.f.tri(w.b.tris[j])
		for i := x.first; i < x.first+x.n; i++ {
			d := w.a.boxes[i].Dist(qb)
			if d <= w.limit() && !w.visit(w.a.tris[i], q, d > 0) {
				return false
			}
		}
	}
	return true
}

// near returns the closest points of two meshes closer than limit, to within
// sameDist, in a's coordinates; d is infinite when there are none.
func (t *tree) near(b *tree, f Frame, limit float64) near3 {
	n := near3{d: limit}
	found := false
	w := walk{t, b, f, func() float64 { return n.d - min(sameDist, n.d/100) }, func(x, y tri, apart bool) bool {
		d := n.d
		n.triNear(x, y, apart)
		found = found || n.d < d
		return n.d > crossing
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
	w := walk{t, b, f, func() float64 { return 0 }, func(x, y tri, _ bool) bool {
		at, hit = pierced(x, y, tol)
		return !hit
	}}
	w.run()
	if hit {
		return at, true
	}
	return t.nested(b, f)
}

// nested returns a point shared by two closed meshes whose surfaces do not meet:
// one holds the other.
func (t *tree) nested(b *tree, f Frame) (Vec3, bool) {
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
