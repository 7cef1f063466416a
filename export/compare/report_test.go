package compare

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"clampwright/assembly/job"
	"clampwright/params"
)

func computed(t *testing.T, text []byte) *job.Job {
	t.Helper()
	f, diags := params.Load("t.yaml", text)
	if f == nil {
		t.Fatal(diags)
	}
	j, err := job.Compute(context.Background(), f, func(string) {})
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// The three forms say the same, each the same bytes every time, and the page asks
// for nothing from outside.
func TestForms(t *testing.T) {
	text := read(t, "four-small-separators.yaml")
	old, now := computed(t, text), computed(t, change(t, text, "rods.levels", "[30 mm, 170 mm]"))
	r := Compare(old, now)
	if r.Same || len(r.Clamp) < 8 || len(r.Checks) < 20 {
		t.Errorf("%d states, %d checks, same %v", len(r.Clamp), len(r.Checks), r.Same)
	}
	var forms [2][3]bytes.Buffer
	for k := range forms {
		again := Compare(old, now)
		for n, write := range []func() error{
			func() error { return again.Text(&forms[k][0], 80) }, func() error { return again.JSON(&forms[k][1]) }, func() error { return again.Page(&forms[k][2]) },
		} {
			if err := write(); err != nil {
				t.Fatal(n, err)
			}
		}
	}
	for n := range forms[0] {
		if !bytes.Equal(forms[0][n].Bytes(), forms[1][n].Bytes()) {
			t.Errorf("form %d differs from run to run", n)
		}
		if !strings.Contains(forms[0][n].String(), "re-drill") {
			t.Errorf("form %d does not say that the plates are drilled again", n)
		}
	}
	var back Report
	if err := json.Unmarshal(forms[0][1].Bytes(), &struct{ Parts []Row }{}); err != nil {
		t.Error(err, back)
	}
	page := forms[0][2].String()
	for _, bad := range []string{"http://", "https://", "<script", " src=", "url("} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if strings.Count(page, `class="old"`) < 3 || strings.Count(page, `class="new"`) < 3 {
		t.Error("outlines are missing")
	}
	if !strings.Contains(page, "<h2>Setting</h2>") || !strings.Contains(page, "checks are as before") {
		t.Error("the page lacks the setting or the count of unchanged checks")
	}
	for _, id := range []string{"parts-apart", "clamp-mean-pressure"} {
		if strings.Contains(page, id) || strings.Contains(forms[0][0].String(), id) {
			t.Errorf("the raw id %s is told", id)
		}
	}
	if len(r.Changed()) == 0 || len(r.Changed()) == len(r.Checks) {
		t.Errorf("%d of %d checks changed", len(r.Changed()), len(r.Checks))
	}
	if self := Compare(old, old); !self.Same || self.Line() != "every part is kept" || len(self.Changed()) > 0 {
		t.Errorf("a job compared with itself: %s", self.Line())
	}
}
