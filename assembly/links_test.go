package assembly

import (
	"math"
	"testing"

	"clampwright/assembly/internal/sample"
	"clampwright/parts"
	"clampwright/parts/geom"
)

func linkPart(t *testing.T, run, jog float64) *parts.Part {
	t.Helper()
	p, err := parts.LinkBar(parts.LinkSpec{
		Label: parts.Label{ID: "link-k1", Stock: "copper bar 20 x 2 mm"}, Material: parts.Material{Name: "copper", DensityGCM3: 8.9, Conducts: true},
		HolesMM: run, OffsetMM: jog, WidthMM: 20, ThicknessMM: 2, HoleMM: 6.6, TravelMM: 4, EndMM: 10, CornerRadiusMM: 2,
	})
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

// The round hole lies on one terminal, the middle of the slot on the other,
// whichever way the bar runs and jogs, and the bar lies on top of the pads.
func TestLinkFrameMeetsBothTerminals(t *testing.T) {
	from := geom.Vec3{X: 10, Y: 204, Z: -7}
	for _, v := range []geom.Vec3{
		{Z: 73}, {Z: -73}, {X: 84}, {X: -84},
		{X: 12, Z: 73}, {X: -12, Z: 73}, {X: 12, Z: -73}, {X: -12, Z: -73},
		{X: 84, Z: 30}, {X: -84, Z: 30}, {X: 84, Z: -30}, {X: -84, Z: -30},
	} {
		run, jog := max(math.Abs(v.X), math.Abs(v.Z)), min(math.Abs(v.X), math.Abs(v.Z))
		for level := range 3 {
			f := linkFrame(from, from.Add(v), jog, 2, 2*float64(level))
			if d := f.Point(geom.Vec3{}); math.Hypot(d.X-from.X, d.Z-from.Z) > 1e-9 {
				t.Errorf("%v: hole at %v", v, d)
			}
			to := from.Add(v)
			if d := f.Point(geom.Vec3{X: run, Y: jog}); math.Hypot(d.X-to.X, d.Z-to.Z) > 1e-9 {
				t.Errorf("%v: slot at %v, terminal at %v", v, d, to)
			}
			box := linkPart(t, run, jog).Solid.Transform(f).Bounds()
			if want := from.Y + 2*float64(level); math.Abs(box.Min.Y-want) > 1e-9 || math.Abs(box.Max.Y-want-2) > 1e-9 {
				t.Errorf("%v level %d: bar from %.3f to %.3f, want %.3f up", v, level, box.Min.Y, box.Max.Y, want)
			}
			if det := f.X.Cross(f.Y).Dot(f.Z); math.Abs(det-1) > 1e-9 {
				t.Errorf("%v: frame is not right-handed: %g", v, det)
			}
		}
	}
}

func TestAddLinks(t *testing.T) {
	a, err := Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	before, mass := len(a.Instances), a.PackMassG()
	bar := linkPart(t, a.Placement.Pitch, 0)
	err = a.AddLinks([]LinkPlace{
		{ID: "link-l1", Part: bar, From: TerminalAt{0, 0, 1}, To: TerminalAt{0, 1, 1}},
		{ID: "link-l2", Part: bar, From: TerminalAt{0, 1, 1}, To: TerminalAt{0, 2, 1}, HighMM: 2},
		{ID: "link-l3", From: TerminalAt{0, 2, 0}, To: TerminalAt{0, 3, 0}},
	})
	if err != nil {
		t.Fatal(err)
	}
	a.AddLoose(Loose{bar, 3})
	if n := len(a.Of(RoleLink)); n != 2 || len(a.Instances) != before+2 {
		t.Fatalf("%d bars placed, want 2: a cable is not placed", n)
	}
	if got := a.PackMassG() - mass; math.Abs(got-2*bar.MassG) > 1e-9 {
		t.Errorf("the pack is %.2f g heavier, two bars weigh %.2f", got, 2*bar.MassG)
	}
	last := a.PartsList()[len(a.PartsList())-1]
	if last.Part != bar || last.Quantity != 5 {
		t.Errorf("last line of the parts list %s x %d, want five bars", last.Part.ID, last.Quantity)
	}
	nets := a.LinkNets()
	if nets["cell-1-terminal-right"] != nets["cell-3-terminal-right"] || nets["link-l1"] != nets["cell-2-terminal-right"] {
		t.Error("bars do not join their terminals")
	}
	if nets["cell-3-terminal-left"] != nets["cell-4-terminal-left"] || nets["cell-1-terminal-left"] == nets["cell-1-terminal-right"] {
		t.Error("the cable joins two terminals and no others")
	}
	l1, l2 := a.Of(RoleLink)[0], a.Of(RoleLink)[1]
	if a.Meeting(l1, l2) != Sits {
		t.Error("bars on one terminal lie on each other")
	}
	for _, w := range a.Of(RoleTerminal) {
		want := Clear
		if w.ID == "cell-1-terminal-right" || w.ID == "cell-2-terminal-right" {
			want = Sits
		}
		if got := a.Meeting(w, l1); got != want {
			t.Errorf("%s meets the first bar: %v, want %v", w.ID, got, want)
		}
	}
	g, err := geom.DistanceWithin(l1.Body(), l2.Body(), 10)
	if err != nil || math.Abs(g.MM) > 1e-6 {
		t.Errorf("stacked bars are %g mm apart (%v), want touching", g.MM, err)
	}
	wide, err := a.Variant(Largest)
	if err != nil || len(wide.Of(RoleLink)) != 2 {
		t.Fatalf("the variant has no bars: %v", err)
	}
}

func TestAddLinksRefusesStrayTerminals(t *testing.T) {
	a, err := Build(sample.FourCells())
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range []LinkPlace{
		{ID: "link-l1", From: TerminalAt{0, 0, 1}, To: TerminalAt{0, 4, 1}},
		{ID: "link-l1", From: TerminalAt{1, 0, 1}, To: TerminalAt{0, 0, 1}},
		{ID: "link-l1", From: TerminalAt{0, 0, 2}, To: TerminalAt{0, 1, 1}},
		{ID: "link-l1", From: TerminalAt{0, 0, 1}, To: TerminalAt{0, 0, 1}},
	} {
		if err := a.AddLinks([]LinkPlace{k}); err == nil {
			t.Errorf("%+v was placed", k)
		}
	}
}
