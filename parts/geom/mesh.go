package geom

import (
	"fmt"
	"math"
)

// Bounds returns the box of the vertices.
func (m Mesh) Bounds() Box3 {
	b := EmptyBox3()
	for _, v := range m.Vertices {
		b = b.Add(v)
	}
	return b
}

// corners returns the corner points of triangle i.
func (m Mesh) corners(i int) (a, b, c Vec3) {
	t := m.Triangles[i]
	return m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
}

// Volume returns the enclosed volume, mm³.
func (m Mesh) Volume() float64 {
	if len(m.Vertices) == 0 {
		return 0
	}
	return m.sums(m.Bounds().Center()).v
}

// sums adds the tetrahedra from o to each triangle: volume and moment
// about o.
func (m Mesh) sums(o Vec3) sums {
	var s sums
	for i := range m.Triangles {
		a, b, c := m.corners(i)
		a, b, c = a.Sub(o), b.Sub(o), c.Sub(o)
		v := a.Dot(b.Cross(c)) / 6
		s.v += v
		s.m = s.m.Add(a.Add(b).Add(c).Mul(v / 4))
	}
	return s
}

// Transform returns the mesh placed by f.
func (m Mesh) Transform(f Frame) Mesh {
	t := Mesh{Vertices: make([]Vec3, len(m.Vertices)), Triangles: m.Triangles}
	for i, v := range m.Vertices {
		t.Vertices[i] = f.Point(v)
	}
	return t
}

// Check reports a mesh that is not closed and consistently oriented: each edge
// must be used once in each direction. Coordinates must be finite.
func (m Mesh) Check() error {
	for i, v := range m.Vertices {
		if !v.Finite() {
			return fmt.Errorf("vertex %d: %w", i, ErrNotFinite)
		}
	}
	type edge struct{ a, b int32 }
	used := make(map[edge]bool, 3*len(m.Triangles))
	for i, t := range m.Triangles {
		for k := range t {
			e := edge{t[k], t[(k+1)%3]}
			if e.a < 0 || int(e.a) >= len(m.Vertices) {
				return fmt.Errorf("triangle %d: vertex %d of %d: %w", i, e.a, len(m.Vertices), ErrMesh)
			}
			if e.a == e.b || used[e] {
				return fmt.Errorf("triangle %d: edge %d-%d: %w", i, e.a, e.b, ErrMesh)
			}
			used[e] = true
		}
	}
	return checkPaired(m, func(a, b int32) bool { return used[edge{b, a}] })
}

func checkPaired(m Mesh, has func(a, b int32) bool) error {
	for i, t := range m.Triangles {
		for k := range t {
			if a, b := t[k], t[(k+1)%3]; !has(a, b) {
				return fmt.Errorf("triangle %d: open edge %d-%d: %w", i, a, b, ErrMesh)
			}
		}
	}
	return nil
}

// Mesh returns a closed, outward, deterministic triangle mesh of the solid. Its
// vertices lie on the true surface, its triangles within chordErr, mm, of it;
// where that would miss the volume by more than VolumeErr, the mesh is finer.
// A solid made from a mesh returns that mesh.
func (s Solid) Mesh(chordErr float64) (Mesh, error) {
	return s.mesh(chordErr, VolumeErr)
}

// Coarse is Mesh for pictures, of which nobody asks the volume.
func (s Solid) Coarse(chordErr float64) (Mesh, error) { return s.mesh(chordErr, 1) }

// mesh misses the volume by no more than volumeErr, relative.
func (s Solid) mesh(chordErr, volumeErr float64) (Mesh, error) {
	if !(chordErr >= MinChordErr && chordErr <= MaxSize) {
		return Mesh{}, ErrChord
	}
	if s.Empty() {
		return Mesh{}, nil
	}
	if s.b.soup != nil {
		return *s.b.soup, nil
	}
	chordErr = max(MinChordErr, min(chordErr, s.b.safeChord()))
	for try := 0; ; try++ {
		m, err := s.b.mesh(chordErr)
		if err != nil {
			return Mesh{}, err
		}
		lost := math.Abs(m.Volume()-s.b.sum.v) / s.b.sum.v
		if lost <= volumeErr || try == 4 {
			return m, m.Check()
		}
		chordErr = max(MinChordErr, chordErr*0.95*volumeErr/lost)
	}
}

// safeChord is the chord error that keeps flattened boundaries of every face
// apart: chords of two neighbours may each stray by it.
func (b *brep) safeChord() float64 {
	c := math.Inf(1)
	for _, f := range b.faces {
		if f.Planar() && (len(f.Profile.Circles) > 0 || f.Profile.curved()) {
			c = min(c, f.Profile.gap()/3)
		}
	}
	return c
}

func (p Profile) curved() bool {
	for _, l := range p.loops() {
		for _, e := range l {
			if e.Arc {
				return true
			}
		}
	}
	return false
}

func (b *brep) mesh(chordErr float64) (Mesh, error) {
	w := newWelder()
	for i, f := range b.faces {
		var err error
		if f.Planar() {
			err = w.planar(f, chordErr)
		} else {
			w.cylinder(f, chordErr)
		}
		if err != nil {
			return Mesh{}, fmt.Errorf("face %d: %w", i, err)
		}
	}
	return w.m, nil
}

// planar adds a planar face.
func (w *welder) planar(f Face, chordErr float64) error {
	pts, tris, err := f.Profile.Triangulate(chordErr)
	if err != nil {
		return err
	}
	ids := make([]int32, len(pts))
	for i, p := range pts {
		ids[i] = w.add(f.Frame.Point(p.V3(0)))
	}
	for _, t := range tris {
		w.triangle(ids[t[0]], ids[t[1]], ids[t[2]])
	}
	return nil
}

// cylinder adds a cylindrical face as a strip of quadrilaterals.
func (w *welder) cylinder(f Face, chordErr float64) {
	e := f.rim()
	n := chords(f.R, f.Sweep, chordErr)
	lo, hi := make([]int32, n+1), make([]int32, n+1)
	for i := 0; i <= n; i++ {
		r := e.At(float64(i) / float64(n))
		lo[i] = w.add(f.Frame.Point(r.V3(f.Z0 + f.Slope0.Dot(r))))
		hi[i] = w.add(f.Frame.Point(r.V3(f.Z1 + f.Slope1.Dot(r))))
	}
	for i := 0; i < n; i++ {
		if f.Inward {
			w.triangle(lo[i], hi[i+1], lo[i+1])
			w.triangle(lo[i], hi[i], hi[i+1])
		} else {
			w.triangle(lo[i], lo[i+1], hi[i+1])
			w.triangle(lo[i], hi[i+1], hi[i])
		}
	}
}
