package shop

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"clampwright/assembly"
	"clampwright/export/mesh"
	"clampwright/parts"
	"clampwright/testdata/outside"
	"clampwright/testdata/ready"
)

// printFiles writes the STL and 3MF of every printed part.
func printFiles(t *testing.T, dir string) (all []*parts.Part, stl, tmf []string) {
	t.Helper()
	a, err := assembly.Build(ready.AllPrints(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range a.PartsList() {
		p := l.Part
		if p.Make != parts.MakePrint {
			continue
		}
		m, err := partMesh(p)
		if err != nil {
			t.Fatal(err)
		}
		if b := m.Bounds(); math.Abs(b.Min.Z) > 1e-6 {
			t.Errorf("%s lies at z = %g", p.ID, b.Min.Z)
		}
		var s, f bytes.Buffer
		if err := mesh.EncodeSTL(&s, p.ID, m); err != nil {
			t.Fatal(p.ID, err)
		}
		if err := mesh.Encode3MF(&f, p.Name, "what it is", mesh.Body{Name: p.Name, Mesh: m}); err != nil {
			t.Fatal(p.ID, err)
		}
		if s.Len() > 5e6 {
			t.Errorf("%s: %d bytes", p.ID, s.Len())
		}
		all = append(all, p)
		stl, tmf = append(stl, filepath.Join(dir, p.ID+".stl")), append(tmf, filepath.Join(dir, p.ID+".3mf"))
		if err := os.WriteFile(stl[len(stl)-1], s.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(tmf[len(tmf)-1], f.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if len(all) < 12 {
		t.Errorf("%d printed parts", len(all))
	}
	return all, stl, tmf
}

// TestPrintsByOutsidePrograms has admesh find nothing to repair and manifold-3d,
// an exact boolean library, agree on volume and body count, for every printed
// part; the part's name and the unit must be in the 3MF.
func TestPrintsByOutsidePrograms(t *testing.T) {
	all, stl, tmf := printFiles(t, t.TempDir())
	for i, p := range all {
		out := outside.Run(t, "admesh", stl[i])
		for label, want := range map[string]float64{
			"Total disconnected facets": 0, "Number of parts": 1, "Degenerate facets": 0, "Edges fixed": 0,
			"Facets removed": 0, "Facets added": 0, "Facets reversed": 0, "Backwards edges": 0,
		} {
			if got := outside.Figure(t, out, label); got != want {
				t.Errorf("%s: admesh says %s %v, want %v", p.ID, label, got, want)
			}
		}
		if v := outside.Figure(t, out, "Volume"); math.Abs(v/p.Solid.Volume()-1) > 0.001 {
			t.Errorf("%s: admesh finds %g mm³, the part has %g", p.ID, v, p.Solid.Volume())
		}
	}
	var got [][]struct {
		Name, Unit, Status string
		Volume             float64
		Parts              int
	}
	out := outside.Node(t, "../mesh/testdata/manifold.mjs", "manifold-3d", append(stl, tmf...)...)
	if err := json.Unmarshal([]byte(out), &got); err != nil {
		t.Fatal(err)
	}
	for i, g := range got {
		p := all[i%len(all)]
		if g[0].Status != "NoError" || g[0].Parts != 1 || math.Abs(g[0].Volume/p.Solid.Volume()-1) > 0.001 {
			t.Errorf("%s: manifold-3d says %+v, the part has %g mm³", p.ID, g[0], p.Solid.Volume())
		}
		if i >= len(all) && (g[0].Name != p.Name || g[0].Unit != "millimeter") {
			t.Errorf("%s: 3MF holds %q in %s", p.ID, g[0].Name, g[0].Unit)
		}
	}
}
