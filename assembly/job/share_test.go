package job

import (
	"math"
	"strings"
	"testing"

	"clampwright/assembly/assure"
	"clampwright/assembly/finding"
	"clampwright/params"
)

// A share passes from 95 %, and 85 % where holding does not lessen growth; below that
// it warns where a reading brings it there, and else fails.
func TestShareIsJudged(t *testing.T) {
	gate := &assure.Gate{LeastMM: 1.65, Share: 0.96, Free: 0.9, Part: 0.7}
	for _, c := range []struct {
		share, least float64
		gate         *assure.Gate
		want         finding.Verdict
		have, need   float64
	}{
		{0.95, 0.85, nil, finding.Pass, 95, 95}, {0.949, 0.85, nil, finding.Fail, 94.9, 95}, {0.95, 0.849, nil, finding.Fail, 84.9, 85},
		{0.949, 0.85, gate, finding.Warn, 94.9, 95}, {0.96, 0.84, gate, finding.Warn, 84, 85}, {0.96, 0.45, gate, finding.Warn, 45, 85}, {0.5, 0.3, gate, finding.Warn, 50, 95},
		{0.08, 0.02, nil, finding.Fail, 8, 95},
	} {
		j := &Job{Fixture: &params.Fixture{}, Assurance: &assure.Share{Share: c.share, Least: c.least, Gate: c.gate, Draws: 100, Years: 10}}
		f := j.assurance()[0]
		if f.Verdict != c.want || math.Abs(f.Have-c.have) > 1e-9 || f.Need != c.need || f.Sense != finding.AtLeast {
			t.Errorf("%+v: %s with %g of %g", c, f.Verdict, f.Have, f.Need)
		}
		if says := strings.Contains(f.Hint, "1.65 mm"); says != (c.want == finding.Warn) {
			t.Errorf("%+v: the hint is %q", c, f.Hint)
		}
	}
	for _, s := range []*assure.Share{nil, {}} {
		if got := (&Job{Assurance: s}).assurance(); got != nil {
			t.Errorf("judged where nothing was drawn: %v", got)
		}
	}
}
