package geom

import "math"

// Add returns a + b.
func (a Vec2) Add(b Vec2) Vec2 { return Vec2{a.X + b.X, a.Y + b.Y} }

// Sub returns a - b.
func (a Vec2) Sub(b Vec2) Vec2 { return Vec2{a.X - b.X, a.Y - b.Y} }

// Mul returns a scaled by k.
func (a Vec2) Mul(k float64) Vec2 { return Vec2{a.X * k, a.Y * k} }

// Dot returns the scalar product.
func (a Vec2) Dot(b Vec2) float64 { return a.X*b.X + a.Y*b.Y }

// Cross returns the z component of the vector product, positive when b lies
// counter-clockwise of a.
func (a Vec2) Cross(b Vec2) float64 { return a.X*b.Y - a.Y*b.X }

// Len returns the length.
func (a Vec2) Len() float64 { return math.Hypot(a.X, a.Y) }

// Dist returns the distance between two points.
func (a Vec2) Dist(b Vec2) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// Angle returns the direction of a from the x axis, rad, in (-pi, pi].
func (a Vec2) Angle() float64 { return math.Atan2(a.Y, a.X) }

// Perp returns a turned a quarter turn counter-clockwise.
func (a Vec2) Perp() Vec2 { return Vec2{-a.Y, a.X} }

// Unit returns a with length one, or zero for the zero vector.
func (a Vec2) Unit() Vec2 {
	l := a.Len()
	if l == 0 {
		return Vec2{}
	}
	return Vec2{a.X / l, a.Y / l} // not Mul(1/l): axes stay exact
}

// Lerp returns the point a fraction t of the way from a to b.
func (a Vec2) Lerp(b Vec2, t float64) Vec2 { return a.Add(b.Sub(a).Mul(t)) }

// Finite reports whether both coordinates are numbers within MaxSize.
func (a Vec2) Finite() bool { return sane(a.X) && sane(a.Y) }

// Polar returns the vector of length r at the angle, rad.
func Polar(r, angle float64) Vec2 {
	s, c := math.Sincos(angle)
	return Vec2{r * c, r * s}
}

// Add returns a + b.
func (a Vec3) Add(b Vec3) Vec3 { return Vec3{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a Vec3) Sub(b Vec3) Vec3 { return Vec3{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Mul returns a scaled by k.
func (a Vec3) Mul(k float64) Vec3 { return Vec3{a.X * k, a.Y * k, a.Z * k} }

// Dot returns the scalar product.
func (a Vec3) Dot(b Vec3) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Cross returns the vector product.
func (a Vec3) Cross(b Vec3) Vec3 {
	return Vec3{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Len returns the length.
func (a Vec3) Len() float64 { return math.Sqrt(a.Dot(a)) }

// Dist returns the distance between two points.
func (a Vec3) Dist(b Vec3) float64 { return a.Sub(b).Len() }

// Unit returns a with length one, or zero for the zero vector.
func (a Vec3) Unit() Vec3 {
	l := a.Len()
	if l == 0 {
		return Vec3{}
	}
	return Vec3{a.X / l, a.Y / l, a.Z / l}
}

// Lerp returns the point a fraction t of the way from a to b.
func (a Vec3) Lerp(b Vec3, t float64) Vec3 { return a.Add(b.Sub(a).Mul(t)) }

// Finite reports whether all coordinates are numbers within MaxSize.
func (a Vec3) Finite() bool { return sane(a.X) && sane(a.Y) && sane(a.Z) }

// XY drops the z coordinate.
func (a Vec3) XY() Vec2 { return Vec2{a.X, a.Y} }

// V3 adds a z coordinate to a.
func (a Vec2) V3(z float64) Vec3 { return Vec3{a.X, a.Y, z} }

// sane reports whether x is a number no larger than MaxSize.
func sane(x float64) bool { return math.Abs(x) <= MaxSize }
