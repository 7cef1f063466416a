// Package ready computes the examples for the tests of what is made from them.
package ready

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"clampwright/assembly/job"
	"clampwright/params"
)

// root is the folder of the module.
func root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	for err == nil {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			break
		}
		dir = filepath.Dir(dir)
	}
	t.Fatal("no go.mod above the test", err)
	return ""
}

// Names are the examples, in the order of the folder.
func Names(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(root(t), "examples", "*.yaml"))
	if err != nil || len(files) < 5 {
		t.Fatalf("examples: %v %v", files, err)
	}
	var names []string
	for _, f := range files {
		names = append(names, strings.TrimSuffix(filepath.Base(f), ".yaml"))
	}
	return names
}

// Text is the parameter file of an example.
func Text(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root(t), "examples", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// Fixture settles a parameter file.
func Fixture(t testing.TB, name string, text []byte) *params.Fixture {
	t.Helper()
	f, diags := params.Load(name+".yaml", text)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return f
}

var (
	lock sync.Mutex
	jobs = map[string]*job.Job{}
)

// Job is one of the examples, computed once for all tests that only read.
func Job(t testing.TB, name string) *job.Job {
	t.Helper()
	lock.Lock()
	defer lock.Unlock()
	if jobs[name] == nil {
		j, err := job.Compute(t.Context(), Fixture(t, name, Text(t, name)), func(string) {})
		if err != nil {
			t.Fatal(err)
		}
		jobs[name] = j
	}
	return jobs[name]
}

// printBlocks asks for every printed part, ribbed separators on a bed that they
// must be split for, and printed sleeves.
const printBlocks = `
prints: {corner_guards: true, end_caps: true, rod_caps: true, feet: true, drill_guides: true, gauges: true}
separators: {printed: true, pattern: ribs, thickness: 3 mm, border: 12 mm}
sleeves: {printed: true}
printer: {bed_x: 160 mm, bed_y: 160 mm, bed_z: 160 mm}
`

var replaced = regexp.MustCompile(`(?m)^(prints|separators|sleeves|printer):.*\n(?:[ \t].*\n|\n)*`)

// AllPrints is an example with every printed part.
func AllPrints(t testing.TB) *params.Fixture {
	t.Helper()
	return Fixture(t, "prints", append(replaced.ReplaceAll(Text(t, "eight-cell-plywood"), nil), printBlocks...))
}
