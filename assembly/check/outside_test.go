package check

import (
	"bytes"
	"encoding/json"
	"math"
	"os/exec"
	"path/filepath"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

// outsideChord is the chord error of the meshes handed to the reference, mm.
// Gaps between round parts come out larger by up to two of them.
const outsideChord = 0.004

type outsideMesh struct {
	Vertices  []float64 `json:"vertices"`
	Triangles []int32   `json:"triangles"`
}

type outsideJob struct {
	Meshes []outsideMesh `json:"meshes"`
	Pairs  [][2]int      `json:"pairs"`
	Reach  float64       `json:"reach"`
}

type outsideGap struct {
	Gap    float64 `json:"gap"`
	Shared float64 `json:"shared"`
}

func meshOf(t *testing.T, w *assembly.Instance) outsideMesh {
	t.Helper()
	m, err := w.Part.Solid.Mesh(outsideChord)
	if err != nil {
		t.Fatalf("%s: %v", w.ID, err)
	}
	m = m.Transform(w.Frame)
	var out outsideMesh
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, v.X, v.Y, v.Z)
	}
	for _, f := range m.Triangles {
		out.Triangles = append(out.Triangles, f[0], f[1], f[2])
	}
	return out
}

func runOutside(t *testing.T, dir string, job outsideJob) []outsideGap {
	t.Helper()
	in, err := json.Marshal(job)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("node", filepath.Join("testdata", "gaps.mjs"), dir)
	cmd.Stdin = bytes.NewReader(in)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	text, err := cmd.Output()
	if err != nil {
		t.Fatalf("node: %v\n%s", err, stderr.String())
	}
	var out []outsideGap
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// Gaps and overlaps of whole fixtures against manifold-3d 3.5.4 (minGap and
// boolean intersection on meshes): every pair of parts nearer than reach, tools
// included.
func TestGapsAgainstManifold(t *testing.T) {
	dir := outside.Modules(t, "manifold-3d")
	fouled := sample.FourCells()
	fouled.Rods.Columns[0], fouled.Stiffener.Gauge = -88, 13
	for name, f := range map[string]*params.Fixture{"four": sample.FourCells(), "sprung": sprung(), "fouled": fouled} {
		compareGaps(t, dir, name, f)
	}
}

func compareGaps(t *testing.T, dir, name string, f *params.Fixture) {
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	b := newScene(a)
	all := a.Instances
	for _, tool := range a.Tools {
		all = append(all, tool.Instance)
	}
	job := outsideJob{Reach: 12}
	for i := range all {
		job.Meshes = append(job.Meshes, meshOf(t, &all[i]))
	}
	var ours []geom.Gap
	for i := range all {
		for j := range i {
			g := b.between(&all[j], &all[i], job.Reach)
			if g.MM < job.Reach-1 && !g.Bound {
				job.Pairs = append(job.Pairs, [2]int{j, i})
				ours = append(ours, g)
			}
		}
	}
	theirs := runOutside(t, dir, job)
	for k, p := range job.Pairs {
		what := name + ": " + all[p[0]].ID + " / " + all[p[1]].ID
		g, r := ours[k], theirs[k]
		switch {
		case g.MM < -0.05 && r.Shared <= 0:
			t.Errorf("%s: overlap of %.4f mm, reference finds none", what, -g.MM)
		case g.MM > 0.05 && r.Shared > 1e-6:
			t.Errorf("%s: %.4f mm apart, reference shares %.4f mm3", what, g.MM, r.Shared)
		case g.MM > 0.01 && math.Abs(g.MM-r.Gap) > 0.01:
			t.Errorf("%s: gap %.4f mm, reference %.4f mm", what, g.MM, r.Gap)
		}
	}
	t.Logf("%s: %d pairs compared", name, len(job.Pairs))
}
