package sheets

import (
	"slices"
	"strings"
	"testing"

	"clampwright/assembly/nest"
	"clampwright/export/dxf"
	"clampwright/params"
	"clampwright/params/unit"
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

// What NOTE says of a file is of what there is in it: the order of what the tool runs and
// its side, tabs where there are any, what the hand makes and where, how large the places
// to hold are, which face is up and what is zero.
func TestNoteSaysWhatThereIs(t *testing.T) {
	plate := func(dia float64, marks bool) parts.Part {
		p := parts.Part{ID: "plate", Name: "end plate", Mark: "P1", Material: "HDPE", Kind: parts.KindPlate, Make: parts.MakeSheet, Flat: &parts.Flat{ThicknessMM: 10}}
		p.Flat.Profile = geom.Profile{Outer: geom.RectAt(geom.Vec2{X: 5, Y: 5}, 200, 100), Circles: []geom.Circle{{C: geom.Vec2{X: 30, Y: 30}, R: dia / 2}}}
		if marks {
			p.Flat.Marks = []parts.Mark{{Text: "P1", At: geom.Vec2{X: 100, Y: 60}, HeightMM: 5}}
		}
		return p
	}
	const router, laser, hand = params.Router, params.Laser, params.HandTools
	for name, c := range map[string]struct {
		by          params.Machine
		tool, dia   float64
		width       float64 // of the sheet
		part        bool    // its own file, else the sheet's
		middle      bool
		marks       bool
		want, never []string
	}{
		"sheet": {router, 6, 10, 400, false, false, true,
			[]string{"cutter 6 mm, edges as they are left: offset by half the tool's width; in the order of the file: holes inward, outlines outward", "10.5 mm deep, into the board", "tabs 6 mm wide, 3 mm high", "start", "plate",
				"hold: clamp within 30 x 30 mm round the word, where no tool comes", "outside faces up, those with the marks; zero at the lower left corner of the sheet"}, []string{"by hand", "drill"}},
		"no mark": {router, 6, 10, 400, false, false, false, []string{"either face up; zero at the lower left corner of the sheet"}, []string{"outside"}},
		"narrow hole": {router, 6, 6.1, 400, false, false, true,
			[]string{"in the order of the file: outlines outward", "the cutter does not enter 1 hole: make by hand, at the words", "drill"}, []string{"holes inward"}},
		"middle": {router, 6, 10, 400, false, true, true,
			[]string{"cutter 6 mm, middle of the tool, open lines that begin in waste: no offset; in the order of the file: holes, outlines", "tabs 6 mm wide, where the line is broken, as high as the sheet; or run over them 7 mm deep"}, []string{"as they are left", "ward"}},
		"whole sheet":          {router, 6, 10, 200, false, false, true, []string{"in the order of the file: holes inward", "10.5 mm deep, into the board", "edges stay"}, []string{"tab", "outline", "start"}},
		"whole sheet, no work": {router, 6, 6.1, 200, false, false, true, []string{"the cutter does not enter 1 hole: make by hand, at the words"}, []string{"cutter 6 mm", "deep", "order"}},
		"beam":                 {laser, 0.2, 10, 400, false, false, true, []string{"beam 0.2 mm, edges as they are left"}, []string{"tab", "deep", "hold", "start"}},
		"saw":                  {hand, 0, 10, 400, false, false, true, []string{"edges as they are left; by hand: cut beside the lines, drill the holes"}, []string{"tab", "hold", "start", "offset", "order"}},
		"part":                 {router, 6, 10, 400, true, false, true, []string{"P1 end plate: HDPE 10 mm", "holes inward, outlines outward", "10.5 mm deep", "zero at the lower left corner of the part"}, []string{"tab", "hold", "start", "by hand"}},
		"part, narrow hole":    {router, 6, 6.1, 400, true, false, true, []string{"does not enter 1 hole", "drill"}, []string{"holes inward"}},
		"part, middle":         {router, 6, 6.1, 400, true, true, true, []string{"middle of the tool, open lines", "where the line is broken", "does not enter 1 hole", "drill"}, []string{"inward"}},
		"part by hand":         {hand, 0, 10, 400, true, false, false, []string{"edges as they are left; by hand", "either face up; zero at the lower left corner of the part"}, []string{"cutter", "tab"}},
	} {
		p := plate(c.dia, c.marks)
		rim := 0.0
		if c.tool > 0 {
			rim = c.tool + 1
		}
		plan := must(nest.PackSheets(nest.SheetJob{Items: []nest.FlatItem{{ID: "plate", WidthMM: 200, HeightMM: 100, Quantity: 1, Material: "HDPE", ThicknessMM: 10}},
			Sheets: []params.SheetStock{{ID: "s", Width: unit.Length(c.width), Height: unit.Length(c.width / 2), Material: "HDPE", Thickness: 10, Quantity: 1}}, MarginMM: rim, GapMM: rim, ToolMM: c.tool}))
		m := must(nest.MachineSheets(c.by, c.tool, map[string]geom.Profile{"plate": p.Flat.Profile}, plan, nil))
		d := Drawing(m, m.Sheets[0], map[string]parts.Flat{"plate": *p.Flat}, c.middle)
		if c.part {
			d = Part(m, &p, c.middle)
		}
		var said []string
		for _, text := range d.Notes.Texts {
			said = append(said, text.Value)
		}
		all := strings.Join(said, "\n")
		for _, w := range c.want {
			if !strings.Contains(all, w) {
				t.Errorf("%s: %q is not said in\n%s", name, w, all)
			}
		}
		for _, w := range c.never {
			if strings.Contains(all, w) {
				t.Errorf("%s: %q is said in\n%s", name, w, all)
			}
		}
	}
}
