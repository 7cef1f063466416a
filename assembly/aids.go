package assembly

import (
	"fmt"
	"math"
	"slices"

	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
	"clampwright/parts/printed"
)

// Aid is a printed guide or gauge at a place where it is used. It is no part of
// the finished fixture.
type Aid struct {
	ID    string
	Part  *parts.Part
	Frame geom.Frame
	On    []string // instances it is used on; it must not need their space
}

// Body returns the aid's solid at its place.
func (w *Aid) Body() geom.Body { return geom.NewBody(w.Part.Solid, w.Frame) }

// aidPlay is how far guides are drawn off the edges and faces that they bear on,
// mm: contact on three sides at once is no place to measure a gap.
const aidPlay = 0.02

// drawnOff moves a guide off what it bears on: off the edges its fence hooks
// over, at its -x and side, and off the face below, along up.
func drawnOff(f geom.Frame, side, up geom.Vec3) geom.Frame {
	return f.Moved(side.Sub(f.X).Add(up).Mul(aidPlay))
}

// addAid lists an aid; the first place a part is used is its place.
func addAid(a *Assembly, w Aid) {
	for _, k := range a.loose {
		if k.Part == w.Part {
			return
		}
	}
	a.Aids = append(a.Aids, w)
	a.AddLoose(Loose{Part: w.Part, Quantity: 1})
}

// sameGuide is how far two patterns of holes may differ and share a guide, mm.
const sameGuide = 0.01

// placeGuides makes a guide for every different plate corner and every different
// end of an angle.
func placeGuides(a *Assembly) error {
	if err := cornerGuides(a); err != nil {
		return err
	}
	return angleGuides(a)
}

// corner is a corner of a plate's flat: its signs, and the holes nearest to it by
// their distances from its edges, as far as a guide reaches.
type corner struct {
	sx, sy float64
	holes  []printed.GuideHole
}

// CornersOf are the corners of a plate, or the ends of an angle with its standing leg
// up, that a guide serves, as it lies or turned over, seen from outside: "lower left".
func CornersOf(a *Assembly, guide, p *parts.Part) (out []string) {
	if p.Kind == parts.KindStiffener {
		for i, end := range angleEnds(p) {
			if slices.Contains(a.shop[angleKey(end)], guide) {
				out = append(out, [2]string{"left", "right"}[i])
			}
		}
		return out
	}
	for _, c := range corners(a, p) {
		if !slices.Contains(a.shop[guideKey(c.holes)], guide) {
			continue
		}
		name := map[float64]string{-1: "lower ", 1: "upper "}[c.sy] + map[float64]string{-1: "left", 1: "right"}[c.sx]
		out = append(out, name)
	}
	return out
}

// angleEnds are how far an angle's first holes are from its left and right end, mm.
func angleEnds(p *parts.Part) [2]float64 {
	half, first, last := p.SizeMM[0]/2, math.Inf(1), math.Inf(-1)
	for _, h := range p.Holes {
		first, last = min(first, h.C.X), max(last, h.C.X)
	}
	return [2]float64{half + first, half - last}
}

func angleKey(end float64) string { return fmt.Sprintf("angle guide %.3f", end) }

// guideKey is the shop's key of the guide for a pattern of holes.
func guideKey(holes []printed.GuideHole) string {
	key := "plate guide"
	for _, h := range holes {
		key += fmt.Sprintf(" %.3f %.3f", h.X, h.Y)
	}
	return key
}

// corners sorts the front plate's holes to its corners.
func corners(a *Assembly, p *parts.Part) []corner {
	w, h := p.SizeMM[0]/2, p.SizeMM[1]/2
	var out []corner
	for _, sy := range []float64{-1, 1} {
		for _, sx := range []float64{-1, 1} {
			c := corner{sx: sx, sy: sy}
			for _, k := range p.Holes {
				x, y := k.C.X*sx, k.C.Y*sy
				if x < 0 || y < 0 || x == 0 && sx < 0 || y == 0 && sy < 0 {
					continue
				}
				c.holes = append(c.holes, printed.GuideHole{X: w - x, Y: h - y, BoreMM: a.guideBore(k.PilotMM)})
			}
			c.holes = reachable(a.Fixture.Printer, c.holes)
			out = append(out, c)
		}
	}
	return out
}

// guideBore is the bore for a pilot drill or the bushing.
func (a *factory) guideBore(pilot float64) float64 {
	f := a.Fixture
	if pilot <= 0 {
		pilot = f.Rods.Pilot.MM()
	}
	return a.printer(f.Printer.Material).Bore(pilot, f.Prints.Bushing.MM())
}

// cornerGuides makes the guides of the plates' corners. One serves all corners
// with the same holes, turned over for the other hand.
func cornerGuides(a *Assembly) error {
	if m, _ := a.Fixture.Machine(); m.For(a.Fixture.Plate.Material) != params.HandTools && a.Fixture.Plate.Laminate == nil {
		return nil // it opens the holes
	}
	plate := a.PlateAt(Front)
	var seen [][]printed.GuideHole
	for _, c := range corners(a, plate.Part) {
		holes := c.holes
		if len(holes) == 0 || slices.ContainsFunc(seen, func(h []printed.GuideHole) bool { return alike(h, holes) }) {
			continue
		}
		seen = append(seen, holes)
		n := len(seen)
		p, err := a.obtain(guideKey(holes), func() (*parts.Part, error) {
			return shapedOne(a.factory, printed.CornerGuideSpec{
				Label:   parts.Label{ID: fmt.Sprintf("plate-guide-%d", n), Name: "drill guide for plate corners", Mark: fmt.Sprintf("D%d", n)},
				Printer: a.printer(a.Fixture.Printer.Material), Holes: holes}, printed.CornerGuide)
		})
		if err != nil {
			return err
		}
		addAid(a, Aid{ID: p.ID, Part: p, Frame: onCorner(plate, c), On: []string{plate.ID}})
	}
	return nil
}

// cornerFrame lays a guide on a plate's outer face at a corner, in the plate's
// own coordinates: x and y inward from its edges; turned over where that makes z
// point into the plate.
func cornerFrame(c corner, p *parts.Part) geom.Frame {
	f := geom.Frame{O: geom.Vec3{X: c.sx * p.SizeMM[0] / 2, Y: c.sy * p.SizeMM[1] / 2, Z: p.SizeMM[2]},
		X: geom.Vec3{X: -c.sx}, Y: geom.Vec3{Y: -c.sy}, Z: geom.Vec3{Z: c.sx * c.sy}}
	if f.Z.Z < 0 { // its other face lies on the plate
		f.O.Z += printed.SlabMM
	}
	return f
}

// onCorner is a guide's place on a plate.
func onCorner(plate *Instance, c corner) geom.Frame {
	f := plate.Frame.Mul(cornerFrame(c, plate.Part))
	return drawnOff(f, f.Y.Mul(-1), plate.Frame.Z)
}

// inAngle is a guide's place in an angle: its y leads away from the standing leg.
func inAngle(w *Instance, end int, half, inner, t float64) geom.Frame {
	f := w.Frame.Mul(angleFrame(end, half, inner, t))
	return drawnOff(f, f.Y, w.Frame.Z)
}

// reachable leaves out holes that would make a guide longer than the bed.
func reachable(p params.Printer, holes []printed.GuideHole) []printed.GuideHole {
	most := min(p.BedX, p.BedY, p.BedZ).MM() - 2*printed.AroundMM - 8
	return slices.DeleteFunc(slices.Clone(holes), func(h printed.GuideHole) bool {
		return h.X+h.BoreMM/2 > most || h.Y+h.BoreMM/2 > most || min(h.X, h.Y) < h.BoreMM/2+0.5
	})
}

func alike(a, b []printed.GuideHole) bool {
	return slices.EqualFunc(a, b, func(g, h printed.GuideHole) bool {
		return math.Abs(g.X-h.X) < sameGuide && math.Abs(g.Y-h.Y) < sameGuide && math.Abs(g.BoreMM-h.BoreMM) < sameGuide
	})
}

// angleGuides makes the guides that sit in the angles, one for each different
// distance of the first hole from an end.
func angleGuides(a *Assembly) error {
	s, w := a.Fixture.Stiffener, a.first(func(w *Instance) bool { return w.Role == RoleStiffener && w.End == Front })
	if s == nil || w == nil {
		return nil
	}
	half, t := s.Length.MM()/2, s.Section.Thickness.MM()
	var seen []float64
	for i, end := range angleEnds(w.Part) {
		if slices.ContainsFunc(seen, func(x float64) bool { return math.Abs(x-end) < sameGuide }) {
			continue
		}
		seen = append(seen, end)
		n := len(seen)
		p, err := a.obtain(angleKey(end), func() (*parts.Part, error) {
			return shapedOne(a.factory, printed.AngleGuideSpec{
				Label:   parts.Label{ID: fmt.Sprintf("angle-guide-%d", n), Name: "drill guide for angles", Mark: fmt.Sprintf("DA%d", n)},
				Printer: a.printer(a.Fixture.Printer.Material), RootMM: s.Section.Root.MM(),
				Holes: []printed.GuideHole{{X: end, Y: s.Gauge.MM() - t, BoreMM: a.guideBore(0)}}}, printed.AngleGuide)
		})
		if err != nil {
			return err
		}
		addAid(a, Aid{ID: p.ID, Part: p, Frame: inAngle(w, i, half, s.Gauge.MM()-t, t), On: []string{w.ID}})
	}
	return nil
}

// angleFrame lays a guide into a standing-up angle at its left (0) or right end,
// in the angle's own coordinates: x from the end, y down from the standing leg's
// inner face, on the drilled leg's inner face.
func angleFrame(end int, half, inner, t float64) geom.Frame {
	f := geom.Frame{O: geom.Vec3{X: -half, Y: inner, Z: t + printed.SlabMM}, X: geom.Vec3{X: 1}, Y: geom.Vec3{Y: -1}, Z: geom.Vec3{Z: -1}}
	if end == 1 {
		f = geom.Frame{O: geom.Vec3{X: half, Y: inner, Z: t}, X: geom.Vec3{X: -1}, Y: geom.Vec3{Y: -1}, Z: geom.Vec3{Z: 1}}
	}
	return f
}

// placeGauges makes the spring-height gauge, where there are springs that all carry
// alike, and the bulge feeler.
func placeGauges(a *Assembly) error {
	if a.Fixture.Spring != nil && rodsCarryAlike(a) {
		if err := springGauge(a); err != nil {
			return err
		}
	}
	return feeler(a)
}

// rodsCarryAlike says whether one gauge can judge all springs: rods between rows
// carry for both of them, and their springs are shorter than those outside.
func rodsCarryAlike(a *Assembly) bool {
	return a.Fixture.MostRodForce(1) == a.Fixture.RodForce(1, 0)
}

// Spring gauge: play between arm and nut, and thickness, mm.
const (
	gaugePlay  = 0.4
	gaugeThick = 5.0
)

// GaugeHeights are the most and least height of a spring in its place at the
// ends of the data sheet's window, on rods that all carry alike, from the
// seat to the outer face of the washer on the spring, mm.
func (a *Assembly) GaugeHeights() (most, least float64) {
	f := a.Fixture
	under := 2 * f.Washer.Thickness.MM()
	at := func(perRow unit.Force) float64 { return f.Spring.HeightAt(f.RodForce(perRow, 0)).MM() + under }
	return at(f.Cell.ForceLow), at(f.Cell.ForceHigh)
}

// springGauge stands the gauge beside the front spring of the first column and
// level, its GO arm over the washer.
func springGauge(a *Assembly) error {
	f := a.Fixture
	most, least := a.GaugeHeights()
	wide := max(f.Washer.Outer, f.Spring.OuterDia()).MM()
	s := printed.SpringGaugeSpec{Label: parts.Label{ID: "spring-gauge", Name: "gauge for spring height", Mark: "SG1"},
		Printer: a.printer(f.Printer.Material), GoMM: most, NoGoMM: least, ThicknessMM: gaugeThick,
		ArmMM: (wide - f.Nut.Flats.MM()) / 2}
	p, err := a.obtain("spring gauge", func() (*parts.Part, error) { return shapedOne(a.factory, s, printed.SpringGauge) })
	if err != nil {
		return err
	}
	post := f.Nut.Flats.MM()/2 + gaugePlay + s.ArmMM + printed.PostMM/2 // rod's axis to the gauge's middle
	at := geom.Vec3{X: a.Placement.Columns[0] + post, Y: a.Placement.Levels[0] + gaugeThick/2, Z: a.Placement.Ends[Front].Washer.Inner}
	frame := geom.Frame{O: at, X: geom.Vec3{X: 1}, Y: geom.Vec3{Z: 1}, Z: geom.Vec3{Y: -1}}
	w := Aid{ID: p.ID, Part: p, Frame: frame}
	for i := range a.Instances {
		in := &a.Instances[i]
		seat := in.Role == RoleStiffener || in.Role == RolePlate
		if in.End == Front && (seat || in.Column == 0 && in.Level == 0 && in.Role != RoleRodCap && in.Role != RoleNut) {
			w.On = append(w.On, in.ID)
		}
	}
	addAid(a, w)
	return nil
}

// feeler lays the bulge feeler across the front face of the first row's end
// cell, its length that of the face.
func feeler(a *Assembly) error {
	f := a.Fixture
	ps, err := shaped(a.factory, printed.FeelerSpec{Label: parts.Label{ID: "bulge-feeler", Name: "feeler for bulged faces", Mark: "BF1"},
		Printer: a.printer(f.Printer.Material), LengthMM: f.Cell.Width.MM(), LimitMM: f.BulgeLimit().MM()}, printed.Feeler)
	if err != nil {
		return err
	}
	cell := a.EndCell(Front, 0)
	at := geom.Vec3{X: a.Placement.RowX[0], Y: a.Placement.CellHeight / 2, Z: a.Placement.Stack / 2}
	for _, p := range ps {
		addAid(a, Aid{ID: p.ID, Part: p, Frame: geom.Frame{O: at, X: geom.Vec3{X: 1}, Y: geom.Vec3{Z: 1}, Z: geom.Vec3{Y: -1}}, On: []string{cell.ID}})
	}
	return nil
}
