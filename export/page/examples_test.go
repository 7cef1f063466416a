package page_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/assembly/job"
	"clampwright/export"
	"clampwright/export/page"
	"clampwright/params"
	"clampwright/testdata/outside"
)

// Every example's documents open in a browser without an error or a request, fit a phone
// and paper, break no number over lines, and every step's picture shows its parts.
func TestExamplesInABrowser(t *testing.T) {
	outside.Program(t, "chromium")
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	var names []string
	for _, f := range files {
		names = append(names, strings.TrimSuffix(filepath.Base(f), ".yaml"))
	}
	page.OpenWhole(t, names, func(name string) map[string]string { return documents(t, name) })
}

// documents makes an example's documents.
func documents(t *testing.T, name string) map[string]string {
	t.Helper()
	file := name + ".yaml"
	text, err := os.ReadFile("../../examples/" + file)
	if err != nil {
		t.Fatal(err)
	}
	f, diags := params.Load(file, text)
	if f == nil {
		t.Fatal(diags)
	}
	job, err := job.Compute(context.Background(), f, func(string) {})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := export.Plan(job, export.Options{Cut: true})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, a := range plan.Artifacts {
		if strings.HasSuffix(a.Name, ".html") {
			var w bytes.Buffer
			if err := a.Encode(&w); err != nil {
				t.Fatal(err)
			}
			out[a.Name] = w.String()
		}
	}
	if len(out) != len(page.Docs) {
		t.Fatalf("%d documents in the plan", len(out))
	}
	return out
}
