package check

import (
	"cmp"
	"slices"
	"strings"

	"clampwright/parts/geom"
)

// Slack is the error allowed in a computed distance before it counts as short,
// mm: distances between solids are exact to 0.01 mm, so half of that.
const Slack = 0.005

// place is one place where a rule was measured.
type place struct {
	verdict            Verdict
	measured, required float64
	atMost             bool // required is an upper limit
	between            []string
	at                 geom.Vec3
	approach           string
	bound              bool // measured is a lower bound
}

// margin is how far the place is on the good side of its requirement.
func (p place) margin() float64 {
	if p.atMost {
		return p.required - p.measured
	}
	return p.measured - p.required
}

// atLeast judges a measured value that must reach fail, and should reach warn.
// The requirement reported is the first one missed.
func atLeast(measured, fail, warn float64) place {
	p := place{verdict: Pass, measured: measured, required: max(fail, warn)}
	switch {
	case !(measured >= fail-Slack):
		p.verdict, p.required = Fail, fail
	case !(measured >= warn-Slack):
		p.verdict, p.required = Warn, warn
	}
	return p
}

// atMost judges a measured value that must not exceed fail and should not
// exceed warn (warn <= fail).
func atMost(measured, fail, warn float64) place {
	p := place{verdict: Pass, measured: measured, required: min(fail, warn), atMost: true}
	switch {
	case !(measured <= fail+Slack):
		p.verdict, p.required = Fail, fail
	case !(measured <= warn+Slack):
		p.verdict, p.required = Warn, warn
	}
	return p
}

// tally keeps the worst of many places and the names of all that do not pass.
type tally struct {
	places []place
	worst  int
	count  int
}

// add takes one more place in.
func (t *tally) add(p place) {
	t.count++
	if p.verdict == Pass && len(t.places) > 0 && !worse(p, t.places[t.worst]) {
		return // passes and is not the nearest: only counted
	}
	t.places = append(t.places, p)
	if worse(p, t.places[t.worst]) {
		t.worst = len(t.places) - 1
	}
}

// worse orders places: by verdict, then by margin.
func worse(p, q place) bool {
	if severity(p.verdict) != severity(q.verdict) {
		return severity(p.verdict) > severity(q.verdict)
	}
	return p.margin() < q.margin()
}

func severity(v Verdict) int {
	switch v {
	case Fail:
		return 2
	case Warn:
		return 1
	}
	return 0
}

// finding reports the worst place; nothing when no place was added.
func (t *tally) finding(kind, unit string) []Finding {
	if t.count == 0 {
		return nil
	}
	p := t.places[t.worst]
	f := Finding{Kind: kind, Unit: unit, Verdict: p.verdict, Measured: p.measured, Required: p.required,
		Between: p.between, At: p.at, Compared: t.count, Approach: p.approach, AtLeast: p.bound}
	others := slices.Delete(slices.Clone(t.places), t.worst, t.worst+1)
	slices.SortStableFunc(others, func(p, q place) int {
		return cmp.Or(cmp.Compare(severity(q.verdict), severity(p.verdict)), cmp.Compare(p.margin(), q.margin()))
	})
	for _, q := range others {
		if q.verdict != Pass {
			f.Also = append(f.Also, strings.Join(q.between, " / "))
		}
	}
	return []Finding{f}
}
