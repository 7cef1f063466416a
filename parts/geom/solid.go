package geom

import "fmt"

// Solid is a closed body with an exact boundary. It is immutable and cheap to
// copy; the zero Solid is empty.
type Solid struct{ b *brep }

// brep is what copies of a solid share.
type brep struct {
	faces  []Face
	pieces []piece // their union is the solid; they may overlap
	soup   *Mesh   // for solids known only as a mesh
	sum    sums
	bounds Box3
	fine   fine
}

// newSolid checks that the faces close up and sums them.
func newSolid(faces []Face, pieces []piece) (Solid, error) {
	b := &brep{faces: faces, pieces: pieces, bounds: EmptyBox3()}
	for _, f := range faces {
		b.bounds = b.bounds.Union(f.Bounds())
	}
	if !b.bounds.Min.Finite() || !b.bounds.Max.Finite() {
		return Solid{}, fmt.Errorf("solid: %w", ErrNotFinite)
	}
	b.addSums()
	if !(b.sum.v > 0) {
		return Solid{}, fmt.Errorf("solid encloses %g mm³: %w", b.sum.v, ErrSize)
	}
	return Solid{b}, nil
}

// addSums adds up the faces about the middle of the solid, which loses the
// fewest digits.
func (b *brep) addSums() {
	o := b.bounds.Center()
	for _, f := range b.faces {
		s := f.sums(o)
		b.sum.v += s.v
		b.sum.m = b.sum.m.Add(s.m)
	}
}

// Empty reports whether s is the zero Solid.
func (s Solid) Empty() bool { return s.b == nil }

// Volume returns the exact volume, mm³.
func (s Solid) Volume() float64 {
	if s.Empty() {
		return 0
	}
	return s.b.sum.v
}

// Centroid returns the exact centre of volume.
func (s Solid) Centroid() Vec3 {
	if s.Empty() {
		return Vec3{}
	}
	return s.b.sum.m.Mul(1 / s.b.sum.v).Add(s.b.bounds.Center())
}

// Bounds returns the exact axis-aligned box.
func (s Solid) Bounds() Box3 {
	if s.Empty() {
		return EmptyBox3()
	}
	return s.b.bounds
}

// Transform returns the solid placed by f, whose axes must be orthonormal and
// right-handed (Frame.Check).
func (s Solid) Transform(f Frame) Solid {
	if s.Empty() {
		return s
	}
	b := &brep{bounds: EmptyBox3()}
	for _, x := range s.b.faces {
		b.faces = append(b.faces, x.Placed(f))
		b.bounds = b.bounds.Union(x.Placed(f).Bounds())
	}
	for _, p := range s.b.pieces {
		b.pieces = append(b.pieces, p.placed(f))
	}
	if s.b.soup != nil {
		m := s.b.soup.Transform(f)
		b.soup, b.bounds = &m, m.Bounds()
		b.sum = m.sums(b.bounds.Center())
		return Solid{b}
	}
	b.addSums()
	return Solid{b}
}

// FromMesh returns a solid bounded by a mesh, which must be closed and
// consistently oriented with its normals outward.
func FromMesh(m Mesh) (Solid, error) {
	if err := m.Check(); err != nil {
		return Solid{}, err
	}
	b := &brep{soup: &m, bounds: m.Bounds()}
	b.sum = m.sums(b.bounds.Center())
	if !(b.sum.v > 0) {
		return Solid{}, fmt.Errorf("mesh encloses %g mm³: %w", b.sum.v, ErrMesh)
	}
	return Solid{b}, nil
}
