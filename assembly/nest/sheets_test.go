package nest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"clampwright/params"
	"clampwright/params/unit"
)

func item(id string, w, h float64, n int) FlatItem {
	return FlatItem{ID: id, WidthMM: w, HeightMM: h, Quantity: n, Material: "HDPE", ThicknessMM: 19.05}
}

func sheet(id string, w, h float64, n int) params.SheetStock {
	return params.SheetStock{ID: id, Width: unit.Length(w), Height: unit.Length(h), Quantity: n, Material: "HDPE", Thickness: 19.05}
}

func pack(t *testing.T, job SheetJob) SheetPlan {
	t.Helper()
	plan, err := PackSheets(job)
	if err != nil {
		t.Fatal(err)
	}
	checkSheets(t, "job", job, plan)
	return plan
}

// laid counts the parts of a plan.
func laid(plan SheetPlan) (n int) {
	for _, l := range plan.Layouts {
		n += len(l.Placed)
	}
	return n
}

// buys says that a plan buys so many of one sheet and nothing else.
func buys(plan SheetPlan, id string, n int) bool {
	return len(plan.Buy) == 1 && plan.Buy[0].Stock.ID == id && plan.Buy[0].Count == n
}

// checkSheets verifies what must hold for every plan: each part once, none
// overlapping, gaps kept, inside the margin or at the sheet's own edges, right
// material, grain kept, no more sheets than there are.
func checkSheets(t *testing.T, what string, job SheetJob, plan SheetPlan) {
	t.Helper()
	count, usedSheets := map[string]int{}, map[string]int{}
	kind := map[string]FlatItem{}
	for _, it := range job.Items {
		kind[it.ID] = it
	}
	for i, l := range plan.Layouts {
		usedSheets[l.Sheet.ID]++
		if l.Number != i+1 || len(l.Placed) == 0 || l.Yield <= 0 || l.Yield > 1+1e-9 {
			t.Fatalf("%s: layout %d: number %d, %d parts, yield %g", what, i, l.Number, len(l.Placed), l.Yield)
		}
		for j, p := range l.Placed {
			it := kind[p.ID]
			count[p.ID]++
			checkOne(t, what, job, l.Sheet, it, p)
			for _, q := range l.Placed[:j] {
				if g := boxGap(p, q); g < job.GapMM-1e-6 {
					t.Fatalf("%s: %s and %s are %g apart on sheet %d", what, p.ID, q.ID, g, l.Number)
				}
			}
		}
	}
	for _, it := range job.Items {
		if count[it.ID] > it.Quantity {
			t.Fatalf("%s: %d of %s, want %d", what, count[it.ID], it.ID, it.Quantity)
		}
		for _, s := range job.Sheets {
			_, fits := newBin(s, job).place(it, 0)
			if fits && count[it.ID] < it.Quantity && (s.Quantity == 0 || usedSheets[s.ID] < s.Quantity) {
				t.Fatalf("%s: %d of %d %s lie, and sheet %s would take one more", what, count[it.ID], it.Quantity, it.ID, s.ID)
			}
		}
	}
	for _, s := range job.Sheets {
		if s.Quantity > 0 && usedSheets[s.ID] > s.Quantity {
			t.Fatalf("%s: %d of sheet %s used", what, usedSheets[s.ID], s.ID)
		}
	}
}

func checkOne(t *testing.T, what string, job SheetJob, s params.SheetStock, it FlatItem, p Placement) {
	t.Helper()
	w, h := it.WidthMM, it.HeightMM
	if p.Turned {
		w, h = h, w
	}
	if p.WidthMM != w || p.HeightMM != h || !it.from(s) {
		t.Fatalf("%s: %+v on %+v", what, p, s)
	}
	if it.Grain && (it.GrainAlongX != p.Turned) != s.GrainAlongX {
		t.Fatalf("%s: %s lies against the grain", what, p.ID)
	}
	for _, side := range [][3]float64{{p.At.X, w, s.Width.MM()}, {p.At.Y, h, s.Height.MM()}} {
		m := job.MarginMM
		if math.Abs(side[1]-side[2]) <= FitMM {
			m = -FitMM // the sheet's own edges
		}
		if side[0] < m-1e-6 || side[0]+side[1] > side[2]-m+1e-6 {
			t.Fatalf("%s: %s stands over the margin: %+v on %+v", what, p.ID, p, s)
		}
	}
}

// boxGap is the larger of the two distances along the axes: boxes that keep it
// along one axis never come closer.
func boxGap(p, q Placement) float64 {
	dx := max(p.At.X-q.At.X-q.WidthMM, q.At.X-p.At.X-p.WidthMM)
	dy := max(p.At.Y-q.At.Y-q.HeightMM, q.At.Y-p.At.Y-p.HeightMM)
	return max(dx, dy)
}

func TestOffcutsComeFirst(t *testing.T) {
	plan := pack(t, SheetJob{
		Items:    []FlatItem{item("end-plate", 300, 200, 2)},
		Sheets:   []params.SheetStock{sheet("full", 1000, 500, 0), sheet("offcut", 330, 230, 1)},
		MarginMM: 10, ToolMM: 6, GapMM: 3,
	})
	if len(plan.Layouts) != 2 || plan.Layouts[0].Sheet.ID != "offcut" || plan.Layouts[0].Bought {
		t.Errorf("%+v", plan)
	}
	if !buys(plan, "full", 1) {
		t.Errorf("buy %v", plan.Buy)
	}
}

// TestOffcutOfThePartsOwnSize: an offcut cut to size before is used as it is; of a strip
// as high as its parts a saw cuts them off, a machine's tool would run off its edges.
func TestOffcutOfThePartsOwnSize(t *testing.T) {
	for tool, want := range map[float64]int{0: 3, 6: 2} { // the narrow one also lies along the strip
		plan := pack(t, SheetJob{
			Items:    []FlatItem{item("end-plate", 223.8, 200, 2), item("narrow", 60, 200, 1)},
			Sheets:   []params.SheetStock{sheet("cut to size", 200, 223.82, 1), sheet("strip", 320, 200, 1)},
			MarginMM: 8, ToolMM: tool,
		})
		if laid(plan) != want || len(plan.Layouts) != 2 || len(plan.Layouts[0].Placed) != 1 {
			t.Errorf("tool %g: %+v", tool, plan)
		}
	}
}

func TestGrainIsRespected(t *testing.T) {
	it := item("plate", 400, 100, 3)
	it.Grain, it.GrainAlongX = true, true
	along, across := sheet("s", 410, 330, 1), sheet("s", 330, 410, 1)
	along.GrainAlongX = true
	for _, s := range []params.SheetStock{along, across} {
		if plan := pack(t, SheetJob{Items: []FlatItem{it}, Sheets: []params.SheetStock{s}, GapMM: 5}); laid(plan) != 3 {
			t.Errorf("%+v", plan)
		}
		s.GrainAlongX = !s.GrainAlongX
		if plan := pack(t, SheetJob{Items: []FlatItem{it}, Sheets: []params.SheetStock{s}, GapMM: 5}); len(plan.Layouts) != 0 {
			t.Errorf("against the grain: %+v", plan)
		}
	}
}

func TestMaterialsAreKeptApart(t *testing.T) {
	liner := FlatItem{ID: "liner", WidthMM: 100, HeightMM: 100, Quantity: 1, Material: "FR-4", ThicknessMM: 0.5}
	thin := item("thin", 50, 50, 1)
	thin.ThicknessMM = 12
	plan := pack(t, SheetJob{
		Items:  []FlatItem{item("plate", 200, 200, 1), liner, thin},
		Sheets: []params.SheetStock{sheet("s", 1000, 1000, 0), {ID: "fr4", Material: "FR-4", Thickness: 0.508, Width: 300, Height: 300}},
	})
	if len(plan.Layouts) != 2 || laid(plan) != 2 || plan.Layouts[0].Placed[0].ID != "plate" || plan.Layouts[1].Placed[0].ID != "liner" {
		t.Errorf("%+v", plan)
	}
}

// TestSheetOfTwoThicknesses: parts of 17.7, 18 and 18.3 mm may
// all lie on one sheet sold as 18 mm, and the one there is is cut once only.
func TestSheetOfTwoThicknesses(t *testing.T) {
	thick := func(id string, mm float64) FlatItem {
		it := item(id, 100, 100, 1)
		it.ThicknessMM = mm
		return it
	}
	stock := func(id string, mm unit.Length) params.SheetStock {
		s := sheet(id, 110, 110, 1)
		s.Thickness = mm
		return s
	}
	far, a, b, c := thick("far", 12), thick("a", 17.7), thick("b", 18), thick("c", 18.9)
	for name, c := range map[string]struct {
		items  []FlatItem
		sheets []params.SheetStock
		want   int
	}{
		"one sheet, two parts":       {[]FlatItem{a, b}, []params.SheetStock{stock("18", 18)}, 1},
		"each its own":               {[]FlatItem{a, b}, []params.SheetStock{stock("18", 18), stock("17.7", 17.7)}, 2},
		"two sheets joined by one":   {[]FlatItem{a, far, c, b}, []params.SheetStock{stock("17.5", 17.5), stock("12", 12), stock("18.5", 18.5)}, 3},
		"more parts than sheets":     {[]FlatItem{a, c, b}, []params.SheetStock{stock("18", 18), stock("18.9", 18.9)}, 2},
		"no sheet of that thickness": {[]FlatItem{far}, []params.SheetStock{stock("18", 18)}, 0},
		"none needed":                {[]FlatItem{{ID: "none", WidthMM: 9, HeightMM: 9, Material: "HDPE", ThicknessMM: 18}}, []params.SheetStock{stock("18", 18)}, 0},
	} {
		plan := pack(t, SheetJob{Items: c.items, Sheets: c.sheets})
		if laid(plan) != c.want {
			t.Errorf("%s: %d parts lie, want %d: %+v", name, laid(plan), c.want, plan.Layouts)
		}
	}
	groups := SheetJob{Items: []FlatItem{a, far, c, b}, Sheets: []params.SheetStock{stock("17.5", 17.5), stock("12", 12), stock("18.4", 18.4)}}.groups()
	if len(groups) != 2 || len(groups[0]) != 3 || groups[0][0].ID != "a" || groups[1][0].ID != "far" {
		t.Errorf("groups %+v", groups)
	}
}

func TestCheaperSheetIsBought(t *testing.T) {
	big, small := sheet("big", 1000, 1000, 0), sheet("small", 500, 500, 0)
	big.Price, small.Price = 100, 20
	plan := pack(t, SheetJob{Items: []FlatItem{item("p", 240, 240, 4)}, Sheets: []params.SheetStock{big, small}, MarginMM: 5, GapMM: 5})
	if !buys(plan, "small", 1) {
		t.Errorf("%+v", plan.Buy)
	}
	if want := 4 * 240.0 * 240 / 250000; math.Abs(plan.Layouts[0].Yield-want) > 1e-12 {
		t.Errorf("yield %g, want %g", plan.Layouts[0].Yield, want)
	}
}

func TestPackSheetsRefuses(t *testing.T) {
	for name, job := range map[string]SheetJob{
		"NaN width":    {Items: []FlatItem{item("p", math.NaN(), 10, 1)}},
		"no height":    {Items: []FlatItem{item("p", 10, 0, 1)}},
		"negative":     {Items: []FlatItem{item("p", 10, 10, -1)}},
		"many":         {Items: []FlatItem{item("p", 10, 10, 2600), item("q", 10, 10, 2600)}},
		"endless":      {Sheets: []params.SheetStock{sheet("s", math.Inf(1), 10, 0)}},
		"negative gap": {GapMM: -1},
		"NaN cutter":   {ToolMM: math.NaN()},
	} {
		if _, err := PackSheets(job); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	// A margin wider than the sheet is no error: there is no place.
	plan := pack(t, SheetJob{Items: []FlatItem{item("p", 10, 10, 2)}, Sheets: []params.SheetStock{sheet("s", 50, 50, 0)}, MarginMM: 30})
	if laid(plan) != 0 {
		t.Errorf("%+v", plan)
	}
}

// TestRandomNests is the property test: whatever is packed, parts never overlap,
// keep their gap, stay inside, follow the grain, and two runs agree.
func TestRandomNests(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 43))
	for i := range 60 {
		job := SheetJob{GapMM: float64(r.IntN(8)), ToolMM: float64(r.IntN(8)), MarginMM: float64(r.IntN(15))}
		for k := range 1 + r.IntN(5) {
			it := item(fmt.Sprint("p", k), 20+300*r.Float64(), 20+300*r.Float64(), 1+r.IntN(5))
			it.Grain, it.GrainAlongX = r.IntN(3) == 0, r.IntN(2) == 0
			job.Items = append(job.Items, it)
		}
		for k := range 1 + r.IntN(3) {
			s := sheet(fmt.Sprint("s", k), 200+800*r.Float64(), 200+800*r.Float64(), r.IntN(3))
			s.GrainAlongX, s.Price = r.IntN(2) == 0, float64(r.IntN(3)*10)
			if r.IntN(3) == 0 { // an offcut of a part's own size
				s.Width = unit.Length(job.Items[0].WidthMM)
			}
			job.Sheets = append(job.Sheets, s)
		}
		plan, err := PackSheets(job)
		if err != nil {
			t.Fatal(err)
		}
		checkSheets(t, fmt.Sprint("job ", i), job, plan)
		if again, _ := PackSheets(job); i < 20 && !reflect.DeepEqual(plan, again) {
			t.Errorf("job %d: two runs differ", i)
		}
	}
}

// TestYieldOfCutUpSheets: sheets cut up at random fit back together, or nearly.
func TestYieldOfCutUpSheets(t *testing.T) {
	r := rand.New(rand.NewPCG(47, 53))
	whole := 0
	for range 30 {
		var items []FlatItem
		for k, b := range cutUp(r, rect{0, 0, 1000, 800}, 4) {
			items = append(items, item(fmt.Sprint("p", k), b.w-1, b.h-1, 1)) // a saw of 1 mm
		}
		plan := pack(t, SheetJob{Items: items, Sheets: []params.SheetStock{sheet("s", 999, 799, 0)}})
		if len(plan.Layouts) == 1 {
			whole++
		}
		if len(plan.Layouts) > 2 {
			t.Errorf("%d parts of one sheet need %d", len(items), len(plan.Layouts))
		}
	}
	t.Logf("%d of 30 cut-up sheets fitted back on one", whole)
	if whole < 10 {
		t.Errorf("only %d of 30 fitted back", whole)
	}
}

// cutUp saws a rectangle across, again and again.
func cutUp(r *rand.Rand, b rect, depth int) []rect {
	if depth == 0 || r.IntN(8) == 0 {
		return []rect{b}
	}
	f := 0.25 + 0.5*r.Float64()
	if b.w > b.h {
		return append(cutUp(r, rect{b.x, b.y, b.w * f, b.h}, depth-1), cutUp(r, rect{b.x + b.w*f, b.y, b.w * (1 - f), b.h}, depth-1)...)
	}
	return append(cutUp(r, rect{b.x, b.y, b.w, b.h * f}, depth-1), cutUp(r, rect{b.x, b.y + b.h*f, b.w, b.h * (1 - f)}, depth-1)...)
}

// TestPackSheetsOfMany bounds the worst case: a thousand parts.
func TestPackSheetsOfMany(t *testing.T) {
	r := rand.New(rand.NewPCG(59, 61))
	job := SheetJob{GapMM: 6, MarginMM: 10, Sheets: []params.SheetStock{sheet("full", 1220, 2440, 0)}}
	for k := range 100 {
		job.Items = append(job.Items, item(fmt.Sprint("p", k), 30+200*r.Float64(), 30+200*r.Float64(), 10))
	}
	plan := pack(t, job)
	yield := 0.0
	for _, l := range plan.Layouts {
		yield += l.Yield / float64(len(plan.Layouts))
	}
	t.Logf("%d sheets, yield %.3f", len(plan.Layouts), yield)
	if laid(plan) != 1000 || yield < 0.75 {
		t.Errorf("yield %g, %d parts laid of 1000", yield, laid(plan))
	}
}

// BenchmarkPackSheets is two plates, separators and liners of sixteen cells.
func BenchmarkPackSheets(b *testing.B) {
	job := SheetJob{
		Items:  []FlatItem{item("plate", 400, 205, 2), item("separator", 170, 200, 14), item("liner", 174, 201, 4)},
		Sheets: []params.SheetStock{sheet("offcut", 600, 450, 1), sheet("full", 1220, 2440, 0)}, GapMM: 8, ToolMM: 6, MarginMM: 10,
	}
	for b.Loop() {
		if _, err := PackSheets(job); err != nil {
			b.Fatal(err)
		}
	}
}

// Three sheets at 14 come cheapest by area; one at 34 holds everything.
func TestOneBiggerSheet(t *testing.T) {
	for name, c := range map[string]struct {
		price float64
		id    string
		n     int
	}{"cheaper": {34, "big", 1}, "a little cheaper": {41.9, "big", 1}, "dearer": {42.1, "small", 3}} {
		small, big := sheet("small", 320, 320, 0), sheet("big", 640, 640, 0)
		small.Price, big.Price = 14, c.price
		big.Width, big.Height = 1000, 330
		plan := pack(t, SheetJob{Items: []FlatItem{item("a", 300, 300, 3)}, Sheets: []params.SheetStock{small, big}, GapMM: 5, MarginMM: 5})
		if laid(plan) != 3 || !buys(plan, c.id, c.n) {
			t.Errorf("%s: buys %+v", name, plan.Buy)
		}
	}
}

// One more sheet of the kind that is cheapest by area, then one that takes the rest.
func TestOneBiggerSheetForTheRest(t *testing.T) {
	small, big := sheet("small", 310, 310, 0), sheet("big", 620, 310, 0)
	small.Price, big.Price = 10, 19
	plan := pack(t, SheetJob{Items: []FlatItem{item("a", 300, 300, 4)}, Sheets: []params.SheetStock{small, big}, GapMM: 5, MarginMM: 5})
	if laid(plan) != 4 || !buys(plan, "big", 2) {
		t.Errorf("buys %+v", plan.Buy)
	}
}

// A shelf of many pieces is gone through to its end; what finds no place is left over,
// which is no error.
func TestManyKindsOfStock(t *testing.T) {
	var sheets []params.SheetStock
	var bars []params.LengthStock
	for i := range 300 {
		sheets = append(sheets, sheet(fmt.Sprint("s", i), 50+float64(i)/10, 60, 1))
		bars = append(bars, params.LengthStock{ID: fmt.Sprint("b", i), Length: unit.Length(50 + float64(i)/10), Quantity: 1})
	}
	sheets = append(sheets, sheet("last", 320, 320, 1))
	bars = append(bars, params.LengthStock{ID: "last", Length: 320, Quantity: 1})
	if plan := pack(t, SheetJob{Items: []FlatItem{item("a", 300, 300, 2)}, Sheets: sheets, GapMM: 5, MarginMM: 5}); laid(plan) != 1 || plan.Layouts[0].Sheet.ID != "last" {
		t.Errorf("%+v", plan)
	}
	plan, err := PackBars(BarJob{Pieces: []Piece{{"a", 300, 2}}, Bars: bars})
	if err != nil || len(plan.Cuts) != 1 || plan.Cuts[0].Bar.ID != "last" {
		t.Errorf("%+v %v", plan, err)
	}
}
