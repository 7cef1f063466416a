package params

import (
	"fmt"
	"math"

	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/unit"
)

// What springs are chosen for, without service: of the ranges that the share is drawn
// from (package assure) 95 of 100 batches, and 85 of 100 where holding does not lessen
// growth, grow less, as a part of the thickness, from storage charge to full, hot and
// ten years old, and shrink less to empty and cold; gives is the cells' modulus that
// goes with it, MPa.
const growsMost, shrinksMost, gives = 0.026, 0.0051, 22.2

// setAside is the part of the target that errors of setting take from the room to a
// bound.
const setAside = 0.055

// Bounds of what the program takes by itself: springs of a rod, and discs nested (their
// friction grows with the number). Common practice.
const mostPieces, mostNested = 8, 3

func settleSprings(r *resolver) {
	in := &r.in.Springs
	if !in.Present || in.None {
		return
	}
	if in.Disc.Set && in.Coil.Set {
		r.errorf(in.Coil.At, "springs are disc and coil at once", "disc and coil", "one of the two", "remove one")
		row(r, "discs", in.Disc, "", r.tables.Disc) // its name may be wrong too
	}
	s := Spring{Parallel: in.Parallel.Or(1), Series: in.Series.Or(1), BothEnds: in.Ends.Or("one") == "both"}
	switch {
	case in.Coil.Set:
		c := row(r, "coils", in.Coil, "", r.tables.Coil)
		s.Coil = &c
		if c.Rate() <= 0 && r.sure("tables.coils") {
			r.errorf(in.Coil.At, "the rate of the coil spring is not known", c.Name, "rate, N/mm, or active_coils and shear_modulus in its row", "press it on a scale")
		}
	case in.Disc.Set:
		d := row(r, "discs", in.Disc, "", r.tables.Disc)
		s.Disc = &d
		if !in.Series.Set {
			s.Series = int(min(max(math.Ceil(springGroups(r, &s)/float64(s.Stacks())), 1), 60))
		}
	default:
		s = fewestOnce(r, in)
	}
	how := "the fewest springs that keep the force within its bounds as the cells grow and shrink"
	s.Friction = pick(r, "springs.friction", in.Friction, 0.025, "2 to 3 % a face, from memory")
	s.Parallel = pick(r, "springs.parallel", in.Parallel, s.Parallel, how)
	s.Series = pick(r, "springs.series", in.Series, s.Series, how)
	ends := map[bool]string{false: "one", true: "both"}[s.BothEnds]
	s.BothEnds = pick(r, "springs.ends", in.Ends, ends, how) == "both"
	at, major := in.Coil.At, r.f.Rods.Thread.Major
	if s.Disc != nil {
		at = in.Disc.At
	}
	if s.Bore() <= major {
		r.errorf(at, "the spring doesn't pass the rod", fmt.Sprintf("bore %s", r.f.Style.Exact(s.Bore().MM())), fmt.Sprintf("more than %s", r.f.Style.Exact(major.MM())), "a wider spring, or a thinner thread")
	}
	s.FreeHeight = s.freeHeight()
	s.bush(major)
	r.f.Spring = &s
	wideWasher(r)
}

// fewestOnce is fewest, once for what is alike.
func fewestOnce(r *resolver, in *SpringBlock) Spring {
	if !r.bare || r.kept == nil {
		return fewest(r, in)
	}
	asked := springsAsked{r.f.Rods.Thread.Major, widestWasher(r), r.f.MostRodForce(1).N(), r.f.Cell.ForceTarget, r.f.Pack.PerRow, r.f.Cell.Thickness, in.Parallel, in.Ends}
	if s, ok := r.kept.chosen.Load(asked); ok {
		return s.(Spring)
	}
	s := fewest(r, in)
	if !r.diags.HasErrors() {
		r.kept.chosen.Store(asked, s)
	}
	return s
}

// fewest are the fewest springs that do what the cells ask, or do most of it: coil and
// die springs before discs, those that the rod guides before others, then the
// smallest.
func fewest(r *resolver, in *SpringBlock) Spring {
	major, both, washer := r.f.Rods.Thread.Major, []bool{false, true}, widestWasher(r)
	if in.Ends.Set {
		both = []bool{in.Ends.V == "both"}
	}
	best, least := Spring{}, []float64(nil)
	try := func(s Spring) {
		for _, s.BothEnds = range both {
			n := math.Max(1, math.Ceil(springGroups(r, &s)/float64(s.Stacks())))
			most := max(1, math.Floor(mostPieces/(float64(s.Stacks())*float64(s.Parallel))))
			most = math.Min(most, math.Floor(float64(s.Tallest()/s.freeHeight())))
			s := s
			s.bush(major)
			if most < 1 || s.Bore() <= major || s.rest(major, washer) > washer.Outer/2 {
				continue
			}
			s.Series = int(math.Min(n, most))
			rank := []float64{n / math.Min(n, most), float64(s.Stacks()) * float64(s.Series*s.Parallel), guided(s.GuidedBy(major)), s.OuterDia().MM(), s.freeHeight().MM()}
			if least == nil || less(rank, least) {
				best, least = s, rank
			}
		}
	}
	for _, c := range r.tables.Coils {
		try(Spring{Coil: &c, Parallel: 1, Series: 1})
	}
	if least == nil || least[0] > 1 {
		for _, d := range r.tables.Discs {
			for n := in.Parallel.Or(1); n <= max(in.Parallel.Or(1), mostNested); n++ {
				try(Spring{Disc: &d, Parallel: n, Series: 1})
			}
		}
	}
	if least == nil {
		r.errorf(in.At, "no spring of the tables passes the rod", r.f.Rods.Thread.Name, "springs: {disc: ...} or {coil: ...}", "a thinner rod, or a row under tables.coils")
		d := standIn(r, "discs", "", r.tables.Disc)
		return Spring{Disc: &d, Parallel: 1, Series: 1}
	}
	path, name := "springs.coil", ""
	if best.Disc != nil {
		path, name = "springs.disc", best.Disc.Name
	} else {
		name = best.Coil.Name
	}
	how := "the fewest that keep the force within its bounds"
	if least[0] > 1 {
		how = noneKeeps
	}
	r.f.origins[path] = Origin{Kind: Derived, Range: diag.Range{}, Note: how, Text: name}
	return best
}

// noneKeeps is the note of springs that are short of what the cells ask.
const noneKeeps = "none of the tables keeps the force within its bounds; this one does most"

// NoSpringFits says that the springs are the best of the tables and not enough.
func (f *Fixture) NoSpringFits() bool {
	return f.Origin("springs.coil").Note == noneKeeps || f.Origin("springs.disc").Note == noneKeeps
}

// guided ranks springs that need no bush first.
func guided(by bool) float64 {
	if by {
		return 0
	}
	return 1
}

// less compares number by number.
func less(a, b []float64) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

// springGroups is how many single springs, or packets of nested discs, a rod needs one behind
// the other: between the forces of setting and the bound on either side, less what the
// errors of setting take, they must give way by the cells' growth, less what the cells
// take of it. Infinite when they carry no more than the target within their stroke.
func springGroups(r *resolver, s *Spring) float64 {
	c, n := &r.f.Cell, float64(r.f.Pack.PerRow)
	target, aside := c.ForceTarget.N(), setAside*c.ForceTarget.N()
	stiff := gives * c.Width.MM() * c.Height.MM() / c.Thickness.MM()
	// The rods that carry most are set to part of the force on one face; what comes after
	// is shared by all alike.
	part, each := r.f.MostRodForce(1).N(), float64(r.f.Pack.Rows)/float64(len(r.f.Rods.Columns)*len(r.f.Rods.Levels))
	high := math.Min(c.ForceLimit.N()-aside, target+(s.workForce().N()-target*part)/each)
	low := math.Min(c.ForceFloor.N()+aside, target)
	one := *s
	one.Series = 1
	one.FreeHeight = one.freeHeight()
	at := func(force float64) float64 {
		return (one.FreeHeight - one.HeightAt(unit.Force(target*part+(force-target)*each))).MM()
	}
	need := 0.0
	for _, x := range []struct{ from, to, grows float64 }{{target, high, growsMost}, {low, target, shrinksMost}} {
		give, want := at(x.to)-at(x.from), n*(x.grows*c.Thickness.MM()-(x.to-x.from)/stiff)
		switch {
		case want <= 0:
		case give <= 0:
			return math.Inf(1)
		default:
			need = math.Max(need, want/give)
		}
	}
	return need
}

// wideWasher takes the large series where a spring would tip off the standard one and
// none is asked for.
func wideWasher(r *resolver) {
	if have, need := r.f.SpringRest(); have < need && r.f.Washer.Outer < widestWasher(r).Outer {
		r.f.Washer = widestWasher(r)
		r.note("washers.series", Derived, diag.Range{}, "large: the spring would tip off a standard one")
	}
}

// widestWasher is that asked for, else of the large series.
func widestWasher(r *resolver) catalog.Washer {
	if in := r.in.Washers; !in.Series.Set && !in.Name.Set {
		if w, ok := r.tables.WasherFor(r.f.Rods.Thread.Name, "large"); ok {
			return w
		}
	}
	return r.f.Washer
}
