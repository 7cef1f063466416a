package page

import (
	"sort"

	"clampwright/parts/geom"
)

// creaseCosine parts a smooth surface from an edge that is drawn: two facets
// that meet at more than 25 degrees. Facets of a cylinder with a chord error
// of 0.1 mm and a radius of 1 mm meet at 51 degrees over 7 facets, but meshes
// here are finer by ten (16 degrees).
const creaseCosine = 0.9063

// shape is a mesh made ready for drawing: equal corners merged, the line
// between facets found.
type shape struct {
	vertices  []geom.Vec3
	triangles []geom.Triangle
	normals   []geom.Vec3 // of triangles, unit length, zero where degenerate
	edges     []edge      // every edge of the surface, in a fixed order
}

// edge joins vertices A and B; its facets are Left and Right, -1 where open.
type edge struct {
	a, b        int32
	left, right int32
	crease      bool // drawn from every side
}

// newShape merges equal corners and finds the edges. The mesh must have passed
// checkMesh.
func newShape(m geom.Mesh) *shape {
	s := &shape{}
	index := s.weld(m.Vertices)
	for _, t := range m.Triangles {
		t = geom.Triangle{index[t[0]], index[t[1]], index[t[2]]}
		if t[0] == t[1] || t[1] == t[2] || t[2] == t[0] {
			continue
		}
		s.triangles = append(s.triangles, t)
		s.normals = append(s.normals, s.normal(t))
	}
	s.findEdges()
	return s
}

// weld keeps one of each distinct vertex and returns the new index of each.
func (s *shape) weld(vs []geom.Vec3) []int32 {
	index := make([]int32, len(vs))
	seen := make(map[geom.Vec3]int32, len(vs))
	for i, v := range vs {
		j, ok := seen[v]
		if !ok {
			j = int32(len(s.vertices))
			seen[v] = j
			s.vertices = append(s.vertices, v)
		}
		index[i] = j
	}
	return index
}

// normal is the unit normal of t, zero for a sliver without area.
func (s *shape) normal(t geom.Triangle) geom.Vec3 {
	a, b, c := s.vertices[t[0]], s.vertices[t[1]], s.vertices[t[2]]
	return b.Sub(a).Cross(c.Sub(a)).Unit()
}

// halfEdge is a side of a triangle with its vertices in rising order.
type halfEdge struct{ lo, hi, tri int32 }

// findEdges pairs the sides of the triangles.
func (s *shape) findEdges() {
	hs := make([]halfEdge, 0, 3*len(s.triangles))
	for i, t := range s.triangles {
		for k := range 3 {
			lo, hi := t[k], t[(k+1)%3]
			hs = append(hs, halfEdge{min(lo, hi), max(lo, hi), int32(i)})
		}
	}
	sort.Slice(hs, func(i, j int) bool { return hs[i].before(hs[j]) })
	for i := 0; i < len(hs); {
		j := i + 1
		for j < len(hs) && hs[j].lo == hs[i].lo && hs[j].hi == hs[i].hi {
			j++
		}
		s.edges = append(s.edges, s.edgeOf(hs[i:j]))
		i = j
	}
}

func (h halfEdge) before(o halfEdge) bool {
	if h.lo != o.lo {
		return h.lo < o.lo
	}
	if h.hi != o.hi {
		return h.hi < o.hi
	}
	return h.tri < o.tri
}

// edgeOf makes an edge of the sides that share two vertices.
func (s *shape) edgeOf(hs []halfEdge) edge {
	e := edge{a: hs[0].lo, b: hs[0].hi, left: hs[0].tri, right: -1, crease: true}
	if len(hs) == 2 {
		e.right = hs[1].tri
		n, m := s.normals[e.left], s.normals[e.right]
		flat := n == (geom.Vec3{}) || m == (geom.Vec3{})
		e.crease = !flat && n.Dot(m) < creaseCosine
	}
	return e
}

// bounds is the smallest box round the vertices.
func (s *shape) bounds() geom.Box3 { return geom.Mesh{Vertices: s.vertices}.Bounds() }
