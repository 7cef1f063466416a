package check

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// senses says of every rule which way it lies; all but the named ones want at least
// so much. placeless are those whose findings lie nowhere in the fixture.
var (
	senses = map[finding.ID]finding.Sense{
		"gap": finding.AtMost, "washer-bearing": finding.AtMost, "socket-depth": finding.AtMost,
		"spring-guided": finding.AtMost, "print-overhang": finding.AtMost, "drill-at-hand": finding.Within, "row-as-listed": finding.Within,
	}
	placeless = map[finding.ID]bool{
		"fits-sheet": true, "fits-length": true, "tool-on-sheet": true, "part-held": true, "drill-at-hand": true, "fits-bed": true, "wall-printable": true,
		"print-wall": true, "room-fits": true, "print-overhang": true, "material-heat": true, "row-as-listed": true,
	}
	// units are those of rules that measure no length.
	units = map[finding.ID]string{"washer-bearing": "MPa", "fits-sheet": "pieces", "fits-length": "pieces", "part-held": "pieces", "print-overhang": "mm\u00b2", "material-heat": "\u00b0C"}
	// softened are verdicts that a rule makes milder or worse than its limit says.
	softened = map[finding.ID]bool{"driver-to-metal": true, "print-wall": true}
)

// everything is placed fixtures in which every rule finds something to judge, good
// and bad.
func everything(t *testing.T) []*assembly.Assembly {
	t.Helper()
	place := func(base func() *params.Fixture, changes ...func(*params.Fixture)) *assembly.Assembly {
		f := base()
		all(changes...)(f)
		a, err := assembly.Build(f)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	prints := func(f *params.Fixture) {
		f.Prints.Gauges, f.Prints.CornerGuards, f.Printer.Material = true, true, sample.PETG
		m := sample.PETG
		m.MaxService = 70
		f.Tables.Materials = append(f.Tables.Materials, m)
	}
	frame := func(f *params.Fixture) { f.Separator.Pattern, f.Separator.Border = "frame", 20 }
	return []*assembly.Assembly{
		place(sample.FourCells), place(sample.TwoRows, live, frame), place(sleeved, prints), place(sprung), place(plainPlates),
		place(sample.FourCells, beside(-1), gauge(13), rodEnds(100)), linked(t, 20, nil),
		place(sample.FourCells, feet(30, 6.6), func(f *params.Fixture) { f.Plate.TieSlots = true }),
		place(sample.TwoRows, live, noLiner, func(f *params.Fixture) { f.Separator = nil }),
	}
}

// Every rule has findings, all of them lie the way the table says, with a place
// where they have one; the verdict is what value, limit and sense say.
func TestSenses(t *testing.T) {
	seen := map[finding.ID]bool{}
	for _, a := range everything(t) {
		found, err := Judge(a)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			seen[f.ID] = true
			want := senses[f.ID]
			if want == "" {
				want = finding.AtLeast
			}
			if f.Sense != want {
				t.Errorf("%s %s lies %q, want %q", f.ID, f.Of, f.Sense, want)
			}
			if u := units[f.ID]; u == "" && f.Unit != "mm" || u != "" && f.Unit != u {
				t.Errorf("%s %s is measured in %s", f.ID, f.Of, f.Unit)
			}
			if (f.At == nil) != placeless[f.ID] {
				t.Errorf("%s %s: place %v", f.ID, f.Of, f.At)
			}
			if (f.Margin() < -Slack) != (f.Verdict != finding.Pass) && !softened[f.ID] {
				t.Errorf("%s %s: %s at %g, %s %g", f.ID, f.Of, f.Verdict, f.Have, f.Sense, f.Need)
			}
			if f.Bound && f.Verdict != finding.Pass {
				t.Errorf("%s %s: does not pass on a lower bound", f.ID, f.Of)
			}
			if len(f.Between) == 0 || f.Why == "" || f.Unit == "" || f.Compared == 0 || len(f.Params) == 0 || f.Group == "" {
				t.Errorf("%s %s is not complete: %+v", f.ID, f.Of, f)
			}
		}
	}
	for _, r := range rules() {
		if !seen[r.id] {
			t.Errorf("%s has no finding in any sample", r.id)
		}
	}
}

// Every rule has cases near its limit in a table of its own.
func TestEveryRuleHasNearCases(t *testing.T) {
	var text string
	for _, pattern := range []string{"near_*_test.go", "rules_cutting_test.go"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v, %v", pattern, files, err)
		}
		for _, file := range files {
			body, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			text += string(body)
		}
	}
	for _, r := range rules() {
		if !strings.Contains(text, `"`+string(r.id)+`"`) {
			t.Errorf("%s has no cases near its limit", r.id)
		}
	}
}

// Of the rules that compare every instance each counts what there is to count.
func TestCompared(t *testing.T) {
	for name, c := range map[string]struct {
		base func() *params.Fixture
		want map[string]int
	}{
		// two plates, two rows, six rods, fourteen separators, four liners
		"sixteen cells": {sample.TwoRows, map[string]int{
			"plate-covers": 4, "row-fits": 4, "plate-insulated": 4, "sheet-covers": 14 + 4, "separator-registers": 14,
			"washer-bearing": 12, "nut-engaged": 12, "socket-depth": 12, "grip-room": 6,
			"hole-edge": 6, "hole-ligament": 15, "hole-for-cutter": 6, "metal-to-cell": 6 * 16,
			"driver-to-cell": 12, "driver-to-terminal": 12, "driver-to-metal": 12,
		}},
		// springs at the front, with a second washer each that is no seat
		"sprung": {sprung, map[string]int{
			"washer-flat": 8, "washer-bearing": 8, "spring-held": 4, "spring-guided": 4, "nut-starts": 4,
			"thread-protrusion": 8, "nut-turns": 8, "drill-access": 8,
		}},
		"sleeved": {sleeved, map[string]int{"sleeve-free": 8, "grip-bare": 8, "sleeve-to-cell": 32}},
	} {
		a, err := assembly.Build(c.base())
		if err != nil {
			t.Fatal(err)
		}
		for id, n := range c.want {
			if found := judged(t, id, a); len(found) == 0 || found[0].Compared != n {
				t.Errorf("%s: %s, want %d compared: %+v", name, id, n, found)
			}
		}
		n := 4 * (len(a.Instances) - 2) // over each vent all but it and its cell
		if found := judged(t, "vent-free", a); name == "sprung" && found[0].Compared != n {
			t.Errorf("vent-free compared %d, want %d", found[0].Compared, n)
		}
	}
	// of eight terminals three bars join six
	for id, n := range map[string]int{"link-to-link": 3, "link-to-terminal": 3 * 6, "link-to-case": 12, "terminal-driver": 6*8 + 2*10} {
		if found := judged(t, id, linked(t, 20, nil)); found[0].Compared != n {
			t.Errorf("%s compared %d, want %d", id, found[0].Compared, n)
		}
	}
}

// Findings lie where they were measured.
func TestPlaces(t *testing.T) {
	two, err := assembly.Build(sample.TwoRows())
	if err != nil {
		t.Fatal(err)
	}
	four, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	half := two.Placement.Stack / 2
	plate := half + 1 // behind the liner
	for _, c := range []struct {
		id, of string
		a      *assembly.Assembly
		want   geom.Vec3
	}{
		{"plate-covers", "", two, geom.Vec3{X: -112, Y: 100.5, Z: half}},
		{"row-fits", "", two, geom.Vec3{X: -112, Y: 100.75, Z: half}}, // the largest cell's middle
		{"plate-insulated", "", two, geom.Vec3{X: -112, Y: 100.5, Z: half}},
		{"socket-depth", "", two, geom.Vec3{X: -222, Y: 40, Z: 325}},
		{"hole-edge", "end-plate", four, geom.Vec3{X: -108, Y: 52, Z: math.NaN()}},
		{"hole-ligament", "end-plate", four, geom.Vec3{X: -108, Y: 100.5, Z: math.NaN()}},
		{"hole-ligament", "end-plate", two, geom.Vec3{X: -222, Y: 100, Z: math.NaN()}},
	} {
		for _, f := range judged(t, c.id, c.a) {
			if f.Of != c.of {
				continue
			}
			z := math.Abs(f.At.Z)
			if math.Abs(math.Abs(f.At.X)-math.Abs(c.want.X)) > 1e-6 || math.Abs(f.At.Y-c.want.Y) > 1e-6 || !math.IsNaN(c.want.Z) && math.Abs(f.At.Z-c.want.Z) > 1e-6 || z < plate-200 && c.a == two {
				t.Errorf("%s: at %v, want %v", c.id, *f.At, c.want)
			}
		}
	}
}

// Holes are named as on the drawing, or counted.
func TestHoleName(t *testing.T) {
	p := &parts.Part{ID: "plate", Holes: []parts.Hole{{ID: "H1"}}}
	if a, b := holeName(p, 0), holeName(p, 1); a != "plate H1" || b != "plate hole 2" {
		t.Errorf("%q, %q", a, b)
	}
}

// A spring's washer is the one under it, not another's.
func TestWasherUnder(t *testing.T) {
	f := sprung()
	f.Spring.BothEnds = true
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range a.Of(assembly.RoleSpring) {
		if got, want := washerUnder(newScene(a), s), strings.Replace(s.ID, "spring", "washer", 1); got != want {
			t.Errorf("%s lies on %s", s.ID, got)
		}
	}
}
