package drawing

import (
	"math"
	"sort"

	"clampwright/parts/geom"
)

// spot is a place on a shape that can be seen, and how far it is from any edge.
type spot struct {
	at    geom.Vec2
	clear float64
}

// keyShapes derives the balloons of both views from the items of their shapes.
func (a *AssemblySheet) keyShapes() {
	views := []*AssemblyView{&a.Front, &a.Side}
	best := map[string]spot{}
	where := map[string]int{}
	for i, v := range views {
		for item, s := range v.visible() {
			if old, ok := best[item]; !ok || s.clear > old.clear {
				best[item], where[item] = s, i
			}
		}
	}
	if len(best) == 0 {
		return
	}
	items := make([]string, 0, len(best))
	for item := range best {
		items = append(items, item)
	}
	sort.Strings(items)
	for i, v := range views {
		v.Balloons = nil
		for _, item := range items {
			if where[item] == i {
				v.Balloons = append(v.Balloons, BalloonAt{item, best[item].at})
			}
		}
	}
}

// shapesTried bounds how many shapes of one item are searched for a spot.
const shapesTried = 6

// visible finds for every item the spot farthest from all edges that no later
// solid shape covers. Items that cannot be seen are left out.
func (v *AssemblyView) visible() map[string]spot {
	polys := make([][]geom.Vec2, len(v.Shapes))
	boxes := make([]geom.Box2, len(v.Shapes))
	for i, s := range v.Shapes {
		polys[i], boxes[i] = s.Outline.Flatten(0.2), s.Outline.Bounds()
	}
	best, tried := map[string]spot{}, map[string]int{}
	for i := len(v.Shapes) - 1; i >= 0; i-- {
		item := v.Shapes[i].Item
		if item == "" || tried[item] >= shapesTried || len(polys[i]) < 3 {
			continue
		}
		tried[item]++
		for _, p := range grid(boxes[i]) {
			if c := v.clearance(p, i, polys, boxes); c > best[item].clear {
				best[item] = spot{p, c}
			}
		}
	}
	return best
}

// grid is a raster of points inside a box.
func grid(b geom.Box2) []geom.Vec2 {
	const n = 9
	out := make([]geom.Vec2, 0, n*n)
	for j := range n {
		for i := range n {
			out = append(out, pt(b.Min.X+width(b)*(float64(i)+0.5)/n, b.Min.Y+height(b)*(float64(j)+0.5)/n))
		}
	}
	return out
}

// clearance is the distance of p to the nearest edge of its own shape i and of
// the shapes drawn later; 0 when p is outside or covered.
func (v *AssemblyView) clearance(p geom.Vec2, i int, polys [][]geom.Vec2, boxes []geom.Box2) float64 {
	if !geom.InPolygon(polys[i], p) {
		return 0
	}
	d := geom.PolygonDist(polys[i], p)
	for k := i + 1; k < len(polys); k++ {
		if !boxes[k].Grown(d).Contains(p) {
			continue
		}
		if v.Shapes[k].Solid && geom.InPolygon(polys[k], p) {
			return 0
		}
		d = math.Min(d, geom.PolygonDist(polys[k], p))
	}
	return d
}
