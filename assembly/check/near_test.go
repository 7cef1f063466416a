package check

import (
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
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
const nearBy = 0.0021

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
	found, err := ruleByID(t, id).eval(newScene(a))
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
		if f.Verdict != c.want || f.Have != c.have && !(math.Abs(f.Have-c.have) <= nearBy) || !(math.Abs(f.Need-c.need) <= nearBy) {
			t.Errorf("%s case %d: %s at %.4f, limit %.4f between %v, by hand %s at %.4f, limit %.4f", id, i, f.Verdict, f.Have, f.Need, f.Between, c.want, c.have, c.need)
		}
		return
	}
	if c.want != "" {
		t.Errorf("%s case %d: no finding %q, only %v", id, i, c.of, found)
	}
}

func none(*params.Fixture) {}

func mm(x float64) unit.Length { return unit.Length(x) }

// all makes several changes.
func all(changes ...func(*params.Fixture)) func(*params.Fixture) {
	return func(f *params.Fixture) {
		for _, c := range changes {
			c(f)
		}
	}
}

// Limits are kept up to Slack: over is on the good side of one that must be
// reached, short on the bad side, 0.004 and 0.006 mm below it.
const over, under = -0.004, -0.006

func temperature(c float64) unit.Temperature { return unit.Temperature(c) }
