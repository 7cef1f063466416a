package page

import "clampwright/parts/geom"

// Polyline is a chain of points in mm, closed or open as its place says.
// Arcs come as short chords.
type Polyline []geom.Vec2

// Sketch is a plane view of what two bodies do to each other.
type Sketch struct {
	Caption string // which view, what is seen
	Shapes  []SketchShape
	Points  []SketchPoint // where they foul or come nearest
	Gaps    []SketchGap   // measured distances
}

// SketchShape is one outline; Role picks its look.
type SketchShape struct {
	Label    string
	Role     Role
	Outlines []Polyline // closed; holes are outlines too (even-odd)
}

// Role is the part a shape plays in a Sketch.
type Role string

// The roles: the two that meet, and bystanders.
const (
	First  Role = "first"
	Second Role = "second"
	Beside Role = "beside"
)

// SketchPoint is a marked point, mm.
type SketchPoint struct {
	At    geom.Vec2
	Label string
}

// SketchGap is a distance between two points, mm, with its text.
type SketchGap struct {
	From, To geom.Vec2
	Label    string
}

// Clamp is what the fixture does to the cells.
type Clamp struct {
	Sentences    []string // the result in plain words
	ForceUnit    string   // of every force here, e.g. "N"
	PressureUnit string   // of every pressure here, e.g. "kPa"
	LengthUnit   string   // of every deflection here, e.g. "mm"
	Window       Window   // pressure that may be, from the least asked to the most allowed
	// StatesCaption says how the figures of the states are meant.
	StatesCaption string
	Faces         Faces
	States        []State
	// Methods are the ways of setting with what each comes to, Ranges what is assumed of
	// what nobody publishes; the first row of each is its head.
	MethodsCaption, RangesCaption string
	Methods, Ranges               [][]string
	MarginNames                   []string // e.g. "plate", "angle", "rod", "thread", "seat"
	Charge                        Chart    // force against charge
}

// Window is the range a data sheet asks for. Given is false when it asks for
// none; Low and High are then ignored.
type Window struct {
	Given     bool
	Low, High float64
	Label     string // e.g. "data sheet 60 to 110 kPa"
}

// Faces is what lies in the plane of the end plate, mm.
type Faces struct {
	Plate  geom.Box2
	Angles []Strip
	Rods   []geom.Circle
}

// Strip is the leg of a stiffener that lies on the plate.
type Strip struct {
	Box   geom.Box2
	Label string // e.g. "angle at 52 mm"
}

// State is one condition of the clamp. Texts are numbers without units: the
// units stand in the heading.
type State struct {
	Name       string
	Force      string
	RodForces  string // e.g. "4 x 735" or "700 to 770"
	Mean       string
	Least      string
	Greatest   string
	Middle     string // mean over the zone where cells swell
	Contact    string // with its percent sign
	Deflection string
	Margins    []string // as many as Clamp.MarginNames
	Verdict    Verdict
	Reason     string  // what decides it
	Fields     []Field // one for each cell face on the plate
}

// Field is the pressure over one face on a rectangular grid that may be graded.
type Field struct {
	X, Y []float64 // mm, rising, at least two each
	P    []float64 // len(X)*len(Y), row by row from Y[0], in Clamp.PressureUnit
}

// Chart is one or more curves over a common x.
type Chart struct {
	Title, Caption string
	XLabel, YLabel string // with units
	Window         Window // drawn as a horizontal band
	Series         []Series
	Marks          []ChartMark
}

// Series is a curve.
type Series struct {
	Name string
	X, Y []float64
}

// ChartMark is one named point of the chart.
type ChartMark struct {
	X, Y  float64
	Label string
}

// Setting is how to reach the force.
type Setting struct {
	Figures   []Fact   // turns, flats, torque range, spring height
	Sentences []string // in plain words
	Warnings  []string // e.g. nut drag above the clamping torque
}

// Stock is what the parts are cut from.
type Stock struct {
	Sheets []NestSheet
	Bars   []Bar
	Buy    []Fact // what to buy
	Note   string
}

// NestSheet is one sheet with the parts laid on it, mm from its lower left
// corner. A tall sheet is drawn lying, turned clockwise.
type NestSheet struct {
	Name          string
	Width, Height float64
	Grain         string // "", "x" or "y"
	Placed        []Placed
	Caption       string // size in the user's unit, yield, what is left
}

// Placed is one part on a sheet, its outlines already moved to its place; the
// first outline is its edge, the others holes.
type Placed struct {
	Label    string
	Outlines []Polyline
}

// Bar is one length of stock and the pieces sawn from it, in order, mm.
type Bar struct {
	Name    string
	Length  float64
	Kerf    float64
	Pieces  []BarPiece
	Caption string // e.g. "left over 310 mm"
}

// BarPiece is one piece of a bar.
type BarPiece struct {
	Label  string
	Length float64
}

// DrillPart is one part and its holes. A tall part is drawn lying, turned
// clockwise; the coordinates stay those of the part.
type DrillPart struct {
	Part     string
	Datum    string     // which corner or edge the coordinates start from
	Outlines []Polyline // mm; the first is the edge
	Heel     Polyline   // an angle's outer corner, drawn as a thick edge and named; none: nil
	Across   string     // head of the second coordinate; empty: y
	Origin   geom.Vec2  // the datum, mm, in the outline's coordinates
	Holes    []Hole
}

// Hole is one hole: At and Diameter are drawn, X and Y are in the user's units.
type Hole struct {
	ID       string
	At       geom.Vec2
	Diameter float64
	X, Y     string
	SlotEnd  int // -1 or 1: the left or right round end of a slot, marked by its middle
}

// Wiring is the electrical plan.
type Wiring struct {
	Title     string
	Sentences []string   // which plan and why
	Plans     []PlanRank // least harm first
	Facts     []Fact
	States    []WiringState
	Warnings  []string
}

// PlanRank is a plan with what it is reckoned to do.
type PlanRank struct {
	Name, Note, Stopped, Shorts, Worst, Tool, Openings, Turned, Hours, Parts, Burns string
}

// WiringState is one state of the links, seen from above. Its plane points
// hold the project's x in X and z in Y, mm; the picture is never mirrored.
type WiringState struct {
	Title     string
	Text      string
	Facts     []Fact // voltage, links fitted, charge
	Cells     []CellTop
	Terminals []TerminalTop
	Links     []LinkTop
	Takeoffs  []TakeoffTop
}

// CellTop is a cell from above.
type CellTop struct {
	Box    geom.Box2
	Label  string
	Beside bool // not worked on in the step that is shown
}

// TerminalTop is one terminal.
type TerminalTop struct {
	At       geom.Vec2
	Radius   float64
	Positive bool
	Beside   bool // of a cell that is not worked on
}

// LinkKind sets how a link is drawn.
type LinkKind string

// The kinds of links.
const (
	LinkBar  LinkKind = "bar"       // stays fitted
	Flexible LinkKind = "flexible"  // stays fitted, gives way
	Jumper   LinkKind = "temporary" // fitted for this state only
)

// LinkTop is one link from above: its centre line and its width, mm.
type LinkTop struct {
	Line  Polyline // open, at least two points
	Width float64
	Kind  LinkKind
	Label string
	Was   bool // fitted before the step that is shown
}

// TakeoffTop is a main terminal of the pack.
type TakeoffTop struct {
	At    geom.Vec2
	Label string
}
