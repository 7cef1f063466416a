package dxf

import (
	"math"

	"clampwright/parts/geom"
)

// seen remembers what has been drawn on one layer, or on the cut layers
// together, on a grid of sameMM. Edges count in either direction, so a common
// edge of two outlines, which would be cut twice, is found as well.
type seen struct {
	edges   map[edgeKey]bool
	circles map[[3]int64]bool
	texts   map[textKey]bool
}

type edgeKey struct {
	a, b  [2]int64
	bulge int64
}

type textKey struct {
	at    [2]int64
	value string
}

func newSeen() *seen {
	return &seen{map[edgeKey]bool{}, map[[3]int64]bool{}, map[textKey]bool{}}
}

func grid(x float64) int64 { return int64(math.Round(x / sameMM)) }

func gridPoint(p geom.Vec2) [2]int64 { return [2]int64{grid(p.X), grid(p.Y)} }

// edge reports whether the edge was there already, and adds it.
func (s *seen) edge(a, b geom.Vec2, bulge float64) bool {
	k := edgeKey{gridPoint(a), gridPoint(b), grid(bulge)}
	if k.b[0] < k.a[0] || k.b[0] == k.a[0] && k.b[1] < k.a[1] {
		k = edgeKey{k.b, k.a, -k.bulge}
	}
	was := s.edges[k]
	s.edges[k] = true
	return was
}

// circle reports whether the circle was there already, and adds it.
func (s *seen) circle(c geom.Circle) bool {
	k := [3]int64{grid(c.C.X), grid(c.C.Y), grid(c.R)}
	was := s.circles[k]
	s.circles[k] = true
	return was
}

// text reports whether the text was there already, and adds it.
func (s *seen) text(t Text) bool {
	k := textKey{gridPoint(t.At), t.Value}
	was := s.texts[k]
	s.texts[k] = true
	return was
}
