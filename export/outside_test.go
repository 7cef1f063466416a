package export

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/testdata/outside"
)

// exampleNames are the examples, in the order of the folder; with -short three of the smaller.
func exampleNames(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../examples/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatalf("examples: %v %v", files, err)
	}
	if testing.Short() {
		files = []string{"four-cell-offcut", "fouled-on-purpose", "two-cell-frames"}
	}
	var names []string
	for _, f := range files {
		names = append(names, strings.TrimSuffix(filepath.Base(f), ".yaml"))
	}
	return names
}

// written is an example written to disk.
type written struct {
	job *Job
	dir string
}

func write(t *testing.T, name string) written {
	t.Helper()
	e := made(t, name)
	w := written{e.job, t.TempDir()}
	for file, content := range e.files {
		path := filepath.Join(w.dir, filepath.FromSlash(file))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return w
}

func (w written) glob(t *testing.T, pattern string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(w.dir, pattern))
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// dxfFile is what a reader found in one DXF.
type dxfFile struct {
	Errors, Fixes []string
	InsUnits      int
	Entities      []struct {
		Kind, Layer string
		Closed      bool
		Vertices    [][3]float64
	}
}

// measuredMM is how far an outside reader's figure may be from the part's.
const measuredMM = 0.001

// Every file of every example passes the outside readers: DXF in ezdxf (clean
// audit) and dxf-parser with the part's own outline and holes to 0.001 mm, STL
// in admesh with nothing to repair and the exact volume to 0.1 %.
func TestExamplesOutside(t *testing.T) {
	for _, name := range exampleNames(t) {
		t.Run(name, func(t *testing.T) {
			w := write(t, name)
			files := w.glob(t, "cut/*.dxf")
			if len(files) == 0 {
				t.Fatal("no DXF")
			}
			var first, second []dxfFile
			decode(t, outside.Python(t, "dxf/testdata/measure.py", []string{"ezdxf"}, files...), &first)
			for i, f := range files {
				if len(first[i].Errors)+len(first[i].Fixes) > 0 || first[i].InsUnits != 4 {
					t.Errorf("%s: ezdxf says %v %v, units %d", f, first[i].Errors, first[i].Fixes, first[i].InsUnits)
				}
				w.outlineMatches(t, f, first[i])
			}
			w.meshesAreSound(t)
			decode(t, outside.Node(t, "dxf/testdata/measure.js", "dxf-parser", files...), &second)
			for i, f := range files {
				w.outlineMatches(t, f, second[i])
			}
		})
	}
}

func decode(t *testing.T, text string, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), into); err != nil {
		t.Fatal(err)
	}
}

// outlineMatches compares a part's DXF with the part; nested sheets have no
// single part and are left to the nesting tests.
func (w written) outlineMatches(t *testing.T, file string, found dxfFile) {
	t.Helper()
	for _, e := range found.Entities {
		if e.Layer == "MARK" && e.Kind == "TEXT" {
			t.Errorf("%s: lettering as text, which many programs for machines leave out", file)
		}
	}
	p := w.part(strings.TrimSuffix(filepath.Base(file), ".dxf"))
	if p == nil {
		return
	}
	drawn := p.Flat.Profile.Moved(p.Flat.Profile.Bounds().Min.Mul(-1)) // the origin is the lower left corner
	var want, got int
	near := func(a, b float64) bool { return math.Abs(a-b) <= measuredMM }
	for _, c := range drawn.Circles {
		want++
		for _, e := range found.Entities {
			if e.Kind == "CIRCLE" && e.Layer == "HOLES" && near(e.Vertices[0][0], c.C.X) && near(e.Vertices[0][1], c.C.Y) && near(e.Vertices[0][2], c.R) {
				got++
			}
		}
	}
	if want != got {
		t.Errorf("%s: %d of %d holes where the part has them, once each", file, got, want)
	}
	// outlines and slots: the same vertices, arcs kept as arcs
	same := func(closed bool, got [][3]float64, want geom.Path) {
		t.Helper()
		if !closed || len(got) != len(want) {
			t.Errorf("%s: an outline or slot is not the part's", file)
			return
		}
		for i, v := range want {
			if g := got[i]; !near(g[0], v.P.X) || !near(g[1], v.P.Y) || !near(g[2], v.Bulge) {
				t.Errorf("%s: vertex %d is %v, the part's %v", file, i, g, v)
			}
		}
	}
	outer, slots := 0, 0
	for _, e := range found.Entities {
		switch {
		case e.Layer == "OUTLINE":
			outer++
			same(e.Closed, e.Vertices, drawn.Outer)
		case e.Layer == "HOLES" && e.Kind != "CIRCLE":
			if slots < len(p.Flat.Profile.Slots) {
				same(e.Closed, e.Vertices, drawn.Slots[slots])
			}
			slots++
		}
	}
	if slots != len(p.Flat.Profile.Slots) {
		t.Errorf("%s: %d slots, the part has %d", file, slots, len(p.Flat.Profile.Slots))
	}
	if outer != 1 {
		t.Errorf("%s: %d outlines", file, outer)
	}
}

func (w written) part(id string) *parts.Part {
	for _, p := range w.job.Assembly.Parts {
		if p.ID == id && p.Flat != nil {
			return p
		}
	}
	return nil
}

func (w written) meshesAreSound(t *testing.T) {
	t.Helper()
	files := append(w.glob(t, "model/*.stl"), w.glob(t, "print/*.stl")...)
	for _, f := range files {
		id := strings.TrimSuffix(filepath.Base(f), ".stl")
		report := outside.Run(t, "admesh", f)
		for label, want := range map[string]float64{
			"Total disconnected facets": 0, "Degenerate facets": 0, "Edges fixed": 0, "Facets removed": 0,
			"Facets added": 0, "Facets reversed": 0, "Backwards edges": 0, "Normals fixed": 0,
		} {
			if got := outside.Figure(t, report, label); got != want {
				t.Errorf("%s: admesh says %s %v, want %v", f, label, got, want)
			}
		}
		p := w.solid(id)
		if p == nil {
			continue // assembly.stl: many bodies
		}
		if n := outside.Figure(t, report, "Number of parts"); n != 1 {
			t.Errorf("%s: %v parts", f, n)
		}
		if v, want := outside.Figure(t, report, "Volume"), p.Solid.Volume(); math.Abs(v/want-1) > 0.001 {
			t.Errorf("%s: admesh finds %g mm3, the part has %g", f, v, want)
		}
	}
}

func (w written) solid(id string) *parts.Part {
	for _, p := range w.job.Assembly.Parts {
		if p.ID == id {
			return p
		}
	}
	return nil
}
