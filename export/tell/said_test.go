package tell

import (
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/testdata/ready"
)

// The sentence names what others follow from, not what follows from others.
func TestSentenceNamesACause(t *testing.T) {
	s := Sentence(ready.Job(t, "fouled-on-purpose"))
	if !strings.Contains(s, "grip room") || !strings.Contains(s, "more checks fail") {
		t.Error(s)
	}
	only := []finding.Finding{{ID: "chain-closed", Group: "interference", Unit: "mm", Have: 3}, {ID: "washer-flat", Group: "seats", Unit: "mm", Have: -1}}
	if c := cause(only); c.ID != "washer-flat" {
		t.Errorf("%s is named before what causes it", c.ID)
	}
}
