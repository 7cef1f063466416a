package nest

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// drilledPlate is a rectangle with holes of one diameter, from its lower left corner,
// nowhere firm.
func drilledPlate(w, h, dia float64, at ...geom.Vec2) *shape {
	p := geom.Profile{Outer: geom.Rect(geom.Vec2{}, geom.Vec2{X: w, Y: h})}
	s := &shape{offMM: 0.3}
	for _, c := range at {
		p.Circles, s.seatMM = append(p.Circles, geom.Circle{C: c, R: dia / 2}), append(s.seatMM, 10)
	}
	s.profile, s.most = p, math.Inf(1)
	return s
}

// bending is the shape with all firm between its outer holes.
func (s *shape) bending() *shape {
	c := s.profile.Circles
	s.firm = []geom.Path{geom.Rect(geom.Vec2{X: c[0].C.X}, geom.Vec2{X: c[len(c)-1].C.X, Y: s.profile.Bounds().Max.Y})}
	return s
}

func oldHole(x, y, dia float64) params.Hole {
	return params.Hole{X: unit.Length(x), Y: unit.Length(y), Dia: unit.Length(dia)}
}

// Old holes on both sides of every limit.
func TestOldHoles(t *testing.T) {
	s := drilledPlate(200, 100, 9, geom.Vec2{X: 20, Y: 50}, geom.Vec2{X: 180, Y: 50})
	for _, c := range []struct {
		name  string
		h     params.Hole
		serve int
		ok    bool
	}{
		{"its own", oldHole(20, 50, 9), 1, true},
		{"its own, within the play", oldHole(20.29, 50, 9), 1, true},
		{"its own, beyond the play", oldHole(20.31, 50, 9), 0, false},
		{"within its own, smaller", oldHole(21, 50, 6.9), 1, true},
		{"reaching out of its own", oldHole(21, 50, 7.1), 0, false},
		{"1.2 diameters from the edge", oldHole(100, 10.81, 9), 0, true},
		{"nearer to the edge", oldHole(100, 10.79, 9), 0, false},
		{"cut by the edge", oldHole(100, 0, 9), 0, false},
		{"gone with the offcut", oldHole(100, -5.51, 9), 0, true},
		{"too near outside", oldHole(100, -5.49, 9), 0, false},
		{"2.2 diameters from its own", oldHole(20+19.81, 50, 9), 0, true},
		{"nearer to its own", oldHole(20+19.79, 50, 9), 0, false},
		{"far from all", oldHole(100, 50, 9), 0, true},
	} {
		if serve, ok := s.takes([]params.Hole{c.h}, geom.Vec2{}); ok != c.ok || serve != c.serve {
			t.Errorf("%s: %d serve, %v", c.name, serve, ok)
		}
	}
	s.seatMM = []float64{16, 16} // of a washer: 16 + 4.5 is more than 2.2 diameters
	if _, ok := s.takes([]params.Hole{oldHole(20+20.2, 50, 9)}, geom.Vec2{}); ok {
		t.Error("an old hole under the washer")
	}
	if _, ok := s.bending().takes([]params.Hole{oldHole(100, 50, 9)}, geom.Vec2{}); ok {
		t.Error("an old hole where an angle bends")
	}
}

// An old hole serves that lies, as measured, no farther off than a new one may be, or
// than the play less that; a smaller one lets the rod pass by as much less. An angle lies
// with its heel down.
func TestShapeOf(t *testing.T) {
	flat := parts.Flat{Profile: geom.Profile{Outer: geom.Rect(geom.Vec2{X: -5, Y: -2}, geom.Vec2{X: 195, Y: 28}), Circles: []geom.Circle{{C: geom.Vec2{X: 15, Y: 8}, R: 4.5}}}}
	for _, c := range []struct {
		hole, error, off float64
		make             parts.Make
		at               geom.Vec2 // of the hole from the corner
	}{{9, 0.1, 0.4, parts.MakeSheet, geom.Vec2{X: 20, Y: 10}}, {9, 0.5, 0.4, parts.MakeSheet, geom.Vec2{X: 20, Y: 10}}, {8.4, 0.15, leastOff, parts.MakeSheet, geom.Vec2{X: 20, Y: 10}}, {9, 0.1, 0.4, parts.MakeBar, geom.Vec2{X: 20, Y: 20}}} {
		f := &params.Fixture{}
		f.Washer.Outer, f.Rods.Hole, f.Rods.Thread.Major, f.Tolerances.HolePosition = 16, unit.Length(c.hole), 8, unit.Length(c.error)
		s := shapeOf(f, &parts.Part{Kind: parts.KindPlate, Flat: &flat, Make: c.make})
		if math.Abs(s.offMM-c.off) > 1e-9 || s.seatMM[0] != 10 || s.profile.Circles[0].C.Dist(c.at) > 1e-9 {
			t.Errorf("%+v: %+v", c, s)
		}
		for _, o := range []struct {
			off, r float64
			ok     bool
		}{{c.off - 0.001, 4.5, true}, {c.off + 0.001, 4.5, false}, {0, 4.59, true}, {0, 4.61, false}, {c.off - 0.05, 4.46, true}, {c.off - 0.05, 4.44, false}} {
			if n := s.profile.Circles[0]; s.owns(geom.Circle{C: n.C.Add(geom.Vec2{X: o.off}), R: o.r}) != o.ok && n.R+roundMM < o.off+o.r {
				t.Errorf("%+v: a hole of %g that is %g off serves: %v", c, 2*o.r, o.off, !o.ok)
			}
		}
	}
	if shapeOf(&params.Fixture{}, &parts.Part{}) != nil {
		t.Error("what is not flat has a shape")
	}
}

// Where old holes may stay: not in what presses or bends, or under an angle's foot, but
// for slight ones that take no more than a twentieth; no larger than the plate's own
// elsewhere; in what insulates none at all.
func TestWhereOldHolesMayStay(t *testing.T) {
	f := &params.Fixture{Stiffener: &params.Stiffener{Length: 240, Gauge: 15, DrilledLeg: 30, StandingUp: []bool{true, false}}}
	f.Plate.Width, f.Plate.Height, f.Plate.Bottom = 240, 210, -5
	f.Cell.Width, f.Cell.Height, f.Pack.RowX = 160, 200, []unit.Length{0}
	f.Rods.Hole, f.Rods.Levels, f.Washer.Outer = 9, []unit.Length{40, 160}, 20
	at := func(p ...float64) (out []geom.Circle) { // x, y, dia from the lower left corner
		for ; len(p) > 0; p = p[3:] {
			out = append(out, geom.Circle{C: geom.Vec2{X: p[0] - 120, Y: p[1] - 105}, R: p[2] / 2})
		}
		return out
	}
	holes := []geom.Circle{}
	for _, y := range []float64{45, 165} {
		holes = append(holes, at(15, y, 9, 225, y, 9)...)
	}
	part := &parts.Part{Kind: parts.KindPlate, Flat: &parts.Flat{Profile: geom.Profile{Outer: geom.Rect(geom.Vec2{X: -120, Y: -105}, geom.Vec2{X: 120, Y: 105}), Circles: holes}}}
	bare := *f
	bare.Stiffener = nil
	liner, angle := *part, *part
	liner.Kind, angle.Kind = parts.KindLiner, parts.KindStiffener
	for name, c := range map[string]struct {
		f    *params.Fixture
		p    *parts.Part
		old  []geom.Circle
		harm Harm
	}{
		"30 in the middle of the face":      {f, part, at(120, 105, 30), Weakens},
		"5 in the middle of the face":       {f, part, at(120, 105, 5), Harmless},
		"5.1 there":                         {f, part, at(120, 105, 5.1), Weakens},
		"two of 4, a twentieth of 160":      {f, part, at(120, 105, 4, 100, 105, 4), Harmless},
		"two of 4.1":                        {f, part, at(120, 105, 4.1, 100, 105, 4.1), Weakens},
		"9 beside the face":                 {f, part, at(35.49, 105, 9), Harmless},
		"9 that reaches the face":           {f, part, at(35.51, 105, 9), Weakens},
		"10 beside the face":                {f, part, at(30, 105, 10), Weakens},
		"9 below the foot that stands down": {f, part, at(25, 145.49, 9), Harmless}, // heel at 150, toe at 180
		"9 under that foot":                 {f, part, at(25, 145.51, 9), Weakens},
		"9 under that foot, far from rods":  {f, part, at(38, 150, 9), Weakens},
		"9 above the foot that stands up":   {f, part, at(30, 64.51, 9), Harmless}, // toe at 30, heel at 60
		"9 in that foot":                    {f, part, at(34, 64.49, 9), Weakens},
		"9 between rods without angles":     {&bare, part, at(35, 105, 9), Weakens},
		"9 beyond them":                     {&bare, part, at(10.4, 110, 9), NearEdge},
		"5 between them":                    {&bare, part, at(120, 105, 5), Harmless},
		"5 in a liner":                      {f, &liner, at(120, 105, 5), Weakens},
		"3 in an angle":                     {f, &angle, at(120, 105, 3), Weakens},
		"3 beyond the rods of an angle":     {f, &angle, at(9, 105, 3), Harmless},
	} {
		if _, s := RoomOf(c.f, c.p).Spoilt(c.old, func(geom.Vec2) float64 { return math.Inf(1) }); s.Harm != c.harm {
			t.Errorf("%s: %+v, want %d", name, s, c.harm)
		}
	}
}

// An old plate takes the same plate with its holes on the old ones, and not one whose
// holes lie a little off; a larger old piece takes it beside its holes.
func TestOldPlate(t *testing.T) {
	s := drilledPlate(200, 100, 9, geom.Vec2{X: 20, Y: 50}, geom.Vec2{X: 180, Y: 50})
	item := FlatItem{ID: "p", WidthMM: 200, HeightMM: 100, Quantity: 2, Material: "hdpe", ThicknessMM: 12, shape: s}
	old := func(w, h float64, n int, holes ...params.Hole) params.SheetStock {
		return params.SheetStock{ID: "S1", Material: "hdpe", Thickness: 12, Width: unit.Length(w), Height: unit.Length(h), Quantity: n, Holes: holes}
	}
	for _, c := range []struct {
		name  string
		sheet params.SheetStock
		want  int
	}{
		{"two of the same", old(200, 100, 2, oldHole(20, 50, 9), oldHole(180, 50, 9)), 2},
		{"one of the same", old(200, 100, 1, oldHole(20, 50, 9), oldHole(180, 50, 9)), 1},
		{"holes elsewhere", old(200, 100, 2, oldHole(30, 50, 9), oldHole(180, 50, 9)), 0},
		{"beside a hole at the end", old(220, 100, 1, oldHole(10, 50, 9)), 1},
		{"beside a hole, too short", old(214, 100, 1, oldHole(10, 50, 9)), 0},
		{"two beside a hole", old(430, 100, 1, oldHole(215, 50, 9)), 2},
		{"on the holes of a larger one", old(300, 150, 1, oldHole(60, 90, 9), oldHole(220, 90, 9)), 1},
	} {
		plan, err := PackSheets(SheetJob{Items: []FlatItem{item}, Sheets: []params.SheetStock{c.sheet}, GapMM: 5})
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, l := range plan.Layouts {
			n += len(l.Placed)
		}
		if n != c.want {
			t.Errorf("%s: %d placed, want %d: %+v", c.name, n, c.want, plan.Layouts)
		}
	}
}

// Where parts lie on an old sheet, by hand: lowest and leftmost, beside the rim, the old
// holes and each other, the way that more holes serve, on the sheet's own edges where the
// part is as large.
func TestPlacesOnAnOldSheet(t *testing.T) {
	s := drilledPlate(200, 100, 9, geom.Vec2{X: 20, Y: 50}, geom.Vec2{X: 180, Y: 50})
	for name, c := range map[string]struct {
		w, h, margin float64
		holes        []params.Hole
		want         []Placement
	}{
		// a hole of 9 and the web reach 5.5; the second part clears it, the third the first
		"one after the other":  {430, 300, 5, []params.Hole{oldHole(10, 150, 9)}, []Placement{{At: geom.Vec2{X: 5, Y: 5}}, {At: geom.Vec2{X: 15.5, Y: 109}}, {At: geom.Vec2{X: 209, Y: 5}}}},
		"just three":           {414, 214, 5, []params.Hole{oldHole(10, 150, 9)}, []Placement{{At: geom.Vec2{X: 5, Y: 5}}, {At: geom.Vec2{X: 15.5, Y: 109}}, {At: geom.Vec2{X: 209, Y: 5}}}},
		"too low for more":     {430, 213.9, 5, []params.Hole{oldHole(10, 150, 9)}, []Placement{{At: geom.Vec2{X: 5, Y: 5}}, {At: geom.Vec2{X: 209, Y: 5}}}},
		"too narrow for more":  {413.9, 214, 5, []params.Hole{oldHole(10, 150, 9)}, []Placement{{At: geom.Vec2{X: 5, Y: 5}}, {At: geom.Vec2{X: 15.5, Y: 109}}}},
		"below a hole":         {260, 206, 5, []params.Hole{oldHole(230, 110.5, 9)}, []Placement{{At: geom.Vec2{X: 5, Y: 5}}}},
		"right of a hole":      {220.5, 110, 5, []params.Hole{oldHole(10, 60, 9)}, []Placement{{At: geom.Vec2{X: 15.5, Y: 5}}}},
		"above a hole":         {210, 120.5, 5, []params.Hole{oldHole(100, 10, 9)}, []Placement{{At: geom.Vec2{X: 5, Y: 15.5}}}},
		"turned onto holes":    {200, 200, 0, []params.Hole{oldHole(50, 20, 9), oldHole(50, 180, 9)}, []Placement{{Turned: true}}},
		"as long as the sheet": {200, 150, 10, []params.Hole{oldHole(150, 140, 9)}, []Placement{{At: geom.Vec2{Y: 10}}}},
		"as long but a hair":   {200.04, 150, 10, []params.Hole{oldHole(150, 140, 9)}, []Placement{{At: geom.Vec2{X: 0.02, Y: 10}}}},
		"neither nor":          {200.06, 150, 10, []params.Hole{oldHole(150, 140, 9)}, nil},
	} {
		b := newBin(params.SheetStock{ID: "S1", Material: "hdpe", Thickness: 12, Width: unit.Length(c.w), Height: unit.Length(c.h), Holes: c.holes}, SheetJob{GapMM: 4, MarginMM: c.margin})
		it := FlatItem{ID: "p", WidthMM: 200, HeightMM: 100, Material: "hdpe", ThicknessMM: 12, Grain: name != "turned onto holes", GrainAlongX: b.sheet.GrainAlongX, shape: s}
		var got []Placement
		for range 3 {
			if p, ok := b.place(it, 0); ok {
				got = append(got, p)
			}
			if name == "turned onto holes" {
				break
			}
		}
		same := slices.EqualFunc(got, c.want, func(a, b Placement) bool { return a.At.Dist(b.At) < 1e-9 && a.Turned == b.Turned })
		if !same {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
	}
}

// Old angles: on their holes, beside them, none where an angle bends.
func TestOldAngle(t *testing.T) {
	s := drilledPlate(200, 30, 9, geom.Vec2{X: 20, Y: 18}, geom.Vec2{X: 180, Y: 18}).bending()
	for _, c := range []struct {
		name  string
		long  float64
		holes []params.Hole
		at    float64 // where it begins; -1 for nowhere
	}{
		{"the same", 200, []params.Hole{oldHole(20, 18, 9), oldHole(180, 18, 9)}, 0},
		{"the same but a hair", 200 - FitMM, []params.Hole{oldHole(20, 18, 9), oldHole(180, 18, 9)}, 0},
		{"the same but two hairs", 200 - 2*FitMM, []params.Hole{oldHole(20, 18, 9), oldHole(180, 18, 9)}, -1},
		{"the holes of a longer one", 260, []params.Hole{oldHole(60, 18, 9), oldHole(220, 18, 9)}, 40},
		{"beside a hole", 215, []params.Hole{oldHole(8, 18, 9)}, 13.5},
		{"beside a hole, too short", 213, []params.Hole{oldHole(8, 18, 9)}, -1},
		{"the first place, whatever the order of the holes", 700, []params.Hole{oldHole(400, 18, 9), oldHole(8, 18, 9)}, 13.5},
		{"a hole in the middle", 200, []params.Hole{oldHole(100, 18, 9)}, -1},
		{"a hole line elsewhere", 200, []params.Hole{oldHole(20, 16, 9), oldHole(180, 16, 9)}, -1},
	} {
		plan, err := PackBars(BarJob{Pieces: []Piece{{ID: "a", LengthMM: 200, Quantity: 1}}, shapes: map[string]*shape{"a": s}, KerfMM: 1,
			Bars: []params.LengthStock{{ID: "A1", Item: "x", Length: unit.Length(c.long), Quantity: 1, Holes: c.holes}}})
		if err != nil {
			t.Fatal(err)
		}
		got := -1.0
		if len(plan.Cuts) == 1 && len(plan.Cuts[0].Pieces) == 1 {
			got = plan.Cuts[0].Pieces[0].FromMM
		}
		if math.Abs(got-c.at) > 1e-9 || c.at < 0 && len(plan.Cuts) > 0 {
			t.Errorf("%s: begins at %g, want %g", c.name, got, c.at)
		}
	}
}

// Random old sheets, held against a raster of points: no part lies over the rim or another
// one, and no old hole is cut by an edge or lies half in a new one.
func TestOldSheetsOnARaster(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	placed, served := 0, 0
	for range 60 {
		sheet := params.SheetStock{ID: "S", Material: "m", Thickness: 5, Width: unit.Length(150 + r.IntN(250)), Height: unit.Length(100 + r.IntN(200)), Quantity: 1}
		for range 1 + r.IntN(4) {
			sheet.Holes = append(sheet.Holes, oldHole(float64(10+r.IntN(sheet2(sheet.Width))), float64(10+r.IntN(sheet2(sheet.Height))), 9))
		}
		w, h := float64(60+r.IntN(80)), float64(50+r.IntN(60))
		s := drilledPlate(w, h, 9, geom.Vec2{X: 15, Y: h / 2}, geom.Vec2{X: w - 15, Y: h / 2})
		plan, err := PackSheets(SheetJob{Items: []FlatItem{{ID: "p", WidthMM: w, HeightMM: h, Quantity: 3, Material: "m", ThicknessMM: 5, shape: s}}, Sheets: []params.SheetStock{sheet}, GapMM: 3})
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range plan.Layouts {
			for i, p := range l.Placed {
				placed++
				if p.At.X < -0.1 || p.At.Y < -0.1 || p.At.X+p.WidthMM > sheet.Width.MM()+0.1 || p.At.Y+p.HeightMM > sheet.Height.MM()+0.1 {
					t.Fatalf("over the rim: %+v", p)
				}
				for _, q := range l.Placed[:i] {
					if p.At.X < q.At.X+q.WidthMM+2.99 && q.At.X < p.At.X+p.WidthMM+2.99 && p.At.Y < q.At.Y+q.HeightMM+2.99 && q.At.Y < p.At.Y+p.HeightMM+2.99 {
						t.Fatalf("%+v meets %+v", p, q)
					}
				}
				for _, o := range sheet.Holes {
					served += rastered(t, o, p, w, h)
				}
			}
		}
	}
	t.Logf("%d placed, %d old holes serve", placed, served)
	if placed < 30 || served < 3 {
		t.Errorf("%d placed, %d old holes serve: this proves little", placed, served)
	}
}

func sheet2(l unit.Length) int { return int(l.MM()) - 20 }

// rastered looks at points round an old hole: all out of the part, or all in it; and
// where the hole is in it, nearly all in one new hole, or none. It returns 1 for a hole
// that serves.
func rastered(t *testing.T, o params.Hole, p Placement, w, h float64) int {
	t.Helper()
	in, inOwn, n := 0, [2]int{}, 0
	for a := 0.0; a < 2*math.Pi; a += 0.1 {
		for _, r := range []float64{0.5, 0.9, 0.999} {
			n++
			x, y := o.X.MM()+r*o.Dia.MM()/2*math.Cos(a)-p.At.X, o.Y.MM()+r*o.Dia.MM()/2*math.Sin(a)-p.At.Y
			if p.Turned { // a quarter turn: the part's x runs up the sheet
				x, y = y, p.WidthMM-x
			}
			if x > 0 && x < w && y > 0 && y < h {
				in++
			}
			for k, cx := range []float64{15, w - 15} {
				if math.Hypot(x-cx, y-h/2) < 4.5+0.3 {
					inOwn[k]++
				}
			}
		}
	}
	own := max(inOwn[0], inOwn[1])
	if in != 0 && in != n || own != 0 && own != n {
		t.Fatalf("an old hole %+v is cut: %d of %d points in the part, %d in a new hole; %+v", o, in, n, own, p)
	}
	if own == n {
		return 1
	}
	return 0
}
