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
			Outer:   rounded(0, 0, 100, 60, 5),
			Slots:   []geom.Path{slot(50, 30, 10, 2)},
			Circles: []geom.Circle{hole},
		},
		Marks: []parts.Mark{
			{Text: "P1", At: geom.Vec2{X: 40, Y: 50}, HeightMM: 5},
			{At: geom.Vec2{X: 50, Y: 40}, To: geom.Vec2{X: 50, Y: 48}},
		},
	}
	d := FromFlat(f, []parts.Hole{
		{C: hole.C, DiaMM: 8},                   // in the profile already
		{C: geom.Vec2{X: 80, Y: 20}, DiaMM: 11}, // drilled only
	})
	if len(d.Outlines) != 1 || len(d.Slots) != 1 || len(d.Holes) != 2 {
		t.Fatalf("got %+v", d)
	}
	if d.Holes[1].R != 5.5 || d.Holes[1].C.X != 80 {
		t.Errorf("drilled hole: %+v", d.Holes[1])
	}
	if len(d.Marks.Texts) != 1 || len(d.Marks.Lines) != 1 || d.Marks.Texts[0].Value != "P1" {
		t.Errorf("marks: %+v", d.Marks)
	}
	if err := Validate(d); err != nil {
		t.Error(err)
	}
}
