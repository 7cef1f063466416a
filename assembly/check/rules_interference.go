package check

import (
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
	return kindsOf(u.Role, v.Role)
}

func kindsOf(g, h assembly.Role) string {
	return string(min(g, h)) + " - " + string(max(g, h))
}

// measureApart computes the gap of every pair of instances not meant to touch,
// for cells of nominal and of largest size. It reports the nearest pair of all,
// and one finding for each kind of pair in which something fouls.
func measureApart(b *scene) ([]finding.Finding, error) {
	wide, err := b.variant(assembly.Largest)
	if err != nil {
		return nil, err
	}
	fouls, clear := map[string]*tally{}, &tally{}
	for _, a := range []*assembly.Assembly{b.nominal, wide} {
		judge := func(p met) {
			f := finding.JudgeLeast(p.MM, apartLeast, apartLeast, 0)
			f.Between, f.At, f.Way, f.Bound = []string{p.u.ID, p.v.ID}, spot(p.OnA), a.Placement.Variant.String(), p.Bound
			if f.Verdict == finding.Pass {
				clear.add(f)
				return
			}
			k := kinds(p.u, p.v)
			if fouls[k] == nil {
				fouls[k] = &tally{}
			}
			fouls[k].add(f)
		}
		pairs := b.pairs(a)
		for _, p := range pairs.by[assembly.Clear] {
			judge(p)
		}
		if pairs.far > 0 {
			judge(pairs.nearest)
			clear.count += pairs.far - 1
		}
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

// met is two instances with their gap.
type met struct {
	u, v *assembly.Instance
	geom.Gap
}

// meetings are an assembly's pairs by how they meet, in the order of the instances.
// Those that are to be clear of each other and are beyond chainReach are only counted,
// and the nearest is kept.
type meetings struct {
	by      map[assembly.Meeting][]met
	far     int
	nearest met
}

// pairs sorts all pairs of an assembly that are asked for, once.
func (b *scene) pairs(a *assembly.Assembly) *meetings {
	if m := b.met[a]; m != nil {
		return m
	}
	m := &meetings{by: map[assembly.Meeting][]met{}}
	b.met[a] = m
	var ws []*assembly.Instance
	var bodies []geom.Body
	g, h, one := strings.Cut(b.only, " - ") // one kind
	for i := range a.Instances {
		if w := &a.Instances[i]; !one || w.Role == assembly.Role(g) || w.Role == assembly.Role(h) {
			ws, bodies = append(ws, w), append(bodies, w.Body())
		}
	}
	err := geom.AllPairs(bodies, chainReach, func(p geom.PairGap) {
		u, v := ws[p.I], ws[p.J]
		if one && kinds(u, v) != b.only {
			return
		}
		how := a.Meeting(u, v)
		if p.Bound && how == assembly.Clear {
			if m.far++; m.far == 1 || p.MM < m.nearest.MM {
				m.nearest = met{u, v, p.Gap}
			}
			return
		}
		if !p.Bound {
			b.dist[pair{u, v}] = p.Gap
		}
		m.by[how] = append(m.by[how], met{u, v, p.Gap})
	})
	if err != nil && b.err == nil {
		b.err = err
	}
	return m
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
func measureChain(b *scene) ([]finding.Finding, error) {
	var stack, seat tally
	for _, m := range b.pairs(b.nominal).by[assembly.Bears] {
		p := atMost(math.Abs(m.MM), chainGap, chainGap)
		p.Between, p.At = []string{m.u.ID, m.v.ID}, spot(m.OnA)
		if kinds(m.u, m.v) == kindsOf(assembly.RoleStiffener, assembly.RoleWasher) {
			seat.add(p)
			continue
		}
		stack.add(p)
	}
	return append(stack.finding(kindStack, "mm"), seat.finding(kindSeat, "mm")...), nil
}

// measurePlay asks that every rod passes its holes although each hole is off by
// its tolerance: (D - d)/2 >= error.
func measurePlay(b *scene) ([]finding.Finding, error) {
	need := b.fixture.Tolerances.HolePosition.MM()
	tallies := map[assembly.Role]*tally{}
	var order []assembly.Role
	for _, m := range b.pairs(b.nominal).by[assembly.Through] {
		k, least, slack := m.v.Role, apartLeast, 0.0
		if k == assembly.RoleRod {
			k = m.u.Role
		}
		if k == assembly.RolePlate || k == assembly.RoleStiffener {
			least, slack = need, Slack
		}
		if tallies[k] == nil {
			tallies[k] = &tally{}
			order = append(order, k)
		}
		play := m.MM
		if m.Relation == geom.Interfering || m.MM == 0 { // how far it is pushed aside says nothing of a bore
			play = (b.bore(k) - b.fixture.Rods.Thread.Major.MM()) / 2
		}
		p := finding.JudgeLeast(play, least, least, slack)
		p.Between, p.At = []string{m.u.ID, m.v.ID}, spot(m.OnA)
		tallies[k].add(p)
	}
	var all []finding.Finding
	for _, k := range order {
		all = append(all, tallies[k].finding("rod in "+string(k), "mm")...)
	}
	return all, nil
}

// bore is the diameter that a rod passes in parts of a group, mm.
func (b *scene) bore(g assembly.Role) float64 {
	f := b.fixture
	switch {
	case g == assembly.RoleWasher:
		return f.Washer.Inner.MM()
	case g == assembly.RoleSleeve:
		return f.Sleeve.Inner.MM()
	case g == assembly.RoleSpring:
		return f.Spring.Bore().MM()
	}
	return f.Rods.Hole.MM()
}
