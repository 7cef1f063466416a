package wiring

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The gap of two segments against dense sampling of both.
func TestSegmentGapAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	pt := func() Point { return Point{100 * r.Float64(), 100 * r.Float64()} }
	for range 200 {
		a, b := segment{pt(), pt()}, segment{pt(), pt()}
		least := math.Inf(1)
		const n = 400
		for i := range n + 1 {
			f := float64(i) / n
			p := Point{a.A.X + f*(a.B.X-a.A.X), a.A.Z + f*(a.B.Z-a.A.Z)}
			least = min(least, b.distanceTo(p))
		}
		got := a.gap(b)
		if got > least+1e-9 || got < least-0.4 {
			t.Errorf("gap %v, sampled %v", got, least)
		}
		if math.Abs(got-b.gap(a)) > 1e-9 {
			t.Errorf("gap is not symmetric: %v %v", got, b.gap(a))
		}
	}
}

func TestSegmentGapToBox(t *testing.T) {
	box := Point{0, 0}
	for _, c := range []struct {
		s    segment
		want float64
	}{
		{segment{Point{-50, 0}, Point{50, 0}}, 0},
		{segment{Point{1, 1}, Point{2, 2}}, 0}, // inside
		{segment{Point{-50, 10}, Point{50, 10}}, 5},
		{segment{Point{23, 9}, Point{40, 40}}, 5}, // corner 20,5: 3-4-5
	} {
		near(t, "gap", c.s.gapToBox(box, 40, 10), c.want, 1e-12)
	}
}

// A jumper from cell 1 to cell 3 lies over cell 2's terminal, of other potential.
func TestLinkOverTerminal(t *testing.T) {
	l := mustLayout(t, pack(3, 1, 3, 1))
	turns := Turns{Right, Left, Right}
	s := State{Turns: turns, Links: []Link{{ID: "J", A: Post{0, Right}, B: Post{2, Right}}}}
	got := l.Crossings(s)
	if len(got) != 1 || got[0].Kind != OverTerminal || got[0].Post != (Post{1, Right}) {
		t.Errorf("crossings %+v", got)
	}
	if links := l.insulated(s); !links[0].Cable {
		t.Error("a link over a foreign terminal must be insulated")
	}
}

// Two diagonals between neighbours cross in the middle and cover no terminal.
func TestCrossedJumpers(t *testing.T) {
	in := pack(2, 1, 2, 1)
	in.Vent = Vent{}
	l := mustLayout(t, in)
	s := State{Turns: Turns{Right, Left}, Links: []Link{
		{ID: "P", A: Post{0, Right}, B: Post{1, Left}}, {ID: "M", A: Post{0, Left}, B: Post{1, Right}}}}
	got := l.Crossings(s)
	if len(got) != 1 || got[0].Kind != CrossesLink {
		t.Errorf("crossings %+v", got)
	}
	// Of like potential there is nothing to insulate.
	s.Links = append(s.Links, Link{A: Post{0, Left}, B: Post{0, Right}})
	if got := l.Crossings(s); len(got) != 0 {
		t.Errorf("links of one net: %+v", got)
	}
}

// A straight link across the lid lies over the vent; along the side it does not.
func TestLinkOverVent(t *testing.T) {
	l := mustLayout(t, pack(2, 1, 2, 1))
	s := State{Turns: Turns{Right, Right}, Links: []Link{{A: Post{0, Right}, B: Post{1, Right}}}}
	if got := l.Crossings(s); len(got) != 0 {
		t.Errorf("side link: %+v", got)
	}
	s.Links = []Link{{A: Post{0, Left}, B: Post{0, Right}}}
	found := 0
	for _, c := range l.Crossings(s) {
		if c.Kind == OverVent && c.Slot == 0 && !c.Insulate() {
			found++
		}
	}
	if found != 1 {
		t.Errorf("%d vents covered, want that of cell 1", found)
	}
}

// Bars of neighbouring links that pass closer than the touching distance are
// named with the gap: pitch 40, bars 20 wide, ends round: 40 - 20 = 20 between.
func TestNearLinks(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.PitchMM, in.TouchMM, in.Vent = 40, 25, Vent{}
	l := mustLayout(t, in)
	s := State{Turns: Turns{Right, Left, Right, Left}, Links: []Link{
		{ID: "A", A: Post{0, Right}, B: Post{1, Right}}, {ID: "B", A: Post{2, Right}, B: Post{3, Right}}}}
	n := 0
	for _, c := range l.Crossings(s) {
		if c.Kind == NearLink {
			near(t, "gap", c.GapMM, 20, 1e-9)
			n++
		}
	}
	if n != 1 {
		t.Errorf("%d near links", n)
	}
}
