package compare

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// sheet is a plate w x h with holes of 9 mm, all for rods.
func sheet(w, h float64, at ...geom.Vec2) *parts.Part {
	p := &parts.Part{ID: "end-plate", Kind: parts.KindPlate, Name: "end plate", Make: parts.MakeSheet, SizeMM: [3]float64{w, h, 15},
		Flat: &parts.Flat{ThicknessMM: 15, Profile: geom.Profile{Outer: geom.Rect(geom.Vec2{X: -w / 2, Y: -h / 2}, geom.Vec2{X: w / 2, Y: h / 2})}}}
	for _, c := range at {
		p.Flat.Profile.Circles = append(p.Flat.Profile.Circles, geom.Circle{C: c, R: 4.5})
		p.Holes = append(p.Holes, parts.Hole{C: c, DiaMM: 9, For: "rod M8"})
	}
	return p
}

// bare is a comparer of plates that carry their washers, 30 mm wide.
func bare(t *testing.T) *comparer {
	t.Helper()
	f := *build(t, read(t, "four-small-separators.yaml")).Fixture
	f.Stiffener, f.Washer.Outer = nil, 30
	return &comparer{old: &f, now: &f}
}

// Holes that the new plate does not use are told, and judged by where they lie.
func TestLeftOver(t *testing.T) {
	a, b := geom.Vec2{X: -80, Y: 60}, geom.Vec2{X: 80, Y: 60}
	c := bare(t)
	for _, k := range []struct {
		what     string
		was, is  *parts.Part
		want     Action
		why      string
		leftOver int
	}{
		{"clear", sheet(200, 160, a, b, geom.Vec2{X: 92}, geom.Vec2{X: -92, Y: 10}), sheet(200, 160, a, b), Keep, "2 holes of 9.00 mm are left over", 2},
		{"one", sheet(200, 160, a, b, geom.Vec2{X: 92}), sheet(200, 160, a, b), Keep, "1 hole of 9.00 mm is left over", 1},
		{"under the washer", sheet(200, 160, a, b, geom.Vec2{X: 92, Y: 43}), sheet(200, 160, a, b), Make, "washer of hole 2", 1},
		{"tears into one", sheet(200, 160, a, b, geom.Vec2{X: 92, Y: 51}), sheet(200, 160, a, b), Make, "6.00 mm from hole 2; 10.80 mm are needed", 1},
		{"in what bends", sheet(200, 160, a, b, geom.Vec2{}), sheet(200, 160, a, b), Make, "where the plate presses or bends", 1},
		{"cut by every edge", sheet(200, 160, geom.Vec2{}, geom.Vec2{Y: 78 - 12}, geom.Vec2{Y: 12 - 78}), sheet(200, 134, geom.Vec2{}), Make, "cut", 0},
		{"fewest holes to drill", sheet(200, 160, geom.Vec2{X: -60, Y: 40}), sheet(160, 140, geom.Vec2{X: -50, Y: 40}), Recut, "its holes serve", 0},
		{"another cut", sheet(200, 160, geom.Vec2{Y: 66}), sheet(200, 134), Recut, "26.00 mm off the upper edge", 0},
	} {
		r := c.flat(k.was, k.is)
		if r.Action != k.want || !strings.Contains(r.Why, k.why) || r.Action != Make && len(r.left) != k.leftOver {
			t.Errorf("%s: want %s, %q; got %+v", k.what, k.want, k.why, r)
		}
	}
}

// A re-cut plate is proved at the place that the verdict gives: every old hole is
// on a new one, in the offcut, or at least 1.2 diameters inside.
func TestRecutEdges(t *testing.T) {
	c := bare(t)
	for y := -70.0; y <= 70; y += 3.5 {
		was, is := sheet(200, 160, geom.Vec2{Y: y}, geom.Vec2{X: 30, Y: -y}), sheet(200, 140)
		r := c.flat(was, is)
		if r.Action != Recut {
			continue
		}
		for _, o := range was.Flat.Profile.Circles {
			in := is.Flat.Profile.Moved(r.at).Outer.DistTo(o.C)
			if in > -4.5-rounding && in < 1.2*9-rounding && in < was.Flat.Profile.Outer.DistTo(o.C)-rounding {
				t.Errorf("%g: old hole %v lies %g mm inside the new edge: %s", y, o.C, in, r.Why)
			}
		}
	}
}

// drilledAngle is an angle of the fixture with holes at x along it.
func drilledAngle(t *testing.T, a *assembly.Assembly, length float64, x ...float64) *parts.Part {
	t.Helper()
	for _, l := range a.PartsList() {
		if l.Part.Kind != parts.KindStiffener {
			continue
		}
		s := a.Fixture.Stiffener
		var holes []parts.Hole
		for _, at := range x {
			holes = append(holes, parts.Hole{C: geom.Vec2{X: at}, DiaMM: a.Fixture.Rods.Hole.MM(), For: "rod"})
		}
		p, err := parts.Stiffener(parts.StiffenerSpec{Label: parts.Label{ID: "angle", Stock: l.Part.Stock}, Material: parts.Material{Name: l.Part.Material, DensityGCM3: 2.7},
			DrilledLegMM: s.DrilledLeg.MM(), StandingLegMM: s.StandingLeg.MM(), ThicknessMM: s.Section.Thickness.MM(), LengthMM: length, GaugeMM: s.Gauge.MM(), Holes: holes, StandingUp: true})
		if err != nil {
			t.Fatal(err)
		}
		return &p
	}
	t.Fatal("no angle")
	return nil
}

// An angle with a hole between the rods is made new; one beyond them is told; one
// at the sawn end makes the saw cut elsewhere.
func TestAngleLeftOver(t *testing.T) {
	a := build(t, read(t, "four-small-separators.yaml"))
	c := &comparer{old: a.Fixture, now: a.Fixture}
	for _, k := range []struct {
		what    string
		was, is *parts.Part
		want    Action
		why     string
	}{
		{"between", drilledAngle(t, a, 300, -80, 0, 80), drilledAngle(t, a, 300, -80, 80), Make, "weaken"},
		{"beyond", drilledAngle(t, a, 300, -80, 80, 125), drilledAngle(t, a, 300, -80, 80), Keep, "1 hole"},
		{"sawn through", drilledAngle(t, a, 300, 0, 130), drilledAngle(t, a, 264, 0), Recut, "36.00 mm off the right end"},
	} {
		r := c.angle(k.was, k.is)
		if r.Action != k.want || !strings.Contains(r.Why, k.why) {
			t.Errorf("%s: want %s, %q; got %+v", k.what, k.want, k.why, r)
		}
	}
}

// The picture shows the new outline where the verdict puts it, and what is left.
func TestOverlayPlace(t *testing.T) {
	was, is := sheet(200, 160, geom.Vec2{Y: 66}, geom.Vec2{}), sheet(200, 134)
	r := bare(t).flat(was, is)
	svg := overlay{"end plate", string(r.Action), was.Flat, is.Flat, r.turned, r.at, r.left}.SVG()
	scale := pictureMM / 200.0
	first := regexp.MustCompile(`class="(old|new)" d="([^Z]*)Z`).FindAllStringSubmatch(svg, -1)
	top := func(d string) float64 {
		least := math.Inf(1)
		for _, p := range strings.FieldsFunc(d, func(r rune) bool { return r == 'M' || r == 'L' }) {
			y, err := strconv.ParseFloat(strings.Fields(p)[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			least = min(least, y)
		}
		return least
	}
	if len(first) != 2 {
		t.Fatal(svg)
	}
	if got := top(first[1][2]) - top(first[0][2]); math.Abs(got-26*scale) > 0.1 {
		t.Errorf("the new upper edge lies %g below the old one, want %g", got, 26*scale)
	}
	if strings.Count(svg, `class="left"`) != 1 {
		t.Error("the hole left over is not shown")
	}
}

// Words and small cases: sheet within its tolerance, tube sawn, corners, springs
// by the piece, inches, names.
func TestWords(t *testing.T) {
	text := read(t, "four-small-separators.yaml")
	tubes := read(t, "sixteen-cell-two-rows.yaml")
	for _, k := range []struct {
		text        []byte
		path, value string
		kind        parts.Kind
		want        Action
		why         string
	}{
		{text, "plates.thickness", "THICKER", parts.KindPlate, Keep, "same outline"},
		{text, "plates.corner_radius", "20 mm", parts.KindPlate, Recut, "round the corners to a radius of 20.00 mm"},
		{tubes, "pack.cells", "14", parts.KindSleeve, Shorten, "saw off"},
	} {
		base := build(t, k.text)
		value := strings.Replace(k.value, "THICKER", fmt.Sprintf("%g mm", base.Fixture.Plate.Thickness.MM()*1.02), 1)
		next := change(t, k.text, k.path, value)
		if k.path == "pack.cells" {
			next = change(t, next, "electrical.series", value)
		}
		found := false
		for _, r := range Parts(base, build(t, next)) {
			found = found || r.Kind == string(k.kind) && r.Action == k.want && strings.Contains(r.Why, k.why)
		}
		if !found {
			t.Errorf("%s: %s: no %s of %s, %q", k.path, value, k.want, k.kind, k.why)
		}
	}
}

// Single discs are counted, so they are named singly.
func TestDiscs(t *testing.T) {
	a := build(t, read(t, "eight-cell-plywood.yaml"))
	if a.Fixture.Spring == nil || a.Fixture.Spring.Disc == nil {
		t.Fatal("the example has no disc springs")
	}
	for _, r := range Parts(a, a) {
		if r.Kind == string(parts.KindSpring) && r.Name != "disc spring" {
			t.Errorf("%d %s", r.Quantity, r.Name)
		}
	}
}

// Fixtures of one name are told apart, whatever their files are called.
func TestFixturesOfOneName(t *testing.T) {
	a := computed(t, read(t, "four-small-separators.yaml"))
	if r := Compare(a, a); r.Old.Fixture != a.Fixture.Name+" (old)" || r.New.Fixture != a.Fixture.Name+" (new)" {
		t.Errorf("%s and %s", r.Old.Fixture, r.New.Fixture)
	}
}

// Quantities add up between any two fixtures: every new piece comes from one row,
// every old one is used or spare.
func TestQuantities(t *testing.T) {
	var all []*assembly.Assembly
	for _, b := range bases {
		all = append(all, build(t, read(t, b.name)))
	}
	for i, a := range all {
		for k, b := range all {
			was, is := map[string]int{}, map[string]int{}
			for _, r := range Parts(a, b) {
				if r.New != "" {
					is[r.New] += r.Quantity
				}
				if r.Old != "" && r.Action != Make && r.Action != Buy {
					was[r.Old] += r.Quantity
				}
			}
			for _, l := range b.PartsList() {
				if is[l.Part.ID] != l.Pieces {
					t.Errorf("%s to %s: %d of %d %s", bases[i].name, bases[k].name, is[l.Part.ID], l.Pieces, l.Part.ID)
				}
			}
			for _, l := range a.PartsList() {
				if was[l.Part.ID] != l.Pieces {
					t.Errorf("%s to %s: %d old of %d %s", bases[i].name, bases[k].name, was[l.Part.ID], l.Pieces, l.Part.ID)
				}
			}
		}
	}
}

// A length is a fraction where one holds, else what a calliper reads; sizes have names.
func TestExact(t *testing.T) {
	inches := params.Style{Unit: unit.Inch, Denominator: 16}
	for mm, want := range map[float64]string{41.275: "1 5/8 in", 0.1: "0.004 in", 63.67: "2.507 in", 63.17: "2.487 in", 25.4: "1 in"} {
		if got := exact(inches, mm); got != want {
			t.Errorf("%g: %s", mm, got)
		}
	}
	if got := exact(params.Style{}, 25.4); got != "25.40 mm" {
		t.Error(got)
	}
	if got := sizeWords(parts.KindWasher)[2]; got != "thickness" {
		t.Error(got)
	}
}

// A page of a file in inches holds fractions.
func TestInchPage(t *testing.T) {
	old := computed(t, change(t, read(t, "four-cell-offcut.yaml"), "plates.corner_radius", "1/4 in"))
	var b bytes.Buffer
	if err := Compare(old, old).Page(&b); err != nil {
		t.Fatal(err)
	}
	if !regexp.MustCompile(`\d+/\d+.in\b`).MatchString(b.String()) || regexp.MustCompile(`\d \(\d+\.\d\d mm\)`).MatchString(b.String()) {
		t.Error("no fraction of an inch, or millimetres beside it")
	}
}
