package field

import (
	"math"

	"clampwright/parts/geom"
)

// flat is the part of the largest eigenvalue below which a direction counts as
// lying in the surface: along it the vertex stays at the middle of the cuts. A
// pair of planes must turn by about 15 degrees to make an edge.
const flat = 0.02

// nearEnough is how far off the surface the meeting point may lie, in cells, for
// the surface bends between the cuts: a tenth of a cell at a bend of a cell's
// radius.
const nearEnough = 0.1

// spot places a cell's vertex: where the tangent planes meet, even when that
// lies in a neighbouring cell as long as the surface is there, for an edge that
// only clips this cell would be cut off otherwise; else the best point inside.
func (g *grid) spot(cs []crossing, box geom.Box3) geom.Vec3 {
	x, a, b, mid := meetingPoint(cs)
	if box.Contains(x) {
		return g.settle(x, box)
	}
	if wide := box.Grown(0.75 * g.h); wide.Contains(x) && math.Abs(g.f(x)) < nearEnough*g.h {
		return g.settle(x, wide)
	}
	return g.settle(nearestIn(a, b, mid, box), box)
}

// meetingPoint is the point nearest to all tangent planes, min Σ (n·(x - p))²,
// taken from the middle of the cuts along the directions that the planes fix;
// with the sum's matrix and right side about that middle.
func meetingPoint(cs []crossing) (x geom.Vec3, a [3][3]float64, b [3]float64, mid geom.Vec3) {
	for _, c := range cs {
		mid = mid.Add(c.p)
	}
	mid = mid.Mul(1 / float64(len(cs)))
	for _, c := range cs {
		n := [3]float64{c.n.X, c.n.Y, c.n.Z}
		d := c.n.Dot(c.p.Sub(mid))
		for i := range 3 {
			for j := range 3 {
				a[i][j] += n[i] * n[j]
			}
			b[i] += n[i] * d
		}
	}
	x = mid
	values, vectors := eigen(a)
	most := max(values[0], values[1], values[2])
	for k, l := range values {
		if l <= flat*most {
			continue
		}
		v := geom.Vec3{X: vectors[0][k], Y: vectors[1][k], Z: vectors[2][k]}
		x = x.Add(v.Mul((v.X*b[0] + v.Y*b[1] + v.Z*b[2]) / l))
	}
	return x, a, b, mid
}

// nearestIn minimises the same sum inside the cell, one coordinate after the
// other, for planes that meet outside it: their corner belongs to a neighbour.
// A little weight on the middle of the cuts settles directions left free.
func nearestIn(a [3][3]float64, b [3]float64, mid geom.Vec3, box geom.Box3) geom.Vec3 {
	lo, hi := box.Min.Sub(mid), box.Max.Sub(mid)
	min3, max3 := [3]float64{lo.X, lo.Y, lo.Z}, [3]float64{hi.X, hi.Y, hi.Z}
	var x [3]float64
	for range 60 {
		for i := range 3 {
			r := b[i]
			for j := range 3 {
				if j != i {
					r -= a[i][j] * x[j]
				}
			}
			x[i] = max(min3[i], min(max3[i], r/(a[i][i]+0.01)))
		}
	}
	return mid.Add(geom.Vec3{X: x[0], Y: x[1], Z: x[2]})
}

// settle moves a point of a cell onto the surface along the field's slope,
// without leaving the cell.
func (g *grid) settle(p geom.Vec3, box geom.Box3) geom.Vec3 {
	for range 6 {
		d := g.f(p)
		if math.Abs(d) < 1e-7 {
			break
		}
		p = p.Sub(g.normal(p, d).Mul(d))
		p = geom.Vec3{X: clampTo(p.X, box.Min.X, box.Max.X), Y: clampTo(p.Y, box.Min.Y, box.Max.Y), Z: clampTo(p.Z, box.Min.Z, box.Max.Z)}
	}
	return p
}

func clampTo(x, lo, hi float64) float64 { return max(lo, min(hi, x)) }

// eigen returns the eigenvalues of a symmetric matrix and its eigenvectors as
// columns, by Jacobi's rotations.
func eigen(a [3][3]float64) (values [3]float64, v [3][3]float64) {
	v = [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for range 12 {
		if math.Abs(a[0][1])+math.Abs(a[0][2])+math.Abs(a[1][2]) < 1e-14 {
			break
		}
		for _, pq := range [3][2]int{{0, 1}, {0, 2}, {1, 2}} {
			p, q := pq[0], pq[1]
			if math.Abs(a[p][q]) < 1e-300 {
				continue
			}
			th := (a[q][q] - a[p][p]) / (2 * a[p][q])
			t := 1 / (math.Abs(th) + math.Sqrt(th*th+1))
			if th < 0 {
				t = -t
			}
			c := 1 / math.Sqrt(t*t+1)
			s := t * c
			for k := range 3 {
				a[k][p], a[k][q] = c*a[k][p]-s*a[k][q], s*a[k][p]+c*a[k][q]
			}
			for k := range 3 {
				a[p][k], a[q][k] = c*a[p][k]-s*a[q][k], s*a[p][k]+c*a[q][k]
				v[k][p], v[k][q] = c*v[k][p]-s*v[k][q], s*v[k][p]+c*v[k][q]
			}
		}
	}
	return [3]float64{a[0][0], a[1][1], a[2][2]}, v
}
