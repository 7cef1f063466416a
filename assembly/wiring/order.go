package wiring

import (
	"math"

	"clampwright/parts/geom"
)

// Order is a finished wiring order: the slots along the series path from the
// pack's minus to its plus, Parallel of them to a place, and how each cell is
// turned.
type Order struct {
	Path  []int
	Turns Turns
}

// pathOf lists the slots from the pack's minus on: up one row from the near end and back
// down the next, so that with two both take-offs are at one end. A last row that is not
// full begins or ends there with its last cell.
func pathOf(l *Layout) []int {
	n, rows := l.in.CellsPerRow, l.in.Rows
	out := make([]int, 0, l.Cells())
	for k := range n * rows {
		visit, i := k/n, k%n
		row, up := visit, visit%2 == 0
		if l.in.FromRight {
			row = rows - 1 - visit
		}
		switch {
		case l.in.Empty > 0 && l.in.FromRight:
			up = !up
		case l.in.Empty > 0:
			up = (rows-visit)%2 == 1
		}
		if !up {
			i = n - 1 - i
		}
		if slot := row*n + i; slot < l.Cells() {
			out = append(out, slot)
		}
	}
	return out
}

// Places cuts the path into series places, from the pack's minus on.
func (o Order) Places(parallel int) [][]int {
	var out [][]int
	for i := 0; i < len(o.Path); i += parallel {
		out = append(out, o.Path[i:i+parallel])
	}
	return out
}

// stepPosts returns the posts to be joined between path neighbours k-1 and k:
// like poles inside a place, plus to minus from place to place.
func stepPosts(l *Layout, path []int, k int, t Turns) [][2]Post {
	a, b := path[k-1], path[k]
	if k%l.in.Parallel == 0 {
		return [][2]Post{{t.At(a, Plus), t.At(b, Minus)}}
	}
	return [][2]Post{{t.At(a, Minus), t.At(b, Minus)}, {t.At(a, Plus), t.At(b, Plus)}}
}

// Final returns the order of the finished pack: the turns that make the links
// shortest and keep them off foreign terminals, found by dynamic programming
// along the path (each link joins path neighbours only, so the cost is a sum
// over steps). Equal costs keep the plus of the first cell on the right.
func (l *Layout) Final() Order {
	path := pathOf(l)
	n := len(path)
	best := make([][2]float64, n)
	from := make([][2]Side, n)
	best[0] = firstCost(l)
	for k := 1; k < n; k++ {
		for side := Left; side <= Right; side++ {
			best[k][side] = math.Inf(1)
			for _, before := range []Side{Right, Left} {
				c := best[k-1][before] + stepCost(l, path, k, before, side)
				if c < best[k][side]-lengthTolMM/1000 {
					best[k][side], from[k][side] = c, before
				}
			}
		}
	}
	last := Right
	if best[n-1][Left] < best[n-1][Right]-lengthTolMM/1000 {
		last = Left
	}
	turns := make(Turns, n)
	for k := n - 1; k >= 0; k-- {
		turns[path[k]] = last
		last = from[k][last]
	}
	return Order{Path: path, Turns: turns}
}

func firstCost(l *Layout) [2]float64 {
	var c [2]float64
	if l.in.FirstPlus == nil {
		c[Left] = lengthTolMM
	} else {
		c[l.in.FirstPlus.Other()] = 1e12
	}
	return c
}

// stepCost is the length of the links of one step, with a penalty for every
// other terminal under them.
func stepCost(l *Layout, path []int, k int, before, side Side) float64 {
	t := make(Turns, l.Cells())
	t[path[k-1]], t[path[k]] = before, side
	total, at := 0.0, l.positions(t)
	for _, p := range stepPosts(l, path, k, t) {
		total += linkCost(l, p[0], p[1], at)
	}
	return total
}

// coverPenaltyMM is what one terminal under a link costs when links are
// chosen: more than any detour round it, so that it is the last resort.
const coverPenaltyMM = 5000

// linkCost is what a link costs among terminals at their positions.
func linkCost(l *Layout, a, b Post, at []geom.Vec2) float64 {
	e := geom.NewEdge(at[a.node()], at[b.node()], 0)
	c, box, along := e.A.Dist(e.B), e.Bounds(), e.B.Sub(e.A)
	reach := (l.in.Bar.WidthMM + max(l.in.PlusAt.PadMM, l.in.MinusAt.PadMM) + l.in.screwsLong().Len()) / 2
	beside := reach*c + lengthTolMM // twice the triangle of the link and what is as far from its line
	for node, p := range at {
		if p.X < box.Min.X-reach || p.X > box.Max.X+reach || p.Y < box.Min.Y-reach || p.Y > box.Max.Y+reach {
			continue // most are far away
		}
		if math.Abs(along.Cross(p.Sub(e.A))) > beside {
			continue
		}
		if node != a.node() && node != b.node() && e.Dist(p) < reach {
			c += coverPenaltyMM
		}
	}
	return c
}
