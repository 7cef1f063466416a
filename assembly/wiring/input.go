package wiring

import "clampwright/parts/geom"

// Side is one side of a cell's lid: left is the low x.
type Side int

// The two sides of a lid.
const (
	Left  Side = 0
	Right Side = 1
)

// String returns the word for the side.
func (s Side) String() string {
	if s == Right {
		return "right"
	}
	return "left"
}

// Other returns the opposite side.
func (s Side) Other() Side { return 1 - s }

// Pole is the polarity of a terminal.
type Pole int

// The two poles of a cell.
const (
	Minus Pole = 0
	Plus  Pole = 1
)

// String returns the word for the pole.
func (p Pole) String() string {
	if p == Plus {
		return "plus"
	}
	return "minus"
}

// TerminalAt is where a terminal stands on the lid of a cell whose plus is on
// the right, measured from the middle of the lid.
type TerminalAt struct {
	XMM, ZMM float64
	// HeightMM is the top of the terminal above the case top.
	HeightMM float64
	PadMM    float64 // diameter of each of its pads; default PadDiaMM
}

// Voltages are the voltages of one cell.
type Voltages struct {
	Nominal, Full, Storage, Least float64
}

// Bar is the metal that links are made of.
type Bar struct {
	Material    string // "copper" or "aluminium"
	Plated      bool
	WidthMM     float64
	ThicknessMM float64
	// MaxLayers is how many bars may be stacked on one joint.
	MaxLayers      int
	CornerRadiusMM float64
	// EndMM is the distance from the outermost hole edge's centre to the end of
	// the bar; 0: from the hole (see endDistance).
	EndMM float64
}

// LinkForm is how links are built; the zero value leaves it to the movement of the
// terminals.
type LinkForm string

// The forms of a bare link.
const (
	RigidBar LinkForm = "bar"
	Braid    LinkForm = "braided"
)

// Growth is how far the terminals move apart.
type Growth struct {
	// PerCellMM is the growth of one pitch after the links were tightened:
	// charge and age together.
	PerCellMM float64
	// PitchTolMM is plus or minus, one pitch.
	PitchTolMM float64
	// RowTolMM is plus or minus, from row to row.
	RowTolMM float64
	// HoleTolMM is plus or minus, each drilled hole.
	HoleTolMM float64
	// RigidMM is the growth that a tightened rigid link may pass on to a pair
	// of terminals; above it the link is braided.
	RigidMM float64
}

// StateLinks are links the user gives for one state of the pack in place of the
// computed ones. Each text names two terminals: "A3+ A4-" or "3 left 4 left".
type StateLinks struct {
	State string // "final", "balance", ...
	Links []string
}

// Input is all that the electrical side needs to know. Zero values marked
// "default" below are filled in by Settle.
type Input struct {
	CellsPerRow, Rows int
	// Empty is how many places of the last row, from its far end, have no cell but a
	// filler, FillerMM thick.
	Empty            int
	FillerMM         float64
	Series, Parallel int
	// FromRight begins the path in the rightmost row.
	FromRight bool
	// FirstPlus is the side on which the first cell (pack minus) has its plus;
	// nil: whichever makes the links short.
	FirstPlus *Side

	// PitchMM is cell thickness plus separator, squeezed.
	PitchMM         float64
	CellWidthMM     float64
	RowGapMM        float64
	TerminalPitchMM float64
	PlusAt, MinusAt TerminalAt // default: from TerminalPitchMM
	PadDiaMM        float64    // of pads that have none of their own
	Thread          string     // of the terminal: "M6"
	// Screws hold a link to each terminal, 1 by default, every one on a pad of its own:
	// ScrewStep from one to the next, across the lid and along the stack.
	Screws    int
	ScrewStep geom.Vec2
	// Welded says that the links are strips of the bar's section that are welded on
	// elsewhere, and never taken off: none is made, and there are no screws.
	Welded                  bool
	StudDiaMM, StudHeightMM float64 // stud height 0: tapped hole
	ThreadDepthMM           float64 // of a tapped hole; 0: not known
	WasherMM, NutMM         float64 // a plain washer and a nut of the thread; default by its diameter
	// HoleDiaMM is the clearance hole for the stud or screw; default stud + 0.6.
	HoleDiaMM float64

	Volts         Voltages
	StorageCharge float64 // 0..1; the clamp may be opened at or below it
	ArrivalCharge float64 // 0..1, of cells never charged here; 0 for StorageCharge
	CapacityAh    float64
	CellMilliOhm  float64

	RatedA      float64 // pack current the links are made for
	CellLimitA  float64 // greatest current of one cell
	ChargerA    float64
	DischargerA float64
	BoardA      float64 // of a charger for the whole pack behind its protection board; 0: none

	Bar             Bar
	Form            LinkForm
	ContactMicroOhm float64 // each joint, all its screws together
	AmbientC        float64
	LimitC          float64 // hottest link allowed
	Growth          Growth
	SpannerMM       float64 // longest loose tool or bar

	UserLinks []StateLinks
	Records   []Record
	Screen    ScreenLimits
	// Forced picks a plan instead of the recommendation; empty: recommend.
	Forced PlanID
}

// oneCellA is what a charger or a load is set to at most where a cell may be left alone, by
// a missing link too: one bears all of it.
func (in Input) oneCellA(amps float64) float64 { return min(amps, in.CellLimitA) }

// Cells returns the number of cells.
func (in Input) Cells() int { return in.CellsPerRow*in.Rows - in.Empty }
