package dxf

import (
	"testing"

	"clampwright/parts"
	"clampwright/parts/geom"
)

func TestFromFlat(t *testing.T) {
	hole := geom.Circle{C: geom.Vec2{X: 20, Y: 20}, R: 4}
	f := parts.Flat{
		Profile: geom.Profile{
			Outer:   rounded(-30, -10, 100, 60, 5), // the origin is no corner
			Slots:   []geom.Path{slot(50, 30, 10, 2)},
			Circles: []geom.Circle{hole},
		},
		Marks: []parts.Mark{
			{Text: "P1", At: geom.Vec2{X: 40, Y: 40}, HeightMM: 5},
			{At: geom.Vec2{X: 50, Y: 40}, To: geom.Vec2{X: 50, Y: 48}},
		},
	}
	d := FromFlat(f, []parts.Hole{
		{C: hole.C, DiaMM: 8},                   // in the profile already
		{C: geom.Vec2{X: 60, Y: 20}, DiaMM: 11}, // drilled only
	})
	if len(d.Outlines) != 1 || len(d.Slots) != 1 || len(d.Holes) != 2 {
		t.Fatalf("got %+v", d)
	}
	if d.Holes[1].R != 5.5 || d.Holes[1].C != (geom.Vec2{X: 90, Y: 30}) || d.Holes[0].C != (geom.Vec2{X: 50, Y: 30}) {
		t.Errorf("holes from the lower left corner: %+v", d.Holes)
	}
	if low := d.Outlines[0].Bounds().Min; low.Len() > 1e-9 {
		t.Errorf("lower left corner at %v", low)
	}
	if len(d.Marks.Texts) != 0 || len(d.Marks.Lines) != 1 || d.Marks.Lines[0].A != (geom.Vec2{X: 80, Y: 50}) {
		t.Errorf("marks: %+v", d.Marks)
	}
	if len(d.Marks.Strokes) != len(Lettering("P1", geom.Vec2{}, 5)) {
		t.Errorf("%d strokes of lettering", len(d.Marks.Strokes))
	}
	if err := Validate(d); err != nil {
		t.Error(err)
	}
}

// Every letter stays inside its field above the base line, draws nothing twice and
// is unlike all others.
func TestLettering(t *testing.T) {
	like := map[string]rune{}
	for r := range strokes {
		const h = 6.0
		ps := Lettering(string(r), geom.Vec2{X: 10, Y: 20}, h)
		if (len(ps) == 0) != (r == ' ') {
			t.Errorf("%q has %d strokes", r, len(ps))
		}
		if err := Validate(Drawing{Marks: Scribe{Strokes: ps}}); err != nil {
			t.Errorf("%q: %v", r, err)
		}
		for _, p := range ps {
			for _, v := range p {
				if v.P.X < 10 || v.P.X > 10+0.9*h || v.P.Y < 20 || v.P.Y > 20+h {
					t.Errorf("%q goes to %v, out of its field", r, v.P)
				}
			}
		}
		if other, twice := like[strokes[r]]; twice {
			t.Errorf("%q looks like %q", r, other)
		}
		like[strokes[r]] = r
	}
	if a, b := Lettering("p1", geom.Vec2{}, 5), Lettering("P1", geom.Vec2{}, 5); len(a) != len(b) {
		t.Error("small letters are not drawn as capitals")
	}
	if ps := Lettering("?", geom.Vec2{}, 5); len(ps) != 1 || len(ps[0]) != 5 {
		t.Errorf("an unknown letter is %v, not a box", ps)
	}
}
