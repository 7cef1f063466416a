package nest

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts/geom"
)

var update = flag.Bool("update", false, "write anew what the fixed jobs give")

// told writes a plan of sheets: per sheet its parts with where they lie, mm.
func (p SheetPlan) told() string {
	var b strings.Builder
	for _, l := range p.Layouts {
		fmt.Fprintf(&b, "  %s", l.Sheet.ID)
		for _, k := range l.Placed {
			fmt.Fprintf(&b, " %s@%.1f,%.1f", k.ID, k.At.X, k.At.Y)
			if k.Turned {
				b.WriteString("t")
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}

// told writes a plan of bars: per bar its pieces and what is left of it, mm.
func (p BarPlan) told() string {
	var b strings.Builder
	fmt.Fprintf(&b, "  cost %.2f, at least %.2f, %v\n", p.Cost, p.LowerBound, p.Optimal)
	for _, c := range p.Cuts {
		fmt.Fprintf(&b, "  %s", c.Bar.ID)
		for _, k := range c.Pieces {
			fmt.Fprintf(&b, " %s", k.ID)
		}
		fmt.Fprintf(&b, ", left %.1f\n", c.LeftMM)
	}
	return b.String()
}

// Fixed jobs give the plans on record: a search that goes another way shows here, for
// its yields to be looked at, before every shop's sheets are another.
func TestPlansOnRecord(t *testing.T) {
	r := rand.New(rand.NewPCG(44, 15))
	between := func(a, b int) float64 { return float64(a + r.IntN(b-a)) }
	var b strings.Builder
	for i := range 24 {
		job := SheetJob{GapMM: between(0, 4), ToolMM: []float64{0, 3, 6}[r.IntN(3)], MarginMM: between(0, 12)}
		job.GapMM = max(job.GapMM, job.ToolMM+webMM)
		for k := range 1 + r.IntN(5) {
			it := item(fmt.Sprint("p", k), between(40, 300), between(30, 200), 1+r.IntN(4))
			it.Grain, it.GrainAlongX = r.IntN(4) == 0, r.IntN(2) == 0
			job.Items = append(job.Items, it)
		}
		for k := range 1 + r.IntN(4) {
			s := sheet(fmt.Sprint("s", k), between(320, 900), between(220, 600), r.IntN(3))
			if s.Price = 0; i%2 == 0 {
				s.Price = between(5, 60)
			}
			job.Sheets = append(job.Sheets, s)
		}
		plan := pack(t, job)
		fmt.Fprintf(&b, "sheets %d, %d parts missing\n%s", i, len(expand(job.Items))-laid(plan), plan.told())
	}
	for i := range 40 {
		job := randomJob(r, 4)
		fmt.Fprintf(&b, "bars %d\n%s", i, must(PackBars(job)).told())
	}
	const file = "testdata/plans.txt"
	if *update {
		if err := os.WriteFile(file, []byte(b.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	was, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	got, want := strings.Split(b.String(), "\n"), strings.Split(string(was), "\n")
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			t.Fatalf("line %d of %s is %q, was %q", i+1, file, got[i], want[i])
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d lines, were %d", len(got), len(want))
	}
}

// The rules of choosing among free places, and what is left of a free rectangle beside
// a part, by hand.
func TestFreeRectangles(t *testing.T) {
	f := rect{10, 20, 100, 60}
	for rule, want := range [][2]float64{{20, 70}, {100*60 - 30*40, 20}, {60, 10}, {40, 20}} {
		if a, b := rules[rule](f, 30, 40); a != want[0] || b != want[1] {
			t.Errorf("rule %d: %g, %g, want %v", rule, a, b, want)
		}
	}
	for rule, want := range [][2]float64{{30, 50}, {100*60 - 70*10, 30}, {30, 10}, {80, 20}} {
		if a, b := rules[rule](f, 70, 10); a != want[0] || b != want[1] {
			t.Errorf("rule %d, a long part: %g, %g, want %v", rule, a, b, want)
		}
	}
	const hair = 3 * roundMM
	for _, c := range []struct {
		r    rect
		want []rect // nil: it does not meet f
	}{
		{rect{10, 20, 100, 60}, []rect{}},
		{rect{30, 30, 20, 10}, []rect{{10, 20, 20, 60}, {50, 20, 60, 60}, {10, 20, 100, 10}, {10, 40, 100, 40}}},
		{rect{10 + hair, 20, 100, 60}, []rect{{10, 20, hair, 60}}},
		{rect{10, 20 + hair, 100, 60}, []rect{{10, 20, 100, hair}}},
		{rect{10, 20, 100 - hair, 60}, []rect{{110 - hair, 20, hair, 60}}},
		{rect{10, 20, 100, 60 - hair}, []rect{{10, 80 - hair, 100, hair}}},
		{rect{110, 20, 5, 5}, nil}, {rect{110 - hair, 20, 5, 60}, []rect{{10, 20, 100 - hair, 60}}},
		{rect{5, 20, 5, 5}, nil}, {rect{5, 20, 5 + hair, 60}, []rect{{10 + hair, 20, 100 - hair, 60}}},
		{rect{10, 80, 5, 5}, nil}, {rect{10, 80 - hair, 100, 5}, []rect{{10, 20, 100, 60 - hair}}},
		{rect{10, 15, 5, 5}, nil}, {rect{10, 15, 100, 5 + hair}, []rect{{10, 20 + hair, 100, 60 - hair}}},
	} {
		if f.meets(c.r) != (c.want != nil) {
			t.Errorf("%v meets: %v", c.r, f.meets(c.r))
			continue
		}
		if c.want == nil {
			continue
		}
		got := f.without(c.r, nil)
		same := slices.EqualFunc(got, c.want, func(a, b rect) bool {
			return math.Abs(a.x-b.x)+math.Abs(a.y-b.y)+math.Abs(a.w-b.w)+math.Abs(a.h-b.h) < 1e-9
		})
		if !same {
			t.Errorf("%v: %v, want %v", c.r, got, c.want)
		}
	}
	// What is as small as rounding, to the last digit, is nothing.
	const r = roundMM
	tiny := rect{0, 0, 2 * r, 2 * r}
	for _, c := range []rect{{0, 0, r, r}, {r, r, r, r}} {
		if got := tiny.without(c, nil); len(got) != 0 {
			t.Errorf("%v leaves %v", c, got)
		}
	}
	for _, c := range []rect{{r, 0, r, 2 * r}, {0, r, 2 * r, r}, {0, 0, r, 2 * r}, {0, 0, 2 * r, r}} {
		if tiny.meets(c) {
			t.Errorf("%v meets", c)
		}
	}
	for o, in := range map[rect]bool{f: true, {9, 19, 102, 62}: true, {11, 20, 99, 60}: false, {10, 21, 100, 59}: false, {10, 20, 99, 60}: false, {10, 20, 100, 59}: false} {
		if f.inside(o) != in || f.insideAny([]rect{{}, o}) != in {
			t.Errorf("%v in %v is not %v", f, o, in)
		}
	}
	if all := []rect{f, f}; f.within(all, 0) || !f.within(all, 1) {
		t.Error("of two alike the first stays")
	}
	// A part that is as long as the sheet keeps its edges where a saw or a knife cuts the
	// others; under a machine only one that is the whole sheet does.
	for _, c := range []struct {
		w, h, tool   float64
		soft         bool
		keepX, keepY bool
		at           geom.Vec2
	}{
		{100, 50, 0, false, false, false, geom.Vec2{X: 17, Y: 15}},
		{299.96, 50, 0, false, true, false, geom.Vec2{X: 0.02, Y: 15}},
		{300.04, 50, 0, false, true, false, geom.Vec2{X: -0.02, Y: 15}},
		{299.94, 50, 0, false, false, false, geom.Vec2{X: 17, Y: 15}},
		{300.06, 50, 0, false, false, false, geom.Vec2{X: 17, Y: 15}},
		{100, 200.04, 0, false, false, true, geom.Vec2{X: 17, Y: -0.02}},
		{100, 200.06, 0, false, false, false, geom.Vec2{X: 17, Y: 15}},
		{299.96, 200, 0, false, true, true, geom.Vec2{X: 0.02}},
		{299.96, 50, 6, false, false, false, geom.Vec2{X: 17, Y: 15}},
		{299.96, 50, 6, true, true, false, geom.Vec2{X: 0.02, Y: 15}},
		{100, 200, 6, false, false, false, geom.Vec2{X: 17, Y: 15}},
		{299.96, 199.96, 6, false, true, true, geom.Vec2{X: 0.02, Y: 0.02}},
		{299.96, 199.94, 6, false, false, false, geom.Vec2{X: 17, Y: 15}},
	} {
		b := newBin(sheet("s", 300, 200, 1), SheetJob{GapMM: 4, MarginMM: 10, ToolMM: c.tool})
		x, y := b.keeps(FlatItem{byHand: c.soft}, c.w, c.h)
		if at := b.origin(rect{x: 7, y: 5}, c.w, c.h, x, y); x != c.keepX || y != c.keepY || at.Dist(c.at) > 1e-9 {
			t.Errorf("%+v: keeps %v, %v, at %v", c, x, y, at)
		}
	}
	for size, room := range map[float64]int{20: 0, 20.1: 1} {
		if got := len(newBin(sheet("s", size, 200, 1), SheetJob{MarginMM: 10}).free) + len(newBin(sheet("s", 200, size, 1), SheetJob{MarginMM: 10}).free); got != 2*room {
			t.Errorf("a sheet of %g mm has %d places", size, got)
		}
	}
}

// Orders, costs and ranks of the search over sheets, by hand.
func TestSheetSearchByHand(t *testing.T) {
	s := sheetSearch{items: []FlatItem{item("a", 100, 20, 1), item("b", 50, 50, 1), item("c", 30, 80, 1), item("d", 20, 20, 1)}}
	for k, want := range [][]int{{1, 2, 0, 3}, {0, 2, 1, 3}, {0, 2, 1, 3}, {2, 1, 0, 3}, {0, 1, 2, 3}} {
		if got := s.sorted(sortKeys[k]); !slices.Equal(got, want) {
			t.Errorf("order %d: %v, want %v", k, got, want)
		}
	}
	priced, bare := sheet("p", 100, 50, 0), sheet("q", 10, 10, 0)
	priced.Price = 1
	s.buy = []params.SheetStock{priced}
	if got := s.costOf(priced); got != 1 {
		t.Errorf("cost %g, want its price", got)
	}
	s.buy = []params.SheetStock{priced, bare}
	if got := s.costOf(priced); got != 5000 {
		t.Errorf("cost %g, want its area: not all have prices", got)
	}
	ranked := []sheetTrial{{}, {shopArea: 9}, {corner: 1}, {corner: 1, shopArea: 1}, {cost: 1}, {cost: 2}, {missing: 1}, {missing: 1, cost: 1}}
	for i := range ranked[1:] {
		if ranked[i].compare(ranked[i+1]) != -1 || ranked[i+1].compare(ranked[i]) != 1 || ranked[i].compare(ranked[i]) != 0 {
			t.Errorf("trial %d does not rank before the next", i)
		}
	}
	l := SheetLayout{Bought: true, Placed: []Placement{{At: geom.Vec2{X: 5, Y: 5}, WidthMM: 10, HeightMM: 30}, {At: geom.Vec2{X: 20, Y: 5}, WidthMM: 7, HeightMM: 2}}}
	if got := corner(l); got != 27*35 {
		t.Errorf("corner %g", got)
	}
	if got := (sheetTrial{layouts: []SheetLayout{l, {}, l}}).bought(); got != 2 {
		t.Errorf("%d bought", got)
	}
	if w, h := l.Least(2.5); w != 27 || h != 35 {
		t.Errorf("least %g x %g", w, h)
	}
	s.items, s.job.Sheets = []FlatItem{item("a", 1, 1, 1), item("a", 1, 1, 1)}, []params.SheetStock{sheet("large", 9, 9, 5), sheet("small", 3, 3, 1), sheet("any", 4, 4, 0)}
	s.buy = nil
	s.addStock(s.items)
	if len(s.shop) != 3 || s.shop[0].ID != "small" || s.shop[2].ID != "large" || len(s.buy) != 1 || s.buy[0].ID != "any" {
		t.Errorf("shop %v, buy %v", s.shop, s.buy)
	}
}

// Five parts, four to a sheet of 4: one that takes all five is bought up to twice that.
func TestOneSheetForAll(t *testing.T) {
	for price, want := range map[float64]string{6: "all", 7.9: "all", 8.1: "four four"} {
		four, all := sheet("four", 4*101, 100, 0), sheet("all", 5*101, 100, 0)
		four.Price, all.Price = 4, price
		var got []string
		for _, l := range pack(t, SheetJob{Items: []FlatItem{item("p", 100, 100, 5)}, Sheets: []params.SheetStock{four, all}}).Layouts {
			got = append(got, l.Sheet.ID)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("at %g: %v, want %s", price, got, want)
		}
	}
}

// What bought bars cost at least, by hand: exact steps, and without them the best
// ratio.
func TestCoverByHand(t *testing.T) {
	buy := []stock{{room: 10, price: 7}, {room: 4, price: 3}, {room: 0, price: 1}}
	want := []coverStep{{0, 0}, {4, 3}, {8, 6}, {10, 7}, {12, 9}, {14, 10}}
	if got := coverSteps(buy, 12); !reflect.DeepEqual(got[:6], want) {
		t.Errorf("%v, want %v", got, want)
	}
	for need, cost := range map[int64]int64{0: 0, -1: 0, 1: 3, 4: 3, 5: 6, 9: 7, 10: 7, 11: 9, 12: 9, 13: 10, 14: 10} {
		s := barSearch{buy: buy, cover: coverSteps(buy, 14)}
		if got := s.coverCost(need); got != cost {
			t.Errorf("%d: %d, want %d", need, got, cost)
		}
		s.cover = nil
		if got := s.coverCost(need); got > cost || got < int64(0.7*float64(max(need, 0))*(1-1e-9))-1 {
			t.Errorf("%d: %d by the ratio, above %d or not the best", need, got, cost)
		}
	}
	if got := (&barSearch{buy: []stock{{room: 10, price: 7}, {room: 10, price: 5}}}).coverCost(100); got != 49 && got != 50 {
		t.Errorf("%d, want the better ratio", got)
	}
	if got := (&barSearch{buy: buy, cover: coverSteps(buy, 14)}).coverCost(1e6); got != 14 {
		t.Errorf("%d for more than is listed, want the most that is", got)
	}
	if got := (&barSearch{buy: []stock{{room: 10, price: 5}, {room: 10, price: 7}}}).coverCost(100); got != 49 && got != 50 {
		t.Errorf("%d, want the better ratio wherever it stands", got)
	}
	if none := (&barSearch{take: []int64{3}}); none.coverCost(5) != 0 {
		t.Error("nothing can be bought, and it costs something")
	}
	if got := frontier([]coverStep{{4, 5}, {9, 9}, {4, 3}, {3, 4}, {9, 8}}); !reflect.DeepEqual(got, []coverStep{{4, 3}, {9, 8}}) {
		t.Errorf("steps that none beats: %v", got)
	}
	if coverSteps([]stock{{room: 1, price: 1}}, maxCover+1) != nil || coverSteps([]stock{{room: 1, price: 1}}, maxCover-1) == nil {
		t.Error("the bound on combinations")
	}
	s := barSearch{buy: []stock{{room: 10, price: 7}, {room: 6, price: 3}, {room: 6, price: 4}}, take: []int64{6, 4}, shop: []stock{{room: 5}}}
	if !s.full([]int{1, 0}, []int{0, 0}, 5) || s.full([]int{1, 0}, []int{0, 0}, 6) || !s.full([]int{1, 0}, []int{1, 0}, 6) {
		t.Error("full is when no piece left goes in")
	}
	if s.spend(maxWork); s.cut || s.spend(1) || !s.cut {
		t.Error("the bound on work")
	}
	// Three of one size, of which two go into the room: four ways are looked at, one kept.
	for _, c := range []struct {
		work, patterns, spent int
		cut                   bool
	}{{0, 1, 7, false}, {maxWork - 7, 1, 7, false}, {maxWork - 6, 1, 7, true}, {maxWork, 0, 1, true}} {
		s := barSearch{take: []int64{5}, work: c.work}
		got := s.patterns([]int{3}, 11, 0, 0)
		if len(got) != c.patterns || s.work-c.work != c.spent || s.cut != c.cut || len(got) > 0 && got[0][0] != 2 {
			t.Errorf("patterns with %d of work done: %v for %d, cut %v", c.work, got, s.work-c.work, s.cut)
		}
	}
	// Six sizes of 1 fill 9 in 2002 ways (the ways to put 9 into 6), of which 2000 are looked
	// at, and 8 in 1287.
	for room, ways := range map[int64]int{8: 1287, 9: maxPatterns} {
		s := barSearch{take: []int64{1, 1, 1, 1, 1, 1}}
		if got := s.patterns([]int{9, 9, 9, 9, 9, 9}, room, 0, 0); len(got) != ways || s.cut != (room == 9) {
			t.Errorf("%d ways to fill %d, want %d; cut %v", len(got), room, ways, s.cut)
		}
	}
	ordered := []cost{{}, {fromBought: 1}, {bought: 1}, {bought: 1, fromBought: 1}, {missing: 1}}
	for i := range ordered[1:] {
		if ordered[i].compare(ordered[i+1]) != -1 {
			t.Errorf("cost %v is not below %v", ordered[i], ordered[i+1])
		}
	}
	// What is sawn takes room: three of 60 two bars of 100, seven of 30 three.
	for _, c := range []struct {
		pieces Piece
		shop   int // bars in the shop
		want   cost
	}{{Piece{"a", 60, 3}, 0, cost{bought: 10, fromBought: 180}}, {Piece{"a", 30, 7}, 0, cost{bought: 15, fromBought: 210}}, {Piece{"a", 60, 3}, 1, cost{bought: 5, fromBought: 80}}, {Piece{"a", 60, 1}, 1, cost{}}} {
		job := BarJob{Pieces: []Piece{c.pieces}, Bars: []params.LengthStock{{ID: "buy", Length: 100, Price: 5}}}
		if c.shop > 0 {
			job.Bars = append(job.Bars, params.LengthStock{ID: "shop", Length: 100, Quantity: c.shop})
		}
		s := newBarSearch(job)
		got := s.bound(s.want, 0)
		if got.bought /= 5e4 / 5; got.bought != c.want.bought || math.Abs(float64(got.fromBought)/1e6-float64(c.want.fromBought)) > 0.01 || got.missing != 0 {
			t.Errorf("%+v with %d in the shop: %+v, want %+v", c.pieces, c.shop, got, c.want)
		}
	}
	if got := (cost{1, 2, 3}).plus(cost{10, 20, 30}); got != (cost{11, 22, 33}) {
		t.Error(got)
	}
}

// The first plans are good ones, and a search that was stopped is optimal only where it
// meets its bound.
func TestBestFitByHand(t *testing.T) {
	for _, c := range []struct {
		pieces []Piece
		bars   []params.LengthStock
		want   cost // bought in bars of 5, the rest in mm
	}{
		{[]Piece{{"a", 40, 2}}, []params.LengthStock{{ID: "b", Length: 100, Price: 5}}, cost{0, 1, 80}},
		{[]Piece{{"a", 60, 2}, {"b", 40, 2}}, []params.LengthStock{{ID: "b", Length: 100, Price: 5}}, cost{0, 2, 200}},
		{[]Piece{{"a", 60, 1}, {"b", 40, 1}}, []params.LengthStock{{ID: "b", Length: 100, Price: 5}, {ID: "s", Length: 45, Quantity: 1}}, cost{0, 1, 60}},
		{[]Piece{{"a", 30, 1}}, []params.LengthStock{{ID: "b", Length: 100, Price: 10}, {ID: "c", Length: 50, Price: 5}}, cost{0, 1, 30}},
		{[]Piece{{"a", 60, 2}}, []params.LengthStock{{ID: "s", Length: 70, Quantity: 1}}, cost{60, 0, 0}},
		{[]Piece{{"a", 30, 2}}, []params.LengthStock{{ID: "l", Length: 99, Quantity: 1}, {ID: "s", Length: 60, Quantity: 1}}, cost{}},
	} {
		s := newBarSearch(BarJob{Pieces: c.pieces, Bars: c.bars})
		s.bestFit()
		got := cost{s.bestCost.missing / nmPerMM, s.bestCost.bought, s.bestCost.fromBought / nmPerMM}
		if s.priced && s.bestCost.bought > 0 {
			got.bought = int64(math.Round(s.money(s.bestCost.bought) / 5))
		}
		if got != c.want {
			t.Errorf("%v out of %v: %+v, want %+v", c.pieces, c.bars, got, c.want)
		}
		for _, cut := range []bool{false, true} {
			s.cut = cut
			low := s.bound(s.want, 0)
			if p := s.plan(); p.Optimal != (!cut || s.bestCost.compare(low) == 0) || p.Optimal && p.LowerBound != p.Cost {
				t.Errorf("%v: stopped %v, optimal %v at %v, at least %v", c.pieces, cut, p.Optimal, p.Cost, p.LowerBound)
			}
		}
	}
}

// Lengths and rooms inside the search, by hand: the kerf after the last piece is not
// needed, the trim is, and rounding of a micrometre is forgiven.
func TestBarRoomsByHand(t *testing.T) {
	job := BarJob{KerfMM: 2, TrimMM: 5, Pieces: []Piece{{"a", 100, 2}, {"z", 50, 0}, {"b", 100, 1}, {"c", 40, 1}},
		Bars: []params.LengthStock{{ID: "shop", Length: 300, Quantity: 9}, {ID: "buy", Length: 500, Price: 8}, {ID: "less", Length: 500, Price: 7}}}
	s := newBarSearch(job)
	if !reflect.DeepEqual(s.want, []int{3, 1}) || !reflect.DeepEqual(s.take, []int64{102e6, 42e6}) || !reflect.DeepEqual(s.ids, [][]string{{"a", "a", "b"}, {"c"}}) {
		t.Errorf("want %v, take %v, ids %v", s.want, s.take, s.ids)
	}
	if len(s.shop) != 4 || s.shop[0].room != 297e6+1000 || !s.priced || s.buy[0].price != 70_000 || s.buy[0].bar != 2 || s.buy[1].price != 80_000 {
		t.Errorf("shop %v, buy %v", s.shop, s.buy)
	}
	if s.total([]int{2, 1}) != 246e6 || s.lengthOf([]int{2, 1}) != 240e6 || s.money(15_000) != 1.5 {
		t.Error("totals")
	}
	for long, fits := range map[float64]bool{309: true, 308.9995: true, 308.99: false} {
		job := BarJob{KerfMM: 2, TrimMM: 5, Pieces: []Piece{{"a", 100, 3}}, Bars: []params.LengthStock{{ID: "x", Length: unit.Length(long)}}}
		if plan := must(PackBars(job)); (len(plan.Cuts) == 1) != fits {
			t.Errorf("three pieces out of %g mm: %v", long, plan.Cuts)
		}
	}
	job.Bars[1].Price = 0
	if s = newBarSearch(job); s.priced || s.money(1.5e6) != 1.5 {
		t.Error("without all prices length counts")
	}
}

// Curves are joined and simplified at their limits, mm and rad.
func TestJoinsNear(t *testing.T) {
	line := func(x0, y0, x1, y1 float64) geom.Edge {
		return geom.NewEdge(geom.Vec2{X: x0, Y: y0}, geom.Vec2{X: x1, Y: y1}, 0)
	}
	arc := func(r, from, to float64) geom.Edge {
		return geom.NewEdge(geom.Polar(r, from), geom.Polar(r, to), math.Tan((to-from)/4))
	}
	for i, c := range []struct {
		a, b geom.Edge
		want bool
	}{
		{line(0, 0, 1, 0), line(1, 0, 2, 0), true}, {line(0, 0, 1, 0), line(1, 0, 2, 1e-8), false}, {line(0, 0, 1, 0), line(1, 0, 1, 1), false},
		{line(0, 0, 1, 0), arc(1, 0, 1), false}, {arc(9, 0, 1), arc(9, 1, 2), true}, {arc(9, 0, 1), arc(9.1, 1, 2), false}, {arc(9, 0, 1), arc(9, 1, 0.5), false},
		{arc(9, 0, 3), arc(9, 3, 4.7), true}, {arc(9, 0, 3), arc(9, 3, 4.75), false},
	} {
		if got := continues(c.a, c.b); got != c.want {
			t.Errorf("case %d: %v", i, got)
		}
	}
	square := []geom.Edge{line(0, 0, 4, 0), line(4, 0, 8, 0), line(8, 0, 8, 8), line(8, 8, 0, 8), line(0, 8, 0, 0)}
	for turn := range square { // wherever it begins, the joined side is one
		loop := append(slices.Clone(square[turn:]), square[:turn]...)
		if p := simplify(loop); len(p) != 4 || math.Abs(p.Area()-64) > 1e-9 {
			t.Errorf("begun at %d: %v", turn, p)
		}
	}
	if p := simplify(slices.Insert(slices.Clone(square), 2, line(8, 0, 8, geom.MinSize/2))); len(p) != 4 {
		t.Errorf("a hair is kept: %v", p)
	}
	for gap, n := range map[float64]int{0: 1, 1.9 * joinMM: 1, 2.5 * joinMM: 0} { // ends that are a hair apart meet
		if got := chain(append(slices.Clone(square[:4]), line(0, 8-gap, 0, 0))); len(got) != n {
			t.Errorf("a gap of %g: %d paths", gap, len(got))
		}
		if got := chain(append(slices.Clone(square[:4]), line(0, 8, 0, gap))); len(got) != n {
			t.Errorf("a gap of %g at the end: %d paths", gap, len(got))
		}
	}
	// Two squares that touch in a corner stay two.
	if got := chain(slices.Concat(square, []geom.Edge{line(8, 8, 9, 8), line(9, 8, 9, 9), line(9, 9, 8, 9), line(8, 9, 8, 8)})); len(got) != 2 {
		t.Errorf("%d paths of two squares", len(got))
	}
	e := line(0, 0, 10, 0)
	for at, cuts := range map[float64]int{0: 0, 0.5 * joinMM: 0, 2 * joinMM: 1, 5: 1, 10 - 2*joinMM: 1, 10: 0, 10.1: 0} {
		if got := addCut(nil, e, geom.Vec2{X: at}); len(got) != cuts {
			t.Errorf("a cut at %g: %v", at, got)
		}
	}
	if got := addCut(nil, e, geom.Vec2{X: 5, Y: 2 * joinMM}); got != nil {
		t.Errorf("a cut beside the edge: %v", got)
	}
	if got := split(e, []float64{0.7, 0.3, 0.3 + joinMM/20}); len(got) != 3 || got[0].B.X != 3 || got[1].B.X != 7 || got[2].B.X != 10 {
		t.Errorf("split into %v", got)
	}
	if got := split(arc(5, 0, 2), []float64{0.25}); len(got) != 2 || math.Abs(got[0].Sweep-0.5) > 1e-9 || math.Abs(got[1].Sweep-1.5) > 1e-9 {
		t.Errorf("an arc split into %v", got)
	}
	for want, b := range map[float64]geom.Edge{0: line(1, 0, 2, 0), math.Pi / 2: line(1, 0, 1, 1), -math.Pi / 2: line(1, 0, 1, -1), math.Pi: line(1, 0, 0, 0)} {
		if got := turnAt(line(0, 0, 1, 0), b); math.Abs(got-want) > 1e-12 {
			t.Errorf("turn %g, want %g", got, want)
		}
	}
	for r, there := range map[float64]bool{3: true, 3.1: false} { // an arc vanishes into its centre
		if got, ok := offsetEdge(arc(3.05, 0, 1), -r); ok != (r < 3.05) || ok != there || ok && math.Abs(got.R-0.05) > 1e-9 {
			t.Errorf("offset by %g: %v %v", r, got, ok)
		}
	}
	if got := must(Offset(geom.RectAt(geom.Vec2{}, 4, 4), joinMM/2)); len(got) != 1 || got[0].Area() != 16 {
		t.Error("an offset of nothing moves")
	}
	for d, ok := range map[float64]bool{maxOffsetMM: true, maxOffsetMM + 1: false, -maxOffsetMM - 1: false} {
		if _, err := Offset(geom.RectAt(geom.Vec2{}, 4000, 4000), d); (err == nil) != ok {
			t.Errorf("offset by %g: %v", d, err)
		}
		if _, err := Operations(geom.Profile{Outer: geom.RectAt(geom.Vec2{}, 4000, 4000)}, 2*d); (err == nil) != ok {
			t.Errorf("a tool of %g: %v", 2*d, err)
		}
	}
}

// Clamps hold the sheet by its corners, where the parts leave squares of 30 mm free, on
// a grid of 10 mm.
func TestHoldsByHand(t *testing.T) {
	profile := map[string]geom.Profile{"p": {Outer: geom.RectAt(geom.Vec2{}, 100, 50)}}
	for _, c := range []struct {
		x, y float64
		want []geom.Vec2 // lower left corners
	}{
		{100, 75, []geom.Vec2{{}, {X: 280}, {Y: 190}, {X: 280, Y: 190}}},
		{33, 75, []geom.Vec2{{}, {X: 280}, {Y: 190}, {X: 280, Y: 190}}},
		{37.5, 20, []geom.Vec2{{}, {X: 280}, {Y: 190}, {X: 280, Y: 190}}}, // a web from the cut
		{37.4, 20, []geom.Vec2{{Y: 80}, {X: 280}, {Y: 190}, {X: 280, Y: 190}}},
		{20, 10, []geom.Vec2{{Y: 70}, {X: 280}, {Y: 190}, {X: 280, Y: 190}}},
	} {
		sheets := SheetPlan{Layouts: []SheetLayout{{Number: 1, Sheet: sheet("s", 312, 225, 1), Placed: []Placement{{ID: "p", At: geom.Vec2{X: c.x, Y: c.y}, WidthMM: 100, HeightMM: 50}}}}}
		m := must(MachineSheets(params.Router, 6, profile, sheets, nil))
		var got []geom.Vec2
		for _, h := range m.Sheets[0].Holds {
			if got = append(got, h.Min); h.Size().Dist(geom.Vec2{X: 30, Y: 30}) > 1e-9 {
				t.Errorf("a hold of %v", h.Size())
			}
		}
		if !slices.EqualFunc(got, c.want, func(a, b geom.Vec2) bool { return a.Dist(b) < 1e-9 }) {
			t.Errorf("part at %g, %g: %v, want %v", c.x, c.y, got, c.want)
		}
		if m := must(MachineSheets(params.Laser, 0.2, profile, sheets, nil)); m.Sheets[0].Holds != nil || m.Tool() != "beam" {
			t.Error("a beam needs no clamps")
		}
	}
}

// Clamps stand a clamp's width apart.
func TestHoldsApart(t *testing.T) {
	for size, n := range map[float64]int{90: 4, 89: 1, 29: 0, 30: 1} {
		s := Machined{SheetLayout: SheetLayout{Sheet: sheet("s", size, size, 1)}}
		if got := s.holds(6); len(got) != n {
			t.Errorf("a sheet of %g mm: %v, want %d", size, got, n)
		}
	}
}

// The usual lengths of an item that the file does not list, mm and inches.
func TestUsualLengths(t *testing.T) {
	for u, want := range map[unit.LengthUnit][]float64{unit.Millimetre: {500, 1000, 2000}, unit.Inch: {304.8, 914.4, 1828.8}} {
		f := &params.Fixture{}
		f.Style.Unit = u
		f.Stock.Bars = []params.LengthStock{{ID: "b", Item: "20x3", Length: 9}}
		got, usual := lengthsOf(f, "M8")
		for i, l := range got {
			if math.Abs(l.Length.MM()-want[i]) > 1e-9 || l.Item != "M8" || !l.Usual || l.ID != fmt.Sprint("U", i+1) {
				t.Errorf("%+v, want %g", l, want[i])
			}
		}
		if own, told := lengthsOf(f, "20x3"); !usual || len(got) != 3 || told || len(own) != 1 {
			t.Errorf("%v %v, %v %v", got, usual, own, told)
		}
	}
}
