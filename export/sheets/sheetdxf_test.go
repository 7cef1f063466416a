package sheets

import (
	"slices"
	"testing"

	"clampwright/assembly/nest"
	"clampwright/export/dxf"
	"clampwright/params"
	"clampwright/parts"
	"clampwright/parts/geom"
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// TestSheetDrawing draws a packed sheet and measures it: outlines lie where the
// plan says, apart by the gap even when moved by the tool, holes too small for
// it are crosses.
func TestSheetDrawing(t *testing.T) {
	outer := must(geom.RoundedRect(geom.Vec2{X: 110, Y: 60}, 200, 100, 5))
	flat := parts.Flat{
		Profile: geom.Profile{Outer: outer, Circles: []geom.Circle{{C: geom.Vec2{X: 30, Y: 30}, R: 5.5}, {C: geom.Vec2{X: 190, Y: 30}, R: 1.5}}},
		Marks:   []parts.Mark{{Text: "P1", At: geom.Vec2{X: 100, Y: 90}, HeightMM: 5}, {At: geom.Vec2{X: 50, Y: 50}, To: geom.Vec2{X: 50, Y: 60}}},
	}
	plan := must(nest.PackSheets(nest.SheetJob{
		Items:    []nest.FlatItem{{ID: "plate", WidthMM: 200, HeightMM: 100, Quantity: 3, Material: "HDPE", ThicknessMM: 19.05}},
		Sheets:   []params.SheetStock{{ID: "s", Width: 330, Height: 220, Material: "HDPE", Thickness: 19.05}},
		MarginMM: 7, GapMM: 7, ToolMM: 6,
	}))
	if len(plan.Layouts) != 1 {
		t.Fatalf("%+v", plan)
	}
	l := plan.Layouts[0]
	turned := 0
	for _, tool := range []float64{0, 6} {
		m := must(nest.MachineSheets(params.Router, 6, map[string]geom.Profile{"plate": flat.Profile}, plan, nil))
		d := Drawing(m, m.Sheets[0], map[string]parts.Flat{"plate": flat}, tool > 0)
		if err := dxf.Validate(d); err != nil {
			t.Error(err)
		}
		lines := d.Outlines
		for i, op := range slices.DeleteFunc(slices.Clone(m.Sheets[0].Ops), func(op nest.Op) bool { return op.Kind != nest.Outside }) {
			n := 1
			if tool > 0 {
				n = len(op.Runs(tool))
			}
			b, want := geom.EmptyBox2(), l.Placed[i]
			for _, o := range lines[:n] {
				if tool > 0 { // but for the lead-in
					o = o[1:]
				}
				b = b.Union(o.Bounds())
			}
			lines = lines[n:]
			half := geom.Vec2{X: tool / 2, Y: tool / 2}
			if b.Min.Add(half).Dist(want.At) > 1e-9 || b.Size().Sub(half.Mul(2)).Dist(geom.Vec2{X: want.WidthMM, Y: want.HeightMM}) > 1e-9 {
				t.Errorf("outline %d at %v, want %+v", i, b, want)
			}
			if want.Turned {
				turned++
			}
		}
		if len(lines) > 0 || d.Open != (tool > 0) {
			t.Errorf("tool %g: %d outlines too many, open: %v", tool, len(lines), d.Open)
		}
		holes, marked := 6, 3
		if tool == 6 {
			holes, marked = 3, 3+2*3
		}
		if len(d.Notes.Paths)+len(d.Notes.Strokes)+len(d.Notes.Lines) != 0 {
			t.Errorf("tool %g: NOTE has more than words", tool)
		}
		said, tabs := map[string]int{}, 0
		for _, op := range m.Sheets[0].Ops {
			tabs += len(op.Tabs)
		}
		for _, text := range d.Notes.Texts {
			said[text.Value]++
		}
		if said["tab"] != tabs || said["start"] != 3 || said["drill"] != 3 || said["corner of the sheet"] != 4 || said["hold"] != len(m.Sheets[0].Holds) {
			t.Errorf("tool %g: NOTE says %v", tool, said)
		}
		strokes := 3 * len(dxf.Lettering("P1", geom.Vec2{}, 5))
		if len(d.Holes) != holes || len(d.Marks.Lines) != marked || len(d.Marks.Texts) != 0 || len(d.Marks.Strokes) != strokes {
			t.Errorf("tool %g: %d holes, %d mark lines, %d texts, %d strokes", tool, len(d.Holes), len(d.Marks.Lines), len(d.Marks.Texts), len(d.Marks.Strokes))
		}
		for i, p := range d.Marks.Strokes {
			on := l.Placed[i*3/strokes]
			for _, v := range p {
				if q := v.P.Sub(on.At); q.X < 0 || q.Y < 0 || q.X > on.WidthMM || q.Y > on.HeightMM {
					t.Errorf("tool %g: stroke %d at %v is not on its part", tool, i, v.P)
				}
			}
		}
	}
	if turned == 0 {
		t.Error("no part is turned: the test has lost its point")
	}
}
