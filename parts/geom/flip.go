package geom

// flipper improves a triangulation in place.
type flipper struct {
	pts   []Vec2
	tris  []Triangle
	nb    [][3]int32 // triangle across edge k to k+1, or -1 at the boundary
	stack []int32    // triangles to look at
}

// flipToDelaunay flips inner edges until each is locally Delaunay (Lawson), or
// until far more flips than points were made. Boundary edges stay.
func flipToDelaunay(pts []Vec2, tris []Triangle, loops [][]Vec2) {
	f := &flipper{pts: pts, tris: tris, nb: make([][3]int32, len(tris))}
	f.link(loops)
	for t := len(tris) - 1; t >= 0; t-- {
		f.stack = append(f.stack, int32(t))
	}
	for budget := 50 * len(tris); budget > 0 && len(f.stack) > 0; {
		t := f.stack[len(f.stack)-1]
		f.stack = f.stack[:len(f.stack)-1]
		for k := 0; k < 3; k++ {
			if f.flip(t, k) {
				budget--
				break
			}
		}
	}
}

// link finds the neighbours, leaving the boundary edges without.
func (f *flipper) link(loops [][]Vec2) {
	fixed := map[[2]int32]bool{}
	first := int32(0)
	for _, l := range loops {
		n := int32(len(l))
		for i := int32(0); i < n; i++ {
			a, b := first+i, first+(i+1)%n
			fixed[[2]int32{a, b}] = true
		}
		first += n
	}
	half := make(map[[2]int32][2]int32, 3*len(f.tris))
	for t, tr := range f.tris {
		for k := range tr {
			half[[2]int32{tr[k], tr[(k+1)%3]}] = [2]int32{int32(t), int32(k)}
		}
	}
	for t, tr := range f.tris {
		for k := range tr {
			e := [2]int32{tr[k], tr[(k+1)%3]}
			f.nb[t][k] = -1
			if h, ok := half[[2]int32{e[1], e[0]}]; ok && !fixed[e] {
				f.nb[t][k] = h[0]
			}
		}
	}
}

// flip swaps edge k of triangle t for the other diagonal of the quadrilateral
// it crosses, when that is better.
func (f *flipper) flip(t int32, k int) bool {
	u := f.nb[t][k]
	if u < 0 {
		return false
	}
	j := f.side(u, t)
	a, b, c := f.tris[t][k], f.tris[t][(k+1)%3], f.tris[t][(k+2)%3]
	d := f.tris[u][(j+2)%3] // u is b, a, d
	if inCircle(f.pts[a], f.pts[b], f.pts[c], f.pts[d]) <= flipGain ||
		orient(f.pts[a], f.pts[d], f.pts[c]) <= 0 || orient(f.pts[d], f.pts[b], f.pts[c]) <= 0 {
		return false
	}
	bc, ca := f.nb[t][(k+1)%3], f.nb[t][(k+2)%3]
	ad, db := f.nb[u][(j+1)%3], f.nb[u][(j+2)%3]
	f.tris[t], f.nb[t] = Triangle{a, d, c}, [3]int32{ad, u, ca}
	f.tris[u], f.nb[u] = Triangle{d, b, c}, [3]int32{db, bc, t}
	f.relink(ad, u, t)
	f.relink(bc, t, u)
	f.stack = append(f.stack, u, t)
	for _, n := range [4]int32{ad, ca, db, bc} {
		if n >= 0 {
			f.stack = append(f.stack, n)
		}
	}
	return true
}

// side returns which edge of u borders t.
func (f *flipper) side(u, t int32) int {
	for j, n := range f.nb[u] {
		if n == t {
			return j
		}
	}
	return 0
}

// relink tells triangle n that its neighbour from is now to.
func (f *flipper) relink(n, from, to int32) {
	if n >= 0 {
		f.nb[n][f.side(n, from)] = to
	}
}
