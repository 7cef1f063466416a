// Package mesh writes triangle meshes as binary STL (through
// github.com/hschendel/stl) and as 3MF (through github.com/hpinc/go3mf), in
// millimetres. Each mesh is rounded to the float32 of these files, welded, and
// checked closed and turned outward as it will be read, before a byte is
// written.
package mesh

import (
	"errors"
	"fmt"
	"math"

	"clampwright/parts/geom"
)

// Body is a mesh with the name its file gives it.
type Body struct {
	Name string
	Mesh geom.Mesh
}

// Errors of a mesh that is not written.
var (
	ErrEmpty    = errors.New("the mesh has no triangles")
	ErrInside   = errors.New("the mesh is turned inside out")
	ErrTooLarge = errors.New("the mesh is too large for the format")
)

// maxTriangles keeps indices and counts well inside 32 bits.
const maxTriangles = 50_000_000

// Snap rounds every vertex to float32 and welds those that fall together.
// Triangles that lose a corner by it vanish; two that come to lie on each other
// face to face cancel. The result must be closed, each edge used once in either
// direction, and hold a positive volume; otherwise Snap says why not.
func Snap(m geom.Mesh) (geom.Mesh, error) {
	if len(m.Triangles) == 0 {
		return geom.Mesh{}, ErrEmpty
	}
	if len(m.Triangles) > maxTriangles {
		return geom.Mesh{}, ErrTooLarge
	}
	index, vertices, err := roundVertices(m.Vertices)
	if err != nil {
		return geom.Mesh{}, err
	}
	out := geom.Mesh{Vertices: vertices}
	for i, t := range m.Triangles {
		for k, v := range t {
			if v < 0 || int(v) >= len(index) {
				return geom.Mesh{}, fmt.Errorf("triangle %d has no vertex %d", i, v)
			}
			t[k] = index[v]
		}
		if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
			out.Triangles = append(out.Triangles, t)
		}
	}
	out.Triangles = cancelFolds(out.Triangles)
	if err := out.Check(); err != nil {
		return geom.Mesh{}, err
	}
	if len(out.Triangles) == 0 {
		return geom.Mesh{}, ErrEmpty
	}
	if out.Volume() <= 0 {
		return geom.Mesh{}, ErrInside
	}
	return out, nil
}

// roundVertices returns the distinct rounded vertices in order of first use and
// the new index of each old vertex.
func roundVertices(vs []geom.Vec3) ([]int32, []geom.Vec3, error) {
	seen := make(map[[3]float32]int32, len(vs))
	index := make([]int32, len(vs))
	var out []geom.Vec3
	for i, v := range vs {
		if !v.Finite() {
			return nil, nil, fmt.Errorf("vertex %d is not a point within 100 m: (%g, %g, %g)", i, v.X, v.Y, v.Z)
		}
		k := [3]float32{round(v.X), round(v.Y), round(v.Z)}
		n, ok := seen[k]
		if !ok {
			n = int32(len(out))
			seen[k] = n
			out = append(out, geom.Vec3{X: float64(k[0]), Y: float64(k[1]), Z: float64(k[2])})
		}
		index[i] = n
	}
	return index, out, nil
}

// originMM is the distance to a coordinate plane within which a vertex is taken
// to lie in it: rounding of rotations leaves 1e-14 where zero is meant, and such
// values would differ from true zeros, and be written with ten digits.
const originMM = 1e-7

// round gives the float32 of x, never a negative zero.
func round(x float64) float32 {
	if math.Abs(x) < originMM {
		return 0
	}
	return float32(x)
}

// cancelFolds removes pairs of triangles with the same corners and opposite
// turn, which rounding can make of a flat sliver.
func cancelFolds(ts []geom.Triangle) []geom.Triangle {
	at := make(map[geom.Triangle]int, len(ts))
	gone := map[int]bool{}
	for i, t := range ts {
		flipped := first(geom.Triangle{t[0], t[2], t[1]})
		if j, ok := at[flipped]; ok {
			gone[i], gone[j] = true, true
			delete(at, flipped)
			continue
		}
		at[first(t)] = i
	}
	if len(gone) == 0 {
		return ts
	}
	var out []geom.Triangle
	for i, t := range ts {
		if !gone[i] {
			out = append(out, t)
		}
	}
	return out
}

// first turns the corners, keeping their sense, so that the least comes first.
func first(t geom.Triangle) geom.Triangle {
	for t[0] > t[1] || t[0] > t[2] {
		t = geom.Triangle{t[1], t[2], t[0]}
	}
	return t
}
