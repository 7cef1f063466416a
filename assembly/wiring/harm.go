package wiring

import (
	"fmt"

	"clampwright/params/number"
)

// What the hand does wrong, and what that costs. All are our own judgement, of the
// order that handbooks of human reliability give for routine work (from memory, no
// source); only their ratios decide which plan is recommended.
const (
	// slipShare is how often an act goes wrong, missedShare how often what should show
	// it is not done or not believed.
	slipShare, missedShare = 0.003, 0.1
	// burnKJ is the heat of the first second that counts as one burn.
	burnKJ = 10.0
	// toolMilliOhm is what a tool laid across two terminals resists: two pressed points.
	toolMilliOhm = 0.5
	// openedBurns stand for opening the clamp on cells that are fuller than thought, or
	// in which it is set wrong the second time; liftedBurns for a cell let fall.
	openedBurns, liftedBurns = 2.0, 0.5
	// hourBurns stand for an hour of charging or discharging in which a charger, a load
	// or a cell fails.
	hourBurns = 1e-5
	thousand  = 1000
)

// Harm is what carrying a plan out is reckoned to do to the hands, from every slip
// tried and every act counted.
type Harm struct {
	Links   int     `json:"links"`                  // fitted
	Shorts  int     `json:"links_that_could_short"` // an end reaches a terminal that would short
	WorstKJ float64 `json:"worst_kj"`               // heat of the worst one's first second
	WorstA  float64 `json:"worst_a"`                // greatest current of one
	// Slips counts the slips tried, less those that are no fault.
	Slips   int               `json:"slips"`
	Stopped map[StoppedBy]int `json:"stopped_by"`
	// Burns to be expected in a thousand packs: of links, of tools let fall, of
	// openings of the clamp, of cells lifted, of hours attended.
	LinkBurns float64 `json:"link_burns"`
	ToolBurns float64 `json:"tool_burns"`
	OpenBurns float64 `json:"opening_burns"`
	CellBurns float64 `json:"cell_burns"`
	HourBurns float64 `json:"hour_burns"`
}

// Burns is the sum.
func (h Harm) Burns() float64 {
	return h.LinkBurns + h.ToolBurns + h.OpenBurns + h.CellBurns + h.HourBurns
}

// harmOf simulates the work of a plan whose figures are counted.
func harmOf(l *Layout, p Plan) Harm {
	h := Harm{Stopped: map[StoppedBy]int{}}
	h.slip(Slips(l, p))
	h.tool(l, p)
	h.OpenBurns = thousand * slipShare * missedShare * openedBurns * float64(p.Openings)
	h.CellBurns = thousand * slipShare * missedShare * liftedBurns * float64(p.Turned)
	h.HourBurns = thousand * hourBurns * p.Hours
	return h
}

// slip adds up the slips: an end that goes wrong goes to any of the terminals in its
// reach, and burns where no reading is taken.
func (h *Harm) slip(all []Slip) {
	type end struct {
		step int
		link string
		kind SlipKind
	}
	kj, n, shorts := map[end]float64{}, map[end]int{}, map[[2]any]bool{}
	var order []end
	for _, s := range all {
		if s.Kind == LeftOut {
			h.Links++
		}
		if s.By != Alike {
			h.Slips++
			h.Stopped[s.By]++
		}
		e := end{s.Step, s.Link.ID, s.Kind}
		if n[e] == 0 {
			order = append(order, e)
		}
		n[e]++
		missed := missedShare
		if s.By == Unseen {
			missed = 1
		}
		if s.Fused {
			missed *= missedShare
		}
		kj[e] += missed * s.KJ()
		h.WorstKJ, h.WorstA = max(h.WorstKJ, s.KJ()), max(h.WorstA, s.ShortA)
		if s.ShortV > 0 {
			shorts[[2]any{s.Step, s.Link.ID}] = true
		}
	}
	h.Shorts = len(shorts)
	for _, e := range order {
		h.LinkBurns += thousand * slipShare * kj[e] / float64(n[e]) / burnKJ
	}
}

// tool adds up the acts with a tool over the terminals: a screw at each end of a link;
// the clips of leads take none, their lugs on single cells do. It burns where it falls on
// two terminals whose caps are both missing: of a cell, of a place until the first link in
// series is fitted, of all the state from then on.
func (h *Harm) tool(l *Layout, p Plan) {
	const act = thousand * slipShare * missedShare * missedShare / burnKJ
	kW := func(v, ohm float64) float64 { return v * v / (ohm + toolMilliOhm/1000) / 1000 }
	worst, full, cell := map[string]float64{}, l.in.Volts.Full, cellOhm(l, 0)
	for _, e := range p.Exposures {
		worst[e.State] = max(worst[e.State], kW(e.Volts, e.Volts/e.Amps))
	}
	at, linked := "", false
	for _, s := range p.Steps {
		switch s.Action {
		case Fit, Remove:
			at = s.State
			state, _ := p.State(at)
			for _, k := range s.Links {
				if linked = linked || len(state.Places) < 2 || s.Turns.Pole(k.A) != s.Turns.Pole(k.B); linked {
					h.ToolBurns += act * 2 * worst[at]
				} else {
					h.ToolBurns += act * 2 * kW(full, cell/float64(len(state.Places[0])))
				}
			}
			linked = linked && len(state.Places) > 1
		case Sense:
			h.ToolBurns += act * float64(len(s.Lugs)) * worst[at]
		case TopUp, Discharge:
			if s.Alone {
				h.ToolBurns += act * 2 * float64(len(s.Lugs)) * kW(full, cell)
			}
		}
	}
}

// Text says what was found.
func (h Harm) Text() string {
	text := fmt.Sprintf("%s of the hand were tried. The reading before a link stops %d", count(h.Slips, "slip"), h.Stopped[ByReading])
	if n := h.Slips - h.Stopped[ByReading]; n > 0 {
		text += fmt.Sprintf(". %d change no voltage, and no current flows. What lies on the terminals before a link shows %d of them. A later reading, of every full cell or over every joint, shows %d; %d stay unseen",
			n, h.Stopped[ByLook], h.Stopped[Later], h.Stopped[Unseen])
	}
	if h.Shorts > 0 {
		text += fmt.Sprintf(". Without readings, %d of %s could short, with up to %s kJ in a second", h.Shorts, count(h.Links, "link"), number.Trim(h.WorstKJ, 0))
	}
	return text
}
