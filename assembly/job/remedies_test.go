package job

import (
	"context"
	"errors"
	"fmt"
	"os"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
)

// judged is a job with all its findings, and no remedies.
func judged(t *testing.T, f *params.Fixture) *Job {
	t.Helper()
	j, err := placed(f)
	if err == nil {
		err = errors.Join(j.check(), j.press())
	}
	if err != nil {
		t.Fatal(err)
	}
	j.sumUp()
	return j
}

// ranks are the worst verdicts by key.
func ranks(found []finding.Finding) map[string]finding.Verdict {
	out := map[string]finding.Verdict{}
	for _, f := range found {
		out[f.Key()] = f.Verdict.Worse(out[f.Key()])
	}
	return out
}

// Of every spoiled example: its rule does not pass; and every remedy given, written
// into the file and judged anew, clears its own finding and makes no other worse.
func TestRemediesHold(t *testing.T) {
	spoiled, err := sample.ReadSpoiled("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range spoiled {
		t.Run(s.Name, func(t *testing.T) {
			t.Parallel()
			checkRemedies(t, s)
		})
	}
}

func checkRemedies(t *testing.T, s sample.Spoiled) {
	f, diags := params.Load(s.Name, s.Text)
	if f == nil {
		t.Fatal(diags)
	}
	j := judged(t, f)
	was := ranks(j.Findings)
	if err := j.remedies(context.Background()); err != nil {
		t.Fatal(err)
	}
	broken, held := false, map[string]bool{}
	for _, bad := range j.Findings {
		if bad.Verdict == finding.Pass {
			continue
		}
		broken = broken || string(bad.ID) == s.Rule
		if bad.Remedy == nil {
			t.Logf("%s %s: none: %s; %s", bad.ID, bad.Of, bad.Hint, bad.NoRemedy)
			continue
		}
		t.Logf("%s %s: %s", bad.ID, bad.Of, bad.Remedy.Text)
		if key := fmt.Sprint(bad.Key(), bad.Remedy.Set); !held[key] {
			held[key] = true
			checkRemedy(t, s, was, bad)
		}
	}
	if !broken {
		t.Errorf("%s passes", s.Rule)
	}
}

// checkRemedy writes a remedy into the file.
func checkRemedy(t *testing.T, s sample.Spoiled, was map[string]finding.Verdict, bad finding.Finding) {
	t.Helper()
	_, f, err := params.Set(s.Name, s.Text, changes(bad.Remedy))
	if err != nil {
		t.Errorf("%s: %q does not settle: %v", bad.ID, bad.Remedy.Text, err)
		return
	}
	for key, v := range ranks(judged(t, f).Findings) {
		before, known := was[key]
		if !known {
			before = finding.Warn
		}
		own := key == bad.Key() && v != finding.Pass
		if own || v.Rank() > before.Rank() {
			t.Errorf("%s: %q: %s is %s, was %s", bad.Key(), bad.Remedy.Text, key, v, before)
		}
	}
}

// Following the remedies ends: each file is another, and after a few none is left
// that fails and has a remedy. A plate made lower is centred anew, so that half of
// what it is lowered by is lost; a hole line that suits the fillet is too near the
// leg's edge and the other way round.
func TestRemediesEnd(t *testing.T) {
	for _, c := range []struct{ example, path, value string }{
		{"sixteen-cell-two-rows", "clearances.metal_to_terminal", "30"},
		{"four-cell-offcut", "stiffeners", "{angle: 1 x 1 x 1/8 in aluminium, gauge: 5/8 in}"},
		{"four-cell-offcut", "stiffeners", "{angle: 1 x 1 x 1/8 in aluminium, gauge: 1/2 in}"},
	} {
		t.Run(c.example+" "+c.value, func(t *testing.T) {
			t.Parallel()
			text, err := os.ReadFile("../../examples/" + c.example + ".yaml")
			if err != nil {
				t.Fatal(err)
			}
			seen := map[string]bool{}
			set := []params.Change{{Path: c.path, Value: c.value}, {Path: "prints"}}
			for rounds := 0; set != nil; rounds++ {
				if text, set = followed(t, text, set); seen[string(text)] || rounds == 4 {
					t.Fatalf("after %d rounds: %v", rounds, set)
				}
				seen[string(text)] = true
			}
			if len(seen) < 2 {
				t.Error("there was no remedy to follow")
			}
		})
	}
}

// followed makes changes in a text, and gives the remedy of the first that fails.
func followed(t *testing.T, text []byte, set []params.Change) ([]byte, []params.Change) {
	t.Helper()
	text, f, err := params.Set("a.yaml", text, set)
	if err != nil {
		t.Fatal(err)
	}
	j := judged(t, f)
	if err := j.remedies(context.Background()); err != nil {
		t.Fatal(err)
	}
	for _, bad := range j.Findings {
		if bad.Verdict == finding.Fail && bad.Remedy != nil {
			return text, changes(bad.Remedy)
		}
	}
	return text, nil
}

// changes are those of a remedy.
func changes(r *finding.Remedy) (out []params.Change) {
	for _, c := range r.Set {
		out = append(out, params.Change{Path: c.Path, Value: c.Value})
	}
	return out
}
