package wiring

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"clampwright/params/words"
)

// PlanID names one way from loose cells to the finished pack.
type PlanID string

// The plans.
const (
	// Turn balances all cells standing one way and then opens the clamp to turn
	// some of them.
	Turn PlanID = "turn"
	// Cross stands the cells in final order from the start and balances them
	// through crossed jumpers; the clamp is never opened.
	Cross PlanID = "cross"
	// Single stands the cells in final order and balances each by itself before any link
	// is fitted: no jumper is needed, and in a row of single cells no ring is ever closed.
	Single PlanID = "single"
	// InSeries links the finished pack at once, charges it through its protection board
	// to where the first cell is nearly full, and then every place by itself.
	InSeries PlanID = "series"
)

// Plan is one way from loose cells to the finished pack.
type Plan struct {
	ID     PlanID
	Name   string
	States []State
	Steps  []Step
	From   *Moment // where the work starts; nil: with loose cells
	Specs  []LinkSpec
	// LinksMade is the number of links, BarMM the bar they take without saw cuts, Cuts
	// the number of cuts, CableMM the cable; braided links are bought and take neither.
	LinksMade, Cuts int
	BarMM, CableMM  float64
	// Handlings counts every link fitted or taken off.
	Handlings int
	Openings  int // of the clamp
	Turned    int // cells turned with it open
	// InsulatedLinks is the number of insulated cables among the links made,
	// InsulatedPlaces the number of places where they are needed, counted anew
	// in every state.
	InsulatedLinks, InsulatedPlaces int
	Exposures                       []Exposure
	// WorstA is the greatest prospective current of all exposures.
	WorstA         float64
	Proofs         []Proof // one per state
	SequenceFaults []Fault
	Figures        []Figures
	Hours          float64 // charging and discharging at the given currents
	Harm           Harm
}

// Proven says whether every state and the whole sequence hold.
func (p Plan) Proven() bool {
	return len(p.Faults()) == 0
}

// Faults lists all faults of states and sequence.
func (p Plan) Faults() []Fault {
	var out []Fault
	for _, x := range p.Proofs {
		out = append(out, x.Faults...)
	}
	return append(out, p.SequenceFaults...)
}

// State returns the state with an id.
func (p Plan) State(id string) (State, bool) {
	if i := slices.IndexFunc(p.States, func(s State) bool { return s.ID == id }); i >= 0 {
		return p.States[i], true
	}
	return State{}, false
}

// Ids of the states.
const (
	StateBalance = "balance"
	StateFinal   = "final"
)

// Plans returns the plans that make sense for the pack, in the order Turn,
// Cross, Single. A pack of one series place needs no other links for balancing
// than for service: Cross alone is returned. Strips that are welded are not taken off again,
// which Turn and Cross ask for.
func (l *Layout) Plans() ([]Plan, error) {
	ids := []PlanID{Turn, Cross, Single}
	switch {
	case l.in.Series == 1:
		ids = []PlanID{Cross}
	case l.in.Welded:
		ids = []PlanID{Single}
	}
	if l.in.Series > 1 && l.in.BoardA > 0 {
		ids = append(ids, InSeries)
	}
	out, errs := make([]Plan, len(ids)), make([]error, len(ids))
	var all sync.WaitGroup
	for i, id := range ids {
		all.Go(func() {
			if out[i], errs[i] = planBy(l, id, l.Finished()); errs[i] != nil {
				errs[i] = fmt.Errorf("plan %s: %w", id, errs[i])
			}
		})
	}
	all.Wait()
	if err := cmp.Or(errs...); err != nil {
		return nil, err
	}
	return out, unusedLinks(l, out)
}

// unusedLinks refuses links given for a state that no plan has.
func unusedLinks(l *Layout, plans []Plan) error {
	var known []string
	for _, p := range plans {
		for _, s := range p.States {
			if !slices.Contains(known, s.ID) {
				known = append(known, s.ID)
			}
		}
	}
	for _, u := range l.in.UserLinks {
		if !slices.Contains(known, u.State) {
			return &InputError{Problems: []Problem{{"UserLinks",
				fmt.Sprintf("no plan has a state %q; the states are %s", u.State, words.Join(known))}}}
		}
	}
	return nil
}

func planBy(l *Layout, id PlanID, final State) (Plan, error) {
	p := Plan{ID: id}
	var err error
	switch id {
	case Turn:
		p.Name = "all cells one way, turn later"
		err = turnStates(l, &p, final)
	case Cross:
		p.Name = "final order from the start, jumpers across the pack"
		err = crossStates(l, &p, final)
	case Single:
		p.Name = "final order from the start, each cell balanced by itself"
	case InSeries:
		p.Name = "final links at once, charged in series, each place topped up"
		final.CurrentA = max(final.CurrentA, l.in.BoardA)
	}
	if err != nil {
		return p, err
	}
	if err := buildState(l, &p, final, final.Links); err != nil {
		return p, err
	}
	if err := settlePlan(l, &p); err != nil {
		return p, err
	}
	return p, nil
}

// buildState adds a state with its links: those the user gave for it, or the computed
// ones; then insulation, take-offs of parallel states, and sections.
func buildState(l *Layout, p *Plan, s State, links []Link) error {
	s.Intended = slices.Clone(s.Turns)
	given, err := linksGiven(l, s)
	if err != nil {
		return err
	}
	s.Links = links
	if given != nil {
		s.Links = given
	}
	s.Links = insulatedLinks(l, s)
	p.nameLinks(s)
	if len(s.Places) == 1 && s.Mains == (Mains{}) {
		if s.Mains, err = evenMains(l, s); err != nil && given == nil { // links given that do not hold together: at the ends
			return err
		}
	}
	if sized, err := sizedFor(l, s); err == nil {
		s = sized
	} else if given == nil { // else the proof will name what is wrong with the user's links
		return err
	}
	p.States = append(p.States, s)
	return nil
}

// nameLinks numbers the links of a new state on from those before: J for joint,
// since no part's mark begins with it. A link that
// is fitted already, cells turned alike, keeps its name.
func (p *Plan) nameLinks(s State) {
	count := 0
	known := map[string]string{}
	key := func(k Link) string { return fmt.Sprint(k.key(), k.Cable) }
	for _, o := range p.States {
		for _, k := range o.Links {
			n, _ := strconv.Atoi(strings.TrimPrefix(k.ID, "J"))
			count = max(count, n)
			if slices.Equal(o.Turns, s.Turns) {
				known[key(k)] = k.ID
			}
		}
	}
	for i, k := range s.Links {
		id, ok := known[key(k)]
		if !ok {
			count++
			id = fmt.Sprintf("J%d", count)
		}
		s.Links[i].ID = id
	}
}

// linksGiven returns the user's links for a state, nil when there are none.
func linksGiven(l *Layout, s State) ([]Link, error) {
	var out []Link
	for _, u := range l.in.UserLinks {
		if u.State != s.ID {
			continue
		}
		for _, text := range u.Links {
			k, err := l.ParseLink(text, s.Turns)
			if err != nil {
				return nil, err
			}
			out = append(out, k)
		}
		if out == nil {
			out = []Link{}
		}
	}
	return out, nil
}

// Finished is the finished pack, before links are sized.
func (l *Layout) Finished() State {
	o := l.Final()
	places := o.Places(l.in.Parallel)
	s := State{ID: StateFinal, Name: "final series links", Turns: o.Turns, Intended: slices.Clone(o.Turns), Places: places,
		Charge: 1, CurrentA: l.in.RatedA, Links: chainLinks(l, o)}
	s.Mains = Mains{o.Turns.At(o.Path[0], Minus), o.Turns.At(o.Path[len(o.Path)-1], Plus)} // at both ends of the path
	return s
}
