package job

import (
	"bytes"
	"os"
	"testing"

	"clampwright/assembly/estimate"
	"clampwright/params"
)

// One pack over a year, twin data: the forces that its readings were made from lie in the
// bands, the one reading that was misread is named, and before the springs were set again
// the nuts are told to be turned out to the height that they were set to.
func TestYear(t *testing.T) {
	text, err := os.ReadFile("../../examples/year/pack.yaml")
	if err != nil {
		t.Fatal(err)
	}
	before, _, _ := bytes.Cut(text, []byte("  - {what: spring, where: left lower, when: reset"))
	for name, c := range map[string]struct {
		text   []byte
		force  float64 // of the twin
		turns  int
		charge bool
	}{"nine months": {before, 4862, 4, false}, "a year": {text, 3166, 0, true}} {
		f, list := params.Load("pack.yaml", c.text)
		if f == nil {
			t.Fatal(list)
		}
		j, err := Read(f)
		if err != nil {
			t.Fatal(err)
		}
		a := j.Estimate.Answer()
		if a.Force.Low > c.force || a.Force.High < c.force || a.Force.High-a.Force.Low > 0.4*c.force {
			t.Errorf("%s: %+v, the twin has %.0f N", name, a.Force, c.force)
		}
		if len(a.Notes) != 1 || a.Notes[0].Kind != estimate.Outlier || f.Readings[a.Notes[0].Refs[0]].Where != "right upper" || f.Readings[a.Notes[0].Refs[0]].Day != 20614 {
			t.Errorf("%s: %+v", name, a.Notes)
		}
		if len(a.Turns) != c.turns || a.Charge != c.charge {
			t.Errorf("%s: %d turns, full charge %t", name, len(a.Turns), a.Charge)
		}
		for _, n := range a.Turns {
			if n.Turns > -1 || n.HeightMM < 10.6 || n.HeightMM > 10.9 {
				t.Errorf("%s: %+v", name, n)
			}
		}
	}
}
