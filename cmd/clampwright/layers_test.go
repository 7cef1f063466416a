package main

import (
	"encoding/json"
	"os/exec"
	"strings"
	"testing"
)

// layers is the import rule: a package may import packages of a lower layer, or
// of its own family where within says so. Leaves import only what leafOf names.
var layers = map[string]int{
	"params/unit": 0, "params/diag": 0, "params/number": 0, "params/words": 0, "parts/geom": 0,
	"params/catalog": 1, "assembly/finding": 1, "assembly/assure": 1, "assembly/estimate": 2,
	"params": 2,
	"parts":  3, "parts/printed/relief": 3, "parts/printed": 4,
	"assembly":      5,
	"assembly/nest": 6, "assembly/clamp": 6, "assembly/wiring": 6,
	"assembly/check": 7, "assembly/inputs": 7,
	"assembly/sizing": 8, "assembly/stackup": 8, "assembly/work": 8, "export/mark": 8,
	"assembly/remedy": 9, "export/folder": 9,
	"assembly/job": 10,
	"export/dxf":   10, "export/mesh": 10, "export/drawing": 10, "export/page": 10, "export/step": 10,
	"export/sheets": 11, "export/pdf": 11, "export/svg": 11, "export/views": 11, "export/steps": 11, "export/lists": 11,
	"export/tell": 12, "export/shop": 12,
	"export/report":  13,
	"export":         14,
	"export/compare": 15, "export/trace": 15,
	"export/live":     16,
	"cmd/clampwright": 17,
}

// leaves may import only the standard library and these modules.
var leaves = map[string][]string{
	"params/unit": nil, "params/number": nil, "params/words": nil, "parts/geom": nil, "assembly/finding": nil,
	"params/diag": {"github.com/agnivade/levenshtein"},
}

// Data flows one way: params -> parts -> assembly -> export -> cmd.
func TestLayers(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "clampwright/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	dec := json.NewDecoder(strings.NewReader(string(out)))
	for dec.More() {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		checkLayer(t, strings.TrimPrefix(p.ImportPath, "clampwright/"), p.Imports)
	}
}

func checkLayer(t *testing.T, pkg string, imports []string) {
	if strings.Contains(pkg, "internal/") || strings.HasPrefix(pkg, "testdata/") {
		return // helpers of tests
	}
	level, known := layers[pkg]
	if !known {
		t.Errorf("%s is in no layer: add it to the table and to DEVELOPERS.md", pkg)
		return
	}
	for _, imp := range imports {
		own, ours := strings.CutPrefix(imp, "clampwright/")
		switch {
		case ours && layers[own] >= level:
			t.Errorf("%s (layer %d) imports %s (layer %d)", pkg, level, own, layers[own])
		case !ours && strings.Contains(imp, "."):
			allowed, leaf := leaves[pkg]
			if leaf && !contains(allowed, imp) {
				t.Errorf("%s is a leaf and imports %s", pkg, imp)
			}
		}
	}
	if pkg == "assembly/check" && contains(imports, "clampwright/assembly/clamp") || pkg == "assembly/clamp" && contains(imports, "clampwright/assembly/check") {
		t.Errorf("check and clamp must not import each other")
	}
	if pkg == "export/steps" && contains(imports, "clampwright/assembly/job") {
		t.Errorf("steps are worded from the step alone: what a wording needs is a field of it")
	}
}

func contains(list []string, s string) bool {
	for _, v := range list {
		if v == s {
			return true
		}
	}
	return false
}
