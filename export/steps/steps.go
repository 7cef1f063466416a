// Package steps words the order of work: a title, a text, figures and a caution for
// every step, from the step and the style of lengths alone.
package steps

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
	"clampwright/parts"
)

// teller words steps in a style.
type teller struct{ params.Style }

// kinds are the titles and texts of the kinds of step; figures are the readings' and
// values' unless told otherwise, cautions those of the risks.
var kinds = map[work.Doing]struct {
	title string
	tell  func(t teller, s work.Step, p *page.Step)
}{
	work.Buy:          {"Buy what comes ready", teller.buy},
	work.Print:        {"Print", teller.print},
	work.CheckCells:   {"Check and mark every cell", teller.checkCells},
	work.CutPart:      {"", teller.cut},
	work.Drill:        {"", teller.drill},
	work.Join:         {"Join the sheets to plates", teller.join},
	work.Deburr:       {"Deburr", teller.deburr},
	work.DryFit:       {"Dry fit without cells", teller.dryFit},
	work.ScrewFeet:    {"", teller.feet},
	work.ThreadTies:   {"Thread the cable ties", teller.threadTies},
	work.SortSprings:  {"Sort the springs", teller.springs},
	work.BuildBack:    {"Build the back end", teller.backEnd},
	work.SlipOn:       {"Slip on what the rods pass through", teller.onRods},
	work.StandCells:   {"Stand the cells in", teller.cellsIn},
	work.CloseFront:   {"Close the front end", teller.frontEnd},
	work.Square:       {"Square it up", teller.square},
	work.Snug:         {"Bring the nuts to snug", teller.snug},
	work.SetForce:     {"Set the force", teller.force},
	work.LockNuts:     {"Lock the nuts", teller.jam},
	work.MeasureStack: {"Measure the clamped stack", teller.measured},
	work.CapCells:     {"Cap the terminals", teller.capCells},
	work.CoverEnds:    {"Cover the rod ends", teller.rodEnds},
	work.CoverNear:    {"Cover what stands near the terminals", teller.coverNear},
	work.Wire:         {"", teller.wire},
	work.LookFull:     {"Check the force at full charge", teller.lookFull},
	work.Recheck:      {"Check the nuts after a day, and after the first ten cycles", teller.recheck},
	work.TieLeads:     {"Tie the leads down", teller.tie},
	work.FixPack:      {"Fix the pack where it stands", teller.stand},
	work.KeepShut:     {"See whether it may be opened", keepShut},
}

// Phases words the order of work.
func Phases(o work.Order, style params.Style) []page.Phase {
	t := teller{style}
	var out []page.Phase
	for _, p := range o {
		w := page.Phase{Title: phaseTitle(p), Note: phaseNote(p)}
		for _, s := range p.Steps {
			w.Steps = append(w.Steps, t.step(s))
		}
		out = append(out, w)
	}
	once(out)
	return out
}

// step words one step.
func (t teller) step(s work.Step) page.Step {
	k := kinds[s.Kind]
	p := page.Step{Title: k.title}
	k.tell(t, s, &p)
	for _, r := range s.Risks {
		c, last := caution(t, r), len(p.Cautions)-1
		switch {
		case c.Text == "":
		case last >= 0 && p.Cautions[last].Title == c.Title:
			p.Cautions[last].Text += " " + c.Text
		default:
			p.Cautions = append(p.Cautions, c)
		}
	}
	return p
}

func phaseTitle(p work.Phase) string {
	if p.Kind == work.Balancing {
		return "Top balance: " + p.State
	}
	return map[work.PhaseKind]string{
		work.Getting: "Buy and print", work.Checking: "Check the cells", work.Making: "Make the parts", work.Fitting: "Put the clamp together",
		work.Setting: "Set the clamp", work.Covering: "Cover bare metal", work.FirstCharge: "First full charge", work.Linking: "Link in series", work.Finishing: "Finish the pack",
		work.Unproven: "Balance and charge", work.Afterwards: "Afterwards",
		work.LeftShut: "What is not opened", work.TakingApart: "Take it apart, replace a cell",
	}[p.Kind]
}

func phaseNote(p work.Phase) string {
	switch p.Kind {
	case work.Fitting:
		return fmt.Sprintf("The setting holds for cells as they come, at about %.0f %% charge (clamp.set_charge), and at %.0f \u00b0C. For another charge, change it in the file and make this card again. %s", 100*p.Charge, p.TempC, cellEnds(p.Pack))
	case work.Setting:
		return "Turn the nuts of the front end only."
	case work.Covering:
		return "Do this before the first link: from then on every slip is a short."
	case work.TakingApart:
		return "If the work was stopped half way, first take off a link that hangs on one end. Begin with the first step that has something to take off, and pass over what is not there. Leave every lead, cap and cover on what you do not work on."
	case work.Unproven:
		return "No plan of the wiring is proven. Fit no link and charge no cell. See the wiring checks."
	}
	return ""
}

// cellEnds says which cells stand at the front and at the back, and which row is
// on which side.
func cellEnds(p *params.Pack) string {
	const seen = "Left and right are as seen from the front."
	s := words.Plural(p.Rows)
	if p.PerRow == 1 {
		return words.Sentences("The front is the side of the nuts that are turned, the back is behind the cell"+s+".", seen, rowsBeside(p))
	}
	return words.Sentences(fmt.Sprintf("The front is the end of cell%s %s, the back the end of cell%s %s.", s, placeOfEach(p, p.PerRow-1), s, placeOfEach(p, 0)), seen, rowsBeside(p))
}

// placeOfEach is the name that every row has for its cell n, from the back, or its last:
// "A1 and B1".
func placeOfEach(p *params.Pack, n int) string {
	var out []string
	for row := range p.Rows {
		out = append(out, p.CellName(row*p.PerRow+min(n, p.CellsIn(row)-1)))
	}
	return words.Join(out)
}

// rowsBeside says which row is left and which right; empty in a single row.
func rowsBeside(p *params.Pack) string {
	if p.Rows < 2 {
		return ""
	}
	return fmt.Sprintf("Row %s is on the left, row %s on the right.", p.RowName(0), p.RowName(p.Rows-1))
}

// PartName is a part's name with its mark.
func PartName(p *parts.Part) string { return strings.TrimSpace(p.Name + " " + p.Mark) }

// lots are those of a group.
func lots(s work.Step, g assembly.Role) []work.Lot {
	return slices.DeleteFunc(slices.Clone(s.Uses), func(l work.Lot) bool { return l.Group != g })
}

// atEnd are those of a group at one end.
func atEnd(s work.Step, g assembly.Role, e assembly.End) []work.Lot {
	return slices.DeleteFunc(lots(s, g), func(l work.Lot) bool { return l.End != e })
}

// several counts a part, "2 corner guards G1".
func several(n int, p *parts.Part) string {
	head, tail := p.Name, ""
	for _, joint := range []string{" for ", " of ", ", ", " under ", " inside "} {
		if at := strings.Index(head, joint); at > 0 {
			head, tail = head[:at], head[at:]+tail
		}
	}
	if head = fmt.Sprint(n, " ", head) + words.Plural(n); n > 1 {
		head = strings.Replace(head, "foots", "feet", 1)
	}
	return strings.TrimSpace(head + tail + " " + p.Mark)
}

// of names distinct parts with their counts, "2 corner guards G1"; empty when
// there are none.
func of(lots []work.Lot) string {
	count := map[*parts.Part]int{}
	var order []*parts.Part
	for _, l := range lots {
		if count[l.Part] == 0 {
			order = append(order, l.Part)
		}
		count[l.Part] += l.Count
	}
	var out []string
	for _, p := range order {
		out = append(out, several(count[p], p))
	}
	return words.Join(out)
}

// aids names what is used of a kind of printed aid.
func aids(s work.Step, k parts.Kind) string {
	var out []string
	for _, l := range s.Uses {
		if l.Part.Kind == k {
			out = append(out, PartName(l.Part))
		}
	}
	return words.Join(out)
}

// jointOf says how the pieces of a printed part join.
func jointOf(lots []work.Lot) string {
	for _, l := range lots {
		if p := l.Part.Print; p != nil && p.Joint != "" {
			return " Its pieces join by " + p.Joint + "."
		}
	}
	return ""
}

// rodName names a rod: "left lower".
func rodName(id string) string { return strings.ReplaceAll(strings.TrimPrefix(id, "rod-"), "-", " ") }

// rodNames names each of some rods.
func rodNames(ids []string) []string {
	var out []string
	for _, id := range ids {
		out = append(out, rodName(id))
	}
	return out
}

// rodsName names rods: nothing for all, "left and right rods" for whole columns, or
// each rod.
func rodsName(r work.Rods) string {
	switch {
	case r.All:
		return ""
	case r.Levels == 0:
		return words.Join(rodNames(r.IDs))
	}
	var columns []string
	n := len(r.IDs) / r.Levels
	for i := range n {
		columns = append(columns, sameStart(rodName(r.IDs[i]), rodName(r.IDs[i+n])))
	}
	return words.Join(columns) + " rods"
}

// sameStart is the words that two names begin with.
func sameStart(a, b string) string {
	u, v := strings.Fields(a), strings.Fields(b)
	n := 0
	for n < min(len(u), len(v)) && u[n] == v[n] {
		n++
	}
	return strings.Join(u[:n], " ")
}

// with adds the name of rods to a label.
func with(label, name string) string { return strings.TrimSuffix(label+", "+name, ", ") }

// fill is a field to be filled in by pen.
const fill = page.ToFill

// readings are the figures of a step's readings.
func (t teller) readings(s work.Step) []page.Fact {
	var out []page.Fact
	for _, r := range s.Readings {
		out = append(out, t.reading(r)...)
		if what := atRods(r); what != "" {
			for _, name := range rodNames(r.Rods.IDs) {
				out = append(out, page.Fact{Label: what + ", " + name, Value: fill})
			}
		}
	}
	return out
}

// record gives a step the figures of its readings, and a table with a line for every rod
// where more than one thing is read at each.
func (t teller) record(s work.Step, p *page.Step) {
	head, rods := []string{"rod"}, []string(nil)
	for _, r := range s.Readings {
		if what := atRods(r); what != "" {
			head, rods = append(head, words.First(strings.TrimPrefix(strings.TrimPrefix(what, string(r.When)), ", "), "plate to plate")), rodNames(r.Rods.IDs)
		}
	}
	if len(head) < 3 {
		p.Figures = t.readings(s)
		return
	}
	p.Table = page.Rows{head}
	for _, name := range rods {
		p.Table = append(p.Table, append([]string{name}, slices.Repeat([]string{fill}, len(head)-1)...))
	}
	for _, r := range s.Readings {
		p.Figures = append(p.Figures, t.reading(r)...)
	}
}

// atRods is what is read and written down at every rod; empty for other readings.
func atRods(r work.Reading) string {
	switch {
	case r.What == work.PlateGap:
		return words.First(string(r.When), "plate to plate")
	case r.What == work.SpringHeight && r.Mean:
		return string(r.When) + ", spring between its washers"
	}
	return ""
}

// heightLabels are what a spring's expected height is called in a state.
var heightLabels = map[work.When]string{
	work.AtFull: "spring height now", work.AtLimit: "at the cells' limit", work.AtStore: "spring height at storage charge",
	work.Shorter: "once a year, set again if shorter than", work.Taller: "once a year, set again if taller than",
}

// reading is what is expected, and what is written down.
func (t teller) reading(r work.Reading) []page.Fact {
	switch r.What {
	case work.StackLength:
		return []page.Fact{{Label: "stack when they touch", Value: t.Small(r.Low), Note: MeasuredNote(!r.Nominal)}}
	case work.PlateGap:
		if r.Low > 0 {
			return []page.Fact{{Label: "plate to plate, about", Value: t.Small(r.Low), Note: MeasuredNote(!r.Nominal)}}
		}
	case work.PlatesCloser:
		return []page.Fact{{Label: "plates closer than at snug, mean", Value: "at least " + t.Small(r.Low)}, {Label: "closer by", Value: fill}}
	case work.PlatesParted:
		f := page.Fact{Label: "plates farther apart than set, beside " + words.First(rodsName(r.Rods), "every rod"), Value: "about " + t.Small(r.High)}
		if r.Low < r.High {
			f.Value = "less than " + t.Small(r.High)
		}
		return []page.Fact{f}
	case work.ForceAll:
		return []page.Fact{{Label: "expected force", Value: t.Forces().Text(r.Low) + " on all rods"}}
	case work.ForceLeft:
		return []page.Fact{{Label: "force left after " + string(r.When), Value: number.Trim(100*r.Low, 0) + " %"}}
	case work.SpringHeight:
		return t.height(r)
	}
	return nil
}

// height is a spring's height as expected or, in fields for one or for all, as read.
func (t teller) height(r work.Reading) []page.Fact {
	switch {
	case r.Mean:
		return []page.Fact{{Label: string(r.When) + ", mean height of the springs", Value: fill}}
	case r.Record:
		return []page.Fact{{Label: string(r.When) + ", a spring between its washers", Value: fill}}
	}
	f := page.Fact{Label: with(heightLabels[r.When], rodsName(r.Rods)), Value: t.Spring(r.Low)}
	if most := t.Spring(r.High); most != f.Value {
		f.Value += " to " + most
	}
	if r.When == work.AtLimit {
		f.Note = "never shorter"
	}
	return []page.Fact{f}
}

// MeasuredNote says what a stack's length rests on.
func MeasuredNote(measured bool) string {
	if measured {
		return "as measured"
	}
	return "nominal"
}

// Heights are the springs' heights to be set, for each group of rods.
func Heights(label string, sets []work.Value, style params.Style) []page.Fact {
	var out []page.Fact
	for _, v := range sets {
		if v.What == work.HeightTo {
			out = append(out, page.Fact{Label: with(label, rodsName(v.Rods)), Value: style.Spring(v.Value), Note: style.Forces().Text(v.ForceN) + " in each rod"})
		}
	}
	return out
}

// Span writes a least and a greatest value.
func Span(lo, hi float64, decimals int) string {
	a, b := number.Trim(lo, decimals), number.Trim(hi, decimals)
	if a == b {
		return a
	}
	return a + " to " + b
}
