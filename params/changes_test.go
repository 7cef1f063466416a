package params

import (
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
	text := strings.NewReplacer("name: thin, model: 54x174x200", "name: thin, model: 1x2x3", "rows: 2}", "rows: 2}\n  - {name: eight, cells: 9, rows: 2}\n  - {cells: x}",
		"stack: 287 mm", "stak: 287 mm", "fixture: base", "fixture: base\nplates: {material: gold}").Replace(variantFile)
	f, vs, diags := LoadAll("pack.yaml", []byte(text))
	if f != nil || vs != nil {
		t.Error("a file with errors gives fixtures")
	}
	for _, want := range []string{
		`pack.yaml:2:20: error: no row "gold"`, `pack.yaml:4:18: error: unknown key "stak"`, "pack.yaml:8:25: error: variant thin: cell thickness from the model name",
		"pack.yaml:10:12: error: the variant's name is taken", "pack.yaml:10:26: error: variant eight: the cells don't fill the rows", "pack.yaml:11:6: error: variants[4].name is missing", "pack.yaml:11:13: error: variants[4].cells",
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
