package relief

import (
	"math"

	"clampwright/parts/geom"
)

// levels are the heights at which walls are cut: the layers' own, and further
// ones where a wall's triangles would become slivers.
type levels struct {
	z        []float64 // ascending
	layer    []int     // which layer lies between z[i] and z[i+1]
	thinnest float64
}

// newLevels divides layers so that none is much higher than the narrowest wall
// face is wide, shortest mm.
func newLevels(layers []Layer, shortest float64) *levels {
	most := max(5, sliver*shortest)
	lv := &levels{z: []float64{layers[0].Z0}, thinnest: math.Inf(1)}
	for i, l := range layers {
		n := max(1, int(math.Ceil((l.Z1-l.Z0)/most)))
		for k := 1; k <= n; k++ {
			z := l.Z0 + (l.Z1-l.Z0)*float64(k)/float64(n)
			if k == n {
				z = l.Z1
			}
			lv.thinnest = min(lv.thinnest, z-lv.z[len(lv.z)-1])
			lv.z, lv.layer = append(lv.z, z), append(lv.layer, i)
		}
	}
	return lv
}

// raiser collects the mesh.
type raiser struct {
	*levels
	t  *geom.Triangulation
	m  geom.Mesh
	at map[[2]int32]int32
}

// raise makes the mesh: floors and ceilings where a patch starts and ends, walls
// between patches that differ.
func (lv *levels) raise(t *geom.Triangulation) geom.Mesh {
	r := &raiser{levels: lv, t: t, at: map[[2]int32]int32{}}
	for i := range t.Tri {
		if t.Mask[i] == 0 {
			continue
		}
		r.flats(int32(i))
		for k := range 3 {
			r.walls(int32(i), k)
		}
	}
	return r.m
}

// in says whether a mask holds slice s; slices outside the stack are empty.
func (r *raiser) in(mask uint64, s int) bool {
	return s >= 0 && s < len(r.layer) && mask>>r.layer[s]&1 == 1
}

func (r *raiser) vertex(p int32, level int) int32 {
	k := [2]int32{p, int32(level)}
	if v, ok := r.at[k]; ok {
		return v
	}
	v := int32(len(r.m.Vertices))
	q := r.t.Pts[p]
	r.m.Vertices = append(r.m.Vertices, geom.Vec3{X: q.X * Unit, Y: q.Y * Unit, Z: r.z[level]})
	r.at[k] = v
	return v
}

func (r *raiser) flats(i int32) {
	v := r.t.Tri[i]
	for level := range r.z {
		below, above := r.in(r.t.Mask[i], level-1), r.in(r.t.Mask[i], level)
		if below == above {
			continue
		}
		a, b, c := r.vertex(v[0], level), r.vertex(v[1], level), r.vertex(v[2], level)
		if above {
			b, c = c, b
		}
		r.m.Triangles = append(r.m.Triangles, geom.Triangle{a, b, c})
	}
}

func (r *raiser) walls(i int32, k int) {
	var beyond uint64
	if u := r.t.Next[i][k]; u >= 0 {
		beyond = r.t.Mask[u]
	}
	a, b := r.t.Tri[i][k], r.t.Tri[i][(k+1)%3]
	for s := range r.layer {
		if !r.in(r.t.Mask[i], s) || r.in(beyond, s) {
			continue
		}
		a0, b0, b1, a1 := r.vertex(a, s), r.vertex(b, s), r.vertex(b, s+1), r.vertex(a, s+1)
		r.m.Triangles = append(r.m.Triangles, geom.Triangle{a0, b0, b1}, geom.Triangle{a0, b1, a1})
	}
}
