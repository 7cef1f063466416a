package nest

import (
	"math"

	"clampwright/parts/geom"
)

// Least is the least rectangle that holds a sheet's parts as they lie, with a margin
// round them, whole mm.
func (l *SheetLayout) Least(margin float64) (w, h float64) {
	box := geom.EmptyBox2()
	for _, p := range l.Placed {
		box = box.Add(p.At).Add(p.At.Add(geom.Vec2{X: p.WidthMM, Y: p.HeightMM}))
	}
	return math.Ceil(box.Size().X + 2*margin), math.Ceil(box.Size().Y + 2*margin)
}
