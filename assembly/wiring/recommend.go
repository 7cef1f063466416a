package wiring

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"clampwright/params/number"
)

// Advice is the plan to follow.
type Advice struct {
	Plan   PlanID
	Forced bool // the user chose it
	// Why gives the reasons, each a sentence without a full stop.
	Why []string
}

// alikeShare is how far apart the burns of two plans may be and count as equal, so
// that the parts decide.
const alikeShare = 0.02

// better says that plan p is to be followed rather than q: it is reckoned to do less
// harm, or takes fewer links.
func (p Plan) better(q Plan) bool {
	a, b := p.Harm.Burns(), q.Harm.Burns()
	if math.Abs(a-b) > alikeShare*max(a, b) {
		return a < b
	}
	return p.LinksMade < q.LinksMade
}

// ByHarm are plans, least harm first.
func ByHarm(plans []Plan) []Plan {
	return slices.SortedStableFunc(slices.Values(plans), func(a, b Plan) int { return cmp.Compare(a.Harm.Burns(), b.Harm.Burns()) })
}

// Recommend picks the proven plan that is reckoned to do least harm; the earlier of
// equals. A plan with any fault, or which opens the clamp above the storage charge, is
// never recommended. A plan that is asked for is followed where the pack has it. ok is
// false when no plan is proven.
func Recommend(in Input, plans []Plan) (a Advice, ok bool) {
	has := slices.ContainsFunc(plans, func(p Plan) bool { return p.ID == in.Forced })
	best := -1
	for i, p := range plans {
		if p.Proven() && (!has || p.ID == in.Forced) && (best < 0 || p.better(plans[best])) {
			best = i
		}
	}
	if best < 0 {
		return Advice{}, false
	}
	a = Advice{Plan: plans[best].ID, Forced: has}
	if in.Forced != "" && !has {
		a.Why = append(a.Why, fmt.Sprintf("plan %s is asked for, but it is none for %s in series: there is nothing to do that way, and this one is followed", in.Forced, count(in.Series, "place")))
	}
	a.Why = append(a.Why, plans[best].summary(in), plans[best].Harm.Text())
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
	if n := len(p.States) - 1; n > 1 {
		s += fmt.Sprintf(", %d balances that are as even as the charger repeats", n)
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
	d, word := p.Harm.Burns()-best.Harm.Burns(), "more"
	if d < 0 {
		word = "fewer"
	}
	return fmt.Sprintf("%s; about %s %s burns in a thousand packs", s, number.Trim(math.Abs(d), 1), word)
}
