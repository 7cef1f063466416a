package nest

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"clampwright/assembly"
	"clampwright/assembly/internal/sample"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
)

func planOf(t *testing.T, f *params.Fixture) (*assembly.Assembly, Nesting) {
	t.Helper()
	a, err := assembly.Build(f)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := Of(a)
	if err != nil {
		t.Fatal(err)
	}
	return a, plan
}

// lines writes the cut list: how many of what size from which stock.
func lines(p Nesting) string {
	var out []string
	for _, c := range p.Cuts {
		s := fmt.Sprintf("%d %s %.4gx%.4g of %s", c.Quantity, c.Part.ID, c.SizeMM[0], c.SizeMM[1], c.Item)
		if c.Sheet {
			s += ", sheet"
		}
		for _, t := range c.Taken {
			s += fmt.Sprintf(": %d from %s %.4gx%.4g %v", t.Count, t.ID, t.StockMM[0], t.StockMM[1], t.Numbers)
			if t.Bought {
				s += " bought"
			}
		}
		if c.Missing > 0 {
			s += fmt.Sprintf(": %d missing", c.Missing)
		}
		out = append(out, s)
	}
	return strings.Join(out, "\n")
}

// Two plates lie on the offcut; four angles of 247.65 mm come out of one length of
// 4 ft, and the rods of 285.75 mm go three to a length of 3 ft.
func TestPlanOfFourCells(t *testing.T) {
	f := sample.FourCells()
	f.Stock.Sheets[0].Price, f.Stock.Angles[0].Price = 10, 12
	a, plan := planOf(t, f)
	want := `2 end-plate 247.6x195 of hdpe, sheet: 2 from hdpe-offcut 609.6x210 [1]
4 stiffener 247.6x0 of 1-1/4 x 1-1/4 x 1/8 in aluminium: 4 from angle-4ft 1219x0 [1] bought
4 rod 285.8x0 of 5/16-18: 4 from rod-3ft 914.4x0 [2 3] bought`
	if got := lines(plan); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	worth := map[string]float64{"end-plate": 10 * 2 * 247.65 * 195 / (609.6 * 210), "stiffener": 12 * 4 * (247.65 + 3.2) / 1219.2, "rod": 0, "nut": 0}
	for part, v := range worth {
		if got := plan.Worth(part); math.Abs(got-v) > 1e-9 {
			t.Errorf("%s is worth %g, by hand %g", part, got, v)
		}
	}
	for _, l := range a.PartsList() { // nothing that is cut is left out
		cut := strings.Contains(want, " "+l.Part.ID+" ")
		if made := l.Part.Make == "sheet" || l.Part.Make == "bar" || l.Part.Make == "rod"; made != cut {
			t.Errorf("%s is made by %q", l.Part.ID, l.Part.Make)
		}
	}
	for _, g := range plan.Bars {
		if g.Usual {
			t.Errorf("%s is listed", g.Item)
		}
	}
}

// Pieces for which there is no stock are missing, and none is bought that the file
// says is counted.
func TestPlanOfTooLittle(t *testing.T) {
	f := sample.FourCells()
	f.Stock.Sheets[0].Width, f.Stock.Sheets[0].Quantity = 300, 1
	f.Stock.Angles[0].Length, f.Stock.Angles[0].Quantity = 600, 1
	f.Stock.Rods = []params.LengthStock{{ID: "rest", Item: "5/16-18", Length: 290, Quantity: 1}, {ID: "M8", Item: "M8", Length: 3000}}
	_, plan := planOf(t, f)
	want := `2 end-plate 247.6x195 of hdpe, sheet: 1 from hdpe-offcut 300x210 [1]: 1 missing
4 stiffener 247.6x0 of 1-1/4 x 1-1/4 x 1/8 in aluminium: 2 from angle-4ft 600x0 [1]: 2 missing
4 rod 285.8x0 of 5/16-18: 1 from rest 290x0 [2]: 3 missing`
	if got := lines(plan); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

// Separators and liners of one material in two thicknesses each have their own
// sheet; rods of which no length is listed come in usual ones.
func TestPlanOfTwoThicknesses(t *testing.T) {
	f := sample.TwoRows()
	f.Stock.Rods = nil
	_, plan := planOf(t, f)
	want := `14 separator 174x201 of fr4, sheet: 14 from fr4-0.5 1000x1200 [1] bought
4 liner 178x205 of fr4, sheet: 4 from fr4-1 1000x1200 [2] bought
2 end-plate 482x198 of aluminium, sheet: 2 from aluminium-10 1000x500 [3] bought
6 rod 650x0 of M10: 6 from U3 2000x0 [1 2] bought`
	if got := lines(plan); got != want {
		t.Errorf("%s\nwant\n%s", got, want)
	}
	if !plan.Bars[0].Usual {
		t.Error("no rods are listed")
	}
	f.Style.Unit = unit.Inch
	if _, plan = planOf(t, f); !strings.HasSuffix(lines(plan), "\n6 rod 650x0 of M10: 6 from U3 1829x0 [1 2 3] bought") {
		t.Error(lines(plan))
	}
	f.Stock.Rods = []params.LengthStock{{ID: "R1", Item: "M10", Length: 1000, Usual: true}}
	if _, plan = planOf(t, f); !plan.Bars[0].Usual {
		t.Error("a usual length is not told as such")
	}
}

// Room is the size at which n parts side by side just fit.
func TestRoom(t *testing.T) {
	job := SheetJob{GapMM: 7, ToolMM: 6, MarginMM: 5, Sheets: []params.SheetStock{sheet("s", 500, 110, 1)}}
	for n, want := range map[int]float64{1: 490, 2: 241.5, 3: (490 - 2*7) / 3.0} {
		if got := job.Room(500, float64(n)); math.Abs(got-want) > 1e-9 {
			t.Errorf("%d parts: %g mm, want %g", n, got, want)
		}
		for more, fit := range map[float64]int{0: n, 0.01: n - 1} {
			job.Items = []FlatItem{item("p", want+more, 100, n)}
			if got := laid(pack(t, job)); got != fit {
				t.Errorf("%d parts of %g mm: %d lie, want %d", n, want+more, got, fit)
			}
		}
	}
}

// What a beam only chars is cut by hand though the shop has a laser: glass laminate and
// polycarbonate (common practice, no source). A router cuts them.
func TestNoBeamByHand(t *testing.T) {
	for _, c := range []struct {
		material     string
		beam, cutter unit.Length
		want         params.Machine
	}{{"fr4", 0.2, 0, params.HandTools}, {"pc", 0.2, 0, params.HandTools}, {"pet", 0.2, 0, params.Laser}, {"fr4", 0, 6, params.Router}, {"fr4", 0, 0, params.HandTools}} {
		f := sample.TwoRows()
		f.Tables = catalog.Builtin()
		m, _ := f.Tables.Material(c.material)
		f.Separator.Material, f.Stock.BeamKerf, f.Tools.Cutter, f.Stock.PartGap, f.Stock.Margin = m, c.beam, c.cutter, 8, 8
		a, plan := planOf(t, f)
		tool := max(c.beam, c.cutter).MM()
		for _, l := range a.PartsList() {
			if l.Part.ID != "separator" {
				continue
			}
			if got := plan.Machining.On(l.Part); got != c.want {
				t.Errorf("%s with a beam of %g and a cutter of %g: by %s, want %s", c.material, c.beam, c.cutter, got, c.want)
			}
			out := plan.Machining.Parts["separator"]
			if grown := out[len(out)-1].Path.Bounds().Size().X > l.Part.Flat.Profile.Bounds().Size().X; grown != (c.want != params.HandTools) {
				t.Errorf("%s: the path is offset: %v", c.material, grown)
			}
		}
		for _, s := range plan.Machining.Sheets {
			of := plan.Machining.Of(s)
			if by := of.Machine; s.Placed[0].ID == "separator" && (by != c.want || (of.ToolMM == 0) != (by == params.HandTools)) || s.Placed[0].ID == "end-plate" && (of.Machine != plan.Machining.Machine || of.ToolMM != tool) {
				t.Errorf("%s: sheet %d with %s by %s %g", c.material, s.Number, s.Placed[0].ID, by, of.ToolMM)
			}
		}
	}
}
