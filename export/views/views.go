// Package views shows the parts of a fixture from its sides: outlines from far to
// near, silhouettes, and the coarse meshes they are taken from.
package views

import (
	"cmp"
	"fmt"
	"slices"
	"sync"

	"clampwright/assembly"
	"clampwright/export/page"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// ChordMM is how far the chords of a coarse mesh may lie inside a round surface, mm:
// for pictures and for the model of the whole, which nobody cuts or prints. A thread of
// M4 still shows no edge between its facets.
const ChordMM = 0.04

// outlineChordMM is the same for outlines of flats in pictures.
const outlineChordMM = 0.05

// Look maps space to a view's plane; depth grows towards the viewer.
type Look func(geom.Vec3) (p geom.Vec2, depth float64)

// The views: along the stack, from the right, from above.
func Front(v geom.Vec3) (geom.Vec2, float64) { return geom.Vec2{X: v.X, Y: v.Y}, v.Z }
func Side(v geom.Vec3) (geom.Vec2, float64)  { return geom.Vec2{X: -v.Z, Y: v.Y}, v.X }
func Top(v geom.Vec3) (geom.Vec2, float64)   { return geom.Vec2{X: v.X, Y: -v.Z}, v.Y }

// Views looks at one assembly. Safe for concurrent use.
type Views struct {
	a      *assembly.Assembly
	meshes func() (map[*parts.Part]geom.Mesh, error)
}

// New looks at an assembly that is placed.
func New(a *assembly.Assembly) *Views {
	return &Views{a, sync.OnceValues(func() (map[*parts.Part]geom.Mesh, error) {
		out := map[*parts.Part]geom.Mesh{}
		for _, p := range a.Parts {
			m, err := p.Solid.Coarse(ChordMM)
			if err != nil {
				return out, fmt.Errorf("mesh of %s: %w", p.ID, err)
			}
			out[p] = m
		}
		return out, nil
	})}
}

// Meshes are the coarse meshes of the distinct parts.
func (v *Views) Meshes() (map[*parts.Part]geom.Mesh, error) { return v.meshes() }

// Outlines are a flat's edge and openings as chains of points.
func Outlines(p geom.Profile) [][]geom.Vec2 {
	out := [][]geom.Vec2{p.Outer.Flatten(outlineChordMM)}
	for _, s := range p.Slots {
		out = append(out, s.Flatten(outlineChordMM))
	}
	for _, c := range p.Circles {
		out = append(out, c.Path().Flatten(outlineChordMM))
	}
	return out
}

// classOf gives every group its look.
var classOf = map[assembly.Role]page.Class{
	assembly.RoleCell: page.Cell, assembly.RoleTerminal: page.Terminal, assembly.RoleVent: page.Terminal,
	assembly.RoleFiller: page.Separator, assembly.RoleSeparator: page.Separator, assembly.RoleLiner: page.Liner, assembly.RolePlate: page.Plate,
	assembly.RoleStiffener: page.Angle, assembly.RoleRod: page.Rod, assembly.RoleSleeve: page.Printed,
	assembly.RoleWasher: page.Hardware, assembly.RoleSpring: page.Spring, assembly.RoleNut: page.Hardware, assembly.RoleJamNut: page.Hardware,
	assembly.RoleLink: page.Link,
}

// Class is the look of what belongs to a group: printed, where it is nothing else.
func Class(g assembly.Role) page.Class {
	if c, known := classOf[g]; known {
		return c
	}
	return page.Printed
}

// Seen is one outline of a view with how near it is to the viewer.
type Seen struct {
	Part     *parts.Part
	Outline  geom.Path
	Openings []geom.Path // holes and slots of a plate that faces the viewer
	depth    float64
}

// ByDepth are the outlines of all instances, from far to near by the near side
// of their boxes. An angle seen on its drilled leg gives two: that leg lies
// behind the washers and nuts, the standing leg's edge before them.
func (v *Views) ByDepth(look Look) []Seen {
	var all []Seen
	for i := range v.a.Instances {
		in := &v.a.Instances[i]
		if legs := v.legsFaceOn(in, look); legs != nil {
			all = append(all, legs...)
			continue
		}
		out := v.Silhouette(in, look)
		if len(out) < 3 {
			continue
		}
		b := in.Part.Solid.Transform(in.Frame).Bounds()
		_, near := look(b.Min)
		_, far := look(b.Max)
		all = append(all, Seen{in.Part, out, openings(in, look), max(near, far)})
	}
	slices.SortStableFunc(all, func(a, b Seen) int { return cmp.Compare(a.depth, b.depth) })
	return all
}

// openings are the holes and slots of an end plate seen face on; nil otherwise.
func openings(in *assembly.Instance, look Look) []geom.Path {
	o, _ := look(in.Frame.O)
	z, _ := look(in.Frame.O.Add(in.Frame.Z))
	if in.Part.Kind != parts.KindPlate || z.Sub(o).Len() > 0.5 {
		return nil
	}
	var out []geom.Path
	for _, line := range Outlines(in.Part.Flat.Profile)[1:] {
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
func (v *Views) legsFaceOn(in *assembly.Instance, look Look) []Seen {
	if in.Part.Kind != parts.KindStiffener {
		return nil
	}
	o, atPlate := look(in.Frame.Point(geom.Vec3{}))
	if z, out := look(in.Frame.Point(geom.Vec3{Z: 1})); z.Sub(o).Len() > 0.5 || out <= atPlate {
		return nil
	}
	s := v.a.Fixture.Stiffener
	ends, side := in.Part.Solid.Bounds(), heelSide(in)
	heel, t := side*s.Gauge.MM(), s.Section.Thickness.MM()
	strip := func(y0, y1, z float64) Seen {
		var p geom.Path
		depth := 0.0
		for _, c := range []geom.Vec3{{X: ends.Min.X, Y: y0, Z: z}, {X: ends.Max.X, Y: y0, Z: z}, {X: ends.Max.X, Y: y1, Z: z}, {X: ends.Min.X, Y: y1, Z: z}} {
			q, d := look(in.Frame.Point(c))
			p, depth = append(p, geom.Vertex{P: q}), d
		}
		return Seen{Part: in.Part, Outline: p, depth: depth}
	}
	return []Seen{strip(heel, heel-side*s.DrilledLeg.MM(), t), strip(heel, heel-side*t, s.StandingLeg.MM())}
}

// heelSide is the side of the holes that an angle's standing leg is on, in the
// part's y: 1 or -1.
func heelSide(in *assembly.Instance) float64 {
	if in.Part.Solid.Centroid().Y < 0 {
		return -1
	}
	return 1
}

// Silhouette is the outline of an instance seen along the view: its own flat
// outline when that faces the viewer, else the hull of its points.
func (v *Views) Silhouette(in *assembly.Instance, look Look) geom.Path {
	coarse, err := v.Meshes()
	if err != nil {
		return nil
	}
	m, known := coarse[in.Part]
	if !known { // a tool's envelope
		if m, err = in.Part.Solid.Coarse(ChordMM); err != nil {
			return nil
		}
	}
	pts := make([]geom.Vec2, len(m.Vertices))
	for i, p := range m.Vertices {
		pts[i], _ = look(in.Frame.Point(p))
	}
	if in.Part.Kind == parts.KindStiffener {
		return v.endOn(in, look, pts)
	}
	return pathOf(hull(pts))
}

// endOn keeps the L of an angle seen along its length (corners drawn sharp);
// other views are its hull.
func (v *Views) endOn(in *assembly.Instance, look Look, pts []geom.Vec2) geom.Path {
	along, _ := look(in.Frame.X)
	if along.X*along.X+along.Y*along.Y > 0.5 {
		return pathOf(hull(pts))
	}
	s := v.a.Fixture.Stiffener
	side := heelSide(in)
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

// Middle is the mean of the outline's corners.
func (s Seen) Middle() geom.Vec2 {
	var m geom.Vec2
	for _, v := range s.Outline {
		m.X += v.P.X / float64(len(s.Outline))
		m.Y += v.P.Y / float64(len(s.Outline))
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
