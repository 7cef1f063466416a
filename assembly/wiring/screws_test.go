package wiring

import (
	"math"
	"slices"
	"strings"
	"testing"

	"clampwright/parts/geom"
)

// twoScrewed is a pack with two tapped holes on each terminal, so far apart.
func twoScrewed(in Input, step geom.Vec2) Input {
	in = tapped(in, 12)
	in.Screws, in.ScrewStep, in.PadDiaMM, in.Bar.WidthMM = 2, step, 14, 40
	return in
}

// Plans of packs whose terminals have two screws hold as others do; every bar has its holes
// where the screws are, whichever way it lies, and every joint its screws twice: the lugs and
// rings lie under the first alone, so the one beside it is shorter by them.
func TestSeveralScrews(t *testing.T) {
	for _, c := range []struct {
		in   Input
		step geom.Vec2
	}{{pack(4, 1, 4, 1), geom.Vec2{X: 18}}, {pack(8, 2, 16, 1), geom.Vec2{X: 16}}, {pack(6, 1, 3, 2), geom.Vec2{Y: 20}}, {pack(4, 2, 8, 1), geom.Vec2{Y: 24}}} {
		l := mustLayout(t, twoScrewed(c.in, c.step))
		for _, p := range mustPlans(t, l) {
			if !p.Proven() || p.Harm.Stopped[Unseen] > 0 {
				t.Errorf("%v %s: %v, %v", c.step, p.ID, p.Faults(), p.Harm.Stopped)
			}
			final, _ := p.State(StateFinal)
			for _, k := range final.Links {
				sp, _ := l.SpecFor(k, final.Turns, p.Specs)
				v := l.Position(k.B, final.Turns).Sub(l.Position(k.A, final.Turns))
				want := geom.Vec2{X: math.Abs(c.step.Y), Y: math.Abs(c.step.X)} // along the stack
				if math.Abs(v.X) > math.Abs(v.Y) {
					want = geom.Vec2{X: math.Abs(c.step.X), Y: math.Abs(c.step.Y)}
				}
				if got := (geom.Vec2{X: math.Abs(sp.ScrewStep.X), Y: math.Abs(sp.ScrewStep.Y)}); sp.Screws != 2 || got.Dist(want) > 1e-9 {
					t.Errorf("%v %s %s: %d holes, %v apart, want %v", c.step, p.ID, k.ID, sp.Screws, got, want)
				}
			}
			one := mustLayout(t, tapped(c.in, 12))
			p.eachJoint(func(j *Joint) {
				if len(j.Lies) == 0 {
					return
				}
				if each := j.Each(); len(each) != 2 || each[0].ScrewMM < each[1].ScrewMM || each[1].HoldsMM < l.in.HoldsLeast()-0.01 || each[1].HoldsMM > 12-bottomMM+0.01 {
					t.Fatalf("%v %s: %+v beside %+v", c.step, p.ID, *j, *j.Beside)
				}
				for _, x := range j.Beside.Lies {
					if x.Link == "lug" || x.Link == "ring" {
						t.Errorf("%s under the screw beside", x.Link)
					}
				}
				if alone := one.in.fastened(Joint{Lies: j.Lies}); alone.ScrewMM != j.ScrewMM || alone.Beside != nil {
					t.Errorf("the first screw is %v, of one alone %v", j.ScrewMM, alone.ScrewMM)
				}
			})
			screws, washers, _ := p.Screws(l)
			n := 0
			for _, k := range screws {
				n += k
			}
			joined := map[Post]bool{}
			for _, k := range final.Links {
				joined[k.A], joined[k.B] = true, true
			}
			if least := 2 * len(joined); n < least || washers < least {
				t.Errorf("%v %s: %d screws, %d washers on %d terminals", c.step, p.ID, n, washers, len(joined))
			}
		}
	}
}

// Two screws in line along a bar leave room for its slots, or the link is braided; beside
// each other the bar is as wide as they ask, 1.2 holes to each edge.
func TestScrewsNear(t *testing.T) {
	k, turns := Link{A: Post{0, Right}, B: Post{1, Right}}, Turns{Right, Left}
	of := func(step geom.Vec2, wide float64) LinkSpec {
		in := rigid(twoScrewed(pack(2, 1, 2, 1), step))
		in.Bar.WidthMM, in.Bar.EndMM = wide, 12
		in.Growth = Growth{PitchTolMM: 0.5, HoleTolMM: 0.2}
		return specOf(mustLayout(t, in), k, turns)
	}
	travel := of(geom.Vec2{Y: 30}, 40).TravelMM // 2 * 0.5 + 4 * 0.2
	near(t, "travel", travel, 1.8, 1e-9)
	for _, c := range []struct {
		name string
		step geom.Vec2
		wide float64
		want string
	}{
		{"in line, just room", geom.Vec2{Y: 1.8 + 2*6.6}, 40, ""},
		{"in line, slots run together", geom.Vec2{Y: 1.8 + 2*6.6 - 0.01}, 40, "run into each other"},
		{"beside, just wide", geom.Vec2{X: 18}, 18 + 2.4*6.6, ""},
		{"beside, narrow", geom.Vec2{X: 18}, 18 + 2.4*6.6 - 0.01, "its hole wants 33.8 mm"},
	} {
		sp := of(c.step, c.wide)
		if text := strings.Join(append(slices.Clone(sp.Warnings), sp.FlexibleWhy), ";"); c.want == "" && text != ";" && text != "" || !strings.Contains(text, c.want) {
			t.Errorf("%s: %q", c.name, text)
		}
	}
	in := twoScrewed(pack(2, 1, 2, 1), geom.Vec2{X: 33.5})
	if _, err := in.Settle(); err == nil || !strings.Contains(err.Error(), "hole 40.1 mm does not fit a bar 40 mm wide") {
		t.Errorf("holes outside the bar: %v", err)
	}
	in.ScrewStep = geom.Vec2{X: 33.3}
	if _, err := in.Settle(); err != nil {
		t.Error(err)
	}
}

// Terminals of two screws come as near each other as their nearest screws: by hand on a
// ring of places about one, against every pair of screws.
func TestScrewsApart(t *testing.T) {
	in := mustLayout(t, twoScrewed(pack(2, 1, 2, 1), geom.Vec2{X: 18})).in
	in.Screws = 3
	for i := range 40 {
		a := float64(i) * math.Pi / 20
		p, q := geom.Vec2{X: 3, Y: 4}, geom.Vec2{X: 3 + 50*math.Cos(a), Y: 4 + 50*math.Sin(a)}
		want := math.Inf(1)
		for _, u := range []float64{-18, 0, 18} {
			for _, v := range []float64{-18, 0, 18} {
				want = min(want, math.Hypot(q.X+v-p.X-u, q.Y-p.Y))
			}
		}
		near(t, "screws apart", in.screwsApart(p, q), want, 1e-9)
	}
}
