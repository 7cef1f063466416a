package export

import (
	"context"
	"testing"

	"clampwright/params"
)

// A long pack with long spring stacks is drawn too, on larger paper where the usual
// ones do not hold the assembly.
func TestLongPackIsDrawn(t *testing.T) {
	f, diags := params.Load("long.yaml", []byte("fixture: long\ncell: {model: 72x174x201, force: 300 kgf, force_tolerance: 60 kgf, force_limit: 900 kgf}\n"+
		"pack: {cells: 16}\nplates: {material: birch plywood, thickness: 18}\nsprings: {ends: one}\nseparators: {material: fr4, thickness: 0.5}\n"))
	if f == nil {
		t.Fatal(diags)
	}
	j, err := compute(context.Background(), f, noStep)
	if err != nil {
		t.Fatal(err)
	}
	if files := artifacts(t, j); len(files["drawings/assembly.pdf"]) == 0 {
		t.Error("no assembly drawing")
	}
}
