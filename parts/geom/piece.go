package geom

import (
	"math"
	"sync"
)

// prism is the exact form of a piece: a profile moved along z of the frame.
type prism struct {
	frame   Frame
	profile Profile
	z0, z1  float64
}

// piece is a part of a solid: a prism, or for shapes that are none, faces or a
// mesh.
type piece struct {
	prism prism
	faces []Face
	soup  *Mesh
}

func (p piece) isPrism() bool { return p.faces == nil && p.soup == nil }

func (p piece) placed(f Frame) piece {
	q := piece{prism: p.prism}
	q.prism.frame = f.Mul(p.prism.frame)
	for _, x := range p.faces {
		q.faces = append(q.faces, x.Placed(f))
	}
	if p.soup != nil {
		m := p.soup.Transform(f)
		q.soup = &m
	}
	return q
}

// boundary returns the piece's own faces.
func (p piece) boundary() []Face {
	if !p.isPrism() {
		return p.faces
	}
	fs := prismFaces(p.prism.profile, p.prism.z0, p.prism.z1)
	for i := range fs {
		fs[i] = fs[i].Placed(p.prism.frame)
	}
	return fs
}

// fine holds what distances need, made at the first use and shared by all
// bodies of the solid.
type fine struct {
	once   sync.Once
	pieces []*finePiece
}

// finePiece is a piece ready for distances.
type finePiece struct {
	piece
	forms  []form // the prism along each axis it has one: three for a box
	bounds Box3
	faces  []Face
	once   sync.Once
	tree   *tree
	err    error
}

// form is a prism with its profile as edges.
type form struct {
	frame  Frame
	z0, z1 float64
	reg    region
}

// finePieces returns the pieces of the solid.
func (s Solid) finePieces() []*finePiece {
	f := &s.b.fine
	f.once.Do(func() {
		ps := s.b.pieces
		if s.b.soup != nil {
			ps = []piece{{soup: s.b.soup}}
		}
		for _, p := range ps {
			f.pieces = append(f.pieces, newFinePiece(p))
		}
	})
	return f.pieces
}

func newFinePiece(p piece) *finePiece {
	f := &finePiece{piece: p, bounds: EmptyBox3()}
	if p.soup != nil {
		f.bounds = p.soup.Bounds()
		return f
	}
	f.faces = p.boundary()
	for _, x := range f.faces {
		f.bounds = f.bounds.Union(x.Bounds())
	}
	if p.isPrism() {
		f.forms = p.prism.forms()
	}
	return f
}

// forms returns the prism itself and, for a box, also its other two axes.
func (p prism) forms() []form {
	fs := []form{{p.frame, p.z0, p.z1, newRegion(p.profile.loops())}}
	u, v, ok := rectangle(p.profile)
	if !ok {
		return fs
	}
	o := p.frame.Point(p.profile.Outer[0].P.V3(p.z0))
	x, y, z := p.frame.Dir(u.Unit().V3(0)), p.frame.Dir(v.Unit().V3(0)), p.frame.Z
	a, b, c := u.Len(), v.Len(), p.z1-p.z0
	face := func(w, h float64) region { return newRegion([][]Edge{Rect(Vec2{}, Vec2{w, h}).Edges()}) }
	return append(fs, form{Frame{o, y, z, x}, 0, a, face(b, c)}, form{Frame{o, z, x, y}, 0, b, face(c, a)})
}

// rectangle returns the sides of a profile that is a plain rectangle.
func rectangle(p Profile) (u, v Vec2, ok bool) {
	if len(p.Outer) != 4 || len(p.Slots)+len(p.Circles) > 0 {
		return u, v, false
	}
	for i, w := range p.Outer {
		if w.Bulge != 0 {
			return u, v, false
		}
		a, b := p.Outer[(i+1)%4].P.Sub(w.P), p.Outer[(i+2)%4].P.Sub(p.Outer[(i+1)%4].P)
		if math.Abs(a.Dot(b)) > parallelErr*a.Len()*b.Len() {
			return u, v, false
		}
	}
	return p.Outer[1].P.Sub(p.Outer[0].P), p.Outer[2].P.Sub(p.Outer[1].P), true
}

// meshTree returns the piece's fine mesh in a tree, made at the first call.
func (f *finePiece) meshTree() (*tree, error) {
	f.once.Do(func() {
		var m Mesh
		if f.soup != nil {
			m = *f.soup
		} else {
			b := &brep{faces: f.faces}
			m, f.err = b.mesh(max(MinChordErr, min(distanceChord, b.safeChord())))
		}
		if f.err == nil {
			f.tree = newTree(m)
		}
	})
	return f.tree, f.err
}
