// Package geom is the exact geometry the parts are made of: planar profiles of
// straight edges and true arcs, solids bounded by planar and cylindrical faces,
// and the meshes and distances derived from them. Lengths are millimetres,
// angles radians. It depends on the standard library only.
package geom

// Vec2 is a point or vector in a plane, mm.
type Vec2 struct{ X, Y float64 }

// Vec3 is a point or vector in space, mm.
type Vec3 struct{ X, Y, Z float64 }

// Box2 is an axis-aligned rectangle.
type Box2 struct{ Min, Max Vec2 }

// Box3 is an axis-aligned box.
type Box3 struct{ Min, Max Vec3 }

// Vertex is one corner of a Path together with the shape of the edge that
// leaves it: Bulge is tan(sweep/4) of the arc to the next vertex, positive
// counter-clockwise, zero for a straight edge (the convention of the polyline
// entity of DXF, group code 42).
type Vertex struct {
	P     Vec2
	Bulge float64
}

// Path is a closed chain of vertices; the last edge returns to the first
// vertex. Outer boundaries run counter-clockwise, holes clockwise.
type Path []Vertex

// Circle is a full circle, used for drilled holes.
type Circle struct {
	C Vec2
	R float64
}

// Profile is a planar region: one outer boundary less holes. Round holes are
// Circles so that every output can keep them as true circles.
type Profile struct {
	Outer   Path
	Slots   []Path   // holes that are not full circles
	Circles []Circle // round holes
}

// Frame is a rigid placement: local coordinates (x, y, z) go to
// O + x·X + y·Y + z·Z with X, Y, Z orthonormal and right-handed.
type Frame struct {
	O, X, Y, Z Vec3
}

// Triangle is three vertex indices of a Mesh, counter-clockwise seen from
// outside.
type Triangle [3]int32

// Mesh is an indexed triangle surface.
type Mesh struct {
	Vertices  []Vec3
	Triangles []Triangle
}
