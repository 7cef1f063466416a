package job

import (
	"fmt"
	"math"

	"clampwright/assembly/finding"
	"clampwright/assembly/wiring"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
)

// Planned fails where links cannot be made as given; its Why says why.
const Planned finding.ID = "wiring-planned"

// Limits of the electrical checks.
const (
	// dropMost is the share of the pack's nominal voltage that all links together
	// may lose at the rated current, percent. Common practice, no source.
	dropMost = 1.0
)

// wiringFindings are the electrical findings, in the order of the work.
func (j *Job) wiringFindings() []finding.Finding {
	w := j.Wiring
	switch {
	case w == nil:
		return nil
	case w.Problem != "":
		return []finding.Finding{{ID: Planned, Group: finding.GroupWiring, Verdict: finding.Fail, Sense: finding.AtLeast, Unit: "plans", Need: 1, Between: []string{"the pack"},
			Why: "The links cannot be made, so there is no plan and no proof of the wiring: " + w.Problem + ".", Params: w.blame}}
	}
	out := w.proofs(j.Fixture)
	out = append(out, w.hottest(), w.cellCurrent(), w.ampacity(), w.drop(), w.share())
	out = append(out, w.rigid()...)
	if !j.Fixture.Cell.Welded {
		out = append(out, w.joint())
	}
	out = append(out, w.joined()...)
	return append(out, w.recordFindings(j.Fixture)...)
}

// proofs is the polarity proof: a finding for every state of the plan followed,
// one for the order of its steps, and one for every plan set aside for a link
// of the user's that is wrong in it.
func (w *Wiring) proofs(f *params.Fixture) []finding.Finding {
	var out []finding.Finding
	for i, p := range w.Plan.Proofs {
		s := w.Plan.States[i]
		out = append(out, proofFinding("polarity-proof", s.Name, p.Faults, f,
			"Every cell must stand in its place and every link join the terminals it is meant for, or a cell is shorted or reversed."))
	}
	out = append(out, proofFinding("step-order", w.Plan.Name, w.Plan.SequenceFaults, f,
		"No single link fitted or taken off on the way may short or cross a cell, and the clamp is never opened above storage charge."))
	for _, p := range w.Plans {
		if p.ID != w.Plan.ID && !p.Proven() && len(f.Electrical.Links) > 0 {
			c := proofFinding("plan-set-aside", p.Name, p.Faults(), f, "A link given in the file is wrong in this plan, so the plan was set aside.")
			c.Verdict = finding.Warn
			out = append(out, c)
		}
	}
	return out
}

func proofFinding(id finding.ID, where string, faults []wiring.Fault, f *params.Fixture, why string) finding.Finding {
	c := finding.Finding{ID: id, Group: finding.GroupWiring, Verdict: finding.Pass, Have: float64(len(faults)), Sense: finding.AtMost, Unit: "faults", Between: []string{where}, Why: why}
	if len(faults) == 0 {
		return c
	}
	c.Verdict = finding.Fail
	c.Why = words.Upper(faults[0].Text) + ". " + why
	for _, x := range faults[1:] {
		c.Also = append(c.Also, x.Text)
	}
	c.Params, c.Hint = blamed(faults, f)
	return c
}

// blamed names the file's place of the links given for a faulty state.
func blamed(faults []wiring.Fault, f *params.Fixture) (params []string, hint string) {
	for _, s := range f.Electrical.Links {
		for _, x := range faults {
			if x.State == s.State {
				params = []string{"electrical.links"}
				hint = fmt.Sprintf("read the links given for state %s again (%s)", s.State, s.At)
				break
			}
		}
	}
	return params, hint
}

// Figures are those of the finished pack.
func (w *Wiring) Figures() wiring.Figures { return w.FiguresOf(wiring.StateFinal) }

// FiguresOf are those of one state; none where its proof does not hold.
func (w *Wiring) FiguresOf(state string) wiring.Figures {
	for _, f := range w.Plan.Figures {
		if f.State == state {
			return f
		}
	}
	return wiring.Figures{}
}

// hottest judges the links of every state, warm air and the greatest current.
func (w *Wiring) hottest() finding.Finding {
	in := w.Layout.Input()
	c := w.atMost("link-temperature", "links", in.AmbientC, in.LimitC, "\u00b0C", "")
	for _, f := range w.Plan.Figures {
		s, _ := w.Plan.State(f.State)
		for _, k := range f.Links {
			if k.Celsius > c.Have {
				c.Have, c.Between = k.Celsius, []string{w.Layout.LinkName(k.Link, s.Turns), s.Name}
				c.Why = fmt.Sprintf("A link must stay below its limit at %s A in air of %s \u00b0C (estimated, cooling into the terminals left out).", number.Trim(math.Abs(f.CurrentA), 1), number.Trim(in.AmbientC, 0))
			}
		}
	}
	return failing(c)
}

// cellCurrent judges the most loaded cell of every state, charging or discharging.
func (w *Wiring) cellCurrent() finding.Finding {
	c := w.atMost("cell-current", "cells", 0, w.Layout.Input().CellLimitA, "A", "A cell must not carry more for long than its data sheet allows (electrical.current and balance_current, shared as the links and the cells make it).")
	for _, f := range w.Plan.Figures {
		s, _ := w.Plan.State(f.State)
		for slot, a := range f.CellA {
			if math.Abs(a) > c.Have {
				c.Have, c.Between = math.Abs(a), []string{"cell " + w.Layout.CellName(slot), s.Name}
			}
		}
	}
	c.Params = []string{"electrical.current", "electrical.balance_current", "cell.current"}
	if w.Plan.ID == wiring.InSeries {
		c.Params = append(c.Params, "electrical.board")
	}
	return failing(c)
}

// solved is how far the solved currents may be off, as a part.
const solved = 1e-9

// failing fails a finding above its limit.
func failing(c finding.Finding) finding.Finding {
	if !(c.Have <= c.Need*(1+solved)) {
		c.Verdict = finding.Fail
	}
	return c
}

// ampacity compares the current of one bar with the table of DIN 43671.
func (w *Wiring) ampacity() finding.Finding {
	c := finding.Finding{ID: "link-ampacity", Group: finding.GroupWiring, Verdict: finding.Pass, Sense: finding.AtMost, Unit: "A", Between: []string{"links"},
		Why: "No link is in the table of continuous currents (DIN 43671, copper, 35 C air, bar 65 C); the estimated temperature decides."}
	least := 0.0
	for _, k := range w.Figures().Links {
		if k.Link.Layers > 1 && !k.Link.Cable {
			c.Also = append(c.Also, fmt.Sprintf("%s: %d bars on each other, %s A together", w.Layout.LinkName(k.Link, w.Final().Turns), k.Link.Layers, number.Trim(k.Amps, 1)))
		}
		if k.TableAmps <= 0 {
			continue
		}
		amps := k.Amps / float64(max(1, k.Link.Layers))
		if spare := k.TableAmps - amps; c.Need == 0 || spare < least {
			least = spare
			c.Have, c.Need, c.Between = amps, k.TableAmps, []string{w.layered(k.Link)}
			c.Why = "The current of one bar should stay below the continuous current of the table (DIN 43671, copper, 35 C air, bar 65 C)."
		}
	}
	if c.Have > c.Need {
		c.Verdict = finding.Warn
	}
	return c
}

// layered names a link of the finished pack, and how many bars lie on each other.
func (w *Wiring) layered(k wiring.Link) string {
	name := w.Layout.LinkName(k, w.Final().Turns)
	if k.Layers > 1 && !k.Cable {
		name += fmt.Sprintf(" (one of %d bars on each other)", k.Layers)
	}
	return name
}

func (w *Wiring) drop() finding.Finding {
	in, f := w.Layout.Input(), w.Figures()
	share := 100 * f.LinkOhm * f.CurrentA / (in.Volts.Nominal * float64(in.Series))
	return w.atMost("link-drop", "all links with their joints", share, dropMost, "%",
		fmt.Sprintf("What the links lose at %s A is heat on the terminals: %s mV of %s V nominal (common practice, no source: 1 %%).", number.Trim(f.CurrentA, 1),
			number.Trim(1000*f.LinkOhm*f.CurrentA, 0), number.Trim(in.Volts.Nominal*float64(in.Series), 1)))
}

func (w *Wiring) share() finding.Finding {
	worst := 1.0
	for _, u := range w.Figures().Unevenness {
		worst = max(worst, u)
	}
	c := w.atMost("current-share", "cells of one parallel group", worst, wiring.UnevenMost, "of the mean",
		"Cells in parallel share the current by the resistance of their links; the most loaded one ages first (common practice, no source: 1.1).")
	if a := w.Arrangement; c.Verdict != finding.Pass && a != nil && a.Uneven > wiring.UnevenMost {
		c.Verdict, c.Why = finding.Fail, c.Why+" No grouping of the cells on record shares within the limit."
	}
	return c
}

// atMost is a check that warns above a limit.
func (w *Wiring) atMost(id finding.ID, between string, measured, limit float64, unit, why string) finding.Finding {
	c := finding.Finding{ID: id, Group: finding.GroupWiring, Verdict: finding.Pass, Have: measured, Sense: finding.AtMost, Need: limit, Unit: unit, Between: []string{between}, Why: why}
	if !(measured <= limit) {
		c.Verdict = finding.Warn
	}
	return c
}

// rigid judges the links by what the terminals move: a braided one must be long
// enough, a rigid bar that the user asks for may pass on little.
func (w *Wiring) rigid() []finding.Finding {
	var out []finding.Finding
	for _, sp := range w.Plan.Specs {
		if sp.Shape == wiring.Cable {
			continue
		}
		c := w.atMost("link-flexible", "link "+sp.Mark, sp.GrownMM, sp.GrownMostMM, "mm",
			"The slot takes tolerances while the link is fitted; a tightened joint does not slide: what the terminals move apart afterwards must stay below what a rigid bar may pass on.")
		switch {
		case sp.Braided:
			c = w.atMost("link-flexible", "link "+sp.Mark, sp.GrownMM, sp.FlatMM-sp.HolesMM, "mm", "A braided link must not come taut: it is made longer than the terminals move apart.")
		case sp.TravelMM > sp.SlotMostMM:
			c.Have, c.Need = sp.TravelMM, sp.SlotMostMM
		}
		if !sp.Braided && sp.FlexibleWhy != "" {
			c.Verdict, c.Why = finding.Warn, words.Upper(sp.FlexibleWhy)+"."
			c.Params = []string{"electrical.link_form"}
		}
		if c.Also = sp.Warnings; len(sp.Warnings) > 0 {
			c.Verdict = finding.Warn
		}
		out = append(out, c)
	}
	return out
}

// joint judges the screws or nuts of the terminals over all the work: each must have
// hold of enough thread and stay clear of its bottom. A depth that is not known is taken
// to do, and the verdict says that it is to be measured.
func (w *Wiring) joint() finding.Finding {
	in := w.Layout.Input()
	c := finding.Finding{ID: "terminal-joint", Group: finding.GroupWiring, Verdict: finding.Pass, Sense: finding.AtLeast, Unit: "mm", Have: in.HoldsLeast(), Need: in.HoldsLeast(),
		Between: []string{"terminal", "what lies on it"}, Params: []string{"cell.terminals.depth", "cell.terminals.stud", "electrical.link_thickness"},
		Why: "A screw or nut must have hold of enough thread over all that lies on its terminal. A screw must not bottom. Common practice, no source: the cell's data sheet goes first."}
	if in.StudHeightMM == 0 && in.ThreadDepthMM == 0 {
		c.Have, c.Need = in.StudDiaMM, in.StudDiaMM
		c.Why = "The depth of the terminals' thread is not known. Measure it before screws are bought, and give it as cell.terminals.depth: the screws are then chosen."
		return c
	}
	c.Have = math.Inf(1)
	for _, at := range w.Plan.Joints(w.Layout) {
		for _, j := range at {
			for _, each := range j.Each() {
				if each.HoldsMM < c.Have {
					c.Have, c.Between[1] = each.HoldsMM, w.Layout.JointText(j, w.Final().Turns)
				}
			}
		}
	}
	if c.Have < c.Need-holdTol {
		c.Verdict, c.Hint = finding.Fail, "ask the cell's maker how links are held"
	}
	return c
}

// holdTol is rounding, mm.
const holdTol = 0.01

// joined compares the recorded voltages of cells that are joined in parallel as they came:
// the worst place of the first state.
func (w *Wiring) joined() []finding.Finding {
	if w.Arrangement == nil || w.Plan.ID == wiring.Single { // there each is balanced before
		return nil
	}
	c := finding.Finding{ID: "join-voltage", Group: finding.GroupWiring, Verdict: finding.Pass, Sense: finding.AtMost, Unit: "mV"}
	s := w.Plan.States[0]
	allowed := 1000 * w.Layout.JoinLimit(s).AllowedV
	for _, place := range s.Places {
		low, high := w.Arrangement.Slots[place[0]], w.Arrangement.Slots[place[0]]
		for _, slot := range place[1:] {
			switch r := w.Arrangement.Slots[slot]; {
			case r.Volts < low.Volts:
				low = r
			case r.Volts > high.Volts:
				high = r
			}
		}
		if spread := 1000 * (high.Volts - low.Volts); len(place) > 1 && (len(c.Between) == 0 || spread > c.Have) {
			c.Have, c.Need, c.Between, c.Why = spread, allowed, []string{low.Serial, high.Serial}, w.Layout.JoinText(s)
		}
	}
	if len(c.Between) == 0 {
		return nil
	}
	if c.Have > c.Need+1e-6 {
		c.Verdict, c.Hint = finding.Warn, "bring the cells that differ together one by one, from a limited supply or through a resistor, before any are joined"
	}
	return []finding.Finding{c}
}

// recordFindings are on the incoming cells: how many have nothing against them.
func (w *Wiring) recordFindings(f *params.Fixture) []finding.Finding {
	if w.Short == "" && w.Arrangement == nil {
		return nil
	}
	named, notes := map[string]bool{}, []string{}
	for _, r := range w.Remarks {
		named[r.Serial] = true
		notes = append(notes, r.Serial+" "+r.Text)
	}
	c := finding.Finding{ID: "cells-fit", Group: finding.GroupWiring, Verdict: finding.Pass, Sense: finding.AtLeast, Need: float64(w.Layout.Cells()), Have: float64(len(w.Layout.Input().Records) - len(named)),
		Unit: "cells", Between: []string{"the records with nothing against them", "the pack"},
		Why: "A bulged, weak or deeply discharged cell spoils its neighbours; enough sound ones must be left for the pack.", Also: notes}
	switch {
	case w.Short != "":
		c.Verdict, c.Hint = finding.Fail, "measure or buy further cells: "+w.Short
	case len(w.Arrangement.Doubtful) > 0:
		c.Verdict, c.Hint = finding.Warn, "replace "+words.Join(serials(w.Arrangement.Doubtful))+" by sound cells, or watch them apart over some weeks first"
	}
	out := []finding.Finding{c}
	if w.Arrangement != nil {
		out = append(out, w.stack(f))
	}
	if a := w.Arrangement; a != nil && len(a.Remarks) > 0 {
		out = append(out, finding.Finding{ID: "rows-even", Group: finding.GroupWiring, Verdict: finding.Warn, Sense: finding.AtMost, Have: a.DifferenceMM, Unit: "mm", Between: []string{"rows"},
			Why: words.Upper(a.Remarks[0]) + ".", Also: a.Remarks[1:]})
	}
	return out
}

// stack judges the rows of the cells as measured against the row that rods, springs
// and links are made for: it may be off by what the cells' tolerance allows.
func (w *Wiring) stack(f *params.Fixture) finding.Finding {
	built, tol := f.Pack.StackLength.MM(), f.Cell.ThicknessTol.MM()*float64(f.Pack.PerRow)
	c := finding.Finding{ID: "stack-as-measured", Group: finding.GroupWiring, Verdict: finding.Pass, Sense: finding.Within, Unit: "mm",
		Need: built - tol, Most: built + tol, Have: built, Between: []string{"cells as measured", "row as built for"}, Params: []string{"pack.stack"},
		Why: "Rods, springs and links are made for one length of the row; the cells as measured must give it within their tolerance."}
	for _, sum := range w.Arrangement.RowCentreMM {
		if long := sum + built - float64(f.Pack.PerRow)*f.Pack.CellThickness.MM(); math.Abs(long-built) > math.Abs(c.Have-built) {
			c.Have = number.Length.Round(long)
		}
	}
	if c.Margin() < 0 {
		c.Verdict = finding.Fail
	}
	return c
}

func serials(records []wiring.Record) []string {
	var out []string
	for _, r := range records {
		out = append(out, r.Serial)
	}
	return out
}
