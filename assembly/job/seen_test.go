package job

import (
	"context"
	"reflect"
	"testing"

	"clampwright/params"
)

// What is taken from a fixture seen before is what comes out by itself: other plates,
// other stock, other cells, and the first again.
func TestSeenGivesTheSame(t *testing.T) {
	text := []byte("fixture: s\ncell: {model: 54x174x200, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 900 kgf, case: insulated}\npack: {cells: 3}\nplates: {material: birch plywood, thickness: 18}\nsprings: {}\n")
	base, diags := params.Load("s.yaml", text)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	var seen Seen
	for i, c := range []params.Change{{}, {Path: "plates.thickness", Value: "21 mm"}, {Path: "stock.margin", Value: "8 mm"}, {Path: "pack.cells", Value: "4"}, {Path: "tolerances.seed", Value: "7"}, {}} {
		f := base
		if c.Path != "" {
			var err error
			if f, err = base.Set(c); err != nil {
				t.Fatal(err)
			}
		}
		got, err := Compute(context.Background(), f, func(string) {}, Brief(&seen))
		if err != nil {
			t.Fatal(err)
		}
		want, err := Compute(context.Background(), f, func(string) {}, WithAnswers(0))
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got.Findings, want.Findings) || !reflect.DeepEqual(got.Clamp, want.Clamp) || got.Assurance.Share != want.Assurance.Share || got.Cost.Pay() != want.Cost.Pay() {
			t.Errorf("%d %+v: another verdict than by itself", i, c)
		}
	}
	if len(seen.solved) != 3 {
		t.Errorf("%d clamps solved, want 3: plates and cells change it, stock and seed do not", len(seen.solved))
	}
}
