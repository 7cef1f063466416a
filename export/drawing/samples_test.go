package drawing_test

import (
	"fmt"
	"math"

	"clampwright/export/drawing"
	"clampwright/parts"
	"clampwright/parts/geom"
)

func v(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }

// roundedRect is a plate outline with corner radius r, counter-clockwise.
func roundedRect(w, h, r float64) geom.Path {
	if r == 0 {
		return geom.Path{{P: v(0, 0)}, {P: v(w, 0)}, {P: v(w, h)}, {P: v(0, h)}}
	}
	q := math.Tan(math.Pi / 8)
	return geom.Path{
		{P: v(r, 0)}, {P: v(w-r, 0), Bulge: q}, {P: v(w, r)}, {P: v(w, h-r), Bulge: q},
		{P: v(w-r, h)}, {P: v(r, h), Bulge: q}, {P: v(0, h-r)}, {P: v(0, r), Bulge: q},
	}
}

// drilled makes a flat part with round holes.
func drilled(id string, kind parts.Kind, outer geom.Path, t, dia, pilot float64, use string, at ...geom.Vec2) *parts.Part {
	p := &parts.Part{ID: id, Kind: kind, Flat: &parts.Flat{Profile: geom.Profile{Outer: outer}, ThicknessMM: t}}
	for i, c := range at {
		p.Flat.Profile.Circles = append(p.Flat.Profile.Circles, geom.Circle{C: c, R: dia / 2})
		p.Holes = append(p.Holes, parts.Hole{ID: fmt.Sprintf("H%d", i+1), C: c, DiaMM: dia, For: use, PilotMM: pilot})
	}
	return p
}

func metricPlate() *parts.Part {
	p := drilled("end-plate", parts.KindPlate, roundedRect(236, 205, 3), 19.05, 9, 2, "rod M8",
		v(14, 52), v(222, 52), v(14, 153), v(222, 153))
	p.Name, p.Mark, p.Material, p.Stock, p.MassG = "end plate", "P1", "HDPE", "HDPE sheet 19.05 mm", 875
	p.Flat.Marks = []parts.Mark{{Text: "UP P1", At: v(105, 185), HeightMM: 8}}
	return p
}

func wideInchPlate() *parts.Part {
	var at []geom.Vec2
	for _, y := range []float64{2 * 25.4, 6.125 * 25.4} {
		for _, x := range []float64{0.5625 * 25.4, 200, 400 - 0.5625*25.4} {
			at = append(at, v(x, y))
		}
	}
	p := drilled("end-plate", parts.KindPlate, roundedRect(400, 210, 0), 12.7, 8.73125, 1.5875, "rod 5/16-18", at...)
	p.Name, p.Mark, p.Material, p.Stock, p.MassG = "end plate, two rows", "P1", "birch plywood", "plywood sheet 1/2 in", 747
	p.Flat.Grain, p.Flat.GrainAlongX = true, true
	return p
}

// angle is a length of 1-1/4 x 1-1/4 x 1/8 in angle drilled near its ends.
func angle(length float64, heelHigh bool) (*parts.Part, *drawing.AngleShape) {
	const leg = 31.75
	y := 17.5
	if heelHigh {
		y = leg - y
	}
	p := drilled("stiffener", parts.KindStiffener, roundedRect(length, leg, 0), 3.175, 8.73125, 1.5875, "rod 5/16-18",
		v(14, y), v(length-14, y))
	p.Name, p.Mark, p.Material, p.Stock = "stiffener", "A1", "aluminium 6061-T6", "angle 1-1/4 x 1-1/4 x 1/8 in"
	p.MassG = 0.39 * length * 2.5
	return p, &drawing.AngleShape{DrilledLegMM: leg, StandingLegMM: leg, ThicknessMM: 3.175, RootMM: 3.2, ToeMM: 1.6, ChamferMM: 3, HeelHigh: heelHigh}
}

func rod() (*parts.Part, *drawing.RodShape) {
	p := &parts.Part{ID: "rod", Kind: parts.KindRod, Name: "threaded rod", Mark: "R1", Material: "steel, zinc plated", Stock: "5/16-18 threaded rod", MassG: 98}
	return p, &drawing.RodShape{LengthMM: 336.55, MajorMM: 7.94, MinorMM: 6.1, Thread: "5/16-18 UNC"}
}

func linkBar() *parts.Part {
	p := drilled("link-bar", parts.KindLink, roundedRect(92, 20, 2), 2, 6.6, 2, "terminal M6", v(10, 10))
	q := 1.0 // half circle
	p.Flat.Profile.Slots = []geom.Path{{{P: v(80, 6.7)}, {P: v(80, 13.3), Bulge: -q}, {P: v(82, 13.3)}, {P: v(82, 6.7), Bulge: -q}}}
	p.Flat.Profile.Slots[0] = geom.Path{{P: v(80, 6.7), Bulge: -q}, {P: v(80, 13.3)}, {P: v(82, 13.3), Bulge: -q}, {P: v(82, 6.7)}}
	p.Name, p.Mark, p.Material, p.Stock, p.MassG = "link bar", "L1", "copper", "copper bar 20 x 2 mm", 32
	return p
}

// drillName names a twist drill by size, fractions to 1/64 in or 0.1 mm.
func drillName(inch bool) func(float64) string {
	if inch {
		return drawing.Inches(64).Words
	}
	return func(mm float64) string { return drawing.Millimetres(1).Words(mm) }
}

type sample struct {
	name  string
	sheet drawing.PartSheet
}

func samples() []sample {
	mm, in := drawing.Millimetres(2), drawing.Inches(16)
	base := func(p *parts.Part, u drawing.Units, paper drawing.Paper, n int) drawing.PartSheet {
		return drawing.PartSheet{Part: p, Quantity: n, Units: u, Paper: paper, Fixture: "garage bank, 8 cells", Print: "3f9a02c47e11d0",
			Tolerance: "sizes ±0.5 mm, hole positions ±0.3 mm, angles ±0.5°", Drill: drillName(u.Name == "inches")}
	}
	list := []sample{
		{"plate-mm", base(metricPlate(), mm, drawing.A4, 2)},
		{"plate-in", base(metricPlate(), in, drawing.Letter, 2)},
		{"wide-in", base(wideInchPlate(), in, drawing.Letter, 2)},
		{"wide-mm", base(wideInchPlate(), mm, drawing.A4, 2)},
		{"link-mm", base(linkBar(), mm, drawing.A4, 7)},
	}
	for _, l := range []float64{236, 600} {
		for _, high := range []bool{false, true} {
			p, a := angle(l, high)
			u, paper := mm, drawing.A4
			if high {
				u, paper = in, drawing.Letter
			}
			s := base(p, u, paper, 4)
			s.Angle = a
			list = append(list, sample{fmt.Sprintf("angle-%.0f-%v", l, u.Name), s})
		}
	}
	p, r := rod()
	s := base(p, in, drawing.Letter, 4)
	s.Rod = r
	list = append(list, sample{"rod-in", s})
	for _, u := range []drawing.Units{mm, in} {
		s = base(&parts.Part{ID: "sleeve", Kind: parts.KindSleeve, Name: "rod sleeve", Mark: "T1", Material: "pet", Stock: "pet tube 13 x 10.6 mm", MassG: 34.5}, u, drawing.A4, 6)
		s.Tube = &drawing.TubeShape{LengthMM: 562, OuterMM: 13, InnerMM: 10.6}
		list = append(list, sample{"tube-" + u.Name, s})
	}
	return list
}
