package field

import (
	"math"

	"clampwright/parts/geom"
)

// grid is a block of cubic cells with the field at their corners.
type grid struct {
	f       Func
	o       geom.Vec3
	h       float64
	n       [3]int // corners each way
	val     []float64
	surface []int32 // cells, by their lowest corner, that the surface passes
	cross   map[int64]crossing
	vertex  map[int64]int32 // patch of a cell at one of its edges -> vertex
	m       geom.Mesh
}

// shift moves the grid off round sizes: a face exactly on a row of corners has
// no sign there. Parts of a cell, common to no simple fractions.
var shift = geom.Vec3{X: 0.3819660, Y: 0.4142136, Z: 0.4492935}

func newGrid(f Func, o Options) (*grid, error) {
	size := o.Box.Size()
	ok := o.Box.Min.Finite() && o.Box.Max.Finite() && o.Cell > 0 && o.Deviation > 0 &&
		size.X > 0 && size.Y > 0 && size.Z > 0 && !math.IsInf(o.Cell, 0) && !math.IsInf(o.Deviation, 0)
	if !ok {
		return nil, ErrOptions
	}
	g := &grid{f: f, h: o.Cell, cross: map[int64]crossing{}, vertex: map[int64]int32{}}
	g.o = o.Box.Min.Sub(shift.Add(geom.Vec3{X: 1, Y: 1, Z: 1}).Mul(o.Cell))
	total := 1.0
	for k, s := range [3]float64{size.X, size.Y, size.Z} {
		g.n[k] = int(math.Ceil(s/o.Cell)) + 4
		total *= float64(g.n[k])
	}
	if !(total <= maxCells) {
		return nil, ErrOptions
	}
	g.val = make([]float64, g.n[0]*g.n[1]*g.n[2])
	for i := range g.val {
		g.val[i] = math.NaN()
	}
	g.search([3]int{}, g.pow2())
	return g, nil
}

// pow2 is the edge of the smallest power-of-two block round the grid, in cells.
func (g *grid) pow2() int {
	e := 1
	for e < max(g.n[0], g.n[1], g.n[2])-1 {
		e *= 2
	}
	return e
}

// search looks for surface cells in a block, leaving out blocks that the field
// says are further from the surface than their corners are from their middle.
func (g *grid) search(at [3]int, edge int) {
	for k := range 3 {
		if at[k] >= g.n[k]-1 {
			return
		}
	}
	if edge == 1 {
		g.cell(at)
		return
	}
	half := float64(edge) / 2 * g.h
	c := g.point(at).Add(geom.Vec3{X: half, Y: half, Z: half})
	if math.Abs(g.f(c)) > half*math.Sqrt(3)+g.h*1e-6 {
		return
	}
	e := edge / 2
	for i := range 8 {
		g.search([3]int{at[0] + e*(i&1), at[1] + e*(i>>1&1), at[2] + e*(i>>2)}, e)
	}
}

// cell keeps a cell whose corners differ in sign.
func (g *grid) cell(at [3]int) {
	first := g.inside(g.corner(at, 0))
	for i := 1; i < 8; i++ {
		if g.inside(g.corner(at, i)) != first {
			g.surface = append(g.surface, int32(g.index(at)))
			return
		}
	}
}

func (g *grid) index(at [3]int) int { return (at[2]*g.n[1]+at[1])*g.n[0] + at[0] }

func (g *grid) place(i int) [3]int {
	return [3]int{i % g.n[0], i / g.n[0] % g.n[1], i / (g.n[0] * g.n[1])}
}

// corner is the index of corner i of a cell: bit 0 is x, bit 1 y, bit 2 z.
func (g *grid) corner(at [3]int, i int) int {
	return g.index([3]int{at[0] + i&1, at[1] + i>>1&1, at[2] + i>>2})
}

func (g *grid) point(at [3]int) geom.Vec3 {
	return g.o.Add(geom.Vec3{X: float64(at[0]), Y: float64(at[1]), Z: float64(at[2])}.Mul(g.h))
}

func (g *grid) value(i int) float64 {
	if math.IsNaN(g.val[i]) {
		if v := g.f(g.point(g.place(i))); !math.IsNaN(v) {
			g.val[i] = v
		} else {
			g.val[i] = math.Inf(1)
		}
	}
	return g.val[i]
}

func (g *grid) inside(i int) bool { return g.value(i) < 0 }

// crossing is where the surface cuts an edge of the grid, with its normal.
type crossing struct{ p, n geom.Vec3 }

// crossingAt finds the cut of the edge from corner i along an axis by false
// position with halving (Illinois).
func (g *grid) crossingAt(i, axis int) crossing {
	key := int64(i)*3 + int64(axis)
	if c, ok := g.cross[key]; ok {
		return c
	}
	at := g.place(i)
	a := g.point(at)
	at[axis]++
	b := g.point(at)
	fa, fb := g.value(i), g.value(g.index(at))
	lo, hi, side := 0.0, 1.0, 0
	t, ft := 0.5, 0.0
	for range 40 {
		t = lo + (hi-lo)*fa/(fa-fb)
		ft = g.f(a.Lerp(b, t))
		if math.Abs(ft) < 1e-9 || hi-lo < 1e-9 {
			break
		}
		if (ft < 0) == (fa < 0) {
			lo, fa = t, ft
			if side == 1 {
				fb /= 2
			}
			side = 1
		} else {
			hi, fb = t, ft
			if side == -1 {
				fa /= 2
			}
			side = -1
		}
	}
	c := crossing{p: a.Lerp(b, t)}
	c.n = g.normal(c.p, ft)
	g.cross[key] = c
	return c
}

// normal is the direction in which the field grows fastest from p, where it is
// fp, by differences over a step far below any size that is meant.
func (g *grid) normal(p geom.Vec3, fp float64) geom.Vec3 {
	const e = 1e-5
	d := func(v geom.Vec3) float64 { return g.f(p.Add(v)) - fp }
	return geom.Vec3{X: d(geom.Vec3{X: e}), Y: d(geom.Vec3{Y: e}), Z: d(geom.Vec3{Z: e})}.Unit()
}
