package check

import (
	"slices"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/parts/geom"
)

// Slack is the error allowed in a computed distance before it counts as short,
// mm: distances between solids are exact to 0.01 mm, so half of that.
const Slack = 0.005

// atLeast judges one place where a value must reach fail, and should reach warn.
func atLeast(have, fail, warn float64) finding.Finding {
	return finding.JudgeLeast(have, fail, warn, Slack)
}

// atMost judges one place where a value must not exceed fail, and should not
// exceed warn (warn <= fail).
func atMost(have, fail, warn float64) finding.Finding {
	return finding.JudgeMost(have, fail, warn, Slack)
}

// spot is where a place lies.
func spot(at geom.Vec3) *geom.Vec3 { return &at }

// tally keeps the worst of many places and the names of all that do not pass.
type tally struct {
	places []finding.Finding
	worst  int
	count  int
}

// add takes one more place in.
func (t *tally) add(p finding.Finding) {
	t.count++
	worse := len(t.places) == 0 || finding.Compare(p, t.places[t.worst]) < 0
	if p.Verdict == finding.Pass && !worse {
		return // passes and is not the nearest: only counted
	}
	t.places = append(t.places, p)
	if worse {
		t.worst = len(t.places) - 1
	}
}

// near judges one place between two things; see atLeast.
func (t *tally) near(have, fail, warn float64, between ...string) {
	q := atLeast(have, fail, warn)
	q.Between = between
	t.add(q)
}

// finding reports the worst place; nothing when no place was added.
func (t *tally) finding(of, unit string) []finding.Finding {
	if t.count == 0 {
		return nil
	}
	f := t.places[t.worst]
	f.Of, f.Unit, f.Compared = of, unit, t.count
	others := slices.Delete(slices.Clone(t.places), t.worst, t.worst+1)
	slices.SortStableFunc(others, finding.Compare)
	for _, q := range others {
		if q.Verdict != finding.Pass {
			f.Also = append(f.Also, strings.Join(q.Between, " / "))
		}
	}
	return []finding.Finding{f}
}
