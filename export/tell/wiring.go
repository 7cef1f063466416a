package tell

import (
	"fmt"
	"slices"
	"strings"

	"clampwright/assembly/job"
	"clampwright/assembly/wiring"
	"clampwright/export/page"
	"clampwright/params/number"
	"clampwright/params/words"
	"clampwright/parts/geom"
)

// Wiring is the electrical plan of the build sheet: nothing when the pack
// could not be planned.
func Wiring(j *job.Job) page.Wiring {
	w := wired{j.Wiring}
	if w.Wiring == nil || w.Problem != "" {
		return page.Wiring{}
	}
	e := j.Fixture.Electrical
	p := page.Wiring{
		Title: fmt.Sprintf("%ds%dp: %s", e.Series, e.Parallel, w.Plan.Name),
		Facts: w.facts(), Plans: w.ranking(),
	}
	for _, why := range w.Advice.Why {
		p.Sentences = append(p.Sentences, words.Upper(why)+".")
	}
	p.Sentences = append(p.Sentences, words.Upper(w.Plan.Harm.Text())+".") // the table compares it with the others
	if w.Proven {
		p.Sentences = append(p.Sentences, NotChosen)
	} else {
		p.Warnings = append(p.Warnings, "No plan is proven. Do not fit a link before the faults are mended.")
		for _, f := range w.Plan.Faults() {
			p.Warnings = append(p.Warnings, words.Upper(f.Text)+".")
		}
	}
	p.Warnings = append(append(p.Warnings, w.reachWarning()...), w.joinWarning()...)
	for i := range w.Plan.States {
		p.States = append(p.States, w.pageState(i))
	}
	return p
}

// ranking are the plans, least harm first.
func (w wired) ranking() []page.PlanRank {
	var out []page.PlanRank
	for _, p := range wiring.ByHarm(w.Plans) {
		h := p.Harm
		note := "plan: " + string(p.ID)
		if !p.Proven() {
			note += ", not proven"
		}
		if p.ID == w.Plan.ID {
			note += ", followed here"
		}
		out = append(out, page.PlanRank{Name: words.Upper(p.Name), Note: note, Burns: number.Trim(h.Burns(), 1),
			Stopped: fmt.Sprintf("%d of %d", h.Stopped[wiring.ByReading], h.Slips), Shorts: fmt.Sprintf("%d of %d", h.Shorts, h.Links), Worst: number.Trim(h.WorstKJ, 0),
			Tool: number.Trim(p.WorstA/1000, 1), Openings: opened(p.Openings), Turned: fmt.Sprint(p.Turned), Hours: number.Trim(p.Hours, 0), Parts: fmt.Sprint(p.LinksMade)})
	}
	return out
}

func (w wired) facts() []page.Fact {
	p, f := w.Plan, w.Figures()
	links := page.Fact{Label: "Links to make", Value: fmt.Sprint(w.linkPieces()), Note: w.madeOf()}
	if w.Layout.Input().Welded {
		links = w.strips()
	}
	out := []page.Fact{
		links,
		{Label: "Clamp opened", Value: opened(p.Openings), Note: "after the first full charge"},
		{Label: "Links lose", Value: fmt.Sprintf("%s mV, %s W", number.Trim(1000*f.LinkOhm*f.CurrentA, 0), number.Trim(f.LinkW, 1)), Note: fmt.Sprintf("all together at %s A", number.Trim(f.CurrentA, 1))},
		{Label: "Hottest link", Value: number.Trim(f.HottestC, 0) + " \u00b0C", Note: string(f.Class) + ", estimated in the warmest air"},
	}
	if p.Cuts > 0 {
		bar := page.Fact{Label: "Bar", Value: number.Trim(p.BarMM, 0) + " mm", Note: fmt.Sprintf("%d cut%s, the saw's width left out", p.Cuts, words.Plural(p.Cuts))}
		out = slices.Insert(out, 1, bar)
	}
	if p.CableMM > 0 {
		out = append(out, page.Fact{Label: "Cable", Value: number.Trim(p.CableMM, 0) + " mm", Note: fmt.Sprintf("%d insulated links with lugs", p.InsulatedLinks)})
	}
	return append(out, w.quantities()...)
}

// strips are what is welded on elsewhere, and what it must carry and give.
func (w wired) strips() page.Fact {
	in, give := w.Layout.Input(), 0.0
	for _, k := range w.Final().Links {
		give = max(give, w.Layout.GrownMM(k, w.Final().Turns))
	}
	return page.Fact{Label: "Strips to be welded on", Value: fmt.Sprint(len(w.Final().Links)), Note: fmt.Sprintf("elsewhere, after the clamp is set: %s, %s x %s mm or as much section; each with a loop that gives %s mm, as the cells grow",
		in.Bar.Material, number.Trim(in.Bar.WidthMM, 1), number.Trim(in.Bar.ThicknessMM, 2), number.Trim(give, 1))}
}

// NotChosen says what the quantities are for.
const NotChosen = "No fuse, disconnect, cable or board is chosen here. Choose them with a licensed person, by the quantities in checks.html."

// quantities are what the rest of the pack is chosen by.
func (w wired) quantities() []page.Fact {
	if !w.Proven {
		return nil
	}
	q, t := w.Quantities(), w.Final().Turns
	fig := func(v float64, unit string) string { return number.Trim(v, 1) + " " + unit }
	var leads, cells []string
	for _, x := range q.Sense {
		leads = append(leads, w.Layout.ShortName(x.At, t)+" "+number.Trim(x.LengthMM, 0)+" mm")
	}
	for _, slot := range q.Sensors {
		cells = append(cells, w.Layout.CellName(slot))
	}
	warmest := ""
	if q.Hottest.ID != "" {
		warmest = ", and link " + q.Hottest.ID
	}
	m := w.Final().Mains
	return []page.Fact{
		{Label: "Voltage", Value: fig(q.LeastV, "to ") + fig(q.FullV, "V"), Note: fig(q.NominalV, "V") + " nominal"},
		{Label: "Current for long", Value: fig(q.RatedA, "A"), Note: "electrical.current"},
		{Label: "Peak", Value: "at most " + fig(q.BornA, "A"), Note: "what the cells bear for long; for seconds the cells' data sheet may allow more"},
		{Label: "Short across the mains", Value: fig(q.ShortA/1000, "kA"), Note: fmt.Sprintf("full cells, a bridge without resistance; one cell alone %s kA", number.Trim(w.Figures().CellShortA/1000, 1))},
		{Label: "Energy", Value: fig(q.KWh, "kWh"), Note: "in the full cells"},
		{Label: "Sense leads", Value: fmt.Sprint(len(q.Sense)), Note: "in this order, lengths to a plug at the pack minus: " + strings.Join(leads, ", ")},
		{Label: "Temperature sensors", Value: "cells " + words.Join(cells) + warmest},
		{Label: "Room for lugs", Value: fmt.Sprintf("%s mm at %s, %s mm at %s", number.Trim(q.Room[0], 0), w.Layout.ShortName(m.Minus, t), number.Trim(q.Room[1], 0), w.Layout.ShortName(m.Plus, t)), Note: "from the middle of the terminal to the next bare metal of another potential; keep the touching distance off that"},
	}
}

// linkPieces counts the bars and cables to make: bars on each other singly.
func (w wired) linkPieces() int {
	n := 0
	for _, sp := range w.Plan.Specs {
		n += sp.Bars
	}
	return n
}

// opened says how often the clamp is opened.
func opened(n int) string {
	switch n {
	case 0:
		return "never"
	case 1:
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// reachWarning tells what a tool can bridge where no cap is on: the nearest pair, and
// the one that gives most.
func (w wired) reachWarning() []string {
	if len(w.Plan.Exposures) == 0 {
		return nil
	}
	near, worst := w.Plan.Exposures[0], w.Plan.Exposures[0]
	for _, e := range w.Plan.Exposures {
		if e.GapMM < near.GapMM {
			near = e
		}
		if e.Volts*e.Amps > worst.Volts*worst.Amps {
			worst = e
		}
	}
	text := "A tool across bare terminals welds itself on. Nearest: " + near.Text
	if worst != near {
		text += ". Worst: " + worst.Text
	}
	return []string{text + ". Use tools with one bare end, and keep the caps on."}
}

// joinWarning says what must hold before the first cells are joined in parallel.
func (w wired) joinWarning() []string {
	for _, s := range w.Plan.States {
		if slices.ContainsFunc(s.Links, func(k wiring.Link) bool { return s.Turns.Pole(k.A) == s.Turns.Pole(k.B) }) {
			return []string{w.Layout.JoinText(s)}
		}
	}
	return nil
}

// madeOf counts the kinds of link.
func (w wired) madeOf() string {
	var out []string
	for _, sp := range w.Plan.Specs {
		text := fmt.Sprintf("%d of %s, %s %s mm", sp.Bars, sp.Mark, sp.Shape, number.Trim(sp.LengthMM, 1))
		if sp.Braided {
			text = fmt.Sprintf("%d of %s, braided or laminated, ends pressed flat to %s x %s mm, stretched %s mm from hole to hole", sp.Bars, sp.Mark, number.Trim(sp.WidthMM, 1), number.Trim(sp.ThicknessMM, 1), number.Trim(sp.FlatMM, 1))
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// clampState draws one state from above.
func (w wired) pageState(i int) page.WiringState {
	s, in := w.Plan.States[i], w.Layout.Input()
	out := page.WiringState{Title: words.Upper(s.Name), Text: w.stateText(i)}
	out.Facts = []page.Fact{
		{Label: "Voltage", Value: number.Trim(s.VoltageOf(in.Volts.Nominal), 1) + " V", Note: "nominal, between the take-offs"},
		{Label: "Meter reads", Value: w.Layout.RestBand(len(s.Places)).String(), Note: "at rest at storage charge, from memory"},
		{Label: "Links", Value: fmt.Sprint(len(s.Links))},
		{Label: "Current", Value: number.Trim(max(s.CurrentA, -s.CurrentA), 1) + " A", Note: "at most"},
		{Label: "Charge", Value: fmt.Sprintf("up to %.0f %%", 100*s.Charge), Note: fmt.Sprintf("links are moved at %.0f %%", 100*in.StorageCharge)},
	}
	for slot := range w.Layout.Cells() {
		m := w.Layout.Middle(slot)
		x, z := in.CellWidthMM/2, in.PitchMM/2
		beside := !slices.Contains(slices.Concat(s.Places...), slot)
		out.Cells = append(out.Cells, page.CellTop{Label: w.Layout.CellName(slot), Beside: beside,
			Box: geom.Box2{Min: geom.Vec2{X: m.X - x, Y: m.Y - z}, Max: geom.Vec2{X: m.X + x, Y: m.Y + z}}})
		for _, side := range []wiring.Side{wiring.Left, wiring.Right} {
			post := wiring.Post{Slot: slot, Side: side}
			for _, at := range w.Layout.Screws(post, s.Turns) {
				out.Terminals = append(out.Terminals, page.TerminalTop{At: at, Radius: w.Layout.Pad(post, s.Turns) / 2, Positive: s.Turns.Pole(post) == wiring.Plus, Beside: beside})
			}
		}
	}
	for _, k := range s.Links {
		out.Links = append(out.Links, w.pageLink(k, s))
	}
	minus, plus := "charger minus", "charger plus"
	if s.ID == wiring.StateFinal {
		minus, plus = "pack minus", "pack plus"
	}
	out.Takeoffs = []page.TakeoffTop{{At: w.Layout.Screws(s.Mains.Minus, s.Turns)[0], Label: minus}, {At: w.Layout.Screws(s.Mains.Plus, s.Turns)[0], Label: plus}}
	return out
}

// whichSide says what left and right mean: x runs to the right when the stack is
// seen from its front, where the highest cell number stands.
func (w wired) whichSide() string {
	if w.Layout.Input().CellsPerRow == 1 {
		return "Left and right are as seen from the front, the side of the nuts that are turned."
	}
	last := w.Layout.CellName(w.Layout.Input().CellsPerRow - 1)
	return fmt.Sprintf("Left and right are as seen from the end of cell %s, looking towards cell %s.", last, w.Layout.CellName(0))
}

func (w wired) stateText(i int) string {
	s := w.Plan.States[i]
	text := w.whichSide() + " The polarity proof holds."
	if i < len(w.Plan.Proofs) && !w.Plan.Proofs[i].Holds() {
		text = w.whichSide() + " The polarity proof FAILS: " + w.Plan.Proofs[i].Faults[0].Text + "."
	}
	cables := 0
	for _, k := range s.Links {
		if k.Cable {
			cables++
		}
	}
	if cables > 0 {
		text += fmt.Sprintf(" %d of the links are insulated cables.", cables)
	}
	return text
}

func (w wired) pageLink(k wiring.Link, s wiring.State) page.LinkTop {
	sp, made := w.Layout.SpecFor(k, s.Turns, w.Plan.Specs)
	if !made {
		sp = w.Layout.SpecOf(k, s.Turns)
	}
	out := page.LinkTop{Line: jogged(w.Layout.Position(k.A, s.Turns), w.Layout.Position(k.B, s.Turns), sp.JogMM), Width: sp.WidthMM, Label: sp.Mark, Kind: page.LinkBar}
	switch {
	case s.ID != wiring.StateFinal && !w.stays(k):
		out.Kind = page.Jumper
	case k.Cable || sp.Braided:
		out.Kind = page.Flexible
	}
	if k.Cable {
		out.Width = number.Length.Round(sp.SectionMM2) / 2 // a slim line, whatever its section
	}
	return out
}

// stays says whether a link is still there in the finished pack.
func (w wired) stays(k wiring.Link) bool {
	for _, o := range w.Final().Links {
		if o.ID == k.ID {
			return true
		}
	}
	return false
}

// jogged is the centre line of a bar: straight, or with its jog at 45 degrees
// half way along the greater offset.
func jogged(a, b geom.Vec2, jog float64) page.Polyline {
	if jog <= 0 {
		return page.Polyline{a, b}
	}
	d, half := b.Sub(a), b.Add(a).Mul(0.5)
	h := jog / 2
	step := geom.Vec2{X: sign(d.X) * h, Y: sign(d.Y) * h}
	from, to := half.Sub(step), half.Add(step)
	return page.Polyline{a, from, to, b}
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// wired is the electrical side of a job.
type wired struct{ *job.Wiring }
