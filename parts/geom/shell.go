package geom

import "math"

// Shell is a solid's boundary with its corners and edges told apart, as formats
// for exact solids want it: every edge is used by its faces once in each
// direction.
type Shell struct {
	Corners []Vec3
	Edges   []ShellEdge
	Faces   []ShellFace
}

// ShellEdge runs from corner A to corner B: straight where X is zero, else the
// way of O + cos t·X + sin t·Y with growing t. X and Y are the half axes of the
// ellipse, mm, square to each other, X the longer; a whole turn has A = B.
type ShellEdge struct {
	A, B    int
	O, X, Y Vec3
}

// Straight reports whether the edge is a straight line.
func (e ShellEdge) Straight() bool { return e.X == Vec3{} }

// ShellFace is one face: its surface and the loops that bound it, the outer one
// first. Seen from outside the material lies to the left of a loop.
type ShellFace struct {
	Face  Face // of a planar face the frame alone counts
	Loops [][]EdgeUse
}

// EdgeUse is an edge as a loop runs along it: Back is from B to A.
type EdgeUse struct {
	Edge int
	Back bool
}

// Shell returns the solid's boundary. A solid made from a mesh has a planar face
// for each region of its triangles that is flat.
func (s Solid) Shell() (Shell, error) {
	if s.Empty() {
		return Shell{}, nil
	}
	if s.b.soup != nil {
		return flatShell(*s.b.soup).checked()
	}
	b := newSheller()
	b.out.Faces = make([]ShellFace, len(s.b.faces))
	for i, f := range s.b.faces { // round faces first: they give the curved edges
		if b.out.Faces[i].Face = f; !f.Planar() {
			b.out.Faces[i].Loops = [][]EdgeUse{b.cylinder(f)}
		}
	}
	for i, f := range s.b.faces {
		if f.Planar() {
			b.out.Faces[i].Loops = b.planar(f)
		}
	}
	b.out.Corners = b.corners.m.Vertices
	return b.out.checked()
}

// sheller joins faces at their edges.
type sheller struct {
	out     Shell
	corners *welder
	middles *welder // of edges, and of whole turns their centres
	known   map[[3]int32]int
}

func newSheller() *sheller {
	return &sheller{corners: newWelder(), middles: newWelder(), known: map[[3]int32]int{}}
}

// use returns the edge from p to q through mid, made when it is new.
func (b *sheller) use(p, q, mid Vec3, curve ShellEdge) EdgeUse {
	u, v := b.corners.add(p), b.corners.add(q)
	if u == v { // a whole turn: known by its centre and size, wherever it begins
		mid = curve.O
	}
	key := [3]int32{min(u, v), max(u, v), b.middles.add(mid)}
	if u == v {
		key[0], key[1] = -1, int32(math.Round(curve.X.Len()/MinSize))
	}
	i, ok := b.known[key]
	if !ok {
		i = len(b.out.Edges)
		curve.A, curve.B = int(u), int(v)
		b.out.Edges, b.known[key] = append(b.out.Edges, curve), i
	}
	e := b.out.Edges[i]
	if u == v {
		return EdgeUse{i, e.X.Cross(e.Y).Dot(curve.X.Cross(curve.Y)) < 0}
	}
	return EdgeUse{i, e.A != int(u)}
}

// cylinder returns the loop round a cylindrical face: along its lower rim, up,
// back along the upper rim, and down. A whole turn has one seam for both sides.
func (b *sheller) cylinder(f Face) []EdgeUse {
	at := func(turn float64, top bool) Vec3 {
		r := Polar(f.R, f.Start+f.Sweep*turn)
		if turn == 1 && isFullTurn(f.Sweep) {
			r = Polar(f.R, f.Start)
		}
		if top {
			return f.Frame.Point(r.V3(f.Z1 + f.Slope1.Dot(r)))
		}
		return f.Frame.Point(r.V3(f.Z0 + f.Slope0.Dot(r)))
	}
	rim := func(top bool, z float64, slope Vec2) EdgeUse {
		return b.use(at(0, top), at(1, top), at(0.5, top), f.section(z, slope))
	}
	side := func(turn float64) EdgeUse {
		p, q := at(turn, false), at(turn, true)
		return b.use(p, q, p.Lerp(q, 0.5), ShellEdge{})
	}
	lo, hi := rim(false, f.Z0, f.Slope0), rim(true, f.Z1, f.Slope1)
	end, start := side(1), side(0)
	hi.Back, start.Back = !hi.Back, !start.Back
	loop := []EdgeUse{lo, end, hi, start}
	if f.Inward {
		loop = backwards(loop)
	}
	return loop
}

// section is the ellipse in which a plane cuts the cylinder.
func (f Face) section(z float64, slope Vec2) ShellEdge {
	u, s := Vec2{X: 1}, slope.Len()
	if s > 0 {
		u = slope.Mul(1 / s)
	}
	return ShellEdge{O: f.Frame.Point(Vec3{Z: z}), X: f.Frame.Dir(u.V3(s)).Mul(f.R), Y: f.Frame.Dir(u.Perp().V3(0)).Mul(f.R)}
}

// planar returns the loops round a planar face.
func (b *sheller) planar(f Face) [][]EdgeUse {
	var loops [][]EdgeUse
	for i, l := range f.Profile.loops() {
		var loop []EdgeUse
		for _, e := range l {
			p, q, mid := f.Frame.Point(e.A.V3(0)), f.Frame.Point(e.B.V3(0)), f.Frame.Point(e.At(0.5).V3(0))
			circle := ShellEdge{}
			if e.Arc {
				circle = ShellEdge{O: f.Frame.Point(e.C.V3(0)), X: f.Frame.X.Mul(e.R), Y: f.Frame.Y.Mul(e.R)}
			}
			loop = append(loop, b.use(p, q, mid, circle))
		}
		if i > len(f.Profile.Slots) { // a round hole
			loop = backwards(loop)
		}
		loops = append(loops, loop)
	}
	return loops
}

// backwards is a loop run the other way.
func backwards(loop []EdgeUse) []EdgeUse {
	out := make([]EdgeUse, len(loop))
	for i, u := range loop {
		out[len(loop)-1-i] = EdgeUse{u.Edge, !u.Back}
	}
	return out
}

// checked reports faces that do not close up: each edge must be used once in each
// direction.
func (s Shell) checked() (Shell, error) {
	used := make([][2]int, len(s.Edges))
	for _, f := range s.Faces {
		for _, l := range f.Loops {
			for _, u := range l {
				if u.Back {
					used[u.Edge][1]++
				} else {
					used[u.Edge][0]++
				}
			}
		}
	}
	for _, u := range used {
		if u != [2]int{1, 1} {
			return Shell{}, ErrMesh
		}
	}
	return s, nil
}
