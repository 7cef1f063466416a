package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/parts/geom"
)

// apartLeast is the gap that parts not meant to touch must have, mm: the
// accuracy to which distances are promised.
const apartLeast = 0.01

// kinds names a pair of groups in a fixed order: "cell - rod".
func kinds(u, v *assembly.Instance) string {
	return kindsOf(u.Group, v.Group)
}

func kindsOf(g, h assembly.Group) string {
	return string(min(g, h)) + " - " + string(max(g, h))
}

// measureApart computes the gap of every pair of instances not meant to touch,
// for cells of nominal and of largest size. It reports the nearest pair of all,
// and one finding for each kind of pair in which something fouls.
func measureApart(b *bench) ([]finding.Finding, error) {
	wide, err := b.variant(assembly.Largest)
	if err != nil {
		return nil, err
	}
	fouls, clear := map[string]*tally{}, &tally{}
	for _, a := range []*assembly.Assembly{b.nominal, wide} {
		b.eachPair(a, assembly.Clear, func(u, v *assembly.Instance, g geom.Gap) {
			p := finding.JudgeLeast(g.MM, apartLeast, apartLeast, 0)
			p.Between, p.At, p.Way, p.Bound = []string{u.ID, v.ID}, spot(g.OnA), a.Layout.Variant.String(), g.Bound
			if p.Verdict == finding.Pass {
				clear.add(p)
				return
			}
			k := kinds(u, v)
			if fouls[k] == nil {
				fouls[k] = &tally{}
			}
			fouls[k].add(p)
		})
	}
	return gather(fouls, clear), nil
}

// gather turns the tallies into findings: fouls by kind in alphabetical order,
// or the nearest pair when nothing fouls.
func gather(fouls map[string]*tally, clear *tally) []finding.Finding {
	var names []string
	for k := range fouls {
		names = append(names, k)
	}
	slices.Sort(names)
	var all []finding.Finding
	for _, k := range names {
		all = append(all, fouls[k].finding(k, "mm")...)
	}
	if len(all) == 0 {
		all = clear.finding("all pairs", "mm")
	}
	return all
}

// chainReach is how far gaps are computed exactly when all pairs are, mm:
// beyond it two parts are simply apart.
const chainReach = 20

// eachPair calls fn for every pair of instances that meet in the given way, in
// the order of the instances.
func (b *bench) eachPair(a *assembly.Assembly, m assembly.Meeting, fn func(u, v *assembly.Instance, g geom.Gap)) {
	if b.only == "" {
		b.allPairs(a)
	}
	for i := range a.Instances {
		for j := i + 1; j < len(a.Instances); j++ {
			u, v := &a.Instances[i], &a.Instances[j]
			if a.Meeting(u, v) == m && b.wanted(u, v) {
				fn(u, v, b.between(u, v, chainReach))
			}
		}
	}
}

// wanted says whether a pair is asked for: all are, or those of one kind.
func (b *bench) wanted(u, v *assembly.Instance) bool {
	return !strings.Contains(b.only, " - ") || kinds(u, v) == b.only
}

// allPairs computes the gaps of all pairs of an assembly's instances at once.
func (b *bench) allPairs(a *assembly.Assembly) {
	if b.paired[a] || b.err != nil {
		return
	}
	b.paired[a] = true
	bodies := make([]geom.Body, len(a.Instances))
	for i := range a.Instances {
		bodies[i] = a.Instances[i].Body()
	}
	gaps, err := geom.AllPairs(bodies, chainReach)
	if err != nil {
		b.err = err
		return
	}
	for _, g := range gaps {
		b.dist[pair{&a.Instances[g.I], &a.Instances[g.J]}] = g.Gap
	}
}

func wordsApart(_ *bench, f finding.Finding) string {
	return fmt.Sprintf("move %s and %s at least %.2f mm apart", f.Between[0], f.Between[1], f.Need-f.Have)
}

// chainGap is the gap or overlap allowed between parts that bear on each other,
// mm: the accuracy of distances.
const chainGap = 0.01

// Kinds of bearing: washers on an angle can ride up its fillet, all others only
// depend on sizes along the stack.
const (
	kindStack = "along the stack"
	kindSeat  = "washer on the angle"
)

// measureChain asks of every pair that bears on each other that there is
// neither gap nor overlap between them.
func measureChain(b *bench) ([]finding.Finding, error) {
	var stack, seat tally
	b.eachPair(b.nominal, assembly.Bears, func(u, v *assembly.Instance, g geom.Gap) {
		p := atMost(math.Abs(g.MM), chainGap, chainGap)
		p.Between, p.At = []string{u.ID, v.ID}, spot(g.OnA)
		if kinds(u, v) == kindsOf(assembly.GroupStiffener, assembly.GroupWasher) {
			seat.add(p)
			return
		}
		stack.add(p)
	})
	return append(stack.finding(kindStack, "mm"), seat.finding(kindSeat, "mm")...), nil
}

// wordsChain says how the chain misses.
func wordsChain(b *bench, f finding.Finding) string {
	if f.Of == kindSeat {
		return wordsWasherFlat(b, f)
	}
	return fmt.Sprintf("the sizes along the stack disagree by %.2f mm: let pack.stack, the cells and separators add up", f.Have)
}

// measurePlay asks that every rod passes its holes although each hole is off by
// its tolerance: (D - d)/2 >= error.
func measurePlay(b *bench) ([]finding.Finding, error) {
	need := b.fixture.Tolerances.HolePosition.MM()
	tallies := map[assembly.Group]*tally{}
	var order []assembly.Group
	b.eachPair(b.nominal, assembly.Through, func(u, v *assembly.Instance, g geom.Gap) {
		k, least, slack := v.Group, apartLeast, 0.0
		if k == assembly.GroupRod {
			k = u.Group
		}
		if k == assembly.GroupPlate || k == assembly.GroupStiffener {
			least, slack = need, Slack
		}
		if tallies[k] == nil {
			tallies[k] = &tally{}
			order = append(order, k)
		}
		play := g.MM
		if g.Relation == geom.Interfering || g.MM == 0 { // how far it is pushed aside says nothing of a bore
			play = (b.bore(k) - b.fixture.Rods.Thread.Major.MM()) / 2
		}
		p := finding.JudgeLeast(play, least, least, slack)
		p.Between, p.At = []string{u.ID, v.ID}, spot(g.OnA)
		tallies[k].add(p)
	})
	var all []finding.Finding
	for _, k := range order {
		all = append(all, tallies[k].finding("rod in "+string(k), "mm")...)
	}
	return all, nil
}

// bore is the diameter that a rod passes in parts of a group, mm.
func (b *bench) bore(g assembly.Group) float64 {
	f := b.fixture
	switch {
	case g == assembly.GroupWasher:
		return f.Washer.Inner.MM()
	case g == assembly.GroupSleeve:
		return f.Sleeve.Inner.MM()
	case g == assembly.GroupSpring:
		return f.Spring.Bore().MM()
	}
	return f.Rods.Hole.MM()
}

func wordsPlay(b *bench, f finding.Finding) string {
	return fmt.Sprintf("give %s %s more bore", f.Of, b.up(2*(f.Need-f.Have)))
}
