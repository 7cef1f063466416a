package relief

import (
	"slices"
)

// triangulation covers a rectangle round all segments. Triangle t has vertices
// v[t], counter-clockwise; across its edge k, from vertex k to k+1, lies
// triangle n[t][k], -1 outside. Edges marked fixed are parts of outlines.
type triangulation struct {
	pts   []point
	v     [][3]int32
	n     [][3]int32
	fixed [][3]bool
	mask  []uint64 // layers that hold the triangle
	last  int32
}

// newTriangulation triangulates the ends of the segments and makes every
// segment an edge.
func newTriangulation(segs []segment) *triangulation {
	var pts []point
	for _, s := range segs {
		pts = append(pts, s.a, s.b)
	}
	slices.SortFunc(pts, comparePoints)
	pts = slices.Compact(pts)
	t := &triangulation{}
	t.frame(pts)
	at := make(map[point]int32, len(pts))
	for _, p := range pts {
		at[p] = t.insert(p)
	}
	for _, s := range segs {
		t.force(at[s.a], at[s.b])
	}
	all := make([]int32, len(t.v))
	for i := range all {
		all[i] = int32(i)
	}
	t.legalize(all)
	return t
}

// frame makes the two triangles of the rectangle.
func (t *triangulation) frame(pts []point) {
	lo, hi := pts[0], pts[0]
	for _, p := range pts {
		lo = point{min(lo.x, p.x), min(lo.y, p.y)}
		hi = point{max(hi.x, p.x), max(hi.y, p.y)}
	}
	m := max(hi.x-lo.x, hi.y-lo.y)/4 + 1000
	t.pts = []point{{lo.x - m, lo.y - m}, {hi.x + m, lo.y - m}, {hi.x + m, hi.y + m}, {lo.x - m, hi.y + m}}
	t.v = [][3]int32{{0, 1, 2}, {0, 2, 3}}
	t.n = [][3]int32{{-1, -1, 1}, {0, -1, -1}}
	t.fixed = make([][3]bool, 2)
}

// locate walks to the triangle that holds p.
func (t *triangulation) locate(p point) int32 {
	at := t.last
	for range 4 * len(t.v) {
		next := int32(-1)
		for k := range 3 {
			if orient(t.pts[t.v[at][k]], t.pts[t.v[at][(k+1)%3]], p) < 0 {
				next = t.n[at][k]
				break
			}
		}
		if next < 0 {
			return at
		}
		at = next
	}
	for i := range t.v { // the walk went in circles: look everywhere
		if t.holds(int32(i), p) {
			return int32(i)
		}
	}
	return at
}

func (t *triangulation) holds(i int32, p point) bool {
	for k := range 3 {
		if orient(t.pts[t.v[i][k]], t.pts[t.v[i][(k+1)%3]], p) < 0 {
			return false
		}
	}
	return true
}

// insert adds a point and returns its number.
func (t *triangulation) insert(p point) int32 {
	at := t.locate(p)
	t.last = at
	for k := range 3 {
		a, b := t.v[at][k], t.v[at][(k+1)%3]
		if t.pts[a] == p {
			return a
		}
		if t.pts[b] == p {
			return b
		}
		if orient(t.pts[a], t.pts[b], p) == 0 {
			return t.splitEdge(at, k, p)
		}
	}
	id := t.add(p)
	v, n, f := t.v[at], t.n[at], t.fixed[at]
	t1, t2 := t.grow(at), t.grow(at)
	t.put(at, [3]int32{v[0], v[1], id}, [3]int32{n[0], t1, t2}, [3]bool{f[0]})
	t.put(t1, [3]int32{v[1], v[2], id}, [3]int32{n[1], t2, at}, [3]bool{f[1]})
	t.put(t2, [3]int32{v[2], v[0], id}, [3]int32{n[2], at, t1}, [3]bool{f[2]})
	t.relink(n[1], at, t1)
	t.relink(n[2], at, t2)
	t.legalize([]int32{at, t1, t2})
	return id
}

func (t *triangulation) add(p point) int32 {
	t.pts = append(t.pts, p)
	return int32(len(t.pts) - 1)
}

// grow makes room for one more triangle, in the same layers as like.
func (t *triangulation) grow(like int32) int32 {
	t.v = append(t.v, [3]int32{})
	t.n = append(t.n, [3]int32{})
	t.fixed = append(t.fixed, [3]bool{})
	if t.mask != nil {
		t.mask = append(t.mask, t.mask[like])
	}
	return int32(len(t.v) - 1)
}

func (t *triangulation) put(i int32, v, n [3]int32, f [3]bool) {
	t.v[i], t.n[i], t.fixed[i] = v, n, f
}

// relink tells triangle i that its neighbour was is now become.
func (t *triangulation) relink(i, was, become int32) {
	if i < 0 {
		return
	}
	for k := range 3 {
		if t.n[i][k] == was {
			t.n[i][k] = become
			return
		}
	}
}

// side returns which edge of u borders on i.
func (t *triangulation) side(u, i int32) int {
	for k := range 3 {
		if t.n[u][k] == i {
			return k
		}
	}
	return 0
}

// splitEdge puts p on edge k of triangle i and splits the triangles on both
// sides of it; the halves stay fixed where the edge was.
func (t *triangulation) splitEdge(i int32, k int, p point) int32 {
	id := t.add(p)
	a, b, c := t.v[i][k], t.v[i][(k+1)%3], t.v[i][(k+2)%3]
	u, f := t.n[i][k], t.fixed[i][k]
	nb, nc := t.n[i][(k+1)%3], t.n[i][(k+2)%3]
	fb, fc := t.fixed[i][(k+1)%3], t.fixed[i][(k+2)%3]
	i2 := t.grow(i)
	t.put(i, [3]int32{a, id, c}, [3]int32{u, i2, nc}, [3]bool{f, false, fc})
	t.put(i2, [3]int32{id, b, c}, [3]int32{u, nb, i}, [3]bool{f, fb, false})
	t.relink(nb, i, i2)
	todo := []int32{i, i2}
	if u >= 0 {
		j := t.side(u, i)
		d := t.v[u][(j+2)%3] // u is b, a, d
		ma, md := t.n[u][(j+1)%3], t.n[u][(j+2)%3]
		ga, gd := t.fixed[u][(j+1)%3], t.fixed[u][(j+2)%3]
		u2 := t.grow(u)
		t.put(u, [3]int32{b, id, d}, [3]int32{i2, u2, md}, [3]bool{f, false, gd})
		t.put(u2, [3]int32{id, a, d}, [3]int32{i, ma, u}, [3]bool{f, ga, false})
		t.relink(ma, u, u2)
		t.n[i][0], t.n[i2][0] = u2, u
		todo = append(todo, u, u2)
	}
	t.legalize(todo)
	return id
}

// canFlip reports whether the two triangles at edge k of i make a convex
// quadrilateral whose other diagonal can take the edge's place.
func (t *triangulation) canFlip(i int32, k int) bool {
	u := t.n[i][k]
	if u < 0 || t.fixed[i][k] {
		return false
	}
	a, b, c := t.pts[t.v[i][k]], t.pts[t.v[i][(k+1)%3]], t.pts[t.v[i][(k+2)%3]]
	d := t.pts[t.v[u][(t.side(u, i)+2)%3]]
	return orient(a, d, c) > 0 && orient(d, b, c) > 0
}

// flip swaps the diagonal at edge k of i and returns the other triangle.
func (t *triangulation) flip(i int32, k int) int32 {
	u := t.n[i][k]
	j := t.side(u, i)
	a, b, c, d := t.v[i][k], t.v[i][(k+1)%3], t.v[i][(k+2)%3], t.v[u][(j+2)%3]
	bc, ca := t.n[i][(k+1)%3], t.n[i][(k+2)%3]
	ad, db := t.n[u][(j+1)%3], t.n[u][(j+2)%3]
	fbc, fca := t.fixed[i][(k+1)%3], t.fixed[i][(k+2)%3]
	fad, fdb := t.fixed[u][(j+1)%3], t.fixed[u][(j+2)%3]
	t.put(i, [3]int32{a, d, c}, [3]int32{ad, u, ca}, [3]bool{fad, false, fca})
	t.put(u, [3]int32{d, b, c}, [3]int32{db, bc, i}, [3]bool{fdb, fbc, false})
	t.relink(ad, u, i)
	t.relink(bc, i, u)
	return u
}

// circleGain is how far inside the circle a point must lie to be worth a flip,
// relative to the fourth power of the triangle's size: points of a round hole
// all lie on one circle up to rounding.
const circleGain = 1e-9

// legalize flips edges of the triangles listed until each is locally Delaunay
// (Lawson), or until far more flips than triangles were made.
func (t *triangulation) legalize(stack []int32) {
	for budget := 200 + 50*len(stack); budget > 0 && len(stack) > 0; {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for k := range 3 {
			if !t.canFlip(i, k) || !t.better(i, k) {
				continue
			}
			u := t.flip(i, k)
			budget--
			stack = append(stack, i, u)
			break
		}
	}
}

// better reports whether the vertex across edge k lies inside the circle
// through triangle i.
func (t *triangulation) better(i int32, k int) bool {
	u := t.n[i][k]
	d := t.pts[t.v[u][(t.side(u, i)+2)%3]]
	return inCircle(t.pts[t.v[i][0]], t.pts[t.v[i][1]], t.pts[t.v[i][2]], d) > circleGain
}

// inCircle is positive when d lies inside the circle through a, b, c, relative
// to the fourth power of the triangle's size.
func inCircle(a, b, c, d point) float64 {
	ax, ay := float64(a.x-d.x), float64(a.y-d.y)
	bx, by := float64(b.x-d.x), float64(b.y-d.y)
	cx, cy := float64(c.x-d.x), float64(c.y-d.y)
	la, lb, lc := ax*ax+ay*ay, bx*bx+by*by, cx*cx+cy*cy
	det := ax*(by*lc-cy*lb) - ay*(bx*lc-cx*lb) + la*(bx*cy-cx*by)
	size := max(la, lb, lc)
	return det / (size * size)
}

// force makes the segment from vertex a to b a fixed edge (Sloan): the edges it
// crosses wait in a queue; each that can be flipped is, and goes back to the
// queue while it still crosses. No vertex lies on the segment.
func (t *triangulation) force(a, b int32) {
	queue := t.crossed(a, b)
	for budget := 1000 + len(queue)*len(queue)*4; len(queue) > 0 && budget > 0; budget-- {
		e := queue[0]
		queue = queue[1:]
		i, k := t.find(e[0], e[1])
		if !t.canFlip(i, k) {
			queue = append(queue, e)
			continue
		}
		t.flip(i, k) // i is now a, d, c: the new diagonal joins d and c
		if d, c := t.v[i][1], t.v[i][2]; t.cuts(a, b, c, d) {
			queue = append(queue, [2]int32{c, d})
		}
	}
	t.fix(t.find(a, b))
}

// cuts reports whether the segments a-b and c-d cross inside both.
func (t *triangulation) cuts(a, b, c, d int32) bool {
	if a == c || a == d || b == c || b == d {
		return false
	}
	pa, pb, pc, pd := t.pts[a], t.pts[b], t.pts[c], t.pts[d]
	return (orient(pa, pb, pc) > 0) != (orient(pa, pb, pd) > 0) && (orient(pc, pd, pa) > 0) != (orient(pc, pd, pb) > 0)
}

// find returns a triangle and its edge that joins a and b, either way round;
// triangle -1 when they are not joined.
func (t *triangulation) find(a, b int32) (int32, int) {
	for _, i := range t.around(a) {
		k := t.corner(i, a)
		if t.v[i][(k+1)%3] == b {
			return i, k
		}
		if t.v[i][(k+2)%3] == b {
			return i, (k + 2) % 3
		}
	}
	return -1, 0
}

// crossed lists the edges that the segment from a to b crosses, in order.
func (t *triangulation) crossed(a, b int32) [][2]int32 {
	pa, pb := t.pts[a], t.pts[b]
	i, k := int32(-1), 0
	for _, j := range t.around(a) {
		c := t.corner(j, a)
		r, l := t.v[j][(c+1)%3], t.v[j][(c+2)%3]
		if r == b || l == b {
			return nil
		}
		if orient(pa, pb, t.pts[r]) < 0 && orient(pa, pb, t.pts[l]) > 0 {
			i, k = j, (c+1)%3
		}
	}
	var out [][2]int32
	for i >= 0 {
		out = append(out, [2]int32{t.v[i][k], t.v[i][(k+1)%3]})
		u := t.n[i][k]
		j := t.side(u, i)
		d := t.v[u][(j+2)%3]
		if d == b {
			break
		}
		// u is left, right, d: the segment leaves between right and d or d and left
		i, k = u, (j+2)%3
		if orient(pa, pb, t.pts[d]) > 0 {
			k = (j + 1) % 3
		}
	}
	return out
}

// corner returns which corner of triangle i is vertex a.
func (t *triangulation) corner(i, a int32) int {
	for k := range 3 {
		if t.v[i][k] == a {
			return k
		}
	}
	return -1
}

// around returns the triangles at vertex a: clockwise, and at a corner of the
// frame, where that ends, the others too.
func (t *triangulation) around(a int32) []int32 {
	first := t.locate(t.pts[a])
	t.last = first
	out := []int32{first}
	turn := func(next int) bool { // all round
		for i := first; ; {
			i = t.n[i][(t.corner(i, a)+next)%3]
			if i < 0 || i == first {
				return i == first
			}
			out = append(out, i)
		}
	}
	if !turn(2) {
		turn(0)
	}
	return out
}

func (t *triangulation) fix(i int32, k int) {
	if i < 0 {
		return
	}
	t.fixed[i][k] = true
	if u := t.n[i][k]; u >= 0 {
		t.fixed[u][t.side(u, i)] = true
	}
}

// fill finds which layers hold each patch between fixed edges, asking once for
// each at the middle of its largest triangle.
func (t *triangulation) fill(regions [][]polygon) {
	t.mask = make([]uint64, len(t.v))
	done := make([]bool, len(t.v))
	for i := range t.v {
		if done[i] {
			continue
		}
		patch := t.patch(int32(i), done)
		best := patch[0]
		for _, j := range patch {
			if t.area(j) > t.area(best) {
				best = j
			}
		}
		a, b, c := t.pts[t.v[best][0]], t.pts[t.v[best][1]], t.pts[t.v[best][2]]
		x, y := float64(a.x+b.x+c.x)/3, float64(a.y+b.y+c.y)/3
		var m uint64
		for l, r := range regions {
			if holds(r, x, y) {
				m |= 1 << l
			}
		}
		for _, j := range patch {
			t.mask[j] = m
		}
	}
}

func (t *triangulation) area(i int32) int64 {
	return orient(t.pts[t.v[i][0]], t.pts[t.v[i][1]], t.pts[t.v[i][2]])
}

// patch returns the triangles joined to i without crossing a fixed edge.
func (t *triangulation) patch(i int32, done []bool) []int32 {
	done[i] = true
	out := []int32{i}
	for at := 0; at < len(out); at++ {
		for k, u := range t.n[out[at]] {
			if u >= 0 && !t.fixed[out[at]][k] && !done[u] {
				done[u] = true
				out = append(out, u)
			}
		}
	}
	return out
}

// sliver is the aspect, longest edge over the altitude on it, above which a
// triangle is split: under the hundred from which it is called a sliver.
const sliver = 60.0

// maxSplits bounds the refinement.
const maxSplits = 20000

// refine splits the longest edge of triangles that are thin, and outline edges
// too long for the walls of the thinnest layer, thinnest mm high.
func (t *triangulation) refine(thinnest float64) {
	longest := 0.8 * sliver * thinnest / Unit
	for range maxSplits {
		split := false
		for i := 0; i < len(t.v); i++ {
			if len(t.v) > maxSplits {
				return
			}
			if t.mask[i] == 0 {
				continue
			}
			if k, bad := t.thin(int32(i), longest); bad && t.halve(int32(i), k) {
				split = true
			}
		}
		if !split {
			return
		}
	}
}

// thin returns the edge at which a triangle is to be split: its longest, or one
// on an outline that is not much shorter. Splitting the diagonals of a narrow
// strip would only make it narrower.
func (t *triangulation) thin(i int32, longest float64) (int, bool) {
	var l [3]float64
	best, outline := 0, -1
	for k := range 3 {
		l[k] = dist(t.pts[t.v[i][k]], t.pts[t.v[i][(k+1)%3]])
		if u := t.n[i][k]; l[k] > longest && u >= 0 && t.mask[u] != t.mask[i] {
			return k, true
		}
		if l[k] > l[best] {
			best = k
		}
		if t.fixed[i][k] && (outline < 0 || l[k] > l[outline]) {
			outline = k
		}
	}
	bad := l[best]*l[best] > sliver*float64(t.area(i)) && l[best] > 40
	if outline >= 0 && l[outline] > 0.45*l[best] {
		best = outline
	}
	return best, bad
}

// halve splits edge k of triangle i at its middle, put on the grid; not when
// that would turn a triangle over.
func (t *triangulation) halve(i int32, k int) bool {
	a, b, c := t.pts[t.v[i][k]], t.pts[t.v[i][(k+1)%3]], t.pts[t.v[i][(k+2)%3]]
	p := point{(a.x + b.x) / 2, (a.y + b.y) / 2}
	if p == a || p == b || orient(a, p, c) <= 0 || orient(p, b, c) <= 0 {
		return false
	}
	if u := t.n[i][k]; u >= 0 {
		d := t.pts[t.v[u][(t.side(u, i)+2)%3]]
		if orient(b, p, d) <= 0 || orient(p, a, d) <= 0 {
			return false
		}
	}
	t.splitEdge(i, k, p)
	return true
}
