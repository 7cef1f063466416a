// Package inputs puts a settled fixture before the mechanics and the electrical
// side: it turns parameters into their plain inputs, nothing else.
package inputs

import (
	"fmt"
	"math"

	"clampwright/assembly/assure"
	"clampwright/assembly/clamp"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
	"clampwright/parts/geom"
	"clampwright/parts/printed"
)

// Clamp returns the input of the clamp mechanics. Plate coordinates have their
// origin at the plate's lower left corner.
func Clamp(f *params.Fixture) clamp.Input {
	in := clamp.Input{
		Plate:          plate(f),
		Window:         window(f),
		Friction:       clamp.Friction{Low: f.Clamp.FrictionLow, Nominal: math.Sqrt(f.Clamp.FrictionLow * f.Clamp.FrictionHigh), High: f.Clamp.FrictionHigh},
		Climate:        clamp.Climate{AssemblyC: float64(f.Clamp.AssemblyTemp), HotC: float64(f.Clamp.HotTemp), ColdC: float64(f.Clamp.ColdTemp)},
		AssemblyCharge: f.Clamp.SetCharge,
		StorageCharge:  f.Clamp.StorageCharge,
		SwellZone:      f.Cell.SwellWidth.MM() / f.Cell.Width.MM(),
	}
	chain := f.Chain()
	for i, x := range f.Pack.RowX {
		in.Rows = append(in.Rows, row(f, f.ChainOf(i), x))
	}
	if f.Stiffener != nil {
		for i := range f.Rods.Levels {
			in.Stiffeners = append(in.Stiffeners, stiffener(f, i))
		}
	}
	for _, tie := range f.Ties() {
		in.Rods = append(in.Rods, rod(f, chain, tie))
	}
	return in
}

// toPlate moves fixture coordinates to the plate's lower left corner.
func toPlate(f *params.Fixture, x, y unit.Length) (float64, float64) {
	return (x + f.Plate.Width/2).MM(), (y - f.Plate.Bottom).MM()
}

func plate(f *params.Fixture) clamp.Plate {
	p, m := &f.Plate, &f.Plate.Material
	out := clamp.Plate{
		WidthMM: p.Width.MM(), HeightMM: p.Height.MM(), ThicknessMM: p.Thickness.MM(),
		ExMPa: m.E.MPa(), Nu: m.Nu, GxyMPa: m.Shear.MPa(), GxzMPa: m.RollingShear.MPa(), GyzMPa: m.RollingShear.MPa(),
		StrengthXMPa: m.Strength.MPa(), SeatShortMPa: m.SeatShort.MPa(), SeatLongMPa: m.SeatLong.MPa(), HotFactor: m.HotFactor, BowMM: p.FlatnessGap.MM(),
		Creep: creep(m.Creep),
	}
	if m.EAcross > 0 {
		out.EyMPa, out.StrengthYMPa = m.EAcross.MPa(), m.StrengthAcross.MPa()
		if !p.GrainAcross {
			out.ExMPa, out.EyMPa = out.EyMPa, out.ExMPa
			out.StrengthXMPa, out.StrengthYMPa = out.StrengthYMPa, out.StrengthXMPa
		}
	}
	if p.Laminate != nil {
		laminated(&out, p.Laminate)
	}
	return out
}

// laminated makes of a plate of one piece the one that bends, per width, as its sheets do.
// Of sheets of thickness h at distances z from the middle, with a part g of the full shear
// between them (EN 1995-1-1 annex B, with one g for all, so that g 0 is loose on each
// other and 1 one piece),
//
//	D = sum(E h^3/12 + g E h z^2),  stress at a sheet's face = E k (h/2 + g |z|) at curvature k
//
// and the modulus and strength told are those of a plate as thick with that D and with the
// curvature at which the first sheet reaches its strength.
func laminated(p *clamp.Plate, l *params.Laminate) {
	n, g, t := float64(l.Sheets), l.Efficiency, p.ThicknessMM
	h := t / n
	_, p.GxyMPa = p.Moduli()
	way := func(along, across, strong, weak float64) (e, s float64) {
		d, curve := 0.0, math.Inf(1)
		for i := range l.Sheets {
			ei, si, z := along, strong, math.Abs(float64(i)-(n-1)/2)*h
			if !l.Across(i) {
				ei, si = across, weak
			}
			d += ei*h*h*h/12 + g*ei*h*z*z
			curve = math.Min(curve, si/(ei*(h/2+g*z)))
		}
		return 12 * d / (t * t * t), 6 * d * curve / (t * t)
	}
	ex, sx, ey, sy := p.ExMPa, p.StrengthXMPa, p.EyMPa, p.StrengthYMPa
	if ey == 0 {
		p.ExMPa, p.StrengthXMPa = way(ex, ex, sx, sx)
	} else {
		p.ExMPa, p.StrengthXMPa = way(ex, ey, sx, sy)
		p.EyMPa, p.StrengthYMPa = way(ey, ex, sy, sx)
	}
	p.GxyMPa *= 1/(n*n) + g*(1-1/(n*n))
}

func creep(in []catalog.CreepPoint) []clamp.CreepPoint {
	var out []clamp.CreepPoint
	for _, p := range in {
		out = append(out, clamp.CreepPoint{Hours: p.Hours, Factor: p.Factor})
	}
	return out
}

func window(f *params.Fixture) clamp.Window {
	c := &f.Cell
	return clamp.Window{
		Kind: string(c.Compression), Min: c.ForceLow.N(), Target: c.ForceTarget.N(), Max: c.ForceHigh.N(),
		Floor: c.ForceFloor.N(), Limit: c.ForceLimit.N(), Middle: c.MiddleShare, Source: c.WindowSource,
	}
}

// row is a stack: its cells, and as layers all else in the chain that gives way.
func row(f *params.Fixture, chain params.Chain, x unit.Length) clamp.Row {
	r := clamp.Row{Face: faceRect(f, x), BulgeMM: f.Clamp.Bulge.MM(), Pressing: pressing(f, x)}
	for _, l := range chain.All().Runs() {
		switch {
		case l.Kind == params.LayerCell:
			r.Cells, r.CellThicknessMM, r.CTE, r.Squeeze = l.Pieces, l.Thickness.MM(), l.CTE, squeeze(l.Curve)
			r.Growth = clamp.Growth{Aged: l.Aged.MM(), Shape: f.Clamp.Shape, Edge: edgeGrowth(f), Source: f.Clamp.GrowthSource}
			for _, p := range l.Growth {
				r.Growth.Points = append(r.Growth.Points, clamp.GrowthPoint{Charge: p.Charge, Value: p.Growth.MM()})
			}
		case l.E > 0 || len(l.Curve) > 0:
			r.Layers = append(r.Layers, clamp.Layer{Name: l.Kind.String(), Count: l.Pieces, ThicknessMM: l.Thickness.MM(), EMPa: l.E.MPa(), Curve: squeeze(l.Curve), Creep: creep(l.Creep), CTE: l.CTE})
		}
	}
	return r
}

// edgeGrowth is the growth at the edge of the face over that in its middle: of pressed
// cells the middle of what is assumed; a case that carries the load is stiff at its edges.
func edgeGrowth(f *params.Fixture) float64 {
	if f.Cell.Compression == params.CompressNone {
		return 0
	}
	return clamp.EdgeOf(assure.Evenness.Middle())
}

func squeeze(points []params.SqueezePoint) (out []clamp.SqueezePoint) {
	for _, p := range points {
		out = append(out, clamp.SqueezePoint{SqueezeMM: p.Squeeze.MM(), PressureMPa: p.Pressure.MPa()})
	}
	return out
}

// pressing is where pressure can pass on one row's face: the common part of the
// separators' and the liner's contact fields with the face. Nil is the whole
// face.
func pressing(f *params.Fixture, x unit.Length) []clamp.Rect {
	full := true
	region := []clamp.Rect{faceRect(f, x)}
	for _, s := range []*params.Insert{f.Separator, f.Liner} {
		if s == nil {
			continue
		}
		field := InsertField(s)
		if len(field) == 1 && s.Width >= f.Cell.Width && s.Bottom <= 0 && s.Bottom+s.Height >= f.Cell.Height {
			continue
		}
		full = false
		region = intersect(region, shift(f, field, x))
	}
	if full {
		return nil
	}
	return region
}

func faceRect(f *params.Fixture, x unit.Length) clamp.Rect {
	x0, y0 := toPlate(f, x-f.Cell.Width/2, 0)
	return clamp.Rect{X0: x0, Y0: y0, X1: x0 + f.Cell.Width.MM(), Y1: y0 + f.Cell.Height.MM()}
}

func shift(f *params.Fixture, field []geom.Box2, x unit.Length) []clamp.Rect {
	var out []clamp.Rect
	for _, b := range field {
		x0, y0 := toPlate(f, x+unit.Length(b.Min.X), unit.Length(b.Min.Y))
		x1, y1 := toPlate(f, x+unit.Length(b.Max.X), unit.Length(b.Max.Y))
		out = append(out, clamp.Rect{X0: x0, Y0: y0, X1: x1, Y1: y1})
	}
	return out
}

// sliverMM is so narrow that sheets which meet there do not press.
const sliverMM = 0.1

// intersect is the common part of two sets of non-overlapping rectangles.
func intersect(a, b []clamp.Rect) []clamp.Rect {
	var out []clamp.Rect
	for _, p := range a {
		for _, q := range b {
			r := clamp.Rect{X0: max(p.X0, q.X0), Y0: max(p.Y0, q.Y0), X1: min(p.X1, q.X1), Y1: min(p.Y1, q.Y1)}
			if min(r.X1-r.X0, r.Y1-r.Y0) > sliverMM {
				out = append(out, r)
			}
		}
	}
	return out
}

// InsertField is where an insert carries pressure: non-overlapping rectangles
// with x from the middle of the cell and y from its underside, mm.
func InsertField(s *params.Insert) []geom.Box2 {
	return printed.Pads(s.Pattern, s.Width.MM(), s.Height.MM(), s.Bottom.MM(), s.Border.MM(), s.RibPitch.MM())
}

func stiffener(f *params.Fixture, level int) clamp.Stiffener {
	s := f.Stiffener
	x0, y := toPlate(f, -s.Length/2, f.Rods.Levels[level])
	p := catalog.Section(s.Section)
	i, other, z := p.IB, p.IA, p.ZB // the standing leg is leg B
	if s.StandingLeg == s.Section.LegA {
		i, other, z = p.IA, p.IB, p.ZA
	}
	// Held sideways the section bends with i; free to slide sideways it bends about
	// its principal axes and gives way as with free. Friction on the plate holds it in
	// part: the mean is taken, and freeModulus of the section modulus.
	free := i - p.IAB*p.IAB/other
	heel := s.Gauge.MM()
	toe := heel - s.DrilledLeg.MM()
	if !s.StandingUp[level] {
		heel, toe = -heel, -toe
	}
	return clamp.Stiffener{
		YMM: y, HeelMM: heel, ToeMM: toe, StandMM: s.StandingLeg.MM(),
		X0MM: x0, X1MM: x0 + s.Length.MM(), EMPa: s.Material.E.MPa(), IMM4: (i + free) / 2, SectionMM3: freeModulus * z,
		YieldMPa: s.Material.Strength.MPa(), LegMM: s.Section.Thickness.MM(),
	}
}

// freeModulus is the part of its geometric section modulus that an angle not held
// sideways may use (AISC 360, section F10, equal legs; from memory).
const freeModulus = 0.8

func rod(f *params.Fixture, chain params.Chain, tie params.Tie) clamp.Rod {
	px, py := toPlate(f, tie.X, tie.Y)
	t, g := &f.Rods.Thread, &f.Rods.Grade
	seat := &f.Plate.Material
	if f.Stiffener != nil {
		seat = &f.Stiffener.Material
	}
	return clamp.Rod{
		Share: tie.Share,
		Name:  fmt.Sprintf("x %.0f, y %.0f", tie.X.MM(), tie.Y.MM()), XMM: px, YMM: py,
		AreaMM2: float64(tie.Area), DiameterMM: t.Major.MM(), PitchMM: t.Pitch.MM(), PitchDiaMM: t.PitchDia.MM(), NutMinorMM: t.NutMinorDia.MM(),
		EMPa: tie.E.MPa(), ProofMPa: g.Proof.MPa(), OutgrownMM: chain.Outgrows(tie, params.LayerPlate),
		FreeMM: tie.Length.MM(), EngagedMM: f.Nut.Height.MM(),
		Spring:     spring(tie.Spring),
		DragMinNMM: f.Clamp.DragMin.NMM(), DragMaxNMM: f.Clamp.DragMax.NMM(),
		Seat: clamp.Seat{
			InnerMM: max(f.Washer.Inner, f.Rods.Hole).MM(), OuterMM: f.Washer.Outer.MM(),
			ShortMPa: seat.SeatShort.MPa(), LongMPa: seat.SeatLong.MPa(), Material: seat.Name,
		},
	}
}

func spring(s *params.Spring) clamp.Spring {
	if s == nil {
		return clamp.Spring{}
	}
	out := clamp.Spring{Parallel: s.Parallel, Series: s.Series, Ends: s.Stacks()}
	if d := s.Disc; d != nil {
		out.Kind = clamp.SpringDisc
		out.Disc = clamp.DiscSpring{OuterMM: d.Outer.MM(), InnerMM: d.Inner.MM(), ThicknessMM: d.T.MM(), ConeMM: d.H0.MM(), WorkMM: d.Work().MM(), EMPa: d.Modulus()}
	}
	if c := s.Coil; c != nil {
		out.Kind = clamp.SpringCoil
		out.Coil = clamp.CoilSpring{WireMM: c.Wire.MM(), MeanMM: c.Mean.MM(), Active: c.Active, FreeMM: c.Free.MM(), SolidMM: c.Solid.MM(), GMPa: c.Shear.MPa(), RateNMM: c.Given, WorkMM: c.Work().MM(), ShearMPa: c.ShearMost().MPa()}
	}
	return out
}
