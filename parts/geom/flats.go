package geom

import (
	"cmp"
	"math"
	"slices"
)

// flatShell makes a planar face of each flat region of a closed mesh.
func flatShell(m Mesh) Shell {
	r := newRegions(m)
	out := Shell{Corners: m.Vertices, Faces: make([]ShellFace, r.count)}
	edge := make([]int, len(r.twin)) // of each half edge on a rim, from one
	seen := make([]bool, len(r.twin))
	for first := range r.twin {
		var loop []EdgeUse
		for h := first; r.rim(h) && !seen[h]; h = r.after(h) {
			seen[h] = true
			back := edge[r.twin[h]] > 0
			if !back {
				out.Edges = append(out.Edges, ShellEdge{A: int(r.from(h)), B: int(r.from(next(h)))})
				edge[h] = len(out.Edges)
			}
			loop = append(loop, EdgeUse{max(edge[h], edge[r.twin[h]]) - 1, back})
		}
		if loop != nil {
			f := &out.Faces[r.of[first/3]]
			f.Loops = append(f.Loops, loop)
		}
	}
	for i := range out.Faces {
		out.Faces[i].Face.Frame = r.frame(i)
		out.outerFirst(&out.Faces[i])
	}
	return out
}

// outerFirst puts the loop first that holds the others: the one with the largest
// area.
func (s Shell) outerFirst(f *ShellFace) {
	if len(f.Loops) == 1 {
		return
	}
	area := func(l []EdgeUse) (sum float64) {
		for _, u := range l {
			e := s.Edges[u.Edge]
			a := f.Face.Frame.ToLocal(s.Corners[e.A]).XY().Cross(f.Face.Frame.ToLocal(s.Corners[e.B]).XY())
			if u.Back {
				a = -a
			}
			sum += a
		}
		return sum
	}
	slices.SortStableFunc(f.Loops, func(a, b []EdgeUse) int { return cmp.Compare(area(b), area(a)) })
}

// regions are the flat regions of a mesh. Half edge 3t+k runs from corner k of
// triangle t to the next.
type regions struct {
	m      Mesh
	twin   []int
	of     []int // region of each triangle
	normal []Vec3
	seeds  []int // the largest triangle of each region
	count  int
}

func next(h int) int { return h/3*3 + (h+1)%3 }

func (r *regions) from(h int) int32 { return r.m.Triangles[h/3][h%3] }

// after is the next half edge on the same rim: round the corner through the
// region's triangles.
func (r *regions) after(h int) int {
	for h = next(h); !r.rim(h); h = next(r.twin[h]) {
	}
	return h
}

// rim reports whether another region lies beyond the half edge.
func (r *regions) rim(h int) bool { return r.of[h/3] != r.of[r.twin[h]/3] }

func newRegions(m Mesh) *regions {
	n := len(m.Triangles)
	r := &regions{m: m, twin: make([]int, 3*n), of: make([]int, n), normal: make([]Vec3, n)}
	at := make(map[[2]int32]int, 3*n)
	for h := range r.twin {
		at[[2]int32{r.from(h), r.from(next(h))}] = h
	}
	order := make([]int, n)
	for t := range n {
		a, b, c := m.corners(t)
		r.normal[t] = b.Sub(a).Cross(c.Sub(a))
		order[t], r.of[t] = t, -1
		for h := 3 * t; h < 3*t+3; h++ {
			r.twin[h] = at[[2]int32{r.from(next(h)), r.from(h)}]
		}
	}
	area := func(t int) float64 { return r.normal[t].Len() }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(area(b), area(a)) })
	for _, t := range order { // large ones first: their planes are known best
		if r.of[t] < 0 {
			r.grow(t)
		}
	}
	return r
}

// grow makes a region of all that lies in the plane of a triangle round it.
func (r *regions) grow(seed int) {
	a, _, _ := r.m.corners(seed)
	n := r.normal[seed].Unit()
	r.seeds = append(r.seeds, seed)
	r.of[seed] = r.count
	for todo := []int{seed}; len(todo) > 0; todo = todo[1:] {
		for h := 3 * todo[0]; h < 3*todo[0]+3; h++ {
			t := r.twin[h] / 3
			if r.of[t] < 0 && r.lies(t, a, n) {
				r.of[t] = r.count
				todo = append(todo, t)
			}
		}
	}
	r.count++
}

// lies reports whether a triangle lies in the plane through a, facing along n. One
// that is thinner than Weld faces nowhere.
func (r *regions) lies(t int, a, n Vec3) bool {
	p, q, s := r.m.corners(t)
	long := max(p.Dist(q), q.Dist(s), s.Dist(p))
	if area := r.normal[t].Len(); area > Weld*long && r.normal[t].Dot(n) < area*(1-parallelErr) {
		return false
	}
	return max(math.Abs(p.Sub(a).Dot(n)), math.Abs(q.Sub(a).Dot(n)), math.Abs(s.Sub(a).Dot(n))) <= Weld
}

// frame is the plane of a region.
func (r *regions) frame(i int) Frame {
	a, b, _ := r.m.corners(r.seeds[i])
	f := Frame{O: a, X: b.Sub(a).Unit(), Z: r.normal[r.seeds[i]].Unit()}
	f.Y = f.Z.Cross(f.X)
	return f
}
