package work_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"clampwright/assembly/clamp"
	"clampwright/assembly/inputs"
	"clampwright/assembly/job"
	"clampwright/assembly/nest"
	"clampwright/params"
)

// variation is a parameter file with choices drawn at random: every kind of part,
// way of setting and plan of wiring comes up among a few hundred.
func variation(rng *rand.Rand) string {
	pick := func(of ...string) string { return of[rng.IntN(len(of))] }
	maybe := func(text string) string { return pick("", text) }
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	cells, rows := pick("1", "2", "3", "4", "4", "5", "6", "8", "8"), 1
	line("fixture: t\nunits: %s", pick("mm", "mm", "in"))
	line("cell: {model: %s, compression: %s, case: %s, terminals: {stud: %s}}", pick("72x174x201", "54x174x200", "36x130x200"), pick("force", "force", "none", "unknown"), pick("live", "insulated"), pick("0 mm", "20 mm"))
	if n, _ := strconv.Atoi(cells); n%2 == 0 && rng.IntN(3) == 0 {
		rows = 2
	}
	line("pack: {cells: %s, rows: %d}", cells, rows)
	line("plates: {material: %s, thickness: %s, tie_slots: %s, feet: %s%s}", pick("hdpe", "birch plywood", "6061-T6"), pick("15 mm", "18 mm"), pick("true", "false"), pick("none", "{hole: 6.6 mm, inset: 12 mm}"), pick("", "", ", bottom: 3 mm", ", bottom: -4 mm"))
	line("%s", pick("stiffeners: none", "stiffeners: {}", "stiffeners: {standing_leg: "+pick("up", "down", "inward", "outward")+"}"))
	line("nuts: {kind: %s}", pick("plain", "prevailing", "jam"))
	line("%s", pick("springs: none", "springs: none", "springs: {}", "springs: {ends: both}", "springs: {disc: 20x10.2x1.1, parallel: 2, series: 7}", "springs: {disc: 20x10.2x1.1, parallel: 3, series: 1}"))
	line("separators: %s", pick("none", "{}", "{printed: true, thickness: 3 mm, pattern: frame}", "{printed: true, thickness: 3 mm, pattern: ribs}"))
	line("liners: %s", pick("none", "{}", "{printed: true, thickness: 2 mm}"))
	line("sleeves: %s", pick("none", "{}", "{printed: true}", "{end_gap: 10 mm}"))
	line("prints: {corner_guards: %v, end_caps: %v, rod_caps: %v, feet: %v, drill_guides: %v, gauges: %v%s}", rng.IntN(2) == 0, rng.IntN(2) == 0, rng.IntN(2) == 0, rng.IntN(2) == 0, rng.IntN(2) == 0, rng.IntN(2) == 0, maybe(", bushing: 8 mm"))
	line("clamp: {set_charge: %s, storage_charge: %s}", pick("0.3", "0.4"), pick("0.4", "0.4", "0.5"))
	line("tools: {cutter: %s, drills: [%s]}", pick("0 mm", "6 mm"), pick("metric", "fraction", "metric, letter"))
	if n, _ := strconv.Atoi(cells); n%2 == 0 {
		line("electrical: {parallel: %s%s}", pick("1", "1", "2"), pick("", "", ", plan: turn", ", plan: cross", ", plan: single"))
	}
	return b.String()
}

// ordered computes what the order of work follows from, the clamp on a coarse grid.
func ordered(f *params.Fixture) (*job.Job, error) {
	j, err := job.Place(f)
	if err != nil {
		return nil, err
	}
	in := inputs.Clamp(f)
	in.GridMM = 25
	r, err := clamp.Solve(in)
	if err != nil {
		return nil, err
	}
	j.Clamp = &r
	if j.Nest, err = nest.Of(j.Assembly); err != nil {
		return nil, err
	}
	j.Work = j.OrderOfWork()
	return j, nil
}

// orderedText is ordered for a parameter file that is right.
func orderedText(t *testing.T, text string) *job.Job {
	t.Helper()
	f, diags := params.Load("pack.yaml", []byte(text))
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	j, err := ordered(f)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// drawn is how many variations are drawn; some are refused.
const drawn = 240

var all = sync.OnceValues(func() (map[string]*job.Job, error) {
	out := map[string]*job.Job{}
	paths, err := filepath.Glob("../../examples/*.yaml")
	if err != nil {
		return nil, err
	}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		f, diags := params.Load(path, text)
		if f == nil {
			return nil, diags
		}
		if out[filepath.Base(path)], err = ordered(f); err != nil {
			return nil, err
		}
	}
	rng := rand.New(rand.NewPCG(3, 5))
	for range drawn {
		text := variation(rng)
		if f, diags := params.Load("pack.yaml", []byte(text)); !diags.HasErrors() {
			if j, err := ordered(f); err == nil {
				out[text] = j
			}
		}
	}
	return out, nil
})

// each runs a test on every example and variation.
func each(t *testing.T, test func(t *testing.T, name string, j *job.Job)) {
	t.Helper()
	jobs, err := all()
	if err != nil {
		t.Fatal(err)
	}
	if len(jobs) < 180 {
		t.Fatalf("only %d fixtures", len(jobs))
	}
	for name, j := range jobs {
		test(t, name, j)
	}
}
