package estimate

import (
	"math"

	"clampwright/assembly/assure"
)

// Offers are the readings that may still be taken of this clamp, each group at one go:
// before it is set all that goes along with setting, later what its parts allow. Readings
// of full cells are left out where the pack may not be charged.
func (e *Estimate) Offers(mayCharge bool) (out []Offer) {
	set := len(e.states) > 0 && e.states[len(e.states)-1].Stage >= Set
	now := e.Now()
	offer := func(rs ...[]Reading) {
		var all []Reading
		for _, r := range rs {
			all = append(all, r...)
		}
		out = append(out, Offer{Readings: all})
	}
	full := Moment{now.Years, 1, now.TempC}
	if !set {
		offer(e.each(Length, Snug, now), e.each(Length, Set, now))
		if e.FreeMM > 0 || !mayCharge { // else with full cells too, below
			offer(e.each(Bow, Snug, now), e.each(Bow, Set, now))
		}
		offer(e.each(Torque, Set, now), e.single(Reading{What: Running, At: -1, Stage: Set}, now))
		offer(e.single(Reading{What: Bare, At: -1, LoadN: 1}, now), e.single(Reading{What: Bare, At: -1, LoadN: bareLoadN}, now))
	}
	if e.FreeMM > 0 {
		offer(e.single(Reading{What: Weighed, At: -1, HighMM: e.height(e.TargetN*e.Shares[0], 1)}, now))
		if !set {
			offer(e.each(Height, Set, now))
		} else if now.Charge <= e.StorageCharge && !e.has(Height) {
			offer(e.each(Height, Visit, now))
		}
		if mayCharge {
			offer(e.each(Height, Visit, full))
		}
	} else if mayCharge && (!set || e.has(Bow)) {
		before := [][]Reading{e.each(Bow, Visit, full)}
		if !set {
			before = [][]Reading{e.each(Bow, Snug, now), e.each(Bow, Set, now), e.each(Bow, Visit, full)}
		}
		offer(before...)
	}
	return out
}

// bareLoadN is the weights that a loose row is offered to be read under: 20 kg.
const bareLoadN = 196

func (e *Estimate) has(w What) bool {
	for _, r := range e.rows {
		if r.What == w && r.Stage >= Set {
			return true
		}
	}
	return false
}

// each is a quantity read at every tie, or of bow at both plates.
func (e *Estimate) each(w What, s Stage, at Moment) (out []Reading) {
	n := len(e.Shares)
	if w == Bow {
		n = 2
	}
	for k := range n {
		out = append(out, e.single(Reading{What: w, At: k, Stage: s}, at)...)
	}
	return out
}

func (e *Estimate) single(r Reading, at Moment) []Reading {
	r.Years, r.Charge, r.TempC = at.Years, at.Charge, at.TempC
	if r.Stage < Visit {
		r.Years = 0
	}
	switch err := e.Errors[r.What]; {
	case r.What == Torque:
		r.Value = e.k() * e.DiameterMM * e.TargetN * e.Shares[max(r.At, 0)]
		r.Sigma = err[0] + err[1]*r.Value
	case r.What == Weighed:
		r.Value = e.atHeight(r.HighMM)
		r.Sigma = err[0] + err[1]*r.Value
	default:
		r.Sigma = err[0]
	}
	r.Sigma /= assure.EndSigmas
	return []Reading{r}
}

// Answer is what readings tell for the bench.
type Answer struct {
	At       Moment  `json:"at"`
	Force    Band    `json:"force_n"` // of all ties, now
	Rods     []Band  `json:"rod_force_n"`
	Full     Band    `json:"force_full_n"` // full and hot, as things stand now
	Charge   bool    `json:"may_be_charged_to_full"`
	Inside   float64 `json:"full_within_service_band"` // part of what may be
	Notes    []Note  `json:"notes,omitempty"`
	Next     *Offer  `json:"next_reading,omitempty"` // that narrows the force when full most; nil: none does
	Turns    []Turn  `json:"turns,omitempty"`
	NoTurn   Refusal `json:"no_turn_because,omitempty"`
	LookIn   float64 `json:"look_again_in_years"`
	LookLow  float64 `json:"tighten_below_n"` // forces at storage charge outside which to set again
	LookHigh float64 `json:"slacken_above_n"`
}

// sure is what part of what may be has to stay inside for a thing to be allowed.
const sure = 0.95

// Answer draws it up.
func (e *Estimate) Answer() Answer {
	now := e.Now()
	full := Moment{now.Years, 1, e.HotC}
	a := Answer{At: now, Notes: e.Notes}
	a.Force, a.Rods = e.Forces(now)
	a.Full, _ = e.Forces(full)
	a.Inside = e.Inside(e.Service, full)
	a.Charge = a.Inside >= sure && !e.Misfits()
	a.Next = e.Best(full, e.Offers(a.Charge))
	a.Turns, a.NoTurn = e.Turns()
	limits := e.ServeLimits()
	a.LookLow, a.LookHigh = limits.Least, limits.Most
	a.LookIn = e.due(now, limits)
	return a
}

// Misfits says whether the model does not fit the readings.
func (e *Estimate) Misfits() bool {
	for _, n := range e.Notes {
		if n.Kind == Misfit {
			return true
		}
	}
	return false
}

// lookStep is how finely the time to look again is told, lookMost the longest, years.
const lookStep, lookMost = 0.25, 2.0

// due is in how many years the clamp is to be looked at again: before one in twenty of
// what may be leaves the limits of service.
func (e *Estimate) due(now Moment, limits assure.Band) float64 {
	for in := lookStep; in < lookMost; in += lookStep {
		at := now.Years + in
		store := Moment{at, e.SetCharge, e.AssemblyC}
		if e.Inside(limits, store) < sure || e.Inside(e.Service, Moment{at, 1, e.HotC}, Moment{at, 0, e.ColdC}) < sure {
			return in
		}
	}
	return lookMost
}

// HeightAt is the height of a tie's springs at a force of all ties, as most likely.
func (e *Estimate) HeightAt(force float64, tie int) float64 {
	l, _ := e.walk(e.z)
	return e.height(force*e.Shares[tie], l.Strength())
}

// TurnsTo is by how many turns the nuts bring a force at storage charge to the target in
// so many years.
func (e *Estimate) TurnsTo(force, years float64) float64 {
	l, _ := e.walk(e.z)
	return (l.Needs(e.TargetN, years, e.SetCharge, e.AssemblyC) - l.Needs(force, years, e.SetCharge, e.AssemblyC)) / e.PitchMM
}

// ReadPart is one sigma of the force now as a part of it, of a clamp without springs whose
// plates' bow was read as set or later; 0 of others.
func (e *Estimate) ReadPart() float64 {
	if e.FreeMM > 0 || !e.has(Bow) {
		return 0
	}
	all, _ := e.Forces(e.Now())
	return (all.High - all.Low) / 2 / 1.96 / math.Max(all.Value, 1)
}
