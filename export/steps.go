package export

import (
	"fmt"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/wiring"
	"clampwright/export/page"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
	"clampwright/parts"
)

// steps is the order of work with this fixture's parts and figures: make and buy,
// check the cells, clamp them, cover what is bare, and only then link and charge.
func (j *Job) steps() []page.Phase {
	before, after := j.charging()
	out := []page.Phase{j.getting(), j.checking(), j.making()}
	out = append(out, before...)
	out = append(out, j.fitting(), j.setting(), j.covering())
	out = append(out, after...)
	return append(out, j.afterwards())
}

// partName is a part's name with its mark.
func partName(p *parts.Part) string { return strings.TrimSpace(p.Name + " " + p.Mark) }

// of names the distinct parts of a group with their counts, "2 of corner guard
// G1"; keep, when not nil, chooses the instances. Empty when there are none.
func (j *Job) of(g assembly.Group, keep func(*assembly.Instance) bool) string {
	count := map[*parts.Part]int{}
	var order []*parts.Part
	for _, in := range j.Assembly.Of(g) {
		if keep != nil && !keep(in) {
			continue
		}
		if count[in.Part] == 0 {
			order = append(order, in.Part)
		}
		count[in.Part]++
	}
	var out []string
	for _, p := range order {
		out = append(out, fmt.Sprintf("%d of %s", count[p], partName(p)))
	}
	return words.Join(out)
}

// at keeps the instances of one end.
func at(e assembly.End) func(*assembly.Instance) bool {
	return func(in *assembly.Instance) bool { return in.End == e }
}

// has says whether the fixture has parts of a group.
func (j *Job) has(g assembly.Group) bool { return len(j.Assembly.Of(g)) > 0 }

// noForce says that the cells are held, not pressed.
func (j *Job) noForce() bool { return j.Fixture.Cell.Compression == params.CompressNone }

// placeOfEach is the name that every row has for its place n, from the left: "A1
// and B1".
func (j *Job) placeOfEach(n int) string {
	var out []string
	for row := range j.Fixture.Pack.Rows {
		out = append(out, j.Fixture.Pack.CellName(row*j.Fixture.Pack.PerRow+n))
	}
	return words.Join(out)
}

// cellEnds says which cells stand at the front and at the back, and which row is
// on which side.
func (j *Job) cellEnds() string {
	f := j.Fixture.Pack
	if f.PerRow == 1 {
		return words.Sentences(fmt.Sprintf("Front is the side of the nuts that are turned, back is behind the cell%s; left and right are as seen from the front.", words.Plural(f.Rows)), j.rowsBeside())
	}
	return words.Sentences(fmt.Sprintf("Front is the end of cell%s %s, back the end of cell%s %s; left and right are as seen from the front.",
		words.Plural(f.Rows), j.placeOfEach(f.PerRow-1), words.Plural(f.Rows), j.placeOfEach(0)), j.rowsBeside())
}

// rowsBeside says which row is left and which right; empty in a single row.
func (j *Job) rowsBeside() string {
	n := j.Fixture.Pack.Rows
	if n < 2 {
		return ""
	}
	return fmt.Sprintf("Row %s is on the left, row %s on the right.", j.Fixture.Pack.RowName(0), j.Fixture.Pack.RowName(n-1))
}

// serialPlaces are the cells on record by their places, a figure for each row;
// none without records.
func (j *Job) serialPlaces() []page.Fact {
	w := j.wired()
	if w.Wiring == nil || w.Arrangement == nil {
		return nil
	}
	words := make([][]string, j.Fixture.Pack.Rows)
	for place, c := range w.Arrangement.Slots {
		row := place / j.Fixture.Pack.PerRow
		words[row] = append(words[row], c.Serial+" to "+j.Fixture.Pack.CellName(place))
	}
	var out []page.Fact
	for row := range words {
		label := "serial to place"
		if len(words) > 1 {
			label += ", row " + j.Fixture.Pack.RowName(row)
		}
		out = append(out, page.Fact{Label: label, Value: strings.Join(words[row], ", ")})
	}
	return out
}

// rodName names the rod of a column and level: "left lower".
func (j *Job) rodName(column, level int) string {
	in := j.Assembly.RodAt(column, level)
	if in == nil {
		return fmt.Sprintf("rod %d of level %d", column+1, level+1)
	}
	return strings.ReplaceAll(strings.TrimPrefix(in.ID, "rod-"), "-", " ")
}

// rodNames names all rods crosswise: each after the one across from it, the middle
// columns first.
func (j *Job) rodNames() []string {
	f := j.Fixture.Rods
	seen := map[[2]int]bool{}
	var out []string
	for _, c := range facing(len(f.Columns)) {
		for _, l := range facing(len(f.Levels)) {
			for _, at := range [][2]int{{c[0], l[0]}, {c[1], l[1]}, {c[1], l[0]}, {c[0], l[1]}} {
				if !seen[at] {
					seen[at] = true
					out = append(out, j.rodName(at[0], at[1]))
				}
			}
		}
	}
	return out
}

// facing pairs the places of a row of n with those across, from the middle out.
func facing(n int) [][2]int {
	var out [][2]int
	for i := (n - 1) / 2; i >= 0; i-- {
		out = append(out, [2]int{i, n - 1 - i})
	}
	return out
}

// fill is a field to be filled in by pen.
const fill = "............"

// fieldsByRod are fields to be filled in, one for every rod.
func (j *Job) fieldsByRod(what string) []page.Fact {
	var out []page.Fact
	for _, name := range j.rodNames() {
		out = append(out, page.Fact{Label: what + ", " + name, Value: fill})
	}
	return out
}

// stateForce is the computed total force of a state.
func (j *Job) stateForce(name string) string {
	for _, s := range j.Clamp.States {
		if s.Name == name {
			return number.Trim(s.ForceN, 0) + " N on all rods together"
		}
	}
	return ""
}

// charging is the way from loose cells to the finished pack: the wiring plan's
// own steps, those before the cells go into the clamp apart.
func (j *Job) charging() (before, after []page.Phase) {
	if w := j.wired(); w.Wiring != nil && w.Problem == "" {
		if !w.Proven {
			return nil, []page.Phase{{Title: "Balance and charge", Note: "No wiring plan is proven: no link may be fitted. See the wiring checks."}}
		}
		return j.wiringPhases()
	}
	e := j.Fixture.Electrical
	return nil, []page.Phase{{Title: "Balance and charge", Steps: []page.Step{
		{Title: "Top balance in parallel", Text: "All cells in parallel, small current, watched. Stop on visible swelling, on warmth, on smell.",
			Figures: []page.Fact{{Label: "up to", Value: number.Trim(e.VoltageFull, 2) + " V"}, {Label: "supply", Value: number.Trim(e.BalanceCurrent, 0) + " A or less"}},
			Caution: "Set the supply's voltage before connecting, and measure it at its clips."},
		j.fullCheck(),
		j.discharge(),
	}}}
}

// discharge brings the pack down to where the nuts may be touched.
func (j *Job) discharge() page.Step {
	return page.Step{Title: "Discharge to storage charge", Text: "Through the pack's own load or a tester, every cell watched. A pack is not left at full charge, and only at storage charge may a nut be turned.",
		Figures: []page.Fact{{Label: "to", Value: fmt.Sprintf("%.0f %%, about %s V a cell", 100*j.Fixture.Clamp.StorageCharge, number.Trim(j.Fixture.Electrical.VoltageStorage, 2))}}}
}

// leftCharged says whether the wiring plan ends above storage charge.
func (j *Job) leftCharged() bool {
	w := j.wired()
	if w.Wiring == nil || w.Problem != "" || !w.Proven {
		return false
	}
	charge := j.Fixture.Clamp.SetCharge
	for _, s := range w.Plan.Steps {
		if s.Action == wiring.Charge || s.Action == wiring.Discharge {
			charge = s.ToCharge
		}
	}
	return charge > j.Fixture.Clamp.StorageCharge
}
