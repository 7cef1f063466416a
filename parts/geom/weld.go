package geom

import "math"

// welder collects triangles of neighbouring faces and gives points within Weld
// of each other one vertex.
type welder struct {
	m    Mesh
	grid map[[3]int64]int32
}

func newWelder() *welder { return &welder{grid: map[[3]int64]int32{}} }

// add returns the index of the vertex at p. Cells are 4·Weld wide, so a vertex
// within Weld is in p's own cell or, near a cell wall, the one beyond it.
func (w *welder) add(p Vec3) int32 {
	const cell = 4 * Weld
	var lo, hi [3]int64
	for k, x := range [3]float64{p.X, p.Y, p.Z} {
		lo[k] = int64(math.Floor((x - Weld) / cell))
		hi[k] = int64(math.Floor((x + Weld) / cell))
	}
	for i := lo[0]; i <= hi[0]; i++ {
		for j := lo[1]; j <= hi[1]; j++ {
			for k := lo[2]; k <= hi[2]; k++ {
				if v, ok := w.grid[[3]int64{i, j, k}]; ok && w.m.Vertices[v].Dist(p) <= Weld {
					return v
				}
			}
		}
	}
	return w.insert(p, cell)
}

func (w *welder) insert(p Vec3, cell float64) int32 {
	v := int32(len(w.m.Vertices))
	w.m.Vertices = append(w.m.Vertices, p)
	key := [3]int64{int64(math.Floor(p.X / cell)), int64(math.Floor(p.Y / cell)), int64(math.Floor(p.Z / cell))}
	w.grid[key] = v
	return v
}

// triangle adds a triangle unless welding made it a line.
func (w *welder) triangle(a, b, c int32) {
	if a != b && b != c && c != a {
		w.m.Triangles = append(w.m.Triangles, Triangle{a, b, c})
	}
}
