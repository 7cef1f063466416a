package geom

import (
	"errors"
	"fmt"
	"math"
	"testing"
)

// limit is a size at its limit: just inside it is taken, just outside refused.
type limit struct {
	name string
	make func(x float64) error
	at   float64
	up   bool // larger is refused
	want error
}

// checkLimits tries every limit a thousandth of itself, at most a tenth of a
// micrometre, to either side.
func checkLimits(t *testing.T, limits []limit) {
	t.Helper()
	for _, l := range limits {
		hair := min(1e-4, 1e-3*math.Abs(l.at))
		in, out := l.at+hair, l.at-hair
		if l.up {
			in, out = out, in
		}
		if err := l.make(in); err != nil {
			t.Errorf("%s: %.9g refused: %v", l.name, in, err)
		}
		if err := l.make(out); !errors.Is(err, l.want) {
			t.Errorf("%s: %.9g gives %v, want %v", l.name, out, err, l.want)
		}
	}
}

func TestShapeLimits(t *testing.T) {
	rounded := func(w, h, r float64) error { _, err := RoundedRect(Vec2{}, w, h, r); return err }
	l := func(a, b, t, root, toe float64) error { _, err := LProfile(a, b, t, root, toe); return err }
	polygon := func(n int, s float64) error { _, err := RegularPolygon(Vec2{}, n, s, 0); return err }
	checkLimits(t, []limit{
		{"width", func(x float64) error { return rounded(x, 5, 0) }, MinSize, false, ErrSize},
		{"height", func(x float64) error { return rounded(5, x, 0) }, MinSize, false, ErrSize},
		{"widest", func(x float64) error { return rounded(x, 5, 0) }, MaxSize, true, ErrSize},
		{"highest", func(x float64) error { return rounded(5, x, 0) }, MaxSize, true, ErrSize},
		{"corner of a wide one", func(x float64) error { return rounded(20, 10, x) }, 5, true, ErrSize},
		{"corner of a high one", func(x float64) error { return rounded(10, 20, x) }, 5, true, ErrSize},
		{"polygon", func(x float64) error { return polygon(5, x) }, MinSize, false, ErrSize},
		{"tube's wall", func(x float64) error { _, err := Annulus(Vec2{}, 5, x); return err }, 5 - MinLigament, true, ErrSize},
		{"tube's bore", func(x float64) error { _, err := Annulus(Vec2{}, 5, x); return err }, MinSize, false, ErrSize},
		{"ring", func(x float64) error { _, err := Annulus(Vec2{}, x, 1); return err }, 1 + MinLigament, false, ErrSize},
		{"slot width", func(x float64) error { _, err := Obround(Vec2{}, Vec2{5, 0}, x); return err }, MinSize, false, ErrSize},
		{"slot length", func(x float64) error { _, err := Obround(Vec2{}, Vec2{x, 0}, 1); return err }, MinSize, false, ErrSize},
		{"leg A", func(x float64) error { return l(x, 30, 3, 4, 2) }, 9 + MinSize, false, ErrSize},
		{"leg B", func(x float64) error { return l(30, x, 3, 4, 2) }, 9 + MinSize, false, ErrSize},
		{"toe", func(x float64) error { return l(30, 30, 3, 4, x) }, 3, true, ErrSize},
		{"root", func(x float64) error { return l(30, 30, 3, x, 2) }, 25 - MinSize, true, ErrSize},
		{"leg thickness", func(x float64) error { return l(30, 30, x, 0, 0) }, MinSize, false, ErrSize},
		{"extrusion", func(x float64) error { _, err := Prism(Profile{Outer: RectAt(Vec2{}, 1, 1)}, 2, x); return err }, 2 + MinSize, false, ErrSize},
		{"lowest", func(x float64) error { _, err := Prism(Profile{Outer: RectAt(Vec2{}, 1, 1)}, x, 2); return err }, -MaxSize, false, ErrSize},
		{"cylinder", func(x float64) error { _, err := Cylinder(x, 0, 1); return err }, MinSize * 2, false, nil},
		{"circle", func(x float64) error { return (Circle{R: x}).Validate() }, MinSize, false, ErrSize},
		{"bore", func(x float64) error { _, err := HexPrism(10, x, 0, 1); return err }, 5 - MinLigament, true, ErrHoleOutside},
		{"chord error", func(x float64) error { _, err := mustBox(t).Mesh(x); return err }, MinChordErr, false, ErrChord},
		{"chord error, largest", func(x float64) error { _, err := mustBox(t).Mesh(x); return err }, MaxSize, true, ErrChord},
		{"bulge", func(x float64) error { return Path{{Vec2{}, x}, {P: Vec2{1e-3, 0}}}.Validate() }, 1e6, true, ErrBulge},
	})
	for n, ok := range map[int]bool{2: false, 3: true, 1000: true, 1001: false} {
		if err := polygon(n, 9); (err == nil) != ok {
			t.Errorf("%d sides: %v", n, err)
		}
	}
	var se *SizeError
	if err := rounded(20, 10, 6); !errors.As(err, &se) || se.Error() != "corner radius is 6 mm, allowed 0 to 5 mm: no more than half the shorter side" {
		t.Error(err)
	}
	if err := rounded(-1, 10, 6); !errors.As(err, &se) || se.Error() != "width is -1 mm, allowed 0.0001 to 100000 mm" {
		t.Error(err)
	}
}

func mustBox(t *testing.T) Solid { return solid(t)(Box(Vec3{}, Vec3{1, 1, 1})) }

// Holes and ends of an angle at the least distance they must keep.
func TestAngleLimits(t *testing.T) {
	with := func(change func(*Angle)) error {
		a := testAngle()
		change(&a)
		_, err := a.Solid()
		return err
	}
	hole := func(h AngleHole) error { return with(func(a *Angle) { a.Holes = []AngleHole{h} }) }
	pair := func(g, h AngleHole) error { return with(func(a *Angle) { a.Holes = []AngleHole{g, h} }) }
	chamfer := func(x float64) error { return with(func(a *Angle) { a.ChamferB = x }) }
	short := func(x float64) error { return with(func(a *Angle) { a.ChamferB, a.Length, a.Holes = x, 20, nil }) }
	checkLimits(t, []limit{
		{"length", func(x float64) error { return with(func(a *Angle) { a.Length, a.Holes = x, nil }) }, MinSize, false, ErrSize},
		{"from the root", func(y float64) error { return hole(AngleHole{"H", 0, y, 4}) }, 3.175 + 4 + 4 + MinLigament, false, ErrHoleOutside},
		{"from the toe", func(y float64) error { return hole(AngleHole{"H", 0, y, 4}) }, 31.75 - 2 - 4 - MinLigament, true, ErrHoleOutside},
		{"from the right end", func(x float64) error { return hole(AngleHole{"H", x, 17, 4}) }, 100 - 4 - MinLigament, true, ErrHoleOutside},
		{"from the left end", func(x float64) error { return hole(AngleHole{"H", x, 17, 4}) }, -100 + 4 + MinLigament, false, ErrHoleOutside},
		{"from each other", func(x float64) error { return pair(AngleHole{"A", 0, 17, 4}, AngleHole{"B", x, 17, 3}) }, 7 + MinLigament, false, ErrHoleOutside},
		{"across from each other", func(x float64) error { return pair(AngleHole{"A", 0, 13, 1}, AngleHole{"B", 0, 13 + x, 1.5}) }, 2.5 + MinLigament, false, ErrHoleOutside},
		{"radius", func(r float64) error { return hole(AngleHole{"H", 0, 17, r}) }, MinSize, false, ErrSize},
		{"chamfer over the toe", chamfer, 2 + MinSize, false, ErrSize},
		{"chamfer to the root", chamfer, 25 - 3.175 - 4 - MinSize, true, ErrSize},
		{"chamfers that meet", short, 10 - MinSize, true, ErrSize},
	})
	var he *HoleError
	for _, x := range []struct {
		err   error
		words string
	}{
		{hole(AngleHole{"H7", 0, 11, 4.5}), "hole H7 does not clear the root fillet: its centre needs 11.68 mm from the heel and has 11 mm"},
		{hole(AngleHole{"H7", 0, 26, 4.5}), "hole H7 does not clear the toe fillet: its centre needs 6.501 mm from the edge of the leg and has 5.75 mm"},
		{with(func(a *Angle) { a.Toe, a.Holes = 0, []AngleHole{{"H7", 0, 28, 4.5}} }), "hole H7 does not clear the edge of the leg: its centre needs 4.501 mm from the edge of the leg and has 3.75 mm"},
		{hole(AngleHole{"H7", -97, 17, 4.5}), "hole H7 does not clear the end of the angle: its centre needs 4.501 mm from the end and has 3 mm"},
		{pair(AngleHole{"A", 0, 17, 4}, AngleHole{"B", 3, 13, 3}), "hole B does not clear the hole A: its centre needs 7.001 mm from the other centre and has 5 mm"},
	} {
		if !errors.As(x.err, &he) || he.Error() != x.words {
			t.Errorf("%v\nwant %s", x.err, x.words)
		}
	}
}

// The pieces of an angle share no volume and make up the whole.
func TestAnglePieces(t *testing.T) {
	for _, c := range []float64{0, 10} {
		for _, toe := range []float64{0, 2, 3.175} {
			for _, holes := range []int{0, 3} {
				a := testAngle()
				a.ChamferB, a.Toe, a.Holes = c, toe, a.Holes[:holes]
				s, sum := solid(t)(a.Solid()), 0.0
				box := EmptyBox3()
				for _, p := range s.finePieces() {
					q := solid(t)(newSolid(p.boundary(), nil))
					sum += q.Volume()
					box = box.Union(q.Bounds())
				}
				name := fmt.Sprintf("chamfer %g, toe %g, %d holes: ", c, toe, holes)
				near(t, name+"volume of the pieces", sum, s.Volume(), 1e-6)
				nearVec(t, name+"min", box.Min, s.Bounds().Min, 1e-9)
				nearVec(t, name+"max", box.Max, s.Bounds().Max, 1e-9)
			}
		}
	}
}

// Profiles with boundaries a hair over and under the least ligament.
func TestProfileLimits(t *testing.T) {
	sq := Profile{Outer: RectAt(Vec2{}, 10, 10)}
	with := func(cs ...Circle) error { p := sq; p.Circles = cs; return p.Validate() }
	slots := func(ss ...Path) error { p := sq; p.Slots = ss; return p.Validate() }
	bar := func(x float64) Path { return RectAt(Vec2{x, 0}, 1, 4).Reversed() }
	checkLimits(t, []limit{
		{"hole to the edge", func(x float64) error { return with(Circle{Vec2{x, 0}, 1}) }, 4 - MinLigament, true, ErrHoleOutside},
		{"hole to the lower edge", func(x float64) error { return with(Circle{Vec2{0, x}, 1}) }, -4 + MinLigament, false, ErrHoleOutside},
		{"hole to hole", func(x float64) error { return with(Circle{Vec2{}, 1}, Circle{Vec2{x, 0}, 1.5}) }, 2.5 + MinLigament, false, ErrHolesTouch},
		{"slot to slot", func(x float64) error { return slots(bar(0), bar(x)) }, 1 + MinLigament, false, ErrHolesTouch},
		{"slot to the edge", func(x float64) error { return slots(bar(x)) }, 4.5 - MinLigament, true, ErrHoleOutside},
		{"neck of one path", func(x float64) error {
			return Path{{P: Vec2{0, 0}}, {P: Vec2{9, 0}}, {P: Vec2{9, 5}}, {P: Vec2{5, x}}, {P: Vec2{1, 5}}}.Validate()
		}, MinLigament, false, ErrCrossing},
		{"shortest edge", func(x float64) error {
			return Path{{P: Vec2{0, 0}}, {P: Vec2{9, 0}}, {P: Vec2{9, x}}}.Validate()
		}, MinSize, false, ErrShortEdge},
	})
	for name, err := range map[string]error{
		"slot 1: ":            slots(RectAt(Vec2{}, 1, 1)),
		"slot 2: ":            slots(bar(0), RectAt(Vec2{3, 0}, 1, 1)),
		"hole 1: ":            with(Circle{}),
		"hole 2: ":            with(Circle{Vec2{}, 1}, Circle{Vec2{3, 0}, 0}),
		"hole 1 and hole 2: ": with(Circle{Vec2{}, 1}, Circle{Vec2{1, 0}, 1}),
		"slot 1 and slot 2: ": slots(bar(0), bar(0.5)),
	} {
		if err == nil || len(err.Error()) < len(name) || err.Error()[:len(name)] != name {
			t.Errorf("%v, want %q", err, name)
		}
	}
	mixed := Profile{Outer: sq.Outer, Slots: []Path{bar(0)}, Circles: []Circle{{Vec2{3, 3}, 1}, {Vec2{0.5, 0}, 0.3}}}
	if err := mixed.Validate(); err == nil || err.Error() != "slot 1 and hole 2: "+ErrHolesTouch.Error() {
		t.Error(err)
	}
}

// A rectangle fits into the profile when it touches nothing.
func TestHoldsRect(t *testing.T) {
	p := Profile{Outer: RectAt(Vec2{}, 20, 10), Circles: []Circle{{Vec2{6, 0}, 2}}}
	for _, x := range []struct {
		c    Vec2
		w, h float64
		want bool
	}{
		{Vec2{-4, 0}, 8, 8, true}, {Vec2{-4, 0}, 12 - 0.003, 8, true}, {Vec2{-4, 0}, 12 - 0.001, 8, false}, {Vec2{-4, 0}, 13, 8, false},
		{Vec2{-4, 0}, 8, 10 - 0.003, true}, {Vec2{-4, 0}, 8, 10 - 0.001, false},
		{Vec2{2, 0}, 4 - 0.003, 1, true}, {Vec2{2, 0}, 4 - 0.001, 1, false}, // to the hole
		{Vec2{2, 0}, 15, 9, false}, {Vec2{6, 0}, 1, 1, false}, {Vec2{30, 0}, 1, 1, false}, // round the hole, in it, outside
		{Vec2{-4, 0}, 0, 8, false}, {Vec2{-4, 0}, 8, MinSize, false}, {Vec2{-4, 0}, 8, math.NaN(), false}, {Vec2{-4, 0}, 2 * MinSize, 8, true},
	} {
		if p.HoldsRect(x.c, x.w, x.h) != x.want {
			t.Errorf("%g x %g at %v: %v", x.w, x.h, x.c, !x.want)
		}
	}
}
