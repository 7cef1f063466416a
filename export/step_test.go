package export

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

// stepFile is what a general-purpose kernel found in one STEP file.
type stepFile struct {
	Success bool
	Root    stepNode
	Meshes  []stepMesh
}

type stepNode struct {
	Name     string
	Meshes   []int
	Children []stepNode
}

type stepMesh struct {
	Name         string
	Colour       []float64
	Faces, Open  int
	Volume, Area float64
	Min, Max     [3]float64
}

// chordRad is the angle between chords at which the kernel meshes, rad. What its
// chords lose of a cylinder: volume a sixth of its square, radius an eighth.
const chordRad = 0.02

// Every STEP file of every example is read by a general-purpose kernel without a
// word: one closed solid with the exact volume and area to 0.01 %, bounds to 0.0001
// mm and what chords leave out; the assembly has every instance at its place.
func TestStepOutside(t *testing.T) {
	for _, name := range exampleNames(t) {
		t.Run(name, func(t *testing.T) {
			w := write(t, name)
			made := 0
			for _, p := range w.job.Assembly.Parts {
				if p.Make != parts.MakeOwn && p.Make != parts.MakeBuy && !p.Solid.Empty() {
					made++
				}
			}
			all := w.glob(t, "step/*.step")
			files := all[:0:0]
			for _, f := range all {
				if filepath.Base(f) != "assembly.step" {
					files = append(files, f)
				}
			}
			if len(files) < made {
				t.Errorf("%d files for %d parts that are made", len(files), made)
			}
			for i, f := range readStep(t, "0.02", files...) {
				p := w.solid(strings.TrimSuffix(filepath.Base(files[i]), ".step"))
				if p == nil { // an aid
					for _, l := range w.job.Assembly.PartsList() {
						if l.Part.ID == strings.TrimSuffix(filepath.Base(files[i]), ".step") {
							p = l.Part
						}
					}
				}
				if !f.Success || len(f.Meshes) != 1 || len(f.Root.Children) != 1 || !strings.HasPrefix(f.Root.Children[0].Name, p.Name) || f.Meshes[0].Colour == nil {
					t.Fatalf("%s: %+v", files[i], f)
				}
				f.Meshes[0].is(t, files[i], p.Solid, chordRad)
			}
			whole := readStep(t, "0.2", filepath.Join(w.dir, "step", "assembly.step"))[0]
			if !whole.Success || len(whole.Meshes) != len(w.job.Assembly.Instances) || len(whole.Root.Children[0].Children) != len(whole.Meshes) {
				t.Fatalf("%d bodies, the fixture has %d", len(whole.Meshes), len(w.job.Assembly.Instances))
			}
			for i, m := range whole.Meshes {
				in := w.job.Assembly.Instances[i]
				m.is(t, "assembly, "+in.ID, in.Part.Solid.Transform(in.Frame), 0.2)
			}
		})
	}
}

// readStep reads files with the kernel, which prints what it does not like.
func readStep(t *testing.T, angle string, files ...string) (out []stepFile) {
	t.Helper()
	text := strings.TrimSpace(outside.Node(t, "step/testdata/measure.js", "occt-import-js", append([]string{angle}, files...)...))
	if strings.Contains(text, "\n") {
		t.Fatalf("the kernel says: %.500s", text)
	}
	decode(t, text, &out)
	return out
}

// is compares a kernel's mesh with the solid.
func (m stepMesh) is(t *testing.T, what string, s geom.Solid, angle float64) {
	t.Helper()
	sh, err := s.Shell()
	if err != nil {
		t.Fatal(err)
	}
	round, area := 0.0, 0.0
	for _, f := range sh.Faces {
		round = max(round, f.Face.R)
		area += faceArea(f.Face)
	}
	lost, far := 1e-4, 1e-4+round*angle*angle/8*1.05
	if angle > chordRad {
		lost += angle * angle / 6
	}
	if m.Open != 0 || m.Faces != len(sh.Faces) {
		t.Errorf("%s: %d open edges, %d faces, the solid has %d", what, m.Open, m.Faces, len(sh.Faces))
	}
	if v := s.Volume(); math.Abs(m.Volume/v-1) > lost {
		t.Errorf("%s: the kernel finds %.9g mm3, the solid has %.9g", what, m.Volume, v)
	}
	if area > 0 && math.Abs(m.Area/area-1) > lost {
		t.Errorf("%s: the kernel finds %.9g mm2, the solid has %.9g", what, m.Area, area)
	}
	b := s.Bounds()
	for k, want := range [2][3]float64{{b.Min.X, b.Min.Y, b.Min.Z}, {b.Max.X, b.Max.Y, b.Max.Z}} {
		for i := range want {
			if got := [2][3]float64{m.Min, m.Max}[k][i]; math.Abs(got-want[i]) > far {
				t.Errorf("%s: bound %d/%d at %.6f mm, the solid's at %.6f", what, k, i, got, want[i])
			}
		}
	}
}

// faceArea is the exact area of a face, zero for one of a mesh, mm².
func faceArea(f geom.Face) float64 {
	if !f.Planar() { // the mean height over the turn, by Simpson in fine steps
		const n = 2000
		sum := 0.0
		for i := 0; i <= n; i++ {
			r := geom.Polar(f.R, f.Start+f.Sweep*float64(i)/n)
			w := []float64{2, 4}[i%2]
			if i == 0 || i == n {
				w = 1
			}
			sum += w * (f.Z1 - f.Z0 + f.Slope1.Sub(f.Slope0).Dot(r))
		}
		return f.R * f.Sweep * sum / 3 / n
	}
	if len(f.Profile.Outer) == 0 {
		return 0
	}
	a := f.Profile.Outer.Area()
	for _, s := range f.Profile.Slots {
		a += s.Area()
	}
	for _, c := range f.Profile.Circles {
		a -= c.Area()
	}
	return a * f.Frame.X.Cross(f.Frame.Y).Len()
}
