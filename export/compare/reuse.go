package compare

import (
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
// on the whole fixture: nothing fails with them, and only what is named warns anew.
type Reuse struct {
	Set   []params.Change `json:"set"`
	Said  string          `json:"said"`
	Warns []string        `json:"warns,omitempty"` // checks by name
	Rows  []Row           `json:"parts"`           // with the changes made
}

// reuse judges the old parts in the new fixture as it would be built with them. Rows
// that keep a part which differs, and with which something is worse, are set to make;
// where more parts can be kept with other values, it returns these: with which nothing is
// worse, and those that go on from there and only warn.
func (c *comparer) reuse(old, now *job.Job, rows []Row) (best, warned *Reuse, err error) {
	if err := c.asBuilt(now, rows); err != nil {
		return nil, nil, err
	}
	var later []string
	for _, m := range made {
		switch next, err := c.with(old, now, rows, best, m.paths); {
		case err != nil:
			return nil, nil, err
		case next != nil && len(next.Warns) > 0:
			later = append(later, m.paths)
		case next != nil:
			best = next
		}
	}
	at := best
	for _, paths := range later {
		next, err := c.with(old, now, rows, at, paths)
		if err != nil {
			return nil, nil, err
		}
		if next != nil && len(next.Warns) > 0 {
			at, warned = next, next
		}
	}
	return best, warned, nil
}

// with keeps more parts as they were made, by path, than rows or what is found so far; nil
// where no more are kept or something fails.
func (c *comparer) with(old, now *job.Job, rows []Row, best *Reuse, paths string) (*Reuse, error) {
	set := c.changes(c.asMade(paths))
	if len(set) == 0 {
		return nil, nil
	}
	if best != nil {
		rows = best.Rows
		set = append(slices.DeleteFunc(slices.Clone(best.Set), func(a params.Change) bool {
			return slices.ContainsFunc(set, func(b params.Change) bool { return a.Path == b.Path })
		}), set...)
	}
	f, err := now.Fixture.Set(set...)
	if err != nil {
		return nil, nil
	}
	t, err := now.Other(f)
	if err != nil {
		return nil, nil // can't be placed
	}
	is := Parts(old.Assembly, t.Assembly)
	if kept(is) <= kept(rows) {
		return nil, nil
	}
	fails, warns, err := worse(now, t)
	if err != nil || fails != "" {
		return nil, err
	}
	return &Reuse{set, (&remedy.Patch{Edits: []remedy.Edit{{Set: set}}}).Said(now.Fixture), warns, is}, nil
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
			} else if fails, warns, err := worse(now, t); err != nil {
				return err
			} else if fails != "" {
				bad = "the check " + fails + " would fail"
			} else if len(warns) > 0 {
				bad = "the check " + warns[0] + " would warn"
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

// worse judges a fixture that is placed and names the first check that fails and was not
// so bad in another, empty for none, and those that warn and passed there.
func worse(now, t *job.Job) (fails string, warns []string, err error) {
	found, err := t.Judge()
	before := finding.StandingOf(now.Findings)
	for _, f := range found {
		switch {
		case !before.Worsened(f):
		case f.Verdict != finding.Fail:
			if !slices.Contains(warns, f.Name()) {
				warns = append(warns, f.Name())
			}
		case fails == "":
			fails = f.Name()
		}
	}
	return fails, warns, err
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
