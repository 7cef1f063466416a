package wiring

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// Which plan is followed: the proven one that is asked for, or none; the least harm
// of the others; what is asked for and is no plan of the pack is said.
func TestWhichPlanIsFollowed(t *testing.T) {
	plan := func(id PlanID, burns float64, faults ...Fault) Plan {
		return Plan{ID: id, Name: string(id), SequenceFaults: faults, Harm: Harm{LinkBurns: burns}}
	}
	bad := Fault{Kind: FaultSequence}
	for _, c := range []struct {
		forced PlanID
		plans  []Plan
		want   PlanID
		ok     bool
		why    string
	}{
		{"", []Plan{plan(Turn, 3), plan(Cross, 2), plan(Single, 1)}, Single, true, ""},
		{"", []Plan{plan(Turn, 3), plan(Cross, 2), plan(Single, 1, bad)}, Cross, true, ""},
		{"", []Plan{plan(Turn, 2), plan(Cross, 2)}, Turn, true, ""},
		{"", []Plan{plan(Turn, 1, bad)}, "", false, ""},
		{"", nil, "", false, ""},
		{Turn, []Plan{plan(Turn, 3), plan(Cross, 2)}, Turn, true, "plan turn is asked for; plan cross is reckoned to do less harm, 2 burns in a thousand packs against 3"},
		{Turn, []Plan{plan(Turn, 3), plan(Single, 1, bad), plan(Cross, 2.95)}, Turn, true, ""},
		{Turn, []Plan{plan(Turn, 3), plan(Single, 1, bad), plan(Cross, 2.93)}, Turn, true, "plan turn is asked for; plan cross is reckoned to do less harm, 2.9 burns in a thousand packs against 3"},
		{Turn, []Plan{plan(Turn, 3, bad), plan(Cross, 2)}, "", false, ""},
		{Single, []Plan{plan(Cross, 2)}, Cross, true, "plan single is asked for, but it is none for 4 places in series: there is nothing to do that way, and this one is followed"},
	} {
		a, ok := Recommend(Input{Forced: c.forced, Series: 4}, c.plans)
		if ok != c.ok || a.Plan != c.want || strings.Join(a.Why, "; ") != c.why {
			t.Errorf("%s of %d: %+v, %v", c.forced, len(c.plans), a, ok)
		}
		if a.Forced != (c.ok && c.forced == c.want && c.forced != "") {
			t.Errorf("%s: forced %v", c.forced, a.Forced)
		}
	}
}

// Rows that differ, by hand: a shim from more than three tenths of a millimetre on, below
// the thin row; the plates lean from as much.
func TestRowsThatDiffer(t *testing.T) {
	for _, c := range []struct {
		thick [2]float64 // added to the left cell and to the right one
		wedge float64
		want  string
	}{
		{[2]float64{0, 0.3}, 0, ""},
		{[2]float64{0, 0.31}, 0, "the rows differ by 0.31 mm in the middle: shim row A"},
		{[2]float64{0.4, 0}, 0, "the rows differ by 0.4 mm in the middle: shim row B"},
		{[2]float64{}, 0.3, ""},
		{[2]float64{}, 0.31, "is 0.31 mm thicker on the"},
	} {
		l, final := finalOf(t, pack(1, 2, 2, 1))
		a := Arrangement{Slots: []Record{good("a"), good("b")}}
		for i := range a.Slots {
			a.Slots[i].CentreMM += c.thick[i]
			a.Slots[i].EdgeRightMM += c.wedge
		}
		a.measure(l, final)
		near(t, "difference", a.DifferenceMM, c.thick[0]-c.thick[1], 1e-9)
		near(t, "edges", a.RowEdgeMM[0], good("a").EdgeMM()+c.wedge/2, 1e-9)
		if text := strings.Join(a.Remarks, "; "); c.want == "" && text != "" || !strings.Contains(text, c.want) {
			t.Errorf("%+v: %q", c, text)
		}
		for row, w := range a.WedgeMM {
			side := map[bool]string{true: "right", false: "left"}[w > 0]
			if math.Abs(w) > shimMM && !strings.Contains(strings.Join(a.Remarks, "; "), fmt.Sprintf("row %c is 0.31 mm thicker on the %s", 'A'+row, side)) {
				t.Errorf("row %d leans by %v: %v", row, w, a.Remarks)
			}
		}
	}
	in := pack(2, 3, 5, 1)
	in.Empty, in.FillerMM = 1, 70
	if rows := emptyRows(mustLayout(t, in)); !slices.Equal(rows, []float64{0, 0, 70}) {
		t.Errorf("fillers %v", rows)
	}
}

// The middle half of what cells in a row give: the ends cool best, so places that reach
// an end take what resists most.
func TestCoolOrder(t *testing.T) {
	l, final := finalOf(t, pack(5, 1, 5, 1))
	g := Grouping{Places: make([][]Record, 5), MilliOhm: []float64{0.1, 0.5, 0.2, 0.4, 0.3}}
	order := coolOrder(l, final, g)
	var ohm []float64
	for _, gi := range order {
		ohm = append(ohm, g.MilliOhm[gi])
	}
	if !slices.Equal(ohm, []float64{0.5, 0.3, 0.1, 0.2, 0.4}) {
		t.Errorf("along the row %v", ohm)
	}
}

// A bar of stacked bars keeps the most that any state asks of it, a cable its own.
func TestSameLayersThroughout(t *testing.T) {
	a, b := Post{0, Left}, Post{1, Left}
	states := []State{{Links: []Link{{A: a, B: b, Layers: 1}, {A: a, B: Post{2, Left}, Layers: 1}}}, {Links: []Link{{A: b, B: a, Layers: 3}, {A: a, B: Post{3, Left}, Cable: true, Layers: 1}}}, {Links: []Link{{A: a, B: Post{3, Left}, Layers: 2}}}}
	sameLayers(states)
	for i, want := range [][]int{{3, 1}, {3, 1}, {2}} {
		for j, n := range want {
			if got := states[i].Links[j].Layers; got != n {
				t.Errorf("state %d, link %d: %d layers, want %d", i, j, got, n)
			}
		}
	}
}

// A stray against the others of its place, by hand: 0.25 milliohm against one, two and
// three; cells that stand alone are joined two by two.
func TestStrayByHand(t *testing.T) {
	l := mustLayout(t, pack(4, 1, 4, 1))
	for _, c := range []struct {
		places [][]int
		want   float64
	}{{[][]int{{0, 1}}, 0.5}, {[][]int{{0, 1, 2}}, 0.375}, {[][]int{{0, 1}, {2, 3}}, 0.5}, {[][]int{{0}, {1}}, 0.5}, {[][]int{{0, 1, 2, 3}}, 1.0 / 3}, {[][]int{{0}, {1, 2, 3}}, 0.375}} {
		near(t, fmt.Sprint(c.places), 1000*strayOhm(l, State{Places: c.places}), c.want, 1e-12)
	}
	m := WithCells(l, []Record{{MilliOhm: 0.2, CapacityAh: 270}, {MilliOhm: 0.4, CapacityAh: 280}, {MilliOhm: 0.4, CapacityAh: 290}, {MilliOhm: 0.1, CapacityAh: 300}})
	near(t, "the best of three", 1000*strayOhm(m, State{Places: [][]int{{0, 1, 2}}}), 0.2+0.2, 1e-12)
	near(t, "held", heldAh(m, []int{1, 3}), 580, 0)
	near(t, "held, not measured", heldAh(l, []int{1, 3}), 560, 0)
	near(t, "most of a place", mostAh(m, State{Places: [][]int{{0, 1}, {2}, {3}}}), 550, 0)
	near(t, "without links", 1000*idealOhm(m, State{Places: [][]int{{1, 2}, {0}}}), 0.4, 1e-12)
}

// Steps and levels: what a meter shows within an island, between two, and through a
// test lead that joins them.
func TestLevelsByHand(t *testing.T) {
	turns := Turns{Right, Right, Left}
	lv := levelsOf(turns, []float64{3.2, 3.3, 3.4}, []Link{{A: turns.At(0, Plus), B: turns.At(1, Minus)}})
	for _, c := range []struct {
		p, q Post
		want float64
	}{{turns.At(0, Minus), turns.At(1, Plus), 6.5}, {turns.At(1, Plus), turns.At(0, Minus), -6.5}, {turns.At(0, Plus), turns.At(1, Minus), 0}, {turns.At(2, Minus), turns.At(2, Plus), 3.4}, {turns.At(0, Minus), turns.At(2, Plus), 0}} {
		near(t, fmt.Sprint(c.p, c.q), lv.between(c.p, c.q), c.want, 1e-12)
	}
	near(t, "lead", lv.bridged(turns.At(0, Minus), turns.At(2, Plus), turns.At(1, Plus), turns.At(2, Minus)), 9.9, 1e-12)
	near(t, "lead the other way", lv.bridged(turns.At(2, Plus), turns.At(0, Minus), turns.At(1, Plus), turns.At(2, Minus)), -9.9, 1e-12)
	near(t, "lead elsewhere", lv.bridged(turns.At(0, Minus), turns.At(2, Plus), turns.At(0, Plus), turns.At(1, Minus)), 0, 0)
	lv.join(Link{A: turns.At(1, Plus), B: turns.At(2, Minus)})
	near(t, "joined", lv.between(turns.At(0, Minus), turns.At(2, Plus)), 9.9, 1e-12)
}

// Cells along the ways that packs of rows go: their middles, their terminals and heights.
func TestPlacesByHand(t *testing.T) {
	in := pack(3, 2, 6, 1)
	in.TerminalPitchMM, in.PlusAt, in.MinusAt = 0, TerminalAt{XMM: 60, ZMM: 3, HeightMM: 2}, TerminalAt{XMM: -50, ZMM: -2, HeightMM: 1}
	l := mustLayout(t, in)
	turns := Turns{Right, Left, Right, Right, Right, Right}
	for _, c := range []struct {
		p       Post
		x, z, h float64
		name    string
	}{
		{Post{0, Right}, -92 + 60, -73 + 3, 2, "cell A1 plus (right)"}, {Post{0, Left}, -92 - 50, -73 - 2, 1, "cell A1 minus (left)"},
		{Post{1, Left}, -92 - 60, -3, 2, "cell A2 plus (left)"}, {Post{1, Right}, -92 + 50, 2, 1, "cell A2 minus (right)"}, {Post{5, Right}, 92 + 60, 73 + 3, 2, "cell B3 plus (right)"},
	} {
		at := l.Position(c.p, turns)
		near(t, "x", at.X, c.x, 1e-9)
		near(t, "z", at.Y, c.z, 1e-9)
		near(t, "height", l.Height(c.p, turns), c.h, 0)
		if got := l.PostName(c.p, turns); got != c.name {
			t.Errorf("%s, want %s", got, c.name)
		}
	}
	if got := sidesText(l, turns); got != "plus on the right in A1, A3, B1, B2 and B3, on the left in A2" {
		t.Error(got)
	}
}

// A bar with hole and slot too near, and one that ends too soon are
// told; a straight one of usual sizes is not.
func TestBarWarnings(t *testing.T) {
	for _, c := range []struct {
		name string
		set  func(*Input)
		want string
	}{
		{"usual", func(*Input) {}, ""},
		{"as wide as it may be narrow", func(in *Input) { in.Bar.WidthMM, in.Bar.EndMM = 15.84, 10 }, ""},
		{"narrow", func(in *Input) { in.Bar.WidthMM, in.Bar.EndMM = 15.8, 10 }, "its hole wants 15.8 mm"},
		{"end as short as it may be", func(in *Input) { in.Bar.EndMM = 7.92 }, ""},
		{"short end", func(in *Input) { in.Bar.EndMM = 7.9 }, "the end distance 7.9 mm is below 1.2 holes (7.9 mm)"},
		{"hole and slot apart", func(in *Input) { in.PadDiaMM, in.PitchMM = 10, 15 }, ""},
		{"hole and slot near", func(in *Input) { in.PadDiaMM, in.PitchMM = 10, 13 }, "hole and slot are less than one hole apart"},
	} {
		in := rigid(pack(2, 1, 2, 1))
		in.PlusAt, in.MinusAt = TerminalAt{XMM: 61}, TerminalAt{XMM: -61}
		c.set(&in)
		sp := specOf(mustLayout(t, in), Link{A: Post{0, Right}, B: Post{1, Right}, Layers: 1}, Turns{Right, Left})
		if text := strings.Join(sp.Warnings, "; "); c.want == "" && text != "" || !strings.Contains(text, c.want) {
			t.Errorf("%s: %q", c.name, text)
		}
	}
}

// Terminals near each other: links a few millimetres longer are longer all the same.
func TestOrderByAFewMillimetres(t *testing.T) {
	in := pack(4, 1, 4, 1)
	in.TerminalPitchMM = 30 // 73 mm straight, 78.9 askew
	if got := mustLayout(t, in).Final().Turns; !slices.Equal(got, Turns{Right, Left, Right, Left}) {
		t.Errorf("turns %v", got)
	}
	in.FirstPlus = new(Side)
	if got := mustLayout(t, in).Final().Turns; !slices.Equal(got, Turns{Left, Right, Left, Right}) {
		t.Errorf("plus left first: %v", got)
	}
}
