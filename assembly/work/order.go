// Package work computes the order of work: what is done to make, set, link and
// charge a pack, step after step, as data. It says which steps, in which order, with
// which parts, tools and figures; the words are export's. Parts are told by pointer,
// places by the ids of the assembly's instances.
package work

import (
	"clampwright/assembly"
	"clampwright/assembly/clamp"
	"clampwright/assembly/nest"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/params/catalog"
	"clampwright/parts"
)

// Order is the whole work: make and buy, check the cells, clamp them, cover what is
// bare, and only then link and charge.
type Order []Phase

// Phase are steps that belong together.
type Phase struct {
	Kind   PhaseKind
	State  string       // Balancing: the plan's name of what is balanced
	Charge float64      // Fitting: of the cells, 0 to 1; Setting: most at which nuts are turned
	TempC  float64      // Fitting: for which the setting is reckoned
	Pack   *params.Pack // Fitting
	Steps  []Step
}

// PhaseKind says what a phase is for.
type PhaseKind string

// The kinds of phase.
const (
	Getting     PhaseKind = "getting"
	Checking    PhaseKind = "checking"
	Making      PhaseKind = "making"
	Fitting     PhaseKind = "fitting"
	Setting     PhaseKind = "setting"
	Covering    PhaseKind = "covering"
	Balancing   PhaseKind = "balancing"    // one state of the wiring plan
	FirstCharge PhaseKind = "first charge" // of a single cell
	Linking     PhaseKind = "linking"      // the finished pack
	Finishing   PhaseKind = "finishing"    // the same of cells all in parallel
	Unproven    PhaseKind = "unproven"     // there is no plan that is proven: nothing may be linked
	Afterwards  PhaseKind = "afterwards"
	LeftShut    PhaseKind = "left shut"    // when a pack is not opened
	TakingApart PhaseKind = "taking apart" // and together again, one cell replaced
)

// Step is one thing to do and tick off.
type Step struct {
	Kind     Doing
	Makes    []Lot // what is there after the step and was not before
	Uses     []Lot // what goes on or in, or is worked with
	Tools    []Tool
	Readings []Reading
	Sets     []Value
	Bare     []Bare // live or pointed metal that nothing covers meanwhile
	Risks    []Risk // what may go wrong
	Facts    any    // what holds for this kind alone: *Cut, *Drilling, ...
}

// Doing says what a step does.
type Doing string

// The kinds of step, in the order in which they come first.
const (
	Buy          Doing = "buy"
	Print        Doing = "print"
	CheckCells   Doing = "check cells"   // *Cells
	CutPart      Doing = "cut"           // *Cut
	Join         Doing = "join"          // *Joining: sheets to plates
	Drill        Doing = "drill"         // *Drilling
	Deburr       Doing = "deburr"        // *Nuts
	DryFit       Doing = "dry fit"       // *Play
	ScrewFeet    Doing = "screw feet"    // *Feet; without printed ones brackets
	ThreadTies   Doing = "thread ties"   // through the plates' slots, while both sides are free
	SortSprings  Doing = "sort springs"  // *Springs
	BuildBack    Doing = "build back"    // *Face
	SlipOn       Doing = "slip on"       // onto the rods, before the cells close the way
	CapCells     Doing = "cap cells"     // their terminals, before a spanner comes near
	StandCells   Doing = "stand cells"   // *Cells
	CloseFront   Doing = "close front"   // *Face
	Square       Doing = "square"        // *Play
	Snug         Doing = "snug"          // *Nuts
	SetForce     Doing = "set force"     // *Forcing
	LockNuts     Doing = "lock nuts"     // with second nuts
	MeasureStack Doing = "measure stack" // *Nuts
	CoverEnds    Doing = "cover ends"    // of the rods
	CoverNear    Doing = "cover near"    // what stands near the terminals
	Wire         Doing = "wire"          // *Wired: a step of the wiring plan
	LookFull     Doing = "look full"     // *Full
	Recheck      Doing = "recheck"       // *Late
	TieLeads     Doing = "tie leads"
	FixPack      Doing = "fix pack"  // *Feet
	KeepShut     Doing = "keep shut" // *Shut
)

// Lot are pieces of one part.
type Lot struct {
	Part  *parts.Part
	Count int
	Group assembly.Role // empty for what is bought and not drawn
	End   assembly.End
	At    []string // the instances, where the pieces go to their places
}

// Tool is a tool that a step needs.
type Tool struct {
	Kind   ToolKind
	SizeMM float64 // bit: the hole's diameter; spanner: across flats; pliers: jaw's width; packing: thickness
	Bit    catalog.Drill
}

// ToolKind is a kind of tool.
type ToolKind string

// The tools.
const (
	Bit       ToolKind = "bit" // Bit is the one owned; without a name none fits
	Saw       ToolKind = "saw"
	Knife     ToolKind = "knife"
	Turner    ToolKind = "screwdriver" // SizeMM: the screws' diameter
	Weights   ToolKind = "weights"
	Router    ToolKind = "router"
	Laser     ToolKind = "laser"
	Deburrer  ToolKind = "deburrer"
	File      ToolKind = "file"
	Mask      ToolKind = "dust mask"
	Goggles   ToolKind = "eye protection"
	Clamps    ToolKind = "clamps"
	Spanner   ToolKind = "spanner" // two for what is held and turned
	Pliers    ToolKind = "pliers"
	Calliper  ToolKind = "calliper"
	Wrench    ToolKind = "torque wrench"
	Edge      ToolKind = "straight edge"
	Board     ToolKind = "flat board"
	Strips    ToolKind = "strips" // under the plates
	Raiser    ToolKind = "raiser" // a board under the cells
	Block     ToolKind = "block of wood"
	Pen       ToolKind = "pen"
	Probe     ToolKind = "thin rod" // for the depth of a thread
	Scale     ToolKind = "scale for the force of one rod, and a vice or press"
	Tape      ToolKind = "tape and caps"
	Driver    ToolKind = "insulated driver" // of the terminals
	Meter     ToolKind = "meter"
	Pad       ToolKind = "scouring pad" // of plastic, for the faces of links and terminals
	TestLead  ToolKind = "test lead"    // with a resistor, across the gap of a link
	FusedLead ToolKind = "fused lead"
	Supply    ToolKind = "supply"
	Load      ToolKind = "load"
	Ties      ToolKind = "cable ties"
	BedPrint  ToolKind = "printer"
	Insulated ToolKind = "insulating gloves"
)

// Rods are some of the rods, level by level from below.
type Rods struct {
	IDs []string
	All bool
	// Levels is in how many levels they stand where they are all rods of their
	// columns; else 0.
	Levels int
}

// Reading is what is measured or looked at.
type Reading struct {
	What    What
	When    When
	Rods    Rods // beside or on which; none: of the whole
	End     assembly.End
	Row     int
	Low     float64 // what it must show, mm, N, V or a share; Low is High for one figure,
	High    float64 // both are 0 where nothing can be told
	Nominal bool    // reckoned from nominal sizes
	Record  bool    // to be written down
	Mean    bool    // of each rod, and the mean of them
}

// What is a quantity that is read.
type What string

// The quantities.
const (
	RowSum       What = "sum of a row" // of the cells' thicknesses; High - Low is the slack
	StackLength  What = "stack length" // when the cells touch
	PlateGap     What = "plate gap"    // beside the rods
	PlatesParted What = "plates parted"
	PlatesCloser What = "plates closer" // than at snug, in the mean of all rods; above Low is no bound
	PlatesBow    What = "plates bow"
	RodOut       What = "rod out" // of the nuts
	RodLength    What = "rod length"
	SpringHeight What = "spring height"
	ForceAll     What = "force" // on all rods together
	ForceLeft    What = "force left"
	Volts        What = "volts"
)

// When is the state that a figure belongs to.
type When string

// The states.
const (
	Free    When = "free"
	AtSnug  When = "snug"
	AtSet   When = "set"
	AtFull  When = "full"
	AtLimit When = "limit" // the cells press with the most they bear
	AtStore When = "storage"
	Shorter When = "set again when shorter"
	Taller  When = "set again when taller"
	Hour    When = "1 h"
	Month   When = "1000 h"
)

// Value is what is set.
type Value struct {
	What   Set
	Rods   Rods
	Stage  int   // of the turns: 1 and up
	Places []int // of the cells that are charged
	Value  float64
	ForceN float64 // in each rod
	FreeMM float64 // of the spring
}

// Set is a quantity that is set.
type Set string

// The quantities: turns past snug, mm, shares of the full charge, V and A.
const (
	TurnsTo  Set = "turns"  // past snug, or by how much more
	TorqueTo Set = "torque" // N·mm, of greased threads
	HeightTo Set = "height"
	ChargeTo Set = "charge"
	VoltsTo  Set = "volts"
	AmpsTo   Set = "amps"
)

// Bare is metal that a slip can short or that cuts.
type Bare struct {
	What BareKind
	At   []string
}

// BareKind says what is bare.
type BareKind string

// What may be bare.
const (
	Terminals BareKind = "terminals"
	Links     BareKind = "links"
	Plates    BareKind = "plates"
	Angles    BareKind = "angles"
	NutsBare  BareKind = "nuts and washers"
	RodEnds   BareKind = "rod ends"
)

// Risk is something that may go wrong, with the figures that it comes from.
type Risk struct {
	Kind     RiskKind
	Material string
	Value    float64
	Span     clamp.Span
}

// RiskKind is a kind of risk.
type RiskKind string

// The risks.
const (
	GlassDust   RiskKind = "glass dust"
	LinersAlone RiskKind = "liners alone" // keep the plates of Material off the cells
	WrapAlone   RiskKind = "wrap alone"   // keeps them off
	LiveCases   RiskKind = "live cases"
	ToolOnCells RiskKind = "tool on cells"
	ToolAtCells RiskKind = "tool at cells"
	DragHides   RiskKind = "drag hides torque" // Value of the drag, Span of the clamping torque, N·mm
	TorqueWide  RiskKind = "torque wide"       // Span of the torque, N·mm
	Swelling    RiskKind = "swelling"
	NutAtFull   RiskKind = "nut at full charge"
	WrongVolts  RiskKind = "wrong volts"
	Unwatched   RiskKind = "unwatched"
	GateShut    RiskKind = "gate shut" // the plates came less than Value closer, mm, or were not read
	HotLoad     RiskKind = "hot load"
	Uncovered   RiskKind = "uncovered" // closed again
	OpenedFull  RiskKind = "opened full"
	LiftedBare  RiskKind = "lifted bare"
	TwoBare     RiskKind = "two bare" // ends of a tool or of links
	WeldedOn    RiskKind = "welded on"
	Connected   RiskKind = "connected"
	StrayJoined RiskKind = "stray joined"
	ShockAndArc RiskKind = "shock" // Value of the full pack, V
)

// Cells are the cells with their places.
type Cells struct {
	Pack    *params.Pack
	Serials []string // by place; nil without records
	// Right and Left are the places whose plus stands there as they go in; none
	// without a plan.
	Right, Left []int
	Frame       bool     // the separators are frames
	Unknown     []string // what is to be measured or looked up on one of them
}

// Cut is one line of the cut list.
type Cut struct {
	nest.Cut
	Machine      params.Machine
	ToolMM       float64   // of the machine
	Compensated  bool      // files by the middle of the tool stand beside the nominal ones
	Ops          []nest.Op // on one piece, in order
	CleansThread bool      // taking the nut off that was run on before sawing does; else a nut bought for that
}

// Drilling is how the holes of a part come to their places.
type Drilling struct {
	Line     assembly.PartLine
	Holes    []Holes
	Slots    []parts.Slot
	SlotBits []Tool         // of each slot's ends
	Machine  params.Machine // opened all else
	Together bool           // two at once
	Guides   []Guide
	BushMM   float64 // outside, of the bushings pressed into the guides; 0: none
}

// Holes are holes drilled alike, with the first of them.
type Holes struct {
	parts.Hole
	IDs  []string
	Bits []Tool // the pilot first
}

// Guide is a printed drill guide and where it hooks on.
type Guide struct {
	Part    *parts.Part
	Corners []string // of a plate or ends of an angle, seen from outside: "lower left"
}

// Nuts are what the nuts of the rods ask for, and how a rod is held against them.
type Nuts struct {
	Order   []string // the rods crosswise
	DragNMM float64  // most that a nut drags by itself; 0: it runs free
	Hold    Hold
	BareMM  float64 // HoldBared: what the pushed sleeve bares
	EvenMM  float64 // how far the plates' distances may differ
	Held    bool    // the cells are only held: snug is all
	Enough  bool    // snug is all, as it gives the force
	Grease  bool    // threads and faces, as a torque is set
	Bench   bool    // the readings tell the cells' stiffness
}

// Hold is how a rod is kept from turning with its nut.
type Hold string

// The ways.
const (
	HoldSpanner Hold = "spanner" // on the back nut
	HoldMiddle  Hold = "middle"  // pliers in the rod's middle
	HoldBared   Hold = "bared"   // pliers where the sleeve is pushed back
	HoldNoRoom  Hold = "no room" // spanner, as the sleeves leave none for pliers
)

// Play is what lies loose, and how plates and cells stand: see Face.
type Play struct {
	Sleeves  bool
	SleeveMM float64 // how much shorter a sleeve is than its space
	RaiseMM  float64
}

// Feet are the mounting holes of the plates.
type Feet struct{ HoleMM float64 }

// Springs are the stacks as they are put together.
type Springs struct {
	BothEnds         bool
	Disc             bool
	Parallel, Series int
	WideFirst        bool    // the first disc lies with its wide rim on the washer
	WeighN           float64 // what one of every rod is pressed with on a scale, to find the height to set; 0: not weighed
	Bushed           bool    // a guide bush goes inside each
	Stock            string
}

// Face is one end of the clamp as it is put together.
type Face struct {
	End    assembly.End
	Angles []Angle
	Inward bool          // all standing legs are towards the plate's middle
	Stack  []*parts.Part // on every rod, outward
	Drags  bool          // the nuts do, as they are run on
	// RaiseMM is by how much the plate's lower edge is above the cells' underside,
	// as strips and boards can be had; below 0: the cells stand that much higher.
	RaiseMM float64
}

// Angle is an angle at one level, its standing leg above the rods or below.
type Angle struct {
	ID   string
	Part *parts.Part
	Up   bool
}

// Forcing is how the nuts are turned from snug to the force.
type Forcing struct {
	Torque  bool // by a torque wrench, not by turns
	Weighed bool // the height is the mean of those found on the scale
	Stages  int
	Gauge   *parts.Part // printed, for the springs; nil: none
	Fits    bool        // springs that are right pass it
	GoMM    float64
	NoGoMM  float64
	NoGauge bool // asked for, and none can serve all rods
}

// Wired is a step of the wiring plan.
type Wired struct {
	wiring.Step
	Layout    *wiring.Layout
	TorqueNMM float64 // of the terminals; 0: by the cell's data sheet
	Again     *Again  // the clamp is closed another time
	Slack     *Slack  // the clamp is opened
}

// Slack is the clamp as it is slackened: crosswise in stages, as it was set.
type Slack struct {
	Stages          int
	ForceN, EnergyJ float64 // of all rods as set; what the springs, or without them the stack, give back
}

// Shut is a pack that is not opened.
type Shut struct {
	PackV, KWh float64
	Welded     bool // its strips, which are not taken off
}

// Again is closing the clamp another time.
type Again struct {
	Held     bool
	JamNuts  bool
	NewNuts  bool    // locking nuts that were off
	Was, Now float64 // charge of the cells at the first setting and now
}

// Full is the look at the clamp with full cells.
type Full struct {
	Held     bool
	Reckoned bool // the state has been computed
	Springs  bool
	SetBow   *float64 // what the plates bowed when set, mm; nil where not known
}

// Late is looking after the nuts.
type Late struct {
	Charge  float64
	Held    bool
	RodCaps bool
	Creep   Creep
	Yearly  bool // read every year, and set again when outside the limits
}

// Creep is what is done against it.
type Creep string

// The ways.
const (
	LeaveBe   Creep = "leave" // it takes too little for a turn
	ByHeight  Creep = "height"
	ByTurns   Creep = "turns"
	ByReading Creep = "reading" // of the plates' bow
)

// Joining is how sheets become a plate: Screws of each plate, Plates in all.
type Joining struct {
	*params.Laminate
	Of             []assembly.SheetLine
	Screws, Plates int
	Pilot          Tool
}
