package clamp

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// Rods set alike are one group, told by their mean; rods of another force are
// another, even with the same turns; no rod is left out.
func TestGroupsAreSetAlike(t *testing.T) {
	s := Setting{PerRod: []RodSetting{
		{ForceN: 700, Turns: 1.150, SpringMM: 20}, {ForceN: 1400, Turns: 1.160, SpringMM: 18},
		{ForceN: 702, Turns: 1.166, SpringMM: 19.98}, {ForceN: 700, Turns: 1.300, SpringMM: 20},
	}}
	groups := s.Groups()
	if len(groups) != 3 {
		t.Fatal(groups)
	}
	g := groups[0]
	if len(g.Rods) != 2 || g.Rods[1] != 2 || g.Turns != 1.16 || math.Abs(g.ForceN-701) > 1e-9 || math.Abs(g.SpringMM-19.99) > 1e-9 {
		t.Error(g)
	}
	if groups[1].Rods[0] != 1 || groups[2].Rods[0] != 3 {
		t.Error(groups)
	}
}

// With springs on unlike rods no mean height is told.
func TestUnlikeSpringsHaveTheirOwnHeights(t *testing.T) {
	s := Setting{SpringFree: 25, PerRod: []RodSetting{{ForceN: 735, Turns: 1, SpringMM: 22.8}, {ForceN: 1471, Turns: 2, SpringMM: 21.3}}}
	said := ""
	s.describeSprings(func(format string, a ...any) { said += fmt.Sprintf(format, a...) })
	for _, want := range []string{"22.80 mm (735 N)", "21.30 mm (1471 N)"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is missing in %q", want, said)
		}
	}
	if strings.Contains(said, "22.05") {
		t.Errorf("a mean is told: %s", said)
	}
	// rods beside a tilted plate turn unlike, to one height
	s, said = Setting{SpringFree: 25, PerRod: []RodSetting{{ForceN: 735, Turns: 1, SpringMM: 22.8}, {ForceN: 735, Turns: 2, SpringMM: 22.8}}}, ""
	s.describeSprings(func(format string, a ...any) { said += fmt.Sprintf(format, a...) })
	if said != "Tighten until every spring stack is 22.80 mm high (25.00 mm free); that is 735 N in each rod." {
		t.Error(said)
	}
}
