package geom

import "math"

// EmptyBox2 contains nothing; adding a point makes it that point.
func EmptyBox2() Box2 {
	i := math.Inf(1)
	return Box2{Vec2{i, i}, Vec2{-i, -i}}
}

// BoxOf returns the smallest box holding the points, none for none.
func BoxOf(pts ...Vec2) Box2 {
	b := EmptyBox2()
	for _, p := range pts {
		b = b.Add(p)
	}
	return b
}

// Add returns the smallest box holding b and p.
func (b Box2) Add(p Vec2) Box2 {
	return Box2{Vec2{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}, Vec2{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}}
}

// Union returns the smallest box holding both.
func (b Box2) Union(c Box2) Box2 { return b.Add(c.Min).Add(c.Max) }

// Size returns the edge lengths.
func (b Box2) Size() Vec2 { return b.Max.Sub(b.Min) }

// Center returns the middle.
func (b Box2) Center() Vec2 { return b.Min.Lerp(b.Max, 0.5) }

// Grown returns b with every side moved outward by d.
func (b Box2) Grown(d float64) Box2 { return Box2{b.Min.Sub(Vec2{d, d}), b.Max.Add(Vec2{d, d})} }

// Contains reports whether p is in b, boundary included.
func (b Box2) Contains(p Vec2) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// Dist returns the distance between two boxes, zero when they overlap.
func (b Box2) Dist(c Box2) float64 {
	return math.Hypot(axisGap(b.Min.X, b.Max.X, c.Min.X, c.Max.X), axisGap(b.Min.Y, b.Max.Y, c.Min.Y, c.Max.Y))
}

// EmptyBox3 contains nothing; adding a point makes it that point.
func EmptyBox3() Box3 {
	i := math.Inf(1)
	return Box3{Vec3{i, i, i}, Vec3{-i, -i, -i}}
}

// Add returns the smallest box holding b and p.
func (b Box3) Add(p Vec3) Box3 {
	return Box3{
		Vec3{min(b.Min.X, p.X), min(b.Min.Y, p.Y), min(b.Min.Z, p.Z)},
		Vec3{max(b.Max.X, p.X), max(b.Max.Y, p.Y), max(b.Max.Z, p.Z)},
	}
}

// Union returns the smallest box holding both.
func (b Box3) Union(c Box3) Box3 { return b.Add(c.Min).Add(c.Max) }

// Size returns the edge lengths.
func (b Box3) Size() Vec3 { return b.Max.Sub(b.Min) }

// Center returns the middle.
func (b Box3) Center() Vec3 { return b.Min.Lerp(b.Max, 0.5) }

// Grown returns b with every side moved outward by d.
func (b Box3) Grown(d float64) Box3 {
	v := Vec3{d, d, d}
	return Box3{b.Min.Sub(v), b.Max.Add(v)}
}

// Contains reports whether p is in b, boundary included.
func (b Box3) Contains(p Vec3) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y &&
		p.Z >= b.Min.Z && p.Z <= b.Max.Z
}

// Dist returns the distance between two boxes, zero when they overlap.
func (b Box3) Dist(c Box3) float64 { return math.Sqrt(b.dist2(c)) }

func (b Box3) dist2(c Box3) float64 {
	x := axisGap(b.Min.X, b.Max.X, c.Min.X, c.Max.X)
	y := axisGap(b.Min.Y, b.Max.Y, c.Min.Y, c.Max.Y)
	z := axisGap(b.Min.Z, b.Max.Z, c.Min.Z, c.Max.Z)
	return x*x + y*y + z*z
}

// axisGap is the distance between two intervals, zero when they overlap.
func axisGap(a0, a1, b0, b1 float64) float64 {
	return max(0, b0-a1, a0-b1)
}
