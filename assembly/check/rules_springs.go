package check

import (
	"math"

	"clampwright/assembly"
	"clampwright/assembly/finding"
)

func springRules() []rule {
	return []rule{
		{id: "spring-held", group: finding.GroupSeats,
			why:     "A spring that slips sideways on its rod must still lie on its washers, or it tips off them; the inner edge of a disc, the middle of the wire of a coil, moved by all its play, must stay on the washer.",
			causes:  []string{"springs.disc", "springs.coil", "washers.name", "rods.thread"},
			measure: measureSpringHeld},
		{id: "spring-guided", group: finding.GroupSeats,
			why:     "Disc springs keep in line only on a guide with little play, a stack no higher than three outer diameters, a coil alone; else they shift, rub on the thread and give another force.",
			causes:  []string{"springs.disc", "springs.coil", "springs.series", "rods.thread"},
			measure: measureSpringGuided},
	}
}

// measureSpringHeld is how far inside the washer's edge the spring rests.
func measureSpringHeld(b *scene) ([]finding.Finding, error) {
	f := b.fixture
	if f.Spring == nil {
		return nil, nil
	}
	have, need := f.SpringRest()
	var t tally
	for _, s := range b.nominal.Of(assembly.RoleSpring) {
		p := atLeast((have - need).MM(), 0, 0)
		p.Between, p.At = []string{s.ID, washerUnder(b, s)}, spot(s.Frame.O)
		t.add(p)
	}
	return t.finding("", "mm"), nil
}

// washerUnder is the washer that a spring lies on.
func washerUnder(b *scene, s *assembly.Instance) string {
	for _, w := range b.nominal.Of(assembly.RoleWasher) {
		if w.End == s.End && w.Column == s.Column && w.Level == s.Level && w.Layer == assembly.LayerSeat {
			return w.ID
		}
	}
	return "its washer"
}

// measureSpringGuided compares a disc's play with what its guide may leave, and a stack's
// free height with what does not give way sideways.
func measureSpringGuided(b *scene) ([]finding.Finding, error) {
	s := b.fixture.Spring
	if s == nil {
		return nil, nil
	}
	var play, stack tally
	for _, w := range b.nominal.Of(assembly.RoleSpring) {
		add := func(t *tally, have, most float64) {
			p := atMost(have, math.Inf(1), most)
			p.Between, p.At = []string{w.ID, b.nominal.RodAt(w.Column, w.Level).ID}, spot(w.Frame.O)
			t.add(p)
		}
		if s.Disc != nil {
			add(&play, s.Play(b.fixture.Rods.Thread.Major).MM(), s.Disc.GuidePlay().MM())
		}
		add(&stack, s.FreeHeight.MM(), s.Tallest().MM())
	}
	return append(play.finding("", "mm"), stack.finding("stack", "mm")...), nil
}
