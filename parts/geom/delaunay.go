package geom

import "math"

// Triangulation covers a rectangle round all its points. Triangle i has the
// vertices Tri[i], counter-clockwise; across its edge k, from vertex k to k+1, lies
// triangle Next[i][k], -1 outside. Fixed edges are those that were asked for.
type Triangulation struct {
	Pts   []Vec2 // the first four are the corners of the rectangle
	Tri   []Triangle
	Next  [][3]int32
	Fixed [][3]bool
	Mask  []uint64 // the caller's, once Fill set it: the parts of a split triangle keep it
	last  int32
}

// frameCorners is how many points of a Triangulation come before the caller's.
const frameCorners = 4

// Constrained triangulates points, each given once, so that every edge, a pair
// of their numbers, is one of the triangles' and all others are Delaunay. Vertex
// 4+i is point i. Edges that cross each other or pass through a point are an
// ErrCrossing.
func Constrained(pts []Vec2, edges [][2]int32) (*Triangulation, error) {
	t := &Triangulation{}
	t.frame(pts)
	for i, p := range pts {
		if p.Sub(p) != (Vec2{}) || t.insert(p) != int32(frameCorners+i) { // not a number, or given twice
			return nil, ErrCrossing
		}
	}
	for _, e := range edges {
		if !t.force(e[0]+frameCorners, e[1]+frameCorners) {
			return nil, ErrCrossing
		}
	}
	all := make([]int32, len(t.Tri))
	for i := range all {
		all[i] = int32(i)
	}
	t.legalize(all)
	return t, nil
}

// frame makes the two triangles of the rectangle.
func (t *Triangulation) frame(pts []Vec2) {
	b := BoxOf(pts...)
	s := b.Size()
	m := math.Floor(max(s.X, s.Y)/4) + 1000
	t.Pts = Rect(b.Min.Sub(Vec2{m, m}), b.Max.Add(Vec2{m, m})).Flatten(1)
	t.Tri = []Triangle{{0, 1, 2}, {0, 2, 3}}
	t.Next = [][3]int32{{-1, -1, 1}, {0, -1, -1}}
	t.Fixed = make([][3]bool, 2)
}

// locate walks to the triangle that holds p.
func (t *Triangulation) locate(p Vec2) int32 {
	at := t.last
	for range 4 * len(t.Tri) {
		k := t.beyond(at, p)
		if k < 0 || t.Next[at][k] < 0 {
			return at
		}
		at = t.Next[at][k]
	}
	for i := range t.Tri { // the walk went in circles: look everywhere
		if t.beyond(int32(i), p) < 0 {
			return int32(i)
		}
	}
	return at
}

// beyond returns the first edge of triangle i that p lies outside of, or -1.
func (t *Triangulation) beyond(i int32, p Vec2) int {
	for k := range 3 {
		if Orient(t.corner(i, k), t.corner(i, k+1), p) < 0 {
			return k
		}
	}
	return -1
}

// corner is the point at corner k, counted round, of triangle i.
func (t *Triangulation) corner(i int32, k int) Vec2 { return t.Pts[t.Tri[i][k%3]] }

// insert adds a point and returns its number, that of the vertex already there
// if there is one.
func (t *Triangulation) insert(p Vec2) int32 {
	at := t.locate(p)
	t.last = at
	for k := range 3 {
		for j := range 2 {
			if t.corner(at, k+j) == p {
				return t.Tri[at][(k+j)%3]
			}
		}
		if Orient(t.corner(at, k), t.corner(at, k+1), p) == 0 {
			t.Split(at, k, p)
			return int32(len(t.Pts) - 1)
		}
	}
	id := t.add(p)
	v, n, f := t.Tri[at], t.Next[at], t.Fixed[at]
	t1, t2 := t.grow(at), t.grow(at)
	t.put(at, Triangle{v[0], v[1], id}, [3]int32{n[0], t1, t2}, [3]bool{f[0]})
	t.put(t1, Triangle{v[1], v[2], id}, [3]int32{n[1], t2, at}, [3]bool{f[1]})
	t.put(t2, Triangle{v[2], v[0], id}, [3]int32{n[2], at, t1}, [3]bool{f[2]})
	t.relink(n[1], at, t1)
	t.relink(n[2], at, t2)
	t.legalize([]int32{at, t1, t2})
	return id
}

func (t *Triangulation) add(p Vec2) int32 {
	t.Pts = append(t.Pts, p)
	return int32(len(t.Pts) - 1)
}

// grow makes room for one more triangle, with the mask of like.
func (t *Triangulation) grow(like int32) int32 {
	t.Tri = append(t.Tri, Triangle{})
	t.Next = append(t.Next, [3]int32{})
	t.Fixed = append(t.Fixed, [3]bool{})
	if t.Mask != nil {
		t.Mask = append(t.Mask, t.Mask[like])
	}
	return int32(len(t.Tri) - 1)
}

func (t *Triangulation) put(i int32, v Triangle, n [3]int32, f [3]bool) {
	t.Tri[i], t.Next[i], t.Fixed[i] = v, n, f
}

// relink tells triangle i, if there is one, that its neighbour was is now become.
func (t *Triangulation) relink(i, was, become int32) {
	if i >= 0 {
		t.Next[i][t.side(i, was)] = become
	}
}

// side returns which edge of u borders on its neighbour i.
func (t *Triangulation) side(u, i int32) int {
	k := 0
	for t.Next[u][k] != i {
		k++
	}
	return k
}

// wing is one of the two triangles at an edge: its corner across the edge, and
// what lies beyond its other two sides, counted from the edge.
type wing struct {
	apex   int32
	n1, n2 int32
	f1, f2 bool
}

func (t *Triangulation) wing(i int32, k int) wing {
	k1, k2 := (k+1)%3, (k+2)%3
	return wing{t.Tri[i][k2], t.Next[i][k1], t.Next[i][k2], t.Fixed[i][k1], t.Fixed[i][k2]}
}

// Split puts p on edge k of triangle i and splits the triangles on both sides of
// it; the halves stay fixed where the edge was. It does nothing, and says so, when
// p lies so far off the edge, or at its end, that a triangle would turn over.
func (t *Triangulation) Split(i int32, k int, p Vec2) bool {
	a, b := t.Tri[i][k], t.Tri[i][(k+1)%3]
	u, f, w := t.Next[i][k], t.Fixed[i][k], t.wing(i, k)
	if !t.divides(a, b, w.apex, p) {
		return false
	}
	var x wing // its triangle is b, a, apex
	if u >= 0 {
		if x = t.wing(u, t.side(u, i)); !t.divides(b, a, x.apex, p) {
			return false
		}
	}
	id, i2 := t.add(p), t.grow(i)
	t.put(i, Triangle{a, id, w.apex}, [3]int32{u, i2, w.n2}, [3]bool{f, false, w.f2})
	t.put(i2, Triangle{id, b, w.apex}, [3]int32{u, w.n1, i}, [3]bool{f, w.f1, false})
	t.relink(w.n1, i, i2)
	todo := []int32{i, i2}
	if u >= 0 {
		u2 := t.grow(u)
		t.put(u, Triangle{b, id, x.apex}, [3]int32{i2, u2, x.n2}, [3]bool{f, false, x.f2})
		t.put(u2, Triangle{id, a, x.apex}, [3]int32{i, x.n1, u}, [3]bool{f, x.f1, false})
		t.relink(x.n1, u, u2)
		t.Next[i][0] = u2
		todo = append(todo, u, u2)
	}
	t.legalize(todo)
	return true
}

// divides reports whether p parts the triangle a, b, c from c into two that are
// counter-clockwise.
func (t *Triangulation) divides(a, b, c int32, p Vec2) bool {
	return Orient(t.Pts[a], p, t.Pts[c]) > 0 && Orient(p, t.Pts[b], t.Pts[c]) > 0
}

// canFlip reports whether the two triangles at edge k of i make a convex
// quadrilateral whose other diagonal can take the edge's place.
func (t *Triangulation) canFlip(i int32, k int) bool {
	u := t.Next[i][k]
	if u < 0 || t.Fixed[i][k] {
		return false
	}
	d := t.Pts[t.wing(u, t.side(u, i)).apex]
	return t.divides(t.Tri[i][k], t.Tri[i][(k+1)%3], t.Tri[i][(k+2)%3], d)
}

// flip swaps the diagonal at edge k of i: i becomes a, d, c and the other
// triangle, which it returns, d, b, c.
func (t *Triangulation) flip(i int32, k int) int32 {
	u := t.Next[i][k]
	a, b, w, x := t.Tri[i][k], t.Tri[i][(k+1)%3], t.wing(i, k), t.wing(u, t.side(u, i))
	t.put(i, Triangle{a, x.apex, w.apex}, [3]int32{x.n1, u, w.n2}, [3]bool{x.f1, false, w.f2})
	t.put(u, Triangle{x.apex, b, w.apex}, [3]int32{x.n2, w.n1, i}, [3]bool{x.f2, w.f1, false})
	t.relink(x.n1, u, i)
	t.relink(w.n1, i, u)
	return u
}

// legalize flips edges of the triangles listed until each is locally Delaunay
// (Lawson), or until far more flips than triangles were made.
func (t *Triangulation) legalize(stack []int32) {
	for budget := 200 + 50*len(stack); budget > 0 && len(stack) > 0; {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for k := range 3 {
			if t.canFlip(i, k) && t.better(i, k) {
				stack = append(stack, i, t.flip(i, k))
				budget--
				break
			}
		}
	}
}

// better reports whether the vertex across edge k lies inside the circle
// through triangle i.
func (t *Triangulation) better(i int32, k int) bool {
	u := t.Next[i][k]
	d := t.Pts[t.wing(u, t.side(u, i)).apex]
	return inCircle(t.corner(i, 0), t.corner(i, 1), t.corner(i, 2), d) > flipGain
}

// force makes the segment from vertex a to b a fixed edge (Sloan): the edges it
// crosses wait in a queue; each that can be flipped is, and goes back to the
// queue while it still crosses. It reports failure where a fixed edge or a vertex
// is in the way.
func (t *Triangulation) force(a, b int32) bool {
	queue := t.crossed(a, b)
	for budget := 1000 + len(queue)*len(queue)*4; len(queue) > 0 && budget > 0; budget-- {
		e := queue[0]
		queue = queue[1:]
		i, k := t.find(e[0], e[1])
		if !t.canFlip(i, k) {
			queue = append(queue, e)
			continue
		}
		t.flip(i, k)
		if d, c := t.Tri[i][1], t.Tri[i][2]; t.cuts(a, b, c, d) {
			queue = append(queue, [2]int32{c, d})
		}
	}
	i, k := t.find(a, b)
	if i < 0 {
		return false
	}
	t.Fixed[i][k] = true
	u := t.Next[i][k]
	t.Fixed[u][t.side(u, i)] = true
	return true
}

// cuts reports whether the segments a-b and c-d cross inside both.
func (t *Triangulation) cuts(a, b, c, d int32) bool {
	return a != c && a != d && b != c && b != d && SegmentsCross(t.Pts[a], t.Pts[b], t.Pts[c], t.Pts[d])
}

// find returns a triangle and its edge that joins a and b, either way round;
// triangle -1 when they are not joined.
func (t *Triangulation) find(a, b int32) (int32, int) {
	for _, i := range t.around(a) {
		k := t.place(i, a)
		if t.Tri[i][(k+1)%3] == b {
			return i, k
		}
		if t.Tri[i][(k+2)%3] == b {
			return i, (k + 2) % 3
		}
	}
	return -1, 0
}

// crossed lists the edges that the segment from a to b crosses, in order; none
// where they are joined or a vertex is in the way.
func (t *Triangulation) crossed(a, b int32) [][2]int32 {
	pa, pb := t.Pts[a], t.Pts[b]
	i, k := int32(-1), 0
	for _, j := range t.around(a) {
		c := t.place(j, a)
		r, l := t.Tri[j][(c+1)%3], t.Tri[j][(c+2)%3]
		if r == b || l == b {
			return nil
		}
		if Orient(pa, pb, t.Pts[r]) < 0 && Orient(pa, pb, t.Pts[l]) > 0 {
			i, k = j, (c+1)%3
		}
	}
	var out [][2]int32
	for i >= 0 {
		out = append(out, [2]int32{t.Tri[i][k], t.Tri[i][(k+1)%3]})
		u := t.Next[i][k]
		j := t.side(u, i)
		d := t.Tri[u][(j+2)%3]
		if d == b {
			break
		}
		// u is left, right, d: the segment leaves between right and d or d and left
		switch o := Orient(pa, pb, t.Pts[d]); {
		case o > 0:
			i, k = u, (j+1)%3
		case o < 0:
			i, k = u, (j+2)%3
		default:
			return nil
		}
	}
	return out
}

// place returns which corner of triangle i is vertex a.
func (t *Triangulation) place(i, a int32) int {
	k := 0
	for t.Tri[i][k] != a {
		k++
	}
	return k
}

// around returns the triangles at vertex a: clockwise, and at a corner of the
// frame, where that ends, the others too.
func (t *Triangulation) around(a int32) []int32 {
	first := t.locate(t.Pts[a])
	t.last = first
	out := []int32{first}
	for _, step := range [2]int{2, 0} {
		for i := first; ; out = append(out, i) {
			if i = t.Next[i][(t.place(i, a)+step)%3]; i == first {
				return out
			} else if i < 0 {
				break
			}
		}
	}
	return out
}

// Fill sets the mask of each patch between fixed edges, asking once for each at
// the middle of its largest triangle.
func (t *Triangulation) Fill(mask func(Vec2) uint64) {
	t.Mask = make([]uint64, len(t.Tri))
	done := make([]bool, len(t.Tri))
	for i := range t.Tri {
		if done[i] {
			continue
		}
		patch := t.patch(int32(i), done)
		best := patch[0]
		for _, j := range patch {
			if t.Area2(j) > t.Area2(best) {
				best = j
			}
		}
		a, b, c := t.corner(best, 0), t.corner(best, 1), t.corner(best, 2)
		m := mask(Vec2{(a.X + b.X + c.X) / 3, (a.Y + b.Y + c.Y) / 3})
		for _, j := range patch {
			t.Mask[j] = m
		}
	}
}

// Area2 is twice the area of triangle i.
func (t *Triangulation) Area2(i int32) float64 {
	return turn(t.corner(i, 0), t.corner(i, 1), t.corner(i, 2))
}

// patch returns the triangles joined to i without crossing a fixed edge.
func (t *Triangulation) patch(i int32, done []bool) []int32 {
	done[i] = true
	out := []int32{i}
	for at := 0; at < len(out); at++ {
		for k, u := range t.Next[out[at]] {
			if u >= 0 && !t.Fixed[out[at]][k] && !done[u] {
				done[u] = true
				out = append(out, u)
			}
		}
	}
	return out
}
