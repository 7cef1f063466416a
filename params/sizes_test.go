package params

import (
	"fmt"
	"testing"

	"clampwright/params/unit"
)

// A fixture with sheets as made has the row that its file has once it says so.
func TestAsMadeMovesTheRow(t *testing.T) {
	for _, stack := range []string{"", ", stack: 219 mm"} {
		load := func(thick float64) *Fixture {
			f, diags := Load("f.yaml", fmt.Appendf(nil, "fixture: t\ncell: {model: 54x174x200, force: 300 kgf}\npack: {cells: 4%s}\nseparators: {material: fr4, thickness: %g mm}\n", stack, thick))
			if f == nil || diags.HasErrors() {
				t.Fatal(diags)
			}
			return f
		}
		f, want := load(0.5), load(0.8)
		got, ok := f.AsMade(map[string][]unit.Length{"separators.thickness": {0.8}})
		if !ok {
			t.Fatal("no such size")
		}
		for what, v := range map[string][2]unit.Length{"pitch": {got.Pack.Pitch, want.Pack.Pitch}, "row": {got.Pack.StackLength, want.Pack.StackLength}, "cell": {got.Pack.CellThickness, want.Pack.CellThickness}} {
			if d := v[0] - v[1]; d > 1e-9 || d < -1e-9 {
				t.Errorf("stack %q: %s %g, settled %g", stack, what, v[0], v[1])
			}
		}
		if f.Pack.Pitch == want.Pack.Pitch && stack == "" || f.Separator.Thickness != 0.5 {
			t.Error("the fixture itself was changed")
		}
	}
}
