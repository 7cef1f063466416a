package compare

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"clampwright/assembly/finding"
	"clampwright/assembly/job"
	"clampwright/assembly/remedy"
	"clampwright/params"
	"clampwright/params/unit"
	"clampwright/parts"
)

// made are the sizes to which the parts of a kind were made, by path.
var made = []struct {
	kind  parts.Kind
	paths string
}{
	{parts.KindPlate, "plates.thickness plates.width plates.height plates.bottom rods.levels rods.columns rods.hole"},
	{parts.KindStiffener, "stiffeners.length stiffeners.gauge rods.columns rods.hole"},
	{parts.KindRod, "rods.length"},
	{parts.KindSleeve, "sleeves.end_gap"},
	{parts.KindSeparator, "separators.width separators.height separators.bottom separators.thickness"},
	{parts.KindFiller, "fillers.sheets"},
	{parts.KindLiner, "liners.width liners.height liners.bottom liners.thickness"},
}

// asMade are the sizes of the old parts, by path, that are other than the new fixture's.
func (c *comparer) asMade(paths string) map[string][]unit.Length {
	was, is, out := c.old.Sizes(), c.now.Sizes(), map[string][]unit.Length{}
	for _, path := range strings.Fields(paths) {
		a, b := was[path], is[path]
		if a == nil || b == nil || slices.EqualFunc(a, b, func(a, b *unit.Length) bool { return math.Abs((*a - *b).MM()) < rounding }) {
			continue
		}
		for _, l := range a {
			out[path] = append(out[path], *l)
		}
	}
	return out
}

// changes are sizes as they are to stand in the new file.
func (c *comparer) changes(sizes map[string][]unit.Length) (set []params.Change) {
	for _, path := range slices.Sorted(maps.Keys(sizes)) {
		var text []string
		for _, l := range sizes[path] {
			text = append(text, params.LengthText(l, c.now.Style.Unit))
		}
		value := strings.Join(text, ", ")
		if path == "rods.levels" || path == "rods.columns" {
			value = "[" + value + "]"
		}
		set = append(set, params.Change{Path: path, Value: value})
	}
	return set
}

// Reuse is changes of the new file with which more of the old parts are kept, judged
// on the whole fixture: nothing is worse with them.
type Reuse struct {
	Set  []params.Change `json:"set"`
	Said string          `json:"said"`
	Rows []Row           `json:"parts"` // with the changes made
}

// reuse judges the old parts in the new fixture as it would be built with them. Rows
// that keep a part which differs, and with which something is worse, are set to make;
// where more parts can be kept with other values, it returns these.
func (c *comparer) reuse(old, now *job.Job, rows []Row) (*Reuse, error) {
	if err := c.asBuilt(now, rows); err != nil {
		return nil, err
	}
	var best *Reuse
	for _, m := range made {
		set := c.changes(c.asMade(m.paths))
		if len(set) == 0 {
			continue
		}
		was := rows
		if best != nil {
			was = best.Rows
			set = append(slices.DeleteFunc(slices.Clone(best.Set), func(a params.Change) bool {
				return slices.ContainsFunc(set, func(b params.Change) bool { return a.Path == b.Path })
			}), set...)
		}
		f, err := now.Fixture.Set(set...)
		if err != nil {
			continue
		}
		t, err := now.Other(f)
		if err != nil {
			continue // can't be placed
		}
		is := Parts(old.Assembly, t.Assembly)
		if kept(is) <= kept(was) {
			continue
		}
		switch worse, err := worse(now, t); {
		case err != nil:
			return nil, err
		case worse == "":
			best = &Reuse{set, (&remedy.Patch{Edits: []remedy.Edit{{Set: set}}}).Said(now.Fixture), is}
		}
	}
	return best, nil
}

// asBuilt builds the new fixture with the old parts that are kept though they differ, all
// else as the rows say, first with those of one kind and then with all. With what is
// worse then they are not kept.
func (c *comparer) asBuilt(now *job.Job, rows []Row) error {
	all := map[string][]unit.Length{}
	for _, m := range made {
		keeps := func(r Row) bool { return r.Action == Keep && r.Kind == string(m.kind) && r.differs() }
		if !slices.ContainsFunc(rows, keeps) {
			continue
		}
		own := c.asMade(m.paths)
		both := maps.Clone(all)
		maps.Copy(both, own)
		bad := ""
		for _, sizes := range []map[string][]unit.Length{own, both} {
			f, ok := c.now.AsMade(sizes)
			if !ok || bad != "" {
				continue
			}
			t, err := now.Other(f)
			if err != nil {
				bad = "the parts cannot be placed"
			} else if bad, err = worse(now, t); err != nil {
				return err
			}
			if len(all) == 0 {
				break
			}
		}
		if bad == "" {
			all = both
			continue
		}
		for k, r := range rows {
			if keeps(r) {
				rows[k] = Row{Action: Make, Kind: r.Kind, Name: r.Name, New: r.New, Old: r.Old, Quantity: r.Quantity, Why: "with it as it was made, " + bad}
			}
		}
	}
	return nil
}

// worse judges a fixture that is placed and says what is worse than in another; empty for
// nothing.
func worse(now, t *job.Job) (string, error) {
	found, err := t.Judge()
	if err != nil {
		return "", err
	}
	before := finding.StandingOf(now.Findings)
	for _, f := range found {
		if before.Worsened(f) {
			return fmt.Sprintf("the check %s would %s", f.Name(), f.Verdict), nil
		}
	}
	return "", nil
}

// kept counts the made pieces that are used as they are.
func kept(rows []Row) (n int) {
	for _, r := range rows {
		if r.Action == Keep {
			n += r.Quantity
		}
	}
	return n
}

// differs says whether a kept part is not just as wanted.
func (r Row) differs() bool {
	return slices.ContainsFunc(r.Proof, func(p Proof) bool { return p.DifferenceMM() > rounding })
}
