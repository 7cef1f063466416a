package assembly

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/params"
)

// The chain is as long as its solids where they are placed, from the outermost nut
// at one end to that at the other, and so is each kind of layer.
func TestChainAgainstSolids(t *testing.T) {
	fixtures := map[string]*params.Fixture{"four cells": sample.FourCells(), "two rows": sample.TwoRows()}
	files, _ := filepath.Glob("../examples/*.yaml")
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		f, diags := params.Load(name, text)
		if f == nil {
			t.Fatal(diags)
		}
		fixtures[name] = f
	}
	for name, f := range fixtures {
		a, chain := built(t, f), f.Chain().All()
		lo, hi := math.Inf(1), math.Inf(-1)
		seen := map[params.LayerKind]bool{}
		for i := range a.Instances {
			w := &a.Instances[i]
			kind, in := layerOf(w)
			if !in {
				continue
			}
			seen[kind] = true
			box := boxOf(w)
			if kind == params.LayerLeg || kind == params.LayerSeparator && f.Separator.Printed { // the standing leg, and lips, reach beyond the layer
				continue
			}
			lo, hi = math.Min(lo, box.Min.Z), math.Max(hi, box.Max.Z)
			thick := box.Max.Z - box.Min.Z
			if want := chain.Thick(kind, kind).MM() / float64(pieces(chain, kind)); math.Abs(thick-want) > 1e-6 {
				t.Errorf("%s: %s is %g mm thick, %g in the chain", name, w.ID, thick, want)
			}
		}
		if want := chain.Thick(params.LayerCell, params.LayerJamNut).MM(); math.Abs(hi-lo-want) > 1e-6 {
			t.Errorf("%s: %g mm over all, %g in the chain", name, hi-lo, want)
		}
		for _, r := range chain.Runs() {
			if !seen[r.Kind] {
				t.Errorf("%s: no %s is placed", name, r.Kind)
			}
		}
	}
}

func pieces(ls params.Layers, k params.LayerKind) int {
	for _, r := range ls.Runs() {
		if r.Kind == k {
			return r.Pieces
		}
	}
	return 0
}

// layerOf is the kind of layer that an instance is, if it is one.
func layerOf(w *Instance) (params.LayerKind, bool) {
	switch {
	case w.Role == RoleWasher && w.Layer != LayerSeat:
		return params.LayerSpringWasher, true
	case w.Role == RoleStiffener:
		return params.LayerLeg, true
	}
	k, ok := map[Role]params.LayerKind{RoleCell: params.LayerCell, RoleSeparator: params.LayerSeparator, RoleLiner: params.LayerLiner, RolePlate: params.LayerPlate,
		RoleWasher: params.LayerWasher, RoleSpring: params.LayerSpring, RoleNut: params.LayerNut, RoleJamNut: params.LayerJamNut}[w.Role]
	return k, ok
}
