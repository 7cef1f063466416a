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

// Overhang is the area of a mesh that hangs over by more than 45 degrees when
// placed on the bed by lie, mm².
func Overhang(m geom.Mesh, lie geom.Frame) float64 {
	area := 0.0
	for _, t := range m.Triangles {
		a, b, c := lie.Point(m.Vertices[t[0]]), lie.Point(m.Vertices[t[1]]), lie.Point(m.Vertices[t[2]])
		n := b.Sub(a).Cross(c.Sub(a))
		if l := n.Len(); n.Z < -steep*l && max(a.Z, b.Z, c.Z) > onBed {
			area += l / 2
		}
	}
	return area
}

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
// the lowest. It returns the placement and the overhang left. A part that fits
// in no way is placed as if the bed were large enough.
func Lie(m geom.Mesh, bed [3]float64) (geom.Frame, float64) {
	type way struct {
		f             geom.Frame
		steep, height float64
		fits          bool
	}
	var ways []way
	for _, f := range sides {
		s := m.Transform(f).Bounds().Size()
		fits := s.X <= bed[0] && s.Y <= bed[1] && s.Z <= bed[2]
		if !fits && s.Y <= bed[0] && s.X <= bed[1] && s.Z <= bed[2] {
			f = geom.World().Turned(math.Pi / 2).Mul(f)
			fits = true
		}
		b := m.Transform(f).Bounds()
		f = f.Moved(geom.Vec3{X: -b.Center().X, Y: -b.Center().Y, Z: -b.Min.Z})
		ways = append(ways, way{f, math.Round(Overhang(m, f)), s.Z, fits})
	}
	best := slices.MinFunc(ways, func(v, w way) int {
		if v.fits != w.fits {
			if v.fits {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(v.steep, w.steep), cmp.Compare(math.Round(v.height), math.Round(w.height)))
	})
	return best.f, Overhang(m, best.f)
}

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

// rays are triangles in a coarse grid of boxes.
type rays struct {
	m     geom.Mesh
	boxes []geom.Box3
}

func newRays(m geom.Mesh) *rays {
	r := &rays{m: m, boxes: make([]geom.Box3, len(m.Triangles))}
	for i, t := range m.Triangles {
		b := geom.EmptyBox3()
		for _, v := range t {
			b = b.Add(m.Vertices[v])
		}
		r.boxes[i] = b
	}
	return r
}

// through is the distance from p along d to the first face that is left by the
// ray, if that is less than limit and the face is turned to p's own.
func (r *rays) through(p, d geom.Vec3, limit float64) float64 {
	reach := min(limit, 1e4)
	seg := geom.EmptyBox3().Add(p).Add(p.Add(d.Mul(reach)))
	first, turned := limit, false
	for i, t := range r.m.Triangles {
		if !meets(seg, r.boxes[i]) {
			continue
		}
		a, b, c := r.m.Vertices[t[0]], r.m.Vertices[t[1]], r.m.Vertices[t[2]]
		s, cos := hit(p, d, a, b, c)
		if cos > 1e-6 && s > 1e-6 && s < first {
			first, turned = s, cos > facing
			seg = geom.EmptyBox3().Add(p).Add(p.Add(d.Mul(min(first, 1e4))))
		}
	}
	if !turned {
		return math.Inf(1)
	}
	return first
}

func meets(a, b geom.Box3) bool {
	return a.Min.X <= b.Max.X && b.Min.X <= a.Max.X && a.Min.Y <= b.Max.Y && b.Min.Y <= a.Max.Y &&
		a.Min.Z <= b.Max.Z && b.Min.Z <= a.Max.Z
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
