package geom

import (
	"fmt"
	"math"
)

// World is the frame that changes nothing.
func World() Frame {
	return Frame{X: Vec3{X: 1}, Y: Vec3{Y: 1}, Z: Vec3{Z: 1}}
}

// At is the world frame moved to o.
func At(o Vec3) Frame {
	f := World()
	f.O = o
	return f
}

// Turned returns f turned about its own z axis by the angle, rad. Quarter turns
// are exact.
func (f Frame) Turned(angle float64) Frame {
	s, c := sincosExact(angle)
	g := f
	g.X = f.X.Mul(c).Add(f.Y.Mul(s))
	g.Y = f.Y.Mul(c).Sub(f.X.Mul(s))
	return g
}

// Moved returns f moved by v, given in the coordinates f is given in.
func (f Frame) Moved(v Vec3) Frame {
	f.O = f.O.Add(v)
	return f
}

// Point takes a point from local coordinates to those f is given in.
func (f Frame) Point(p Vec3) Vec3 { return f.O.Add(f.Dir(p)) }

// Dir takes a direction from local coordinates to those f is given in.
func (f Frame) Dir(v Vec3) Vec3 {
	return Vec3{
		f.X.X*v.X + f.Y.X*v.Y + f.Z.X*v.Z,
		f.X.Y*v.X + f.Y.Y*v.Y + f.Z.Y*v.Z,
		f.X.Z*v.X + f.Y.Z*v.Y + f.Z.Z*v.Z,
	}
}

// ToLocal takes a point to local coordinates. The axes must be orthonormal.
func (f Frame) ToLocal(p Vec3) Vec3 { return f.DirToLocal(p.Sub(f.O)) }

// DirToLocal takes a direction to local coordinates.
func (f Frame) DirToLocal(v Vec3) Vec3 { return Vec3{f.X.Dot(v), f.Y.Dot(v), f.Z.Dot(v)} }

// Mul composes placements: f.Mul(g) places g's local coordinates through g,
// then through f.
func (f Frame) Mul(g Frame) Frame {
	return Frame{O: f.Point(g.O), X: f.Dir(g.X), Y: f.Dir(g.Y), Z: f.Dir(g.Z)}
}

// Inverse returns the frame that undoes f.
func (f Frame) Inverse() Frame {
	return Frame{
		O: f.DirToLocal(f.O).Mul(-1),
		X: Vec3{f.X.X, f.Y.X, f.Z.X},
		Y: Vec3{f.X.Y, f.Y.Y, f.Z.Y},
		Z: Vec3{f.X.Z, f.Y.Z, f.Z.Z},
	}
}

// Check reports a frame that is not finite, orthonormal and right-handed.
func (f Frame) Check() error {
	if !f.O.Finite() {
		return fmt.Errorf("frame origin %v: %w", f.O, ErrNotFinite)
	}
	for _, v := range []float64{
		f.X.Dot(f.X) - 1, f.Y.Dot(f.Y) - 1, f.Z.Dot(f.Z) - 1,
		f.X.Dot(f.Y), f.Y.Dot(f.Z), f.Z.Dot(f.X), f.X.Cross(f.Y).Dot(f.Z) - 1,
	} {
		if !(math.Abs(v) <= orthoErr) {
			return ErrFrame
		}
	}
	return nil
}

// sincosExact is math.Sincos with exact values at whole quarter turns.
func sincosExact(a float64) (s, c float64) {
	q := a / (math.Pi / 2)
	r := math.Round(q)
	if math.Abs(q-r) > 1e-15*math.Max(1, math.Abs(q)) || math.Abs(r) > 1e6 {
		return math.Sincos(a)
	}
	switch ((int(r) % 4) + 4) % 4 {
	case 0:
		return 0, 1
	case 1:
		return 1, 0
	case 2:
		return 0, -1
	}
	return -1, 0
}
