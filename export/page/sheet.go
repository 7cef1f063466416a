package page

// Verdict is the outcome of a check, a state or the whole fixture.
type Verdict string

// The verdicts. The empty Verdict stands for "not judged".
const (
	Pass Verdict = "pass"
	Warn Verdict = "warn"
	Fail Verdict = "fail"
)

// Documents is everything the page shows. A section whose data are empty is left
// out, so a Documents with a title and a verdict is already a page.
type Documents struct {
	Title    string  // the fixture's name
	Verdict  Verdict // of the whole
	Sentence string  // the verdict in one sentence
	Summary  []Fact  // the fixture in a few rows
	Hash     string  // SHA-256 of the parameter file, hexadecimal
	Program  string  // name and version of the program, printed at the foot
	Mark     string  // for a program to read, in the head; may be empty

	Scene      Scene
	Checks     []Check
	Clamp      Clamp
	Setting    Setting
	Tolerances Tolerances
	Stock      Stock
	Prints     [][]string // how the printed parts are printed; the first row is the head
	Parts      Parts
	Cautions   []Caution
	Ready      []Fact // tools to lay out before the work
	Incoming   Incoming
	Made       []MadePart
	Worth      Worth
	Steps      []Phase
	Apart      []Phase // the way back
	ShotBodies []Body  // what the steps' pictures show, by name, without places
	Wiring     Wiring
	Given      []Given
	Files      []File
}

// Fact is one figure with its name. Note is optional small print.
type Fact struct{ Label, Value, Note string }

// Check is one finding of the assembly or the clamp.
type Check struct {
	Group    string   // heading the check is listed under, e.g. "keep clear"
	Name     string   // in words
	Between  []string // what it lies between
	Said     string   // what it finds, one sentence, for those that do not pass
	Measured string   // with unit
	Required string   // with unit
	Verdict  Verdict
	Why      string   // why it matters, one sentence
	Also     []string // where else it is so
	Change   string   // what to do; empty when it passes
	Sketch   *Sketch  // what fouls, drawn; optional
}

// Tolerances is the stack-up of tolerances: an answer to each question, and which
// matters most.
type Tolerances struct {
	Answers  []Answer
	Sentence string
}

// Answer is one question with its answer and figures.
type Answer struct {
	Asked, Answer string
	Verdict       Verdict
	Figures       []Fact
}

// Caution is one warning: its signal word, and what to do or not to do.
type Caution struct{ Title, Text string }

// Phase is a run of steps under one heading.
type Phase struct {
	Title string
	Note  string // optional, above the steps
	Steps []Step
}

// Step is one thing to do and tick off.
type Step struct {
	Title   string
	Text    string
	Figures []Fact // what the hand needs: rod length, hole, turns, flats
	Table   Rows   // optional
	// Cautions stand before the text, each with its signal word.
	Cautions []Caution
	Shot     *Shot        // optional
	Links    *WiringState // in place of a shot: the terminals from above
	Holes    *DrillPart   // in place of a shot: the part with its holes and their table
}

// Rows is a small table: its head, then its rows.
type Rows [][]string

// Incoming is the inspection of the cells before they go in.
type Incoming struct {
	Text    []string // how to measure
	Limits  []Fact   // what to accept
	Reject  []string // the reject rule
	Columns []string // columns of the record to fill in by pen
	Cells   []string // its rows: one cell mark each
}

// MadePart is a part that is made, with the sizes to measure on each piece.
type MadePart struct {
	Name  string
	Sizes []MadeSize
}

// MadeSize is one size of a made part.
type MadeSize struct {
	Where, What, From, To string   // as a reading says it, and its limits
	Got                   []string // of the pieces that were measured
}

// Given is one value the sheet rests on and where it came from.
type Given struct {
	Name, Value string
	Origin      string // "given", "derived", "default"
	From        string // parameter and line, formula or source
}

// File is one file delivered with the sheet.
type File struct{ Name, What string }

// Parts is the parts list.
type Parts struct {
	Rows   []Part
	Totals []Fact // mass of the fixture and the pack, cost
	Note   string
}

// Part is one row of the parts list; Price and Cost may be empty in all rows,
// then their columns are left out.
type Part struct {
	Mark, Name, Quantity, Material, Size string
	Price, Cost                          string // each, and of all of them
}

// Worth is the log of the readings at the clamp that are worth taking, the first of which
// narrows most; and what they, or none, tell of its life.
type Worth struct {
	Offers []WorthOffer
	Look   []string
}

// WorthOffer are readings taken at one go: what and how much it narrows, and the places.
type WorthOffer struct {
	Name   string
	Places []string
}
