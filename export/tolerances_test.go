package export

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// The stack-up is in the report and on the sheet, with the same words.
func TestTolerancesAreTold(t *testing.T) {
	j := made(t, "four-small-separators").job
	text, err := j.ReportJSON()
	if err != nil {
		t.Fatal(err)
	}
	var r struct {
		Tolerances struct {
			Outcomes []struct {
				ID     string
				Answer string
			}
			Matters string `json:"matters_most"`
		}
	}
	if err := json.Unmarshal(text, &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Tolerances.Outcomes) != 3 || !strings.Contains(r.Tolerances.Matters, "matters most") {
		t.Fatalf("%+v", r.Tolerances)
	}
	plan, err := j.Plan(Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range plan.Artifacts {
		if a.Name != "build-sheet.html" {
			continue
		}
		var b bytes.Buffer
		if err := a.Encode(&b); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(b.String(), "Does every rod pass its 4 holes?") {
			t.Error("the sheet does not ask about the holes")
		}
	}
}
