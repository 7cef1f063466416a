package drawing_test

import (
	"bytes"
	"fmt"
	"testing"

	"clampwright/export/drawing"
	"clampwright/export/pdf"
	"clampwright/parts/geom"
)

func rect(x, y, w, h float64) geom.Path {
	return geom.Path{{P: v(x, y)}, {P: v(x+w, y)}, {P: v(x+w, y+h)}, {P: v(x, y+h)}}
}

func ring(c geom.Vec2, r float64) geom.Path {
	return geom.Path{{P: v(c.X-r, c.Y), Bulge: 1}, {P: v(c.X+r, c.Y), Bulge: 1}}
}

// assembly is an eight-cell row with two end plates, four angles, four rods.
func assembly(units drawing.Units, paper drawing.Paper, spring bool) drawing.AssemblySheet {
	a := drawing.AssemblySheet{Fixture: "garage bank, 8 cells", Print: "3f9a02c47e11d0", Units: units, Paper: paper,
		Tolerance: "see part drawings", Mass: "46.2 kg"}
	solid := func(p geom.Path) drawing.Shape { return drawing.Shape{Outline: p, Solid: true} }
	a.Front.Name, a.Side.Name = "Front", "Right side"
	a.Front.Shapes = append(a.Front.Shapes, solid(rect(-118, -2, 236, 205)))
	for _, y := range []float64{52, 153} {
		a.Front.Shapes = append(a.Front.Shapes, solid(rect(-118, y-17.5, 236, 31.75)))
		for _, x := range []float64{-104, 104} {
			a.Front.Shapes = append(a.Front.Shapes, solid(ring(v(x, y), 8)), solid(ring(v(x, y), 4)))
		}
	}
	z := 0.0
	a.Side.Shapes = append(a.Side.Shapes, solid(rect(z, -2, 19.05, 205)))
	for i := 0; i < 8; i++ {
		a.Side.Shapes = append(a.Side.Shapes, solid(rect(19.05+72*float64(i), 0, 72, 201)))
	}
	end := 19.05 + 72*8.0
	a.Side.Shapes = append(a.Side.Shapes, solid(rect(end, -2, 19.05, 205)))
	for _, y := range []float64{52, 153} {
		a.Side.Shapes = append(a.Side.Shapes, solid(rect(-20, y-4, end+60, 8)))
	}
	a.Front.Balloons = []drawing.BalloonAt{{Item: "1", At: v(0, 100)}, {Item: "2", At: v(20, 150)}, {Item: "3", At: v(104, 153)}}
	a.Side.Balloons = []drawing.BalloonAt{{Item: "4", At: v(200, 100)}, {Item: "5", At: v(250, 153)}}
	a.RodEnds = []drawing.RodEnd{{MajorMM: 8, MinorMM: 6.47, InsideMM: 14, BeyondMM: 6, Layers: []drawing.Layer{
		{Item: "1", Name: "end plate", Kind: drawing.LayerCut, ThicknessMM: 19.05, HighMM: 22, LowMM: 26, HoleMM: 9, BrokenHigh: true, BrokenLow: true, HatchDeg: 45},
		{Item: "2", Name: "stiffener", Kind: drawing.LayerAngle, ThicknessMM: 3.175, HighMM: 14.25, LowMM: 17.5, HoleMM: 8.73, StandMM: 31.75, RootMM: 3.2, HatchDeg: 135},
		{Item: "6", Name: "washer", Kind: drawing.LayerWasher, ThicknessMM: 1.6, HighMM: 8},
		{Item: "3", Name: "nut, prevailing torque", Kind: drawing.LayerNut, ThicknessMM: 8, HighMM: 7.5},
	}}}
	a.Front.Origin, a.Front.Along, a.Front.Up = v(-118, 0), []float64{-104, 104, 118}, []float64{-2, 52, 153, 203}
	a.Front.Axes = []geom.Vec2{v(-104, 52), v(104, 52), v(-104, 153), v(104, 153)}
	a.Side.Spans, a.Side.NoHeight = [][2]float64{{19.05, end}}, true
	a.Parts = []drawing.ListRow{{Item: "1", Name: "end plate", Mark: "P1", Material: "HDPE", Quantity: 2}, {Item: "2", Name: "stiffener", Mark: "A1", Material: "aluminium", Quantity: 4},
		{Item: "3", Name: "nut ISO 7040 M8", Quantity: 8, Material: "steel"}, {Item: "4", Name: "cell 72 x 174 x 201", Quantity: 8}, {Item: "5", Name: "threaded rod M8", Mark: "R1", Quantity: 4, Material: "steel"},
		{Item: "6", Name: "washer ISO 7089 M8", Quantity: 8, Material: "steel"}}
	a.Notes = []string{"Set the clamp as the build sheet says; never slacken it at full charge."}
	if spring {
		plain, l := a.RodEnds[0], a.RodEnds[0].Layers
		s := drawing.Layer{Item: "7", Name: "disc springs", Kind: drawing.LayerSpring, ThicknessMM: 9.6, HighMM: 8, HoleMM: 8.2, Discs: 8}
		a.RodEnds[0].Layers = append(append(append([]drawing.Layer{}, l[:3]...), s), l[3:]...)
		a.RodEnds[0].Name, plain.Name = "front end", "back end"
		a.RodEnds = append(a.RodEnds, plain)
		a.Loose = []drawing.ListRow{{Name: "feeler for bulged faces", Mark: "B1", Material: "petg", Quantity: 1}}
		a.Parts = append(a.Parts, drawing.ListRow{Item: "7", Name: "disc spring 16 x 8.2 x 0.9", Quantity: 64, Material: "spring steel"})
	}
	return a
}

func TestAssemblySheetHasNoOverlaps(t *testing.T) {
	for i, a := range []drawing.AssemblySheet{assembly(drawing.Millimetres(2), drawing.A4, false), assembly(drawing.Inches(16), drawing.Letter, true)} {
		s, err := a.Draw()
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range s.Conflicts() {
			t.Error(c)
		}
		var b bytes.Buffer
		if err := pdf.Encode(&b, s.Title, "what it is", []drawing.Sheet{s}); err != nil {
			t.Fatal(err)
		}
		keep(t, fmt.Sprintf("assembly-%d.pdf", i), b.Bytes())
	}
}

// A covered part gets no balloon where it is covered: the cell behind the plate
// is keyed in the side view, the plate in the front view.
func TestBalloonsPointAtWhatIsSeen(t *testing.T) {
	box := func(item string, p geom.Path) drawing.Shape {
		return drawing.Shape{Outline: p, Solid: true, Item: item}
	}
	a := drawing.AssemblySheet{
		Front: drawing.AssemblyView{Shapes: []drawing.Shape{box("7", rect(0, 0, 100, 100)), box("8", rect(-10, -10, 120, 120))}},
		Side:  drawing.AssemblyView{Shapes: []drawing.Shape{box("7", rect(0, 0, 50, 100)), box("8", rect(50, -10, 10, 120))}},
	}
	s, err := a.Draw()
	if err != nil {
		t.Fatal(err)
	}
	if c := s.Conflicts(); len(c) > 0 {
		t.Error(c)
	}
	at := map[string]float64{}
	for _, it := range s.Items {
		if x, ok := it.(drawing.Text); ok && x.Face == drawing.Bold && x.Height == 3.5 && x.Anchor == drawing.MidMid {
			if _, twice := at[x.S]; twice {
				t.Errorf("item %s has two balloons", x.S)
			}
			at[x.S] = x.At.X
		}
	}
	if len(at) != 2 || at["8"] >= at["7"] {
		t.Errorf("balloons at %v: want 8 in the front view, left of 7 in the side view", at)
	}
}

// Long lists are folded rather than refused.
func TestLongListsStillFit(t *testing.T) {
	a := assembly(drawing.Millimetres(2), drawing.A4, true)
	for i := range 20 {
		a.Parts = append(a.Parts, drawing.ListRow{Item: fmt.Sprint(i + 8), Name: "piece of a corner guard", Mark: fmt.Sprintf("G%d", i), Quantity: 4, Material: "petg"})
		a.Loose = append(a.Loose, drawing.ListRow{Name: "drill guide for plate corners", Mark: fmt.Sprintf("D%d", i), Quantity: 1, Material: "petg"})
	}
	s, err := a.Draw()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range s.Conflicts() {
		t.Error(c)
	}
	seen := map[string]bool{}
	for _, it := range s.Items {
		if x, ok := it.(drawing.Text); ok {
			seen[x.S] = true
		}
	}
	for i := range 20 {
		if !seen[fmt.Sprintf("G%d", i)] || !seen[fmt.Sprintf("D%d", i)] {
			t.Errorf("row %d is missing", i)
		}
	}
}
