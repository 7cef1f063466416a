package stackup

import (
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"testing"

	"clampwright/assembly"
	"clampwright/params"
	"clampwright/params/unit"
)

func fixture(t *testing.T, name string) *params.Fixture {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	f, diags := params.Load(name, text)
	if f == nil {
		t.Fatal(diags)
	}
	f.Prints = params.Prints{}
	return f
}

var turns = Turns{TargetN: 2942, SnugN: 80, Turns: 0.9, BandN: [2]float64{1800, 4700}}

// The least thread outside the nut in the worst case is what the assembly's
// stations give when cells, plates and saw are at their limits.
func TestLengthAgainstLayout(t *testing.T) {
	for _, name := range []string{"eight-cell-plywood.yaml", "four-cell-offcut.yaml", "sixteen-cell-two-rows.yaml"} {
		f := fixture(t, name)
		o := length(f, source(f, 1))
		both := func(g *params.Fixture, v assembly.Variant) float64 {
			l, err := assembly.NewLayout(g, v)
			if err != nil {
				t.Fatal(err)
			}
			return (l.Ends[0].Protrusion() + l.Ends[1].Protrusion()) / 2
		}
		if got := both(f, assembly.Nominal); math.Abs(got-o.Nominal) > 1e-9 {
			t.Errorf("%s: nominal %g, layout %g", name, o.Nominal, got)
		}
		g := *f
		g.Plate.Thickness *= 1 + thicknessShare
		g.Rods.Length -= g.Tolerances.CutLength
		if f.Liner != nil {
			l := *f.Liner
			l.Thickness *= 1 + thicknessShare
			g.Liner = &l
		}
		if got := both(&g, assembly.Largest); math.Abs(got-o.Worst.Least) > 1e-9 {
			t.Errorf("%s: worst %g, layout at the limits %g", name, o.Worst.Least, got)
		}
	}
}

// The samples spread as the formula for sums of even errors says: the variance of
// one even over -a to a is a²/3, and variances add.
func TestLengthSpread(t *testing.T) {
	f := fixture(t, "eight-cell-plywood.yaml")
	o := length(f, source(f, 2))
	p, s := thicknessShare*f.Plate.Thickness.MM(), f.Tolerances.CutLength.MM()
	c := f.Cell.ThicknessTol.MM()
	sd := math.Sqrt((float64(f.Pack.PerRow)*c*c+2*p*p+s*s)/3) / 2
	// Near a normal distribution 95 of 100 lie within 1.96 standard deviations.
	if got := (o.Likely.Greatest - o.Likely.Least) / 2; math.Abs(got/(1.96*sd)-1) > 0.06 {
		t.Errorf("half width %g, expected about %g", got, 1.96*sd)
	}
	if o.Likely.Least < o.Worst.Least || o.Likely.Greatest > o.Worst.Greatest || o.Matters != "cell thickness" {
		t.Errorf("%+v", o)
	}
}

// Disk line picking: the mean distance of two points even over a disc of radius R
// is 128 R / (45 pi) (any table of geometric probability; from memory); the circle
// round two points has half their distance as radius.
func TestTwoHoles(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	sum, n := 0.0, 40000
	for range n {
		sum += 2 * circleRound(drilled(r, 2, 0.5))
	}
	if want := 128 * 0.5 / (45 * math.Pi); math.Abs(sum/float64(n)/want-1) > 0.01 {
		t.Errorf("mean distance %g, want %g", sum/float64(n), want)
	}
}

// The smallest circle against a slow search over its middle.
func TestCircleRound(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 40 {
		p := drilled(r, 4, 1)
		got := circleRound(p)
		best, at := math.Inf(1), point{}
		for step, span := 0.05, 1.0; step > 1e-4; step, span = step/8, step*2 {
			mid := at
			for x := mid.x - span; x <= mid.x+span; x += step {
				for y := mid.y - span; y <= mid.y+span; y += step {
					worst := 0.0
					for _, q := range p {
						worst = math.Max(worst, math.Hypot(q.x-x, q.y-y))
					}
					if worst < best {
						best, at = worst, point{x, y}
					}
				}
			}
		}
		if math.Abs(best-got) > 2e-3 {
			t.Errorf("%v: radius %g, search finds %g", p, got, best)
		}
		if got > 1 {
			t.Errorf("%v: %g is more than the error itself", p, got)
		}
	}
}

// No sample leaves the worst case, and the same seed gives the same numbers.
func TestSeeded(t *testing.T) {
	f := fixture(t, "four-cell-offcut.yaml")
	a, b := Study(f, turns), Study(f, turns)
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
	f.Tolerances.Seed++
	if c := Study(f, turns); c.Outcomes[1].Likely == a.Outcomes[1].Likely {
		t.Error("another seed gives the same samples")
	}
	for _, o := range a.Outcomes {
		if o.Likely.Least < o.Worst.Least-1e-9 || o.Likely.Greatest > o.Worst.Greatest+1e-9 {
			t.Errorf("%s: likely %+v outside worst %+v", o.ID, o.Likely, o.Worst)
		}
		sum := 0.0
		for _, p := range o.Parts {
			sum += p.Share
		}
		if math.Abs(sum-1) > 1e-9 || o.Holds && o.Good < 1 {
			t.Errorf("%s: shares add to %g, holds %v, good %g", o.ID, sum, o.Holds, o.Good)
		}
	}
}

// By hand at 0.5 mm an M8 rod in a 9 mm hole just passes; in one of 8.5 mm it
// need not, and with a router's 0.1 mm it does again.
func TestHandAndRouter(t *testing.T) {
	f := fixture(t, "eight-cell-plywood.yaml")
	for _, c := range []struct {
		hole, err float64
		holds     bool
	}{{9, 0.5, true}, {8.5, 0.5, false}, {8.5, 0.1, true}} {
		f.Rods.Hole = unit.Length(c.hole)
		f.Tolerances.HolePosition = unit.Length(c.err)
		if o := passing(f, source(f, 1)); o.Holds != c.holds || o.Holds != (o.Good == 1) {
			t.Errorf("hole %g, error %g: %+v", c.hole, c.err, o)
		}
	}
}

// Force by turns, worked by hand: four rods, 80 N finger tight, 2,880 N in 0.9
// turns, so each rod gains (2880-80)/0.9/4 = 777.8 N a turn. Off by a flat's
// half, 1/12 turn, every way the bad one: 4 x 64.8 = 259.3 N; snug off by half:
// 40 N; together 299.3 N or 10.39 % at worst. By root of squares, as even errors:
// sqrt(4 (64.8² + 10²)/3) = 75.7 N, so 95 of 100 within 1.96 x 75.7 = 148 N, 5.2 %.
func TestForceByHand(t *testing.T) {
	f := fixture(t, "four-cell-offcut.yaml")
	if n := len(f.Rods.Columns) * len(f.Rods.Levels); n != 4 {
		t.Fatalf("%d rods", n)
	}
	f.Tolerances.TurnError = 1.0 / 12
	o := force(f, Turns{TargetN: 2880, SnugN: 80, Turns: 0.9}, source(f, 3))
	if math.Abs(o.Worst.Greatest-10.39) > 0.01 || math.Abs(o.Worst.Least+10.39) > 0.01 {
		t.Errorf("worst %+v, by hand 10.39 %%", o.Worst)
	}
	if half := (o.Likely.Greatest - o.Likely.Least) / 2; math.Abs(half-5.15) > 0.25 || o.Matters != "turning error" {
		t.Errorf("likely half width %.2f, by hand about 5.15; %s", half, o.Matters)
	}
}
