package assembly

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/params/unit"
	"clampwright/parts"
	"clampwright/parts/geom"
)

// factory makes every distinct part of a fixture, once: parts at their own coordinates,
// which an Assembly puts in their places.
type factory struct {
	Fixture   *params.Fixture
	Placement *Placement

	shop   map[string][]*parts.Part
	shapes *sync.Map // pieces of printed parts, by what they are made to
}

// The shop's keys of the parts that variants do not share: a filler is packed until it
// is as thick as the cells.
const cellKey, fillerKey = "cell", "filler"

// obtain returns the part of the given key, made at the first call. The parts of
// the fixture are listed in the order they are made.
func (a *factory) obtain(key string, build func() (*parts.Part, error)) (*parts.Part, error) {
	ps, err := a.obtainAll(key, func() ([]*parts.Part, error) { return alone(build()) })
	if err != nil {
		return nil, err
	}
	return ps[0], nil
}

// obtainAll is obtain for a part that comes in pieces.
func (a *factory) obtainAll(key string, build func() ([]*parts.Part, error)) ([]*parts.Part, error) {
	if ps, ok := a.shop[key]; ok {
		return ps, nil
	}
	ps, err := build()
	if err == nil {
		a.shop[key] = ps
	}
	return ps, err
}

// alone is the one piece of a part that comes in one.
func alone(p *parts.Part, err error) ([]*parts.Part, error) { return []*parts.Part{p}, err }

// kept returns a part to share between instances.
func kept(p parts.Part, err error) (*parts.Part, error) {
	if err != nil {
		return nil, err
	}
	return &p, nil
}

// stuff is a catalogue material as parts describe it.
func stuff(m catalog.Material) parts.Material {
	return parts.Material{Name: m.Name, DensityGCM3: m.DensityGCM3, Conducts: m.Conducts}
}

// steel is what rods, nuts, washers and springs are made of; its density is the
// rod grade's.
func (a *factory) steel() parts.Material {
	return parts.Material{Name: "steel", DensityGCM3: a.Fixture.Rods.Grade.DensityGCM3, Conducts: true}
}

// serial is 1 for parts without a hand or of the front hand, else 2.
func serial(hand string) int {
	if hand == Back.String() {
		return 2
	}
	return 1
}

// platePart makes the end plate with its rod holes at the given columns, as
// seen from outside.
func (a *factory) platePart(columns []float64, hand string) (*parts.Part, error) {
	p := a.Fixture.Plate
	stock := fmt.Sprintf("%s sheet %s mm", p.Material.Name, p.Thickness.Decimal(2))
	if l := p.Laminate; l != nil {
		stock = fmt.Sprintf("%d sheets of %s %s mm", l.Sheets, p.Material.Name, l.Sheet.Decimal(2))
	}
	return kept(parts.EndPlate(parts.PlateSpec{
		Label: parts.Label{ID: id("end-plate", hand), Mark: fmt.Sprintf("P%d", serial(hand)),
			Stock: a.Fixture.Style.Say(stock)},
		Material: stuff(p.Material), WidthMM: p.Width.MM(), HeightMM: p.Height.MM(), ThicknessMM: p.Thickness.MM(),
		CornerRadiusMM: p.CornerRadius.MM(), RodHoles: a.rodHoles(columns), FootHoles: a.footHoles(), Slots: a.tieSlots(),
		EngraveMark: p.EngraveMark && p.Laminate == nil, Joined: p.Laminate != nil, Grain: p.Material.EAcross > 0, GrainAlongX: p.GrainAcross,
	}))
}

// plateMiddle is the y of the plate's middle, where its flat has its origin.
func (a *factory) plateMiddle() float64 {
	return a.Fixture.Plate.Bottom.MM() + a.Fixture.Plate.Height.MM()/2
}

func (a *factory) rodHoles(columns []float64) []parts.Hole {
	var holes []parts.Hole
	for _, x := range columns {
		for _, y := range a.Placement.Levels {
			holes = append(holes, a.rodHole(geom.Vec2{X: x, Y: y - a.plateMiddle()}))
		}
	}
	return holes
}

func (a *factory) rodHole(at geom.Vec2) parts.Hole {
	r := a.Fixture.Rods
	return parts.Hole{C: at, DiaMM: r.Hole.MM(), For: "rod " + r.Thread.Name, PilotMM: r.Pilot.MM()}
}

// footHoles are the mounting holes near the two lower corners.
func (a *factory) footHoles() []parts.Hole {
	p := a.Fixture.Plate
	if p.Feet == nil {
		return nil
	}
	in, y := p.Width.MM()/2-p.Feet.Inset.MM(), p.Feet.Inset.MM()-p.Height.MM()/2
	var holes []parts.Hole
	for _, x := range []float64{-in, in} {
		holes = append(holes, parts.Hole{C: geom.Vec2{X: x, Y: y}, DiaMM: p.Feet.HoleDia.MM(), For: parts.ForMounting,
			PilotMM: a.Fixture.Rods.Pilot.MM()})
	}
	return holes
}

// Cable-tie slots: common practice, no source. A tie up to 4.8 mm wide passes;
// the upper end of a slot lies tieDown below the upper edge, its middle at least
// tieEdge inside the side edge.
const (
	tieWidth, tieLength = 5.0, 14.0
	tieDown, tieEdge    = 12.0, 6.0
	tieCutter           = 0.5 // wider than the cutter by this
)

// tieSlots are two upright slots beside the cells, midway to the plate's side edges,
// where both of their ends are free: below the upper edge, and below rod holes there.
func (a *factory) tieSlots() []parts.SlotSpec {
	f := a.Fixture
	if !f.Plate.TieSlots {
		return nil
	}
	width, edge := max(tieWidth, f.Tools.Cutter.MM()+tieCutter), f.Plate.Width.MM()/2
	x := min(((f.Pack.Width+f.Cell.WidthTol).MM()/2+edge)/2, edge-tieEdge)
	y, apart := f.Plate.Height.MM()/2-tieDown-tieLength/2, tieLength/2+width+1.5*f.Rods.Hole.MM()
	for _, level := range slices.Backward(a.Placement.Levels) {
		if level -= a.plateMiddle(); math.Abs(level-y) < apart {
			y = level - apart
		}
	}
	var slots []parts.SlotSpec
	for _, x := range []float64{-x, x} {
		slots = append(slots, parts.SlotSpec{A: geom.Vec2{X: x, Y: y - tieLength/2}, B: geom.Vec2{X: x, Y: y + tieLength/2}, WidthMM: width})
	}
	return slots
}

// stiffenerPart makes the angle, standing leg up, with holes at the given
// columns. Turned half a turn about the outward axis it stands down.
func (a *factory) stiffenerPart(columns []float64, hand string) (*parts.Part, error) {
	s := a.Fixture.Stiffener
	var holes []parts.Hole
	for _, x := range columns {
		holes = append(holes, a.rodHole(geom.Vec2{X: x}))
	}
	return kept(parts.Stiffener(parts.StiffenerSpec{
		Label:    parts.Label{ID: id("stiffener", hand), Mark: fmt.Sprintf("AN%d", serial(hand)), Stock: s.Section.Name},
		Material: stuff(s.Material), DrilledLegMM: s.DrilledLeg.MM(), StandingLegMM: s.StandingLeg.MM(),
		ThicknessMM: s.Section.Thickness.MM(), RootMM: s.Section.Root.MM(), ToeMM: s.Section.Toe.MM(),
		LengthMM: s.Length.MM(), GaugeMM: s.Gauge.MM(), Holes: holes, StandingUp: true, ChamferMM: s.Chamfer.MM(),
	}))
}

// separatorParts and linerParts make the sheets of the chain, in pieces where
// they are printed and larger than the bed.
func (a *factory) separatorParts() ([]*parts.Part, error) {
	if a.Fixture.Separator.Printed {
		return a.printedSheet("separator", "S1", a.Fixture.Separator, parts.KindSeparator)
	}
	return alone(a.sheetPart("separator", "S1", a.Fixture.Separator, parts.Separator))
}

func (a *factory) linerParts() ([]*parts.Part, error) {
	if a.Fixture.Liner.Printed {
		return a.printedSheet("liner", "L1", a.Fixture.Liner, parts.KindLiner)
	}
	return alone(a.sheetPart("liner", "L1", a.Fixture.Liner, parts.Liner))
}

// rodPart makes the rod, its axis on z from 0.
func (a *factory) rodPart() (*parts.Part, error) {
	r := a.Fixture.Rods
	return kept(parts.Rod(parts.RodSpec{
		Label:    parts.Label{ID: "rod", Mark: "R1", Stock: "threaded rod " + r.Thread.Name + " " + r.Grade.Name},
		Material: a.steel(), MajorMM: r.Thread.Major.MM(), MinorMM: r.Thread.MinorDia.MM(), PitchMM: r.Thread.Pitch.MM(),
		LengthMM: r.Length.MM(),
	}))
}

// SleeveLength is the length of a sleeve: the space between the plates less the
// gap at both ends, at nominal size in every variant, mm.
func (a *factory) SleeveLength() float64 {
	return (a.Fixture.Chain().All().Thick(params.LayerCell, params.LayerLiner) - 2*a.Fixture.Sleeve.EndGap).MM()
}

func (a *factory) sleeveParts() ([]*parts.Part, error) {
	s := a.Fixture.Sleeve
	if s.Printed {
		return a.printedSleeve()
	}
	return alone(kept(parts.Sleeve(parts.RingSpec{
		Label:    parts.Label{ID: "sleeve", Mark: "T1", Stock: a.Fixture.Style.Say(fmt.Sprintf("%s tube %s x %s mm", s.Material.Name, s.Outer.Decimal(2), s.Inner.Decimal(2)))},
		Material: stuff(s.Material), OuterMM: s.Outer.MM(), InnerMM: s.Inner.MM(), LengthMM: a.SleeveLength(),
	})))
}

func (a *factory) washerPart() (*parts.Part, error) {
	w := a.Fixture.Washer
	return kept(parts.Washer(parts.RingSpec{
		Label:    parts.Label{ID: "washer", Stock: w.Name},
		Material: a.steel(), OuterMM: w.Outer.MM(), InnerMM: w.Inner.MM(), LengthMM: w.Thickness.MM(),
	}))
}

// springPart makes the envelope of one rod's spring at its set height.
func (a *factory) springPart() (*parts.Part, error) {
	s := a.Fixture.Spring
	if s.Disc == nil && s.Coil == nil {
		return nil, fmt.Errorf("neither a disc nor a coil spring is given")
	}
	spec := parts.RingSpec{Material: a.steel(), LengthMM: s.SetHeight.MM(), OuterMM: s.OuterDia().MM(), InnerMM: s.Bore().MM()}
	if s.Disc != nil {
		spec.Label = parts.Label{ID: "spring", Name: fmt.Sprintf("stack of %d disc springs", a.springPieces()), Stock: "disc spring " + s.Disc.Name}
	} else {
		spec.Label = parts.Label{ID: "spring", Name: "coil spring", Stock: s.Coil.Name}
	}
	spec.MassG = float64(a.springPieces()) * SpringMassG(s, a.steel().DensityGCM3)
	return kept(parts.Spring(spec))
}

// deadCoils is the count of coils of a ground spring that do not act: common
// practice, no source.
const deadCoils = 2

// SpringMassG is the mass of one disc, π/4 (De² - Di²) t ρ, or of one coil spring,
// π D (n + dead coils) π/4 d² ρ, or π D d of a die spring's wire times its solid height, g.
func SpringMassG(s *params.Spring, densityGCM3 float64) float64 {
	if d := s.Disc; d != nil {
		return math.Pi / 4 * (sq(d.Outer) - sq(d.Inner)) * d.T.MM() / 1000 * densityGCM3
	}
	c := s.Coil
	if c.Given > 0 { // rectangular wire: solid, a ring
		return math.Pi * c.Mean.MM() * c.Wire.MM() * c.Solid.MM() / 1000 * densityGCM3
	}
	return math.Pi * c.Mean.MM() * (c.Active + deadCoils) * math.Pi / 4 * sq(c.Wire) / 1000 * densityGCM3
}

func (a *factory) nutPart() (*parts.Part, error) { return a.nutOf("nut", a.Fixture.Nut) }

func (a *factory) jamNutPart() (*parts.Part, error) { return a.nutOf("jam-nut", *a.Fixture.JamNut) }

// nutOf makes a nut whose bore is the thread's major diameter: it touches the
// rod it is on.
func (a *factory) nutOf(name string, n catalog.Nut) (*parts.Part, error) {
	return kept(parts.Nut(parts.NutSpec{
		Label:    parts.Label{ID: name, Stock: n.Name},
		Material: a.steel(), AcrossFlatsMM: n.Flats.MM(), BoreMM: a.Fixture.Rods.Thread.Major.MM(),
		HeightMM: n.Height.MM(), MassG: n.MassG,
	}))
}

func sq(l unit.Length) float64 { return l.MM() * l.MM() }
