// Package remedy looks for the smallest set of edits of the parameter file with which
// nothing fails, and clears what it can of that which only warns. Every answer is
// proved: the changed file is settled anew, so that every derived value follows, and
// the whole fixture is judged; nothing that passed may turn worse.
//
// The search goes through sets of edits, those first that need fewest and leave
// fewest kinds of finding standing. Where a fixture fails, the ways of those findings
// (table.go) give the next edits, each as small as clears its own finding. What
// takes little time is judged of every set, the rest only of one that seems to do.
package remedy

import (
	"cmp"
	"slices"

	"clampwright/assembly/finding"
	"clampwright/params"
	"clampwright/params/words"
)

// Trial is a fixture settled from a changed file and placed, ready to be judged.
type Trial interface {
	// Rule gives the findings of one finding's rule, the mechanics on a coarse grid.
	Rule(finding.Finding) ([]finding.Finding, error)
	// Sift gives what is judged in little time, the mechanics on a coarse grid.
	Sift() ([]finding.Finding, error)
	// Checks gives every finding but those of the mechanics, Press these.
	Checks() ([]finding.Finding, error)
	Press() ([]finding.Finding, error)
	// Burden is what the changes ask for, beside the fixture as it is.
	Burden() (Burden, error)
}

// Burden is what changes ask of the builder, in the order in which it counts.
type Burden struct {
	Beside int     // kinds of sheets and lengths beside those that the file lists
	Buy    int     // kinds of stock and pieces to be bought that were not before
	Parts  int     // kinds of parts that were not among those of the fixture as it is
	Price  float64 // of all that is bought, in the file's currency
}

func (b Burden) compare(o Burden) int {
	return cmp.Or(cmp.Compare(b.Beside, o.Beside), cmp.Compare(b.Buy, o.Buy), cmp.Compare(b.Parts, o.Parts), cmp.Compare(b.Price, o.Price))
}

// Search is what remedies are looked for on.
type Search struct {
	Fixture *params.Fixture
	Place   func(*params.Fixture) (Trial, error)
	Most    int      // answers that differ in kind
	Fixed   []string // keys and blocks that are to stay as they are
	// Parts are the pieces of the fixture: what a trial costs rises with their square, and
	// the search ends when all has cost as much as mostEffort.
	Parts int
}

// Edit is one step of an answer: changes that belong together.
type Edit struct {
	Words string          // what is done: "move the outer rods outward"
	Set   []params.Change // with values as they stand in the file
	For   finding.Finding // why: what it clears, as it stood before
}

// Patch is a set of edits that was proved, or of what gets nearest.
type Patch struct {
	Edits  []Edit
	Left   []finding.Finding // what does not pass with them
	Burden Burden
}

// Changes are those of all edits.
func (p *Patch) Changes() []params.Change { return changes(p.Edits) }

// Noted are the changes with the reason of each edit as a comment, said once, at its
// first value.
func (p *Patch) Noted() (out []params.Change) {
	for _, e := range p.Edits {
		why := e.Words
		for _, c := range e.Set {
			if c.Value != "" {
				c.Why, why = why, ""
			}
			out = append(out, c)
		}
	}
	return out
}

func changes(edits []Edit) (out []params.Change) {
	for _, e := range edits {
		out = append(out, e.Set...)
	}
	return out
}

// Answer is what a search came to.
type Answer struct {
	Patches []Patch // best first, each of another kind; none where nothing was found
	Nearest *Patch  // where none was found: what leaves fewest kinds of finding that fail
	Tried   int     // sets of changes looked at
	Cut     bool    // the search ended early, for trials of so large a pack take long
}

// Said names the changes of a patch in few words, with what stands there now.
func (p *Patch) Said(f *params.Fixture) string {
	var out []string
	for _, c := range p.Changes() {
		now := ""
		if o := f.Origin(c.Path); o.Text != "" {
			now = " (now " + o.Text + ")"
		}
		if c.Value == "" {
			out = append(out, "leave "+c.Path+" out"+now)
			continue
		}
		out = append(out, "set "+c.Path+" to "+c.Value+now)
	}
	return words.Join(out)
}

// kinds are what a patch does beyond moving things: answers with the same are not
// told as alternatives.
func kinds(edits []Edit, levels int) (out []string) {
	for _, c := range changes(edits) {
		kind := map[string]string{"springs": "springs", "springs.disc": "springs", "springs.coil": "springs", "springs.series": "springs", "springs.ends": "springs",
			"plates.material": "plates", "plates.thickness": "plates", "plates.laminate.sheet": "plates", "stiffeners.angle": "angles", "stiffeners": "angles", "rods.thread": "rods"}[c.Path]
		if c.Path == "rods.levels" && places(c.Value) > levels {
			kind = "heights"
		}
		if kind != "" {
			out = append(out, kind)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
