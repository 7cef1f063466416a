package sizing

import (
	"context"
	"errors"
	"math"
	"os"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/assembly/finding"
	"clampwright/assembly/inputs"
	"clampwright/params"
	"clampwright/params/diag"
	"clampwright/params/unit"
	"clampwright/parts"
)

// load decodes and settles an example.
func load(t *testing.T, name string) (*params.File, *params.Fixture) {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	file, diags := params.Decode(name, text)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	f, diags := params.Resolve(file, text)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return file, f
}

// small is a catalogue that can be solved exhaustively: some candidates can't be
// made, some fail in the mechanics, some pass.
func small() *Catalogue {
	return &Catalogue{
		Plates:  []Plate{{"birch plywood", 12, 0}, {"birch plywood", 17.7, 0}, {"6061-T6", 8, 0}},
		Angles:  []string{"", "30x30x3 mm aluminium", "15x15x2 mm aluminium"},
		Levels:  [][]unit.Length{{50, 150}, {25, 175}},
		Threads: []string{"M8"},
		Springs: []Spring{{}, {Disc: "16x8.2x0.9", Parallel: 1, Series: 24}},
		Middle:  []bool{false},
	}
}

// The slow twin: every candidate that settles is solved in full, whatever any
// screen says. The search must agree on what leads in mass, in cost and in
// evenness, and on the whole front; no screen may discard what passes in full;
// and the coarse grid must be as near to the full one as the search assumes.
func TestAgainstExhaustive(t *testing.T) {
	metric, _ := load(t, "eight-cell-plywood.yaml")
	metric.Pack.Cells, metric.Electrical.Series = give(4), give(4)
	metric.Cell.ForceLimit = give(unit.Force(7500))
	t.Run("metric", func(t *testing.T) { againstExhaustive(t, metric, small(), 3) })
	if testing.Short() {
		return
	}
	inches, _ := load(t, "four-cell-offcut.yaml") // plastic, three levels, two threads
	t.Run("inches", func(t *testing.T) {
		againstExhaustive(t, inches, &Catalogue{
			Plates:  []Plate{{"hdpe", 12.7, 0}, {"hdpe", 19.05, 0}, {"birch plywood", 12, 0}},
			Angles:  []string{"", "1-1/4 x 1-1/4 x 1/8 in 6061-T6"},
			Levels:  [][]unit.Length{{50.8, 149.225}, {31.75, 100.0125, 169.8625}},
			Threads: []string{"5/16-18", "3/8-16"},
			Springs: []Spring{{}, {Disc: "20x10.2x1.1", Parallel: 1, Series: 12}},
			Middle:  []bool{false},
		}, 3)
	})
	rows, _ := load(t, "sixteen-cell-two-rows.yaml")
	rows.Pack.Cells, rows.Electrical.Series = give(4), give(4)
	t.Run("two rows", func(t *testing.T) {
		againstExhaustive(t, rows, &Catalogue{
			Plates:  []Plate{{"6061-T6", 12, 0}, {"6061-T6", 16, 0}, {"birch plywood", 17.7, 0}, {"hdpe", 20, 0}},
			Angles:  []string{"", "50x30x3 mm aluminium"},
			Levels:  [][]unit.Length{{50, 150}, {38, 162}},
			Threads: []string{"M8"},
			Springs: []Spring{{}, {Disc: "16x8.2x0.9", Parallel: 2, Series: 20}},
			Middle:  []bool{true, false},
		}, 3)
	})
}

// Further catalogues, each wide in one choice.
func TestAgainstExhaustiveNarrow(t *testing.T) {
	if testing.Short() {
		t.Skip("solves every candidate in full")
	}
	metric, _ := load(t, "eight-cell-plywood.yaml")
	metric.Pack.Cells, metric.Electrical.Series = give(4), give(4)
	metric.Cell.ForceLimit = give(unit.Force(7500))
	inches, _ := load(t, "four-cell-offcut.yaml")
	disc := Spring{Disc: "16x8.2x0.9", Parallel: 1, Series: 24}
	angle, at := []string{"30x30x3 mm aluminium"}, [][]unit.Length{{50, 150}}
	for name, c := range map[string]struct {
		file *params.File
		cat  Catalogue
	}{
		"plates":  {metric, Catalogue{Plates: []Plate{{"birch plywood", 9, 0}, {"birch plywood", 14.9, 0}, {"hdpe", 15, 0}, {"hdpe", 25, 0}, {"6061-T6", 6, 0}, {"6061-T6", 10, 0}}, Angles: angle, Levels: at, Threads: []string{"M8"}, Springs: []Spring{disc}}},
		"heights": {metric, Catalogue{Plates: []Plate{{"birch plywood", 17.7, 0}}, Angles: angle, Levels: [][]unit.Length{{30, 170}, {40, 160}, {50, 150}, {60, 140}, {30, 100, 170}, {40, 100, 160}}, Threads: []string{"M8"}, Springs: []Spring{disc}}},
		"threads": {metric, Catalogue{Plates: []Plate{{"birch plywood", 17.7, 0}, {"6061-T6", 10, 0}}, Angles: angle, Levels: at, Threads: []string{"M5", "M6", "M8", "M10"}, Springs: []Spring{{Derived: true}}}},
		"springs": {metric, Catalogue{Plates: []Plate{{"birch plywood", 17.7, 0}}, Angles: []string{"", angle[0]}, Levels: at, Threads: []string{"M8"}, Springs: []Spring{{}, disc, {Derived: true}, {Derived: true, Both: true}}}},
		"angles": {inches, Catalogue{Plates: []Plate{{"hdpe", 19.05, 0}}, Angles: []string{"", "1 x 1 x 1/8 in aluminium", "1-1/4 x 1-1/4 x 1/8 in 6061-T6", "1-1/2 x 1-1/2 x 1/8 in aluminium", "1-1/2 x 1-1/2 x 3/16 in aluminium"},
			Levels: [][]unit.Length{{50.8, 149.225}}, Threads: []string{"5/16-18"}, Springs: []Spring{{Derived: true}}}},
	} {
		c.cat.Middle = []bool{false}
		t.Run(name, func(t *testing.T) { againstExhaustive(t, c.file, &c.cat, 1) })
	}
}

// againstExhaustive wants at least so many to pass, and not all unless least is 1.
func againstExhaustive(t *testing.T, file *params.File, cat *Catalogue, least int) {
	got, err := Search(context.Background(), file, cat, Means{})
	if err != nil {
		t.Fatal(err)
	}
	s := newTestSearch(t, file, cat)
	if err := s.make(); err != nil {
		t.Fatal(err)
	}
	if err := s.screen(); err != nil {
		t.Fatal(err)
	}
	for i := range s.all {
		if err := s.sift(&s.all[i]); err != nil {
			t.Fatal(err)
		}
	}
	var pass []*Option
	higher, lower, harshest := 0.0, 0.0, 0.0
	for i := range s.all {
		if f, _ := s.settle(i); f == nil {
			continue
		}
		v, err := s.solve(i)
		if err != nil {
			t.Fatal(err)
		}
		c := &s.all[i]
		if v.option == nil {
			continue
		}
		pass = append(pass, v.option)
		if !c.alive {
			t.Errorf("%s passes in full but a screen discarded it: %v %v", cat.at(i), c.why, c.missed)
		}
		higher, lower = math.Max(higher, c.uneven-v.option.Uneven), math.Max(lower, v.option.Uneven-c.uneven)
		harshest = math.Max(harshest, coarsest(t, s, c))
	}
	t.Logf("%d candidates, %d pass in full, %d as tightened; unevenness %.4f too high, %.4f too low at most; the coarse grid, as it is and corrected, puts one that passes %.0f %% of its slack over a bound at most",
		len(s.all), len(pass), got.Screened, higher, lower, 100*harshest)
	if harshest > 0.5 {
		t.Errorf("the coarse grid is %.2f of the slack too harsh, half assumed", harshest)
	}
	if len(pass) < least || len(pass) == len(s.all) && least > 1 {
		t.Fatalf("%d of %d pass: the catalogue proves little", len(pass), len(s.all))
	}
	if higher > evenSlack {
		t.Errorf("the coarse grid is %.4f too high in unevenness, assumed %g", higher, evenSlack)
	}
	compareLeaders(t, got, pass)
	compareFront(t, got, pass)
}

// coarsest is by how much of its slack the coarse grid, as it is and corrected, puts a
// candidate over a bound.
func coarsest(t *testing.T, s *search, c *candidate) float64 {
	t.Helper()
	states, err := s.coarse([]candidate{*c}, nil)
	if err != nil {
		t.Fatal(err)
	}
	f, _ := s.settle(c.index)
	tight, err := clamp.Tighten(inputs.Clamp(f))
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for _, st := range states[0] {
		for _, b := range append(s.broken(st, false), s.broken(corrected(st, states[0][0], tight.State), false)...) {
			worst = math.Max(worst, b.Over()/slackOf(b.ID))
		}
	}
	return worst
}

// The coarse grid against the full one, bound by bound, near the bounds: what
// Slack must cover.
func TestCoarseAgainstFull(t *testing.T) {
	file, _ := load(t, "eight-cell-plywood.yaml")
	file.Pack.Cells, file.Electrical.Series = give(4), give(4)
	cat := small()
	s := newTestSearch(t, file, cat)
	if err := s.make(); err != nil {
		t.Fatal(err)
	}
	worst, what, n := map[bool]float64{}, map[bool]string{}, 0
	for i := 0; i < len(s.all); i += 3 {
		c := &s.all[i]
		if !c.made {
			continue
		}
		rough, err := s.coarse([]candidate{*c}, nil)
		if err != nil {
			t.Fatal(err)
		}
		f, _ := s.settle(i)
		fine, err := clamp.SolveStates(inputs.Clamp(f), nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		of := map[string]float64{}
		for _, st := range fine {
			for _, g := range st.Findings {
				of[st.Name+g.Key()] = g.Over()
			}
		}
		for _, st := range rough[0] {
			for _, g := range st.Findings {
				if was := of[st.Name+g.Key()]; math.Abs(was) < 0.3 {
					n++
					if d, kind := g.Over()-was, byForce[g.ID]; d > worst[kind] { // harsher than the full grid
						worst[kind], what[kind] = d, cat.at(i).String()+": "+g.Name()
					}
				}
			}
		}
	}
	t.Logf("%d bounds compared; the coarse grid is harsher by %v at most, of those that hang on force true (%v)", n, worst, what)
	if n < 20 || worst[false] > Slack/2 || worst[true] > forceSlack/2 {
		t.Errorf("%d bounds compared, harsher by %v: half of %g and %g allowed", n, worst, Slack, forceSlack)
	}
}

func newTestSearch(t *testing.T, file *params.File, cat *Catalogue) *search {
	t.Helper()
	base, diags := params.NewSettler(file).Settle(file)
	if base == nil {
		t.Fatal(diags)
	}
	s, err := newSearch(context.Background(), file, base, cat, Means{})
	if err != nil {
		t.Fatal(err)
	}
	s.demands = demands{window: true, clean: true}
	return s
}

// compareLeaders finds the best of each ranking by looking at all.
func compareLeaders(t *testing.T, got *Outcome, pass []*Option) {
	t.Helper()
	less := map[string]func(a, b *Option) bool{
		"mass": func(a, b *Option) bool { return a.MassG < b.MassG },
		"cost": func(a, b *Option) bool { return a.Cost < b.Cost },
		"evenness": func(a, b *Option) bool {
			return a.class() < b.class() || a.class() == b.class() && a.MassG < b.MassG
		},
	}
	least := map[string]*Option{}
	for name, before := range less {
		best := pass[0]
		for _, o := range pass {
			if before(o, best) {
				best = o
			}
		}
		least[name] = best
		for _, o := range pass { // fewer warnings lead among those nearly alike
			v := map[string]func(*Option) float64{"mass": func(o *Option) float64 { return o.MassG }, "cost": func(o *Option) float64 { return o.Cost }}[name]
			first := least[name]
			if v != nil && v(o) <= v(first)*(1+nearlyLeads) && (len(o.Warns) < len(best.Warns) || len(o.Warns) == len(best.Warns) && before(o, best)) {
				best = o
			}
		}
		found := false
		for _, o := range got.Front {
			for _, b := range o.Best {
				found = found || b == name && o.index == best.index
			}
		}
		if !found {
			t.Errorf("best by %s is %s (%.0f g, %.2f, %.3f); the search says %+v", name, best.Choice, best.MassG, best.Cost, best.Uneven, got.Front)
		}
	}
}

// compareFront works the front out from all that pass.
func compareFront(t *testing.T, got *Outcome, pass []*Option) {
	t.Helper()
	have, bettered := map[int]bool{}, map[int]bool{}
	for _, o := range got.Front {
		have[o.index] = true
	}
	for _, o := range pass {
		for _, p := range pass {
			bettered[o.index] = bettered[o.index] || p != o && beats(p, o.MassG, o.Cost, o.class(), o.index)
		}
		if !bettered[o.index] && !have[o.index] {
			t.Errorf("%s (%.0f g, %.2f, %.3f) belongs to the front", o.Choice, o.MassG, o.Cost, o.Uneven)
		}
	}
	// What nearly ties is left out, so that one may be bettered by one that is itself
	// bettered and never solved; beside what betters it none stands.
	for _, o := range got.Front {
		for _, p := range pass {
			if len(o.Best) == 0 && p.index != o.index && (have[p.index] || !bettered[p.index]) && beats(p, o.MassG, o.Cost, o.class(), o.index) {
				t.Errorf("%s is bettered by %s", o.Choice, p.Choice)
			}
		}
	}
}

// Plates of sheets between whose rods and angles there is no room for their screws can't
// be made: the search goes on without them.
func TestUnmade(t *testing.T) {
	file, _ := load(t, "four-cell-glued-plates.yaml")
	got, err := Search(context.Background(), file, &Catalogue{
		Plates: []Plate{{"birch plywood", 18, 0}}, Angles: []string{"", "40x40x4 mm aluminium"}, Levels: [][]unit.Length{{50, 150}, {40, 80, 120, 160}},
		Threads: []string{"M6"}, Springs: []Spring{{Derived: true}}, Middle: []bool{false}}, Means{})
	if err != nil || got.Candidates != 4 {
		t.Errorf("%+v, %v", got, err)
	}
	for _, c := range []struct {
		err  error
		want bool
	}{{&parts.Error{Part: "plate-sheets", What: "screws", Err: errors.New("3 have room")}, true}, {diag.List{{Summary: "plates: screws"}}, true}, {errors.New("cancelled"), false}, {nil, false}} {
		if b := unmade(c.err); (b != nil) != c.want || b != nil && (b.Verdict != finding.Fail || b.Between[0] == "") {
			t.Errorf("%v: %+v", c.err, b)
		}
	}
}

// The same answer on one core as on two.
func TestSameAnswer(t *testing.T) {
	file, _ := load(t, "four-small-separators.yaml")
	cat := small()
	cat.Plates, cat.Angles, cat.Threads = cat.Plates[1:2], cat.Angles[1:2], []string{"M6"}
	var last *Outcome
	for _, cores := range []int{1, 2} {
		was := runtime.GOMAXPROCS(cores)
		got, err := Search(context.Background(), file, cat, Means{})
		runtime.GOMAXPROCS(was)
		if err != nil {
			t.Fatal(err)
		}
		if last != nil && !reflect.DeepEqual(got, last) {
			t.Errorf("two answers:\n%+v\n%+v", last, got)
		}
		last = got
	}
}

// With a force limit that nothing keeps, the nearest miss names that bound, and
// giving way there by what it says makes the candidate pass.
func TestNearestMiss(t *testing.T) {
	file, _ := load(t, "eight-cell-plywood.yaml")
	file.Pack.Cells, file.Electrical.Series = give(4), give(4)
	file.Cell.ForceLimit = give(unit.Force(5500))
	cat := small()
	cat.Plates, cat.Angles, cat.Levels, cat.Springs = cat.Plates[1:2], []string{"40x40x4 mm aluminium"}, cat.Levels[:1], cat.Springs[:1]
	got, err := Search(context.Background(), file, cat, Means{})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Front) > 0 || got.Nearest == nil {
		t.Fatalf("%+v", got)
	}
	m := got.Nearest
	k := slices.IndexFunc(m.Bounds, func(f finding.Finding) bool { return f.ID == clamp.MeanHigh })
	if k < 0 || slices.ContainsFunc(m.Bounds, func(f finding.Finding) bool { return f.Unit != "kPa" || f.Sense != finding.AtMost }) {
		t.Fatalf("nearest miss %+v", m)
	}
	file.Cell.ForceLimit = give(unit.Force(m.Bounds[k].Have * 174 * 200 / 1000 * 1.001))
	again, err := Search(context.Background(), file, &Catalogue{Plates: []Plate{m.Choice.Plate}, Angles: []string{m.Choice.Angle},
		Levels: [][]unit.Length{m.Choice.Levels}, Threads: []string{m.Choice.Thread}, Springs: []Spring{m.Choice.Spring}, Middle: []bool{false}}, Means{})
	if err != nil || len(again.Front) != 1 {
		t.Errorf("giving way did not help: %v %+v", err, again)
	}
}

// The closed forms of mass agree with the assembly's parts list.
func TestMassAgreesWithParts(t *testing.T) {
	for _, name := range []string{"eight-cell-plywood.yaml", "four-cell-offcut.yaml", "sixteen-cell-two-rows.yaml"} {
		_, f := load(t, name)
		f.Prints = params.Prints{}
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatal(err)
		}
		want := 0.0
		for _, l := range a.PartsList() {
			switch l.Part.Kind {
			case "end-plate", "stiffener", "rod", "nut", "washer", "spring", "liner":
				want += l.MassTotalG
			}
		}
		if got := MassG(f); math.Abs(got/want-1) > 2e-3 {
			t.Errorf("%s: %.1f g in closed form, parts list %.1f g", name, got, want)
		}
	}
}

// A choice of everything that the file already is changes nothing that matters.
func TestOwnChoice(t *testing.T) {
	file, f := load(t, "eight-cell-plywood.yaml")
	cat := Offer(file, f, true)
	own := Choice{Plate: plateOf(f), Angle: f.Stiffener.Section.Name, Levels: f.Rods.Levels,
		Thread: f.Rods.Thread.Name, Spring: cat.Springs[1]}
	g, err := f.Set(own.changes(file)...)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(inputs.Clamp(g), inputs.Clamp(f)) {
		t.Errorf("the mechanics see another fixture:\n%+v\n%+v", inputs.Clamp(g), inputs.Clamp(f))
	}
}

func TestOfferSizes(t *testing.T) {
	for _, name := range []string{"eight-cell-plywood.yaml", "four-cell-offcut.yaml", "sixteen-cell-two-rows.yaml"} {
		file, f := load(t, name)
		all, only := Offer(file, f, false), Offer(file, f, true)
		t.Logf("%s: %d candidates, %d from listed stock", name, all.Size(), only.Size())
		if all.Size() < 1000 || all.Size() > MaxCandidates || only.Size() >= all.Size() {
			t.Errorf("%s: %d and %d candidates", name, all.Size(), only.Size())
		}
	}
}

var _ = finding.Pass

// Where the file itself makes every choice fail a check, here rods too near the
// cells for pliers, the search says which and ends before it has solved all.
func TestBlocked(t *testing.T) {
	file, _ := load(t, "fouled-on-purpose.yaml")
	file.Washers.Series = give("standard")
	file.Cell.ForceLimit = give(unit.Force(9000))
	cat := &Catalogue{Plates: []Plate{{"birch plywood", 18, 0}, {"6061-T6", 10, 0}}, Angles: []string{"", "40x40x4 mm aluminium"},
		Levels: [][]unit.Length{{50, 150}, {40, 160}}, Threads: []string{"M8", "M10"}, Springs: []Spring{{}}, Middle: []bool{false}}
	got, err := Search(context.Background(), file, cat, Means{})
	if err != nil {
		t.Fatal(err)
	}
	if got.Blocked == "" || len(got.Front) > 0 || got.Solved >= got.Screened || got.Nearest == nil || !names(got.Nearest.Bounds, got.Blocked) {
		t.Errorf("blocked by %q after %d of %d, nearest %+v", got.Blocked, got.Solved, got.Screened, got.Nearest)
	}
	t.Logf("%s; %d solved, %d probed", got.Blocked, got.Solved, got.Probed)
}

// A rod between two rows carries both: springs that go flat under it, though not
// under an even share, are turned away and do not end the search.
func TestFlatBetweenRows(t *testing.T) {
	file, _ := load(t, "sixteen-cell-two-rows.yaml")
	cat := &Catalogue{Plates: []Plate{{"6061-T6", 12, 0}}, Angles: []string{""}, Levels: [][]unit.Length{{50, 150}}, Threads: []string{"M6"},
		Springs: []Spring{{Disc: "25x12.2x0.9", Parallel: 1, Series: 12}}, Middle: []bool{true}}
	got, err := Search(context.Background(), file, cat, Means{})
	if err != nil || len(got.Front) > 0 || got.Made != 0 {
		t.Errorf("%v %+v", err, got)
	}
}
