package parts

import (
	"clampwright/parts/geom"
)

// letterWidth is the advance of a letter of single-stroke lettering for its
// height, generously; marks are placed so that this much is free.
const letterWidth = 0.9

// markMargin is what stays free round a mark, in letter heights.
const markMargin = 0.5

// plateMarks places an UP arrow with the word and, below it, the part mark, at
// the free place nearest the middle of the profile; none when there is no room
// for them.
func plateMarks(p geom.Profile, mark string, h float64) []Mark {
	text := max(2, float64(len([]rune(mark)))) * letterWidth * h
	w, tall := text, 4.5*h
	c, ok := freePlace(p, w+2*markMargin*h, tall+2*markMargin*h)
	if !ok {
		return nil
	}
	at := func(x, y float64) geom.Vec2 { return c.Add(geom.Vec2{X: x * h, Y: y * h}) }
	left := func(s string, y float64) geom.Vec2 { // text starts at its left end, on its base line
		return at(-float64(len([]rune(s)))*letterWidth/2, y)
	}
	ms := []Mark{
		{At: at(0, 0.75), To: at(0, 2.25)}, // shaft, then the two barbs
		{At: at(-0.4, 1.75), To: at(0, 2.25)},
		{At: at(0.4, 1.75), To: at(0, 2.25)},
		{Text: "UP", At: left("UP", -0.6), HeightMM: h},
	}
	if mark != "" {
		ms = append(ms, Mark{Text: mark, At: left(mark, -2.25), HeightMM: h})
	}
	return ms
}

// freePlace returns the centre of a w x h rectangle that lies in the profile,
// clear of every boundary, nearest to the middle of its bounds. Places on a grid
// of a quarter of the rectangle are tried.
func freePlace(p geom.Profile, w, h float64) (geom.Vec2, bool) {
	b := p.Bounds()
	mid, best, found := b.Center(), geom.Vec2{}, false
	dx, dy := max(w/4, b.Size().X/200), max(h/4, b.Size().Y/200)
	nx, ny := int(b.Size().X/2/dx), int(b.Size().Y/2/dy)
	for j := -ny; j <= ny; j++ {
		for i := -nx; i <= nx; i++ {
			c := mid.Add(geom.Vec2{X: float64(i) * dx, Y: float64(j) * dy})
			if found && c.Dist(mid) >= best.Dist(mid) {
				continue
			}
			if p.HoldsRect(c, w, h) {
				best, found = c, true
			}
		}
	}
	return best, found
}
