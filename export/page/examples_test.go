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

// Every example's page opens in a browser without an error or a request, draws its
// picture, and fits a phone and paper.
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
	page.OpenWhole(t, names, func(name string) string { return sheet(t, name) })
}

// sheet makes an example's build sheet.
func sheet(t *testing.T, name string) string {
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
	for _, a := range plan.Artifacts {
		if a.Name == "build-sheet.html" {
			var w bytes.Buffer
			if err := a.Encode(&w); err != nil {
				t.Fatal(err)
			}
			return w.String()
		}
	}
	t.Fatal("no build sheet in the plan")
	return ""
}
