// Package parts turns parameters into exact descriptions of single parts: end
// plates, drilled angle stiffeners, rods, nuts, washers, separators, sleeves.
// Flat outline, solid, mass and bounding box all come from the one description,
// so nothing is drawn twice.
package parts

import "clampwright/parts/geom"

// Kind says what a part is, in the words of the trade.
type Kind string

// The kinds of part.
const (
	KindPlate     Kind = "end-plate"
	KindPlySheet  Kind = "plate-sheet" // that plates are joined of
	KindStiffener Kind = "stiffener"
	KindRod       Kind = "rod"
	KindNut       Kind = "nut"
	KindWasher    Kind = "washer"
	KindSpring    Kind = "spring"
	KindSeparator Kind = "separator"
	KindLiner     Kind = "liner"
	KindFiller    Kind = "filler"
	KindSleeve    Kind = "sleeve"
	KindCap       Kind = "cap"
	KindGuard     Kind = "corner-guard"
	KindGuide     Kind = "drill-guide"
	KindGauge     Kind = "gauge"
	KindFoot      Kind = "foot"
	KindLink      Kind = "link-bar"
	KindStrip     Kind = "strip" // welded on elsewhere
	KindCell      Kind = "cell"
)

// Make says how the workshop comes by a part.
type Make string

// The ways a part is made.
const (
	MakeSheet Make = "sheet" // cut from sheet: flat outline in cut/
	MakeBar   Make = "bar"   // sawn from bar or angle, then drilled
	MakeRod   Make = "rod"   // sawn from threaded rod
	MakeBuy   Make = "buy"   // bought ready
	MakePrint Make = "print" // 3D printed
	MakeOwn   Make = "own"   // the user's: cells
)

// Part is one distinct part in its own coordinates. It is immutable once
// built: callers share it between instances.
type Part struct {
	ID       string // file-name safe and unique within a fixture: "end-plate"
	Kind     Kind
	Name     string // words for people: "end plate"
	Mark     string // short mark engraved or written on the part: "P1"
	Make     Make
	Material string // catalogue name
	Stock    string // what it is cut from or bought as: "HDPE sheet 19.05 mm", "ISO 7040 M8"
	Solid    geom.Solid
	Flat     *Flat      // for parts cut from sheet, and the drilled leg of a stiffener
	SizeMM   [3]float64 // bounding box edges, largest meaning per kind: plate w,h,t; bar length,leg,leg; rod length,d,d
	MassG    float64
	Holes    []Hole
	Conducts bool
	Joined   bool   // of sheets that are parts of their own, then drilled
	Soft     bool   // a pad, cut with a knife; its solid is as thick as in the set clamp
	Print    *Print // how it is printed; nil for parts that are not, or lie as modelled
}

// Print is how a printed part is made.
type Print struct {
	// Lie takes part coordinates to the printer's: z up from the bed, the part's
	// middle at x = y = 0.
	Lie geom.Frame
	// SteepMM2 is the area that hangs over by more than 45 degrees as it lies,
	// UprightMM2 what would with z upright, as bores run, and WallMM the thinnest wall, all
	// measured on the mesh.
	SteepMM2, UprightMM2, WallMM float64
	// HighMM is its height as it lies, FootMM2 the area on the bed.
	HighMM, FootMM2 float64
	// What is advised: lines of the wall, filling, and the width of a brim, zero for none.
	Lines, InfillPct int
	BrimMM           float64
	// Need says why steep overhangs remain; empty when there are none to speak of.
	Need string
	// Joint says how the pieces of a part that was split for the bed join.
	Joint string
}

// Flat is the outline that a router, laser or paper template shows, seen from
// the outside of the fixture, x to the right and y up.
type Flat struct {
	Profile     geom.Profile
	ThicknessMM float64
	Marks       []Mark
	// GrainAlongX is set for sheet with a grain that must run along x; Grain
	// false means the part may be turned on the sheet.
	Grain, GrainAlongX bool
}

// Mark is a text or line scribed on a part, never cut through.
type Mark struct {
	Text     string // empty for a line
	At       geom.Vec2
	To       geom.Vec2 // end of a line mark
	HeightMM float64
}

// Hole is one drilled or cut hole in flat coordinates, with the drills that
// make it by hand.
type Hole struct {
	ID      string // "H1"
	C       geom.Vec2
	DiaMM   float64
	For     string // "rod 5/16-18"
	PilotMM float64
}

func (h Hole) name() string {
	if h.For == ForMounting {
		return "mounting hole " + h.ID
	}
	return "hole " + h.ID
}

// ForMounting is what holes for the screws of feet and brackets are for.
const ForMounting = "mounting"

// Least distances of a hole's centre, as multiples of its diameter: to an edge, and to
// another hole. EN 1993-1-8 table 3.3: e1, e2 >= 1.2 d0, p1 >= 2.2 d0.
const EdgeLeast, PitchLeast = 1.2, 2.2
