package stackup

import (
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/params"
	"clampwright/params/unit"
)

func fixture(t *testing.T, name string) *params.Fixture {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	f, diags := params.Load(name, text)
	if f == nil {
		t.Fatal(diags)
	}
	f.Prints = params.Prints{}
	return f
}

// lined is a file with liners and separators in its chain.
const lined = `
fixture: lined
cell: {model: 36x130x200, pressure: 80 kPa}
pack: {cells: 5}
plates: {material: birch plywood, thickness: 15}
liners: {material: fr4, thickness: 2}
separators: {material: fr4, thickness: 4}
rods: {thread: M6}
`

func loaded(t *testing.T, text string) *params.Fixture {
	t.Helper()
	f, diags := params.Load("lined.yaml", []byte(text))
	if f == nil {
		t.Fatal(diags)
	}
	return f
}

// cases are all examples, and fixtures with more in the chain.
func cases(t *testing.T) map[string]*params.Fixture {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	out := map[string]*params.Fixture{"lined": loaded(t, lined), "measured": loaded(t, strings.Replace(lined, "cells: 5", "cells: 5, stack: 197 mm", 1))}
	for _, f := range files {
		out[filepath.Base(f)] = fixture(t, filepath.Base(f))
	}
	return out
}

// The least thread outside the nut in the worst case is what the assembly's
// stations give when everything in the chain and the saw are at their limits.
func TestLengthAgainstLayout(t *testing.T) {
	for name, f := range cases(t) {
		o := Study(f).Outcomes[1]
		both := func(g *params.Fixture, v assembly.Variant) float64 {
			l, err := assembly.NewPlacement(g, v)
			if err != nil {
				t.Fatal(err)
			}
			return (l.Ends[0].Protrusion() + l.Ends[1].Protrusion()) / 2
		}
		if got := both(f, assembly.Nominal); math.Abs(got-o.Nominal) > 1e-9 {
			t.Errorf("%s: nominal %g, layout %g", name, o.Nominal, got)
		}
		if got := both(atLimits(f), assembly.Largest); math.Abs(got-o.Worst.Least) > 1e-9 {
			t.Errorf("%s: worst %g, layout at the limits %g", name, o.Worst.Least, got)
		}
	}
}

// atLimits is the fixture with all but its cells as thick, and its rods as short,
// as their tolerances allow.
func atLimits(f *params.Fixture) *params.Fixture {
	g := *f
	g.Plate.Thickness *= 1 + unit.Length(f.Tolerances.SheetShare)
	g.Rods.Length -= g.Tolerances.CutLength
	if f.Liner != nil {
		l := *f.Liner
		l.Thickness *= 1 + unit.Length(f.Tolerances.SheetShare)
		g.Liner = &l
	}
	switch {
	case f.Pack.Measured:
		g.Pack.CellThickness += measureMM / unit.Length(f.Pack.PerRow)
	case f.Separator != nil:
		l := *f.Separator
		l.Thickness *= 1 + unit.Length(f.Tolerances.SheetShare)
		g.Separator = &l
	}
	return &g
}

// Worked by hand: three cells of 36 +-0.5 mm with two ribs of 3 mm between them,
// between 15 mm plates, sheets within 3 %, the rod sawn to 0.5 mm. The chain is
// off by 3 x 0.5 + 2 x 0.09 + 2 x 0.45 + 0.5 = 3.08 mm at most, each end of the
// rod by half, 1.54 mm. As variances, in units of a third: 3 x 0.25 = 0.75 cells,
// 2 x 0.0081 = 0.0162 ribs, 2 x 0.2025 = 0.405 plates, 0.25 saw; 1.4212 in all.
func TestLengthByHand(t *testing.T) {
	f := fixture(t, "three-cell-ribs.yaml")
	o := Study(f).Outcomes[1]
	if math.Abs(o.Nominal-o.Worst.Least-1.54) > 1e-9 || math.Abs(o.Worst.Greatest-o.Nominal-1.54) > 1e-9 {
		t.Errorf("%g, worst %+v; by hand 1.54 either way", o.Nominal, o.Worst)
	}
	want := []Part{
		{"cell thickness", "cell.thickness_tolerance", 3, 0.5, 0.75, 0.75 / 1.4212},
		{"separator thickness", "separators.thickness", 2, 0.09, 0.09, 0.0162 / 1.4212},
		{"plate thickness", "plates.thickness", 2, 0.45, 0.45, 0.405 / 1.4212},
		{"sawing error", "tolerances.cut_error", 1, 0.5, 0.25, 0.25 / 1.4212},
	}
	samePart := func(a, b Part) bool {
		return a.Name == b.Name && a.Param == b.Param && a.Pieces == b.Pieces && math.Abs(a.EachMM-b.EachMM) < 1e-9 && math.Abs(a.Plus-b.Plus) < 1e-9 && math.Abs(a.Share-b.Share) < 1e-9
	}
	if !slices.EqualFunc(o.Parts, want, samePart) {
		t.Errorf("contributions %+v, by hand %+v", o.Parts, want)
	}
}

// Only what a fixture has contributes, and a measured stack counts by its reading
// alone and is called measured.
func TestContributions(t *testing.T) {
	all := cases(t)
	for name, f := range all {
		var got []string
		for _, p := range Study(f).Outcomes[1].Parts {
			got = append(got, p.Param)
			if p.Plus <= 0 || p.Pieces < 1 {
				t.Errorf("%s: %+v contributes nothing", name, p)
			}
		}
		for param, fitted := range map[string]bool{
			"liners.thickness": f.Liner != nil, "separators.thickness": f.Separator != nil && !f.Pack.Measured,
			"cell.thickness_tolerance": !f.Pack.Measured, "pack.stack": f.Pack.Measured,
		} {
			if slices.Contains(got, param) != fitted {
				t.Errorf("%s: %s among %v: want %v", name, param, got, fitted)
			}
		}
	}
	for name, measured := range map[string]bool{"measured": true, "lined": false} {
		f := all[name]
		if said := Study(f).Outcomes[1].Answer; strings.Contains(said, "measured") != measured {
			t.Errorf("%s: %q", name, said)
		}
	}
	f := all["lined"]
	f.Tolerances.HolePosition, f.Tolerances.CutLength, f.Tolerances.TurnError, f.Cell.ThicknessTol = 0, 0, 0, 0
	f.Plate.Thickness, f.Liner, f.Separator = 0, nil, nil
	if r := Study(f); !strings.HasPrefix(r.Matters, "no tolerance matters") {
		t.Errorf("nothing varies, and %q", r.Matters)
	}
}

// The samples spread as the formula for sums of even errors says: the variance of
// one even over -a to a is a²/3, and variances add.
func TestLengthSpread(t *testing.T) {
	f := fixture(t, "eight-cell-plywood.yaml")
	o := Study(f).Outcomes[1]
	p, s := f.Tolerances.Sheet(f.Plate.Thickness).MM(), f.Tolerances.CutLength.MM()
	c := f.Cell.ThicknessTol.MM()
	sd := math.Sqrt((float64(f.Pack.PerRow)*c*c+2*p*p+s*s)/3) / 2
	// Near a normal distribution 95 of 100 lie within 1.96 standard deviations.
	if got := (o.Likely.Greatest - o.Likely.Least) / 2; math.Abs(got/(1.96*sd)-1) > 0.06 {
		t.Errorf("half width %g, expected about %g", got, 1.96*sd)
	}
	if o.Likely.Least < o.Worst.Least || o.Likely.Greatest > o.Worst.Greatest || o.Matters != "cell thickness" {
		t.Errorf("%+v", o)
	}
}

// No sample leaves the worst case, and the same seed gives the same numbers.
func TestSeeded(t *testing.T) {
	f := fixture(t, "four-cell-offcut.yaml")
	a, b := Study(f), Study(f)
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
	f.Tolerances.Seed++
	if c := Study(f); c.Outcomes[1].Likely == a.Outcomes[1].Likely {
		t.Error("another seed gives the same samples")
	}
	for _, o := range a.Outcomes {
		if o.Likely.Least < o.Worst.Least-1e-9 || o.Likely.Greatest > o.Worst.Greatest+1e-9 {
			t.Errorf("%s: likely %+v outside worst %+v", o.ID, o.Likely, o.Worst)
		}
		sum := 0.0
		for _, p := range o.Parts {
			sum += p.Share
		}
		if math.Abs(sum-1) > 1e-9 || o.Holds && o.Good < 1 {
			t.Errorf("%s: shares add to %g, holds %v, good %g", o.ID, sum, o.Holds, o.Good)
		}
	}
}

// By hand at 0.5 mm an M8 rod in a 9 mm hole just passes; in one of 8.5 mm it
// need not, and with a router's 0.1 mm it does again.
func TestHandAndRouter(t *testing.T) {
	f := fixture(t, "eight-cell-plywood.yaml")
	for _, c := range []struct {
		hole, err float64
		holds     bool
	}{{9, 0.5, true}, {8.5, 0.5, false}, {8.5, 0.1, true}} {
		f.Rods.Hole = unit.Length(c.hole)
		f.Tolerances.HolePosition = unit.Length(c.err)
		if o := Study(f).Outcomes[0]; o.Holds != c.holds || o.Holds != (o.Good == 1) {
			t.Errorf("hole %g, error %g: %+v", c.hole, c.err, o)
		}
	}
}

// Both ways of drilling are told, with the errors that the file's words stand for.
func TestWays(t *testing.T) {
	f := fixture(t, "eight-cell-plywood.yaml")
	f.Rods.Hole = 8.5
	w := Study(f).Outcomes[0].Ways
	if len(w) != 2 || w[0].Holds || w[0].Good > 0.5 || !w[1].Holds || w[1].Good != 1 || math.Abs(w[0].LeftMM+0.25) > 1e-9 || math.Abs(w[1].LeftMM-0.15) > 1e-9 {
		t.Errorf("%+v", w)
	}
	for _, way := range w {
		g := loaded(t, lined+"tolerances: {holes: "+way.Name+"}\n")
		if got := g.Tolerances.HolePosition.MM(); got != way.ErrorMM {
			t.Errorf("%s: %g mm, the file takes %g", way.Name, way.ErrorMM, got)
		}
	}
}
