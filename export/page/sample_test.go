package page

import (
	"fmt"
	"math"

	"clampwright/parts/geom"
)

// The sample is a fixture of our own: sixteen cells in two rows of eight
// between end plates with two stiffeners each, twelve rods.

const (
	sampleThick, sampleWide, sampleHigh = 72.0, 174.0, 201.0
	samplePlateT                        = 18.0
	sampleStack                         = 8 * sampleThick
)

// prism extrudes a convex or star-shaped (from its first vertex) outline along
// z from 0 to depth.
func prism(outline Polyline, depth float64) geom.Mesh {
	var m geom.Mesh
	n := int32(len(outline))
	for _, z := range []float64{0, depth} {
		for _, v := range outline {
			m.Vertices = append(m.Vertices, geom.Vec3{X: v.X, Y: v.Y, Z: z})
		}
	}
	for i := int32(1); i+1 < n; i++ {
		m.Triangles = append(m.Triangles, geom.Triangle{0, i + 1, i}, geom.Triangle{n, n + i, n + i + 1})
	}
	for i := range n {
		j := (i + 1) % n
		m.Triangles = append(m.Triangles, geom.Triangle{i, j, n + j}, geom.Triangle{i, n + j, n + i})
	}
	return m
}

func ngon(r float64, n int) Polyline {
	out := make(Polyline, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = geom.Vec2{X: r * c, Y: r * s}
	}
	return out
}

func rectangle(x0, y0, x1, y1 float64) Polyline {
	return Polyline{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func at(x, y, z float64) geom.Frame {
	return geom.Frame{O: geom.Vec3{X: x, Y: y, Z: z}, X: geom.Vec3{X: 1}, Y: geom.Vec3{Y: 1}, Z: geom.Vec3{Z: 1}}
}

// facing turns a part that grows along +z to grow along -z.
func facing(x, y, z float64) geom.Frame {
	return geom.Frame{O: geom.Vec3{X: x, Y: y, Z: z}, X: geom.Vec3{X: -1}, Y: geom.Vec3{Y: 1}, Z: geom.Vec3{Z: -1}}
}

var (
	sampleColumns = []float64{-198, 0, 198}
	sampleLevels  = []float64{52, 153}
)

func sampleScene() Scene {
	sc := Scene{Description: "Two rows of eight cells between two plates; two angle stiffeners and six rods on each end."}
	half := sampleStack / 2
	add := func(name, group string, class Class, m geom.Mesh, places ...Place) {
		sc.Bodies = append(sc.Bodies, Body{name, group, class, m, places})
	}
	var cells, poles, plates, angles, rods, nuts, washers []Place
	for i := range 8 {
		z := -half + sampleThick*float64(i)
		for r, x := range []float64{-88, 88} {
			name := fmt.Sprintf("cell %d", 8*r+i+1)
			cells = append(cells, Place{name, at(x, 0, z)})
			for _, dx := range []float64{-62, 62} {
				f := geom.Frame{O: geom.Vec3{X: x + dx, Y: sampleHigh, Z: z + sampleThick/2}, X: geom.Vec3{Z: 1}, Y: geom.Vec3{X: 1}, Z: geom.Vec3{Y: 1}}
				poles = append(poles, Place{"terminal of " + name, f})
			}
		}
	}
	plates = append(plates, Place{"front plate", at(0, 0, half)}, Place{"back plate", facing(0, 0, -half)})
	face := half + samplePlateT
	for _, y := range sampleLevels {
		angles = append(angles, Place{"", at(-220, y-15, face)}, Place{"", facing(220, y-15, -face)})
		for _, x := range sampleColumns {
			rods = append(rods, Place{fmt.Sprintf("rod %d", len(rods)+1), at(x, y, -face-20)})
			washers = append(washers, Place{"", at(x, y, face+3)}, Place{"", facing(x, y, -face-3)})
			nuts = append(nuts, Place{"", at(x, y, face+5)}, Place{"", facing(x, y, -face-5)})
		}
	}
	add("cell", "cells", Cell, prism(rectangle(-87, 0, 87, sampleHigh), sampleThick), cells...)
	add("terminal", "cells", Terminal, prism(ngon(9, 48), 4), poles...)
	add("end plate", "plates", Plate, prism(rectangle(-220, -2, 220, 205), samplePlateT), plates...)
	add("stiffener", "stiffeners", Angle, angleMesh(440), angles...)
	add("rod M8", "rods and nuts", Rod, prism(ngon(4, 96), sampleStack+2*samplePlateT+40), rods...)
	add("washer", "rods and nuts", Hardware, prism(ngon(8, 96), 2), washers...)
	add("nut", "rods and nuts", Hardware, prism(ngon(7.5, 6), 8), nuts...)
	return sc
}

// angleMesh is a 30 x 30 x 3 angle of length l along x, its leg on the plane
// z = 0, the standing leg at its foot.
func angleMesh(l float64) geom.Mesh {
	m := prism(Polyline{{X: 3, Y: 3}, {X: 3, Y: 30}, {X: 0, Y: 30}, {X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 3}}, l)
	for i, v := range m.Vertices {
		m.Vertices[i] = geom.Vec3{X: v.Z, Y: v.Y, Z: v.X}
	}
	for i, t := range m.Triangles { // the swap of x and z mirrors
		m.Triangles[i] = geom.Triangle{t[0], t[2], t[1]}
	}
	return m
}

// sampleField is a made-up field that is least in the middle.
func sampleField(x0 float64, mean, dip float64) Field {
	f := Field{}
	const n = 36
	for i := range n + 1 {
		f.X = append(f.X, x0+sampleWide*float64(i)/n)
		f.Y = append(f.Y, sampleHigh*float64(i)/n)
	}
	for _, y := range f.Y {
		for _, x := range f.X {
			u, v := (x-x0)/sampleWide*2-1, y/sampleHigh*2-1
			p := mean * (1 - dip*(1-u*u)*(1-v*v) + dip*0.7*math.Exp(-8*(math.Abs(v)-0.52)*(math.Abs(v)-0.52))*(0.5+0.5*u*u))
			f.P = append(f.P, math.Max(0, p))
		}
	}
	return f
}

func sampleClamp() Clamp {
	c := Clamp{
		Sentences: []string{"In the state that matters most, full, the middle of the face gets 88 % of the mean pressure.",
			"The verdict holds over the whole range of unknown stiffness, from half to double."},
		ForceUnit: "N", PressureUnit: "kPa", LengthUnit: "mm",
		Window:      Window{true, 60, 110, "data sheet, 60 to 110 kPa"},
		MarginNames: []string{"plate", "angle", "rod", "thread", "seat"},
		Faces:       Faces{Plate: geom.Box2{Min: geom.Vec2{X: -220, Y: -2}, Max: geom.Vec2{X: 220, Y: 205}}},
	}
	for _, y := range sampleLevels {
		c.Faces.Angles = append(c.Faces.Angles, Strip{geom.Box2{Min: geom.Vec2{X: -220, Y: y - 15}, Max: geom.Vec2{X: 220, Y: y + 15}}, "stiffener"})
		for _, x := range sampleColumns {
			c.Faces.Rods = append(c.Faces.Rods, geom.Circle{C: geom.Vec2{X: x, Y: y}, R: 4})
		}
	}
	for _, s := range []struct {
		name      string
		mean, dip float64
		v         Verdict
		reason    string
	}{
		{"as tightened", 84, 0.12, Pass, ""}, {"storage charge", 88, 0.12, Pass, ""}, {"full", 104, 0.10, Warn, "corner above the window"},
		{"full and aged", 118, 0.09, Fail, "mean above the window"}, {"after creep, 1000 h", 62, 0.3, Warn, "middle below the window"}, {"cold, −10 °C", 71, 0.15, Pass, ""},
	} {
		fs := []Field{sampleField(-175, s.mean, s.dip), sampleField(1, s.mean, s.dip)}
		lo, hi := fs[0].extremes()
		c.States = append(c.States, State{
			Name: s.name, Force: fmt.Sprintf("%.0f", s.mean*69.948), RodForces: fmt.Sprintf("6 × %.0f", s.mean*11.66),
			Mean: roundFigure(s.mean), Least: roundFigure(lo.v), Greatest: roundFigure(hi.v), Middle: roundFigure(s.mean * (1 - s.dip)),
			Contact: "100 %", Deflection: "0.21", Margins: []string{"4.1", "3.2", "6.8", "7.9", "2.4"}, Verdict: s.v, Reason: s.reason, Fields: fs,
		})
	}
	ch := Chart{Title: "Force against charge", Caption: "Nuts locked as set.", XLabel: "charge, %", YLabel: "force in all, N", Window: Window{true, 4200, 7690, "data sheet, 4200 to 7690 N"}}
	sr := Series{Name: "new cells"}
	aged := Series{Name: "aged cells"}
	for i := range 21 {
		q := float64(i) * 5
		g := 900*q/100 + 350*math.Sin(q/100*math.Pi*2)
		sr.X, aged.X = append(sr.X, q), append(aged.X, q)
		sr.Y, aged.Y = append(sr.Y, 5800+g), append(aged.Y, 6700+1.1*g)
	}
	ch.Series = []Series{sr, aged}
	ch.Marks = []ChartMark{{40, 5800 + 360 + 350*math.Sin(0.8*math.Pi), "storage"}, {100, 6700, "full"}}
	c.Charge = ch
	return c
}

func sampleChecks() []Check {
	out := []Check{
		{Group: "interference", Name: "interference.pairs", Between: []string{"all solids"}, Measured: "0 of 1431 pairs", Required: "0", Verdict: Pass, Why: "Two things cannot be in the same place."},
		{Group: "keep clear", Name: "keep-clear.rod-cell", Between: []string{"rod 1", "cell 1"}, Measured: "19.0 mm", Required: "12.0 mm", Verdict: Pass, Why: "The pliers that hold the rod need room."},
		{Group: "keep clear", Name: "keep-clear.socket", Between: []string{"socket on nut 3", "standing leg of the stiffener at 52 mm"}, Measured: "−0.8 mm", Required: "0.5 mm", Verdict: Fail,
			Why: "The socket does not go over the nut, so it cannot be driven.", Change: "move the hole 1.3 mm up the leg, to 16.3 mm from the heel",
			Sketch: &Sketch{Caption: "Section through rod 3, seen from the side.",
				Shapes: []SketchShape{
					{"stiffener", First, []Polyline{{{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 3}, {X: 3, Y: 3}, {X: 3, Y: 30}, {X: 0, Y: 30}}}},
					{"socket", Second, []Polyline{rectangle(5, 2.2, 40, 23)}},
					{"nut", Beside, []Polyline{rectangle(5, 5.2, 13, 20)}},
					{"rod", Beside, []Polyline{rectangle(-14, 8.6, 24, 16.6)}},
				},
				Points: []SketchPoint{{geom.Vec2{X: 17, Y: 2.6}, "fouls 0.8 mm deep"}},
			}},
		{Group: "seats", Name: "seats.washer-bearing", Between: []string{"washer", "plywood plate"}, Measured: "4.9 MPa", Required: "5.0 MPa at most", Verdict: Warn,
			Why: "Plywood creeps under a washer and the force goes.", Change: "a washer of 24 mm outside diameter brings 2.1 MPa",
			Sketch: &Sketch{Caption: "The washer on the leg.", Shapes: []SketchShape{{"washer", First, []Polyline{ngon(8, 48), ngon(4.2, 48)}}, {"hole", Second, []Polyline{ngon(4.5, 48)}}},
				Gaps: []SketchGap{{geom.Vec2{X: 4.5}, geom.Vec2{X: 8}, "3.5 mm"}}}},
		{Group: "cutting", Name: "cutting.drill", Between: []string{"hole of 9 mm"}, Measured: "9.0 mm drill owned", Required: "9.0 mm", Verdict: Pass, Why: "A hole that no drill makes is no hole."},
	}
	for i := range 14 {
		out = append(out, Check{Group: "cover", Name: fmt.Sprintf("cover.face-%d", i+1), Between: []string{"plate", fmt.Sprintf("cell %d", i+1)}, Measured: "100 %", Required: "95 %", Verdict: Pass, Why: "The plate must cover what swells."})
	}
	return out
}

func samplePlans(s *Documents) {
	plate := DrillPart{Part: "End plate P1", Datum: "the lower left corner", Outlines: []Polyline{rectangle(0, 0, 440, 207)}}
	for j, y := range sampleLevels {
		for i, x := range sampleColumns {
			h := Hole{ID: fmt.Sprintf("H%d", 3*j+i+1), At: geom.Vec2{X: x + 220, Y: y + 2}, Diameter: 9}
			h.X, h.Y = fmt.Sprintf("%.1f mm", h.At.X), fmt.Sprintf("%.1f mm", h.At.Y)
			plate.Holes = append(plate.Holes, h)
			plate.Outlines = append(plate.Outlines, moved(ngon(4.5, 32), h.At.X, h.At.Y))
		}
	}
	angle := DrillPart{Part: "Stiffener A1", Datum: "the heel at the left end", Outlines: []Polyline{rectangle(0, 0, 30, 440)}}
	for i, x := range sampleColumns {
		angle.Holes = append(angle.Holes, Hole{ID: fmt.Sprintf("H%d", i+1), At: geom.Vec2{X: 15, Y: x + 220}, Diameter: 9, X: "15.0 mm", Y: fmt.Sprintf("%.1f mm", x+220)})
	}
	s.Steps[0].Steps[1].Holes, s.Steps[0].Steps[2].Holes = &plate, &angle
	s.Stock = Stock{
		Sheets: []NestSheet{{Name: "Sheet 1, plywood 18 mm", Width: 600, Height: 610, Grain: "x", Caption: "600 × 610 mm offcut, yield 49.8 %",
			Placed: []Placed{{"P1", []Polyline{moved(rectangle(0, 0, 440, 207), 10, 10), moved(ngon(4.5, 24), 32, 64)}}, {"P1", []Polyline{moved(rectangle(0, 0, 440, 207), 10, 223)}}}}},
		Bars: []Bar{{Name: "bar 1, angle 30 × 30 × 3", Length: 2000, Kerf: 2.5, Pieces: []BarPiece{{"A1", 440}, {"A1", 440}, {"A1", 440}, {"A1", 440}}, Caption: "left over 230 mm"},
			{Name: "rod 1, M8", Length: 2000, Kerf: 1, Pieces: []BarPiece{{"R1", 652}, {"R1", 652}, {"R1", 652}}, Caption: "left over 41 mm"}, {Name: "rod 2, M8", Length: 2000, Kerf: 1, Pieces: []BarPiece{{"R1", 652}, {"R1", 652}, {"R1", 652}}, Caption: "left over 41 mm"}},
		Buy: []Fact{{"threaded rod M8", "2 of 2 m", "class 4.8, zinc"}, {"nut M8", "12", "prevailing torque"}},
	}
	s.Wiring = Wiring{Title: "Cell order and links", Sentences: []string{"All cells are balanced in parallel in their final order through crossed jumpers; the clamp is never opened."},
		Facts: []Fact{{"layout", "16 in series", "two rows"}, {"nominal", "51.2 V", ""}}, Warnings: []string{"Links that cross must be sleeved."},
		States: []WiringState{sampleWiring(true), sampleWiring(false)}}
}

func moved(p Polyline, x, y float64) Polyline {
	out := make(Polyline, len(p))
	for i, v := range p {
		out[i] = geom.Vec2{X: v.X + x, Y: v.Y + y}
	}
	return out
}

func sampleWiring(series bool) WiringState {
	w := WiringState{Title: "Parallel, for balance", Text: "Jumpers join all positive and all negative terminals.", Facts: []Fact{{"voltage", "3.65 V", ""}, {"links", "28 jumpers", ""}}}
	if series {
		w = WiringState{Title: "Series, final", Text: "Fit the bars from the middle outward.", Facts: []Fact{{"voltage", "52.8 V", "at storage charge"}, {"links", "15 bars, 98 mm", "20 × 2 mm copper"}}}
		w.Takeoffs = []TakeoffTop{{geom.Vec2{X: -150, Y: -252}, "pack −"}, {geom.Vec2{X: 26, Y: -252}, "pack +"}}
	}
	for r, x := range []float64{-88, 88} {
		for i := range 8 {
			z := -sampleStack/2 + sampleThick*(float64(i)+0.5)
			w.Cells = append(w.Cells, CellTop{Box: geom.Box2{Min: geom.Vec2{X: x - 87, Y: z - 36}, Max: geom.Vec2{X: x + 87, Y: z + 36}}, Label: fmt.Sprint(8*r + i + 1)})
			plus := i%2 == 0
			w.Terminals = append(w.Terminals, TerminalTop{At: geom.Vec2{X: x - 62, Y: z}, Radius: 9, Positive: !plus}, TerminalTop{At: geom.Vec2{X: x + 62, Y: z}, Radius: 9, Positive: plus})
			if i == 7 {
				continue
			}
			dx := 62.0
			if i%2 == 1 {
				dx = -62
			}
			if series {
				w.Links = append(w.Links, LinkTop{Polyline{{X: x + dx, Y: z}, {X: x + dx, Y: z + 72}}, 20, LinkBar, "", false})
			} else {
				w.Links = append(w.Links, LinkTop{Polyline{{X: x + dx, Y: z}, {X: x - dx, Y: z + 72}}, 8, Jumper, "", false})
			}
		}
	}
	if series {
		w.Links = append(w.Links, LinkTop{Polyline{{X: -26, Y: 252}, {X: 26, Y: 252}}, 20, Flexible, "", false})
	}
	return w
}

// sampleSheet is a whole sheet.
func sampleSheet() Documents {
	s := Documents{
		Title: "Sixteen cells in two rows, plywood plates", Verdict: Fail, Sentence: "Do not cut yet: the socket does not go over nut 3, and the clamp presses too hard when the cells are full and aged.",
		Summary: []Fact{{"Cells", "16 × 72 × 174 × 201 mm", "two rows of 8"}, {"Stack", "576 mm", "nominal"}, {"Plates", "440 × 207 × 18 mm", "birch plywood"}, {"Stiffeners", "4 × 440 mm", "angle 30 × 30 × 3"}, {"Rods", "6 × M8, 652 mm", ""}, {"Force as tightened", "5880 N", "6 × 980 N"}, {"Mass of the pack", "94.2 kg", ""}, {"Pressure in the middle", "74 kPa", "asked: 60 to 110 kPa"}},
		Hash:    "5f2b6d3c0f7f4e4f9be0e6a1b6d5b6fd1a1d29a3a0b0c7d8e9f00112233445566", Program: "clampwright",
		Scene: sampleScene(), Checks: sampleChecks(), Clamp: sampleClamp(),
		Setting: Setting{Figures: []Fact{{"From snug, turn each nut", "1 1/6 turns", "7 flats of the hex"}, {"Spring height", "21.4 mm", "free 25.0 mm"}, {"Torque", "1.2 to 2.9 N·m", "only as a cross-check"}},
			Sentences: []string{"Snug is when a strip of paper between plate and cell no longer slides. Turn the nuts in three rounds, crosswise, two or three flats a round."},
			Warnings:  []string{"The nut’s own drag (up to 6 N·m) is more than the clamping torque (1.6 N·m): a torque wrench cannot set this clamp. Count flats or measure the springs."}},
		Ready: []Fact{{"Tools", "calliper and saw", ""}, {"Spanner", "13 mm", ""}}, Tolerances: Tolerances{Answers: []Answer{{Asked: "Does every rod pass?", Answer: "Yes."}}},
		Cautions: []Caution{{"Live metal.", "The cases of aluminium cells are at a potential. Keep plates, angles and rods insulated from them."}, {"Never open at full charge.", "Slacken the clamp only at 30 to 50 % charge."}, {"Heavy.", "The pack weighs 94 kg; plan how to lift it before it is whole."}, {"One-handed tools.", "Insulate spanners to the jaw and take off rings and watches."}},
		Incoming: Incoming{Text: []string{"Lay a straight edge across both diagonals of each large face and measure the thickness in the middle and 10 mm from each edge."}, Limits: []Fact{{"Thickness", "71.5 to 72.5 mm", "data sheet"}, {"Bulge", "0.5 mm", "middle less mean of edges"}}, Reject: []string{"the middle is more than 0.5 mm thicker than the edges", "the case is dented, wet or smells", "its voltage is below 2.5 V"}, Columns: []string{"serial", "volts", "mΩ", "middle", "left", "right", "top", "foot", "good"}},
		Parts:    Parts{Rows: []Part{{"P1", "end plate", "2", "birch plywood", "440 × 207 × 18 mm", "9.80", "19.60"}, {"A1", "stiffener", "4", "aluminium 6060", "30 × 30 × 3, 440 mm", "4.10", "16.40"}, {"R1", "rod", "6", "steel 4.8", "M8 × 652", "2.95", "17.70"}, {"N1", "nut, prevailing torque", "12", "steel", "M8", "0.12", "1.44"}, {"W1", "washer, large", "12", "steel", "M8, 24 mm", "0.08", "0.96"}}, Totals: []Fact{{"Fixture", "4.4 kg", ""}, {"Pack", "94.2 kg", "cells 5.6 kg each"}, {"Cost", "56.10", "rods bought whole: 61.30"}}},
		Steps: []Phase{{Title: "Make the parts", Steps: []Step{{Title: "Cut the plates.", Text: "Two from sheet 1, grain along the long side.", Figures: []Fact{{"size", "440 × 207 mm", ""}}}, {Title: "Drill the plates together.", Text: "Pilot first, from the face with the mark.", Figures: []Fact{{"pilot", "3 mm", ""}, {"then", "9 mm", ""}, {"holes", "H1 to H6", ""}}, Cautions: []Caution{{"Notice", "Back the work with scrap or the plywood splinters."}}}, {Title: "Saw the rods.", Text: "", Figures: []Fact{{"length", "652 mm", ""}, {"count", "6", ""}}}}},
			{Title: "Clamp", Note: "Two people.", Steps: []Step{{Title: "Stand the cells in order.", Text: "", Figures: []Fact{{"cells 1 to 8", "left row", ""}}, Cautions: []Caution{{"Warning", "Cover the terminals."}}}, {Title: "Set the nuts.", Text: "Three rounds, crosswise.", Figures: []Fact{{"turns past snug", "1 1/6", ""}, {"flats", "7", ""}}}, {Title: "Look again after a day.", Text: "", Figures: []Fact{{"expected", "half a flat", "creep"}, {"found", ToFill, ""}}}}}},
		Given: []Given{{"cell thickness", "72 mm", "given", "sixteen.yaml:12"}, {"rod length", "652 mm", "derived", "stack + 2 plates + 2 legs + nuts and threads"}, {"creep of plywood", "0.30 after 1000 h", "default", "common practice, no source"}},
		Files: []File{{"cut/P1.dxf", "the end plate, 1:1, mm"}, {"paper/P1-A4.pdf", "template to glue on"}, {"report.json", "everything, for machines"}},
	}
	for i := range 16 {
		s.Incoming.Cells = append(s.Incoming.Cells, fmt.Sprint(i+1))
	}
	samplePlans(&s)
	return s
}
