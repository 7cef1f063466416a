package compare

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/params"
	"clampwright/parts"
)

// judged is a comparison of two texts with the old parts judged in the new fixture.
func judged(t *testing.T, old, now *job.Job) *Report {
	t.Helper()
	r, err := Judged(old, now)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func action(rows []Row, k parts.Kind) (out Action) {
	for _, r := range rows {
		if r.Kind == string(k) && (out == "" || out == Spare) {
			out = r.Action
		}
	}
	return out
}

// Traps, worked by hand: what is kept as it is, and what only with other values.
func TestTraps(t *testing.T) {
	text := change(t, read(t, "eight-cell-plywood.yaml"), "prints", "")
	f := build(t, text).Fixture
	text = change(t, text, "rods.length", fmt.Sprintf("%g mm", f.Rods.Length.MM()+10))
	f = build(t, text).Fixture
	mm := func(v float64) string { return fmt.Sprintf("%g mm", v) }
	for _, c := range []struct {
		name       string
		path, old  string
		now        string
		kind       parts.Kind
		want, with Action // as it stands, and with the changes offered
	}{
		{"a rod a millimetre short that still passes", "rods.length", mm(f.Rods.Length.MM() - 1), mm(f.Rods.Length.MM()), parts.KindRod, Make, Keep},
		{"a rod a millimetre long need not be sawn", "rods.length", mm(f.Rods.Length.MM() + 1), mm(f.Rods.Length.MM()), parts.KindRod, Shorten, Keep},
		{"a rod far too short", "rods.length", mm(f.Rods.Length.MM() - 13), mm(f.Rods.Length.MM()), parts.KindRod, Make, Make},
		{"a plate a millimetre short", "plates.height", mm(f.Plate.Height.MM() - 1), mm(f.Plate.Height.MM()), parts.KindPlate, Make, Keep},
		{"a plate that does not cover the zone", "plates.height", mm(100), mm(f.Plate.Height.MM()), parts.KindPlate, Make, Make},
		{"holes off in height", "plates.bottom", mm(f.Plate.Bottom.MM() + 0.5), mm(f.Plate.Bottom.MM()), parts.KindPlate, Make, Keep},
		{"holes off by what is written as nothing", "plates.bottom", mm(f.Plate.Bottom.MM() + 0.004), mm(f.Plate.Bottom.MM()), parts.KindPlate, Keep, Keep},
		{"a bare cell for a wrapped one", "cell.case", "live", "insulated", parts.KindCell, Buy, Buy},
		{"a wrapped cell for a bare one", "cell.case", "insulated", "live", parts.KindCell, Keep, Keep},
	} {
		old, now := computed(t, change(t, text, c.path, c.old)), computed(t, change(t, text, c.path, c.now))
		r := judged(t, old, now)
		with := r.Rows
		if r.Reuse != nil {
			with = r.Reuse.Rows
		}
		if got, then := action(r.Rows, c.kind), action(with, c.kind); got != c.want || then != c.with {
			t.Errorf("%s: %s, with changes %s; want %s, %s\n%+v", c.name, got, then, c.want, c.with, r.Reuse)
		}
	}
}

// A plate with holes out of the middle serves on its head; not one whose edges differ.
func TestUpsideDown(t *testing.T) {
	text := change(t, change(t, read(t, "four-small-separators.yaml"), "rods.levels", "[50 mm, 140 mm]"), "plates", "{material: hdpe, thickness: 15, height: 200 mm, bottom: 0 mm}")
	now := change(t, text, "rods.levels", "[60 mm, 150 mm]")
	for _, r := range Parts(build(t, text), build(t, now)) {
		if r.Kind == string(parts.KindPlate) && r.Action != Spare && (r.Action != Keep || !strings.Contains(r.Why, "upside down")) {
			t.Errorf("%s: %s", r.Action, r.Why)
		}
	}
}

// Random pairs near each other: a part that is kept is judged by rebuilding the new
// fixture with it, and nothing is worse; one that could be kept is hardly ever scrapped.
func TestRandomPairs(t *testing.T) {
	pairs := 60
	if testing.Short() {
		pairs = 6
	}
	rng := rand.New(rand.NewPCG(7, 13))
	texts := [][]byte{read(t, "eight-cell-plywood.yaml"), read(t, "four-small-separators.yaml")}
	keys := []string{"rods.length", "plates.height", "plates.width", "plates.bottom", "rods.hole", "stiffeners.length", "stiffeners.gauge"}
	var bases []*job.Job
	for _, text := range texts {
		bases = append(bases, computed(t, change(t, text, "prints", "")))
	}
	kept, scrapped, falsely := 0, 0, 0
	for i := range pairs {
		now := bases[i%len(bases)]
		values := map[string]float64{"rods.length": now.Fixture.Rods.Length.MM(), "plates.height": now.Fixture.Plate.Height.MM(), "plates.width": now.Fixture.Plate.Width.MM(),
			"plates.bottom": now.Fixture.Plate.Bottom.MM(), "rods.hole": now.Fixture.Rods.Hole.MM()}
		if s := now.Fixture.Stiffener; s != nil {
			values["stiffeners.length"], values["stiffeners.gauge"] = s.Length.MM(), s.Gauge.MM()
		}
		var set []params.Change
		for range 1 + rng.IntN(2) {
			key := keys[rng.IntN(len(keys))]
			if v, known := values[key]; known {
				by := []float64{0.05, 0.3, 1, 4}[rng.IntN(4)] * (2*rng.Float64() - 1)
				set = append(set, params.Change{Path: key, Value: fmt.Sprintf("%.3f mm", v+by)})
			}
		}
		f, err := now.Fixture.Set(set...)
		if err != nil || len(set) == 0 {
			continue
		}
		old, err := now.Other(f)
		if err != nil {
			continue
		}
		rows := Parts(old.Assembly, now.Assembly)
		more, err := (&comparer{old.Fixture, now.Fixture}).reuse(old, now, rows)
		if err != nil {
			t.Fatal(err)
		}
		asOld := worseWith(t, now, set)
		for _, row := range rows {
			if row.Action == Keep && row.differs() {
				kept++
				if asOld != "" && len(set) == 1 {
					t.Errorf("pair %d, %v: %s is kept, but %s", i, set, row.Name, asOld)
				}
			}
		}
		if asOld != "" { // the old parts do not serve
			continue
		}
		scrapped++
		if more != nil {
			rows = more.Rows
		}
		if slices.ContainsFunc(rows, func(r Row) bool { return r.Action == Make && r.Old != "" }) {
			falsely++
			t.Logf("pair %d, %v: scrapped, though nothing is worse with the old parts: %+v", i, set, rows)
		}
	}
	t.Logf("%d kept though they differ; %d old sets serve, %d of them scrapped in part", kept, scrapped, falsely)
	if float64(falsely) > math.Ceil(0.05*float64(scrapped)) {
		t.Errorf("%d of %d scrapped falsely", falsely, scrapped)
	}
}

// worseWith rebuilds a fixture with changes and says what is worse; empty for nothing.
func worseWith(t *testing.T, now *job.Job, set []params.Change) string {
	t.Helper()
	f, err := now.Fixture.Set(set...)
	if err != nil {
		return err.Error()
	}
	j, err := now.Other(f)
	if err != nil {
		return err.Error()
	}
	found, err := j.Judge()
	if err != nil {
		return err.Error()
	}
	was := map[finding.ID]int{}
	for _, f := range now.Findings {
		was[f.ID] = max(was[f.ID], f.Verdict.Rank())
	}
	for _, f := range found {
		if f.Verdict.Rank() > was[f.ID] {
			return string(f.ID)
		}
	}
	return ""
}
