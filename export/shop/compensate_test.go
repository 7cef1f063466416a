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

// The compensated outlines lie outside the nominal ones by half the tool, the holes
// inside, to 0.001 mm, as an outside reader measures them; every outline comes after
// all holes, and NOTE has no closed line.
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
	size := map[string][]float64{} // of each file: widths of outlines, radii of holes, in order
	for i, g := range got {
		if len(g.Errors)+len(g.Fixes) > 0 {
			t.Errorf("%s: %v %v", files[i].Name, g.Errors, g.Fixes)
		}
		outlines, noted := 0, false
		for _, e := range g.Entities {
			noted = noted || strings.Contains(e.Text, "cutter 6 mm, middle of the tool")
			switch {
			case e.Layer == "NOTE" && (e.Closed || e.Kind == "CIRCLE"):
				t.Errorf("%s: %s on NOTE can be cut", files[i].Name, e.Kind)
			case e.Layer == "HOLES" && outlines > 0:
				t.Errorf("%s: a hole after an outline", files[i].Name)
			case e.Layer == "HOLES":
				size[files[i].Name] = append(size[files[i].Name], -e.Vertices[0][2])
			case e.Layer == "OUTLINE":
				outlines++
				lo, hi := math.Inf(1), math.Inf(-1)
				for _, v := range e.Vertices {
					lo, hi = min(lo, v[0]), max(hi, v[0])
				}
				size[files[i].Name] = append(size[files[i].Name], (hi-lo)/2)
			}
		}
		if noted != strings.Contains(files[i].Name, "6mm") {
			t.Errorf("%s: says that it is the middle of the tool: %v", files[i].Name, noted)
		}
	}
	for name, nominal := range size {
		if strings.Contains(name, "compensated") {
			continue
		}
		moved := size["cut/compensated-cutter-6mm/"+strings.TrimSuffix(strings.TrimPrefix(name, "cut/"), ".dxf")+"-cutter-6mm.dxf"]
		if len(moved) != len(nominal) {
			t.Fatalf("%s: %d entities, %d compensated", name, len(nominal), len(moved))
		}
		for i := range moved {
			if math.Abs(moved[i]-nominal[i]-3) > 0.001 {
				t.Errorf("%s: %g, compensated %g", name, nominal[i], moved[i])
			}
		}
	}
}
