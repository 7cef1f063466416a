package check

import (
	"cmp"
	"slices"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/parts/geom"
)

// pair is two instances by address: instances live as long as the assembly.
type pair struct{ a, b *assembly.Instance }

// between returns the gap between two instances, computed once and kept. A gap
// beyond within, mm, may come back as a lower bound. The first error of any
// distance is kept in b.err and ends the run.
func (b *scene) between(u, v *assembly.Instance, within float64) geom.Gap {
	k := pair{u, v}
	if g, ok := b.dist[k]; ok && (!g.Bound || g.MM >= within) {
		return g
	}
	g, err := geom.DistanceWithin(u.Body(), v.Body(), within)
	if err != nil && b.err == nil {
		b.err = err
	}
	b.dist[k] = g
	return g
}

// box returns the box of an instance at its place, computed once.
func (b *scene) box(w *assembly.Instance) geom.Box3 {
	if box, ok := b.boxes[w]; ok {
		return box
	}
	box := w.Body().Bounds()
	b.boxes[w] = box
	return box
}

// candidate is a pair with a lower bound of its gap.
type candidate struct {
	u, v  *assembly.Instance
	need  float64
	lower float64
}

func (c candidate) spare() float64 { return c.lower - c.need }

// exactBeyond is how far beyond the distance wanted gaps are still measured
// exactly, mm; parts further apart are reported by a lower bound.
const exactBeyond = 20

// candidates are pairs to measure; those beyond are only counted, and the nearest of
// them is kept.
type candidates struct {
	near    []candidate
	far     int
	nearest candidate
}

// add takes in that two instances must be need apart, mm.
func (cs *candidates) add(b *scene, u, v *assembly.Instance, need float64) {
	c := candidate{u, v, need, b.box(u).Dist(b.box(v))}
	if !(c.spare() > exactBeyond) { // what is no number is measured, and told
		cs.near = append(cs.near, c)
	} else if cs.far++; cs.far == 1 || c.spare() < cs.nearest.spare() {
		cs.nearest = c
	}
}

// closest measures pairs, nearest boxes first, and tallies each: all pairs that
// could be short of their need, and the one that comes nearest to it, are
// measured exactly; the rest are known to be further off and are counted.
func (b *scene) closest(t *tally, cs candidates, judge func(c candidate, g geom.Gap) finding.Finding) {
	slices.SortStableFunc(cs.near, func(c, d candidate) int { return cmp.Compare(c.spare(), d.spare()) })
	spare := float64(exactBeyond)
	t.count += cs.far
	for _, c := range cs.near {
		if c.spare() > spare {
			t.count++
			continue
		}
		g := b.between(c.u, c.v, c.need+spare)
		if g.Bound {
			t.count++
			continue
		}
		t.add(judge(c, g))
		spare = max(0, min(spare, g.MM-c.need))
	}
	if len(t.places) > 0 || len(cs.near)+cs.far == 0 {
		return
	}
	if len(cs.near) > 0 { // all are far off: say how far at least
		cs.nearest = cs.near[0]
	}
	t.places, t.worst = []finding.Finding{b.farOff(cs.nearest, judge)}, 0
}

// farOff is the place of a pair that is known only to be further off than its
// need and exactBeyond.
func (b *scene) farOff(c candidate, judge func(c candidate, g geom.Gap) finding.Finding) finding.Finding {
	g := geom.Gap{MM: max(c.lower, c.need+exactBeyond), OnA: b.box(c.u).Center(), OnB: b.box(c.v).Center(), Bound: true}
	p := judge(c, g)
	p.Bound = true
	return p
}

// nearest measures how near the instances of two lists come to each other: each
// pair must be need apart.
func (b *scene) nearest(t *tally, us, vs []*assembly.Instance, need float64) {
	var cs candidates
	for _, u := range us {
		for _, v := range vs {
			cs.add(b, u, v, need)
		}
	}
	b.closest(t, cs, func(c candidate, g geom.Gap) finding.Finding {
		p := atLeast(g.MM, need, need)
		p.Between, p.At = []string{c.u.ID, c.v.ID}, spot(g.OnA)
		return p
	})
}
