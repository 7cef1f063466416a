package page

import "clampwright/parts/geom"

// corner is a grid node with its pressure.
type corner struct {
	p geom.Vec2
	v float64
}

// eachTriangle splits every grid square in two and hands out its triangles.
func (f Field) eachTriangle(do func(a, b, c corner)) {
	n := len(f.X)
	at := func(i, j int) corner {
		return corner{geom.Vec2{X: f.X[i], Y: f.Y[j]}, f.P[j*n+i]}
	}
	for j := 0; j+1 < len(f.Y); j++ {
		for i := 0; i+1 < n; i++ {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			do(a, b, c)
			do(a, c, d)
		}
	}
}

// side cuts the triangle to the part where sign*(v-limit) is below zero.
func side(t [3]corner, limit, sign float64) Polyline {
	var out Polyline
	for i := range t {
		a, b := t[i], t[(i+1)%3]
		da, db := sign*(a.v-limit), sign*(b.v-limit)
		if da < 0 {
			out = append(out, a.p)
		}
		if (da < 0) != (db < 0) {
			out = append(out, between(a, b, limit))
		}
	}
	if len(out) < 3 {
		return nil
	}
	return out
}

// between is the point on the line from a to b where the pressure is limit.
func between(a, b corner, limit float64) geom.Vec2 {
	t := (limit - a.v) / (b.v - a.v)
	return geom.Vec2{X: a.p.X + t*(b.p.X-a.p.X), Y: a.p.Y + t*(b.p.Y-a.p.Y)}
}

// region is where the pressure is below limit (sign +1) or above it (sign -1),
// as polygons: rows of whole squares run together, the rest cut triangles.
func (f Field) region(limit, sign float64) []Polyline {
	var out []Polyline
	n := len(f.X)
	inside := func(i, j int) bool { return sign*(f.P[j*n+i]-limit) < 0 }
	whole := func(i, j int) bool {
		return inside(i, j) && inside(i+1, j) && inside(i, j+1) && inside(i+1, j+1)
	}
	for j := 0; j+1 < len(f.Y); j++ {
		for i := 0; i+1 < n; {
			k := i
			for k+1 < n && whole(k, j) {
				k++
			}
			if k > i {
				out = append(out, corners(geom.Box2{Min: geom.Vec2{X: f.X[i], Y: f.Y[j]}, Max: geom.Vec2{X: f.X[k], Y: f.Y[j+1]}}))
				i = k
				continue
			}
			out = append(out, f.cutSquare(i, j, limit, sign)...)
			i++
		}
	}
	return out
}

func (f Field) cutSquare(i, j int, limit, sign float64) []Polyline {
	sub := Field{X: f.X[i : i+2], Y: f.Y[j : j+2]}
	n := len(f.X)
	sub.P = []float64{f.P[j*n+i], f.P[j*n+i+1], f.P[(j+1)*n+i], f.P[(j+1)*n+i+1]}
	var out []Polyline
	sub.eachTriangle(func(a, b, c corner) {
		if p := side([3]corner{a, b, c}, limit, sign); p != nil {
			out = append(out, p)
		}
	})
	return out
}

// contour is the line where the pressure is limit, in short pieces.
func (f Field) contour(limit float64) []Polyline {
	var out []Polyline
	f.eachTriangle(func(a, b, c corner) {
		var ends Polyline
		for _, s := range [3][2]corner{{a, b}, {b, c}, {c, a}} {
			if (s[0].v < limit) != (s[1].v < limit) {
				ends = append(ends, between(s[0], s[1], limit))
			}
		}
		if len(ends) == 2 && ends[0] != ends[1] {
			out = append(out, ends)
		}
	})
	return out
}

// extremes are the least and the greatest node.
func (f Field) extremes() (lo, hi corner) {
	for k, v := range f.P {
		c := corner{geom.Vec2{X: f.X[k%len(f.X)], Y: f.Y[k/len(f.X)]}, v}
		if k == 0 || v < lo.v {
			lo = c
		}
		if k == 0 || v > hi.v {
			hi = c
		}
	}
	return lo, hi
}

// at is the pressure at a point of the face, linear between the nodes.
func (f Field) at(p geom.Vec2) float64 {
	i, u := bracket(f.X, p.X)
	j, v := bracket(f.Y, p.Y)
	n := len(f.X)
	q := func(i, j int) float64 { return f.P[j*n+i] }
	return (1-v)*((1-u)*q(i, j)+u*q(i+1, j)) + v*((1-u)*q(i, j+1)+u*q(i+1, j+1))
}

// bracket finds the interval of the rising xs that holds x, and where in it.
func bracket(xs []float64, x float64) (int, float64) {
	lo, hi := 0, len(xs)-2
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if xs[mid] <= x {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	t := (x - xs[lo]) / (xs[lo+1] - xs[lo])
	return lo, min(max(t, 0), 1)
}

// box is the face the field lies on.
func (f Field) box() geom.Box2 {
	return geom.Box2{Min: geom.Vec2{X: f.X[0], Y: f.Y[0]}, Max: geom.Vec2{X: f.X[len(f.X)-1], Y: f.Y[len(f.Y)-1]}}
}
