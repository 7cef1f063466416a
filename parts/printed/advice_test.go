package printed

import (
	"math"
	"strings"
	"testing"

	"clampwright/parts"
	"clampwright/parts/geom"
)

// What is advised, on both sides of each limit.
func TestAdvise(t *testing.T) {
	block := func(x, y, z float64) geom.Mesh {
		s, err := geom.Box(geom.Vec3{}, geom.Vec3{X: x, Y: y, Z: z})
		if err != nil {
			t.Fatal(err)
		}
		m, _ := s.Mesh(chordMM)
		return m
	}
	for _, c := range []struct {
		name          string
		kind          parts.Kind
		x, y, z, wall float64
		lines, infill int
		brim          float64
	}{
		{"low", parts.KindGuard, 20, 10, 40, 10, 4, 100, 0},
		{"high", parts.KindGuard, 20, 10, 40.1, 10, 4, 100, brimMM},
		{"long", parts.KindGuard, 150, 30, 10, 10, 4, 100, 0},
		{"longer", parts.KindGuard, 150.1, 30, 10, 10, 4, 100, brimMM},
		{"two lines each side", parts.KindSleeve, 20, 20, 20, 1.8, 2, 100, 0},
		{"three", parts.KindSleeve, 20, 20, 20, 1.9, 3, 100, 0},
		{"one line", parts.KindSleeve, 20, 20, 20, 0.4, 2, 100, 0},
		{"thin", parts.KindSleeve, 20, 20, 20, 2.99, 4, 100, 0},
		{"thick", parts.KindSleeve, 20, 20, 20, 3, 4, 100, 0},
		{"guide", parts.KindGuide, 20, 20, 20, 5, 4, aidInfill, 0},
		{"gauge", parts.KindGauge, 20, 20, 20, 5, 4, aidInfill, 0},
	} {
		p := parts.Print{Lie: geom.World(), WallMM: c.wall}
		advise(c.kind, block(c.x, c.y, c.z), &p)
		if p.Lines != c.lines || p.InfillPct != c.infill || p.BrimMM != c.brim || math.Abs(p.FootMM2-c.x*c.y) > 1e-6 || math.Abs(p.HighMM-c.z) > 1e-9 {
			t.Errorf("%s: %+v", c.name, p)
		}
	}
}

func TestAdviceInWords(t *testing.T) {
	level := geom.Frame{X: geom.Vec3{X: 1}, Y: geom.Vec3{Z: 1}, Z: geom.Vec3{Y: -1}}
	for _, c := range []struct {
		p     parts.Part
		words []string
		not   string
	}{
		{parts.Part{Print: &parts.Print{Lie: level, HighMM: 12.2, FootMM2: 340.4, Lines: 3, InfillPct: 30, BrimMM: 5, SteepMM2: 5.1, UprightMM2: 812.4, Need: "short bridges"}, Holes: make([]parts.Hole, 1)},
			[]string{"12 mm high on 340 mm²", "3 lines of wall, infill 30 %", "brim 5 mm", "no support", "bores level, for upright 812 mm²", "ream"}, "bores upright"},
		{parts.Part{Print: &parts.Print{Lie: geom.World(), SteepMM2: 5.1}, Holes: make([]parts.Hole, 1)}, []string{"no brim", "support under the overhangs", "bores upright"}, "no support"},
		{parts.Part{Print: &parts.Print{Lie: geom.World(), SteepMM2: 5}}, []string{"no support"}, "bores"},
		{parts.Part{}, nil, "brim"},
	} {
		said := Advice(&c.p)
		for _, w := range c.words {
			if !strings.Contains(said, w) {
				t.Errorf("%q lacks %q", said, w)
			}
		}
		if strings.Contains(said, c.not) {
			t.Errorf("%q says %q", said, c.not)
		}
	}
}

// A sleeve comes in pieces that stand: pushed at the top by the nozzle, as a cantilever each
// gives way by no more than half a line (F l³ / 3EI, a handbook's case). A thinner ring
// stands less high. None hangs on its brim alone where the bed is too weak for it, and a
// bed that is too low splits it too.
func TestSlenderSleeves(t *testing.T) {
	for _, c := range []struct {
		outer, inner, length float64
		pieces               int
	}{{11, 8.6, 125, 1}, {11, 8.6, 126, 2}, {11, 8.6, 211, 2}, {11, 10, 98, 1}, {11, 10, 100, 2}, {9, 6.6, 99, 1}, {9, 6.6, 101, 2}, {6.4, 4.6, 300, 6}, {30, 25, 239, 1}, {30, 25, 241, 2}} {
		ps, err := Sleeve(SleeveSpec{label("sleeve", "T1"), printer(), c.outer, c.inner, c.length})
		if err != nil || len(ps) != c.pieces {
			t.Fatalf("%+v: %d pieces, %v", c, len(ps), err)
		}
		for _, p := range ps {
			moment := math.Pi * (math.Pow(c.outer, 4) - math.Pow(c.inner, 4)) / 64
			if gives := 0.3 * math.Pow(p.Print.HighMM, 3) / (3 * 2000 * moment); gives > 0.225+1e-9 {
				t.Errorf("%+v: %s is %g mm high and gives way by %g mm", c, p.ID, p.Print.HighMM, gives)
			}
			// foot and brim as a disc, its bore left out: stress at its edge in MPa
			r := c.outer/2 + p.Print.BrimMM
			if edge := 0.3 * p.Print.HighMM * r / (math.Pi / 4 * (math.Pow(r, 4) - math.Pow(c.inner/2, 4))); edge > 0.05 || p.Print.BrimMM < brimMM {
				t.Errorf("%+v: %s on %g mm² with a brim of %g mm: %g MPa", c, p.ID, p.Print.FootMM2, p.Print.BrimMM, edge)
			}
			if (p.Print.Joint != "") != (c.pieces > 1) {
				t.Errorf("%+v: joint %q", c, p.Print.Joint)
			}
		}
	}
}

// The brim is as wide as holds, on both sides of a millimetre.
func TestBrimHolds(t *testing.T) {
	for _, c := range []struct{ high, foot, brim float64 }{{96, 10, 5}, {150, 10, 6}, {300, 10, 9}, {27, 10, 0}, {41, 10, 5}} {
		p := parts.Print{HighMM: c.high, FootMM2: c.foot * c.foot}
		at := func(b float64) bool { return stands(&p, geom.Vec2{X: c.foot, Y: c.foot}, b) }
		if !at(c.brim) || c.brim > brimMM && at(c.brim-1) {
			t.Errorf("%+v: stands %v, with less %v", c, at(c.brim), at(c.brim-1))
		}
	}
	full := parts.Print{HighMM: 100, FootMM2: 600}
	for off, want := range map[float64]bool{-0.01: true, 0.01: false} { // a full block: edge stress 6 M / b h², handbook
		full.HighMM = 60*10*10/6*0.05/0.3 + off
		if got := stands(&full, geom.Vec2{X: 60, Y: 10}, 0); got != want {
			t.Errorf("%g mm high on 60 by 10: %v", full.HighMM, got)
		}
	}
}

// A guard without room for a second leg is called what it is.
func TestStripIsCalledOne(t *testing.T) {
	for _, c := range []struct {
		plate float64
		strip bool
	}{{0, true}, {printer().wall() + 0.25 + legLeast - 0.01, true}, {printer().wall() + 0.25 + legLeast, false}, {12, false}} {
		ps, err := Guard(GuardSpec{parts.Label{ID: "g", Name: "corner guard"}, printer(), 20, c.plate, 100})
		if err != nil {
			t.Fatal(err)
		}
		if got := ps[0].Name == StripName; got != c.strip || !got && ps[0].Name != "corner guard" {
			t.Errorf("plate leg %g: called %q", c.plate, ps[0].Name)
		}
	}
}
