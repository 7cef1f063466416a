package export

import (
	"fmt"
	"math"
	"strings"

	"clampwright/assembly/wiring"
	"clampwright/export/number"
	"clampwright/params"
)

// Limits of the electrical checks.
const (
	// dropMost is the share of the pack's nominal voltage that all links together
	// may lose at the rated current, percent. Common practice, no source.
	dropMost = 1.0
	// unevenMost is the greatest cell current over the mean of its parallel
	// group in the finished pack. Common practice, no source.
	unevenMost = 1.1
	// pairsNamed is how many of the pairs in reach of a dropped tool are named.
	pairsNamed = 8
)

// groupWiring is the heading of the electrical checks.
const groupWiring = "wiring"

// wiringChecks are the electrical findings, in the order of the work.
func (j *Job) wiringChecks() []Check {
	w := j.Wiring
	switch {
	case w == nil:
		return nil
	case w.Problem != "":
		return []Check{{ID: "wiring-planned", Group: groupWiring, Verdict: Warn, Unit: "plans", Required: 1, Between: []string{"the pack"},
			Why: "The wiring could not be planned: " + w.Problem + ".", Remedy: "set the parameters named to sizes that can be wired"}}
	}
	out := w.proofs(j.Fixture)
	out = append(out, w.dropped(), w.hottest(), w.ampacity(), w.drop(), w.share())
	out = append(out, w.rigid()...)
	out = append(out, w.warned()...)
	out = append(out, w.joined()...)
	return append(out, w.recordChecks()...)
}

// proofs is the polarity proof: a finding for every state of the plan followed,
// one for the order of its steps, and one for every plan set aside for a link
// of the user's that is wrong in it.
func (w *WiringOutcome) proofs(f *params.Fixture) []Check {
	var out []Check
	for i, p := range w.Plan.Proofs {
		s := w.Plan.States[i]
		out = append(out, proofCheck("polarity-proof", s.Name, p.Faults, f,
			"Every cell must stand in its place and every link in its net, or a cell is shorted or reversed; no fault may be found by the nets or by the solved circuit."))
	}
	out = append(out, proofCheck("step-order", w.Plan.Name, w.Plan.SequenceFaults, f,
		"No single link fitted or taken off on the way may short or cross a cell, and the clamp is never opened above storage charge."))
	for _, p := range w.Plans {
		if p.ID != w.Plan.ID && !p.Proven() && len(f.Electrical.Links) > 0 {
			c := proofCheck("plan-set-aside", p.Name, p.Faults(), f, "A link given in the file is wrong in this plan, so the plan was set aside.")
			c.Verdict = Warn
			out = append(out, c)
		}
	}
	return out
}

func proofCheck(id, where string, faults []wiring.Fault, f *params.Fixture, why string) Check {
	c := Check{ID: id, Group: groupWiring, Verdict: Pass, Measured: float64(len(faults)), Unit: "faults", Between: []string{where}, Why: why}
	if len(faults) == 0 {
		return c
	}
	c.Verdict = Fail
	c.Why = sentenceCase(faults[0].Text) + ". " + why
	for _, x := range faults[1:] {
		c.Also = append(c.Also, x.Text)
	}
	c.Causes, c.Remedy = blamed(faults, f)
	return c
}

// blamed names the file's place of the links given for a faulty state.
func blamed(faults []wiring.Fault, f *params.Fixture) (causes []string, remedy string) {
	for _, s := range f.Electrical.Links {
		for _, x := range faults {
			if x.State == s.State {
				causes = append(causes, fmt.Sprintf("electrical.links (%s)", s.At))
				remedy = fmt.Sprintf("correct the links of state %s (%s), or leave them out and let them be computed", s.State, s.At)
				break
			}
		}
	}
	return causes, remedy
}

// dropped lists the pairs of live metal that one loose tool can bridge, in the
// finished pack and on the way there.
func (w *WiringOutcome) dropped() Check {
	long := w.Layout.Input().SpannerMM
	c := Check{ID: "dropped-tool", Group: groupWiring, Verdict: Pass, Measured: long, Required: long, Unit: "mm", Between: []string{"bare metal of unlike potential"},
		Why: "A spanner or bar that drops across two terminals welds itself on; the nearest pair should be further apart than it is long."}
	e := w.Plan.Exposures
	if len(e) == 0 {
		return c
	}
	worst := e[0]
	for _, x := range e {
		if x.GapMM < worst.GapMM {
			worst = x
		}
	}
	c.Verdict, c.Measured = Warn, worst.GapMM
	s, _ := w.Plan.State(worst.State)
	c.Between = []string{w.Layout.PostName(worst.A, s.Turns), w.Layout.PostName(worst.B, s.Turns)}
	c.Why += fmt.Sprintf(" %d pairs of nets are in reach, up to %s kA.", len(e), number.Trim(w.Plan.WorstA/1000, 1))
	for i, x := range e {
		if i == pairsNamed {
			c.Also = append(c.Also, fmt.Sprintf("and %d more pairs", len(e)-i))
			break
		}
		c.Also = append(c.Also, x.State+": "+x.Text)
	}
	c.Remedy = fmt.Sprintf("cap every terminal not being worked on, and tape tools to one bare end; a tool shorter than %s mm reaches no pair", number.Trim(math.Floor(worst.GapMM), 0))
	return c
}

// figures returns those of the finished pack.
func (w *WiringOutcome) figures() wiring.Figures {
	for _, f := range w.Plan.Figures {
		if f.State == wiring.StateFinal {
			return f
		}
	}
	return wiring.Figures{}
}

func (w *WiringOutcome) hottest() Check {
	in, f := w.Layout.Input(), w.figures()
	c := w.atMost("link-temperature", "hottest link", f.HottestC, in.LimitC, "C",
		fmt.Sprintf("A link must stay below its limit at %s A in air of %s C (estimated, cooling into the terminals left out).", number.Trim(f.CurrentA, 1), number.Trim(in.AmbientC, 0)))
	for _, k := range f.Links {
		if k.Celsius == f.HottestC {
			c.Between = []string{w.Layout.LinkName(k.Link, w.Final().Turns)}
			break
		}
	}
	c.Remedy = remedyOf(c, "use a wider or thicker bar: electrical.link_width, electrical.link_thickness")
	return c
}

// ampacity compares the current of one bar with the table of DIN 43671.
func (w *WiringOutcome) ampacity() Check {
	c := Check{ID: "link-ampacity", Group: groupWiring, Verdict: Pass, Unit: "A", Between: []string{"links"},
		Why: "No link is in the table of continuous currents (DIN 43671, copper, 35 C air, bar 65 C); the estimated temperature decides."}
	least := 0.0
	for _, k := range w.figures().Links {
		if k.Link.Layers > 1 && !k.Link.Cable {
			c.Also = append(c.Also, fmt.Sprintf("%s: %d bars on each other, %s A together", w.Layout.LinkName(k.Link, w.Final().Turns), k.Link.Layers, number.Trim(k.Amps, 1)))
		}
		if k.TableAmps <= 0 {
			continue
		}
		amps := k.Amps / float64(max(1, k.Link.Layers))
		if spare := k.TableAmps - amps; c.Required == 0 || spare < least {
			least = spare
			c.Measured, c.Required, c.Between = amps, k.TableAmps, []string{w.layered(k.Link)}
			c.Why = "The current of one bar should stay below the continuous current of the table (DIN 43671, copper, 35 C air, bar 65 C)."
		}
	}
	if c.Measured > c.Required {
		c.Verdict, c.Remedy = Warn, "use a wider or thicker bar: electrical.link_width, electrical.link_thickness"
	}
	return c
}

// layered names a link of the finished pack, and how many bars lie on each other.
func (w *WiringOutcome) layered(k wiring.Link) string {
	name := w.Layout.LinkName(k, w.Final().Turns)
	if k.Layers > 1 && !k.Cable {
		name += fmt.Sprintf(" (one of %d bars on each other)", k.Layers)
	}
	return name
}

func (w *WiringOutcome) drop() Check {
	in, f := w.Layout.Input(), w.figures()
	share := 100 * f.LinkOhm * f.CurrentA / (in.Volts.Nominal * float64(in.Series))
	c := w.atMost("link-drop", "all links with their joints", share, dropMost, "%",
		fmt.Sprintf("What the links lose at the rated current is heat on the terminals: %s mV of %s V nominal (common practice, no source: 1 %%).",
			number.Trim(1000*f.LinkOhm*f.CurrentA, 0), number.Trim(in.Volts.Nominal*float64(in.Series), 1)))
	c.Remedy = remedyOf(c, "use a wider or thicker bar, or better joints")
	return c
}

func (w *WiringOutcome) share() Check {
	worst := 1.0
	for _, u := range w.figures().Unevenness {
		worst = max(worst, u)
	}
	c := w.atMost("current-share", "cells of one parallel group", worst, unevenMost, "of the mean",
		"Cells in parallel share the current by the resistance of their links; the most loaded one ages first (common practice, no source: 1.1).")
	c.Remedy = remedyOf(c, "use thicker links inside the groups, or take off in their middle")
	return c
}

// atMost is a check that warns above a limit.
func (w *WiringOutcome) atMost(id, between string, measured, limit float64, unit, why string) Check {
	c := Check{ID: id, Group: groupWiring, Verdict: Pass, Measured: measured, Required: limit, Unit: unit, Between: []string{between}, Why: why}
	if !(measured <= limit) {
		c.Verdict = Warn
	}
	return c
}

func remedyOf(c Check, text string) string {
	if c.Verdict == Pass {
		return ""
	}
	return text
}

// rigid names the kinds of bar that had better be flexible.
func (w *WiringOutcome) rigid() []Check {
	var out []Check
	for _, sp := range w.Plan.Specs {
		if sp.Shape == wiring.Cable {
			continue
		}
		c := Check{ID: "link-flexible", Group: groupWiring, Verdict: Pass, Measured: sp.GrownMM, Required: sp.GrownMostMM, Unit: "mm", Between: []string{"link " + sp.Mark},
			Why: "The slot takes tolerances while the link is fitted; a tightened joint does not slide: what the terminals move apart afterwards must stay below what a rigid bar may pass on."}
		if sp.TravelMM > sp.SlotMostMM {
			c.Measured, c.Required = sp.TravelMM, sp.SlotMostMM
		}
		if sp.Flexible {
			c.Verdict = Warn
			c.Why = sentenceCase(sp.FlexibleWhy) + "."
			c.Remedy = "use a braided or laminated link of the same length and section, which flexes, or slacken and tighten the joints again at storage charge after the first cycles: the slot has room for the growth then"
		}
		c.Also = append(c.Also, sp.Warnings...)
		if len(sp.Warnings) > 0 {
			c.Verdict = Warn
			c.Remedy = firstNonEmpty(c.Remedy, "see the points named")
		}
		out = append(out, c)
	}
	return out
}

// warned passes on what the plan itself warns of.
func (w *WiringOutcome) warned() []Check {
	c := Check{ID: "wiring-warnings", Group: groupWiring, Verdict: Pass, Unit: "warnings", Between: []string{w.Plan.Name}, Why: "Studs must be long enough for what lies on them, and bars must carry their current."}
	if n := len(w.Plan.Warnings); n > 0 {
		c.Verdict, c.Measured, c.Also = Warn, float64(n), w.Plan.Warnings[1:]
		c.Why = sentenceCase(w.Plan.Warnings[0]) + "."
		c.Remedy = "see the points named"
	}
	return []Check{c}
}

// joined compares the recorded voltages of cells that a balance joins in
// parallel: the worst balance.
func (w *WiringOutcome) joined() []Check {
	if w.Arrangement == nil {
		return nil
	}
	c := Check{ID: "join-voltage", Group: groupWiring, Verdict: Pass, Unit: "mV"}
	for _, s := range w.Plan.States {
		if s.ID == wiring.StateFinal || len(s.Places[0]) < 2 {
			continue
		}
		low, high := w.Arrangement.Slots[s.Places[0][0]], w.Arrangement.Slots[s.Places[0][0]]
		for _, slot := range s.Places[0] {
			switch r := w.Arrangement.Slots[slot]; {
			case r.Volts < low.Volts:
				low = r
			case r.Volts > high.Volts:
				high = r
			}
		}
		spread, allowed := 1000*(high.Volts-low.Volts), 1000*w.Layout.JoinLimit(s).AllowedV
		if len(c.Between) > 0 && spread-allowed <= c.Measured-c.Required {
			continue
		}
		c.Measured, c.Required, c.Between, c.Why = spread, allowed, []string{low.Serial, high.Serial}, w.Layout.JoinText(s)
	}
	if len(c.Between) == 0 {
		return nil
	}
	if c.Measured > c.Required+1e-6 {
		c.Verdict, c.Remedy = Warn, "bring the cells that differ together one by one, from a limited supply or through a resistor, before any are joined"
	}
	return []Check{c}
}

// recordChecks are on the incoming cells: how many have nothing against them.
func (w *WiringOutcome) recordChecks() []Check {
	if w.Short == "" && w.Arrangement == nil {
		return nil
	}
	named, notes := map[string]bool{}, []string{}
	for _, r := range w.Remarks {
		named[r.Serial] = true
		notes = append(notes, r.Serial+" "+r.Text)
	}
	c := Check{ID: "cells-fit", Group: groupWiring, Verdict: Pass, Required: float64(w.Layout.Cells()), Measured: float64(len(w.Layout.Input().Records) - len(named)),
		Unit: "cells", Between: []string{"the records with nothing against them", "the pack"},
		Why: "A bulged, weak or deeply discharged cell spoils its neighbours; enough sound ones must be left for the pack.", Also: notes}
	switch {
	case w.Short != "":
		c.Verdict, c.Remedy = Fail, "measure or buy further cells: "+w.Short
	case len(w.Arrangement.Doubtful) > 0:
		c.Verdict, c.Remedy = Warn, "replace "+inWords(serials(w.Arrangement.Doubtful))+" by sound cells, or watch them apart over some weeks first"
	}
	out := []Check{c}
	if a := w.Arrangement; a != nil && len(a.Remarks) > 0 {
		out = append(out, Check{ID: "rows-even", Group: groupWiring, Verdict: Warn, Measured: a.DifferenceMM, Unit: "mm", Between: []string{"rows"},
			Why: sentenceCase(a.Remarks[0]) + ".", Also: a.Remarks[1:], Remedy: "shim the thin side, or change cells between the rows"})
	}
	return out
}

func serials(records []wiring.Record) []string {
	var out []string
	for _, r := range records {
		out = append(out, r.Serial)
	}
	return out
}

// sentenceCase makes the first letter a capital.
func sentenceCase(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
