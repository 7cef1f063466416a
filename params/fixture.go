// Package params reads the parameter file, checks it, fills in every default
// that can be derived, and returns one Fixture in which nothing is left open.
package params

import (
	"slices"
	"strconv"
	"strings"

	"clampwright/params/catalog"
	"clampwright/params/diag"
	"clampwright/params/unit"
	"clampwright/params/words"
)

// Fixture is a parameter file with every value settled: given by the user,
// taken from a table, or derived. Lengths are millimetres.
//
// Axes: x across the width of the cells (0 at the middle of the row, or of
// all rows), y up (0 at the underside of the cells), z along the stack (0 at
// its middle).
type Fixture struct {
	Name        string
	Plain       string // the name in letters that every output has
	InputSHA256 string
	Style       Style

	Cell  Cell
	Pack  Pack
	Plate Plate
	// Stiffener is nil when the plates carry none.
	Stiffener *Stiffener
	Rods      Rods
	Nut       catalog.Nut
	// JamNut is fitted outside a plain nut when not nil.
	JamNut *catalog.Nut
	Washer catalog.Washer
	// Spring is nil when nuts bear on the washers directly.
	Spring *Spring
	// Filler is one sheet of the blocks in places without a cell, Pieces of them to a
	// place; nil where all have one.
	Filler *Insert
	// Separator sits between neighbouring cells, Liner between plate and cell,
	// Sleeve round every rod; nil when not fitted.
	Separator *Insert
	Liner     *Insert
	Sleeve    *Sleeve

	Tools      Tools
	Clearances Clearances
	Room       *Room // nil: not asked
	Stock      Stock
	Printer    Printer
	Clamp      Clamp
	Electrical Electrical
	Tolerances Tolerances
	Prints     Prints
	Prices     Prices

	// Readings are what was measured, in the order given.
	Readings []Reading

	// Learned is what readings of other packs told of this model of cell, by the entry's
	// place.
	Learned []Learned

	// Tables are the built-in tables with the user's rows merged in.
	Tables catalog.Tables

	origins map[string]Origin
	file    *File // what it was settled from
}

// Origin says where a settled value came from.
type Origin struct {
	Kind  OriginKind
	Range diag.Range // where it stands in the file; zero when not given
	Note  string     // how it was derived: "rod columns + edge distance"
	Text  string     // the value for people; empty for rows of a table
}

// OriginKind is how a value was settled.
type OriginKind string

// The ways a value is settled.
const (
	FromFile  OriginKind = "given"
	FromTable OriginKind = "table"
	Derived   OriginKind = "derived"
	Default   OriginKind = "default"
)

// Unknown are what must be measured or looked up before links are fitted, in words.
func (c *Cell) Unknown() []string {
	var out []string
	if c.Welded {
		return nil
	}
	if c.StudHeight == 0 && c.ThreadDepth == 0 {
		out = append(out, "the terminals' thread depth (cell.terminals.depth)")
	}
	if c.TerminalTorque == 0 {
		out = append(out, "the terminals' torque (cell.terminals.torque)")
	}
	return out
}

// Origin returns where the value at path ("plates.width") came from.
func (f *Fixture) Origin(path string) Origin {
	if o, ok := f.origins[path]; ok {
		return o
	}
	return Origin{Kind: Default}
}

// Style is how numbers are written for the user.
type Style struct {
	Unit        unit.LengthUnit // default unit of bare numbers and of output
	Denominator int             // inch fractions, for example 16
	Decimals    int             // decimals of millimetres
	Paper       string          // "a4" or "letter"
}

// Lengths is the style in which lengths are written.
func (s Style) Lengths() unit.Style {
	return unit.Style{Unit: s.Unit, Decimals: s.Decimals, Denominator: s.Denominator}
}

// Compression is what the data sheet asks of the clamp.
type Compression string

// The kinds of data sheet.
const (
	CompressForce   Compression = "force"   // a force or pressure window is given
	CompressNone    Compression = "none"    // the case carries the load: hold, do not press
	CompressUnknown Compression = "unknown" // the sheet says nothing
)

// Cell is the cell with its clamp window.
type Cell struct {
	catalog.Cell
	Compression Compression
	Batch       string
	CurrentA    float64 // greatest for long, charging or discharging
	// ForceLow to ForceHigh about ForceTarget is the clamp force on one cell face when
	// it is set, ForceFloor to ForceLimit what it may be in every later state, full and
	// aged included.
	ForceLow, ForceTarget, ForceHigh, ForceFloor, ForceLimit unit.Force
	// WindowSource says where the window comes from, in words for the report.
	WindowSource string
	// SwellWidth and SwellHeight are the central zone of the large face that
	// domes and must be pressed.
	SwellWidth, SwellHeight unit.Length
	// MiddleShare is the least part of the mean that may press there, where the data
	// sheet gives one; else 0.
	MiddleShare float64
	// Minus and Plus are the terminals, VentX and VentZ where the vent's middle is.
	Minus, Plus Terminal
	Welded      bool // the links are strips that are welded on elsewhere
	// Screws is how many screws or studs hold a link to each terminal, every one on a pad of
	// its own; from one to the next it is StepX to the right and StepZ to the front.
	Screws       int
	StepX, StepZ unit.Length
	VentX, VentZ unit.Length
	// ThreadDepth is that of a tapped terminal, TerminalTorque what its screw or nut is
	// tightened with; 0 where not known.
	ThreadDepth    unit.Length
	TerminalTorque unit.Torque
	// CaseLive says the case may stand at a cell potential.
	CaseLive bool
}

// Terminal is the pad of one pole. X and Z go from the middle of the lid to the pad's, to
// the right and to the front of a cell that is seen from the front, its plus on the right.
type Terminal struct{ X, Z, Dia, Height unit.Length }

// Terminals are those of the lid's left and right side, as the cell stands.
func (c *Cell) Terminals(turned bool) [2]Terminal {
	if !turned {
		return [2]Terminal{c.Minus, c.Plus}
	}
	left, right := c.Plus, c.Minus
	left.X, left.Z, right.X, right.Z = -left.X, -left.Z, -right.X, -right.Z
	return [2]Terminal{left, right}
}

// ScrewsAt are the screws of a terminal from its middle.
func (c *Cell) ScrewsAt() (at [][2]unit.Length) {
	n := max(1, c.Screws)
	for i := range n {
		k := unit.Length(float64(i) - float64(n-1)/2)
		at = append(at, [2]unit.Length{k * c.StepX, k * c.StepZ})
	}
	return at
}

// Vent is where the vent's middle is, from the lid's.
func (c *Cell) Vent(turned bool) (x, z unit.Length) {
	if turned {
		return -c.VentX, -c.VentZ
	}
	return c.VentX, c.VentZ
}

// Pack is how the cells are arranged.
type Pack struct {
	Cells  int // in all
	Rows   int
	PerRow int         // places of a row
	RowGap unit.Length // clear distance between neighbouring rows
	// StackLength is the length of one row between the liners or plates, at the
	// touch; Measured says that the user measured it.
	StackLength unit.Length
	Measured    bool
	// CellThickness is the thickness of one cell in this stack: the nominal one,
	// or the measured stack shared out.
	CellThickness unit.Length
	// Pitch is the distance of neighbouring cell middles.
	Pitch unit.Length
	// RowX is the x of each row's middle.
	RowX []unit.Length
	// Width is the outside width of all rows.
	Width unit.Length
}

// RowName is the letter of a row, A on the left; empty in a single row.
func (p *Pack) RowName(row int) string {
	if p.Rows < 2 {
		return ""
	}
	return words.Row(row)
}

// CellsIn is how many cells stand in a row, from the back on; fillers fill up the last.
func (p *Pack) CellsIn(row int) int { return min(p.PerRow, p.Cells-row*p.PerRow) }

// Filled says whether a place of a row has no cell but a filler.
func (p *Pack) Filled(row, place int) bool { return place >= p.CellsIn(row) }

// CellName names a place, counted row by row from the back: "3" in a single row,
// "B3" with more.
func (p *Pack) CellName(place int) string {
	return p.RowName(place/p.PerRow) + strconv.Itoa(place%p.PerRow+1)
}

// Insert is a sheet that sits in the clamped chain.
type Insert struct {
	Material  catalog.Material
	Thickness unit.Length
	Width     unit.Length
	Height    unit.Length
	Bottom    unit.Length // y of the lower edge
	// Pattern is "sheet" (full contact), "frame" or "ribs".
	Pattern string
	// Border is the width of a frame's border or of one rib; Pitch the rib
	// pitch. Zero for full sheets.
	Border, RibPitch unit.Length
	Printed          bool
	Pieces           int // of a filler's sheets in one place; else 0
	// Curve is pressure against squeeze for soft pads; empty: from the modulus.
	Curve []SqueezePoint
}

// SqueezePoint is one point of a through-thickness curve.
type SqueezePoint struct {
	Squeeze  unit.Length
	Pressure unit.Pressure
}

// Plate is the end plate.
type Plate struct {
	Material     catalog.Material
	Width        unit.Length
	Height       unit.Length
	Thickness    unit.Length
	Bottom       unit.Length // y of the lower edge
	CornerRadius unit.Length
	GrainAcross  bool // plywood: face grain along x
	FlatnessGap  unit.Length
	EngraveMark  bool
	Feet         *Feet
	TieSlots     bool
	Laminate     *Laminate // nil: of one piece
}

// Feet are mounting holes along the lower edge of the plates.
type Feet struct {
	HoleDia unit.Length
	Inset   unit.Length // from the side edges and the lower edge
}

// Stiffener is the drilled angle across the outside of a plate, one at each rod
// level on each plate.
type Stiffener struct {
	Section  catalog.AngleSection
	Material catalog.Material
	// DrilledLeg lies against the plate, StandingLeg points outward.
	DrilledLeg, StandingLeg unit.Length
	Length                  unit.Length
	Gauge                   unit.Length // heel of the drilled leg to the hole centre
	Chamfer                 unit.Length // 45 degrees, on the standing leg's ends
	// StandingUp per level: the standing leg is above the holes when true.
	StandingUp []bool
}

// Rods are the threaded rods: one at every column and level.
type Rods struct {
	Thread  catalog.Thread
	Grade   catalog.Grade
	Columns []unit.Length // x, ascending
	Levels  []unit.Length // y, ascending
	Length  unit.Length
	// Hole is the clearance hole in plates and angles, Pilot the drill before it.
	Hole, Pilot unit.Length
	// EndAllowance is the length of rod beyond the outer face (of angle or plate)
	// at the +z end, EndAllowanceFar at the -z end: they differ when springs sit
	// at one end only (then at +z).
	EndAllowance, EndAllowanceFar unit.Length
	// Protrusion is the thread that must stand out of the outermost nut.
	Protrusion unit.Length
	// EdgeDistance is the least distance of a hole centre to a plate edge.
	EdgeDistance unit.Length
	// Clearance is the clear distance of a rod's surface to the cells.
	Clearance unit.Length
}

// Spring is a disc-spring stack or coil spring under the nut.
type Spring struct {
	Disc     *catalog.DiscSpring
	Coil     *catalog.CoilSpring
	Parallel int // disc springs nested the same way
	Series   int // groups facing each other
	BothEnds bool
	Friction float64 // fraction of force per parallel face
	// FreeHeight is the unloaded height of one stack, SetHeight the height at
	// the target force.
	FreeHeight, SetHeight unit.Length
	// BushInner and BushOuter are of the guide bush inside it; zero without.
	BushInner, BushOuter unit.Length
}

// Sleeve is an insulating tube round the rods between the plates.
type Sleeve struct {
	Material catalog.Material
	Inner    unit.Length
	Outer    unit.Length
	// EndGap is left at each end so that the sleeve never carries load.
	EndGap  unit.Length
	Printed bool
}

// Tools are the tools that must get in.
type Tools struct {
	Pliers     Pliers
	Socket     catalog.Socket
	SocketWith unit.Length // length of socket and drive behind the nut
	Spanner    unit.Length // width of an open spanner's head
	Drills     []catalog.Drill
	DrillBody  unit.Length // diameter of chuck and hand round the drill
	Cutter     unit.Length // router or laser tool diameter; 0: none
}

// Drill is the drill to take for a hole: the smallest owned that is not smaller;
// none when there is none within drillSlack.
func (t *Tools) Drill(mm float64) (catalog.Drill, bool) {
	d, ok := catalog.DrillAtOrAbove(t.Drills, unit.Length(mm))
	return d, ok && d.Dia.MM() <= mm+DrillSlack
}

// DrillSlack is how much wider a drill, and so a hole, may be than the hole asked for,
// mm; narrower it may not be.
const DrillSlack = 0.5

// Pliers grip the middle of a rod while a nut is driven.
type Pliers struct {
	JawThickness unit.Length // each jaw, across the rod
	JawWidth     unit.Length // along the rod
	TipOverhang  unit.Length // jaw tips beyond the rod's surface
	Reach        unit.Length // jaw length before the joint
	Room         unit.Length // free space wanted round the jaws
}

// Clearances are the least distances wanted.
type Clearances struct {
	MetalToCell     unit.Length // bare metal to a cell case
	MetalToTerminal unit.Length // bare metal to terminals, vents and links: touching distance
	ToolToCell      unit.Length
	ToolToTerminal  unit.Length
	VentFree        unit.Length // free height above a vent
	ToolToMetal     unit.Length // socket to angle, plate, neighbour nut
}

// Room is what the finished pack goes into: inside sizes, 0 where free.
type Room struct {
	Width, Height, Length unit.Length
	Gap                   unit.Length // wanted on every side
	Leads                 unit.Length // wanted over terminals and links
	Hand                  unit.Length // behind the nut driver at the front; 0: nuts are turned outside
}

// SheetStock is a sheet or offcut the user has or can buy.
type SheetStock struct {
	ID            string
	Material      string
	Thickness     unit.Length
	Width, Height unit.Length
	Quantity      int // 0: can be bought, as many as needed
	GrainAlongX   bool
	Price         float64 // each
	Usual         bool    // not listed: a size the trade sells
	Holes         []Hole  // of an old piece, from its lower left corner
}

// Hole is a hole that an old piece has.
type Hole struct{ X, Y, Dia unit.Length }

// LengthStock is a bar, angle or rod the user has or can buy.
type LengthStock struct {
	ID       string
	Item     string // angle section name or thread name
	Length   unit.Length
	Quantity int // 0: can be bought
	Price    float64
	Usual    bool   // not listed: a length the trade sells
	Holes    []Hole // of an old angle: along it and from the heel
}

// Stock is what the parts are cut from.
type Stock struct {
	Sheets   []SheetStock
	Angles   []LengthStock
	Rods     []LengthStock
	Bars     []LengthStock // link bars: "copper 20x2 mm"
	PartGap  unit.Length
	Margin   unit.Length // unusable rim of a sheet
	SawKerf  unit.Length
	BeamKerf unit.Length // laser kerf; 0 for a router
	// Compensate: files of the tool's middle are written beside the nominal ones.
	Compensate bool
}

// Machine is what cuts sheets.
type Machine string

// The machines.
const (
	HandTools Machine = "hand" // saw and drill
	Router    Machine = "router"
	Laser     Machine = "laser"
)

// Machine is what cuts the sheets, and how wide its tool is: the cutter's diameter or
// the beam's kerf, mm; 0 for hand tools.
func (f *Fixture) Machine() (Machine, float64) { return machine(f.Stock.BeamKerf, f.Tools.Cutter) }

func machine(beam, cutter unit.Length) (Machine, float64) {
	switch {
	case beam > 0:
		return Laser, beam.MM()
	case cutter > 0:
		return Router, cutter.MM()
	}
	return HandTools, 0
}

// For is what cuts a material where the shop has the machine: hand tools what a beam only
// chars.
func (m Machine) For(mat catalog.Material) Machine {
	if m == Laser && mat.NoBeam {
		return HandTools
	}
	return m
}

// Printer is the user's printer.
type Printer struct {
	BedX, BedY, BedZ unit.Length
	Fit              unit.Length // clearance per side
	MinWall          unit.Length
	Material         catalog.Material
}

// Clamp is what the mechanics need beyond the geometry.
type Clamp struct {
	Years float64 // that the clamp is to do its work
	// Shape is the free growth over the face: "domed" or "flat".
	Shape string
	// Growth is free growth of one cell's thickness against state of charge,
	// relative to the state at tightening (see SetCharge).
	Growth []GrowthPoint
	// SetCharge, StorageCharge and FullCharge are states of charge 0..1.
	SetCharge, StorageCharge, FullCharge float64
	// Aged is the lasting growth of one cell at end of life.
	Aged unit.Length
	// Squeeze is a cell's pressure against squeeze, whole thickness.
	Squeeze                         []SqueezePoint
	FrictionLow, FrictionHigh       float64 // K of T = K d F
	DragMin, DragMax                unit.Torque
	AssemblyTemp, ColdTemp, HotTemp unit.Temperature
	CellCTE                         float64
	Bulge                           unit.Length // initial bulge of a cell's face
	BandStiffnessLow, BandStiffness float64     // factors on the middle stiffness: low and high; 0: as the table of ranges has it
	GrowthSource, SqueezeSource     string
}

// GrowthPoint is free growth at a state of charge.
type GrowthPoint struct {
	Charge float64 // 0..1
	Growth unit.Length
}

// Electrical is how the pack is wired.
type Electrical struct {
	Series, Parallel         int
	VoltageNominal           float64
	VoltageFull              float64
	VoltageStorage           float64
	VoltageLow               float64
	RatedCurrent             float64 // A
	BalanceCurrent           float64 // A
	Board                    float64 // A, of the pack's charger behind its board; 0: none
	LinkMaterial             string  // "copper" or "aluminium"
	LinkPlated               bool
	LinkForm                 string // "bar", "braided"; "": braided where the terminals move
	LinkWidth, LinkThickness unit.Length
	LinkSheet                unit.Length // insulating sheet under the links; 0: none
	Contact                  float64     // microohm per joint
	SpannerLength            unit.Length
	Plan                     string // "", "turn", "cross", "single", "series": forced plan
	CellRecords              string // path of the table of readings, relative to the file
	TakeOff                  string // "left", "right": where the pack minus stands
	// Links are the user's, in place of the computed ones of their state.
	Links []StateLinks
}

// StateLinks are the links the user gives for one state of the pack.
type StateLinks struct {
	State string // "final", "balance", ...
	At    diag.Range
	Links []UserLink
}

// UserLink is one link as written, such as "A3+ A4-".
type UserLink struct {
	Text string
	At   diag.Range
}

// Tolerances are how well the shop works and how true its stock is, plus or minus:
// what drawings ask, checks allow for and the stack-up adds up.
type Tolerances struct {
	HolePosition unit.Length // each hole
	CutLength    unit.Length // rods and angles
	PlateSize    unit.Length // outline of what is cut from sheet
	SheetShare   float64     // thickness of sheets as sold, as a part of it
	TurnError    float64     // turns, setting by nut rotation
	Seed         int64
}

// Sheet is the tolerance of a sheet's thickness.
func (t *Tolerances) Sheet(thick unit.Length) unit.Length { return unit.Length(t.SheetShare) * thick }

// Prints are the printed parts asked for.
type Prints struct {
	CornerGuards, EndCaps, RodCaps, Feet bool
	DrillGuides, Gauges                  bool
	// Bushing is the outer diameter of press-in drill bushings; 0: printed bores.
	Bushing unit.Length
}

// Prices are unit prices for parts that are bought, by designation.
type Prices struct {
	Currency string
	Each     []Price
}

// Price is the price of one bought piece.
type Price struct {
	Item string
	Each float64
}

// SettledValue is one value of the file, given or derived.
type SettledValue struct {
	Path string
	Origin
}

// Values lists every settled value with its origin, sorted by path.
func (f *Fixture) Values() []SettledValue {
	out := make([]SettledValue, 0, len(f.origins))
	for path, o := range f.origins {
		out = append(out, SettledValue{path, o})
	}
	slices.SortFunc(out, func(a, b SettledValue) int { return strings.Compare(a.Path, b.Path) })
	return out
}
