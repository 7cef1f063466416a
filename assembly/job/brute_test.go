package job

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/assembly/sizing"
	"clampwright/params"
	"clampwright/params/unit"
)

// every is how manieth spoiled file is mended by brute force too.
const every = 17

// What one change of the clamp mends, tried value by value without regard to what
// fails, the search mends too, with no more edits if
// nothing warns then.
func TestAgainstBruteForce(t *testing.T) {
	if testing.Short() {
		t.Skip("tries some hundred changes of each file")
	}
	spoiled, err := sample.ReadSpoiled("../..")
	if err != nil {
		t.Fatal(err)
	}
	able, found := 0, 0
	for i, s := range spoiled {
		if i%every != 2 {
			continue
		}
		f, diags := params.Load(s.Name, s.Text)
		if f == nil {
			t.Fatal(diags)
		}
		j, err := Compute(context.Background(), f, quiet, WithAnswers(1))
		if err != nil {
			t.Fatal(err)
		}
		if j.Verdict() != finding.Fail {
			continue
		}
		by, tried := bruteForce(t, j)
		edits := 0
		if len(j.Mended.Patches) > 0 {
			edits = len(j.Mended.Patches[0].Edits)
		}
		t.Logf("%s: by brute force %v of %d; by the search %d edits", s.Name, by, tried, edits)
		if by == nil {
			continue
		}
		if able++; edits > 0 {
			found++
		}
		if edits > 1 && passesWith(t, f, by) { // the search also mends what brute force leaves as a warning
			t.Errorf("%s: %d edits where %v does", s.Name, edits, by)
		}
	}
	if float64(found) < bruteLeast*float64(able) {
		t.Errorf("%d of %d that brute force mends are mended", found, able)
	}
}

// passesWith says whether nothing even warns with a change.
func passesWith(t *testing.T, f *params.Fixture, by []params.Change) bool {
	t.Helper()
	g, err := f.Set(by...)
	if err != nil {
		t.Fatal(err)
	}
	j, err := Compute(context.Background(), g, quiet, WithAnswers(0))
	if err != nil {
		t.Fatal(err)
	}
	return j.Verdict() == finding.Pass
}

// bruteForce tries single changes until with one of them nothing fails and nothing is
// worse.
func bruteForce(t *testing.T, j *Job) (by []params.Change, tried int) {
	t.Helper()
	was := ranks(j.Findings)
	fails := slices.DeleteFunc(slices.Clone(j.Findings), func(f finding.Finding) bool { return f.Verdict != finding.Fail })
	worse := func(found []finding.Finding, err error) bool {
		return err != nil || slices.ContainsFunc(found, func(f finding.Finding) bool {
			before, known := was[string(f.ID)]
			return f.Verdict == finding.Fail || known && f.Verdict.Rank() > before.Rank()
		})
	}
	for _, set := range singles(j.Fixture) {
		f, err := j.Fixture.Set(set...)
		if err != nil {
			continue
		}
		tried++
		placed, err := j.Other(f)
		if err != nil {
			continue
		}
		one := &trial{Job: placed}
		cleared := !slices.ContainsFunc(fails, func(f finding.Finding) bool {
			found, err := one.Rule(f)
			return err != nil || slices.ContainsFunc(found, func(g finding.Finding) bool { return g.ID == f.ID && g.Verdict == finding.Fail })
		})
		if cleared && !worse(one.Sift()) && !worse(one.Checks()) && !worse(one.Press()) {
			return set, tried
		}
	}
	return nil, tried
}

// singles are single changes of what the clamp is made of.
func singles(f *params.Fixture) (out [][]params.Change) {
	one := func(path, value string) { out = append(out, []params.Change{{Path: path, Value: value}}) }
	sizes := map[string]unit.Length{"plates.thickness": f.Plate.Thickness, "plates.width": f.Plate.Width, "plates.height": f.Plate.Height, "plates.bottom": f.Plate.Bottom,
		"rods.length": f.Rods.Length, "rods.hole": f.Rods.Hole, "electrical.link_width": f.Electrical.LinkWidth}
	if s := f.Stiffener; s != nil {
		sizes["stiffeners.length"], sizes["stiffeners.gauge"] = s.Length, s.Gauge
	}
	if s := f.Plate.Feet; s != nil {
		sizes["plates.feet.inset"] = s.Inset
	}
	if s := f.Sleeve; s != nil {
		sizes["sleeves.end_gap"] = s.EndGap
	}
	for name, i := range map[string]*params.Insert{"separators": f.Separator, "liners": f.Liner} {
		if i != nil {
			sizes[name+".width"], sizes[name+".height"] = i.Width, i.Height
		}
	}
	var paths []string
	for path := range sizes {
		paths = append(paths, path)
	}
	slices.Sort(paths)
	for _, path := range paths {
		for _, by := range []unit.Length{-16, -6, -2, -0.5, 0.5, 2, 6, 16} {
			one(path, fmt.Sprintf("%.3f mm", (sizes[path]+by).MM()))
		}
		if f.Gives(path) {
			one(path, "")
		}
	}
	for path, at := range map[string][]unit.Length{"rods.levels": f.Rods.Levels, "rods.columns": f.Rods.Columns} {
		for _, by := range []unit.Length{-12, -4, 4, 12} {
			var places []string
			for i, x := range at {
				places = append(places, fmt.Sprintf("%.3f mm", (x+by*unit.Length(2*i-len(at)+1)/2).MM()))
			}
			one(path, "["+strings.Join(places, ", ")+"]")
		}
		if f.Gives(path) {
			one(path, "")
		}
	}
	for path, value := range map[string]string{"springs": "{}", "separators": "{material: fr4}", "liners": "{material: fr4}", "washers.series": "large", "stiffeners.standing_leg": "outward"} {
		one(path, value)
	}
	for _, s := range sizing.Offer(f.File(), f, false).Steps(f) {
		out = append(out, s.Set)
	}
	return out
}
