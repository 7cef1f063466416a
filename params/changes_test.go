package params

import (
	"reflect"
	"slices"
	"strings"
	"testing"
)

func TestChanged(t *testing.T) {
	for _, c := range []struct {
		was, is string
		want    []string
	}{
		{"thickness: 19 mm", "thickness: 15 mm", []string{"plates.thickness: 19 mm -> 15 mm"}},
		{"thickness: 19 mm", "thickness: 1.9 cm # the same", nil},
		{"50 mm, 150 mm", "50 mm, 160 mm", []string{"rods.levels[1]: 150 mm -> 160 mm"}},
		{"50 mm, 150 mm", "50 mm, 100 mm, 160 mm", []string{"rods.levels: 2 items -> 3 items"}},
		{"stiffeners: none", "stiffeners: {}", []string{"stiffeners: none -> given"}},
		{"stiffeners: none", "# nothing", []string{"stiffeners: none -> not given"}},
		{"thread: M8, ", "", []string{"rods.thread: M8 -> not given"}},
		{"series: 6", "series: 8\n  ends: both", []string{"springs.series: 6 -> 8", "springs.ends: not given -> both"}},
		{"thread: M8, ", "thread: \"M10\", ", []string{"rods.thread: M8 -> \"M10\""}},
		{"thread: M8, ", "thread: 'M10', ", []string{"rods.thread: M8 -> 'M10'"}},
		{"# tail", "variants: [{name: two, cells: 2}]", []string{"variants: 0 items -> 1 item"}},
		{"fixture: f", "fixture: [", nil},
	} {
		got := Changed([]byte(editable), []byte(strings.Replace(editable, c.was, c.is, 1)))
		if !slices.Equal(got, c.want) {
			t.Errorf("%q for %q gives %q", c.is, c.was, got)
		}
	}
}

// What is wrong with the file and with each of its variants comes back together,
// each once.
func TestLoadAll(t *testing.T) {
	text := strings.NewReplacer("name: thin, model: 54x174x200", "name: thin, model: 1x2x3", "rows: 2}", "rows: 2}\n  - {name: eight, cells: 5, rows: 4}\n  - {cells: x}",
		"stack: 287 mm", "stak: 287 mm", "fixture: base", "fixture: base\nplates: {material: gold}").Replace(variantFile)
	f, vs, diags := LoadAll("pack.yaml", []byte(text))
	if f != nil || vs != nil {
		t.Error("a file with errors gives fixtures")
	}
	for _, want := range []string{
		`pack.yaml:2:20: error: no row "gold"`, `pack.yaml:4:18: error: unknown key "stak"`, "pack.yaml:8:25: error: variant thin: cell thickness from the model name",
		"pack.yaml:10:12: error: the variant's name is taken", "pack.yaml:10:26: error: variant eight: a row would have no cell", "pack.yaml:11:6: error: variants[4].name is missing", "pack.yaml:11:13: error: variants[4].cells",
	} {
		if n := strings.Count(diags.Error(), want); n != 1 {
			t.Errorf("%q stands %d times in\n%v", want, n, diags)
		}
	}
	if len(diags) != 7 {
		t.Errorf("%d errors:\n%v", len(diags), diags)
	}
	if f, vs, diags := LoadAll("pack.yaml", []byte(variantFile)); f == nil || len(vs) != 3 || len(diags) > 0 {
		t.Error(f, vs, diags)
	}
}

// Texts differ in as few lines as can be, each with its place in the earlier one.
func TestLines(t *testing.T) {
	for name, c := range map[string]struct {
		was, is string
		want    []Hunk
	}{
		"same":    {"a\nb\n", "a\nb\n", nil},
		"changed": {"a\nb\nc\n", "a\nx\nc\n", []Hunk{{2, []string{"b"}, []string{"x"}}}},
		"added":   {"a\nc\n", "a\nb\nc\n", []Hunk{{2, nil, []string{"b"}}}},
		"left":    {"a\nb\nc\n", "a\nc\n", []Hunk{{2, []string{"b"}, nil}}},
		"two":     {"a\nb\nc\nd\ne\n", "a\nx\nc\ne\n", []Hunk{{2, []string{"b"}, []string{"x"}}, {4, []string{"d"}, nil}}},
		"at end":  {"a\n", "a\nb\n", []Hunk{{2, nil, []string{"b"}}}},
		"moved":   {"a\nb\nc\n", "b\nc\na\n", []Hunk{{1, []string{"a"}, nil}, {4, nil, []string{"a"}}}},
		"returns": {"a\r\nb\r\n", "a\r\nx\r\n", []Hunk{{2, []string{"b"}, []string{"x"}}}},
	} {
		if got := Lines([]byte(c.was), []byte(c.is)); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
	long := strings.Repeat("a\nb\n", 3000)
	if got := Lines([]byte("x\n"+long+"x\n"), []byte("y\n"+long+"y\n")); len(got) != 1 || len(got[0].Was) != 6002 {
		t.Errorf("texts that differ far and wide: %d hunks", len(got))
	}
}
