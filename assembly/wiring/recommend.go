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
	// Why says what speaks against a plan that was asked for, a sentence without a full stop.
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

// ByHarm are plans, least harm first, those without a proof last.
func ByHarm(plans []Plan) []Plan {
	return slices.SortedStableFunc(slices.Values(plans), func(a, b Plan) int {
		return cmp.Or(cmp.Compare(flag(!a.Proven()), flag(!b.Proven())), cmp.Compare(a.Harm.Burns(), b.Harm.Burns()))
	})
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
		why := fmt.Sprintf("it is none for %s in series: there is nothing to do that way", count(in.Series, "place"))
		if in.Welded {
			why = "strips that are welded are not taken off again"
		}
		a.Why = append(a.Why, fmt.Sprintf("plan %s is asked for, but %s, and this one is followed", in.Forced, why))
	}
	if least := ByHarm(plans)[0]; has && least.Proven() && least.Harm.Burns() < (1-alikeShare)*plans[best].Harm.Burns() {
		a.Why = append(a.Why, fmt.Sprintf("plan %s is asked for; plan %s is reckoned to do less harm, %s burns in a thousand packs against %s",
			in.Forced, least.ID, number.Trim(least.Harm.Burns(), 1), number.Trim(plans[best].Harm.Burns(), 1)))
	}
	return a, true
}
