package printed

import (
	"math"

	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed/relief"
)

// GuideHole is a hole of a drill guide: where it lies from the edges that the
// guide indexes on, and the bore.
type GuideHole struct {
	X, Y, BoreMM float64
}

// Guides: sizes of common practice, no source. The slab is thick enough to hold
// a small drill square, the fences reach past rounded edges.
const (
	SlabMM   = 12.0 // thickness of the slab that holds the bores
	AroundMM = 10.0 // slab beyond the outermost hole's bore
	fenceMM  = 4.0  // how far fences reach over an edge
	markMM   = 5.0  // letter height
)

// Bore is the diameter of a guide's hole for a drill, or for a bushing of the given outer
// diameter when that is not zero, mm: the sliding fit for a drill, a third of it for a
// bushing that is pressed in.
func (p Printer) Bore(drillMM, bushingMM float64) float64 {
	if bushingMM > 0 {
		return bushingMM + 2*p.FitMM/3
	}
	return drillMM + 2*p.FitMM
}

// CornerGuideSpec describes a guide that indexes on two edges of a plate at a
// corner. Part coordinates: the corner at the origin, the plate towards +x and
// +y with its face on z = 0, the drill along z. It may be turned over, which
// serves the corner of the other hand.
type CornerGuideSpec struct {
	parts.Label
	Printer
	Holes []GuideHole
}

// CornerGuide builds a plate-corner guide.
func CornerGuide(s CornerGuideSpec) (parts.Part, error) {
	x1, y1, err := guideSize(s.Label, s.Printer, s.Holes)
	if err != nil {
		return parts.Part{}, err
	}
	w := s.wall() + 1
	relieved := circle(0, 0, 2*notchMM) // a burr at the plate's corner finds room
	fence := relief.Region{}.Plus(rect(-w, -w, 0, y1), rect(-w, -w, x1, 0)).Less(relieved)
	slab := relief.Region{}.Plus(rect(-w, -w, x1, y1))
	return s.guide(s.Label, guideLayers(fence, slab, s.Holes, s.Mark, box(0, 0, x1, y1)), s.Holes)
}

func (p Printer) guide(l parts.Label, layers []relief.Layer, holes []GuideHole) (parts.Part, error) {
	g, err := p.layered(l, parts.KindGuide, layers, markDepth)
	g.Holes = guideHoles(holes)
	setNeed(&g, "bores and marks lie level when the fence is down: ream the bore with its drill")
	return g, err
}

// AngleGuideSpec describes a guide that sits in an angle. Part coordinates: x
// along the angle from its end, y from the standing leg's inner face, z along
// the drill from the drilled leg's inner face. A rabbet of RootMM clears the
// root fillet. It may be turned over for the other end.
type AngleGuideSpec struct {
	parts.Label
	Printer
	Holes  []GuideHole // X from the end, Y from the standing leg's inner face
	RootMM float64
	LegMM  float64 // room on the drilled leg from the standing leg's inner face
}

// AngleGuide builds an angle guide.
func AngleGuide(s AngleGuideSpec) (parts.Part, error) {
	x1, y1, err := guideSize(s.Label, s.Printer, s.Holes)
	if err == nil {
		err = s.checked(s.ID, span{"root radius", s.RootMM, 0, SlabMM/2 - s.FitMM})
	}
	if err != nil {
		return parts.Part{}, err
	}
	w := s.wall() + 1
	root := s.RootMM + s.FitMM
	fence := relief.Region{}.Plus(rect(-w, root, 0, y1))
	slab := relief.Region{}.Plus(rect(-w, 0, x1, y1))
	return s.guide(s.Label, s.rabbeted(guideLayers(fence, slab, s.Holes, s.Mark, box(0, root, x1, y1)), root), s.Holes)
}

// rabbeted takes the root fillet's room off the slab's lower and upper edge.
func (s AngleGuideSpec) rabbeted(ls []relief.Layer, root float64) []relief.Layer {
	const far = 5000.0
	cut := rect(-far, -far, far, root)
	var out []relief.Layer
	for _, l := range ls {
		for _, part := range cutAt(l, root, SlabMM-root) {
			if mid := (part.Z0 + part.Z1) / 2; mid < root || mid > SlabMM-root {
				part.Region = part.Region.Less(cut)
			}
			out = append(out, part)
		}
	}
	return out
}

// cutAt splits a layer at heights inside it.
func cutAt(l relief.Layer, zs ...float64) []relief.Layer {
	out := []relief.Layer{l}
	for _, z := range zs {
		last := out[len(out)-1]
		if z > last.Z0+1e-3 && z < last.Z1-1e-3 {
			out[len(out)-1].Z1 = z
			out = append(out, relief.Layer{Z0: z, Z1: last.Z1, Region: last.Region})
		}
	}
	return out
}

// guideSize is how far the slab reaches, with the bad dimension if there is one.
func guideSize(l parts.Label, p Printer, holes []GuideHole) (x1, y1 float64, err error) {
	if err := p.checked(l.ID, span{"count of holes", float64(len(holes)), 1, 100}); err != nil {
		return 0, 0, err
	}
	for _, h := range holes {
		r := h.BoreMM / 2
		err := p.checked(l.ID, span{"bore", h.BoreMM, 0.3, 60}, span{"hole from the edge", h.X, r + 0.5, 500}, span{"hole from the edge", h.Y, r + 0.5, 500})
		if err != nil {
			return 0, 0, err
		}
		x1, y1 = max(x1, h.X+r+AroundMM), max(y1, h.Y+r+AroundMM)
	}
	return x1, y1, nil
}

// guideLayers stacks fence, slab with its mark on both faces within a box, and
// fence.
func guideLayers(fence, slab relief.Region, holes []GuideHole, mark string, within geom.Box2) []relief.Layer {
	for _, h := range holes {
		slab = slab.Less(circle(h.X, h.Y, h.BoreMM))
	}
	at, height := markPlace(holes, mark, within)
	below, above := slab, slab
	if height > 0 {
		below, above = slab.Less(lettering(mark, at, height, true)...), slab.Less(lettering(mark, at, height, false)...)
	}
	return []relief.Layer{
		{Z0: -fenceMM, Z1: 0, Region: fence}, {Z0: 0, Z1: markDepth, Region: below},
		{Z0: markDepth, Z1: SlabMM - markDepth, Region: slab}, {Z0: SlabMM - markDepth, Z1: SlabMM, Region: above},
		{Z0: SlabMM, Z1: SlabMM + fenceMM, Region: fence},
	}
}

// markPlace finds room for the mark in a box: clear of every bore and of the
// notch at the corner, on a grid, furthest from them; smaller letters where there
// is little room.
func markPlace(holes []GuideHole, mark string, within geom.Box2) (geom.Vec2, float64) {
	holes = append([]GuideHole{{BoreMM: 2 * notchMM}}, holes...)
	size := within.Size()
	for _, h := range []float64{markMM, 4, 3} {
		w := textWidth(mark, h)
		if w == 0 {
			break
		}
		free := geom.Vec2{X: size.X - w - groove - 2*markEdge, Y: size.Y - h - groove - 2*markEdge}
		if free.X < 0 || free.Y < 0 {
			continue
		}
		low := within.Min.Add(geom.Vec2{X: (w+groove)/2 + markEdge, Y: (h+groove)/2 + markEdge})
		best, room := geom.Vec2{}, 0.0
		for i := range 21 {
			for j := range 21 {
				c := low.Add(geom.Vec2{X: free.X * float64(i) / 20, Y: free.Y * float64(j) / 20})
				if r := clearOf(holes, c, w+groove, h+groove); r > room+1e-9 {
					best, room = c, r
				}
			}
		}
		if room > 0.5 {
			return best, h
		}
	}
	return geom.Vec2{}, 0
}

// markEdge is what stays free between a mark and the edge of its face, and
// notchMM the radius of the notch for a burr at the plate's corner, mm.
const markEdge, notchMM = 1.0, 1.0

// clearOf is the least gap between a rectangle and the bores.
func clearOf(holes []GuideHole, c geom.Vec2, w, h float64) float64 {
	gap := math.MaxFloat64
	for _, g := range holes {
		dx, dy := max(0, math.Abs(g.X-c.X)-w/2), max(0, math.Abs(g.Y-c.Y)-h/2)
		gap = min(gap, math.Hypot(dx, dy)-g.BoreMM/2)
	}
	return gap
}

func guideHoles(hs []GuideHole) []parts.Hole {
	var out []parts.Hole
	for _, h := range hs {
		out = append(out, parts.Hole{ID: "H" + string(rune('1'+len(out)%9)), C: geom.Vec2{X: h.X, Y: h.Y}, DiaMM: h.BoreMM, For: "drill"})
	}
	return out
}
