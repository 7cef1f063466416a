package field

import (
	"math"

	"clampwright/parts/geom"
)

// cellEdges are the twelve edges of a cell: lower corner and axis.
var cellEdges = [12][2]int{
	{0, 0}, {2, 0}, {4, 0}, {6, 0}, {0, 1}, {1, 1}, {4, 1}, {5, 1}, {0, 2}, {1, 2}, {2, 2}, {3, 2},
}

// edgeBetween is the number of the edge between two corners of a cell.
var edgeBetween = func() (e [8][8]int) {
	for i, c := range cellEdges {
		a, b := c[0], c[0]|1<<c[1]
		e[a][b], e[b][a] = i, i
	}
	return e
}()

// cellFaces are the corners of the six faces, in turn round each.
var cellFaces = [6][4]int{{0, 1, 3, 2}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 3, 7, 6}, {0, 2, 6, 4}, {1, 3, 7, 5}}

// contour puts a vertex in every patch of every surface cell and a
// quadrilateral round every edge that the surface cuts.
func (g *grid) contour() geom.Mesh {
	for _, i := range g.surface {
		g.patches(int(i))
	}
	for _, i := range g.surface {
		for axis := range 3 {
			g.quad(int(i), axis)
		}
	}
	return g.m
}

// patches groups the cut edges of a cell: two cuts of one face belong to one
// patch. Where all four edges of a face are cut, the inside corners are taken to
// be apart, which both cells at the face decide alike.
func (g *grid) patches(cell int) {
	at := g.place(cell)
	var in [8]bool
	for i := range in {
		in[i] = g.inside(g.corner(at, i))
	}
	var group [12]int
	for e := range group {
		group[e] = e
	}
	join := func(a, b int) {
		ga, gb := group[a], group[b]
		for e := range group {
			if group[e] == gb {
				group[e] = ga
			}
		}
	}
	for _, f := range cellFaces {
		var cut []int
		for k := range 4 {
			if a, b := f[k], f[(k+1)%4]; in[a] != in[b] {
				cut = append(cut, edgeBetween[a][b])
			}
		}
		switch len(cut) {
		case 2:
			join(cut[0], cut[1])
		case 4: // cut[k] lies between corners k and k+1
			for k := range 4 {
				if in[f[k]] {
					join(cut[k], cut[(k+3)%4])
				}
			}
		}
	}
	for e := range group {
		if first(group, e) {
			g.placeVertex(cell, at, in, group, group[e])
		}
	}
}

// first reports whether e is the first edge of its group.
func first(group [12]int, e int) bool {
	for k := range e {
		if group[k] == group[e] {
			return false
		}
	}
	return true
}

// placeVertex makes the vertex of one group and notes it for each of its edges.
func (g *grid) placeVertex(cell int, at [3]int, in [8]bool, group [12]int, id int) {
	var cs []crossing
	v := int32(len(g.m.Vertices))
	for e, c := range cellEdges {
		if group[e] != id || in[c[0]] == in[c[0]|1<<c[1]] {
			continue
		}
		cs = append(cs, g.crossingAt(g.corner(at, c[0]), c[1]))
		g.vertex[int64(cell)*12+int64(e)] = v
	}
	if len(cs) == 0 {
		return
	}
	lo := g.point(at)
	box := geom.Box3{Min: lo, Max: lo.Add(geom.Vec3{X: g.h, Y: g.h, Z: g.h})}
	g.m.Vertices = append(g.m.Vertices, g.spot(cs, box))
}

// quad joins the four cells round an edge that starts at the lowest corner of a
// cell. Seen from the edge's far end the cells are in counter-clockwise order;
// the surface faces that way when the edge leaves the solid.
func (g *grid) quad(cell, axis int) {
	at := g.place(cell)
	to := at
	to[axis]++
	from := g.inside(cell)
	if from == g.inside(g.index(to)) {
		return
	}
	u, v := (axis+1)%3, (axis+2)%3
	var q [4]int32
	for k, d := range [4][2]int{{0, 0}, {-1, 0}, {-1, -1}, {0, -1}} {
		c := at
		c[u] += d[0]
		c[v] += d[1]
		lower := -d[0]<<u | -d[1]<<v
		q[k] = g.vertex[int64(g.index(c))*12+int64(edgeBetween[lower][lower|1<<axis])]
	}
	if !from {
		q[1], q[3] = q[3], q[1]
	}
	g.addQuad(q)
}

// addQuad splits a quadrilateral along the diagonal that keeps nearer to the
// field, or when both do, into the better shaped triangles.
func (g *grid) addQuad(q [4]int32) {
	p := func(i int) geom.Vec3 { return g.m.Vertices[q[i]] }
	d02 := math.Abs(g.f(p(0).Lerp(p(2), 0.5)))
	d13 := math.Abs(g.f(p(1).Lerp(p(3), 0.5)))
	if math.Abs(d02-d13) < 1e-4*g.h {
		d02, d13 = p(0).Dist(p(2)), p(1).Dist(p(3))
	}
	a := geom.Triangle{q[0], q[1], q[2]}
	b := geom.Triangle{q[0], q[2], q[3]}
	if d13 < d02 {
		a, b = geom.Triangle{q[0], q[1], q[3]}, geom.Triangle{q[1], q[2], q[3]}
	}
	g.m.Triangles = append(g.m.Triangles, a, b)
}
