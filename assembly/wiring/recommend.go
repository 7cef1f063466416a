package wiring

import (
	"fmt"
	"math"

	"clampwright/params/number"
)

// Advice is the plan to follow.
type Advice struct {
	Plan   PlanID
	Forced bool // the user chose it
	// Why gives the reasons, each a sentence without a full stop.
	Why []string
	// NextBest is the runner-up and Margin how much worse its score is.
	NextBest PlanID
	Margin   float64
}

// Recommend picks the proven plan with the lowest score; the earlier of equals.
// A plan with any fault, or which opens the clamp above the storage charge, is
// never recommended. ok is false when no plan is proven.
func Recommend(in Input, plans []Plan) (a Advice, ok bool) {
	best, next := -1, -1
	for i, p := range plans {
		if !p.Proven() || in.Forced != "" && p.ID != in.Forced {
			continue
		}
		switch {
		case best < 0 || p.Score < plans[best].Score:
			best, next = i, best
		case next < 0 || p.Score < plans[next].Score:
			next = i
		}
	}
	if best < 0 {
		return Advice{}, false
	}
	a = Advice{Plan: plans[best].ID, Forced: in.Forced != ""}
	a.Why = append(a.Why, plans[best].summary(in))
	if next >= 0 {
		a.NextBest, a.Margin = plans[next].ID, plans[next].Score-plans[best].Score
	}
	for _, p := range plans {
		if p.ID != a.Plan {
			a.Why = append(a.Why, compare(in, plans[best], p))
		}
	}
	return a, true
}

func (p Plan) summary(in Input) string {
	s := fmt.Sprintf("%s: %s to make, %s, %s", p.Name, count(p.LinksMade, "link"), "links fitted or taken off "+times(p.Handlings),
		p.openText(in))
	if p.InsulatedLinks > 0 {
		s += fmt.Sprintf(", %s for %s where links of unlike potential meet", count(p.InsulatedLinks, "insulated cable"),
			count(p.InsulatedPlaces, "place"))
	}
	if len(p.Exposures) > 0 {
		s += fmt.Sprintf(", a loose tool of %s can bridge at most %s", mm(in.SpannerMM), amps(p.WorstA))
	}
	return s
}

func (p Plan) openText(in Input) string {
	if len(p.Openings) == 0 {
		return "the clamp never opened"
	}
	return fmt.Sprintf("the clamp opened %s at %s charge to turn %s", times(len(p.Openings)), percent(in.StorageCharge), count(p.Turned, "cell"))
}

// compare says in one sentence what another plan costs against the best.
func compare(in Input, best, p Plan) string {
	s := p.summary(in)
	if !p.Proven() {
		return s + "; not proven, so not considered"
	}
	d := p.Score - best.Score
	word := "worse"
	if d < 0 {
		word = "better"
	}
	return fmt.Sprintf("%s; %s by about %s minutes of work, its risks counted in", s, word, number.Trim(math.Abs(d), 0))
}
