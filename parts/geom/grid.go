package geom

import "math"

// pointGrid finds points in a box: square cells, about one point each.
type pointGrid struct {
	o      Vec2
	size   float64
	nx, ny int
	cells  [][]int
}

func newPointGrid(b Box2, n int) *pointGrid {
	s := b.Size()
	size := max(math.Sqrt(s.X*s.Y/float64(max(1, n))), s.X/1000, s.Y/1000, MinSize)
	g := &pointGrid{o: b.Min, size: size, nx: int(s.X/size) + 1, ny: int(s.Y/size) + 1}
	g.cells = make([][]int, g.nx*g.ny)
	return g
}

func (g *pointGrid) cell(p Vec2) (i, j int) {
	i = min(g.nx-1, max(0, int((p.X-g.o.X)/g.size)))
	j = min(g.ny-1, max(0, int((p.Y-g.o.Y)/g.size)))
	return i, j
}

func (g *pointGrid) add(p Vec2, id int) {
	i, j := g.cell(p)
	g.cells[j*g.nx+i] = append(g.cells[j*g.nx+i], id)
}

// any reports whether test holds for a point in a cell that b touches.
func (g *pointGrid) any(b Box2, test func(id int) bool) bool {
	i0, j0 := g.cell(b.Min)
	i1, j1 := g.cell(b.Max)
	for j := j0; j <= j1; j++ {
		for _, c := range g.cells[j*g.nx+i0 : j*g.nx+i1+1] {
			for _, id := range c {
				if test(id) {
					return true
				}
			}
		}
	}
	return false
}
