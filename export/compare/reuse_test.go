package compare

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly/job"
	"clampwright/params"
	"clampwright/params/unit"
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

func whyOf(rows []Row, k parts.Kind) (out string) {
	for _, r := range rows {
		if r.Kind == string(k) {
			out += r.Why + "; "
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
	gauge := f.Stiffener.Section.Thickness + f.Stiffener.Section.Root + f.Washer.Outer/2 // the washer touches the fillet
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
		{"an angle a millimetre short", "stiffeners.length", mm(f.Stiffener.Length.MM() + 5), mm(f.Stiffener.Length.MM() + 6), parts.KindStiffener, Make, Keep},
		{"an angle whose washers sit in the fillet", "stiffeners.gauge", mm(gauge.MM() - 0.04), mm(gauge.MM()), parts.KindStiffener, Make, Make},
		{"an angle whose washers touch no fillet", "stiffeners.gauge", mm(f.Stiffener.Gauge.MM() - 0.04), mm(f.Stiffener.Gauge.MM()), parts.KindStiffener, Make, Keep},
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
			t.Errorf("%s: %s, with changes %s; want %s, %s: %s", c.name, got, then, c.want, c.with, whyOf(r.Rows, c.kind))
		}
	}
}

// Rods with which a check only warns are offered beside, with its name, on the page too;
// such that fail are not.
func TestKeptWithAWarning(t *testing.T) {
	text := change(t, read(t, "eight-cell-plywood.yaml"), "prints", "")
	f := build(t, text).Fixture
	for less, offered := range map[float64]bool{1: true, 7: false} {
		r := judged(t, computed(t, change(t, text, "rods.length", fmt.Sprintf("%g mm", f.Rods.Length.MM()-less))), computed(t, text))
		if got := r.Warned != nil && action(r.Warned.Rows, parts.KindRod) == Keep && slices.Equal(r.Warned.Warns, []string{"thread protrusion, thickest cells, shortest rod"}); got != offered || action(r.Rows, parts.KindRod) != Make {
			t.Errorf("%g mm short: offered %v: %+v", less, got, r.Warned)
		}
		var page, text strings.Builder
		if err := errors.Join(r.Page(&page), r.Text(&text, 200)); err != nil {
			t.Fatal(err)
		}
		if said := "nothing fails, but thread protrusion"; strings.Contains(page.String(), said) != offered || strings.Contains(text.String(), said) != offered {
			t.Errorf("%g mm short: page or text", less)
		}
	}
}

// A thicker plate that is kept, with rods that the new fixture wants a millimetre
// shorter: sawn they would be too short for it, so it is not kept as it stands; with the
// thickness that it has, both are.
func TestThickPlateShortRods(t *testing.T) {
	text := change(t, read(t, "eight-cell-plywood.yaml"), "prints", "")
	f := build(t, text).Fixture
	at := f.Plate.Thickness.MM()
	old := change(t, text, "plates.thickness", fmt.Sprintf("%g mm", at+0.5))
	for _, c := range []struct {
		spare float64 // that the new rods have over what is wanted
		want  Action
	}{{0, Make}, {3, Keep}} {
		ends := build(t, text).Placement.Ends
		least := f.Rods.Length.MM() - 2*(min(ends[0].Protrusion(), ends[1].Protrusion())-f.Rods.Protrusion.MM()) + c.spare
		was := computed(t, change(t, old, "rods.length", fmt.Sprintf("%.3f mm", least+1.02)))
		now := computed(t, change(t, text, "rods.length", fmt.Sprintf("%.3f mm", least+0.02)))
		r := judged(t, was, now)
		if got := action(r.Rows, parts.KindPlate); got != c.want {
			t.Errorf("spare %g: the plate: %s, want %s: %s", c.spare, got, c.want, whyOf(r.Rows, parts.KindPlate))
		}
		if c.want == Make && (r.Reuse == nil || action(r.Reuse.Rows, parts.KindPlate) != Keep || action(r.Reuse.Rows, parts.KindRod) != Keep) {
			t.Errorf("spare %g: both serve with their own sizes: %+v", c.spare, r.Reuse)
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

// By hand: what old parts must keep to in a new fixture, by sums of sizes alone, with
// none of the program's rules. Each is what there is, with the new part and with the old
// one, then what fails and what is wanted.
type byHand struct {
	what              string
	now, old          float64
	fails, wantsAtAll float64
}

// holds says that the old part does not fail, nor lacks what is wanted where the new one
// has it.
func (h byHand) holds() bool {
	const rounding = 0.005 // half of what is drawn, mm
	return h.old >= h.fails-rounding && (h.old >= h.wantsAtAll-rounding || h.now < h.wantsAtAll-rounding)
}

// sums are those of an old part of a kind in a new fixture.
func sums(now *job.Job, old *params.Fixture, k parts.Kind) []byHand {
	f, both := now.Fixture, [2]*params.Fixture{now.Fixture, old}
	two := func(of func(*params.Fixture) float64) (out [2]float64) {
		for i, g := range both {
			out[i] = of(g)
		}
		return out
	}
	var out []byHand
	add := func(what string, fails, wants float64, of func(*params.Fixture) float64) {
		v := two(of)
		out = append(out, byHand{what, v[0], v[1], fails, wants})
	}
	tol := math.Max(f.Tolerances.HolePosition.MM(), old.Tolerances.HolePosition.MM())
	apart := func(a, b []unit.Length) (most float64) {
		for i := range a {
			most = math.Max(most, math.Abs((a[i] - b[i]).MM()))
		}
		return most
	}
	switch k {
	case parts.KindRod: // what stands out of the nuts as they are placed, at either end
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, w := range now.Assembly.Instances {
			if w.Part.Kind == parts.KindNut {
				box := w.Body().Bounds()
				lo, hi = math.Min(lo, box.Min.Z), math.Max(hi, box.Max.Z)
			}
		}
		add("thread out of the nuts", f.Rods.Protrusion.MM(), f.Rods.Protrusion.MM(), func(g *params.Fixture) float64 { return (g.Rods.Length.MM() - (hi - lo)) / 2 })
	case parts.KindPlate:
		zoneLow := (f.Cell.Height.MM() - f.Cell.SwellHeight.MM()) / 2
		slack := -f.Tolerances.PlateSize.MM() / 2
		rise := 0.0 // the plate hangs on the rods: its holes lie where the new ones do
		for i := range old.Rods.Levels {
			rise += (f.Rods.Levels[i] - old.Rods.Levels[i]).MM() / float64(len(old.Rods.Levels))
		}
		bottom := func(g *params.Fixture) float64 {
			if g == f {
				return g.Plate.Bottom.MM()
			}
			return g.Plate.Bottom.MM() + rise
		}
		add("under the zone", slack, 0, func(g *params.Fixture) float64 { return zoneLow - bottom(g) })
		add("over the zone", slack, 0, func(g *params.Fixture) float64 {
			return bottom(g) + g.Plate.Height.MM() - (zoneLow + f.Cell.SwellHeight.MM())
		})
		add("holes to the edge", 1.2*f.Rods.Hole.MM(), 1.5*f.Rods.Hole.MM(), func(g *params.Fixture) float64 {
			c, l := g.Rods.Columns, g.Rods.Levels
			return min(g.Plate.Width.MM()/2-c[len(c)-1].MM(), (l[0] - g.Plate.Bottom).MM(), (g.Plate.Bottom + g.Plate.Height - l[len(l)-1]).MM())
		})
		fallthrough
	case parts.KindStiffener:
		add("play of the rods", tol, tol, func(g *params.Fixture) float64 {
			return (g.Rods.Hole-f.Rods.Thread.Major).MM()/2 - math.Max(apart(g.Rods.Columns, f.Rods.Columns), 0)
		})
	}
	if s := f.Stiffener; k == parts.KindStiffener && s != nil {
		play := (f.Rods.Hole+f.Washer.Inner).MM()/2 - f.Rods.Thread.Major.MM() + tol
		add("washer to the fillet", 0, play, func(g *params.Fixture) float64 {
			return g.Stiffener.Gauge.MM() - (s.Section.Thickness + s.Section.Root + f.Washer.Outer/2).MM()
		})
		add("washer to the toe", 0, play, func(g *params.Fixture) float64 {
			return (s.DrilledLeg - s.Section.Toe - f.Washer.Outer/2 - g.Stiffener.Gauge).MM()
		})
		add("holes to the ends", 1.2*f.Rods.Hole.MM(), 1.5*f.Rods.Hole.MM(), func(g *params.Fixture) float64 {
			return g.Stiffener.Length.MM()/2 - g.Rods.Columns[len(g.Rods.Columns)-1].MM()
		})
	}
	return out
}

// Random pairs near each other: a part that is kept is held against sums by hand; a set of
// old parts that serves, the new fixture rebuilt with them, is hardly ever scrapped.
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
	for i := 0; i < pairs; {
		now := bases[i%len(bases)]
		sizes := now.Fixture.Sizes()
		var set []params.Change
		for range 1 + rng.IntN(2) {
			key := keys[rng.IntN(len(keys))]
			if v := sizes[key]; len(v) == 1 {
				by := []float64{0.05, 0.3, 1, 4}[rng.IntN(4)] * (2*rng.Float64() - 1)
				set = append(set, params.Change{Path: key, Value: fmt.Sprintf("%.3f mm", v[0].MM()+by)})
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
		i++
		rows := Parts(old.Assembly, now.Assembly)
		more, _, err := (&comparer{old.Fixture, now.Fixture}).reuse(old, now, rows)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			if row.Action != Keep || !row.differs() {
				continue
			}
			kept++
			for _, h := range sums(now, f, parts.Kind(row.Kind)) {
				if !h.holds() {
					t.Errorf("pair %d, %v: %s is kept, but %s: %+v", i, set, row.Name, h.what, h)
				}
			}
		}
		if worseWith(t, now, set) != "" { // the old parts do not serve
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
	if kept < pairs/6 {
		t.Errorf("only %d are kept though they differ: the pairs prove little", kept)
	}
	if float64(falsely) > 0.05*float64(scrapped) {
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
	fails, warns, err := worse(now, j)
	if err != nil {
		return err.Error()
	}
	return fails + strings.Join(warns, ", ")
}
