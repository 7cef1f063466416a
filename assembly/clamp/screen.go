package clamp

import (
	"fmt"
	"slices"
)

// screenRatio is how much coarser than the default the screening grid is:
// pressures as tightened and forces agree with the default within 5 % (measured in
// the tests).
const screenRatio = 3.0

// ScreenStates is the list of states that a search looks at: as tightened, full
// and aged, after 1000 h. A fixture that fails in one of them fails as a whole.
func ScreenStates(in Input) []StateSpec {
	all := DefaultStates(in)
	return []StateSpec{all[0], all[3], all[5]}
}

// ScreenFittings runs the screening states for several sets of rods on the same
// plate: rods at the same places and seats that differ in what stretches
// (thread, length, springs). The plate is assembled once and tightened once,
// because tightening prescribes the rods' forces; so a further set costs a
// fraction of Screen. A set's states end early after one for which enough says
// so (nil: never). The result is as if each set had been screened alone.
func ScreenFittings(in Input, fittings [][]Rod, enough func(State) bool) ([][]State, error) {
	var s *system
	var tight *solution
	out := make([][]State, len(fittings))
	for k, rods := range fittings {
		in.Rods = rods
		if err := Validate(in); err != nil {
			return nil, err
		}
		if s == nil {
			s = newSystem(in, screenRatio*in.edge())
		} else if err := s.refit(in); err != nil {
			return nil, err
		}
		f := newFixtureOn(s, nominal)
		f.share(tight)
		for _, st := range ScreenStates(in) {
			state, err := f.state(st)
			if err != nil {
				return nil, err
			}
			out[k] = append(out[k], state)
			if enough != nil && enough(state) {
				break
			}
		}
		tight = f.tight
	}
	return out, nil
}

// refit puts other rods in the place of those of a system.
func (s *system) refit(in Input) error {
	if len(in.Rods) != len(s.in.Rods) {
		return &InputError{Field: "rods", Reason: fmt.Sprintf("%d rods where others have %d", len(in.Rods), len(s.in.Rods))}
	}
	for r, a := range in.Rods {
		b := s.in.Rods[r]
		if a.XMM != b.XMM || a.YMM != b.YMM || a.Seat != b.Seat || a.Share != b.Share {
			return &InputError{Field: fmt.Sprintf("rods[%d]", r), Reason: "another place, seat or share than the other sets' rod"}
		}
	}
	if symmetric(in) != s.half {
		return &InputError{Field: "rods", Reason: "not alike about the middle, as the other sets' rods are"}
	}
	s.in = in
	for g := range s.rods {
		s.rods[g].curve = newRodCurve(in.Rods[s.rods[g].rods[0]])
	}
	return nil
}

// share takes over the tightened state of another set of rods on the same
// plate: only the nuts' advance differs.
func (f *fixture) share(tight *solution) {
	if tight == nil {
		return
	}
	f.tight = tight
	forces := f.shares(f.asked.TargetN)
	f.nuts = make([]float64, len(f.s.rods))
	for g, rod := range f.s.rods {
		f.nuts[g] = rod.curve.stretch(forces[g]) - 2*tight.rodW[g]
	}
}

// Tight is a fixture as tightened on Solve's grid: where one that differs in its
// springs alone may start from.
type Tight struct {
	State State // without its field
	from  *solution
}

// Tighten solves only the tightened state on Solve's grid: what evenness is judged by.
func Tighten(in Input) (*Tight, error) {
	if err := Validate(in); err != nil {
		return nil, err
	}
	f := newFixture(in, in.edge(), nominal)
	s, err := f.state(DefaultStates(in)[0])
	return &Tight{s, f.tight}, err
}

// SolveStates solves all states on Solve's grid, without setting, band
// or fields: what decides whether a fixture passes. The states are Solve's, within
// 1e-9 of the force, and in its order; but when enough (nil: never) says so of a state, that
// one alone is returned. The states that screening looks at are solved first, as
// the likeliest to fail. From, which may be nil, only saves time.
func SolveStates(in Input, from *Tight, enough func(State) bool) ([]State, error) {
	if err := Validate(in); err != nil {
		return nil, err
	}
	f := newFixture(in, in.edge(), in.knowledge())
	if from != nil && len(from.from.x) == f.s.m.n {
		f.s.last = from.from
	}
	specs := f.specs()
	out := make([]State, len(specs))
	for _, i := range likelyFirst(in, specs) {
		s, err := f.state(specs[i])
		if err != nil {
			return nil, err
		}
		out[i] = s
		if enough != nil && enough(s) {
			return []State{s}, nil
		}
	}
	return out, nil
}

// likelyFirst numbers the states with those of ScreenStates first.
func likelyFirst(in Input, specs []StateSpec) []int {
	var first, rest []int
	for i, st := range specs {
		if slices.ContainsFunc(ScreenStates(in), func(c StateSpec) bool { return c.Name == st.Name }) {
			first = append(first, i)
		} else {
			rest = append(rest, i)
		}
	}
	return append(first, rest...)
}
