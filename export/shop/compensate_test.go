package shop

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/job"
	"clampwright/assembly/nest"
	"clampwright/export/mark"
	"clampwright/export/views"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/testdata/outside"
	"clampwright/testdata/ready"
)

// cutFiles are the files for a machine of an example with a line of its file changed.
func cutFiles(t *testing.T, set ...params.Change) (files []File, j *job.Job) {
	t.Helper()
	f, err := ready.Fixture(t, "sixteen-cell-two-rows", ready.Text(t, "sixteen-cell-two-rows")).Set(set...)
	if err != nil {
		t.Fatal(err)
	}
	f.InputSHA256 = strings.Repeat("0", 64)
	j = &job.Job{Fixture: f}
	if j.Assembly, err = assembly.Build(f); err != nil {
		t.Fatal(err)
	}
	if j.Nest, err = nest.Of(j.Assembly); err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(Files(j, views.New(j.Assembly), mark.New(1, f.InputSHA256, "pass", "f"), "f"), func(f File) bool { return !strings.HasPrefix(f.Name, "cut/") }), j
}

// Without compensation all is nominal; with it every part and every sheet is there
// again by the middle of the tool, its diameter in the name, and cut/ is what it was.
func TestCompensatedFilesAllOrNone(t *testing.T) {
	names := func(files []File) (out []string) {
		for _, f := range files {
			out = append(out, f.Name)
		}
		return out
	}
	plain, _ := cutFiles(t)
	both, _ := cutFiles(t, params.Change{Path: "stock.compensate", Value: "true"})
	want := names(plain)
	for _, name := range slices.Clone(want) {
		want = append(want, strings.Replace(strings.TrimSuffix(name, ".dxf"), "cut/", "cut/compensated-cutter-6mm/", 1)+"-cutter-6mm.dxf")
	}
	got := names(both)
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	laser, _ := cutFiles(t, params.Change{Path: "stock.compensate", Value: "true"}, params.Change{Path: "tools.cutter"}, params.Change{Path: "stock.beam_kerf", Value: "0.2 mm"})
	if !slices.Contains(names(laser), "cut/compensated-beam-0.2mm/end-plate-beam-0.2mm.dxf") {
		t.Errorf("%v", names(laser))
	}
}

// A sheet that is its part already is a file of holes and words: none of its edges is cut.
func TestWholeSheetFile(t *testing.T) {
	files, j := cutFiles(t, params.Change{Path: "stock.compensate", Value: "true"},
		params.Change{Path: "stock.sheets", Value: "[{material: 6061-T6, thickness: 10, width: 442, height: 201, quantity: 2}, {material: fr4, thickness: 1, width: 600, height: 600}]"})
	whole := 0
	for _, f := range files {
		var b strings.Builder
		if err := f.Encode(&b); err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		if strings.Contains(b.String(), "edges stay, corners by hand") {
			whole++
			if strings.Contains(b.String(), "\n8\nOUTLINE\n") || strings.Count(b.String(), "AcDbCircle") != 8 {
				t.Errorf("%s: cuts an outline, or other than eight holes", f.Name)
			}
		}
	}
	if whole != 4 || len(j.Nest.Machining.Sheets) != 3 {
		t.Errorf("%d files of sheets that are plates already, of %d sheets", whole, len(j.Nest.Machining.Sheets))
	}
}

// A template is of what is drilled by hand: of a plate from a machine the holes that it
// can't open, of one that it makes whole there is none.
func TestTemplatesOfWhatIsLeft(t *testing.T) {
	for cutter, want := range map[string]string{"": "H1 H2 H3 H4 H5 H6 H7 H8 SL1 SL2", "6": "", "6.5": "H7 H8", "8": "H7 H8"} {
		_, j := cutFiles(t, params.Change{Path: "tools.cutter", Value: cutter}, params.Change{Path: "plates.tie_slots", Value: "true"})
		var got []string
		for _, tp := range templates(j) {
			if tp.Part.Kind != parts.KindPlate {
				continue
			}
			for _, h := range tp.Part.Holes {
				got = append(got, h.ID)
			}
			for _, s := range parts.Slots(tp.Part.Flat) {
				got = append(got, s.ID)
			}
		}
		if strings.Join(got, " ") != want {
			t.Errorf("cutter %q: %v, want %s", cutter, got, want)
		}
	}
}

// The compensated lines lie off the nominal ones by half the tool to 0.001 mm, as an
// outside reader measures them; they are open, begin in waste and leave tabs; every
// outline comes after all holes, and NOTE has nothing but words.
func TestCompensatedOffset(t *testing.T) {
	files, _ := cutFiles(t, params.Change{Path: "stock.compensate", Value: "true"})
	dir := t.TempDir()
	var paths []string
	for _, f := range files {
		path := filepath.Join(dir, strings.ReplaceAll(f.Name, "/", "_"))
		w, err := os.Create(path)
		if err == nil {
			err = f.Encode(w)
		}
		if err == nil {
			err = w.Close()
		}
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	type entity struct {
		Kind, Layer, Text string
		Closed            bool
		Vertices          [][3]float64
	}
	var got []struct {
		Errors, Fixes []string
		Entities      []entity
	}
	if err := json.Unmarshal([]byte(outside.Python(t, "../dxf/testdata/measure.py", []string{"ezdxf"}, paths...)), &got); err != nil {
		t.Fatal(err)
	}
	holes, lines := map[string][]float64{}, map[string]map[string][]geom.Path{} // of each file: radii; by layer
	for i, g := range got {
		name := files[i].Name
		if len(g.Errors)+len(g.Fixes) > 0 {
			t.Errorf("%s: %v %v", name, g.Errors, g.Fixes)
		}
		outlines, noted := 0, false
		lines[name] = map[string][]geom.Path{}
		for _, e := range g.Entities {
			noted = noted || strings.Contains(e.Text, "cutter 6 mm, middle of the tool")
			switch {
			case e.Layer == "NOTE" && (e.Closed || e.Kind != "TEXT"):
				t.Errorf("%s: %s on NOTE can be cut", name, e.Kind)
			case e.Layer == "HOLES" && outlines > 0:
				t.Errorf("%s: a hole after an outline", name)
			case e.Layer == "HOLES" && e.Kind == "CIRCLE":
				holes[name] = append(holes[name], e.Vertices[0][2])
			case e.Layer == "OUTLINE" || e.Layer == "HOLES":
				outlines += len(e.Layer) - len("HOLES")
				if e.Closed == strings.Contains(name, "6mm") {
					t.Errorf("%s: a line on %s is closed: %v", name, e.Layer, e.Closed)
				}
				var p geom.Path
				for _, v := range e.Vertices {
					p = append(p, geom.Vertex{P: geom.Vec2{X: v[0], Y: v[1]}, Bulge: v[2]})
				}
				lines[name][e.Layer] = append(lines[name][e.Layer], p)
			}
		}
		if noted != strings.Contains(name, "6mm") {
			t.Errorf("%s: says that it is the middle of the tool: %v", name, noted)
		}
	}
	measured, worst := 0, 0.0
	for name, nominal := range lines {
		if strings.Contains(name, "compensated") {
			continue
		}
		moved := "cut/compensated-cutter-6mm/" + strings.TrimSuffix(strings.TrimPrefix(name, "cut/"), ".dxf") + "-cutter-6mm.dxf"
		if !slices.EqualFunc(holes[name], holes[moved], func(a, b float64) bool { return math.Abs(a-b-3) < 0.001 }) {
			t.Errorf("%s: holes of %v, compensated %v", name, holes[name], holes[moved])
		}
		for layer, runs := range lines[moved] {
			for _, run := range runs {
				es := run.Edges()
				if down := off(nominal[layer], run[0].P); math.Abs(down-3.5) > 0.001 {
					t.Errorf("%s: the tool goes down %g off the line", moved, down)
				}
				for _, e := range es[1 : len(es)-1] {
					for k := range 5 {
						d := off(nominal[layer], e.At(float64(k)/4))
						measured, worst = measured+1, max(worst, math.Abs(d-3))
					}
				}
			}
			if n := len(nominal[layer]); layer == "OUTLINE" && len(runs) < 3*n {
				t.Errorf("%s: %d lines for %d outlines: no two tabs stand", moved, len(runs), n)
			}
		}
	}
	t.Logf("%d points, at most %.6f mm off", measured, worst)
	if measured < 100 || worst > 0.001 {
		t.Errorf("%d points, at most %g mm off", measured, worst)
	}
}

// off is how far a point lies from the nearest of some lines but for mitred corners, where
// the tool's middle runs on as far as the line does: mm along the nearer of x and y.
func off(lines []geom.Path, q geom.Vec2) float64 {
	least := math.Inf(1)
	for _, l := range lines {
		b := l.Bounds()
		d := math.Abs(l.DistTo(q))
		if out := b.Dist(geom.Box2{Min: q, Max: q}); d > 3.6 && out < d+1e-9 && len(l) == 4 { // past a square corner
			d = max(b.Min.X-q.X, q.X-b.Max.X, b.Min.Y-q.Y, q.Y-b.Max.Y)
		}
		least = min(least, d)
	}
	return least
}
