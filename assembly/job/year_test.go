package job

import (
	"bytes"
	"context"
	"math"
	"os"
	"testing"

	"clampwright/assembly/estimate"
	"clampwright/assembly/finding"
	"clampwright/params"
)

// One pack over a year, twin data: the forces that its readings were made from lie in the
// bands; the reading that was misread is named, and the nut that turned, first as a reading
// to be taken again, without which nothing is charged, then with its dates and the turns that
// set it right; after that the clamp passes.
func TestYear(t *testing.T) {
	text, err := os.ReadFile("../../examples/year/pack.yaml")
	if err != nil {
		t.Fatal(err)
	}
	before, _, _ := bytes.Cut(text, []byte("  - {what: spring, where: left lower, when: reset"))
	seven := before[:bytes.LastIndex(before, []byte("  - {what: spring, where: left lower"))]
	for name, c := range map[string]struct {
		text    []byte
		force   float64 // of the twin
		turns   int
		charge  bool
		verdict finding.Verdict
	}{"seven months": {seven, 2775, 0, false, finding.Warn}, "nine months": {before, 2808, 4, true, ""}, "a year": {text, 2870, 0, true, finding.Pass}} {
		f, list := params.Load("pack.yaml", c.text)
		if f == nil {
			t.Fatal(list)
		}
		j, err := Read(f)
		if err != nil {
			t.Fatal(err)
		}
		a := j.Estimate.Answer()
		if name != "seven months" && (a.Force.Low > c.force || a.Force.High < c.force || a.Force.High-a.Force.Low > 0.2*c.force) {
			t.Errorf("%s: %+v, the twin has %.0f N", name, a.Force, c.force)
		}
		kind, day := estimate.Drifts, 20675 // 2026-08-10
		if name == "seven months" {
			kind = estimate.Outlier
		}
		for i, want := range []struct {
			kind  estimate.Doubt
			where string
			day   int
		}{{kind, "right lower", day}, {estimate.Outlier, "right upper", 20614}} {
			if len(a.Notes) != 2 || a.Notes[i].Kind != want.kind || f.Readings[a.Notes[i].Refs[0]].Where != want.where || f.Readings[a.Notes[i].Refs[0]].Day != want.day {
				t.Errorf("%s: %+v, want %+v", name, a.Notes, want)
			}
		}
		if len(a.Turns) != c.turns || a.Charge != c.charge {
			t.Errorf("%s: %d turns, full charge %t", name, len(a.Turns), a.Charge)
		}
		for _, n := range a.Turns {
			if loose := n.Tie == 1; (n.Turns > 1.5) != loose || (n.Turns < 0) == loose || math.Abs(n.HeightMM-56.3) > 0.2 {
				t.Errorf("%s: %+v", name, n)
			}
		}
		if c.verdict == "" {
			continue
		}
		if j, err = Compute(context.Background(), f, func(string) {}, WithAnswers(0)); err != nil || j.Verdict() != c.verdict {
			t.Errorf("%s: %s, want %s: %v", name, j.Verdict(), c.verdict, err)
		}
	}
}
