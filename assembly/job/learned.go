package job

import (
	"clampwright/assembly/assure"
	"clampwright/assembly/estimate"
	"clampwright/assembly/inputs"
	"clampwright/params"
)

// Rests says what is known of the cells before this clamp is read: what other packs told of
// such cells, or why nothing is taken from that.
type Rests struct {
	Entries []params.Learned // that it rests on; empty: on the ranges alone
	Packs   int              // that these are of
	Known   *estimate.Prior

	// Apart are two entries that disagree, of which none is used, or one and an empty one for
	// this pack's own readings, which then count alone; nil where all agree.
	Apart     []params.Learned
	Sigmas    float64
	Parameter string     // that differs most
	Middles   [2]float64 // of it; the second is nothing where this pack's own
	Unit      string
}

// rests looks through what was learned.
func rests(f *params.Fixture, reduced *assure.Fixture) (r Rests, all []estimate.Learned) {
	all = inputs.Learned(f, reduced)
	prior, apart := estimate.Pool(f.Cell.Batch, all)
	if r.Known = prior; prior != nil {
		r.Packs = prior.Packs
		for _, i := range prior.From {
			r.Entries = append(r.Entries, f.Learned[i])
		}
	}
	if apart != nil {
		r.tell(f, reduced, apart)
	}
	return r, all
}

// tell notes that two are told apart.
func (r *Rests) tell(f *params.Fixture, reduced *assure.Fixture, a *estimate.Apart) {
	*r = Rests{Sigmas: a.Sigmas}
	what := reduced.OfCell()[a.Most]
	r.Parameter, r.Unit = what.Name, what.Unit
	for side, i := range a.Entries {
		l := params.Learned{}
		if i >= 0 {
			l = f.Learned[i]
		}
		r.Apart = append(r.Apart, l)
		_, r.Middles[side], _ = what.Between(a.Means[side], 0)
	}
}

// Misfits says whether this pack's readings do not fit the model.
func (j *Job) Misfits() bool { return j.own != nil && j.own.Misfits() }

// CellRange is what is assumed of a cell's parameter.
func (j *Job) CellRange(parameter int) assure.Range { return j.reduced.OfCell()[parameter] }

// Entry is what this pack's readings alone tell of its cells, for the next pack; ok is
// false where nothing was read at the clamp.
func (j *Job) Entry() (l params.Learned, ok bool) {
	if j.own == nil || j.own.Bare() {
		return l, false
	}
	return inputs.Entry(j.Fixture, j.reduced, j.own), true
}
