package geom

import "math"

// Prism returns the profile moved along z from z0 to z1. The profile is
// validated.
func Prism(p Profile, z0, z1 float64) (Solid, error) {
	err := firstError(
		checkSize("prism start", z0, -MaxSize, MaxSize, ""),
		checkSize("prism end", z1, z0+MinSize, MaxSize, "must lie beyond its start"))
	if err != nil {
		return Solid{}, err
	}
	p = p.Normalized()
	if err := p.Validate(); err != nil {
		return Solid{}, err
	}
	return newSolid(prismFaces(p, z0, z1), []piece{{prism: prism{World(), p, z0, z1}}})
}

// prismFaces returns the bottom, the top, then the sides in the order of the
// profile's boundaries.
func prismFaces(p Profile, z0, z1 float64) []Face {
	return mitredFaces(p, cut{z: z0}, cut{z: z1})
}

// mitredFaces returns the faces of the profile moved between two planes, in the
// order of prismFaces.
func mitredFaces(p Profile, lo, hi cut) []Face {
	faces := []Face{mitredEnd(p, lo, false), mitredEnd(p, hi, true)}
	for _, l := range p.loops() {
		for _, e := range l {
			faces = append(faces, mitredSide(e, lo, hi))
		}
	}
	for i := range p.Circles { // holes: loops gives them counter-clockwise
		faces[len(faces)-1-i].Inward = true
	}
	return faces
}

// cut is the plane z + slope·(x, y) that ends a prism.
type cut struct {
	z     float64
	slope Vec2
}

func (c cut) at(p Vec2) float64 { return c.z + c.slope.Dot(p) }

// mitredSide returns the face an edge sweeps between two planes, with the
// material on the left of the edge.
func mitredSide(e Edge, lo, hi cut) Face {
	if e.Arc {
		f := Face{Frame: At(e.C.V3(0)), R: e.R, Start: e.Start, Sweep: e.Sweep,
			Z0: lo.at(e.C), Z1: hi.at(e.C), Slope0: lo.slope, Slope1: hi.slope}
		if e.Sweep < 0 {
			f.Start, f.Sweep, f.Inward = e.Start+e.Sweep, -e.Sweep, true
		}
		return f
	}
	d := e.B.Sub(e.A)
	u, l := d.Unit(), d.Len()
	fr := Frame{O: e.A.V3(0), X: u.V3(0), Y: Vec3{Z: 1}, Z: Vec3{u.Y, -u.X, 0}}
	p := Path{{P: Vec2{0, lo.at(e.A)}}, {P: Vec2{l, lo.at(e.B)}}, {P: Vec2{l, hi.at(e.B)}}, {P: Vec2{0, hi.at(e.A)}}}
	return Face{Frame: fr, Profile: Profile{Outer: p.WithoutShort()}}
}

// mitredEnd returns the face where the plane cuts the profile; top says that
// the material lies below it.
func mitredEnd(p Profile, c cut, top bool) Face {
	fr := Frame{O: Vec3{Z: c.z}, X: Vec3{1, 0, c.slope.X}, Y: Vec3{0, 1, c.slope.Y}}
	if !top {
		fr.Y, p = fr.Y.Mul(-1), p.MirroredY()
	}
	fr.Z = fr.X.Cross(fr.Y).Unit()
	return Face{Frame: fr, Profile: p}
}

// Box returns a box with the given corners.
func Box(min, max Vec3) (Solid, error) {
	return Prism(Profile{Outer: Rect(min.XY(), max.XY())}, min.Z, max.Z)
}

// Cylinder returns a cylinder of radius r about the z axis.
func Cylinder(r, z0, z1 float64) (Solid, error) {
	if err := checkSize("radius", r, MinSize, MaxSize, ""); err != nil {
		return Solid{}, err
	}
	return Prism(Profile{Outer: Circle{R: r}.Path()}, z0, z1)
}

// Tube returns a tube about the z axis.
func Tube(outerR, innerR, z0, z1 float64) (Solid, error) {
	p, err := Annulus(Vec2{}, outerR, innerR)
	if err != nil {
		return Solid{}, err
	}
	return Prism(p, z0, z1)
}

// HexPrism returns a hexagonal prism about the z axis, two of its edges on the
// x axis, with a round bore of the given radius, or none for zero.
func HexPrism(acrossFlats, boreR, z0, z1 float64) (Solid, error) {
	hex, err := Hexagon(acrossFlats)
	if err != nil {
		return Solid{}, err
	}
	p := Profile{Outer: hex}
	if boreR != 0 {
		if err := checkSize("bore radius", boreR, MinSize, math.Inf(1), ""); err != nil {
			return Solid{}, err
		}
		p.Circles = []Circle{{R: boreR}}
	}
	return Prism(p, z0, z1)
}
