package check

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/parts/geom"
)

func place(name string, have, need float64) finding.Finding {
	p := atLeast(have, need, need)
	p.Between = []string{name, "other"}
	return p
}

// A tally reports its worst place, the first of equals, names the others that do not
// pass from the worst, and counts all.
func TestTally(t *testing.T) {
	for name, c := range map[string]struct {
		places []finding.Finding
		worst  string
		also   []string
	}{
		"one":            {[]finding.Finding{place("a", 3, 2)}, "a", nil},
		"nearest":        {[]finding.Finding{place("a", 3, 2), place("b", 2.5, 2), place("c", 2.7, 2)}, "b", nil},
		"first of equal": {[]finding.Finding{place("a", 3, 2), place("b", 3, 2)}, "a", nil},
		"fails":          {[]finding.Finding{place("a", 3, 2), place("b", 1, 2), place("c", 0, 2), place("d", 1.5, 2)}, "c", []string{"b / other", "d / other"}},
		"equal fails":    {[]finding.Finding{place("a", 1, 2), place("b", 1, 2), place("c", 9, 2)}, "a", []string{"b / other"}},
		"worst first":    {[]finding.Finding{place("a", 0, 2), place("b", 1, 2), place("c", 0.5, 2)}, "a", []string{"c / other", "b / other"}},
		"by verdict":     {[]finding.Finding{{Verdict: finding.Warn, Have: -5, Between: []string{"w", "other"}}, place("a", 1.9, 2)}, "a", []string{"w / other"}},
	} {
		var tl tally
		for _, p := range c.places {
			tl.add(p)
		}
		got := tl.finding("kind", "mm")
		if len(got) != 1 || got[0].Between[0] != c.worst || !slices.Equal(got[0].Also, c.also) || got[0].Compared != len(c.places) || got[0].Of != "kind" || got[0].Unit != "mm" {
			t.Errorf("%s: %+v", name, got)
		}
	}
	var none tally
	if none.finding("", "mm") != nil {
		t.Error("nothing was compared and there is a finding")
	}
}

// Values are judged up to Slack, on either side.
func TestSlack(t *testing.T) {
	for i, c := range []struct {
		f    finding.Finding
		want finding.Verdict
		need float64
	}{
		{atLeast(2.996, 1, 3), finding.Pass, 3}, {atLeast(2.994, 1, 3), finding.Warn, 3}, {atLeast(0.996, 1, 3), finding.Warn, 3}, {atLeast(0.994, 1, 3), finding.Fail, 1},
		{atMost(3.004, 5, 3), finding.Pass, 3}, {atMost(3.006, 5, 3), finding.Warn, 3}, {atMost(5.004, 5, 3), finding.Warn, 3}, {atMost(5.006, 5, 3), finding.Fail, 5},
	} {
		if c.f.Verdict != c.want || c.f.Need != c.need {
			t.Errorf("case %d: %+v", i, c.f)
		}
	}
}

// closestOf tallies the rods of four cells against one cell, each wanting its own
// distance; lower bounds are true but for nothing.
func closestOf(b *scene, needs []float64) (tally, []float64) {
	rods, cell := b.nominal.Of(assembly.RoleRod), b.nominal.Of(assembly.RoleCell)[0]
	var cs candidates
	for i, need := range needs {
		cs.add(b, rods[i], cell, need)
	}
	var t tally
	var measured []float64
	b.closest(&t, cs, func(c candidate, g geom.Gap) finding.Finding {
		measured = append(measured, c.need)
		p := place(c.u.ID, g.MM, c.need)
		p.At = spot(g.OnA)
		return p
	})
	return t, measured
}

// All rods are 108 - 87 mm and half their diameter off the cell. Those which could
// be the worst are measured, those known to be further off are only counted, and all
// are when all are far.
func TestClosest(t *testing.T) {
	a, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	gap := 108 - 87 - halfRod
	for name, c := range map[string]struct {
		needs    []float64
		measured []float64 // needs of the pairs that are measured, in order
		worst    string
		bound    bool
		have     float64
	}{
		"alike":              {[]float64{3, 3, 3, 3}, []float64{3, 3, 3, 3}, "rod-left-lower", false, gap},
		"most wanted first":  {[]float64{3, 8, 5, 3}, []float64{8}, "rod-left-upper", false, gap},
		"short ones too":     {[]float64{20, 8, 30, 19}, []float64{30, 20, 19}, "rod-right-lower", false, gap},
		"just within reach":  {[]float64{gap - 19.9}, []float64{gap - 19.9}, "rod-left-lower", false, gap},
		"beyond reach":       {[]float64{gap - 20.1}, []float64{gap - 20.1}, "rod-left-lower", true, gap},
		"all beyond reach":   {[]float64{-9, -8, -9, -9}, []float64{-8}, "rod-left-upper", true, gap},
		"nothing to compare": {nil, nil, "", false, 0},
	} {
		tl, measured := closestOf(newScene(a), c.needs)
		if tl.count != len(c.needs) || !slices.Equal(measured, c.measured) {
			t.Errorf("%s: %d counted, measured %v, want %v", name, tl.count, measured, c.measured)
		}
		got := tl.finding("", "mm")
		if c.worst == "" {
			if got != nil {
				t.Errorf("%s: %+v", name, got)
			}
			continue
		}
		if f := got[0]; f.Between[0] != c.worst || f.Bound != c.bound || math.Abs(f.Have-c.have) > 0.01 || f.At == nil {
			t.Errorf("%s: %s at %.3f, bound %t", name, f.Between[0], f.Have, f.Bound)
		}
	}
}

// What is far off is told as being at least so far, with the distance of the boxes
// or the reach, whichever is more.
func TestFarOff(t *testing.T) {
	a, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	b := newScene(a)
	u, v := a.Of(assembly.RoleRod)[0], a.Of(assembly.RoleCell)[0]
	judge := func(c candidate, g geom.Gap) finding.Finding { return place(c.u.ID, g.MM, c.need) }
	for _, c := range []struct{ need, lower, want float64 }{{3, 50, 50}, {3, 10, 23}, {40, 50, 60}} {
		if f := b.farOff(candidate{u, v, c.need, c.lower}, judge); f.Have != c.want || !f.Bound || f.Verdict != finding.Pass {
			t.Errorf("need %g, at least %g off: %+v", c.need, c.lower, f)
		}
	}
}

// A distance is computed once; one kept as a bound only is computed again when more
// is asked.
func TestBetween(t *testing.T) {
	a, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	b := newScene(a)
	u, v := a.Of(assembly.RoleRod)[0], a.Of(assembly.RoleCell)[0]
	far := b.between(u, v, 1)
	if !far.Bound || far.MM < 1 {
		t.Fatalf("%+v", far)
	}
	b.dist[pair{u, v}] = geom.Gap{MM: 5, Bound: true} // as kept
	if again := b.between(u, v, 5); again.MM != 5 {
		t.Errorf("a bound that is enough was not kept: %+v", again)
	}
	exact := b.between(u, v, 50)
	if exact.Bound || math.Abs(exact.MM-(108-87-halfRod)) > 0.01 {
		t.Errorf("%+v", exact)
	}
	b.dist[pair{u, v}] = geom.Gap{MM: 7}
	if kept := b.between(u, v, 50); kept.MM != 7 {
		t.Errorf("an exact gap was not kept: %+v", kept)
	}
	if box := b.box(u); !reflect.DeepEqual(box, u.Body().Bounds()) || !reflect.DeepEqual(b.boxes[u], box) {
		t.Errorf("%+v", box)
	}
}

// A pair whose boxes are within reach and which itself is not counts too, and is
// told by the reach: the rod's round side is further off the pad's edge than its box.
func TestClosestBeyondBoxes(t *testing.T) {
	a, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	b := newScene(a)
	rod, pad := a.RodAt(0, 1), a.Of(assembly.RoleTerminal)[0]
	boxes, gap := math.Hypot(38-halfRod, 52-halfRod), math.Hypot(38, 52)-halfRod
	if got := b.box(rod).Dist(b.box(pad)); math.Abs(got-boxes) > 1e-6 {
		t.Fatalf("boxes are %g apart, by hand %g", got, boxes)
	}
	need := (boxes+gap)/2 - exactBeyond
	var tl tally
	b.closest(&tl, candidates{near: []candidate{{rod, pad, need, boxes}}}, func(c candidate, g geom.Gap) finding.Finding { return place(c.u.ID, g.MM, c.need) })
	if f := tl.finding("", "mm")[0]; f.Compared != 1 || !f.Bound || math.Abs(f.Have-need-exactBeyond) > 1e-9 {
		t.Errorf("%+v", f)
	}
}
