package printed

import (
	"cmp"
	"math"
	"slices"

	"clampwright/parts/geom"
)

// steep is the least downward share of a normal that counts as hanging over by
// more than 45 degrees; a hair beyond, for faces made at 45 degrees.
const steep = 0.7071068 + 1e-4

// onBed is how far above the bed a face still lies on it, mm.
const onBed = 0.05

// sides are the six ways of lying on a side; the first is as modelled.
var sides = [6]geom.Frame{
	{X: geom.Vec3{X: 1}, Y: geom.Vec3{Y: 1}, Z: geom.Vec3{Z: 1}},
	{X: geom.Vec3{X: 1}, Y: geom.Vec3{Y: -1}, Z: geom.Vec3{Z: -1}},
	{X: geom.Vec3{X: 1}, Y: geom.Vec3{Z: 1}, Z: geom.Vec3{Y: -1}},
	{X: geom.Vec3{X: 1}, Y: geom.Vec3{Z: -1}, Z: geom.Vec3{Y: 1}},
	{X: geom.Vec3{Z: -1}, Y: geom.Vec3{Y: 1}, Z: geom.Vec3{X: 1}},
	{X: geom.Vec3{Z: 1}, Y: geom.Vec3{Y: 1}, Z: geom.Vec3{X: -1}},
}

// Lie chooses how a part lies on the bed: of the six sides, turned a quarter
// where only that fits, the one with the least steep overhang, and among equals
// the lowest. It returns the placement, the overhang left and the least with z upright. A
// part that fits in no way is placed as if the bed were large enough.
func Lie(m geom.Mesh, bed [3]float64) (lie geom.Frame, left, upright float64) {
	type way struct {
		f             geom.Frame
		steep, height float64
		fits          bool
	}
	box := m.Bounds()
	steeps := overhangs(m, box)
	var ways []way
	for i, f := range sides {
		s := turnedBox(f, box).Size()
		fits := s.X <= bed[0] && s.Y <= bed[1] && s.Z <= bed[2]
		if !fits && s.Y <= bed[0] && s.X <= bed[1] && s.Z <= bed[2] {
			f = geom.World().Turned(math.Pi / 2).Mul(f)
			fits = true
		}
		b := turnedBox(f, box)
		f = f.Moved(geom.Vec3{X: -b.Center().X, Y: -b.Center().Y, Z: -b.Min.Z})
		ways = append(ways, way{f, steeps[i], s.Z, fits})
	}
	best := slices.MinFunc(ways, func(v, w way) int {
		if v.fits != w.fits {
			if v.fits {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(math.Round(v.steep), math.Round(w.steep)), cmp.Compare(math.Round(v.height), math.Round(w.height)))
	})
	return best.f, best.steep, min(steeps[0], steeps[1])
}

// turnedBox is the box of a box turned by quarters.
func turnedBox(f geom.Frame, b geom.Box3) geom.Box3 {
	return geom.EmptyBox3().Add(f.Point(b.Min)).Add(f.Point(b.Max))
}

// overhangs are the steep areas for each of the six sides, in one pass: a side
// and the one opposite look along the same axis.
func overhangs(m geom.Mesh, box geom.Box3) (area [6]float64) {
	axis := func(v geom.Vec3) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
	lo, hi := axis(box.Min), axis(box.Max)
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		x := b.Sub(a).Cross(c.Sub(a))
		l, n := x.Len(), axis(x)
		pa, pb, pc := axis(a), axis(b), axis(c)
		for i, s := range sideAxes {
			k, up := s.axis, s.up
			if !(n[k]*up < -steep*l) {
				continue
			}
			top := max(pa[k], pb[k], pc[k]) - lo[k]
			if up < 0 {
				top = hi[k] - min(pa[k], pb[k], pc[k])
			}
			if top > onBed {
				area[i] += l / 2
			}
		}
	}
	return area
}

// sideAxes tells for each side which axis of the part points up, and which way.
var sideAxes = func() (out [6]struct {
	axis int
	up   float64
}) {
	for i, f := range sides {
		for k, z := range [3]float64{f.X.Z, f.Y.Z, f.Z.Z} {
			if z != 0 {
				out[i].axis, out[i].up = k, z
			}
		}
	}
	return out
}()

// facing is the least share by which the far side of a wall must face the other
// way: flanks that run together at an edge are no wall.
const facing = 0.7

// wallSamples bounds the rays that measure walls.
const wallSamples = 1500

// Wall is the thinnest wall of a mesh, mm: from the middles of its largest
// triangles straight in, to the first face that faces the other way. Upright
// faces no higher than markMM, the flanks of engraved marks, are left out.
func Wall(m geom.Mesh, markMM float64) float64 {
	type face struct {
		mid, n geom.Vec3
		area   float64
	}
	var faces []face
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		height := max(a.Z, b.Z, c.Z) - min(a.Z, b.Z, c.Z)
		if l := n.Len(); l > 0 && !(math.Abs(n.Z) < 0.5*l && height <= markMM+1e-9) {
			faces = append(faces, face{a.Add(b).Add(c).Mul(1. / 3), n.Mul(1 / l), l})
		}
	}
	slices.SortStableFunc(faces, func(f, g face) int { return cmp.Compare(g.area, f.area) })
	r := newRays(m)
	least := math.Inf(1)
	for _, f := range faces[:min(len(faces), wallSamples)] {
		least = min(least, r.through(f.mid, f.n.Mul(-1), least))
	}
	return least
}

// rays are triangles sorted into a grid of boxes.
type rays struct {
	m     geom.Mesh
	box   geom.Box3
	step  geom.Vec3 // size of a box
	n     [3]int
	start []int32 // first of each box's triangles, and where the last box ends
	tris  []int32
	asked []int32 // the ray that last asked a triangle
	ray   int32
}

// gridMost bounds the boxes along each axis.
const gridMost = 48

func newRays(m geom.Mesh) *rays {
	r := &rays{m: m, box: m.Bounds().Grown(1e-6), asked: make([]int32, len(m.Triangles))}
	size := r.box.Size()
	edge := math.Cbrt(size.X * size.Y * size.Z / float64(len(m.Triangles)+1))
	for k, s := range [3]float64{size.X, size.Y, size.Z} {
		r.n[k] = max(1, min(gridMost, int(s/edge)))
	}
	r.step = geom.Vec3{X: size.X / float64(r.n[0]), Y: size.Y / float64(r.n[1]), Z: size.Z / float64(r.n[2])}
	r.start = make([]int32, r.n[0]*r.n[1]*r.n[2]+1)
	r.each(func(_, at int) { r.start[at+1]++ })
	for i := 1; i < len(r.start); i++ {
		r.start[i] += r.start[i-1]
	}
	r.tris = make([]int32, r.start[len(r.start)-1])
	next := slices.Clone(r.start)
	r.each(func(t, at int) {
		r.tris[next[at]] = int32(t)
		next[at]++
	})
	return r
}

// each calls fn with every triangle and every box that its own box meets.
func (r *rays) each(fn func(t, at int)) {
	for i, t := range r.m.Triangles {
		b := geom.EmptyBox3()
		for _, v := range t {
			b = b.Add(r.m.Vertices[v])
		}
		r.within(b, func(at int) { fn(i, at) })
	}
}

// within calls fn with every box of the grid that b meets.
func (r *rays) within(b geom.Box3, fn func(at int)) {
	cell := func(x, lo, step float64, n int) int { return max(0, min(n-1, int((x-lo)/step))) }
	x0, x1 := cell(b.Min.X, r.box.Min.X, r.step.X, r.n[0]), cell(b.Max.X, r.box.Min.X, r.step.X, r.n[0])
	y0, y1 := cell(b.Min.Y, r.box.Min.Y, r.step.Y, r.n[1]), cell(b.Max.Y, r.box.Min.Y, r.step.Y, r.n[1])
	z0, z1 := cell(b.Min.Z, r.box.Min.Z, r.step.Z, r.n[2]), cell(b.Max.Z, r.box.Min.Z, r.step.Z, r.n[2])
	for z := z0; z <= z1; z++ {
		for y := y0; y <= y1; y++ {
			for x := x0; x <= x1; x++ {
				fn((z*r.n[1]+y)*r.n[0] + x)
			}
		}
	}
}

// through is the distance from p along d to the first face that is left by the
// ray, if that is less than limit and the face is turned to p's own. It looks
// ahead in steps that double, for walls are near.
func (r *rays) through(p, d geom.Vec3, limit float64) float64 {
	far := min(limit, r.box.Size().Len())
	first, turned := limit, false
	r.ray++
	for from, to := 0.0, min(far, r.step.Len()); from < far; from, to = to, min(far, 2*to) {
		seg := geom.EmptyBox3().Add(p.Add(d.Mul(from))).Add(p.Add(d.Mul(to)))
		r.within(seg, func(at int) {
			for _, i := range r.tris[r.start[at]:r.start[at+1]] {
				if r.asked[i] == r.ray {
					continue
				}
				r.asked[i] = r.ray
				t := r.m.Triangles[i]
				s, cos := hit(p, d, r.m.Vertices[t[0]], r.m.Vertices[t[1]], r.m.Vertices[t[2]])
				if cos > 1e-6 && s > 1e-6 && s < first {
					first, turned = s, cos > facing
				}
			}
		})
		if first <= to {
			break
		}
	}
	if !turned {
		return math.Inf(1)
	}
	return first
}

// hit is where a ray meets a triangle (Möller, Trumbore) and the cosine between
// the ray and the triangle's normal; cosine zero when it does not.
func hit(p, d, a, b, c geom.Vec3) (s, cos float64) {
	e, f := b.Sub(a), c.Sub(a)
	h := d.Cross(f)
	det := e.Dot(h)
	if math.Abs(det) < 1e-12 {
		return 0, 0
	}
	o := p.Sub(a)
	u := o.Dot(h) / det
	q := o.Cross(e)
	v := d.Dot(q) / det
	if u < 0 || v < 0 || u+v > 1 {
		return 0, 0
	}
	return f.Dot(q) / det, e.Cross(f).Unit().Dot(d)
}
