package finding

import (
	"fmt"
	"math"
	"testing"
)

// Both sides of each limit, and the limits themselves.
func TestJudge(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		got  Finding
		want Verdict
		need float64
	}{
		{"above both", JudgeLeast(5.1, 3, 5, 0), Pass, 5},
		{"at the wish", JudgeLeast(5, 3, 5, 0), Pass, 5},
		{"under the wish", JudgeLeast(4.99, 3, 5, 0), Warn, 5},
		{"at the limit", JudgeLeast(3, 3, 5, 0), Warn, 5},
		{"under the limit", JudgeLeast(2.99, 3, 5, 0), Fail, 3},
		{"under the limit by less than the slack", JudgeLeast(2.99, 3, 5, 0.02), Warn, 5},
		{"not a number", JudgeLeast(nan, 3, 5, 0), Fail, 3},
		{"below both", JudgeMost(2.9, 5, 3, 0), Pass, 3},
		{"at the wish", JudgeMost(3, 5, 3, 0), Pass, 3},
		{"over the wish", JudgeMost(3.01, 5, 3, 0), Warn, 3},
		{"at the limit", JudgeMost(5, 5, 3, 0), Warn, 3},
		{"over the limit", JudgeMost(5.01, 5, 3, 0), Fail, 5},
		{"over the limit by less than the slack", JudgeMost(5.01, 5, 3, 0.02), Warn, 3},
		{"not a number", JudgeMost(nan, 5, 3, 0), Fail, 5},
	} {
		if c.got.Verdict != c.want || c.got.Need != c.need {
			t.Errorf("%s %s: %s at %g, want %s at %g", c.got.Sense, c.name, c.got.Verdict, c.got.Need, c.want, c.need)
		}
	}
}

func TestMargin(t *testing.T) {
	for _, c := range []struct {
		f            Finding
		margin, over float64
		wanted       string
	}{
		{Finding{Have: 8, Need: 10, Sense: AtLeast}, -2, 0.2, "at least 10"},
		{Finding{Have: 12, Need: 10, Sense: AtLeast}, 2, -0.2, "at least 10"},
		{Finding{Have: 12, Need: 10, Sense: AtMost}, -2, 0.2, "at most 10"},
		{Finding{Have: 8, Need: 10, Sense: AtMost}, 2, -0.2, "at most 10"},
		{Finding{Have: 9, Need: 10, Most: 20, Sense: Within}, -1, 0.1, "10 to 20"},
		{Finding{Have: 11, Need: 10, Most: 20, Sense: Within}, 1, -0.1, "10 to 20"},
		{Finding{Have: 22, Need: 10, Most: 20, Sense: Within}, -2, 0.1, "10 to 20"},
		{Finding{Have: 18, Need: 10, Most: 20, Sense: Within}, 2, -0.1, "10 to 20"},
		{Finding{Have: -1, Need: 0, Sense: AtLeast}, -1, 1e9, "at least 0"},
	} {
		if c.f.Margin() != c.margin || math.Abs(c.f.Over()/c.over-1) > 1e-12 {
			t.Errorf("%+v: margin %g, over %g, want %g and %g", c.f, c.f.Margin(), c.f.Over(), c.margin, c.over)
		}
		if got := c.f.Wanted(func(v float64) string { return fmt.Sprint(v) }); got != c.wanted {
			t.Errorf("%q, want %q", got, c.wanted)
		}
	}
}

func TestOrder(t *testing.T) {
	list := []Finding{
		{Verdict: Fail, Have: 1, Need: 5, Sense: AtLeast}, {Verdict: Fail, Have: 4, Need: 5, Sense: AtLeast},
		{Verdict: Warn, Have: 0, Need: 9, Sense: AtLeast}, {Verdict: Pass, Have: 9, Need: 0, Sense: AtMost},
	}
	for i := 1; i < len(list); i++ {
		if Compare(list[i-1], list[i]) >= 0 || Compare(list[i], list[i-1]) <= 0 {
			t.Errorf("%d and %d are not in order", i-1, i)
		}
	}
	if Compare(list[0], list[0]) != 0 {
		t.Error("a finding differs from itself")
	}
	if Worst(list) != Fail || Worst(list[2:]) != Warn || Worst(list[3:]) != Pass || Worst(nil) != Pass {
		t.Error("worst verdict")
	}
	if Warn.Worse(Fail) != Fail || Fail.Worse(Warn) != Fail || Warn.Worse(Pass) != Warn || Pass.Worse(Pass) != Pass {
		t.Error("worse verdict")
	}
}

func TestName(t *testing.T) {
	for want, f := range map[string]Finding{
		"washer flat, leg edge":     {ID: "washer-flat", Of: "leg edge", Group: GroupSeats},
		"mean pressure low, row 2":  {ID: "clamp-mean-pressure-low", Of: "row 2", Group: GroupClamp},
		"rod passes":                {ID: "rod-passes", Group: GroupInterference},
		"clamp is no heading of it": {ID: "clamp-is-no-heading-of-it", Group: GroupSeats},
	} {
		if got := f.Name(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if (Finding{ID: "a", Of: "b"}).Key() == (Finding{ID: "a", Of: "c"}).Key() {
		t.Error("two of one rule have one key")
	}
}
