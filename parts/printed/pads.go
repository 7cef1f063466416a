package printed

import (
	"math"

	"clampwright/parts/geom"
)

// Pads is where a sheet of the given pattern carries pressure: non-overlapping
// rectangles, x from the sheet's middle, y from bottom upwards, mm. A frame is
// four bars border wide, ribs are upright bars border wide about pitch apart,
// the outer ones flush with the edges, any other pattern is the full sheet. Both
// the printed part and the clamp mechanics are made from these.
func Pads(pattern string, width, height, bottom, border, pitch float64) []geom.Box2 {
	w, h, y, b := width, height, bottom, border
	switch pattern {
	case "frame":
		return []geom.Box2{
			box(-w/2, y, w/2, y+b), box(-w/2, y+h-b, w/2, y+h),
			box(-w/2, y+b, -w/2+b, y+h-b), box(w/2-b, y+b, w/2, y+h-b),
		}
	case "ribs":
		n := max(2, int(math.Floor((w-b)/pitch))+1)
		step := (w - b) / float64(n-1)
		var out []geom.Box2
		for i := range n {
			x := -w/2 + float64(i)*step
			out = append(out, box(x, y, x+b, y+h))
		}
		return out
	}
	return []geom.Box2{box(-w/2, y, w/2, y+h)}
}
