package geom

import (
	"errors"
	"math/rand"
	"testing"
)

// The shell of a solid: its counts by hand and by Euler and Poincaré (corners -
// edges + faces - inner loops = 2 - 2 for each hole through), loops that hang
// together, corners on the faces' surfaces and edges of the length they are given.
func TestShell(t *testing.T) {
	plain := testAngle()
	mitred := testAngle()
	mitred.ChamferB = 12
	slot := path(t)(Obround(Vec2{-3, 0}, Vec2{4, 1}, 2))
	box := solid(t)(Box(Vec3{}, Vec3{3, 4, 5}))
	soup := func(s Solid) Solid {
		m, err := s.Mesh(0.01)
		if err != nil {
			t.Fatal(err)
		}
		return solid(t)(FromMesh(m))
	}
	through := len(plain.Holes)
	for _, c := range []struct {
		name           string
		s              Solid
		faces, through int
	}{
		{"box", box, 6, 0},
		{"box from its mesh", soup(box), 6, 0},
		{"cylinder of two halves", solid(t)(Cylinder(3, 0, 4)), 4, 0},
		{"tube", solid(t)(Tube(5, 3, 1, 9)), 5, 1},
		{"nut", solid(t)(HexPrism(13, 2, -1, 4)), 9, 1},
		{"slotted", solid(t)(Prism(Profile{Outer: path(t)(RoundedRect(Vec2{1, 2}, 20, 12, 3)), Slots: []Path{slot}}, -2, 5)), 14, 1},
		{"angle", solid(t)(plain.Solid()), 11 + through, through},
		{"mitred angle", solid(t)(mitred.Solid()), 15 + through, through},
		{"plate from its mesh", soup(holedPlate(t)), 0, 4},
	} {
		for _, s := range []Solid{c.s, c.s.Transform(randomFrame(rand.New(rand.NewSource(7))))} {
			sh, err := s.Shell()
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			if c.faces > 0 && len(sh.Faces) != c.faces {
				t.Errorf("%s: %d faces, want %d", c.name, len(sh.Faces), c.faces)
			}
			inner, corners := 0, map[int]bool{}
			for _, f := range sh.Faces {
				inner += len(f.Loops) - 1
				for _, l := range f.Loops {
					checkLoop(t, c.name, sh, f, l)
				}
			}
			for _, e := range sh.Edges {
				corners[e.A], corners[e.B] = true, true
			}
			if got := len(corners) - len(sh.Edges) + len(sh.Faces) - inner; got != 2-2*c.through {
				t.Errorf("%s: %d corners, %d edges, %d faces, %d inner loops do not make %d holes through", c.name, len(corners), len(sh.Edges), len(sh.Faces), inner, c.through)
			}
		}
	}
}

// checkLoop follows a loop: each edge begins where the one before ends, and both
// ends and the half axes are where the edge's curve and the face's plane have them.
func checkLoop(t *testing.T, name string, sh Shell, f ShellFace, l []EdgeUse) {
	t.Helper()
	ends := func(u EdgeUse) (int, int) {
		if e := sh.Edges[u.Edge]; u.Back {
			return e.B, e.A
		} else {
			return e.A, e.B
		}
	}
	for i, u := range l {
		_, b := ends(u)
		if a, _ := ends(l[(i+1)%len(l)]); a != b {
			t.Errorf("%s: a loop breaks off", name)
		}
		e := sh.Edges[u.Edge]
		for _, k := range []int{e.A, e.B} {
			p := sh.Corners[k]
			if at := f.Face.Frame.Z.Dot(p.Sub(f.Face.Frame.O)); f.Face.Planar() {
				near(t, name+": corner to its plane", at, 0, 1e-6)
			}
			if !e.Straight() {
				d := p.Sub(e.O)
				x, y := d.Dot(e.X)/e.X.Dot(e.X), d.Dot(e.Y)/e.Y.Dot(e.Y)
				near(t, name+": corner on its ellipse", x*x+y*y, 1, 1e-9)
			}
		}
	}
}

// Faces that do not close up are told.
func TestShellOpen(t *testing.T) {
	s := solid(t)(Box(Vec3{}, Vec3{3, 4, 5}))
	open := Solid{&brep{faces: s.b.faces[1:]}}
	if _, err := open.Shell(); !errors.Is(err, ErrMesh) {
		t.Errorf("a box without its floor: %v", err)
	}
}

// Regions of a mesh: a bend of any size parts them, rounding does not, and a loop
// is outer where it holds the other.
func TestShellFlats(t *testing.T) {
	for _, c := range []struct {
		lift  float64
		faces int
	}{{0, 6}, {1e-8, 6}, {0.01, 7}} {
		v := []Vec3{{0, 0, 0}, {4, 0, 0}, {4, 4, 0}, {0, 4, 0}, {0, 0, 2}, {4, 0, 2 + c.lift}, {4, 4, 2}, {0, 4, 2}}
		m := Mesh{v, []Triangle{{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7}, {0, 1, 5}, {0, 5, 4}, {1, 2, 6}, {1, 6, 5}, {2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7}}}
		sh, err := solid(t)(FromMesh(m)).Shell()
		if err != nil || len(sh.Faces) != c.faces {
			t.Errorf("lifted by %g mm: %d faces, want %d: %v", c.lift, len(sh.Faces), c.faces, err)
		}
	}
	m, err := solid(t)(Tube(5, 3, 0, 2)).Mesh(0.01)
	if err != nil {
		t.Fatal(err)
	}
	sh, err := solid(t)(FromMesh(m)).Shell()
	if err != nil {
		t.Fatal(err)
	}
	rings := 0
	for _, f := range sh.Faces {
		if len(f.Loops) == 2 {
			rings++
			if out, in := sh.Corners[sh.Edges[f.Loops[0][0].Edge].A].XY().Len(), sh.Corners[sh.Edges[f.Loops[1][0].Edge].A].XY().Len(); out < in {
				t.Errorf("the loop at radius %g mm comes before that at %g mm", out, in)
			}
		}
	}
	if rings != 2 {
		t.Errorf("%d rings, want 2", rings)
	}
}
