package remedy

import (
	"errors"
	"math"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/params/unit"
)

// Values are rounded away from what stands there, to the step of the shop.
func TestAway(t *testing.T) {
	for _, c := range []struct{ now, by, step, want float64 }{
		{10, 0.01, 0.5, 10.5}, {10, -0.01, 0.5, 9.5}, {10, 0.5, 0.5, 10.5}, {10, -0.5, 0.5, 9.5},
		{25.4, 0.1, 25.4 / 16, 25.4 * 17 / 16}, {25.4, -0.1, 25.4 / 16, 25.4 * 15 / 16},
	} {
		if got := away(unit.Length(c.now), c.by, c.step).MM(); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%g by %g: %g, want %g", c.now, c.by, got, c.want)
		}
	}
}

// What counts as worse, and what does not.
func TestHarmed(t *testing.T) {
	f := func(of string, v finding.Verdict, have float64) finding.Finding {
		return finding.Finding{ID: "a", Of: of, Verdict: v, Have: have, Need: 10, Sense: finding.AtLeast, Params: []string{"plates.height"}}
	}
	base := []finding.Finding{f("pass", finding.Pass, 11), f("warn", finding.Warn, 9), f("fail", finding.Fail, 5)}
	for name, c := range map[string]struct {
		now  finding.Finding
		path string
		want bool
	}{
		"passes still":                  {f("pass", finding.Pass, 10), "plates.height", false},
		"warns now":                     {f("pass", finding.Warn, 9), "plates.width", true},
		"fails now":                     {f("warn", finding.Fail, 5), "plates.width", true},
		"better":                        {f("fail", finding.Warn, 9), "plates.height", false},
		"new, warns":                    {f("new", finding.Warn, 9), "plates.height", false},
		"new, fails":                    {f("new", finding.Fail, 5), "plates.width", true},
		"fails by more, by the change":  {f("fail", finding.Fail, 4.99), "plates.height", true},
		"fails by more, as before":      {f("fail", finding.Fail, 4.996), "plates.height", false},
		"fails by more, by other means": {f("fail", finding.Fail, 4), "plates.width", false},
	} {
		if _, got := worstOf(base).harmed(worstOf([]finding.Finding{c.now}), []params.Change{{Path: c.path}}); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// answer is a fixture whose margin follows its plates' height, as one of a plate
// that is centred anew: by a share of what it loses.
type answer struct{ height, share, first float64 }

func (a answer) Rule(finding.Finding) ([]finding.Finding, error) {
	have := a.first + a.share*(200-a.height)
	return []finding.Finding{finding.JudgeLeast(have, 10, 10, 0.005)}, nil
}
func (a answer) Sift() ([]finding.Finding, error)   { return nil, nil }
func (a answer) Checks() ([]finding.Finding, error) { return a.Rule(finding.Finding{}) }
func (a answer) Press() ([]finding.Finding, error)  { return nil, nil }

const plain = "fixture: a\ncell: {model: 72x174x201}\npack: {cells: 4}\nplates: {height: 200, thickness: 18}\nrods: {levels: [50, 150]}\n"

// A change grows until its finding clears, however little it answers; where it does
// not answer at all the search gives up soon.
func TestClear(t *testing.T) {
	x, diags := params.Load("a.yaml", []byte(plain))
	if x == nil {
		t.Fatal(diags)
	}
	for _, c := range []struct {
		share, first, height float64
		cleared              bool
	}{{1, 9, 199, true}, {1, 9.6, 199.5, true}, {0.5, 8.94, 197.5, true}, {0.1, 9, 190, true}, {0.05, 9.99, 199.5, true}, {0, 9, 0, false}, {-1, 9, 0, false}} {
		trials := 0
		b := &Bench{Fixture: x, Place: func(f *params.Fixture) (Trial, error) {
			trials++
			return answer{f.Plate.Height.MM(), c.share, c.first}, nil
		}}
		s := &search{Bench: b, trials: 99, of: finding.JudgeLeast(c.first, 10, 10, 0.005)}
		_, set, cleared := s.clear(b.slide("lower", move{"plates.height", x.Plate.Height, -1}), 0.5)
		switch {
		case cleared != c.cleared || !cleared && trials > 2:
			t.Errorf("share %g: cleared %v after %d trials", c.share, cleared, trials)
		case cleared && set[0].Value != params.LengthText(unit.Length(c.height), unit.Millimetre):
			t.Errorf("share %g: %v, want %g", c.share, set, c.height)
		}
	}
}

// Trials are bounded by count, and what was tried is told.
func TestBounds(t *testing.T) {
	x, _ := params.Load("a.yaml", []byte(plain))
	b := &Bench{Fixture: x, Place: func(*params.Fixture) (Trial, error) { return nil, errors.New("never") }}
	s := &search{Bench: b, of: finding.Finding{ID: "socket-depth", Verdict: finding.Warn}, trials: 1, proofs: 1}
	r, why := s.run()
	if r != nil || s.trials != 0 || !strings.Contains(why, "rods.length") {
		t.Errorf("%v, %q, %d left", r, why, s.trials)
	}
}
