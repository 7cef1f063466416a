package clamp

import (
	"math"
	"slices"
)

// symmetric says whether plate, rows, rods and stiffeners are mirror images of
// themselves about the plate's vertical centre line, within sameLineMM.
func symmetric(in Input) bool {
	w := in.Plate.WidthMM
	return mirrorRows(in.Rows, w) != nil && mirrorRods(in.Rods, w) != nil && stiffenersMirror(in.Stiffeners, w)
}

func near(a, b float64) bool { return math.Abs(a-b) <= sameLineMM }

func (r Rect) mirror(w float64) Rect { return Rect{w - r.X1, r.Y0, w - r.X0, r.Y1} }

func (r Rect) near(q Rect) bool {
	return near(r.X0, q.X0) && near(r.X1, q.X1) && near(r.Y0, q.Y0) && near(r.Y1, q.Y1)
}

// mirrorRows returns for each row the index of its mirror image, or nil.
func mirrorRows(rows []Row, w float64) []int {
	return partners(len(rows), func(i, j int) bool { return rowsMirror(rows[i], rows[j], w) })
}

// mirrorRods returns for each rod the index of its mirror image, or nil.
func mirrorRods(rods []Rod, w float64) []int {
	return partners(len(rods), func(i, j int) bool {
		a, b := rods[i], rods[j]
		if !near(a.XMM, w-b.XMM) || !near(a.YMM, b.YMM) {
			return false
		}
		a.XMM, a.YMM, a.Name = b.XMM, b.YMM, b.Name
		return a == b
	})
}

// partners finds for every i the first j for which same(i, j); nil if one has
// none.
func partners(n int, same func(i, j int) bool) []int {
	out := make([]int, n)
	for i := range n {
		out[i] = -1
		for j := range n {
			if same(i, j) {
				out[i] = j
				break
			}
		}
		if out[i] < 0 {
			return nil
		}
	}
	return out
}

func rowsMirror(a, b Row, w float64) bool {
	if !a.Face.near(b.Face.mirror(w)) || len(a.Pressing) != len(b.Pressing) {
		return false
	}
	for _, q := range a.Pressing {
		found := false
		for _, p := range b.Pressing {
			found = found || p.near(q.mirror(w))
		}
		if !found {
			return false
		}
	}
	return sameStack(a, b)
}

// sameStack compares all that is not geometry.
func sameStack(a, b Row) bool {
	if a.Cells != b.Cells || a.CellThicknessMM != b.CellThicknessMM || a.Stiffness != b.Stiffness ||
		a.CTE != b.CTE || a.BulgeMM != b.BulgeMM || !slices.Equal(a.Squeeze, b.Squeeze) {
		return false
	}
	g, h := a.Growth, b.Growth
	if g.Aged != h.Aged || g.Shape != h.Shape || g.Edge != h.Edge || !slices.Equal(g.Points, h.Points) {
		return false
	}
	if len(a.Layers) != len(b.Layers) {
		return false
	}
	for i, l := range a.Layers {
		m := b.Layers[i]
		if l.Count != m.Count || l.ThicknessMM != m.ThicknessMM || l.EMPa != m.EMPa || l.CTE != m.CTE ||
			!slices.Equal(l.Curve, m.Curve) || !slices.Equal(l.Creep, m.Creep) {
			return false
		}
	}
	return true
}

func stiffenersMirror(s []Stiffener, w float64) bool {
	return partners(len(s), func(i, j int) bool {
		a, b := s[i], s[j]
		if !near(a.X0MM, w-b.X1MM) || !near(a.X1MM, w-b.X0MM) || !near(a.YMM, b.YMM) {
			return false
		}
		a.X0MM, a.X1MM, a.YMM = b.X0MM, b.X1MM, b.YMM
		return a == b
	}) != nil || len(s) == 0
}
