package inputs

import (
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
)

// Four cells in two rows behind 12 mm plywood: held at the outside alone, the plate bows
// and leaves the middle of the faces free, which fails; with rods between the rows and
// thick plates it does not.
func TestMiddleBehindPlywood(t *testing.T) {
	const base = "fixture: a\npack: {cells: 4, rows: 2}\ncell: {model: 72x174x201, force: 300 kgf}\nstiffeners: none\n"
	for text, want := range map[string]bool{
		"plates: {material: birch plywood, thickness: 12}\nrods: {middle_column: false}\n": true,
		"plates: {material: 6061-T6, thickness: 15}\nrods: {middle_column: true}\n":        false,
	} {
		r, err := clamp.Solve(Clamp(load(t, base+text)))
		if err != nil {
			t.Fatal(err)
		}
		failed := false
		for _, f := range r.States[0].Findings {
			failed = failed || f.ID == clamp.MiddleShare && f.Verdict == finding.Fail
		}
		if failed != want {
			t.Errorf("%s: the middle fails: %t", text, failed)
		}
	}
}
