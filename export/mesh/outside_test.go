package mesh

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

// sample is a solid with its mesh, written as both kinds of file.
type sample struct {
	name  string
	solid geom.Solid
	mesh  geom.Mesh
}

func samples(t *testing.T) []sample {
	t.Helper()
	var out []sample
	add := func(name string, s geom.Solid, err error) {
		if err != nil {
			t.Fatal(err)
		}
		m, err := s.Mesh(0.01)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, sample{name, s, m})
	}
	s, _ := plate(t)
	add("plate", s, nil)
	s, err := geom.HexPrism(13, 4, 0, 8)
	add("nut", s, err)
	s, err = geom.Tube(12, 4.2, -0.8, 0.8)
	add("washer", s, err)
	s, err = geom.Cylinder(4, -150, 150)
	add("rod", s, err)
	l, err := geom.LProfile(30, 30, 3, 4, 1.5)
	if err != nil {
		t.Fatal(err)
	}
	s, err = geom.Prism(geom.Profile{Outer: l}.Turned(0.1), -118, 118)
	add("angle", s, err)
	return out
}

// volumeErr is the relative error of volume a reader may find against the exact
// solid.
const volumeErr = 0.001

// TestAdmeshFindsNothingToRepair runs admesh on each STL file.
func TestAdmeshFindsNothingToRepair(t *testing.T) {
	for _, s := range samples(t) {
		path := filepath.Join(t.TempDir(), s.name+".stl")
		if err := os.WriteFile(path, encodeSTL(t, s.name, s.mesh), 0o644); err != nil {
			t.Fatal(err)
		}
		out := outside.Run(t, "admesh", path)
		for label, want := range map[string]float64{
			"Total disconnected facets": 0, "Number of parts": 1, "Degenerate facets": 0, "Edges fixed": 0,
			"Facets removed": 0, "Facets added": 0, "Facets reversed": 0, "Backwards edges": 0, "Normals fixed": 0,
		} {
			if got := outside.Figure(t, out, label); got != want {
				t.Errorf("%s: admesh says %s %v, want %v", s.name, label, got, want)
			}
		}
		if v := outside.Figure(t, out, "Volume"); math.Abs(v/s.solid.Volume()-1) > volumeErr {
			t.Errorf("%s: admesh finds %g mm³, the solid has %g", s.name, v, s.solid.Volume())
		}
	}
}

// TestManifoldAgrees has manifold-3d, an exact boolean library, take the STL and
// the 3MF of each sample as a solid.
func TestManifoldAgrees(t *testing.T) {
	dir, all := t.TempDir(), samples(t)
	var files []string
	for _, s := range all {
		stl, tmf := filepath.Join(dir, s.name+".stl"), filepath.Join(dir, s.name+".3mf")
		if err := os.WriteFile(stl, encodeSTL(t, s.name, s.mesh), 0o644); err != nil {
			t.Fatal(err)
		}
		f, err := os.Create(tmf)
		if err != nil {
			t.Fatal(err)
		}
		if err := Encode3MF(f, s.name, "what it is", Body{s.name, s.mesh}, Body{"second", tetra()}); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
		files = append(files, stl, tmf)
	}
	var got [][]struct {
		Name, Unit, Status string
		Volume             float64
		Parts, Triangles   int
		Min, Max           [3]float64
	}
	out := outside.Node(t, "testdata/manifold.mjs", "manifold-3d", files...)
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	for i, s := range all {
		for k, g := range got[2*i : 2*i+2] {
			what := fmt.Sprintf("%s %s", s.name, filepath.Ext(files[2*i+k]))
			if g[0].Status != "NoError" || g[0].Parts != 1 {
				t.Errorf("%s: status %s, %d parts", what, g[0].Status, g[0].Parts)
			}
			if math.Abs(g[0].Volume/s.solid.Volume()-1) > volumeErr {
				t.Errorf("%s: %g mm³, the solid has %g", what, g[0].Volume, s.solid.Volume())
			}
			b := s.mesh.Bounds()
			for j, d := range [6]float64{g[0].Min[0] - b.Min.X, g[0].Min[1] - b.Min.Y, g[0].Min[2] - b.Min.Z,
				g[0].Max[0] - b.Max.X, g[0].Max[1] - b.Max.Y, g[0].Max[2] - b.Max.Z} {
				if math.Abs(d) > 1e-4 {
					t.Errorf("%s: box side %d is off by %g mm", what, j, d)
				}
			}
		}
		tmf := got[2*i+1]
		if len(tmf) != 2 || tmf[0].Name != s.name || tmf[1].Name != "second" || tmf[0].Unit != "millimeter" {
			t.Errorf("%s.3mf: %+v", s.name, tmf)
		}
	}
}
