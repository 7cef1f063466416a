package wiring

import (
	"math"
	"math/rand/v2"
	"testing"

	"clampwright/parts/geom"
)

// The gap of two straight edges against dense sampling of both.
func TestEdgeGapAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	pt := func() geom.Vec2 { return geom.Vec2{X: 100 * r.Float64(), Y: 100 * r.Float64()} }
	for range 200 {
		a, b := geom.NewEdge(pt(), pt(), 0), geom.NewEdge(pt(), pt(), 0)
		least := math.Inf(1)
		const n = 400
		for i := range n + 1 {
			least = min(least, b.Dist(a.A.Lerp(a.B, float64(i)/n)))
		}
		got := edgeGap(a, b)
		if got > least+1e-9 || got < least-0.4 {
			t.Errorf("gap %v, sampled %v", got, least)
		}
		if math.Abs(got-edgeGap(b, a)) > 1e-9 {
			t.Errorf("gap is not symmetric: %v %v", got, edgeGap(b, a))
		}
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
		if got := c.l.clashes(s); len(got) != c.clash {
			t.Errorf("%s: %v", c.name, got)
		}
		cables := 0
		for _, k := range c.l.insulated(s) {
			if k.Cable {
				cables++
			}
		}
		if cables != c.cables {
			t.Errorf("%s: %d cables", c.name, cables)
		}
	}
}
