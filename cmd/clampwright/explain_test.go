package main

import (
	"context"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"clampwright/export/tell"
	"clampwright/params"
)

// Every key, every check of a fixture and every word of the card is explained, in
// lines no wider than the screen; a key with its value where it has one.
func TestExplainEverything(t *testing.T) {
	var out, err strings.Builder
	ui := &console{out: &out, err: &err, width: columns}
	j, bad := explained(context.Background(), ui, filepath.Join(examplesDir, "fouled-on-purpose.yaml"))
	if bad != nil {
		t.Fatal(bad)
	}
	var all []string
	for _, p := range params.Paths() {
		all = append(all, p.Path)
	}
	for _, f := range j.Findings {
		all = append(all, string(f.ID))
	}
	for _, g := range tell.Glossary {
		all = append(all, g.Word)
	}
	values := 0
	for _, word := range all {
		out.Reset()
		if err := ui.explain(j, word, "pack.yaml"); err != nil || len(out.String()) < 40 {
			t.Errorf("%s: %v, %q", word, err, out.String())
		}
		values += strings.Count(out.String(), "Value in pack.yaml")
		for _, line := range strings.Split(out.String(), "\n") {
			if len([]rune(line)) > columns {
				t.Errorf("%s: %q", word, line)
			}
		}
		if regexp.MustCompile(`[0-9]\.[0-9]{7}|%!|NaN`).MatchString(out.String()) {
			t.Errorf("%s: %s", word, out.String())
		}
	}
	if values < 60 {
		t.Errorf("only %d values", values)
	}
	if err := ui.explain(j, "plates.heigth", ""); err == nil || !strings.Contains(err.Error(), `"plates.height"`) {
		t.Error(err)
	}
}
