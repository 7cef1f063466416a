package nest

import (
	"math"
	"testing"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// What a job of bars may hold, on both sides of each limit.
func TestBarLimitsNear(t *testing.T) {
	piece := func(mm float64, n int) BarJob { return BarJob{Pieces: []Piece{{"p", mm, n}}} }
	bar := func(mm float64, n int, price float64) BarJob {
		return BarJob{Bars: []params.LengthStock{{ID: "b", Length: unit.Length(mm), Quantity: n, Price: price}}}
	}
	for i, c := range []struct {
		job BarJob
		ok  bool
	}{
		{piece(0.1, 1), true}, {piece(0.09, 1), false}, {piece(maxBarMM, 1), true}, {piece(maxBarMM+1, 1), false},
		{piece(1, 0), true}, {piece(1, -1), false}, {piece(1, maxPieces), true}, {piece(1, maxPieces+1), false},
		{BarJob{Pieces: []Piece{{"p", 1, maxPieces - 1}, {"q", 1, 1}}}, true}, {BarJob{Pieces: []Piece{{"p", 1, maxPieces - 1}, {"q", 1, 2}}}, false},
		{bar(0.1, 1, 0), true}, {bar(0.09, 1, 0), false}, {bar(9, 0, 0), true}, {bar(9, -1, 0), false}, {bar(9, maxPieces, 0), true}, {bar(9, maxPieces+1, 0), false},
		{bar(9, 1, 1e6), true}, {bar(9, 1, 1e6+1), false}, {bar(9, 1, -0.01), false},
		{BarJob{KerfMM: 0}, true}, {BarJob{KerfMM: -0.1}, false}, {BarJob{TrimMM: -0.1}, false}, {BarJob{TrimMM: maxBarMM + 1}, false},
	} {
		if err := c.job.check(); (err == nil) != c.ok {
			t.Errorf("case %d, %+v: %v", i, c.job, err)
		}
	}
}

// What a job of sheets may hold, on both sides of each limit.
func TestSheetLimitsNear(t *testing.T) {
	flat := func(w, h float64, n int) SheetJob { return SheetJob{Items: []FlatItem{item("p", w, h, n)}} }
	stock := func(w, h float64, n int, price float64) SheetJob {
		s := sheet("s", w, h, n)
		s.Price = price
		return SheetJob{Sheets: []params.SheetStock{s}}
	}
	for i, c := range []struct {
		job SheetJob
		ok  bool
	}{
		{flat(0.1, 0.1, 1), true}, {flat(0.09, 1, 1), false}, {flat(1, 0.09, 1), false}, {flat(maxSheetMM, maxSheetMM, 1), true},
		{flat(maxSheetMM+1, 1, 1), false}, {flat(1, maxSheetMM+1, 1), false}, {flat(1, 1, 0), true}, {flat(1, 1, -1), false},
		{flat(1, 1, maxFlatItems), true}, {flat(1, 1, maxFlatItems+1), false},
		{SheetJob{Items: []FlatItem{item("p", 1, 1, maxFlatItems-1), item("q", 1, 1, 1)}}, true}, {SheetJob{Items: []FlatItem{item("p", 1, 1, maxFlatItems-1), item("q", 1, 1, 2)}}, false},
		{stock(0.1, 0.1, 1, 0), true}, {stock(0.09, 1, 1, 0), false}, {stock(1, 0.09, 1, 0), false}, {stock(maxSheetMM, maxSheetMM, 0, 1e6), true},
		{stock(maxSheetMM+1, 1, 1, 0), false}, {stock(1, 1, -1, 0), false}, {stock(1, 1, maxFlatItems, 0), true}, {stock(1, 1, maxFlatItems+1, 0), false},
		{stock(1, 1, 1, 1e6+1), false}, {stock(1, 1, 1, -1), false},
		{SheetJob{GapMM: 1000, ToolMM: 1000, MarginMM: 1000}, true}, {SheetJob{GapMM: 1001}, false}, {SheetJob{ToolMM: 1001}, false}, {SheetJob{MarginMM: -1}, false},
	} {
		if err := c.job.check(); (err == nil) != c.ok {
			t.Errorf("case %d: %v", i, err)
		}
	}
}

// Tabs are half of a thin sheet high, 3 mm of a thick one; the sweep of an operation
// holds its lead-in; a spot turns and moves a part.
func TestMachiningSizesNear(t *testing.T) {
	for _, c := range [][2]float64{{2, 1}, {6, 3}, {6.1, 3}, {19, 3}} {
		if got := TabHighMM(c[0]); got != c[1] {
			t.Errorf("tab in %g mm: %g, want %g", c[0], got, c[1])
		}
	}
	hole := Op{Kind: Hole, Start: geom.Vec2{X: 10, Y: 5}, Tool: geom.Circle{C: geom.Vec2{X: 10, Y: 5}, R: 2}}
	line := Op{Kind: Outside, Path: geom.Rect(geom.Vec2{}, geom.Vec2{X: 8, Y: 4})}
	for i, c := range []struct {
		op             Op
		x0, y0, x1, y1 float64
	}{{hole, 5, 0, 15, 10}, {line, -3, -3.5, 11, 7}} {
		b := c.op.Swept(6)
		if b.Min.Dist(geom.Vec2{X: c.x0, Y: c.y0}) > 1e-9 || b.Max.Dist(geom.Vec2{X: c.x1, Y: c.y1}) > 1e-9 {
			t.Errorf("sweep %d: %v", i, b)
		}
	}
	part := geom.Profile{Outer: geom.Rect(geom.Vec2{X: -2, Y: 1}, geom.Vec2{X: 8, Y: 5})}
	for _, c := range []struct {
		p    Placement
		x, y float64 // where the corner at -2, 1 comes to lie
	}{{Placement{At: geom.Vec2{X: 30, Y: 40}}, 30, 40}, {Placement{At: geom.Vec2{X: 30, Y: 40}, Turned: true}, 34, 40}} {
		if got := SpotOf(c.p, part).Point(geom.Vec2{X: -2, Y: 1}); got.Dist(geom.Vec2{X: c.x, Y: c.y}) > 1e-9 {
			t.Errorf("turned %v: %v, want %g, %g", c.p.Turned, got, c.x, c.y)
		}
	}
}

// The tool enters a hole that is freeMM wider, a beam any that is wider than it; by hand
// all are drilled. What the tool opens is not drilled.
func TestHoleKindsNear(t *testing.T) {
	const hair = 1e-3
	for _, c := range []struct {
		dia, tool float64
		kind      OpKind
	}{{6.2, 6, Hole}, {6.2 - hair, 6, Drill}, {6, 6, Drill}, {0.2 + hair, 0.2, Hole}, {0.2, 0.2, Drill}, {0.8, 0.6, Hole}, {0.8, 0.61, Drill}, {9, 0, Drill}} {
		p := geom.Profile{Outer: geom.Rect(geom.Vec2{}, geom.Vec2{X: 40, Y: 40}), Circles: []geom.Circle{{C: geom.Vec2{X: 20, Y: 20}, R: c.dia / 2}}}
		ops := must(Operations(p, c.tool))
		if ops[0].Kind != c.kind {
			t.Errorf("%g mm by %g mm: %s, want %s", c.dia, c.tool, ops[0].Kind, c.kind)
		}
		if c.kind == Hole && math.Abs(ops[0].Tool.R-(c.dia-c.tool)/2) > 1e-9 {
			t.Errorf("%g mm by %g mm: the tool runs on a radius of %g", c.dia, c.tool, ops[0].Tool.R)
		}
		m := Machining{Machine: params.Router, Parts: map[string][]Op{"p": ops}}
		part := &parts.Part{ID: "p", Holes: []parts.Hole{{ID: "H1", C: geom.Vec2{X: 20, Y: 20}}}}
		if drilled := len(m.ByDrill(part)) == 1; drilled != (c.kind == Drill) {
			t.Errorf("%g mm by %g mm: drilled %v", c.dia, c.tool, drilled)
		}
		if m.On(part) != params.Router || m.On(&parts.Part{ID: "q"}) != params.HandTools || len(m.ByDrill(&parts.Part{ID: "q", Holes: part.Holes})) != 1 {
			t.Error("what is not cut from sheet is made by hand")
		}
	}
}
