package export

import (
	"cmp"
	"slices"

	"clampwright/assembly"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// seen is one outline of a view with how near it is to the viewer.
type seen struct {
	part     *parts.Part
	outline  geom.Path
	openings []geom.Path // holes and slots of a plate that faces the viewer
	depth    float64
}

// byDepth are the outlines of all instances, from far to near by the near side
// of their boxes. An angle seen on its drilled leg gives two: that leg lies
// behind the washers and nuts, the standing leg's edge before them.
func (j *Job) byDepth(look projection) []seen {
	var all []seen
	for i := range j.Assembly.Instances {
		in := &j.Assembly.Instances[i]
		if legs := j.legsFaceOn(in, look); legs != nil {
			all = append(all, legs...)
			continue
		}
		out := j.silhouette(in, look)
		if len(out) < 3 {
			continue
		}
		b := in.Part.Solid.Transform(in.Frame).Bounds()
		_, near := look(b.Min)
		_, far := look(b.Max)
		all = append(all, seen{in.Part, out, openings(in, look), max(near, far)})
	}
	slices.SortStableFunc(all, func(a, b seen) int { return cmp.Compare(a.depth, b.depth) })
	return all
}

// openings are the holes and slots of an end plate seen face on; nil otherwise.
func openings(in *assembly.Instance, look projection) []geom.Path {
	o, _ := look(in.Frame.O)
	z, _ := look(in.Frame.O.Add(in.Frame.Z))
	if in.Part.Kind != parts.KindPlate || z.Sub(o).Len() > 0.5 {
		return nil
	}
	var out []geom.Path
	for _, line := range outlines(in.Part.Flat.Profile)[1:] {
		var p geom.Path
		for _, v := range line {
			q, _ := look(in.Frame.Point(geom.Vec3{X: v.X, Y: v.Y}))
			p = append(p, geom.Vertex{P: q})
		}
		out = append(out, p)
	}
	return out
}

// legsFaceOn are the drilled leg and the standing leg of an angle whose standing
// leg points at the viewer; nil for anything else.
func (j *Job) legsFaceOn(in *assembly.Instance, look projection) []seen {
	if in.Part.Kind != parts.KindStiffener {
		return nil
	}
	o, atPlate := look(in.Frame.Point(geom.Vec3{}))
	if z, out := look(in.Frame.Point(geom.Vec3{Z: 1})); z.Sub(o).Len() > 0.5 || out <= atPlate {
		return nil
	}
	s := j.Fixture.Stiffener
	ends, side := in.Part.Solid.Bounds(), j.heelSide(in)
	heel, t := side*s.Gauge.MM(), s.Section.Thickness.MM()
	strip := func(y0, y1, z float64) seen {
		var p geom.Path
		depth := 0.0
		for _, c := range []geom.Vec3{{X: ends.Min.X, Y: y0, Z: z}, {X: ends.Max.X, Y: y0, Z: z}, {X: ends.Max.X, Y: y1, Z: z}, {X: ends.Min.X, Y: y1, Z: z}} {
			q, d := look(in.Frame.Point(c))
			p, depth = append(p, geom.Vertex{P: q}), d
		}
		return seen{part: in.Part, outline: p, depth: depth}
	}
	return []seen{strip(heel, heel-side*s.DrilledLeg.MM(), t), strip(heel, heel-side*t, s.StandingLeg.MM())}
}

// heelSide is the side of the holes that an angle's standing leg is on, in the
// part's y: 1 or -1.
func (j *Job) heelSide(in *assembly.Instance) float64 {
	if in.Part.Solid.Centroid().Y < 0 {
		return -1
	}
	return 1
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
	side := j.heelSide(in)
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
