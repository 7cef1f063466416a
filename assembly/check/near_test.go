package check

import (
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/unit"
)

// near is a fixture close to one limit of a rule, with what the rule must say of
// it by hand. Verdict "" says that the rule has no such finding.
type near struct {
	of   string
	base func() *params.Fixture
	set  func(*params.Fixture)
	want finding.Verdict
	have float64
	need float64
}

// nearBy is how exact a value of a rule must be, mm or MPa.
const nearBy = 1e-3

// checkNear runs one rule on every case.
func checkNear(t *testing.T, id string, cases []near) {
	t.Helper()
	for i, c := range cases {
		f := c.base()
		c.set(f)
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatalf("%s case %d: %v", id, i, err)
		}
		checkFound(t, id, i, c, judged(t, id, a))
	}
}

// judged is what one rule says of a placed fixture.
func judged(t *testing.T, id string, a *assembly.Assembly) []finding.Finding {
	t.Helper()
	found, err := ruleByID(t, id).eval(newBench(a))
	if err != nil {
		t.Fatalf("%s: %v", id, err)
	}
	return found
}

func checkFound(t *testing.T, id string, i int, c near, found []finding.Finding) {
	t.Helper()
	for _, f := range found {
		if f.Of != c.of {
			continue
		}
		if f.Verdict != c.want || math.Abs(f.Have-c.have) > nearBy || math.Abs(f.Need-c.need) > nearBy {
			t.Errorf("%s case %d: %s at %.4f, limit %.4f between %v, by hand %s at %.4f, limit %.4f", id, i, f.Verdict, f.Have, f.Need, f.Between, c.want, c.have, c.need)
		}
		return
	}
	if c.want != "" {
		t.Errorf("%s case %d: no finding %q, only %v", id, i, c.of, found)
	}
}

// softPlates is two rows between plates of polyethylene with washers of a
// diameter, the middle rods carrying 2942 N between them, the outer ones half.
func softPlates(washer float64) func(*params.Fixture) {
	return func(f *params.Fixture) {
		f.Plate.Material = sample.FourCells().Plate.Material
		f.Washer.Outer = mm(washer)
	}
}

// The pressure under a washer is that of the rod which carries most: 2942 N over
// two levels, on a ring of 11 mm bore.
func TestWasherBearingNear(t *testing.T) {
	ring := func(outer, inner float64) float64 { return math.Pi / 4 * (outer*outer - inner*inner) }
	middle := 2942.0 / 2
	across := func(pressure float64) float64 { return math.Sqrt(middle/pressure*4/math.Pi + 11*11) }
	checkNear(t, "washer-bearing", []near{
		{"hdpe", sample.TwoRows, softPlates(across(4.99)), finding.Pass, 4.99, 5},
		{"hdpe", sample.TwoRows, softPlates(across(5.01)), finding.Warn, 5.01, 5},
		{"hdpe", sample.TwoRows, softPlates(across(9.99)), finding.Warn, 9.99, 5},
		{"hdpe", sample.TwoRows, softPlates(across(10.01)), finding.Fail, 10.01, 10},
		{"hdpe", sample.TwoRows, softPlates(10.9), finding.Fail, math.Inf(1), 10},
		// the larger of hole and bore is what the washer lacks
		{"hdpe", sample.TwoRows, func(f *params.Fixture) { softPlates(22)(f); f.Washer.Inner = 13 }, finding.Warn, middle / ring(22, 13), 5},
		// metal is compared with its strength, under the angle's washers too
		{"aluminium", sample.TwoRows, func(f *params.Fixture) { f.Washer.Outer = 11.53 }, finding.Pass, middle / ring(11.53, 11), 160},
		{"aluminium", sample.TwoRows, func(f *params.Fixture) { f.Washer.Outer = 11.51 }, finding.Fail, middle / ring(11.51, 11), 160},
		{"aluminium", sample.FourCells, none, finding.Pass, 2942.0 / 4 / ring(0.688*inch, 0.344*inch), 160},
		{"aluminium", sample.TwoRows, func(f *params.Fixture) { f.Plate.Material.Strength = 0 }, "", 0, 0},
	})
}

// The remedy for a washer is for the rods that carry most: followed, every washer
// passes.
func TestWasherRemedyServesMiddleRods(t *testing.T) {
	f := sample.TwoRows()
	softPlates(19.28)(f) // the mean of all rods would be 4.99 MPa
	found := run(t, f)
	got, _ := get(found, "washer-bearing", "")
	if got.Verdict != finding.Warn || math.Abs(got.Have-7.48) > 0.01 || got.Remedy == nil {
		t.Fatalf("%+v", got)
	}
	// by hand: sqrt(4 1471/(pi 5) + 11^2) = 22.26, rounded up to 22.3
	if want := "use washers of 22.3 mm or more across, or put an angle under them"; got.Remedy.Text != want {
		t.Errorf("%q, want %q", got.Remedy.Text, want)
	}
	f.Washer.Outer = 22.3
	if got, _ = get(run(t, f), "washer-bearing", ""); got.Verdict != finding.Pass {
		t.Errorf("remedy followed: %+v", got)
	}
}

func none(*params.Fixture) {}

func mm(x float64) unit.Length { return unit.Length(x) }
