package printed

import (
	"errors"
	"math"
	"testing"
	"time"

	"clampwright/parts"
	"clampwright/parts/geom"
)

var petg = parts.Material{Name: "petg", DensityGCM3: 1.27}

func printer() Printer {
	return Printer{BedMM: [3]float64{220, 220, 240}, FitMM: 0.25, MinWallMM: 1.2, Material: petg}
}

func label(id, mark string) parts.Label { return parts.Label{ID: id, Name: id, Mark: mark} }

// sample is a part with the printer's share in it.
type sample struct {
	name  string
	build func() ([]parts.Part, error)
	count int
	steep float64 // area that may hang over steeply, mm²: roofs of level bores
}

// bed is the bed a sample must fit, mm.
func (s sample) bed() [3]float64 {
	switch s.name {
	case "split-guard", "split-feeler":
		return [3]float64{120, 120, 120}
	case "split-sheet":
		return [3]float64{150, 150, 220}
	case "quartered-ribs":
		return [3]float64{130, 130, 130}
	}
	return printer().BedMM
}

func one(p parts.Part, err error) ([]parts.Part, error) { return []parts.Part{p}, err }

func sheetSpec(pads ...geom.Box2) SheetSpec {
	return SheetSpec{Label: label("separator", "S1"), Printer: printer(), Pads: pads, ThicknessMM: 3,
		CellWidthMM: 174.5, CellBottomMM: -100.5, CellTopMM: 101, LipMM: 6, FrontLips: true, BackLips: true, ReachMM: 16,
		CellNominalWidthMM: 174, CellNominalTopMM: 100.5,
		TopCuts: []parts.Notch{{X: -61, WidthMM: 24}, {X: 0, WidthMM: 40}, {X: 61, WidthMM: 24}}}
}

func ribs() []geom.Box2 {
	var out []geom.Box2
	for i := range 8 {
		x := -87 + float64(i)*(174-10)/7
		out = append(out, box(x, -100.5, x+10, 100.5))
	}
	return out
}

func frame() []geom.Box2 {
	return []geom.Box2{box(-87, -100.5, 87, -80.5), box(-87, 80.5, 87, 100.5), box(-87, -80.5, -67, 80.5), box(67, -80.5, 87, 80.5)}
}

func samples() []sample {
	p := printer()
	small := p
	small.BedMM = [3]float64{120, 120, 120}
	sheet := sheetSpec(box(-87, -100.5, 87, 100.5))
	framed := sheetSpec(frame()...)
	framed.Open, framed.BackLips = true, false
	split := sheet
	split.Printer.BedMM = [3]float64{150, 150, 220}
	return []sample{
		{"sheet", func() ([]parts.Part, error) { return Sheet(sheet, parts.KindSeparator) }, 1, 280},
		{"ribs", func() ([]parts.Part, error) { return Sheet(sheetSpec(ribs()...), parts.KindSeparator) }, 1, 280},
		{"frame", func() ([]parts.Part, error) { return Sheet(framed, parts.KindSeparator) }, 1, 0},
		{"split-sheet", func() ([]parts.Part, error) { return Sheet(split, parts.KindSeparator) }, 2, 280},
		{"quartered-ribs", func() ([]parts.Part, error) {
			q := sheetSpec(ribs()...)
			q.Printer.BedMM = [3]float64{130, 130, 130}
			return Sheet(q, parts.KindSeparator)
		}, 4, 280},
		{"guard", func() ([]parts.Part, error) { return Guard(GuardSpec{label("guard", "G1"), p, 20, 12, 200}) }, 1, 0},
		{"split-guard", func() ([]parts.Part, error) { return Guard(GuardSpec{label("guard", "G1"), small, 20, 12, 200}) }, 2, 0},
		{"end-cap", func() ([]parts.Part, error) {
			return one(EndCap(EndCapSpec{label("end-cap", "E1"), p, 28, 6, 30, 170, []parts.Hole{{C: geom.Vec2{X: 18, Y: 52}, DiaMM: 8.5}, {C: geom.Vec2{X: 18, Y: 150}, DiaMM: 8.5}}}))
		}, 1, 0},
		{"sleeve", func() ([]parts.Part, error) { return Sleeve(SleeveSpec{label("sleeve", "T1"), p, 11, 8.6, 210}) }, 2, 20},
		{"split-sleeve", func() ([]parts.Part, error) { return Sleeve(SleeveSpec{label("sleeve", "T1"), p, 11, 8.6, 560}) }, 5, 20},
		{"rod-cap", func() ([]parts.Part, error) { return one(RodCap(RodCapSpec{label("rod-cap", "C1"), p, 8, 14, 0, 0})) }, 1, 1},
		{"nut-cap", func() ([]parts.Part, error) {
			return one(RodCap(RodCapSpec{label("nut-cap", "C2"), p, 8, 3, 15, 6.8}))
		}, 1, 1},
		{"foot", func() ([]parts.Part, error) {
			return one(Foot(FootSpec{label("foot", "F1"), p, 24, 24, 30, 6.6, 14, 6.6}))
		}, 1, 1},
		{"corner-guide", func() ([]parts.Part, error) {
			return one(CornerGuide(CornerGuideSpec{label("guide", "D1"), p, []GuideHole{{14, 52, 2.1}, {12, 12, 2.1}}}))
		}, 1, 60},
		{"angle-guide", func() ([]parts.Part, error) {
			return one(AngleGuide(AngleGuideSpec{label("angle-guide", "D2"), p, []GuideHole{{14, 14, 8.2}}, 3.5, 27}))
		}, 1, 250},
		{"spring-gauge", func() ([]parts.Part, error) {
			return one(SpringGauge(SpringGaugeSpec{label("spring-gauge", "H1"), p, 18.4, 17.1, 4.5, 5}))
		}, 1, 0},
		{"feeler", func() ([]parts.Part, error) { return Feeler(FeelerSpec{label("feeler", "B1"), p, 174, 0.36}) }, 1, 0},
		{"split-feeler", func() ([]parts.Part, error) { return Feeler(FeelerSpec{label("feeler", "B1"), small, 174, 0.36}) }, 2, 0},
	}
}

// TestParts builds every kind of part and asks of each: closed, few slivers,
// under 5 MB as binary STL, walls the printer can make, on the bed, and no steep
// overhang beyond roofs of bores; made in a second.
func TestParts(t *testing.T) {
	for _, s := range samples() {
		start := time.Now()
		ps, err := s.build()
		if err != nil {
			t.Errorf("%s: %v", s.name, err)
			continue
		}
		took := time.Since(start)
		if len(ps) != s.count {
			t.Errorf("%s: %d pieces, want %d", s.name, len(ps), s.count)
		}
		for _, p := range ps {
			m, err := p.Solid.Mesh(0.01)
			if err != nil || m.Check() != nil {
				t.Errorf("%s: %v, %v", p.ID, err, m.Check())
				continue
			}
			if sl := slivers(m); sl > 0.01 {
				t.Errorf("%s: %.1f %% slivers", s.name, 100*sl)
			}
			if n := 84 + 50*len(m.Triangles); n > 5e6 {
				t.Errorf("%s: %d bytes", s.name, n)
			}
			if p.Print.WallMM < printer().MinWallMM-0.05 {
				t.Errorf("%s: wall %g mm", p.ID, p.Print.WallMM)
			}
			if p.Print.SteepMM2 > s.steep || p.Print.SteepMM2 > 1 && p.Print.Need == "" {
				t.Errorf("%s: %g mm² hang over steeply", p.ID, p.Print.SteepMM2)
			}
			if b := m.Transform(p.Print.Lie).Bounds(); math.Abs(b.Min.Z) > 1e-6 || math.Abs(b.Center().X) > 1e-6 {
				t.Errorf("%s lies at %v", p.ID, b)
			} else if d, bed := b.Size(), s.bed(); d.X > bed[0] || d.Y > bed[1] || d.Z > bed[2] {
				t.Errorf("%s is %v, the bed %v", p.ID, d, bed)
			}
			if s.count > 1 && p.Print.Joint == "" {
				t.Errorf("%s is a piece without a joint", p.ID)
			}
			t.Logf("%-14s %6d triangles, wall %.2f, steep %.1f mm², %.1f g, %v", p.ID, len(m.Triangles), p.Print.WallMM, p.Print.SteepMM2, p.MassG, took.Round(time.Millisecond))
		}
	}
}

func TestRefusals(t *testing.T) {
	p := printer()
	nan := math.NaN()
	for name, build := range map[string]func() error{
		"guard": func() error { _, err := Guard(GuardSpec{label("g", ""), p, nan, 12, 200}); return err },
		"printer": func() error {
			q := p
			q.FitMM = nan
			_, err := Guard(GuardSpec{label("g", ""), q, 20, 12, 200})
			return err
		},
		"cap":    func() error { _, err := RodCap(RodCapSpec{label("c", ""), p, math.Inf(1), 14, 0, 0}); return err },
		"sleeve": func() error { _, err := Sleeve(SleeveSpec{label("s", ""), p, 8, 9, 200}); return err },
		"foot":   func() error { _, err := Foot(FootSpec{label("f", ""), p, 5, 24, 30, 6.6, 14, 6.6}); return err },
		"guide":  func() error { _, err := CornerGuide(CornerGuideSpec{label("d", ""), p, nil}); return err },
		"gauge":  func() error { _, err := SpringGauge(SpringGaugeSpec{label("h", ""), p, 10, 12, 4, 5}); return err },
		"feeler": func() error { _, err := Feeler(FeelerSpec{label("b", ""), p, 174, nan}); return err },
		"sheet": func() error {
			_, err := Sheet(SheetSpec{Label: label("s", ""), Printer: p}, parts.KindSeparator)
			return err
		},
	} {
		var pe *parts.Error
		if err := build(); !errors.As(err, &pe) || !errors.Is(err, geom.ErrSize) {
			t.Errorf("%s: %v", name, err)
		}
	}
	thin := sheetSpec(ribs()...)
	thin.ThicknessMM = 1.3
	if _, err := Sheet(thin, parts.KindSeparator); !errors.Is(err, geom.ErrSize) {
		t.Error("thin ribs:", err)
	}
}
