package params

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const editable = `# head
fixture: f
cell: {model: 72x174x201}
pack: {cells: 4}

# the plates
plates:
  material: hdpe   # mine
  # a thought
  thickness: 19 mm
rods: {thread: M8, levels: [50 mm, 150 mm]}
stiffeners: none

springs:
  disc: 20x10.2x1.1
  series: 6
# tail
`

func TestEdit(t *testing.T) {
	for _, c := range []struct {
		change     Change
		want, gone string
	}{
		{Change{"plates.material", "acetal", "light"}, "  # was: material: hdpe   # mine\n  material: acetal  # light\n  # a thought\n", ""},
		{Change{"plates.width", "240 mm", ""}, "  thickness: 19 mm\n  width: 240 mm\n", ""},
		{Change{"plates.thickness", "", ""}, "rods:", "thickness"},
		{Change{"rods.thread", "", "follows"}, "rods:\n  # left out: follows\n  # was: thread: M8\n  levels: [50 mm, 150 mm]\n", ""},
		{Change{"rods.thread", "M6", ""}, "rods:\n  thread: M6\n  levels: [50 mm, 150 mm]\n", "M8"},
		{Change{"rods.hole", "9 mm", ""}, "  levels: [50 mm, 150 mm]\n  hole: 9 mm\n", ""},
		{Change{"stiffeners.angle", "30x30x3 mm aluminium", ""}, "stiffeners:\n  angle: 30x30x3 mm aluminium\n", "none"},
		{Change{"springs", "none", "locked"}, "springs: none  # locked\n# tail\n", "series"},
		{Change{"springs", "", ""}, "# tail\n", "disc"},
		{Change{"nuts.kind", "plain", ""}, "\nnuts:\n  kind: plain\n", ""},
		{Change{"nuts", "", ""}, "# tail\n", "nuts"},
		{Change{"tools.pliers.room", "4 mm", "tight"}, "\ntools:\n  pliers:\n    room: 4 mm  # tight\n", ""},
		{Change{"cell.terminals.pitch", "120 mm", ""}, "cell:\n  model: 72x174x201\n  terminals:\n    pitch: 120 mm\n", "{model"},
		{Change{"tools.pliers.room", "", ""}, "# tail\n", "pliers"},
	} {
		got, err := Edit("e.yaml", []byte(editable), []Change{c.change})
		if err != nil {
			t.Errorf("%+v: %v", c.change, err)
			continue
		}
		if !strings.Contains(string(got), c.want) || c.gone != "" && strings.Contains(string(got), c.gone) {
			t.Errorf("%+v gives\n%s", c.change, got)
		}
		if !strings.HasPrefix(string(got), "# head\nfixture: f\n") {
			t.Errorf("%+v changed the head:\n%s", c.change, got)
		}
	}
	deep := []byte("fixture: f\ncell: {model: 72x174x201, terminals: {pitch: 122 mm, thread: M6}}  # as measured\npack: {cells: 4}\n")
	for _, c := range []struct {
		change Change
		want   string
	}{
		{Change{"cell.terminals.thread", "M8", ""}, "# as measured\ncell:\n  model: 72x174x201\n  terminals:\n    pitch: 122 mm\n    thread: M8\npack"},
		{Change{"cell.terminals.thread", "", ""}, "  terminals:\n    pitch: 122 mm\npack"},
		{Change{"cell.terminals", "", ""}, "cell:\n  model: 72x174x201\npack"},
	} {
		got, err := Edit("d.yaml", deep, []Change{c.change})
		if err != nil || !strings.Contains(string(got), c.want) {
			t.Errorf("%+v gives %v\n%s", c.change, err, got)
		}
	}
	if got, err := Edit("d.yaml", deep, []Change{{"cell.terminals.thread", "", ""}, {"cell.terminals.pitch", "", ""}}); err != nil || strings.Contains(string(got), "terminals") {
		t.Errorf("an emptied block stays: %v\n%s", err, got)
	}
	if _, err := Edit("e.yaml", []byte(editable), []Change{{"plates.thickness", "[", ""}}); err == nil {
		t.Error("wrote a file that does not read back")
	}
}

// Every example stays what it is when a value is written over itself.
func TestEditExamples(t *testing.T) {
	files, _ := filepath.Glob("../examples/*.yaml")
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		f, diags := Load(name, text)
		if f == nil {
			t.Fatal(diags)
		}
		out, err := Edit(name, text, []Change{{"plates.thickness", LengthText(f.Plate.Thickness, f.Style.Unit), "kept"}, {"pack.rows", "1", ""}})
		if err != nil {
			t.Fatal(err)
		}
		if n, m := strings.Count(string(text), "\n"), strings.Count(string(out), "\n"); m < n || m > n+2 { // either key may be new
			t.Errorf("%s: %d lines became %d", name, n, m)
		}
	}
}

func TestPaths(t *testing.T) {
	seen := map[string]PathInfo{}
	for _, p := range Paths() {
		seen[p.Path] = p
	}
	if p := seen["plates.thickness"]; p.Kind != "length" || p.Lo != 1 || p.Hi != 100 {
		t.Errorf("plates.thickness: %+v", p)
	}
	if p := seen["tools.pliers.room"]; p.Kind != "length" {
		t.Errorf("tools.pliers.room: %+v", p)
	}
	if len(seen) < 150 {
		t.Errorf("%d keys", len(seen))
	}
}

// A change to the value that stands there leaves the text alone.
func TestEditOfTheSameValue(t *testing.T) {
	for _, c := range []Change{
		{"plates.material", "hdpe", "light"}, {"plates.thickness", "1.9 cm", ""}, {"rods.levels", "[5 cm, 150 mm]", "as found"},
		{"springs", "{series: 6, disc: 20x10.2x1.1}", ""}, {"stiffeners", "none", ""}, {"nuts.kind", "", ""},
	} {
		got, err := Edit("e.yaml", []byte(editable), []Change{c})
		if err != nil || string(got) != editable {
			t.Errorf("%+v gives %v\n%s", c, err, got)
		}
	}
	if got, err := Edit("e.yaml", []byte(editable), []Change{{"nuts.kind", "prevailing", ""}}); err != nil || !strings.Contains(string(got), "kind: prevailing") {
		t.Errorf("a default that is written out is a change: %v\n%s", err, got)
	}
}

// Line endings and a byte order mark stay as they are.
func TestEditKeepsEndings(t *testing.T) {
	text := "\uFEFF" + strings.ReplaceAll(editable, "\n", "\r\n")
	got, err := Edit("e.yaml", []byte(text), []Change{{"plates.material", "acetal", "light"}, {"nuts.kind", "plain", ""}, {"rods.thread", "M6", ""}})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(string(got), "\uFEFF# head\r\n") || strings.Count(string(got), "\n") != strings.Count(string(got), "\r\n") || strings.Contains(string(got), "\r\r") {
		t.Errorf("%q", got)
	}
	plain, err := Edit("e.yaml", []byte(editable), []Change{{"plates.material", "acetal", "light"}, {"nuts.kind", "plain", ""}, {"rods.thread", "M6", ""}})
	if err != nil || strings.ReplaceAll(strings.TrimPrefix(string(got), "\uFEFF"), "\r\n", "\n") != string(plain) {
		t.Errorf("%v\n%s", err, got)
	}
	if _, diags := Load("e.yaml", []byte("\uFEFF"+least)); len(diags) > 0 {
		t.Error(diags)
	}
}

// Paths of files are told from the new folder, and only those that depend on it.
func TestRebase(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct{ given, from, to, want string }{
		{"cells.csv", "packs", "packs/sized", "../cells.csv"},
		{"data/cells.csv", "packs", ".", "packs/data/cells.csv"},
		{"../cells.csv", "packs/a", "packs", "cells.csv"},
		{"cells.csv", "packs", "packs", "cells.csv"},
		{filepath.Join(dir, "cells.csv"), "packs", "other", filepath.Join(dir, "cells.csv")},
	} {
		text := least + "electrical:\n  records: " + c.given + "  # measured\n"
		got, err := Rebase("p.yaml", []byte(text), filepath.Join(dir, c.from), filepath.Join(dir, c.to))
		if err != nil {
			t.Fatal(err)
		}
		file, _ := Decode("p.yaml", got)
		if file.Electrical.Records.V != c.want || c.given == c.want && string(got) != text {
			t.Errorf("%+v gives\n%s", c, got)
		}
	}
	if got, err := Rebase("p.yaml", []byte(least), "a", "b"); err != nil || string(got) != least {
		t.Errorf("%v\n%s", err, got)
	}
}
