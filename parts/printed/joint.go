package printed

import (
	"math"

	"clampwright/parts/geom"
	"clampwright/parts/printed/relief"
)

// tongue is one dovetail: where along the cut, and how wide its neck is.
type tongue struct{ at, neck float64 }

// Dovetail shape: depth and flare as parts of the neck; common practice, no
// source.
const (
	tongueDepth = 0.6
	tongueFlare = 0.2 // each side, about 18 degrees
)

// splitAcross cuts layers at x = at into a left and a right piece that slide
// together along z: dovetails on the left one, sockets wider by fit all round in
// the right one, and fit between the faces.
func splitAcross(layers []relief.Layer, at, fit float64, tongues []tongue) (left, right []relief.Layer) {
	l, r := cutLine(at, 0, tongues), cutLine(at, fit, tongues)
	const far = 5000.0
	lp := append(geom.Path{{P: geom.Vec2{X: -far, Y: -far}}}, l...)
	lp = append(lp, geom.Vertex{P: geom.Vec2{X: -far, Y: far}})
	rp := append(geom.Path{{P: geom.Vec2{X: far, Y: -far}}}, r...)
	rp = append(rp, geom.Vertex{P: geom.Vec2{X: far, Y: far}})
	for _, y := range layers {
		left = append(left, relief.Layer{Z0: y.Z0, Z1: y.Z1, Region: y.Region.Within(lp)})
		right = append(right, relief.Layer{Z0: y.Z0, Z1: y.Z1, Region: y.Region.Within(rp)})
	}
	return left, right
}

// cutLine runs upwards along x = at and out round every tongue, offset to the
// right by gap.
func cutLine(at, gap float64, tongues []tongue) geom.Path {
	const far = 5000.0
	v := func(x, y float64) geom.Vertex { return geom.Vertex{P: geom.Vec2{X: x, Y: y}} }
	p := geom.Path{v(at+gap, -far)}
	for _, t := range tongues {
		d, f := tongueDepth*t.neck, tongueFlare*t.neck
		side := gap * math.Hypot(1, f/d) // across, for a gap square to the flank
		x0, x1 := at+gap, at+d+gap
		// the flank at x: half width neck/2 + f (x - at)/d, moved out by side
		n := t.neck/2 + f*(x0-at)/d + side
		h := t.neck/2 + f*(x1-at)/d + side
		p = append(p, v(x0, t.at-n), v(x1, t.at-h), v(x1, t.at+h), v(x0, t.at+n))
	}
	return append(p, v(at+gap, far))
}

// swapped exchanges x and y of every outline, to cut across y.
func swapped(ls []relief.Layer) []relief.Layer {
	var out []relief.Layer
	for _, l := range ls {
		var r relief.Region
		for _, op := range l.Region {
			q := make(geom.Path, len(op.Path))
			for i, v := range op.Path {
				q[i] = geom.Vertex{P: geom.Vec2{X: v.P.Y, Y: v.P.X}, Bulge: -v.Bulge}
			}
			r = append(r, relief.Op{What: op.What, Path: q})
		}
		out = append(out, relief.Layer{Z0: l.Z0, Z1: l.Z1, Region: r})
	}
	return out
}
