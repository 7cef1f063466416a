package assembly

import (
	"math"
	"os"
	"regexp"
	"testing"

	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// allPrints is every printed part.
const allPrints = `
prints:
  corner_guards: true
  end_caps: true
  rod_caps: true
  feet: true
  drill_guides: true
  gauges: true
`

var (
	printsBlock = regexp.MustCompile(`(?m)^prints:.*\n(?:[ \t].*\n|\n)*`)
	separators  = regexp.MustCompile(`(?m)^separators:.*\n(?:[ \t].*\n|\n)*`)
	sleeves     = regexp.MustCompile(`(?m)^sleeves:.*\n(?:[ \t].*\n|\n)*`)
)

// example loads an example with all printed parts, and blocks of its own in
// place of separators and sleeves when given.
func example(t testing.TB, name, blocks string) *params.Fixture {
	t.Helper()
	text, err := os.ReadFile("../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	text = printsBlock.ReplaceAll(text, nil)
	if blocks != "" {
		text = sleeves.ReplaceAll(separators.ReplaceAll(text, nil), nil)
	}
	f, diags := params.Load(name, append(text, allPrints+blocks...))
	if f == nil {
		t.Fatal(diags)
	}
	return f
}

// mine says whether an instance is a printed part.
func mine(w *Instance) bool { return w.Part.Make == parts.MakePrint }

// TestPrintsFitAtEveryTolerance places every printed part among cells of nominal,
// largest and smallest size and measures it against all that is near.
func TestPrintsFitAtEveryTolerance(t *testing.T) {
	for _, c := range []struct{ name, blocks string }{
		{"three-cell-ribs", ""}, {"two-cell-frames", ""}, {"four-cell-offcut", "sleeves:\n  printed: true\n"},
		{"two-cell-frames", "separators:\n  printed: true\n  pattern: frame\n  border: 20 mm\nprinter: {bed_x: 120 mm, bed_y: 120 mm, bed_z: 120 mm}\n"},
		{"two-cell-frames", "separators:\n  printed: true\n  thickness: 2 mm\nsleeves:\n  printed: true\n"},
	} {
		a, err := Build(example(t, c.name, c.blocks))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for _, v := range []Variant{Nominal, Largest, Smallest} {
			b, err := a.Variant(v)
			if err != nil {
				t.Fatal(err)
			}
			n := 0
			for i := range b.Instances {
				for j := range b.Instances {
					u, w := &b.Instances[i], &b.Instances[j]
					if mine(u) && (i < j || !mine(w)) {
						n += fits(t, b, c.name, u, w)
					}
				}
			}
			t.Logf("%s, %v: %d near pairs", c.name, v, n)
		}
	}
}

// fits measures one pair; it returns 1 when the two are near.
func fits(t *testing.T, a *Assembly, name string, u, w *Instance) int {
	t.Helper()
	g, err := geom.DistanceWithin(u.Body(), w.Body(), 0.5)
	if err != nil {
		t.Fatal(err)
	}
	if g.Bound {
		if a.Meeting(u, w) == Bears {
			t.Errorf("%s, %v: %s and %s do not touch", name, a.Placement.Variant, u.ID, w.ID)
		}
		return 0
	}
	switch m := a.Meeting(u, w); {
	case m == Bears && a.Placement.Variant == Nominal && math.Abs(g.MM) > 0.01,
		(m == Clear || m == Through) && g.MM < 0.02:
		t.Errorf("%s, %v: %s and %s: %.3f mm (%v)", name, a.Placement.Variant, u.ID, w.ID, g.MM, g.OnA)
	}
	return 1
}

// TestAidsAreListedOnce asks for guides and gauges in the parts list, made once
// for all corners that are alike.
func TestAidsAreListedOnce(t *testing.T) {
	a, err := Build(example(t, "eight-cell-plywood", ""))
	if err != nil {
		t.Fatal(err)
	}
	got := map[parts.Kind]int{}
	for _, l := range a.PartsList() {
		if l.Part.Make == parts.MakePrint {
			got[l.Part.Kind] += l.Quantity
			t.Logf("%d %s %s: %.1f x %.1f x %.1f", l.Quantity, l.Part.ID, l.Part.Mark, l.Part.SizeMM[0], l.Part.SizeMM[1], l.Part.SizeMM[2])
		}
	}
	rods := len(a.Placement.Columns) * len(a.Placement.Levels)
	want := map[parts.Kind]int{parts.KindGuard: 4, parts.KindCap: 4 + 2*rods, parts.KindFoot: 4, parts.KindGauge: 2}
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%d of %s, want %d", got[k], k, n)
		}
	}
	if g := got[parts.KindGuide]; g < 2 || g > 5 {
		t.Errorf("%d guides", g)
	}
}

// TestGuideBoresMeetHoles looks through every guide's bore at its place and must
// see the hole of the plate or angle.
func TestGuideBoresMeetHoles(t *testing.T) {
	a, err := Build(example(t, "eight-cell-plywood", ""))
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, w := range a.Aids {
		if w.Part.Kind != parts.KindGuide {
			continue
		}
		on := a.first(func(in *Instance) bool { return in.ID == w.On[0] })
		for _, h := range w.Part.Holes {
			p := on.Frame.ToLocal(w.Frame.Point(h.C.V3(0))).XY()
			best := math.Inf(1)
			for _, k := range on.Part.Holes {
				best = min(best, k.C.Dist(p))
			}
			if best > 2*aidPlay {
				t.Errorf("%s: bore %s is %.3f mm off the hole of %s", w.ID, h.ID, best, on.ID)
			}
			n++
		}
	}
	if n < 3 {
		t.Errorf("%d bores looked through", n)
	}
}

// TestNoGoArmMeetsWasher moves the gauge round to its NO arm: at the set force
// the washer must be in the way of it, or the gauge would pass every spring.
func TestNoGoArmMeetsWasher(t *testing.T) {
	a, err := Build(example(t, "eight-cell-plywood", ""))
	if err != nil {
		t.Fatal(err)
	}
	washer := a.first(func(w *Instance) bool { return w.Role == RoleWasher && w.End == Front && w.Layer == LayerSpring })
	for _, w := range a.Aids {
		if w.Part.ID != "spring-gauge" {
			continue
		}
		go_, _ := geom.DistanceWithin(washer.Body(), w.Body(), 1)
		b := w.Part.Solid.Bounds()
		f := w.Frame // turned half a turn about its upright axis, the other arm over the washer
		f.O = f.O.Add(f.Z.Mul(b.Max.Z))
		f.X, f.Z = f.X.Mul(-1), f.Z.Mul(-1)
		no, _ := geom.DistanceWithin(washer.Body(), geom.NewBody(w.Part.Solid, f), 1)
		if go_.Relation == geom.Interfering || no.Relation != geom.Interfering {
			t.Errorf("GO %v %.2f mm, NO %v %.2f mm", go_.Relation, go_.MM, no.Relation, no.MM)
		}
	}
}
