package check

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/params"
)

func load(t *testing.T, name, text string) *params.Fixture {
	t.Helper()
	f, diags := params.Load(name, []byte(text))
	if f == nil {
		t.Fatalf("%s: %v", name, diags)
	}
	return f
}

// Every example passes, but the one that fouls on purpose: washers on the
// angle's fillet, and no room for the pliers.
func TestExamples(t *testing.T) {
	names, err := filepath.Glob(filepath.Join("..", "..", "examples", "*.yaml"))
	if err != nil || len(names) < 5 {
		t.Fatalf("%d examples found: %v", len(names), err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var failed []string
		for _, x := range run(t, load(t, name, string(text))) {
			if x.Verdict == finding.Fail {
				failed = append(failed, string(x.ID))
			}
		}
		fouls := strings.Contains(name, "fouled")
		if !fouls && len(failed) > 0 {
			t.Errorf("%s fails %v", filepath.Base(name), failed)
		}
		if fouls && (!slices.Contains(failed, "washer-flat") || !slices.Contains(failed, "grip-room")) {
			t.Errorf("%s fails only %v", filepath.Base(name), failed)
		}
	}
}

const minimal = `
fixture: socket
cell: {model: 72x174x201}
pack: {cells: 4}
plates: {material: hdpe}
stiffeners: {gauge: 14.5 mm}
rods: {thread: M8}
`

// A socket of usual size that fouls only warns; the user's own, measured, fails
// when no spanner gets on either, and its place in the file is named.
func TestMeasuredSocketFails(t *testing.T) {
	usual, _ := get(run(t, load(t, "a.yaml", minimal)), "driver-to-metal", "")
	own, _ := get(run(t, load(t, "b.yaml", minimal+"tools: {socket: 40 mm}\n")), "driver-to-metal", "")
	if usual.Verdict == finding.Fail {
		t.Errorf("a socket of usual size fails: %+v", usual)
	}
	if own.Verdict != finding.Fail {
		t.Errorf("a measured socket of 40 mm gives %s", own.Verdict)
	}
	if !slices.Contains(own.Params, "tools.socket") {
		t.Errorf("tools.socket is not among %v", own.Params)
	}
}
