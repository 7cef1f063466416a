package export

import (
	"bytes"
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"clampwright/export/tell"
)

// The stack-up is in the report and on the sheet, with the same words.
func TestTolerancesAreTold(t *testing.T) {
	j := made(t, "four-small-separators").job
	text, err := reportJSON(j)
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
	if len(r.Tolerances.Outcomes) != 2 || !strings.Contains(r.Tolerances.Matters, "matters most") {
		t.Fatalf("%+v", r.Tolerances)
	}
	plan, err := Plan(j.Job, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range plan.Artifacts {
		if a.Name != "checks.html" {
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

// The sheet of a file in inches tells tolerances in inches alone, in every answer and
// figure; that of a file in millimetres has no inches.
func TestTolerancesInTheFilesUnit(t *testing.T) {
	inch := regexp.MustCompile(`[0-9] in\b`)
	for name, inches := range map[string]bool{"four-cell-offcut": true, "eight-cell-plywood": false} {
		told := tell.Tolerances(made(t, name).job.Job)
		texts := []string{told.Sentence}
		for _, a := range told.Answers {
			texts = append(texts, a.Answer)
			for _, f := range a.Figures {
				texts = append(texts, f.Label, f.Value, f.Note)
			}
		}
		lengths := 0
		for _, s := range texts {
			mm, in := strings.Count(s, " mm"), len(inch.FindAllString(s, -1))
			lengths += mm + in
			if inches && mm > 0 || !inches && in > 0 {
				t.Errorf("%s: %q", name, s)
			}
		}
		if lengths < 15 {
			t.Errorf("%s: %d lengths in %q", name, lengths, texts)
		}
	}
	drilling := tell.Tolerances(made(t, "four-cell-offcut").job.Job).Answers[0]
	var got []string
	for _, f := range drilling.Figures {
		got = append(got, f.Label+": "+f.Value)
	}
	all := strings.Join(got, "\n")
	for _, want := range []string{"Drilled by hand, \u00b10.02 in: 0.012 in left at worst", "Drilled by router, \u00b10.004 in: 0.027 in left at worst"} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in\n%s", want, all)
		}
	}
}
