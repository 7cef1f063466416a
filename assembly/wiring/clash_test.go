package wiring

import (
	"math"
	"math/rand/v2"
	"testing"

	"clampwright/parts/geom"
)

// A bar lies from end to end over its terminals: at its first its end distance beyond,
// at the second as far beyond the slot; by hand for the pitch of 73 with a bar of 20, and
// in every layout both its terminals stand on it, as far in as the end distance.
func TestMetalOfABar(t *testing.T) {
	in := rigid(pack(4, 1, 4, 1))
	in.Growth = Growth{PitchTolMM: 0.5, HoleTolMM: 0.2} // 72.1 to 73.9: slot of 1.8
	l := mustLayout(t, in)
	turns := make(Turns, 4)
	m := metalOf(l, Link{A: Post{0, Left}, B: Post{1, Left}}, turns)
	a, end := l.Position(Post{0, Left}, turns), l.in.endDistance()
	near(t, "first end", a.Y-m.box.Min.Y, 10, 1e-9)
	near(t, "other end", m.box.Max.Y-a.Y, 73+0.9+10, 1e-9)
	near(t, "width", m.box.Max.X-m.box.Min.X, 20, 1e-9)
	near(t, "first end is at the hole", end, 10, 1e-9)
	back := metalOf(l, Link{A: Post{1, Left}, B: Post{0, Left}}, turns)
	near(t, "turned", l.Position(Post{1, Left}, turns).Y-back.box.Min.Y, 73+0.9+10, 1e-9)
	jogged := 0
	for _, in := range layouts() {
		l := mustLayout(t, rigid(in))
		s := l.Finished()
		for _, k := range s.Links {
			m, sp := metalOf(l, k, s.Turns), specOf(l, k, s.Turns)
			if sp.JogMM > 0 {
				jogged++
			}
			for _, p := range []Post{k.A, k.B} {
				at := l.Position(p, s.Turns)
				if m.to(at) > 0 || geom.PolygonDist(m.pts, at) < min(sp.EndMM, sp.WidthMM/2)-2*sp.TravelMM-roundMM {
					t.Errorf("%s bar from %v: terminal %v is %v from its side", sp.Shape, k.A, p, geom.PolygonDist(m.pts, at))
				}
			}
		}
	}
	if jogged == 0 {
		t.Error("no bar with a jog was laid")
	}
}

// The gap of two bars against dense sampling of their sides, crossed and one in the other
// too.
func TestBarsApartAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	l := mustLayout(t, pack(4, 2, 8, 1))
	turns, met := l.Finished().Turns, 0
	post := func() Post { return Post{r.IntN(8), Side(r.IntN(2))} }
	for range 300 {
		k, o := Link{A: post(), B: post()}, Link{A: post(), B: post()}
		if k.A == k.B || o.A == o.B {
			continue
		}
		a, b := metalOf(l, k, turns), metalOf(l, o, turns)
		least := math.Inf(1)
		for i, p := range a.pts {
			q := a.pts[(i+1)%len(a.pts)]
			for n := range 300 {
				at := p.Lerp(q, float64(n)/300)
				if d := geom.PolygonDist(b.pts, at); !geom.InPolygon(b.pts, at) {
					least = min(least, d)
				} else {
					least = 0
				}
			}
		}
		got := a.apart(b)
		if got == 0 {
			met++
		}
		if got > least+1e-9 || got < least-1 {
			t.Errorf("%v and %v: %v apart, sampled %v", k, o, got, least)
		}
		near(t, "turned about", b.apart(a), got, 1e-9)
	}
	if met < 20 || met > 280 {
		t.Errorf("%d of 300 lie on each other", met)
	}
}

// Bars clash where they lie on each other or on a terminal, ends round, and only those of
// unlike potential: both links of a crossing become cables, and the one over a terminal.
func TestClashes(t *testing.T) {
	l := func(cells int, pitch, width float64) *Layout {
		in := pack(cells, 1, cells, 1)
		in.PitchMM, in.Bar.WidthMM = pitch, width
		return mustLayout(t, in)
	}
	right := func(a, b int) Link { return Link{A: Post{a, Right}, B: Post{b, Right}} }
	cross := []Link{{A: Post{0, Right}, B: Post{1, Left}}, {A: Post{0, Left}, B: Post{1, Right}}}
	for _, c := range []struct {
		name          string
		l             *Layout
		links         []Link
		clash, cables int
	}{
		{"over cell 2's terminal", l(3, 73, 20), []Link{right(0, 2)}, 1, 1},
		{"over a terminal of its own net", l(3, 73, 20), []Link{right(0, 2), right(0, 1)}, 1, 1},
		{"crossed", l(2, 73, 20), cross, 1, 2},
		{"crossed, of one net", l(2, 73, 20), append(cross, Link{A: Post{0, Left}, B: Post{0, Right}}), 0, 0},
		{"side by side", l(4, 40, 20), []Link{right(0, 1), right(2, 3)}, 0, 0},
		{"side by side, touching", l(4, 40, 40), []Link{right(0, 1), right(2, 3)}, 1, 2},
		{"just apart from pads", l(4, 40, 57.9), []Link{right(0, 1)}, 0, 0},
		{"on a pad", l(4, 40, 58), []Link{right(0, 1)}, 1, 1}, // 40 - 29 - 11
	} {
		s := State{Turns: make(Turns, c.l.Cells()), Links: c.links}
		if got := clashesIn(c.l, s); len(got) != c.clash {
			t.Errorf("%s: %v", c.name, got)
		}
		cables := 0
		for _, k := range insulatedLinks(c.l, s) {
			if k.Cable {
				cables++
			}
		}
		if cables != c.cables {
			t.Errorf("%s: %d cables", c.name, cables)
		}
	}
}
