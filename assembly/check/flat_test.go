package check

import (
	"math"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/finding"
	"clampwright/assembly/internal/sample"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// Inside corners of an L: one sharp; rounded, one arc. A slot's ends count.
func TestInnerCorners(t *testing.T) {
	v := func(x, y, bulge float64) geom.Vertex { return geom.Vertex{P: geom.Vec2{X: x, Y: y}, Bulge: bulge} }
	quarter := math.Tan(math.Pi / 8)
	slot, err := geom.Obround(geom.Vec2{X: 0}, geom.Vec2{X: 20}, 6)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		path geom.Path
		want []float64
	}{
		"rectangle":  {geom.RectAt(geom.Vec2{}, 20, 10), nil},
		"sharp L":    {geom.Path{v(0, 0, 0), v(30, 0, 0), v(30, 10, 0), v(10, 10, 0), v(10, 30, 0), v(0, 30, 0)}, []float64{0}},
		"rounded L":  {geom.Path{v(0, 0, 0), v(30, 0, 0), v(30, 10, 0), v(14, 10, -quarter), v(10, 14, 0), v(10, 30, 0), v(0, 30, 0)}, []float64{4}},
		"slot":       {slot.Reversed(), []float64{3, 3}},
		"round hole": {geom.Circle{R: 5}.Path().Reversed(), []float64{5, 5}},
	} {
		got := innerCorners(c.path)
		if len(got) != len(c.want) {
			t.Errorf("%s: %d inside corners, want %d", name, len(got), len(c.want))
			continue
		}
		for i := range got {
			if math.Abs(got[i].radius-c.want[i]) > 1e-9 {
				t.Errorf("%s: radius %g, want %g", name, got[i].radius, c.want[i])
			}
		}
	}
}

// A hole 10 mm above the middle of a 6 mm slot and of radius 4 leaves 3 mm.
func TestSlotLigament(t *testing.T) {
	a, err := assembly.Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	p, err := parts.EndPlate(parts.PlateSpec{Label: parts.Label{ID: "test"}, WidthMM: 100, HeightMM: 100, ThicknessMM: 10,
		RodHoles: []parts.Hole{{C: geom.Vec2{Y: 10}, DiaMM: 8}},
		Slots:    []parts.SlotSpec{{A: geom.Vec2{X: -10}, B: geom.Vec2{X: 10}, WidthMM: 6}}})
	if err != nil {
		t.Fatal(err)
	}
	var tl tally
	newScene(a).ligaments(&tl, &p)
	f := tl.finding("", "mm")
	if len(f) != 1 || math.Abs(f[0].Have-3) > 1e-9 || f[0].Verdict != finding.Fail {
		t.Errorf("slot ligament: %+v, want 3 mm and fail", f)
	}
}
