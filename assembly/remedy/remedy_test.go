package remedy

import (
	"math"
	"strings"
	"testing"

	"clampwright/assembly/clamp"
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

// What has to go: what fails, and what was milder before.
func TestBad(t *testing.T) {
	f := func(of string, v finding.Verdict) finding.Finding {
		return finding.Finding{ID: "a", Of: of, Verdict: v}
	}
	s := &search{before: finding.StandingOf([]finding.Finding{f("pass", finding.Pass), f("warn", finding.Warn), f("fail", finding.Fail)})}
	for name, c := range map[string]struct {
		now  finding.Finding
		want bool
	}{
		"passes still": {f("pass", finding.Pass), false},
		"warns now":    {f("pass", finding.Warn), true},
		"warns still":  {f("warn", finding.Warn), false},
		"fails now":    {f("warn", finding.Fail), true},
		"fails still":  {f("fail", finding.Fail), true},
		"better":       {f("fail", finding.Warn), false},
		"new, warns":   {f("new", finding.Warn), false},
		"new, fails":   {f("new", finding.Fail), true},
	} {
		if got := len(s.bad(&node{now: worstOf([]finding.Finding{c.now})})) > 0; got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// An edit that sets a parameter anew takes it out of the edits before.
func TestWith(t *testing.T) {
	edit := func(words string, paths ...string) (e Edit) {
		e.Words = words
		for _, p := range paths {
			e.Set = append(e.Set, params.Change{Path: p, Value: words})
		}
		return e
	}
	both := []Edit{edit("a", "plates.height"), edit("b", "springs.series", "rods.length")}
	for _, c := range []struct {
		next Edit
		want string
	}{
		{edit("c", "plates.width"), "plates.height=a; plates.width=c; rods.length=b; springs.series=b"},
		{edit("c", "plates.height"), "plates.height=c; rods.length=b; springs.series=b"},
		{edit("c", "springs"), "plates.height=a; rods.length=b; springs=c"},
		{edit("c", "springs", "rods.length"), "plates.height=a; rods.length=c; springs=c"},
	} {
		if got := said(changes(with(both, c.next))); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}

// What may be changed, and what never.
func TestChangeable(t *testing.T) {
	for path, want := range map[string]bool{
		"plates": true, "plates.height": true, "plates.feet.inset": true, "stiffeners.gauge": true, "rods.levels": true, "rods.levels[0]": true,
		"nuts.kind": true, "washers.series": true, "springs": true, "springs.disc": true, "liners": true, "separators.width": true, "sleeves.end_gap": true,
		"pack.row_gap": true, "pack.stack": true, "electrical.link_width": true, "stock.angles[0].item": true,
		"cell.force": false, "cell.case": false, "cell.width": false, "pack.cells": false, "clearances.metal_to_cell": false,
		"clamp.hot": false, "clamp.aged": false, "clamp.stiffness_low": false, "clamp.bench": false, "electrical.current": false, "electrical.records": false,
		"tables": false, "tables.angles": false, "tools.socket": false, "tools.drills": false, "tools.cutter": false, "stock.sheets[0].quantity": false,
		"stock.sheets": false, "stock.margin": false, "tolerances.holes": false, "printer.bed_x": false, "prices": false, "prints": false, "variants": false, "plateslike": false,
	} {
		if got := changeable(path); got != want {
			t.Errorf("%s: %v, want %v", path, got, want)
		}
	}
}

// A key that is left out does not take the part with it.
func TestDerive(t *testing.T) {
	for text, want := range map[string]string{
		"separators: {height: 100}":                 "separators={}",
		"separators: {height: 100, material: fr4}":  "separators.height=",
		"separators: {height: 100, thickness: 0.5}": "separators.height=",
	} {
		x, diags := params.Load("a.yaml", []byte(plain+text+"\n"))
		if x == nil {
			t.Fatal(diags)
		}
		if got := said((&Search{Fixture: x}).derive("separators.height").at(1, 1)); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// What was asked for stays: no way leaves feet, slots or the mark out.
func TestAskedFor(t *testing.T) {
	x, diags := params.Load("a.yaml", []byte(strings.Replace(plain, "height: 200,", "height: 200, feet: {inset: 30}, tie_slots: true, mark: true,", 1)))
	if x == nil {
		t.Fatal(diags)
	}
	b := &Search{Fixture: x}
	for _, of := range []finding.Finding{{ID: "opening-free"}, {ID: "opening-free", Of: "tie slot"}, {ID: "screw-to-cell"}, {ID: "inner-radius", Params: []string{"plates.tie_slots"}}, {ID: "hole-ligament", Params: []string{"plates.feet.inset", "plates.feet", "plates.mark"}}} {
		for _, w := range b.ways(of) {
			for _, c := range w.at(5, 0.5) {
				if c.Path == "plates.feet" || c.Path == "plates.tie_slots" || c.Path == "plates.mark" || c.Path == "prints.feet" {
					t.Errorf("%s: %s: %v", of.Name(), w.words, c)
				}
			}
		}
	}
}

// Keys and blocks that are fixed stay, from the first step to the last; without that they
// are what is changed.
func TestFixed(t *testing.T) {
	for _, fixed := range [][]string{nil, {"plates.thickness"}, {"plates", "springs"}} {
		b, found := bench(t, func(f *params.Fixture) []finding.Finding {
			g := finding.JudgeLeast(f.Plate.Thickness.MM()-18+flag(f.Spring != nil)*5, 0, 1, 0.005)
			g.ID, g.Group = "clamp-middle-pressure", finding.GroupClamp
			return []finding.Finding{g}
		})
		b.Most, b.Fixed = 3, fixed
		a, err := b.Find(found)
		if err != nil || (len(a.Patches) == 0) != (len(fixed) == 2) {
			t.Fatalf("%v: %d answers, %v", fixed, len(a.Patches), err)
		}
		thicker := false
		for _, p := range a.Patches {
			for _, c := range p.Changes() {
				thicker = thicker || c.Path == "plates.thickness"
				if b.fixed(c.Path) {
					t.Errorf("%v: %v", fixed, c)
				}
			}
		}
		if fixed == nil && !thicker {
			t.Error("no way changes the plates")
		}
	}
}

// A file that only warns gets answers of differing kind too.
func TestOtherWays(t *testing.T) {
	b, found := bench(t, func(f *params.Fixture) []finding.Finding {
		g := finding.JudgeLeast(f.Plate.Thickness.MM()-18+flag(f.Spring != nil)*5, 0, 1, 0.005)
		g.ID, g.Group = "clamp-middle-pressure", finding.GroupClamp
		return []finding.Finding{g}
	})
	b.Most = 3
	a, err := b.Find(found)
	if err != nil || len(a.Patches) < 2 {
		t.Fatalf("%d answers, %v", len(a.Patches), err)
	}
	seen := map[string]bool{}
	for _, p := range a.Patches {
		kind := strings.Join(kinds(p.Edits, 2), " ")
		if seen[kind] || len(p.Left) > 0 {
			t.Errorf("%s told again, or %v left", kind, p.Left)
		}
		seen[kind] = true
	}
}

// A share that falls short is taken to stay so until its own ways mend it: what else
// is changed needs no judgement of the whole for that.
func TestShareStays(t *testing.T) {
	judged := 0
	b, found := bench(t, func(f *params.Fixture) []finding.Finding {
		s := least(clamp.Share, 30+70*flag(f.Spring != nil), 50)
		s.Group = finding.GroupClamp
		return []finding.Finding{least("thread-protrusion", f.Rods.Length.MM(), 403), s}
	})
	place := b.Place
	b.Place = func(f *params.Fixture) (Trial, error) {
		t, err := place(f)
		return counting{t, &judged}, err
	}
	a, err := b.Find(found)
	if err != nil || len(a.Patches) != 1 || !strings.Contains(said(a.Patches[0].Changes()), "springs={}") {
		t.Fatalf("%+v, %v", a, err)
	}
	if judged > 4 {
		t.Errorf("%d whole judgements", judged)
	}
}

type counting struct {
	Trial
	n *int
}

func (c counting) Checks() ([]finding.Finding, error) { *c.n++; return c.Trial.Checks() }

// world is a fixture judged by a few sums of what its file says.
type world struct {
	f     *params.Fixture
	rules func(*params.Fixture) []finding.Finding
}

func (w world) Rule(of finding.Finding) ([]finding.Finding, error) { return w.rules(w.f), nil }
func (w world) Sift() ([]finding.Finding, error)                   { return nil, nil }
func (w world) Checks() ([]finding.Finding, error)                 { return w.rules(w.f), nil }
func (w world) Press() ([]finding.Finding, error)                  { return nil, nil }
func (w world) Burden() (Burden, error)                            { return Burden{}, nil }

const plain = "fixture: a\ncell: {model: 72x174x201}\npack: {cells: 4}\nplates: {height: 200, thickness: 18}\nrods: {levels: [50, 150], length: 400}\n"

func bench(t *testing.T, rules func(*params.Fixture) []finding.Finding) (*Search, []finding.Finding) {
	t.Helper()
	x, diags := params.Load("a.yaml", []byte(plain))
	if x == nil {
		t.Fatal(diags)
	}
	return &Search{Fixture: x, Most: 1, Place: func(f *params.Fixture) (Trial, error) { return world{f, rules}, nil }}, rules(x)
}

// least is a finding of a rule that wants at least so much of what it measures.
func least(id finding.ID, have, need float64) finding.Finding {
	f := finding.JudgeLeast(have, need, need, 0.005)
	f.ID = id
	return f
}

// A change grows until its finding clears, however little it answers; where it does
// not answer at all the search gives up soon.
func TestClear(t *testing.T) {
	for _, c := range []struct {
		share, first, height float64
		cleared              bool
	}{{1, 9, 199, true}, {1, 9.6, 199.5, true}, {0.5, 8.94, 197.5, true}, {0.1, 9, 190, true}, {0.05, 9.99, 199.5, true}, {0, 9, 0, false}, {-1, 9, 0, false}} {
		b, found := bench(t, func(f *params.Fixture) []finding.Finding {
			return []finding.Finding{least("a", c.first+c.share*(200-f.Plate.Height.MM()), 10)}
		})
		s := &search{Search: b}
		way := b.slide("lower", move{"plates.height", b.Fixture.Plate.Height, -1})
		_, set, cleared := s.clear(&node{}, task{way, found[0]}, 0.5)
		switch tried := s.made.Load(); {
		case cleared != c.cleared || !cleared && tried > 2:
			t.Errorf("share %g: cleared %v after %d trials", c.share, cleared, tried)
		case cleared && set[0].Value != params.LengthText(unit.Length(c.height), unit.Millimetre):
			t.Errorf("share %g: %v, want %g", c.share, set, c.height)
		}
	}
}

// The answer is the fewest edits, makes nothing worse and leaves out what it needs
// not; where there is none, what gets nearest is told.
func TestFind(t *testing.T) {
	length := func(f *params.Fixture) float64 { return f.Rods.Length.MM() }
	height := func(f *params.Fixture) float64 { return f.Plate.Height.MM() }
	for name, c := range map[string]struct {
		rules   func(*params.Fixture) []finding.Finding
		want    string
		nearest string
	}{
		"nothing fails": {func(f *params.Fixture) []finding.Finding { return []finding.Finding{least("thread-protrusion", 2, 1)} }, "", ""},
		"one": {func(f *params.Fixture) []finding.Finding {
			return []finding.Finding{least("thread-protrusion", length(f), 403)}
		}, "rods.length=406 mm", ""},
		"two": {func(f *params.Fixture) []finding.Finding {
			return []finding.Finding{least("thread-protrusion", length(f), 403), least("plate-covers", height(f), 204)}
		}, "plates.height=204 mm; rods.length=406 mm", ""},
		"the second clears the first too": {func(f *params.Fixture) []finding.Finding {
			return []finding.Finding{least("thread-protrusion", length(f)+3*max(0, height(f)-200), 403), least("plate-covers", height(f), 204)}
		}, "plates.height=204 mm", ""},
		"worse elsewhere": {func(f *params.Fixture) []finding.Finding {
			return []finding.Finding{least("plate-covers", max(height(f), 1000*(f.Plate.Bottom.MM()-0.5)), 204), least("socket-depth", 202-height(f), 0)}
		}, "plates.bottom=4.5 mm", ""},
		"none": {func(f *params.Fixture) []finding.Finding {
			return []finding.Finding{least("thread-protrusion", length(f), 403), least("vent-free", 1, 2)}
		}, "", "rods.length=406 mm"},
		"all but what nothing in the file changes": {func(f *params.Fixture) []finding.Finding {
			return []finding.Finding{least("thread-protrusion", length(f), 403), least("cell-current", 280, 300), least("plate-covers", height(f), 204)}
		}, "", "plates.height=204 mm; rods.length=406 mm"},
	} {
		b, found := bench(t, c.rules)
		a, err := b.Find(found)
		got, near := "", ""
		if len(a.Patches) > 0 {
			got = said(a.Patches[0].Changes())
		}
		if a.Nearest != nil {
			near = said(a.Nearest.Changes())
		}
		if err != nil || got != c.want || near != c.nearest {
			t.Errorf("%s: %q, nearest %q, %v; want %q, %q", name, got, near, err, c.want, c.nearest)
		}
	}
}

// A given value that is a cause of three rules or more, and can be worked out, is left out
// before anything else is tried; of fewer it waits its turn.
func TestFreeing(t *testing.T) {
	of := func(id finding.ID, paths ...string) finding.Finding { return finding.Finding{ID: id, Params: paths} }
	for name, c := range map[string]struct {
		bad  []finding.Finding
		want string
	}{
		"three":                   {[]finding.Finding{of("a", "rods.levels"), of("b", "rods.levels", "plates.height"), of("c", "rods.levels")}, "rods.levels for a"},
		"two":                     {[]finding.Finding{of("a", "rods.levels"), of("b", "rods.levels")}, ""},
		"one rule at many places": {[]finding.Finding{of("a", "rods.levels"), of("a", "rods.levels"), of("a", "rods.levels")}, ""},
		"not given":               {[]finding.Finding{of("a", "rods.columns"), of("b", "rods.columns"), of("c", "rods.columns")}, ""},
		"not derived":             {[]finding.Finding{of("a", "plates.thickness"), of("b", "plates.thickness"), of("c", "plates.thickness")}, ""},
	} {
		b, _ := bench(t, func(*params.Fixture) []finding.Finding { return nil })
		got := ""
		for _, w := range b.freeing(c.bad) {
			got += w.frees + " for " + string(w.of.ID)
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// The search ends by count where nothing ever answers.
func TestBounds(t *testing.T) {
	b, found := bench(t, func(f *params.Fixture) []finding.Finding {
		return []finding.Finding{least("plate-covers", math.Mod(f.Plate.Height.MM()*7+f.Plate.Width.MM()*3, 11), 20), least("thread-protrusion", f.Rods.Length.MM()/1000, 1)}
	})
	a, err := b.Find(found)
	if err != nil || len(a.Patches) > 0 || a.Tried == 0 || a.Tried > mostGrown*mostWays*maxSteps {
		t.Errorf("%+v, %v", a, err)
	}
}
