package page

import (
	"math"
	"sort"

	"clampwright/parts/geom"
)

// stage is a scene made ready: shapes with edges, instances with the layer
// they are moved by when the stack is drawn apart.
type stage struct {
	shapes []*shape
	actors []actor
	groups []string // in order of first use
	box    geom.Box3
}

// actor is one instance on the stage.
type actor struct {
	name  string
	shape int
	group int
	class Class
	frame geom.Frame
	layer int // 0 in the middle, growing outward along z, negative below 0
}

// newStage prepares the scene. Bodies without places or triangles are left out.
func newStage(sc Scene) *stage {
	st := &stage{}
	group := map[string]int{}
	var spans []span
	for _, b := range sc.Bodies {
		s := newShape(b.Mesh)
		if len(s.triangles) == 0 || len(b.Places) == 0 {
			continue
		}
		st.shapes = append(st.shapes, s)
		g := st.groupOf(group, b)
		for _, p := range b.Places {
			st.actors = append(st.actors, actor{firstOf(p.Name, b.Name), len(st.shapes) - 1, g, classOf(b.Class), p.Frame, 0})
			box := p.Frame.Box(s.bounds())
			st.grow(box, len(spans) == 0)
			spans = append(spans, span{box.Min.Z, box.Max.Z})
		}
	}
	for i, l := range layers(spans) {
		st.actors[i].layer = l
	}
	return st
}

func (st *stage) groupOf(seen map[string]int, b Body) int {
	name := firstOf(b.Group, b.Name)
	g, ok := seen[name]
	if !ok {
		g = len(st.groups)
		seen[name] = g
		st.groups = append(st.groups, name)
	}
	return g
}

func (st *stage) grow(b geom.Box3, first bool) {
	if first {
		st.box = b
		return
	}
	st.box = st.box.Union(b)
}

// span is how far an instance reaches along z, mm.
type span struct{ lo, hi float64 }

// layerStep is the least difference, mm, between the inner faces of two
// layers: less than any washer is thick.
const layerStep = 0.25

// layers numbers the instances outward from the middle by their inner face.
// What spans the middle by more than a tenth of its length on both sides (a
// rod) stays put.
func layers(spans []span) []int {
	inner := func(s span) float64 {
		if min(s.hi, -s.lo) > 0.1*(s.hi-s.lo) {
			return 0
		}
		if s.lo+s.hi < 0 {
			return min(s.hi, 0)
		}
		return max(s.lo, 0)
	}
	out := make([]int, len(spans))
	for _, side := range []float64{1, -1} {
		var on []int
		for i, s := range spans {
			if inner(s) != 0 && inner(s)*side > 0 || inner(s) == 0 && (s.lo+s.hi)*side > 0.2*(s.hi-s.lo) {
				on = append(on, i)
			}
		}
		sort.SliceStable(on, func(i, j int) bool { return math.Abs(inner(spans[on[i]])) < math.Abs(inner(spans[on[j]])) })
		layer, last := 0, math.Inf(-1)
		for _, i := range on {
			if d := math.Abs(inner(spans[i])); d > last+layerStep {
				layer++
				last = d
			}
			out[i] = layer * int(side)
		}
	}
	return out
}

func firstOf(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
