package clamp

import "math"

// SolveState solves one state on the grid of in, after tightening. It costs two
// equilibria (one for a state with Tighten set) and no band or advice.
func SolveState(in Input, st StateSpec) (State, error) {
	if err := Validate(in); err != nil {
		return State{}, err
	}
	f := newFixture(in, in.edge(), nominal)
	sol, err := f.run(st)
	if err != nil {
		return State{}, err
	}
	out := f.summarize(st, sol)
	out.Field = f.field(sol)
	return out, nil
}

// Estimate is what a search needs to rank one candidate.
type Estimate struct {
	Verdict  Verdict  `json:"verdict"`
	Limiting string   `json:"limiting,omitempty"`
	ForceN   Span     `json:"force_n"`      // over the states
	Pressure Pressure `json:"pressure_kpa"` // as tightened
	Ratio    float64  `json:"middle_over_mean"`
	Uneven   float64  `json:"unevenness"`
	Least    []Margin `json:"margins"` // least per part over the states
}

// screenRatio is how much coarser than the default the screening grid is.
const screenRatio = 3.0

// Screen estimates one candidate on a grid screenRatio times coarser than
// Solve's, in three states: as tightened, full and aged, and after 1000 h. It is
// meant for thousands of candidates: about a millisecond each for four cells;
// pressures as tightened agree with Solve within a few percent of the mean
// (measured in the tests). It gives no field, band or advice.
func Screen(in Input) (Estimate, error) {
	if err := Validate(in); err != nil {
		return Estimate{}, err
	}
	f := newFixture(in, screenRatio*in.edge(), nominal)
	all := DefaultStates(in)
	out := Estimate{Verdict: Pass}
	for i, st := range []StateSpec{all[0], all[3], all[5]} {
		s, err := f.state(st)
		if err != nil {
			return Estimate{}, err
		}
		out.join(s, i == 0)
	}
	return out, nil
}

// join takes one more state into the estimate.
func (e *Estimate) join(s State, first bool) {
	if worse(e.Verdict, s.Verdict) != e.Verdict {
		e.Verdict, e.Limiting = s.Verdict, s.Name+": "+s.Limiting
	}
	e.ForceN.add(s.ForceN, first)
	if first {
		e.Pressure, e.Least = s.Pressure, s.Margins
		e.Ratio = math.Inf(1)
		for _, r := range s.Rows {
			e.Ratio = math.Min(e.Ratio, r.middleRatio())
			e.Uneven = math.Max(e.Uneven, r.Uneven)
		}
		return
	}
	for i, m := range s.Margins {
		if m.Margin < e.Least[i].Margin {
			e.Least[i] = m
		}
	}
}
