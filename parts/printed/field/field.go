// Package field meshes solids given by a distance function: positive outside,
// negative inside, never further from zero than the surface is away. A grid of
// cells finds the surface; each patch of it in a cell gets one vertex, placed
// where the tangent planes met by the cell's edges meet, so that edges and
// corners stay sharp (dual contouring: Ju, Losasso, Schaefer, Warren 2002; one
// vertex a patch: Nielson 2004). Then edges are collapsed as long as the mesh
// keeps to the field, which leaves large triangles on flat faces and small ones
// where the surface bends.
package field

import (
	"errors"
	"fmt"
	"math"

	"clampwright/parts/geom"
)

// Func is a distance function, mm: the sign tells outside (positive) from
// inside, the size is no more than the distance to the surface.
type Func func(geom.Vec3) float64

// Options of a mesh.
type Options struct {
	Box  geom.Box3 // holds the solid
	Cell float64   // size of a cell, mm: under half of the thinnest wall or gap
	// Deviation is the largest distance of the mesh from the surface, mm.
	Deviation float64
}

// Figures say how a mesh came out.
type Figures struct {
	Cell         float64 // mm
	Raw          int     // triangles before collapsing
	DeviationMM  float64 // measured at triangles' middles, edges' middles and corners
	SliverShare  float64 // of triangles with an aspect over 100
	EvaluatedFor int     // cells that the surface passes
}

// Errors of the package.
var (
	ErrOptions   = errors.New("box, cell size and deviation must be finite, positive and make 1 to 64 million cells")
	ErrNothing   = errors.New("the field has no surface in its box")
	ErrDeviation = errors.New("the mesh strays too far from the field")
)

// maxCells bounds the grid: 64 million signs are 512 MB, far beyond any part.
const maxCells = 1 << 26

// tries is how often the grid is made finer when the mesh does not close as a
// surface or strays too far.
const tries = 4

// Mesh returns a closed, outward, deterministic mesh of the field's zero set. A
// grid whose cells see two walls at once is made finer, up to three times.
func Mesh(f Func, o Options) (geom.Mesh, Figures, error) {
	var err error
	for range tries {
		var m geom.Mesh
		var fig Figures
		m, fig, err = attempt(f, o)
		if err == nil {
			return m, fig, nil
		}
		if errors.Is(err, ErrOptions) || errors.Is(err, ErrNothing) {
			break
		}
		o.Cell *= 0.81
	}
	return geom.Mesh{}, Figures{}, err
}

func attempt(f Func, o Options) (geom.Mesh, Figures, error) {
	g, err := newGrid(f, o)
	if err != nil {
		return geom.Mesh{}, Figures{}, err
	}
	m := g.contour()
	if len(m.Triangles) == 0 {
		return geom.Mesh{}, Figures{}, ErrNothing
	}
	if err := m.Check(); err != nil {
		return geom.Mesh{}, Figures{}, fmt.Errorf("cells of %g mm: %w", o.Cell, err)
	}
	fig := Figures{Cell: o.Cell, Raw: len(m.Triangles), EvaluatedFor: len(g.surface)}
	m = simplify(f, m, o.Deviation)
	fig.DeviationMM, fig.SliverShare = Deviation(f, m), Slivers(m)
	if fig.DeviationMM > o.Deviation {
		return m, fig, fmt.Errorf("%g mm with cells of %g mm: %w", fig.DeviationMM, o.Cell, ErrDeviation)
	}
	if folded(f, m) {
		return m, fig, fmt.Errorf("folded with cells of %g mm: %w", o.Cell, ErrDeviation)
	}
	return m, fig, m.Check()
}

// folded reports a triangle that faces into the solid.
func folded(f Func, m geom.Mesh) bool {
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		if n.Len() < 1e-6 { // too small to see
			continue
		}
		mid, u := a.Add(b).Add(c).Mul(1./3), n.Unit().Mul(0.01)
		if f(mid.Add(u)) < f(mid.Sub(u)) {
			return true
		}
	}
	return false
}

// Deviation is the largest value of the field on the mesh, mm: at corners, at
// the middles of edges and triangles, and half way to those.
func Deviation(f Func, m geom.Mesh) float64 {
	worst := 0.0
	for _, t := range m.Triangles {
		worst = max(worst, stray(f, m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]], math.Inf(1)))
	}
	return worst
}

// samples are barycentric weights at which a triangle is compared with the
// field.
var samples = [...][3]float64{
	{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0.5, 0.5, 0}, {0, 0.5, 0.5}, {0.5, 0, 0.5}, {1. / 3, 1. / 3, 1. / 3},
	{0.75, 0.25, 0}, {0.25, 0.75, 0}, {0, 0.75, 0.25}, {0, 0.25, 0.75}, {0.75, 0, 0.25}, {0.25, 0, 0.75},
	{0.66, 0.17, 0.17}, {0.17, 0.66, 0.17}, {0.17, 0.17, 0.66},
}

// stray is the largest value of the field on a triangle; it stops at limit.
func stray(f Func, a, b, c geom.Vec3, limit float64) float64 {
	return strayAt(samples[:], f, a, b, c, limit)
}

func strayAt(ws [][3]float64, f Func, a, b, c geom.Vec3, limit float64) float64 {
	worst := 0.0
	for _, w := range ws {
		p := a.Mul(w[0]).Add(b.Mul(w[1])).Add(c.Mul(w[2]))
		if worst = max(worst, math.Abs(f(p))); worst > limit {
			break
		}
	}
	return worst
}

// Slivers is the share of triangles whose longest edge is over a hundred times
// the altitude on it.
func Slivers(m geom.Mesh) float64 {
	if len(m.Triangles) == 0 {
		return 0
	}
	n := 0
	for _, t := range m.Triangles {
		if aspect(m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]) > 100 {
			n++
		}
	}
	return float64(n) / float64(len(m.Triangles))
}

// aspect is the longest edge of a triangle over the altitude on it.
func aspect(a, b, c geom.Vec3) float64 {
	l := max(a.Dist(b), b.Dist(c), c.Dist(a))
	return l * l / b.Sub(a).Cross(c.Sub(a)).Len()
}
