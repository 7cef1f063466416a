package printed

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

// lying are the meshes of every sample as they go to the printer.
func lying(t *testing.T) (names []string, meshes []geom.Mesh, volumes []float64) {
	t.Helper()
	for _, s := range samples() {
		ps, err := s.build()
		if err != nil {
			t.Fatal(s.name, err)
		}
		for _, p := range ps {
			m, err := p.Solid.Mesh(chordMM)
			if err != nil {
				t.Fatal(p.ID, err)
			}
			names, meshes, volumes = append(names, s.name+" "+p.ID), append(meshes, m.Transform(p.Print.Lie)), append(volumes, p.Solid.Volume())
		}
	}
	return names, meshes, volumes
}

// TestManifoldElsewhere hands every sample to the library manifold-3d: it must
// take the mesh as the boundary of a solid, with the part's volume to 0.1 %.
func TestManifoldElsewhere(t *testing.T) {
	dir := outside.Modules(t, "manifold-3d")
	type body struct {
		Vertices  [][3]float64    `json:"vertices"`
		Triangles []geom.Triangle `json:"triangles"`
	}
	names, meshes, volumes := lying(t)
	var bodies []body
	for _, m := range meshes {
		b := body{Triangles: m.Triangles}
		for _, v := range m.Vertices {
			b.Vertices = append(b.Vertices, [3]float64{v.X, v.Y, v.Z})
		}
		bodies = append(bodies, b)
	}
	data, err := json.Marshal(map[string]any{"bodies": bodies, "pairs": [][2]int{}, "search": 1})
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "in.json")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("node", filepath.Join("..", "testdata", "gaps.mjs"), dir, file).Output()
	if err != nil {
		t.Fatalf("node: %v", err)
	}
	var got struct {
		Bodies []struct {
			Status string
			Volume float64
		}
	}
	if err := json.Unmarshal(out, &got); err != nil || len(got.Bodies) != len(names) {
		t.Fatalf("%v in %s", err, out)
	}
	for i, b := range got.Bodies {
		if b.Status != "NoError" || math.Abs(b.Volume/volumes[i]-1) > 0.001 {
			t.Errorf("%s: %s, %g mm³ of %g", names[i], b.Status, b.Volume, volumes[i])
		}
	}
}

// TestNothingToRepair writes the shaped and one of the layered samples as STL and
// has the repair tool admesh find nothing to do, one part, and the volume.
func TestNothingToRepair(t *testing.T) {
	names, meshes, volumes := lying(t)
	for i, name := range names {
		if !strings.HasPrefix(name, "rod-cap") && !strings.HasPrefix(name, "nut-cap") && !strings.HasPrefix(name, "foot") && !strings.HasPrefix(name, "ribs") {
			continue
		}
		file := filepath.Join(t.TempDir(), "part.stl")
		if err := os.WriteFile(file, stl(meshes[i]), 0o600); err != nil {
			t.Fatal(err)
		}
		report := outside.Run(t, "admesh", file)
		for label, want := range map[string]float64{"Number of parts": 1, "Degenerate facets": 0, "Edges fixed": 0, "Facets removed": 0,
			"Facets added": 0, "Facets reversed": 0, "Backwards edges": 0, "Normals fixed": 0} {
			if got := figure(t, report, label); got != want {
				t.Errorf("%s: admesh says %s %g, want %g", name, label, got, want)
			}
		}
		if v := figure(t, report, "Volume"); math.Abs(v/volumes[i]-1) > 0.001 {
			t.Errorf("%s: admesh finds %g mm³ of %g", name, v, volumes[i])
		}
	}
}

// stl is a mesh as binary STL.
func stl(m geom.Mesh) []byte {
	var b bytes.Buffer
	b.Write(make([]byte, 80))
	put := func(v any) { _ = binary.Write(&b, binary.LittleEndian, v) }
	put(uint32(len(m.Triangles)))
	for _, q := range m.Triangles {
		p, r, s := m.Vertices[q[0]], m.Vertices[q[1]], m.Vertices[q[2]]
		for _, v := range [4]geom.Vec3{r.Sub(p).Cross(s.Sub(p)).Unit(), p, r, s} {
			put([3]float32{float32(v.X), float32(v.Y), float32(v.Z)})
		}
		put(uint16(0))
	}
	return b.Bytes()
}

// figure is the last number after a label of admesh's report.
func figure(t *testing.T, report, label string) float64 {
	t.Helper()
	at := strings.LastIndex(report, label)
	if at < 0 {
		t.Fatalf("no %q in\n%s", label, report)
	}
	_, after, _ := strings.Cut(report[at:], ":")
	word := strings.Fields(after)[0]
	v, err := strconv.ParseFloat(word, 64)
	if err != nil {
		t.Fatalf("%s: %q", label, word)
	}
	return v
}
