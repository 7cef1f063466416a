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
	for _, p := range params.Keys() {
		all = append(all, p.Path)
	}
	for _, f := range j.Findings {
		all = append(all, string(f.ID))
	}
	for _, g := range tell.Glossary {
		all = append(all, g.Word)
	}
	all = append(all, cardWords...)
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

// cardWords are words that the card uses, as a builder types them.
var cardWords = []string{"feeler", "feelers", "middle share", "spring height", "corner guard", "corner guards", "rod cap", "end cap", "set charge", "kerf", "drag", "strips", "lug", "sense leads", "take-offs", "heel", "UP", "straight edge", "stages"}

// Examples stand in their blocks and lists, and are read as they stand; every key says what
// it is, but for the columns of tables.
func TestExamplesAreRead(t *testing.T) {
	for _, p := range params.Keys() {
		if strings.HasPrefix(p.Path, "tables.") {
			continue
		}
		if p.Doc == "" {
			t.Errorf("%s says nothing", p.Path)
		}
		if p.Example == "" {
			continue
		}
		_, diags := params.Load("pack.yaml", []byte(inPlace(p.Path, p.Example)+"\n"))
		for _, d := range diags {
			if strings.Contains(d.Summary, "unknown") || strings.Contains(d.Summary, "not YAML") || strings.Contains(d.Summary, "a list") {
				t.Errorf("%s: %v", inPlace(p.Path, p.Example), d)
			}
		}
	}
	for path, want := range map[string]string{"units": "units: 5", "cell.terminals.stud": "cell: {terminals: {stud: 5}}", "stock.sheets[].holes[].x": "stock: {sheets: [{holes: [{x: 5}]}]}"} {
		if got := inPlace(path, "5"); got != want {
			t.Errorf("%s: %s", path, got)
		}
	}
}
