package wiring

import (
	"math"
	"slices"
)

// SlipKind is a way in which the hand goes wrong.
type SlipKind string

// The slips.
const (
	WrongLoose SlipKind = "loose end" // on another terminal
	WrongFirst SlipKind = "first end"
	LeftOut    SlipKind = "left out"
	WrongWay   SlipKind = "cell turned"
	WrongLead  SlipKind = "sense lead" // its ring on another terminal
)

// StoppedBy says what shows a slip.
type StoppedBy string

// What shows it.
const (
	ByReading StoppedBy = "reading" // before the link is closed, before the next, or over all of them
	ByLook    StoppedBy = "look"    // what lies on the terminals before the link is closed, or before a later one
	Later     StoppedBy = "later"   // by a reading under current: of every cell when full, or over every joint
	Unseen    StoppedBy = "unseen"
	// Alike is no fault: the link joins terminals that belong together all the same.
	Alike StoppedBy = "alike"
)

// Slip is one thing done wrong in one step of a plan, all else done right.
type Slip struct {
	Kind SlipKind
	Step int
	Link Link // as it was meant
	At   Post // where its end went, or a post of the cell
	By   StoppedBy
	// Fused says that a fuse would blow before the link is closed.
	Fused bool
	// ShortV and ShortA would drive a current through the link were it closed all the
	// same, with all links of the state fitted; 0 where nothing flows.
	ShortV, ShortA float64
}

// KJ is the heat of a slip's first second, kJ.
func (s Slip) KJ() float64 { return s.ShortV * s.ShortA / 1000 }

// slips tries slip after slip over a plan.
type slips struct {
	l      *Layout
	p      *Plan
	steps  []Step
	fitted []Link
	turns  Turns
	cellV  []float64
	shorts map[string]func(a, b Post) float64 // by state, see shortOhm
	out    []Slip
}

// Slips carries a plan out with every single slip: each end of each link on every
// terminal that it reaches, each link left out, each cell the wrong way round. What a
// reading must show is compared with what it then would show.
func Slips(l *Layout, p Plan) []Slip {
	return slipsAt(l, p, slices.Repeat([]float64{l.in.Volts.Storage}, l.Cells()))
}

// slipsAt are the slips with every cell at its own voltage.
func slipsAt(l *Layout, p Plan, cellV []float64) []Slip {
	s := &slips{l: l, p: &p, steps: p.Steps, cellV: cellV, shorts: map[string]func(a, b Post) float64{}}
	if p.From != nil {
		s.turns, s.fitted = p.From.Turns, p.From.Links
	}
	for i, step := range p.Steps {
		state, _ := p.State(step.State)
		switch step.Action {
		case Stack, TurnCells, Swap:
			s.turns = state.Turns
			s.wrongWay(i)
		case Fit:
			s.fit(i, state)
		case Sense:
			if !step.Off {
				s.wrongLeads(i, state)
			}
		case Remove:
			for _, k := range step.Links {
				s.fitted = without(s.fitted, k)
			}
		}
	}
	return s.out
}

// without are the links but one.
func without(links []Link, k Link) []Link {
	out := make([]Link, 0, len(links))
	for _, o := range links {
		if o.key() != k.key() {
			out = append(out, o)
		}
	}
	return out
}

// wrongWay turns every cell that has just been handled: read before it is linked or
// charged?
func (s *slips) wrongWay(at int) {
	for slot := range s.turns {
		s.out = append(s.out, Slip{Kind: WrongWay, Step: at + 1, At: Post{slot, Left}, By: s.isRead(slot, s.steps[at+1:])})
	}
}

func (s *slips) isRead(slot int, steps []Step) StoppedBy {
	for _, next := range steps {
		state, _ := s.p.State(next.State)
		if !slices.Contains(slices.Concat(state.Places...), slot) {
			continue
		}
		switch {
		case next.Action == Measure && next.EachCell:
			return ByReading
		case next.Action == Fit || next.Action == Charge || next.Action == TopUp:
			return Unseen
		}
	}
	return Unseen
}

// fit tries the slips of a step that fits links.
func (s *slips) fit(at int, state State) {
	if s.shorts[state.ID] == nil {
		s.shorts[state.ID] = s.shortOhm(state)
	}
	short, want := s.shorts[state.ID], intendedNets(s.l, state)
	for i, k := range s.steps[at].Links {
		lv := levelsOf(s.turns, s.cellV, s.fitted)
		for _, w := range wrongEnds(s.l, k, s.turns) {
			b := s.before(at, i)
			slip := Slip{Kind: w.kind, Step: at + 1, Link: k, At: w.at, By: Unseen, Fused: b.Fused}
			if s.seen(lv, b.Checks, w.link) {
				slip.By = ByReading
			} else if want[w.link.A.node()] == want[w.link.B.node()] {
				slip.By = s.apart(at, state, want, append(without(state.Links, k), w.link))
			}
			if slip.By != ByReading && slip.By != Alike && looksWrong(b, s.fitted, w.link) {
				slip.By = ByLook
			}
			if v := math.Abs(lv.between(w.link.A, w.link.B)); v > nothingV {
				slip.ShortV = v
				slip.ShortA = v / (short(w.link.A, w.link.B) + s.l.LinkOhm(k, s.turns))
			}
			s.out = append(s.out, slip)
		}
		s.out = append(s.out, Slip{Kind: LeftOut, Step: at + 1, Link: k, At: k.A, By: s.leftOut(at, i, state, want, lv)})
		s.fitted = append(s.fitted, k)
	}
}

// wrongLeads puts every ring on every terminal that its lead reaches, and reads every
// lead in the plug against the one before: a cell.
func (s *slips) wrongLeads(at int, state State) {
	lv, cellV := levelsOf(s.turns, s.cellV, s.fitted), s.l.in.Volts.Storage
	leads, nets := sensePosts(state), netsOf(s.l.Cells(), s.fitted)
	for i, p := range leads {
		a, b := leads[max(0, i-1)], leads[min(i+1, len(leads)-1)]
		for node := range 2 * s.l.Cells() {
			x := postOf(node)
			if x == p || s.l.Position(p, s.turns).Dist(s.l.Position(x, s.turns)) > leadSpareMM {
				continue
			}
			slip := Slip{Kind: WrongLead, Step: at + 1, At: x, By: Unseen}
			switch c := (Check{WantV: cellV}); {
			case nets.find(p.node()) == nets.find(node):
				slip.By = Alike
			case i > 0 && c.shows(lv.between(a, x), cellV), p != b && c.shows(lv.between(x, b), cellV):
				slip.By = ByReading
			}
			s.out = append(s.out, slip)
		}
	}
}

// apart judges links of a state by which nothing stands at another voltage: no fault where
// all hangs together all the same. Else a reading under the state's own current shows it:
// a cell that is not filled with the others, or a joint that is not there to be read.
func (s *slips) apart(at int, state State, want []int, links []Link) StoppedBy {
	nets := netsOf(s.l.Cells(), links)
	if len(missing(nets, want, len(state.Places))) == 0 {
		return Alike
	}
	for _, step := range s.steps[at+1:] {
		switch {
		case step.Action == Remove || step.Action == Open:
			return Unseen
		case len(step.Over) > 0 && len(step.Over) == len(state.Links):
			return Later
		case step.Action == Measure && step.EachCell && step.ExpectV == s.l.in.Volts.Full:
			for _, slot := range slices.Concat(state.Places...) {
				for _, m := range [2]Post{state.Mains.Minus, state.Mains.Plus} {
					if nets.find(m.node()) != nets.find(state.Turns.At(slot, state.Turns.Pole(m)).node()) {
						return Later
					}
				}
			}
		}
	}
	return Unseen
}

// before is what is found before a link of a step; nothing where a plan has none.
func (s *slips) before(at, i int) Before {
	if b := s.steps[at].Before; i < len(b) {
		return b[i]
	}
	return Before{}
}

// seen takes the readings of a link whose ends are where wrong says: the hand reads
// at the loose end and at the terminal where it is about to go, and by their names
// elsewhere.
func (s *slips) seen(lv levels, checks []Check, wrong Link) bool {
	for _, c := range checks {
		var v float64
		switch {
		case c.BlackLoose:
			v = lv.between(wrong.A, wrong.B)
		case c.RedLoose:
			v = lv.between(c.Black, wrong.A)
		case c.Lead:
			v = lv.bridged(c.Black, c.Red, wrong.A, wrong.B)
		default:
			v = lv.between(c.Black, wrong.B)
		}
		if c.shows(v, s.l.in.Volts.Storage) {
			return true
		}
	}
	return false
}

// looksWrong says that on the terminals to which a link goes lies something else than the
// table names, where there is one.
func looksWrong(b Before, fitted []Link, k Link) bool {
	return len(b.Checks) > 0 && (!slices.Equal(b.Under[0], under(fitted, k.A)) || !slices.Equal(b.Under[1], under(fitted, k.B)))
}

// leftOut carries on without a link from the levels before it: does a reading show it
// before its state is used?
func (s *slips) leftOut(at, i int, state State, want []int, lv levels) StoppedBy {
	from, fitted, looked := i+1, slices.Clip(s.fitted), false
	for n := at; n < len(s.steps) && s.steps[n].Action == Fit && s.steps[n].State == s.steps[at].State; n++ {
		for j := from; j < len(s.steps[n].Links); j++ {
			k := s.steps[n].Links[j]
			if s.seen(lv, s.before(n, j).Checks, k) {
				return ByReading
			}
			looked = looked || looksWrong(s.before(n, j), fitted, k)
			lv.join(k)
			fitted = append(fitted, k)
		}
		from = 0
	}
	n := at + slices.IndexFunc(s.steps[at:], func(x Step) bool { return x.Action != Fit })
	if end := s.steps[max(n, at)]; end.Action == Measure && (Check{WantV: end.ExpectV}).shows(lv.between(state.Mains.Minus, state.Mains.Plus), s.l.in.Volts.Storage) {
		return ByReading // at the take-offs, after the last link
	}
	by := s.apart(at, state, want, without(state.Links, s.steps[at].Links[i]))
	if looked && by != Alike {
		return ByLook
	}
	return by
}

// wrongEnd is a link with one end on a terminal that is not meant.
type wrongEnd struct {
	kind SlipKind
	at   Post
	link Link
}

// wrongEnds are a link's ends on every terminal that they reach.
func wrongEnds(l *Layout, k Link, t Turns) (out []wrongEnd) {
	for _, x := range inReach(l, k, k.A, t) {
		if x != k.B {
			out = append(out, wrongEnd{WrongLoose, x, Link{A: k.A, B: x}})
		}
	}
	for _, x := range inReach(l, k, k.B, t) {
		if x != k.A {
			out = append(out, wrongEnd{WrongFirst, x, Link{A: x, B: k.B}})
		}
	}
	return out
}

// inReach are the terminals that the other end of a link reaches, one end held at a
// terminal: those that its metal can touch.
func inReach(l *Layout, k Link, at Post, t Turns) []Post {
	sp := specOf(l, k, t)
	reach := max(sp.HolesMM+sp.TravelMM/2, sp.FlatMM) + l.in.endDistance()
	if k.Cable {
		reach += sp.LengthMM
	}
	var out []Post
	from := l.Position(at, t)
	for node := range 2 * l.Cells() {
		if p := postOf(node); p != at && l.in.screwsApart(from, l.Position(p, t)) <= reach+l.Pad(p, t)/2 {
			out = append(out, p)
		}
	}
	return out
}

// shortOhm returns the resistance between two terminals with all links of a state
// fitted: the least there is on the way to it.
func (s *slips) shortOhm(state State) func(a, b Post) float64 {
	cell := cellOhm(s.l, 0)
	solver, err := NewSolver(networkOf(s.l, state, s.l.in.Volts.Storage))
	if err != nil {
		return func(a, b Post) float64 { return cell }
	}
	return func(p, q Post) float64 {
		if _, ohm, ok := solver.Between(p, q); ok && ohm > 0 {
			return ohm
		}
		return cell
	}
}
