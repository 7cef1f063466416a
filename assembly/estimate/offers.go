package estimate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"clampwright/assembly/assure"
)

// Offers are the readings that may still be taken of this clamp, each group at one go:
// before it is set all that goes along with setting, later what its parts allow. Readings
// of full cells are left out where the pack may not be charged.
func (e *Estimate) Offers(mayCharge bool) (out []Offer) {
	set, now := e.isSet(), e.Now()
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
		if e.unweighed() {
			offer(e.each(Weighed, Before, now))
		}
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

// unweighed says whether one spring of every rod is still to be weighed.
func (e *Estimate) unweighed() bool {
	n := 0
	for _, r := range e.rows {
		if r.What == Weighed {
			n++
		}
	}
	return n < len(e.Shares)
}

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
		r.HighMM = e.height(e.TargetN*e.Shares[max(r.At, 0)], 1)
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
	Stage    Stage   `json:"stage"`   // of the last reading; before it is set Force is that of this stage
	Force    Band    `json:"force_n"` // of all ties, now
	Rods     []Band  `json:"rod_force_n"`
	AsSet    Band    `json:"force_set_n"`  // as set: by the card, before it is
	Full     Band    `json:"force_full_n"` // full and hot, as things stand now
	Charge   bool    `json:"may_be_charged_to_full"`
	WillDo   bool    `json:"may_be_charged_once_set"`
	Inside   float64 `json:"full_within_service_band"` // part of what may be
	Uneven   bool    `json:"rods_uneven"`              // one outside its part of the service band when full
	Unread   bool    `json:"force_not_read"`           // nothing since it was set tells what every tie pulls
	Unset    bool    `json:"outside_setting_band"`     // the nuts are still to be set, as the force was last read
	Notes    []Note  `json:"notes,omitempty"`
	Next     *Offer  `json:"next_reading,omitempty"` // that narrows the force when full most; nil: none does
	Turns    []Turn  `json:"turns,omitempty"`
	NoTurn   Refusal `json:"no_turn_because,omitempty"`
	LookIn   float64 `json:"look_again_in_years"`
	LookLow  float64 `json:"tighten_below_n"` // forces at storage charge outside which to set again
	LookHigh float64 `json:"slacken_above_n"`
	Checks   []Check `json:"to_read_then,omitempty"`
}

// Check is a length that is read when the clamp is looked at again, at the charge that it was
// set at: outside of its limits the nuts are set again.
type Check struct {
	What   What    `json:"what"`
	At     int     `json:"at"` // the tie, or of Bow the plate
	LowMM  float64 `json:"low_mm"`
	HighMM float64 `json:"high_mm"`
}

// MayFill says whether readings of full cells may be asked for: now, or once it is set.
func (a *Answer) MayFill() bool { return a.Charge || a.WillDo && a.Stage < Set }

// LookAgain is what is read when an answer has the clamp looked at again, with what that narrows
// the force when full then.
func LookAgain(e *Estimate, a Answer) (o Offer) {
	then := Moment{a.At.Years + a.LookIn, e.SetCharge, e.AssemblyC}
	for _, c := range a.Checks {
		o.Readings = append(o.Readings, e.single(Reading{What: c.What, At: c.At, Stage: Visit}, then)...)
	}
	full := Moment{then.Years, 1, e.HotC}
	o.Before, o.After = e.Sigma(full), e.After(full, o.Readings...)
	return o
}

// sure is what part of what may be has to stay inside for a thing to be allowed.
const sure = 0.95

// Answer draws it up.
func (e *Estimate) Answer() Answer {
	now := e.Now()
	full := Moment{now.Years, 1, e.HotC}
	a := Answer{At: now, Notes: e.Notes}
	a.AsSet, a.Rods = e.Forces(now)
	if a.Force = a.AsSet; len(e.states) > 0 {
		a.Stage = e.states[len(e.states)-1].Stage
	}
	if a.Stage == Snug || a.Stage == Part {
		a.Force, a.Rods = e.tightening()
	}
	var rods []Band
	a.Full, rods = e.Forces(full)
	for k, share := range e.Shares {
		a.Uneven = a.Uneven || e.isSet() && (rods[k].Value < e.Service.Least*share || rods[k].Value > e.Service.Most*share)
	}
	a.Inside = e.Inside(e.Service, full)
	a.WillDo = a.Inside >= sure && !e.Has(Misfit) && !e.Has(Weaker)
	asked := needs(e)
	a.Turns, a.NoTurn = e.turns(asked)
	read, setting := readSince(e)
	a.Unread, a.Unset = e.isSet() && !read, e.isSet() && setting && asked.due // as set, nuts are turned first
	a.Charge = a.WillDo && !a.Uneven && e.isSet() && e.Doubted() == 0 && !a.Unread && !a.Unset
	a.Next = e.Best(full, e.Offers(a.MayFill()))
	limits := e.serve
	a.LookLow, a.LookHigh = limits.Least, limits.Most
	a.LookIn = e.due(now, limits)
	a.Checks = e.checks(limits, now.Years+a.LookIn)
	return a
}

// checks are what tells the force of a clamp that was set, so many years after the first
// setting: the heights of its springs, or where it was read the bow of its plates.
func (e *Estimate) checks(limits assure.Band, years float64) (out []Check) {
	if !e.isSet() {
		return nil
	}
	if e.FreeMM > 0 {
		for k := range e.Shares {
			off := e.differs(e.z, k)
			out = append(out, Check{Height, k, e.HeightAt(limits.Most, k) + off, e.HeightAt(limits.Least, k) + off})
		}
		return out
	}
	if e.has(Bow) {
		l, _ := e.walk(e.z)
		for plate := range 2 {
			low, high := l.BowAt(limits.Least, years, e.SetCharge), l.BowAt(limits.Most, years, e.SetCharge)
			flat := 0.0
			if at, read := e.shared[flatOf(plate)]; read {
				flat = flatSigma * e.z[at]
			}
			by := 1 + bowSigma*e.z[e.bow]
			out = append(out, Check{Bow, plate, flat + by*low, flat + by*high})
		}
	}
	return out
}

// Doubted is how many readings of the last moment are to be taken again before it is known
// how a clamp that was set stands; all count as one where the model does not fit them, or
// the springs are others.
func (e *Estimate) Doubted() (n int) {
	for _, note := range e.Notes {
		if e.isSet() && (note.last || note.Kind == Misfit || note.Kind == Weaker) {
			n++
		}
	}
	return n
}

// Has says whether there is a note of a kind.
func (e *Estimate) Has(kind Doubt) bool {
	return slices.ContainsFunc(e.Notes, func(n Note) bool { return n.Kind == kind })
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

// Growth is how much one cell grows from empty to full, and for good until the clamp is set
// again, mm; 0 of what the readings do not tell to a part of the ranges' width. Locked nuts
// whose bow is read are set again at the first yearly reading outside the limits, which tells,
// others not in the clamp's life.
func (e *Estimate) Growth(part float64) (full, lasting float64) {
	years, limits, served := e.Years, e.serve, e.ReadPart() > 0
	if served {
		l, _ := e.walk(e.z)
		for years = 1; years < e.Years && l.At(years, e.SetCharge, e.AssemblyC).ForceN <= limits.Most; years++ {
		}
	}
	var fulls, lasts []float64
	for _, z := range e.draws {
		l, _ := e.walk(z)
		f, g := l.Grows(years)
		fulls, lasts = append(fulls, math.Log(f)), append(lasts, math.Log(g))
	}
	tell := func(logs []float64, of []int, sure bool) float64 {
		wide := 0.0
		for _, i := range of {
			wide = math.Hypot(wide, e.OfCell()[i].LogSigma())
		}
		if m, s := stat.MeanStdDev(logs, nil); sure || s < part*wide {
			return math.Exp(m)
		}
		return 0
	}
	return tell(fulls, assure.OfGrowth, false), tell(lasts, assure.OfAgeing, served)
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
