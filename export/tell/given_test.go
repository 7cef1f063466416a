package tell

import (
	"testing"

	"clampwright/testdata/ready"
)

// No value that the sheet rests on is left blank, be it a row of a table.
func TestGivenHasNoBlank(t *testing.T) {
	for _, name := range ready.Names(t) {
		for _, g := range Given(ready.Job(t, name)) {
			if g.Value == "" {
				t.Errorf("%s: %s (%s) has no value", name, g.Name, g.From)
			}
		}
	}
	for path, want := range map[string]string{"rods.thread": "M10", "plates.material": "6061-T6", "cell.thickness": "72 mm", "liners.material": "fr4", "cell.compression": "a force"} {
		found := ""
		for _, g := range Given(ready.Job(t, "sixteen-cell-two-rows")) {
			if g.Name == path {
				found = g.Value
			}
		}
		if found != want {
			t.Errorf("%s is %q, want %q", path, found, want)
		}
	}
}
