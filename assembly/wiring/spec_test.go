package wiring

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// Hand-worked: pitch 73, tolerance 0.5, growth 0.4, holes 0.2 each. Nearest
// 73 - 0.5 - 0.4 = 72.1, farthest 73 + 0.5 + 0.4 + 0.4 = 74.3; travel 2.2, holes
// 73.2 apart, slot 6.6 + 2.2 = 8.8; end max(1.5 x 6.6, 10) = 10; length
// 73.2 + 1.1 + 20 = 94.3; mass (94.3 x 20 - 2 x 34.21 - 2.2 x 6.6 - 3.43) x 2 mm
// x 8.89 g/cm3 = 32.0 g.
func TestStraightLinkSpec(t *testing.T) {
	l := mustLayout(t, rigid(pack(4, 1, 4, 1)))
	sp := specOf(l, Link{A: Post{0, Right}, B: Post{1, Right}}, Turns{Right, Left, Right, Left})
	if sp.Shape != Straight {
		t.Errorf("shape %s", sp.Shape)
	}
	near(t, "nearest", sp.NearestMM, 72.1, 1e-9)
	near(t, "farthest", sp.FarthestMM, 74.3, 1e-9)
	near(t, "holes", sp.HolesMM, 73.2, 1e-9)
	near(t, "slot", sp.SlotMM, 8.8, 1e-9)
	near(t, "end", sp.EndMM, 10, 1e-9)
	near(t, "length", sp.LengthMM, 94.3, 1e-9)
	near(t, "mass", sp.MassG, 32.0, 0.01)
}

// The slot takes every distance the terminals can have: sample pitch, row
// distance, growth and hole errors within their bounds.
func TestSlotTakesEveryDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for range 100 {
		in := rigid(randomInput(r))
		l := mustLayout(t, in)
		g := l.in.Growth
		s := mustPlans(t, l)[0].States[0]
		for _, k := range s.Links {
			sp := specOf(l, Link{A: k.A, B: k.B, Layers: 1}, s.Turns)
			a, b := l.Position(k.A, s.Turns), l.Position(k.B, s.Turns)
			n := math.Abs(float64(k.A.Slot%in.CellsPerRow - k.B.Slot%in.CellsPerRow))
			for range 20 {
				u := func(tol float64) float64 { return tol * (2*r.Float64() - 1) }
				dz := math.Abs(a.Y-b.Y) + n*(u(g.PitchTolMM)+g.PerCellMM*r.Float64())
				dx := math.Abs(a.X - b.X)
				if l.Row(k.A.Slot) != l.Row(k.B.Slot) {
					dx += u(g.RowTolMM)
				}
				d := math.Hypot(dx, dz) + u(g.HoleTolMM) + u(g.HoleTolMM)
				need := math.Sqrt(max(0, d*d-sp.JogMM*sp.JogMM)) - sp.RunMM
				if math.Abs(need) > sp.TravelMM/2+1e-9 {
					t.Fatalf("stud %.3f from the slot's middle, travel %.3f", need, sp.TravelMM)
				}
			}
		}
	}
}

func TestLinkShapes(t *testing.T) {
	in := rigid(pack(2, 2, 4, 1))
	l := mustLayout(t, in)
	one := Turns{Right, Right, Right, Right}
	for _, c := range []struct {
		k    Link
		want LinkShape
	}{
		{Link{A: Post{0, Right}, B: Post{1, Right}}, Straight},          // along the stack
		{Link{A: Post{0, Right}, B: Post{2, Left}}, Straight},           // across the gap
		{Link{A: Post{0, Right}, B: Post{1, Left}}, Diagonal},           // across the lid
		{Link{A: Post{0, Right}, B: Post{1, Left}, Cable: true}, Cable}, // insulated
	} {
		if sp := specOf(l, c.k, one); sp.Shape != c.want {
			t.Errorf("%v: %s, want %s", c.k, sp.Shape, c.want)
		}
	}
	// Terminals off the middle line: plus at 61, minus at 49 from the middle, so
	// neighbours in series jog by 12 mm.
	in.PlusAt, in.MinusAt = TerminalAt{XMM: 61, HeightMM: 3}, TerminalAt{XMM: -49, HeightMM: 1}
	l = mustLayout(t, in)
	sp := specOf(l, Link{A: Post{0, Right}, B: Post{1, Right}}, Turns{Right, Left, Right, Left})
	if sp.Shape != Offset {
		t.Errorf("shape %s", sp.Shape)
	}
	near(t, "jog", sp.DXMM, 12, 1e-9)
	straight := sp.HolesMM + sp.TravelMM/2 + 2*sp.EndMM
	if sp.LengthMM <= straight {
		t.Errorf("an offset bar of %.2f mm is cut from no more than a straight one, %.2f", sp.LengthMM, straight)
	}
}

// A link is braided when the pad has no room for the slot, or when the
// pack grows after tightening; not otherwise.
func TestBraidedLinks(t *testing.T) {
	k, turns := Link{A: Post{0, Right}, B: Post{1, Right}}, Turns{Right, Left}
	in := pack(2, 1, 2, 1)
	in.Growth = Growth{PitchTolMM: 0.2, PerCellMM: 0.1}
	if sp := specOf(mustLayout(t, in), k, turns); sp.Braided || sp.FlexibleWhy != "" {
		t.Errorf("flexible: %s", sp.FlexibleWhy)
	}
	in.Growth.PerCellMM = 0.5
	if sp := specOf(mustLayout(t, in), k, turns); !sp.Braided || !strings.Contains(sp.FlexibleWhy, "after tightening") {
		t.Errorf("growth: %v %s", sp.Braided, sp.FlexibleWhy)
	}
	// Growth at the limit of 0.3 mm and beyond it; the user's word goes first.
	for _, c := range []struct {
		growth float64
		form   LinkForm
		want   bool
	}{{0.3, "", false}, {0.31, "", true}, {0.31, RigidBar, false}, {0.1, Braid, true}} {
		in.Growth.PerCellMM, in.Form = c.growth, c.form
		sp := specOf(mustLayout(t, in), k, turns)
		if sp.Braided != c.want {
			t.Errorf("%v mm, form %q: braided %v", c.growth, c.form, sp.Braided)
		}
		if sp.Braided && (sp.TravelMM != 0 || sp.HolesMM != in.PitchMM || sp.FlatMM < sp.FarthestMM || sp.LengthMM != sp.FlatMM+2*sp.EndMM) {
			t.Errorf("%v mm: %+v", c.growth, sp)
		}
	}
	in.Form = ""
	in.Growth = Growth{PitchTolMM: 4}
	in.PadDiaMM = 12
	if sp := specOf(mustLayout(t, in), k, turns); !sp.Braided || !strings.Contains(sp.FlexibleWhy, "contact face") {
		t.Errorf("slot: %v %s", sp.Braided, sp.FlexibleWhy)
	}
}

// EN 1993-1-8 table 3.3: 1.2 hole diameters to an edge.
func TestLinkWarnings(t *testing.T) {
	in := pack(2, 1, 2, 1)
	in.Bar.WidthMM, in.Bar.EndMM = 12, 7
	sp := specOf(mustLayout(t, in), Link{A: Post{0, Right}, B: Post{1, Right}}, Turns{Right, Left})
	all := strings.Join(sp.Warnings, "; ")
	for _, want := range []string{"wide", "end distance"} {
		if !strings.Contains(all, want) {
			t.Errorf("no word of %q in %q", want, all)
		}
	}
}

// Cut lengths, counts and cuts of the specs add up to the plan's.
func TestSpecsAddUp(t *testing.T) {
	for _, p := range mustPlans(t, mustLayout(t, pack(8, 2, 8, 2))) {
		links, bars, bar := 0, 0, 0.0
		for _, sp := range p.Specs {
			links += sp.Links
			if sp.Shape != Cable && !sp.Braided {
				bars += sp.Bars
				bar += sp.LengthMM * float64(sp.Bars)
			}
			if sp.Bars < sp.Links || len(sp.States) == 0 || sp.Mark == "" {
				t.Errorf("spec %+v", sp)
			}
		}
		if links != p.LinksMade || bars != p.Cuts || math.Abs(bar-p.BarMM) > 1e-6 {
			t.Errorf("plan %s: %d %d %.1f, specs %d %d %.1f", p.ID, p.LinksMade, p.Cuts, p.BarMM, links, bars, bar)
		}
	}
}
