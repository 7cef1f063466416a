package params

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"clampwright/params/diag"
	"clampwright/params/unit"
)

// sampleValue is a value that a key of the file takes.
func sampleValue(p PathInfo) string {
	switch {
	case len(p.Words) > 0:
		return p.Words[len(p.Words)-1]
	case p.Example != "":
		return p.Example
	case p.Kind == "switch":
		return "true"
	case p.Kind == "count":
		return fmt.Sprint(math.Max(p.Lo, 2))
	case p.Kind == "word":
		return "no: such row"
	}
	x := math.Sqrt(math.Max(p.Lo, 0.5)*math.Max(p.Hi, 1)) / 2
	return map[string]string{"length": fmt.Sprintf("%.3f mm", x), "torque": "1.5 N.m", "pressure": "90 kPa"}[p.Kind]
}

// withoutPlaces takes what tells where a value stood off a fixture.
func withoutPlaces(f *Fixture) *Fixture {
	if f == nil {
		return nil
	}
	out := *f
	out.InputSHA256, out.origins, out.file = "", nil, nil
	out.Electrical.Links, out.Readings = nil, slices.Clone(f.Readings)
	for i := range out.Readings {
		out.Readings[i].At = diag.Range{}
	}
	for _, s := range f.Electrical.Links {
		s.At = diag.Range{}
		links := s.Links
		s.Links = nil
		for _, l := range links {
			s.Links = append(s.Links, UserLink{Text: l.Text})
		}
		out.Electrical.Links = append(out.Electrical.Links, s)
	}
	return &out
}

// twins makes a change in the text and in the decoded file, and wants one fixture
// of both, or none.
func twins(t *testing.T, name string, text []byte, base *Fixture, c Change) (settles bool) {
	t.Helper()
	_, want, err := Set(name, text, []Change{c})
	got, errTwin := base.Set(c)
	if (err == nil) != (errTwin == nil) {
		t.Errorf("%s: %+v: text: %v; twin: %v", name, c, err, errTwin)
		return false
	}
	if !reflect.DeepEqual(withoutPlaces(got), withoutPlaces(want)) {
		t.Errorf("%s: %+v: text and twin give different fixtures", name, c)
	}
	return err == nil
}

const crowded = `{fixture: f, units: in, cell: {model: 72x174x201, terminals: {pitch: 4 3/4}}, pack: {cells: 8, rows: 2},
  rods: {levels: [2, 6]}, stiffeners: none, separators: none,
  stock: {sheets: [{material: hdpe, thickness: 3/4, width: 24, height: 48}], rods: [{length: 36}]},
  electrical: {series: 8, links: [{state: final, links: [A1+ A2-, A2+ A3-]}]},
  clamp: {growth: [{charge: 0, growth: 0}, {charge: 1, growth: 0.3 mm}]},
  tables: {materials: [{name: hdpe, e: 800 MPa}], cells: [{name: mine, thickness: 50 mm, width: 160 mm, height: 110 mm}]},
  variants: [{name: two, cells: 2, rows: 1}]}
`

// Every key, set in the text of a file or in the file as it is decoded, gives the
// same fixture: given before, derived before, inside a block that is none.
func TestSetTwins(t *testing.T) {
	files := map[string][]byte{"crowded.yaml": []byte(crowded), "editable.yaml": []byte(editable)}
	for _, name := range []string{"four-cell-offcut.yaml", "three-cell-ribs.yaml"} {
		text, err := os.ReadFile(filepath.Join("..", "examples", name))
		if err != nil {
			t.Fatal(err)
		}
		files[name] = text
	}
	for name, text := range files {
		base, diags := Load(name, text)
		if base == nil {
			t.Fatal(name, diags)
		}
		settled, keys := 0, Paths()
		for _, p := range keys {
			if twins(t, name, text, base, Change{Path: p.Path, Value: sampleValue(p)}) {
				settled++
			}
			twins(t, name, text, base, Change{Path: p.Path})
		}
		if settled < len(keys)*3/4 {
			t.Errorf("%s: only %d of %d settle", name, settled, len(keys))
		}
	}
}

// The same for items of lists, keys inside them, whole blocks and wrong paths.
func TestSetLists(t *testing.T) {
	base, diags := Load("c.yaml", []byte(crowded))
	if base == nil {
		t.Fatal(diags)
	}
	for _, c := range []struct {
		path, value string
		settles     bool
	}{
		{"rods.levels[1]", "5.5", true},
		{"rods.levels[2]", "7", true},
		{"rods.levels[3]", "7", false},
		{"rods.levels[0]", "", false}, // one is left
		{"rods.columns[0]", "-220 mm", true},
		{"rods.columns[3]", "220 mm", false},
		{"rods.columns", "[-220 mm, 220 mm]", true},
		{"stock.sheets[0].width", "30", true},
		{"stock.sheets[0].quantity", "2", true},
		{"stock.sheets[0].width", "", false},
		{"stock.sheets[1]", "{material: hdpe, thickness: 1, width: 20, height: 20}", true},
		{"stock.sheets[1].width", "20", false},
		{"stock.sheets[0]", "", true},
		{"stock.rods[0].item", "M8", true},
		{"stock.angles[0]", "{length: 6 ft, item: 30x30x3 mm aluminium}", true},
		{"electrical.links[0].links[1]", "A2- A3+", true},
		{"electrical.links[0].state", "balance", true},
		{"clamp.growth[1].growth", "0.4 mm", true},
		{"clamp.growth[1].charge", "2", false},
		{"readings", "[{what: turns, when: set, value: 2}]", true},
		{"readings", "[{what: turns, value: 2}]", false}, // when?
		{"readings", "[{what: stack, when: snug, value: 11 1/2}, {what: stack, when: set, value: 11.45}, {what: turns, when: set, value: 1}]", true},
		{"tables.materials[0].e", "700 MPa", true},
		{"tables.cells[0].thickness", "", false},
		{"tables.grades", "[{name: own, proof: 400 MPa, yield: 420 MPa, tensile: 500 MPa, modulus: 200 GPa, density_g_cm3: 8}]", true},
		{"variants[0].cells", "4", true},
		{"variants[0].name", "", false},
		{"units", "mm", false}, // 4 3/4 mm between terminals
		{"springs", "{ends: both}", true},
		{"stiffeners", "{}", true},
		{"liners", "none", true},
		{"stiffeners.gauge", "", true}, // none stays none
		{"tools.drills[0]", "metric", true},
		{"tools.drills", "[fraction, 8.5]", true},
		{"pack.cells", "", false},
		{"cell", "", false},
		{"rods.nothing", "1", false},
		{"rods.levels.x", "1", false},
		{"fixture[0]", "x", false},
		{"plates.thickness", "[", false},
		{"plates.thickness", "1: 2", false},
		{"rods.thread", "null", false},
	} {
		if got := twins(t, "c.yaml", []byte(crowded), base, Change{Path: c.path, Value: c.value}); got != c.settles {
			t.Errorf("%s: %q settles: %v", c.path, c.value, got)
		}
	}
	if got, err := base.Set(Change{Path: "nuts.drag_min", Value: "1 N.m"}, Change{Path: "nuts.drag_max", Value: "2 N.m"}); err != nil || got.Nut.DragMin != 1000 {
		t.Errorf("a block made key by key: %v", err)
	}
	if base.Rods.Levels[1] != 6*25.4 || len(base.file.Rods.Levels) != 2 || base.file.Rods.Levels[1].V != 6*25.4 || base.file.changes != nil {
		t.Error("the file that was changed from has changed itself")
	}
}

// Items of lists in the text: what is not changed keeps its spelling, and a block
// that was derived is written whole.
func TestEditLists(t *testing.T) {
	text := editable + "stock:\n  sheets:\n    - material: hdpe\n      thickness: 19 mm\n      width: 600 mm\n      height: 1/2 m\n    - {material: hdpe, thickness: 25 mm, width: 24 in, height: 8 in}\n"
	for _, c := range []struct {
		change Change
		want   string
	}{
		{Change{"rods.levels[1]", "160 mm", "clear"}, "rods:\n  thread: M8\n  levels: [50 mm, 160 mm]  # clear\n"},
		{Change{"rods.columns[1]", "110.25 mm", ""}, "  columns: [-98.5 mm, 110.25 mm]\n"},
		{Change{"stock.sheets[1].width", "20 in", ""}, "  sheets:\n    - {material: hdpe, thickness: 19 mm, width: 600 mm, height: 1/2 m}\n    - {material: hdpe, thickness: 25 mm, width: 20 in, height: 8 in}\n"},
		{Change{"stock.sheets[0]", "", ""}, "  sheets:\n    - {material: hdpe, thickness: 25 mm, width: 24 in, height: 8 in}\n"},
		{Change{"stock.rods[0]", "{length: 1 m}", ""}, "  rods: [{length: 1 m}]\n"},
	} {
		got, err := Edit("e.yaml", []byte(text), []Change{c.change})
		if err != nil || !strings.Contains(string(got), c.want) {
			t.Errorf("%+v gives %v\n%s", c.change, err, got)
		}
	}
}

// What is written reads back within 1e-9 mm, in the file's unit where it is exact.
func TestLengthText(t *testing.T) {
	for _, c := range []struct {
		mm   unit.Length
		unit unit.LengthUnit
		want string
	}{
		{19.05, unit.Inch, "3/4 in"}, {19.05, unit.Millimetre, "19.05 mm"}, {25.4 / 64, unit.Inch, "1/64 in"},
		{0.254, unit.Inch, "0.01 in"}, {17.7, unit.Inch, "17.7 mm"}, {-107, unit.Millimetre, "-107 mm"}, {0, unit.Inch, "0 in"},
		{100.0 / 3, unit.Millimetre, "33.333333333 mm"},
	} {
		if got := LengthText(c.mm, c.unit); got != c.want {
			t.Errorf("%g in %s is %q, wanted %q", float64(c.mm), c.unit, got, c.want)
		}
	}
	for i := range 400 {
		l := unit.Length(math.Sqrt(float64(i)) * 7.3)
		for _, u := range []unit.LengthUnit{unit.Inch, unit.Millimetre} {
			if back, err := unit.ParseLength(LengthText(l, u), unit.Millimetre); err != nil || math.Abs(float64(back-l)) > 1e-9 {
				t.Errorf("%.12g comes back as %.12g: %v", float64(l), float64(back), err)
			}
		}
	}
}

func BenchmarkSetTwin(b *testing.B) {
	file, _ := Decode("t.yaml", []byte(variantFile))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := file.With(Change{Path: "plates.thickness", Value: "18 mm"}, Change{Path: "rods.thread", Value: "M8"}, Change{Path: "rods.levels", Value: "[50 mm, 150 mm]"}); err != nil {
			b.Fatal(err)
		}
	}
}
