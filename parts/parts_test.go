package parts

import (
	"errors"
	"math"
	"testing"

	"clampwright/parts/geom"
)

var (
	hdpe      = Material{Name: "HDPE", DensityGCM3: 0.95}
	aluminium = Material{Name: "aluminium", DensityGCM3: 2.70, Conducts: true}
	steel     = Material{Name: "steel", DensityGCM3: 7.85, Conducts: true}
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.10g, want %.10g (± %g)", what, got, want, tol)
	}
}

func made(t testing.TB) func(Part, error) Part {
	return func(p Part, err error) Part {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
}

func plateSpec() PlateSpec {
	h := func(x, y float64) Hole {
		return Hole{C: geom.Vec2{X: x, Y: y}, DiaMM: 8.7, For: "rod 5/16-18", PilotMM: 1.6}
	}
	return PlateSpec{
		Label: Label{ID: "end-plate", Mark: "P1"}, Material: hdpe,
		WidthMM: 224, HeightMM: 200, ThicknessMM: 12.7, CornerRadiusMM: 6, EngraveMark: true,
		RodHoles: []Hole{h(-100, -50), h(100, -50), h(-100, 50), h(100, 50)},
		Slots:    []SlotSpec{{"S1", geom.Vec2{X: -20, Y: 85}, geom.Vec2{X: 20, Y: 85}, 8}},
	}
}

func stiffenerSpec(up bool) StiffenerSpec {
	return StiffenerSpec{
		Label: Label{ID: "stiffener", Mark: "A1"}, Material: aluminium, DrilledLegMM: 30, StandingLegMM: 25, ThicknessMM: 3,
		RootMM: 3, ToeMM: 1.5, LengthMM: 224, GaugeMM: 16, StandingUp: up,
		Holes: []Hole{{C: geom.Vec2{X: -100}, DiaMM: 8.7}, {C: geom.Vec2{X: 90}, DiaMM: 8.7}},
	}
}

// checkPart verifies what holds for every part: the mesh is closed, the box is
// the size, holes are in the solid and the flat alike.
func checkPart(t *testing.T, p Part) {
	t.Helper()
	m, err := p.Solid.Mesh(0.01)
	if err != nil {
		t.Fatalf("%s: %v", p.ID, err)
	}
	if err := m.Check(); err != nil {
		t.Errorf("%s: %v", p.ID, err)
	}
	near(t, p.ID+" mesh volume", m.Volume(), p.Solid.Volume(), 0.001*p.Solid.Volume())
	if p.Flat == nil {
		return
	}
	if err := p.Flat.Profile.Validate(); err != nil {
		t.Errorf("%s flat: %v", p.ID, err)
	}
	if len(p.Holes) != len(p.Flat.Profile.Circles) {
		t.Errorf("%s: %d holes, %d circles", p.ID, len(p.Holes), len(p.Flat.Profile.Circles))
	}
	for i, h := range p.Holes {
		probe, err := geom.Cylinder(h.DiaMM/2-0.25, -1, p.Flat.ThicknessMM+1)
		if err != nil {
			t.Fatal(err)
		}
		g, err := geom.DistanceWithin(geom.NewBody(p.Solid, geom.World()), geom.NewBody(probe, geom.At(h.C.V3(0))), 1)
		if err != nil {
			t.Fatal(err)
		}
		near(t, p.ID+" hole "+h.ID+" gap", g.MM, 0.25, 1e-9)
		if p.Flat.Profile.Circles[i].C != h.C {
			t.Errorf("%s: hole %d not where the flat has it", p.ID, i)
		}
	}
}

func TestEndPlate(t *testing.T) {
	p := made(t)(EndPlate(plateSpec()))
	checkPart(t, p)
	area := 224*200. - (4-math.Pi)*36 - 4*math.Pi*4.35*4.35 - (40*8 + math.Pi*16)
	near(t, "mass", p.MassG, area*12.7/1000*0.95, 1e-6)
	b := p.Solid.Bounds()
	if b.Min != (geom.Vec3{X: -112, Y: -100}) || b.Max != (geom.Vec3{X: 112, Y: 100, Z: 12.7}) {
		t.Errorf("bounds %v", b)
	}
	if p.SizeMM != [3]float64{224, 200, 12.7} || p.Holes[3].ID != "H4" {
		t.Errorf("size %v, holes %v", p.SizeMM, p.Holes)
	}
	texts := map[string]bool{}
	for _, m := range p.Flat.Marks {
		texts[m.Text] = true
		if !p.Flat.Profile.Contains(m.At) {
			t.Errorf("mark %q at %v is off the plate or in a hole", m.Text, m.At)
		}
	}
	if !texts["UP"] || !texts["P1"] {
		t.Errorf("marks %v", texts)
	}
}

func TestStiffenerConvention(t *testing.T) {
	up := made(t)(Stiffener(stiffenerSpec(true)))
	checkPart(t, up)
	b := up.Solid.Bounds()
	near(t, "heel", b.Max.Y, 16, 1e-12)
	near(t, "tip", b.Min.Y, -14, 1e-12)
	near(t, "plate side", b.Min.Z, 0, 1e-12)
	near(t, "standing leg", b.Max.Z, 25, 1e-12)
	if c := up.Solid.Centroid(); !(c.Y > 1) || !(c.Z > 1.5) { // the standing leg pulls it up and out
		t.Errorf("centroid %v", c)
	}
	down := made(t)(Stiffener(stiffenerSpec(false)))
	checkPart(t, down)
	b = down.Solid.Bounds()
	near(t, "heel", b.Min.Y, -16, 1e-12)
	near(t, "tip", b.Max.Y, 14, 1e-12)
	near(t, "same mass", up.MassG, down.MassG, 1e-9)
	spandrel := 1 - math.Pi/4
	area := 3*(30+25-3) + spandrel*(9-2*2.25)
	near(t, "mass", up.MassG, (area*224-2*3*math.Pi*4.35*4.35)/1000*2.70, 1e-6)
	s := stiffenerSpec(true)
	s.ChamferMM = 8
	cut := made(t)(Stiffener(s))
	checkPart(t, cut)
	if !(cut.MassG < up.MassG-0.3) {
		t.Errorf("chamfer takes %g g off", up.MassG-cut.MassG)
	}
}

func TestStiffenerHoleOnFillet(t *testing.T) {
	s := stiffenerSpec(true)
	s.GaugeMM = 10
	_, err := Stiffener(s)
	var he *geom.HoleError
	if !errors.As(err, &he) {
		t.Fatalf("err = %v", err)
	}
	if he.Hole != "H1" || he.Where != "root fillet" {
		t.Errorf("%+v", he)
	}
	near(t, "need", he.NeedMM, 3+3+4.35+geom.MinLigament, 1e-12)
	near(t, "have", he.HaveMM, 10, 1e-12)
}

func TestRodsNutsAndRings(t *testing.T) {
	rod := made(t)(Rod(RodSpec{Label{ID: "rod"}, steel, 8, 6.466, 1.25, 300}))
	checkPart(t, rod)
	near(t, "rod volume", rod.Solid.Volume(), math.Pi*16*300, 1e-6)
	d2 := 8 - 0.649519*1.25 // ISO 724: 7.188 for M8
	near(t, "pitch diameter", d2, 7.188, 0.0005)
	near(t, "rod mass", rod.MassG, math.Pi/4*d2*d2*300*7.85/1000, 0.01)
	nut := made(t)(Nut(NutSpec{Label: Label{ID: "nut"}, Material: steel, AcrossFlatsMM: 13, BoreMM: 8, HeightMM: 6.8}))
	checkPart(t, nut)
	near(t, "nut volume", nut.Solid.Volume(), (math.Sqrt(3)/2*169-16*math.Pi)*6.8, 1e-8)
	near(t, "nut across corners", nut.SizeMM[0], 13/math.Cos(math.Pi/6), 1e-9)
	w := made(t)(Washer(RingSpec{Label{ID: "washer"}, steel, 16, 8.4, 1.6, 0}))
	checkPart(t, w)
	near(t, "washer mass", w.MassG, math.Pi/4*(256-70.56)*1.6*7.85/1000, 1e-9)
	sp := made(t)(Spring(RingSpec{Label{ID: "spring"}, steel, 16, 8.2, 7, 0}))
	if sp.MassG != 0 || sp.Kind != KindSpring {
		t.Errorf("spring %+v", sp)
	}
	sl := made(t)(Sleeve(RingSpec{Label{ID: "sleeve"}, hdpe, 12, 8.6, 250, 0}))
	checkPart(t, sl)
	if sl.Make != MakeBar || sl.Conducts {
		t.Errorf("sleeve %v", sl.Make)
	}
}

// flatArea is the area of a flat part, mm².
func flatArea(p Part) float64 { return p.Solid.Volume() / p.Flat.ThicknessMM }

func TestSheets(t *testing.T) {
	s := SheetSpec{Label: Label{ID: "separator"}, Material: hdpe, WidthMM: 174, HeightMM: 200, ThicknessMM: 1, CornerRadiusMM: 3,
		Notches: []Notch{{-60, 30, 12}, {60, 30, 12}, {0, 20, 5}}}
	p := made(t)(Separator(s))
	checkPart(t, p)
	near(t, "area", flatArea(p), 174*200-(4-math.Pi)*9-2*360-100, 1e-8)
	f := made(t)(Liner(SheetSpec{Label: Label{ID: "liner"}, Material: hdpe, WidthMM: 174, HeightMM: 200, ThicknessMM: 1, BorderMM: 20}))
	checkPart(t, f)
	near(t, "frame", flatArea(f), 174*200-134*160, 1e-8)
	for name, ns := range map[string][]Notch{
		"overlapping": {{0, 30, 5}, {20, 20, 5}}, "off the edge": {{80, 30, 5}}, "off the left": {{-80, 30, 5}},
		"too deep": {{0, 10, 210}}, "no width": {{0, 0, 5}}, "nan": {{math.NaN(), 10, 5}},
	} {
		s.Notches = ns
		if _, err := Separator(s); !errors.Is(err, geom.ErrSize) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestLinkBars(t *testing.T) {
	s := LinkSpec{Label: Label{ID: "link"}, Material: aluminium, HolesMM: 72, WidthMM: 20, ThicknessMM: 2, HoleMM: 6.5, TravelMM: 3, EndMM: 10, CornerRadiusMM: 3}
	p := made(t)(LinkBar(s))
	checkPart(t, p)
	hole := math.Pi / 4 * 6.5 * 6.5
	near(t, "straight", flatArea(p), (72+1.5+20)*20-(4-math.Pi)*9-2*hole-3*6.5, 1e-8)
	for _, o := range []float64{12, -12} {
		s.OffsetMM = o
		q := made(t)(LinkBar(s))
		checkPart(t, q)
		// a mitred strip's area is its width times its centre line's length
		run, jog := 93.5, 12.0
		want := (run-jog)*20 + jog*math.Sqrt2*20 - (4-math.Pi)*9 - 2*hole - 3*6.5
		near(t, "jogged", flatArea(q), want, 1e-8)
		if b := q.Solid.Bounds(); math.Abs(b.Max.Y+b.Min.Y-o) > 1e-9 {
			t.Errorf("offset %g: %v", o, b)
		}
	}
}

// Bars for terminals of several screws have a hole and a slot for each, in line about the
// middle of either end.
func TestLinkBarsOfSeveralScrews(t *testing.T) {
	hole := math.Pi / 4 * 5.5 * 5.5
	for _, step := range []geom.Vec2{{Y: 18}, {X: 14}} {
		s := LinkSpec{Label: Label{ID: "link"}, Material: aluminium, HolesMM: 72, WidthMM: 36, ThicknessMM: 2, HoleMM: 5.5, TravelMM: 3, EndMM: 18, Screws: 2, ScrewStep: step}
		p := made(t)(LinkBar(s))
		checkPart(t, p)
		near(t, "two screws", flatArea(p), (72+1.5+36)*36-2*(2*hole+3*5.5), 1e-8)
		if len(p.Holes) != 2 || p.Holes[0].C != step.Mul(-0.5) || p.Holes[1].C != step.Mul(0.5) {
			t.Errorf("holes %+v", p.Holes)
		}
		for i, slot := range p.Flat.Profile.Slots {
			if c := slot.Bounds().Center(); c.Dist(geom.Vec2{X: 72}.Add(step.Mul(float64(i)-0.5))) > 1e-9 {
				t.Errorf("slot at %v", c)
			}
		}
		s.TravelMM = 0
		if p := made(t)(LinkBar(s)); len(p.Holes) != 4 || len(p.Flat.Profile.Slots) != 0 {
			t.Errorf("round holes alone: %+v", p.Holes)
		}
	}
}

func TestCell(t *testing.T) {
	c := made(t)(CellCase(CellSpec{Label: Label{ID: "cell"}, WidthMM: 174, HeightMM: 201, ThicknessMM: 72, MassG: 5400, CaseLive: true}))
	checkPart(t, c)
	if c.MassG != 5400 || !c.Conducts || c.Make != MakeOwn {
		t.Errorf("%+v", c)
	}
	ps, err := Terminal(TerminalSpec{Label: Label{ID: "terminal"}, PadMM: 18, PadHeightMM: 3, StudMM: 6, StudHeightMM: 12})
	if err != nil || len(ps) != 2 {
		t.Fatal(len(ps), err)
	}
	near(t, "stud top", ps[1].Solid.Bounds().Max.Y, 15, 1e-12)
}

func TestRefusals(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, v := range []float64{0, -1, nan, inf, 1e9} {
		s := plateSpec()
		s.ThicknessMM = v
		if _, err := EndPlate(s); !errors.Is(err, geom.ErrSize) {
			t.Errorf("thickness %g: %v", v, err)
		}
		a := stiffenerSpec(true)
		a.LengthMM = v
		if _, err := Stiffener(a); !errors.Is(err, geom.ErrSize) {
			t.Errorf("length %g: %v", v, err)
		}
		if _, err := Rod(RodSpec{Label{ID: "rod"}, steel, 8, 0, 1.25, v}); !errors.Is(err, geom.ErrSize) {
			t.Errorf("rod %g: %v", v, err)
		}
		if _, err := Nut(NutSpec{Label: Label{ID: "nut"}, AcrossFlatsMM: 13, BoreMM: v, HeightMM: 5}); !errors.Is(err, geom.ErrSize) {
			t.Errorf("nut bore %g: %v", v, err)
		}
	}
	s := plateSpec()
	s.RodHoles[1].C.X = nan
	var he *geom.HoleError
	if _, err := EndPlate(s); !errors.As(err, &he) {
		t.Errorf("hole at NaN: %v", err)
	}
	s = plateSpec()
	s.RodHoles[1].C.X = 110
	if _, err := EndPlate(s); !errors.As(err, &he) || he.Hole != "H2" {
		t.Errorf("hole over the edge: %v", err)
	}
	s = plateSpec()
	s.FootHoles = []Hole{{C: geom.Vec2{X: 100, Y: 55}, DiaMM: 5}}
	if _, err := EndPlate(s); !errors.As(err, &he) || he.Hole != "H5" || he.Where != "hole H4" {
		t.Errorf("holes meet: %v", err)
	}
	s = plateSpec()
	s.Slots[0].A.X = -115
	if _, err := EndPlate(s); !errors.As(err, &he) || he.Hole != "S1" || he.Where != "edge" {
		t.Errorf("slot over the edge: %v", err)
	}
	s = plateSpec()
	s.RodHoles[0].C = s.Slots[0].A
	if _, err := EndPlate(s); !errors.As(err, &he) || he.Hole != "S1" || he.Where != "hole H1" {
		t.Errorf("slot over a hole: %v", err)
	}
	s = plateSpec()
	s.ID = "../etc"
	if _, err := EndPlate(s); err == nil {
		t.Error("unsafe identifier passed")
	}
}

func TestMarksAvoidHoles(t *testing.T) {
	s := plateSpec()
	s.Lightening = []Hole{{C: geom.Vec2{}, DiaMM: 120}}
	p := made(t)(EndPlate(s))
	if len(p.Flat.Marks) == 0 {
		t.Fatal("no marks")
	}
	for _, m := range p.Flat.Marks {
		if m.At.Len() < 60 {
			t.Errorf("mark %q in the hole", m.Text)
		}
	}
	s.Lightening[0].DiaMM = 190
	s.Slots = nil
	s.MarkHeightMM = 60
	if p := made(t)(EndPlate(s)); len(p.Flat.Marks) != 0 {
		t.Errorf("marks where there is no room: %v", p.Flat.Marks)
	}
}
