package geom

import "math"

// Contains reports whether p lies inside the solid. Points on the boundary may
// go either way.
func (s Solid) Contains(p Vec3) bool { return s.PointDistance(p) <= 0 && !s.Empty() }

// PointDistance returns the distance from p to the solid, mm, zero inside:
// exact but for a mitred tip, whose fillet is a mesh within 0.001 mm. It is
// infinite for the empty solid.
func (s Solid) PointDistance(p Vec3) float64 {
	d := math.Inf(1)
	if s.Empty() {
		return d
	}
	for _, f := range s.finePieces() {
		if d > 0 {
			d = min(d, f.pointDistance(p))
		}
	}
	return d
}

func (f *finePiece) pointDistance(p Vec3) float64 {
	if len(f.forms) > 0 {
		return f.forms[0].pointDistance(p)
	}
	t, err := f.meshTree()
	if err != nil {
		return math.Inf(1)
	}
	if t.contains(p) {
		return 0
	}
	d := math.Inf(1)
	for _, x := range t.tris {
		d = min(d, x.nearest(p).Dist(p))
	}
	return d
}

func (f form) pointDistance(p Vec3) float64 {
	q := f.frame.ToLocal(p)
	axial := axisGap(f.z0, f.z1, q.Z, q.Z)
	if f.reg.contains(q.XY()) {
		return axial
	}
	d := math.Inf(1)
	for i, l := range f.reg.loops {
		if f.reg.boxes[i].Dist(Box2{q.XY(), q.XY()}) < d {
			for _, e := range l {
				d = min(d, e.Dist(q.XY()))
			}
		}
	}
	return math.Hypot(d, axial)
}
