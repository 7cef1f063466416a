package dxf

import (
	"math"

	"clampwright/parts/geom"
)

// seen remembers what has been drawn on one layer, or on the cut layers
// together, on a grid of sameMM. Edges count in either direction, so a common
// edge of two outlines, which would be cut twice, is found as well.
type seen map[any]bool

// again reports whether a thing was there already, and adds it.
func (s seen) again(what any) bool {
	was := s[what]
	s[what] = true
	return was
}

func grid(x float64) int64 { return int64(math.Round(x / sameMM)) }

func gridPoint(p geom.Vec2) [2]int64 { return [2]int64{grid(p.X), grid(p.Y)} }

func (s seen) edge(a, b geom.Vec2, bulge float64) bool {
	type key struct {
		a, b  [2]int64
		bulge int64
	}
	k := key{gridPoint(a), gridPoint(b), grid(bulge)}
	if k.b[0] < k.a[0] || k.b[0] == k.a[0] && k.b[1] < k.a[1] {
		k = key{k.b, k.a, -k.bulge}
	}
	return s.again(k)
}

func (s seen) circle(c geom.Circle) bool {
	return s.again([3]int64{grid(c.C.X), grid(c.C.Y), grid(c.R)})
}

func (s seen) text(t Text) bool {
	type key struct {
		at    [2]int64
		value string
	}
	return s.again(key{gridPoint(t.At), t.Value})
}
