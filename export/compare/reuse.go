package compare

import (
	"fmt"
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

// sizesOf are a fixture's sizes by path.
func sizesOf(f *params.Fixture) map[string][]unit.Length {
	p, r := &f.Plate, &f.Rods
	out := map[string][]unit.Length{"plates.thickness": {p.Thickness}, "plates.width": {p.Width}, "plates.height": {p.Height}, "plates.bottom": {p.Bottom},
		"rods.levels": r.Levels, "rods.columns": r.Columns, "rods.hole": {r.Hole}, "rods.length": {r.Length}}
	if s := f.Stiffener; s != nil {
		out["stiffeners.length"], out["stiffeners.gauge"] = []unit.Length{s.Length}, []unit.Length{s.Gauge}
	}
	if s := f.Sleeve; s != nil {
		out["sleeves.end_gap"] = []unit.Length{s.EndGap}
	}
	for name, i := range map[string]*params.Insert{"separators": f.Separator, "liners": f.Liner} {
		if i != nil {
			out[name+".width"], out[name+".height"], out[name+".bottom"], out[name+".thickness"] = []unit.Length{i.Width}, []unit.Length{i.Height}, []unit.Length{i.Bottom}, []unit.Length{i.Thickness}
		}
	}
	return out
}

// asMade are the changes of the new file with which it has the sizes of the old parts.
func (c *comparer) asMade(paths string) (set []params.Change) {
	was, is := sizesOf(c.old), sizesOf(c.now)
	for _, path := range strings.Fields(paths) {
		a, b := was[path], is[path]
		if a == nil || b == nil || slices.EqualFunc(a, b, func(a, b unit.Length) bool { return math.Abs((a - b).MM()) < rounding }) {
			continue
		}
		var text []string
		for _, l := range a {
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
	var best *Reuse
	for _, m := range made {
		set := c.asMade(m.paths)
		if len(set) == 0 {
			continue
		}
		keeps := func(r Row) bool { return r.Action == Keep && r.Kind == string(m.kind) && r.differs() }
		known := slices.ContainsFunc(rows, keeps)
		was := rows
		if best != nil {
			was = best.Rows
			set = append(slices.DeleteFunc(slices.Clone(best.Set), func(a params.Change) bool {
				return slices.ContainsFunc(set, func(b params.Change) bool { return a.Path == b.Path })
			}), set...)
		}
		is, worse, err := with(old, now, set, func(is []Row) bool { return known || kept(is) > kept(was) })
		if err != nil {
			return nil, err
		}
		switch {
		case is == nil: // can't be placed, or brings nothing
		case worse == "" && kept(is) > kept(was):
			best = &Reuse{set, (&remedy.Patch{Edits: []remedy.Edit{{Set: set}}}).Said(now.Fixture), is}
		case worse != "":
			for k, r := range rows {
				if keeps(r) {
					rows[k] = Row{Action: Make, Kind: r.Kind, Name: r.Name, New: r.New, Old: r.Old, Quantity: r.Quantity, Why: "with it as it was made, " + worse}
				}
			}
		}
	}
	return best, nil
}

// with places the new fixture with changes made and, where the rows that this gives are
// wanted, judges it; worse says what is then worse. No rows where it can't be placed.
func with(old, now *job.Job, set []params.Change, wanted func([]Row) bool) (is []Row, worse string, err error) {
	f, err := now.Fixture.Set(set...)
	if err != nil {
		return nil, "", nil
	}
	t, err := now.Other(f)
	if err != nil {
		return nil, "", nil
	}
	if is = Parts(old.Assembly, t.Assembly); !wanted(is) {
		return nil, "", nil
	}
	found, err := t.Judge()
	if err != nil {
		return nil, "", err
	}
	before := map[string]finding.Verdict{}
	for _, f := range now.Findings {
		before[f.Key()] = f.Verdict.Worse(before[f.Key()])
	}
	for _, f := range found {
		was, known := before[f.Key()]
		if f.Verdict == finding.Fail && was != finding.Fail || known && f.Verdict.Rank() > was.Rank() {
			return is, fmt.Sprintf("the check %s would %s", f.Name(), f.Verdict), nil
		}
	}
	return is, "", nil
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
