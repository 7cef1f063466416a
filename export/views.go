package export

import (
	"cmp"
	"slices"

	"clampwright/assembly"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// byDepth orders instances from far to near by the near side of their boxes.
func byDepth(in []assembly.Instance, look projection) []*assembly.Instance {
	type ranked struct {
		in    *assembly.Instance
		depth float64
	}
	var all []ranked
	for i := range in {
		b := in[i].Part.Solid.Transform(in[i].Frame).Bounds()
		_, near := look(b.Min)
		_, far := look(b.Max)
		all = append(all, ranked{&in[i], max(near, far)})
	}
	slices.SortStableFunc(all, func(a, b ranked) int { return cmp.Compare(a.depth, b.depth) })
	out := make([]*assembly.Instance, len(all))
	for i, r := range all {
		out[i] = r.in
	}
	return out
}

// silhouette is the outline of an instance seen along the view: its own flat
// outline when that faces the viewer, else the hull of its points.
func (j *Job) silhouette(in *assembly.Instance, look projection) geom.Path {
	shared, err := j.meshes()
	if err != nil {
		return nil
	}
	m, known := shared[in.Part]
	if !known { // a tool's envelope
		if m, err = in.Part.Solid.Mesh(assemblyChordMM); err != nil {
			return nil
		}
	}
	pts := make([]geom.Vec2, len(m.Vertices))
	for i, v := range m.Vertices {
		pts[i], _ = look(in.Frame.Point(v))
	}
	if in.Part.Kind == parts.KindStiffener {
		return j.endOn(in, look, pts)
	}
	return pathOf(hull(pts))
}

// endOn keeps the L of an angle seen along its length (corners drawn sharp);
// other views are its hull.
func (j *Job) endOn(in *assembly.Instance, look projection, pts []geom.Vec2) geom.Path {
	along, _ := look(in.Frame.X)
	if along.X*along.X+along.Y*along.Y > 0.5 {
		return pathOf(hull(pts))
	}
	s := j.Fixture.Stiffener
	side := 1.0 // the side of the hole that the standing leg is on, in the part's y
	if in.Part.Solid.Centroid().Y < 0 {
		side = -1
	}
	heel, t := side*s.Gauge.MM(), s.Section.Thickness.MM()
	inner, toe := heel-side*t, heel-side*s.DrilledLeg.MM()
	var out geom.Path
	for _, c := range []geom.Vec3{{Y: heel}, {Y: heel, Z: s.StandingLeg.MM()}, {Y: inner, Z: s.StandingLeg.MM()}, {Y: inner, Z: t}, {Y: toe, Z: t}, {Y: toe}} {
		q, _ := look(in.Frame.Point(c))
		out = append(out, geom.Vertex{P: q})
	}
	return out
}

func pathOf(pts []geom.Vec2) geom.Path {
	p := make(geom.Path, len(pts))
	for i, v := range pts {
		p[i] = geom.Vertex{P: v}
	}
	return p
}

// middle is the mean of a path's corners.
func middle(p geom.Path) geom.Vec2 {
	var m geom.Vec2
	for _, v := range p {
		m.X += v.P.X / float64(len(p))
		m.Y += v.P.Y / float64(len(p))
	}
	return m
}

// hull is the convex hull, counter-clockwise (Andrew's monotone chain).
func hull(pts []geom.Vec2) []geom.Vec2 {
	pts = slices.Clone(pts)
	slices.SortFunc(pts, func(a, b geom.Vec2) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	pts = slices.Compact(pts)
	if len(pts) < 3 {
		return pts
	}
	half := func(next func(int) geom.Vec2) []geom.Vec2 {
		var h []geom.Vec2
		for i := range pts {
			p := next(i)
			for len(h) >= 2 && turn(h[len(h)-2], h[len(h)-1], p) <= hullSlack {
				h = h[:len(h)-1]
			}
			h = append(h, p)
		}
		return h[:len(h)-1]
	}
	lower := half(func(i int) geom.Vec2 { return pts[i] })
	upper := half(func(i int) geom.Vec2 { return pts[len(pts)-1-i] })
	return append(lower, upper...)
}

// hullSlack drops corners that bend by less than this area, mm2: rounding of
// points on one straight edge.
const hullSlack = 1e-9

func turn(a, b, c geom.Vec2) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
