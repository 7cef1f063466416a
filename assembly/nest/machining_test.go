package nest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts/geom"
)

// randomProfile is a rounded plate with holes and a slot or window, or a frame.
func randomProfile(r *rand.Rand) geom.Profile {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	w, h := between(60, 160), between(50, 120)
	p := geom.Profile{Outer: must(geom.RoundedRect(geom.Vec2{X: between(-9, 9), Y: 4}, w, h, between(0, 12)))}
	c := p.Bounds().Center()
	switch r.IntN(3) {
	case 0:
		p.Slots = []geom.Path{geom.RectAt(c, w-30, h-30).Reversed()}
		return p
	case 1:
		p.Slots = []geom.Path{must(geom.Obround(c.Add(geom.Vec2{X: -10}), c.Add(geom.Vec2{X: 10}), between(4, 9))).Reversed()}
	}
	for _, x := range []float64{-1, 1} {
		p.Circles = append(p.Circles, geom.Circle{C: c.Add(geom.Vec2{X: x * (w/2 - 12), Y: h/2 - 14}), R: between(1.5, 6)})
	}
	return p
}

// raster is a sheet cut up on a grid of 1 mm.
type raster struct {
	w, h int
	cut  []bool
}

// mill takes away what a tool sweeps along edges.
func (s *raster) mill(es []geom.Edge, r float64) {
	for _, e := range es {
		n := 2*int(long(e)) + 1
		for i := range n + 1 {
			s.plunge(e.At(float64(i)/float64(n)), r)
		}
	}
}

func (s *raster) plunge(c geom.Vec2, r float64) {
	for x := int(c.X - r); x <= int(c.X+r); x++ {
		for y := int(c.Y - r); y <= int(c.Y+r); y++ {
			if x >= 0 && y >= 0 && x < s.w && y < s.h && math.Hypot(float64(x)+0.5-c.X, float64(y)+0.5-c.Y) < r {
				s.cut[y*s.w+x] = true
			}
		}
	}
}

// held is what hangs together with the sheet's rim, without all in a box.
func (s *raster) held(without geom.Box2) []bool {
	on, todo := make([]bool, len(s.cut)), []int{}
	visit := func(x, y int) {
		if k := y*s.w + x; x >= 0 && y >= 0 && x < s.w && y < s.h && !on[k] && !s.cut[k] && !without.Contains(geom.Vec2{X: float64(x) + 0.5, Y: float64(y) + 0.5}) {
			on[k], todo = true, append(todo, k)
		}
	}
	for x := range s.w {
		visit(x, 0)
		visit(x, s.h-1)
	}
	for len(todo) > 0 {
		k := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		visit(k%s.w+1, k/s.w)
		visit(k%s.w-1, k/s.w)
		visit(k%s.w, k/s.w+1)
		visit(k%s.w, k/s.w-1)
	}
	return on
}

// Two hundred random sheets are cut up: no tool leaves its sheet, enters a neighbour or
// touches what holds the sheet; no part is cut round before all inside it is done; with
// its tabs every part hangs on to the sheet, without them none does.
func TestMachinedSheets(t *testing.T) {
	r := rand.New(rand.NewPCG(200, 15))
	for trial := range 200 {
		tool := []float64{2, 3.175, 4, 6, 8}[r.IntN(5)]
		profiles := map[string]geom.Profile{}
		job := SheetJob{GapMM: tool + webMM + 2*r.Float64(), ToolMM: tool, MarginMM: tool + webMM + 3*r.Float64()}
		for i := range 1 + r.IntN(4) {
			p, id := randomProfile(r), fmt.Sprint("p", i)
			profiles[id] = p
			job.Items = append(job.Items, item(id, p.Bounds().Size().X, p.Bounds().Size().Y, 1+r.IntN(2)))
		}
		job.Sheets = []params.SheetStock{sheet("s", 300+200*r.Float64(), 250+100*r.Float64(), 0)}
		m := must(MachineSheets(params.Router, tool, profiles, must(PackSheets(job)), nil))
		for _, s := range m.Sheets {
			cutUp200(t, fmt.Sprintf("trial %d, sheet %d, tool %g", trial, s.Number, tool), s, tool)
		}
	}
}

func cutUp200(t *testing.T, what string, s Machined, tool float64) {
	t.Helper()
	size := geom.Vec2{X: s.Sheet.Width.MM(), Y: s.Sheet.Height.MM()}
	with := &raster{w: int(math.Ceil(size.X)), h: int(math.Ceil(size.Y))}
	with.cut = make([]bool, with.w*with.h)
	bare := &raster{w: with.w, h: with.h, cut: make([]bool, len(with.cut))}
	freed := map[int]bool{}
	for _, op := range s.Ops {
		if op.Kind == Drill || op.Kind == ByHand {
			continue
		}
		whole, run := op.Path.Edges(), op.Tool.Path().Edges()
		if op.Kind == Hole {
			whole = run
		} else {
			run = nil
		}
		for _, p := range op.Runs(tool) {
			es := p.Edges()
			run = append(run, es[:len(es)-1]...)
			if down := op.Drawn.DistTo(p[0].P); op.Kind == Outside && math.Abs(down+tool/2+leadMM) > 1e-6 {
				t.Fatalf("%s: the tool goes down %g from the part", what, down)
			}
		}
		if freed[op.Piece] {
			t.Fatalf("%s: %s in piece %d after its outline", what, op.Kind, op.Piece)
		}
		freed[op.Piece] = op.Kind == Outside
		for _, e := range run {
			for i := range 21 {
				c := e.At(float64(i) / 20)
				disc := geom.Box2{Min: c, Max: c}.Grown(tool/2 - 1e-6)
				if disc.Min.X < 0 || disc.Min.Y < 0 || disc.Max.X > size.X || disc.Max.Y > size.Y {
					t.Fatalf("%s: the tool leaves the sheet at %v", what, c)
				}
				for _, h := range s.Holds {
					if h.Dist(geom.Box2{Min: c, Max: c}) < tool/2 {
						t.Fatalf("%s: the tool meets a hold at %v", what, c)
					}
				}
				for k := range s.Placed {
					if k != op.Piece && s.BoxOf(k).Dist(geom.Box2{Min: c, Max: c}) < tool/2 {
						t.Fatalf("%s: the tool of piece %d is in piece %d at %v", what, op.Piece, k, c)
					}
				}
			}
		}
		with.mill(run, tool/2)
		bare.mill(whole, tool/2)
	}
	if len(freed) != len(s.Placed) {
		t.Errorf("%s: %d of %d parts are cut out", what, len(freed), len(s.Placed))
	}
	held, gone := with.held(geom.EmptyBox2()), bare.held(geom.EmptyBox2())
	for k := range s.Placed { // a point of the part just inside its rim, in the middle of the lower side
		b := s.BoxOf(k)
		at := int(b.Min.Y+2)*with.w + int(b.Center().X)
		if !held[at] || gone[at] {
			t.Errorf("%s: piece %d is held: %v, without tabs %v", what, k, held[at], gone[at])
		}
	}
	for _, op := range s.Ops { // what two tabs of a part lead to is held without it
		if op.Kind != Outside {
			continue
		}
		rest, by := with.held(s.BoxOf(op.Piece)), 0
		for _, tab := range op.Tabs {
			if v := beyond(op.Drawn, tab, tool/2); rest[int(v.Y)*with.w+int(v.X)] {
				by++
			}
		}
		if by < heldBy {
			t.Errorf("%s: %d of the tabs of piece %d, %v, hold", what, by, op.Piece, op.Tabs)
		}
	}
}

const heldBy = 2

// The tool goes down outside the outline, half a web off its path, on a straight edge; a
// disc has no edge for a tab, and a beam leaves none.
func TestLeadInAndTabs(t *testing.T) {
	plate := geom.Profile{Outer: must(geom.RoundedRect(geom.Vec2{}, 400, 100, 10))}
	for _, c := range []struct {
		p    geom.Profile
		tool float64
		tabs int
	}{
		{geom.Profile{Outer: geom.RectAt(geom.Vec2{}, longMM, 100)}, 6, 4}, {geom.Profile{Outer: geom.RectAt(geom.Vec2{}, longMM+0.1, 100)}, 6, 6},
		{plate, 6, 6}, {plate, 0.61, 6}, {plate, 0.6, 0}, {plate, 0.2, 0}, {plate, 0, 0}, {geom.Profile{Outer: geom.Circle{R: 40}.Path()}, 6, 0},
		{geom.Profile{Outer: must(geom.Obround(geom.Vec2{}, geom.Vec2{X: 60}, 40))}, 6, 2},
		{geom.Profile{Outer: geom.RectAt(geom.Vec2{}, 18, 17.9)}, 6, 2}, // 6 mm and twice the cutter
	} {
		ops := must(Operations(c.p, c.tool))
		op := ops[len(ops)-1]
		if len(op.Tabs) != c.tabs {
			t.Errorf("%d tabs, want %d", len(op.Tabs), c.tabs)
		}
		for _, tab := range op.Tabs {
			if d := c.p.Outer.DistTo(tab); math.Abs(d) > 1e-9 {
				t.Errorf("a tab %g off the edge", d)
			}
		}
		if first := op.Path[0].P; c.tool == 0 && op.Start != first {
			t.Errorf("without a lead-in the tool goes down at %v, not where its path begins, %v", op.Start, first)
		}
		if d := op.Path.DistTo(op.Start); c.tool > 0 && math.Abs(d+leadMM) > 1e-9 {
			t.Errorf("the tool goes down %g outside its path, want %g", -d, leadMM)
		}
		runs, total, broken := op.Runs(c.tool), 0.0, len(op.Tabs)
		starts := !slices.ContainsFunc(op.Tabs, func(tab geom.Vec2) bool { return tab.Dist(op.Path[0].P) < reach(c.tool)+1e-6 })
		if starts {
			broken++
		}
		for i, r := range runs {
			es := r.Edges()
			for _, e := range es[min(1, len(op.Tabs)) : len(es)-1] {
				total += long(e)
			}
			if c.tool > 0 && r[0].P == r[1].P || i == 0 && starts && r[0].P != op.Start || c.tool == 0 && r[0].P != r[len(r)-1].P {
				t.Errorf("run %d of %d begins at %v", i, len(runs), r[0].P)
			}
		}
		if want := length(op.Path) - float64(len(op.Tabs))*(TabMM+c.tool); len(op.Tabs) > 0 && (len(runs) != broken || math.Abs(total-want) > 1e-6) {
			t.Errorf("%d runs of %g, want %d of %g", len(runs), total, broken, want)
		}
		if err := op.Path.Validate(); err != nil {
			t.Error(err)
		}
	}
}

// A tab on the sheet's own edge, or so near it that no land stays, is none; across from a
// tab the neighbour has one as the land between both cuts goes; farther off it needs none,
// nor does what has no straight edge there take one.
func TestTabsThatHold(t *testing.T) {
	box := geom.Profile{Outer: geom.RectAt(geom.Vec2{X: 50, Y: 30}, 100, 60)}
	disc := geom.Profile{Outer: geom.Circle{R: 30}.Path()}
	const tool = 6.0
	for name, c := range map[string]struct {
		rim, gap, shift float64 // of the first part; from it to the second, moved by shift
		second          geom.Profile
		first, then     int // tabs
	}{
		"rim of tool and web":         {7, 100, 0, box, 4, 4},
		"just land":                   {6.6, 100, 0, box, 4, 4},
		"no land":                     {6.4, 100, 0, box, 3, 3},
		"at the edge":                 {0, 100, 0, box, 3, 3},
		"shared cut, tabs in line":    {20, 7, 0, box, 4, 4},
		"shared cut, tabs apart":      {20, 7, 15, box, 5, 5},
		"edge ends too soon":          {20, 7, 28, box, 3, 3},
		"edge is long enough still":   {20, 7, 26.9, box, 5, 5},
		"land between both cuts":      {20, 6.5 + 9.5 + 0.1, 15, box, 4, 4},
		"just land enough":            {20, 6.5 + 9.5, 15, box, 4, 4},
		"not land enough":             {20, 6.5 + 9.5 - 0.1, 15, box, 5, 5},
		"a neighbour without an edge": {20, 7, 0, disc, 3, 0},
	} {
		profiles := map[string]geom.Profile{"a": box, "b": c.second}
		size := c.second.Bounds().Size()
		m := must(MachineSheets(params.Router, tool, profiles, SheetPlan{Layouts: []SheetLayout{{
			Sheet: params.SheetStock{Width: 600, Height: unit.Length(60 + 2*c.rim + 200)},
			Placed: []Placement{{ID: "a", At: geom.Vec2{X: 20, Y: c.rim}, WidthMM: 100, HeightMM: 60},
				{ID: "b", At: geom.Vec2{X: 120 + c.gap, Y: 30 + c.rim + c.shift - size.Y/2}, WidthMM: size.X, HeightMM: size.Y}},
		}}}, nil))
		tabs := map[int]int{}
		for _, op := range m.Sheets[0].Ops {
			if op.Kind == Outside {
				tabs[op.Piece] = len(op.Tabs)
			}
			for _, tab := range op.Tabs {
				if d := op.Drawn.DistTo(tab); math.Abs(d) > 1e-9 {
					t.Errorf("%s: a tab %g off its edge", name, d)
				}
			}
		}
		if tabs[0] != c.first || tabs[1] != c.then {
			t.Errorf("%s: %d and %d tabs, want %d and %d", name, tabs[0], tabs[1], c.first, c.then)
		}
	}
}

// Operations are run in the order of their kinds, those of one kind as they came; what a
// knife cuts is cut by hand, with no tool's width.
func TestOrderOfOperations(t *testing.T) {
	got := inOrder([]Op{{Kind: Outside}, {Kind: Hole, Piece: 1}, {Kind: Kept}, {Kind: Hole, Piece: 2}, {Kind: ByHand}, {Kind: Slot}, {Kind: Drill}, {Kind: Inside}})
	for i, want := range []Op{{Kind: Drill}, {Kind: ByHand}, {Kind: Hole, Piece: 1}, {Kind: Hole, Piece: 2}, {Kind: Slot}, {Kind: Inside}, {Kind: Outside}, {Kind: Kept}} {
		if got[i].Kind != want.Kind || got[i].Piece != want.Piece {
			t.Errorf("%d: %s of piece %d, want %s", i, got[i].Kind, got[i].Piece, want.Kind)
		}
	}
	m := Machining{Machine: params.Router, ToolMM: 6}
	if by := m.Of(Machined{Hand: true}); by.Machine != params.HandTools || by.ToolMM != 0 {
		t.Errorf("by a knife: %s, %g mm", by.Machine, by.ToolMM)
	}
	if by := m.Of(Machined{}); by.Machine != params.Router || by.ToolMM != 6 {
		t.Errorf("by the router: %s, %g mm", by.Machine, by.ToolMM)
	}
}
